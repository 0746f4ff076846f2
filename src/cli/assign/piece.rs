//! A piece's sharing for the terminal.

use std::io::{self, Write};

use super::table;
use crate::catalogue::Snapshot;
use crate::cli::color::Paint;
use crate::cli::wrap;
use crate::planning::percussion::{Answer, Question, Setting, words};

/// Tells it.
pub fn tell(
    snapshot: &Snapshot,
    setting: &Setting,
    question: &Question,
    answer: &Answer,
    paint: Paint,
    out: &mut dyn Write,
) -> io::Result<()> {
    let Some(entry) = snapshot.entry(setting.piece) else {
        return Ok(());
    };
    writeln!(out, "{}", paint.bold(&wrap::plain(&entry.name)))?;
    let stands = words::where_it_stands(snapshot, setting);
    for line in stands.into_iter().chain([words::for_whom(snapshot, setting)]) {
        say(&line, paint, Ink::Quiet, out)?;
    }
    writeln!(out)?;
    if let Some(piece) = entry.piece() {
        for line in words::coarse(question, piece) {
            say(&line, paint, Ink::Plain, out)?;
        }
    }
    for line in words::how_many(question, answer) {
        say(&line, paint, Ink::Plain, out)?;
    }
    for line in words::of_these(question, answer) {
        say(&line, paint, Ink::Plain, out)?;
    }
    if let Some(sharing) = &answer.sharing
        && !sharing.turns.iter().all(Vec::is_empty)
    {
        writeln!(out)?;
        table::write(question, sharing, table::width(), paint, out)?;
        writeln!(out)?;
    }
    for line in words::roster(question, answer, true) {
        say(&line, paint, Ink::Plain, out)?;
    }
    for line in words::decided(question)
        .into_iter()
        .chain(words::clashes(question, answer))
    {
        say(&line, paint, Ink::Plain, out)?;
    }
    for line in words::lacking(&setting.lacking(snapshot, question)) {
        say(&line, paint, Ink::Plain, out)?;
    }
    for line in words::times(question, snapshot.instruments()) {
        say(&line, paint, Ink::Quiet, out)?;
    }
    Ok(())
}

/// How a sentence is shown.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Ink {
    /// As it is.
    Plain,
    /// For those who want to know.
    Quiet,
}

/// A sentence, set in lines.
pub fn say(words: &str, paint: Paint, ink: Ink, out: &mut dyn Write) -> io::Result<()> {
    for line in wrap::lines(&wrap::plain(words), wrap::width(), 0) {
        match ink {
            Ink::Plain => writeln!(out, "{line}")?,
            Ink::Quiet => writeln!(out, "{}", paint.quiet(&line))?,
        }
    }
    Ok(())
}
