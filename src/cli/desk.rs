//! `levare desk`: hands standard input and output to the language server.

use super::Status;

/// Serves one editor until it is done.
pub fn run() -> Status {
    super::complain("This levare was put together without its desk, so it cannot serve an editor.");
    Status::CouldNot
}
