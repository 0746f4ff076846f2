//! The `levare` command.

use std::process::ExitCode;

fn main() -> ExitCode {
    levare::cli::run(std::env::args_os())
}
