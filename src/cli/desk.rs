//! `levare desk`: hands standard input and output to the language server.

use std::process::ExitCode;

/// Serves one editor until it is done; the exit status is the desk's own.
pub fn run() -> ExitCode {
    ExitCode::from(crate::desk::serve())
}
