//! The winds of a piece for the terminal.

use std::io::{self, Write};

use super::piece::{Ink, say};
use crate::catalogue::Snapshot;
use crate::cli::color::Paint;
use crate::cli::wrap;
use crate::planning::percussion::Setting;
use crate::planning::winds::{self, Depth, WindSharing, words};

/// A part's name is not cut before this many columns.
const WIDEST_NAME: usize = 24;

/// Who plays the wind parts in a setting. None where there is nothing to tell: no parts and no players.
pub fn sharing(snapshot: &Snapshot, setting: &Setting, without: &[String]) -> Option<WindSharing> {
    let absent = setting.winds_absent(snapshot, without);
    let sharing = winds::of_piece(
        snapshot,
        setting.piece,
        &setting.bands,
        &setting.movements,
        &absent,
    )?;
    let nothing = sharing.parts.is_empty() && (sharing.players.is_empty() || sharing.depth == Depth::Nobody);
    (!nothing).then_some(sharing)
}

/// Whether a part that is needed has nobody, as far as the cards tell.
pub fn is_short(sharing: &WindSharing) -> bool {
    sharing.depth > Depth::SectionsOnly && !sharing.all_covered()
}

/// Tells it: a line a part, then what is short and what may cover it.
pub fn tell(snapshot: &Snapshot, sharing: &WindSharing, paint: Paint, out: &mut dyn Write) -> io::Result<()> {
    writeln!(out)?;
    writeln!(out, "{}", paint.bold("Winds"))?;
    for line in words::coarse(sharing) {
        say(&line, paint, Ink::Plain, out)?;
    }
    if sharing.depth != Depth::Nobody {
        let names = sharing
            .parts
            .iter()
            .map(|part| wrap::columns(&wrap::plain(&part.name)));
        let column = names.max().unwrap_or(0).min(WIDEST_NAME);
        for part in &sharing.parts {
            let name = wrap::plain(&part.name);
            let who = words::who(sharing, part, snapshot.instruments());
            let room = wrap::width().saturating_sub(column + 2).max(20);
            for (at, line) in wrap::lines(&wrap::plain(&who), room, 0).iter().enumerate() {
                let before = if at == 0 { name.as_str() } else { "" };
                let blanks = " ".repeat((column + 2).saturating_sub(wrap::columns(before)).max(1));
                writeln!(out, "{before}{blanks}{line}")?;
            }
        }
        for line in words::amiss(sharing) {
            say(&line, paint, Ink::Plain, out)?;
        }
        for line in words::idle(sharing).iter().chain(&words::balance(sharing)) {
            say(line, paint, Ink::Quiet, out)?;
        }
    }
    Ok(())
}
