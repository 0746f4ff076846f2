//! `levare desk`: hands standard input and output to the language server.

use super::Status;

/// Serves one editor until it is done.
pub fn run() -> Status {
    Status::CouldNot
}
