//! The `levare` command.

fn main() {}
