//! The `levare` command.

use std::process::ExitCode;

fn main() -> ExitCode {
    if std::env::args().nth(1).as_deref() == Some("desk") {
        return ExitCode::from(levare::desk::serve());
    }
    ExitCode::SUCCESS
}
