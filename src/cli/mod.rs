//! The command line: what can be said on it, and the forms in which it answers.
//!
//! Every command writes its answer to the output it is handed and comes back with a [`Status`]; what keeps
//! it from its work is told on standard error in the words of a director.

mod args;
mod assign;
mod buy;
mod choose;
mod color;
mod compare;
mod correct;
pub mod demo;
mod desk;
mod diff;
mod find;
mod grade;
mod library;
mod merge;
mod misread;
mod progress;
mod proofread;
mod reason;
mod recopy;
mod record;
mod report;
mod room;
mod say;
mod season;
mod shells;
mod start;
mod teach;
mod wrap;
mod written;

use std::ffi::OsString;
use std::io::{self, BufWriter, ErrorKind, Write};
use std::process::ExitCode;

use clap::Parser;

use args::{Command, Levare};
use color::Paint;

/// How a command ended.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Status {
    /// Nothing was found.
    Nothing,
    /// Something was found.
    Found,
    /// It could not do its work, or not all of it.
    CouldNot,
}

impl From<Status> for ExitCode {
    fn from(status: Status) -> ExitCode {
        ExitCode::from(match status {
            Status::Nothing => 0,
            Status::Found => 1,
            Status::CouldNot => 2,
        })
    }
}

/// Does what the arguments say, the program's name first, and comes back with the exit status.
pub fn run(arguments: impl IntoIterator<Item = OsString>) -> ExitCode {
    let levare = match Levare::try_parse_from(help_asked(arguments.into_iter().collect())) {
        Ok(levare) => levare,
        Err(asked) if !asked.use_stderr() => {
            // Help or the version was asked for.
            return match write!(io::stdout(), "{}", asked.render()) {
                Ok(()) => Status::Nothing.into(),
                Err(_) => Status::CouldNot.into(),
            };
        }
        Err(bare) if bare.kind() == clap::error::ErrorKind::DisplayHelpOnMissingArgumentOrSubcommand => {
            let _ = write!(io::stderr(), "{}", bare.render());
            return Status::CouldNot.into();
        }
        Err(misread) => {
            complain(&misread::plainly(&misread));
            return Status::CouldNot.into();
        }
    };
    // The desk has standard input and output to itself.
    if let Command::Desk(_) = levare.command {
        return desk::run();
    }
    let paint = Paint::new(levare.color.decide());
    let mut out = BufWriter::new(io::stdout().lock());
    let ended = answer(levare.command, paint, &mut out).and_then(|status| {
        out.flush()?;
        Ok(status)
    });
    match ended {
        Ok(status) => status.into(),
        // Whoever was reading has had enough; there is nobody left to tell.
        Err(error) if error.kind() == ErrorKind::BrokenPipe => {
            // What is still in the buffer must not be tried again when it is dropped.
            let _ = out.into_parts();
            Status::CouldNot.into()
        }
        Err(error) => {
            let _ = out.into_parts();
            complain(&format!("The answer could not be written: {error}."));
            Status::CouldNot.into()
        }
    }
}

/// `levare help find` asks for what `levare find --help` shows.
fn help_asked(mut arguments: Vec<OsString>) -> Vec<OsString> {
    if arguments.get(1).is_some_and(|word| word == "help") {
        arguments.remove(1);
        arguments.push("--help".into());
    }
    arguments
}

fn answer(command: Command, paint: Paint, out: &mut dyn Write) -> io::Result<Status> {
    match command {
        Command::Start(start) => start::run(&start, paint, out),
        Command::Proofread(asked) => proofread::run(&asked, paint, out),
        Command::Recopy(asked) => recopy::run(&asked, paint, out),
        Command::Compare(asked) => compare::run(&asked, paint, out),
        Command::Merge(asked) => merge::run(&asked, out),
        Command::Assign(asked) => assign::run(&asked, paint, out),
        Command::Choose(asked) => choose::run(&asked, paint, out),
        Command::Find(asked) => find::run(&asked, paint, out),
        Command::Grade(asked) => grade::run(&asked, paint, out),
        Command::Season(asked) => season::run(&asked, paint, out),
        Command::Teach(asked) => teach::run(&asked, paint, out),
        Command::Buy(asked) => buy::run(&asked, paint, out),
        Command::Library(asked) => library::run(&asked, paint, out),
        Command::Record(asked) => record::run(&asked, out),
        Command::Reason(asked) => reason::run(&asked, paint, out),
        // It has been served already.
        Command::Desk(_) => Ok(Status::Nothing),
        Command::Completions(asked) => shells::completions(asked.shell, out),
        Command::ManualPage => shells::manual_page(out),
    }
}

/// Says something on standard error. That nobody can hear it is no reason to stop.
fn complain(words: &str) {
    let set = wrap::lines(&wrap::plain(words), wrap::width(), 0).join("\n");
    let _ = writeln!(io::stderr(), "{set}");
}
