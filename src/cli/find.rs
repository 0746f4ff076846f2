//! `levare find`: the pieces that meet conditions, with why.

mod forms;

use std::io::{self, Write};

pub use forms::cell;

use super::args::{Find, FindForm, FindOrder, Where};
use super::assign::meant;
use super::color::Paint;
use super::room::{self, Room};
use super::wrap;
use super::{Status, complain};
use crate::assist::answers::limits::misheard;
use crate::catalogue::conditions::{Condition, read};
use crate::catalogue::{EntryId, Snapshot};
use crate::cores::{self, spread};
use crate::planning::find::{Found, Hit, Order, hit, length_words, pieces, sorted};
use crate::text::sentences::counted;

/// Runs the command.
pub fn run(asked: &Find, paint: Paint, out: &mut dyn Write) -> io::Result<Status> {
    let Some(room) = open_room(&asked.at) else {
        return Ok(Status::CouldNot);
    };
    let snapshot = &room.snapshot;
    let Some(conditions) = understood(snapshot, &asked.condition) else {
        return Ok(Status::CouldNot);
    };
    let band = asked.band.as_deref().map(|name| meant::band(snapshot, name));
    let bands: Vec<EntryId> = match band.transpose() {
        Ok(band) => band.into_iter().collect(),
        Err(words) => {
            complain(&words);
            return Ok(Status::CouldNot);
        }
    };
    let found = look(snapshot, &conditions, &bands, order(asked.sorted));
    match asked.form {
        FindForm::Table => tell(&conditions, &found, paint, out)?,
        FindForm::Json => forms::json(&found, out)?,
        FindForm::Csv => forms::csv(&found, out)?,
    }
    Ok(match found.met.is_empty() {
        true => Status::Found,
        false => Status::Nothing,
    })
}

/// The catalogue that is asked about, with what most of its pieces say at hand; none when there is nothing in it, which
/// is told.
pub fn open_room(at: &Where) -> Option<Room> {
    let room = room::asked(at)?;
    cores::take_facts(&room.snapshot);
    Some(room)
}

/// Words of a command line as one text. A shell takes words in quotes for one argument, so each argument of
/// several words is a condition by itself; single words make one text together.
pub fn text_of(words: &[String]) -> String {
    let several = words.iter().any(|word| word.trim().contains(' '));
    let trimmed = words.iter().map(|word| word.trim());
    match several {
        true => {
            let each: Vec<&str> = trimmed.map(|word| word.trim_end_matches(',')).collect();
            each.join(", ")
        }
        false => trimmed.collect::<Vec<_>>().join(" "),
    }
}

/// The conditions as they are understood. Words without spaces may be one condition (`up to 3 flats`) or one each
/// (`covered 6/8`): they are one where that is understood.
fn of_words(snapshot: &Snapshot, words: &[String]) -> Vec<Condition> {
    let one = read(snapshot, &text_of(words));
    let understood = |all: &[Condition]| !all.is_empty() && all.iter().all(Condition::is_heard);
    if understood(&one) {
        return one;
    }
    let each = read(snapshot, &words.join(", "));
    if understood(&each) { each } else { one }
}

/// The conditions, every word of them understood; else none, which is told.
pub fn understood(snapshot: &Snapshot, words: &[String]) -> Option<Vec<Condition>> {
    let conditions = of_words(snapshot, words);
    let misheard = misheard(&conditions);
    misheard.iter().for_each(|words| complain(words));
    let heard = misheard.is_empty();
    if heard && conditions.is_empty() {
        complain("Type what to find, for example: levare find \"up to 3 flats\" \"a march\".");
        return None;
    }
    heard.then_some(conditions)
}

fn order(order: FindOrder) -> Order {
    match order {
        FindOrder::Title => Order::Title,
        FindOrder::Grade => Order::Grade,
        FindOrder::Length => Order::Length,
        FindOrder::Price => Order::Price,
        FindOrder::Performed => Order::Performed,
    }
}

/// Asks every piece, on all cores.
fn look(snapshot: &Snapshot, conditions: &[Condition], bands: &[EntryId], order: Order) -> Found {
    let all = pieces(snapshot);
    let ask = |id: &EntryId| hit(snapshot, conditions, bands, *id);
    let hits = spread(&all, ask, &mut |_| true).unwrap_or_default();
    sorted(all.len(), hits.into_iter().flatten().collect(), order)
}

/// The widest that a title's column gets.
const WIDEST_NAME: usize = 34;

fn tell(conditions: &[Condition], found: &Found, paint: Paint, out: &mut dyn Write) -> io::Result<()> {
    let asked: Vec<String> = conditions.iter().map(ToString::to_string).collect();
    let asked = wrap::plain(&asked.join(", "));
    let says = match (found.met.len(), found.asked) {
        (0, 0) => "There is no piece in the catalog.".to_owned(),
        (0, all) => format!("None of {} for certain: {asked}.", counted(all, "piece")),
        (met, all) => format!("{met} of {}: {asked}.", counted(all, "piece")),
    };
    for line in wrap::lines(&says, wrap::width(), 0) {
        writeln!(out, "{}", paint.bold(&line))?;
    }
    let column = found
        .met
        .iter()
        .chain(&found.open)
        .map(|hit| wrap::columns(&wrap::plain(&hit.row.name)))
        .max()
        .unwrap_or(0)
        .min(WIDEST_NAME);
    if !found.met.is_empty() {
        writeln!(out)?;
    }
    for hit in &found.met {
        let why = hit.why.join("; ");
        let facts = facts(hit);
        let words: Vec<&str> = [facts.as_str(), why.as_str()]
            .into_iter()
            .filter(|words| !words.is_empty())
            .collect();
        line(hit, &words.join("; "), column, out)?;
    }
    if !found.open.is_empty() {
        let says = format!(
            "The cards of {} do not say enough to tell. Not known:",
            counted(
                found.open.len(),
                if found.met.is_empty() {
                    "piece"
                } else {
                    "more piece"
                }
            )
        );
        writeln!(out)?;
        for words in wrap::lines(&says, wrap::width(), 0) {
            writeln!(out, "{}", paint.quiet(&words))?;
        }
        writeln!(out)?;
        for hit in &found.open {
            line(hit, &hit.missing.join("; "), column, out)?;
        }
    }
    Ok(())
}

/// Grade and length, as far as the card tells them.
fn facts(hit: &Hit) -> String {
    let grade = hit.row.grades.first().map(|grade| format!("grade {grade}"));
    let lasts = hit.row.lasts.map(length_words);
    grade.into_iter().chain(lasts).collect::<Vec<_>>().join(", ")
}

fn line(hit: &Hit, words: &str, column: usize, out: &mut dyn Write) -> io::Result<()> {
    let name = wrap::plain(&hit.row.name);
    let words = wrap::plain(words);
    let room = wrap::width().saturating_sub(column + 2).max(20);
    for (at, line) in wrap::lines(&words, room, 0).iter().enumerate() {
        let before = if at == 0 { name.as_str() } else { "" };
        if wrap::columns(before) > column {
            writeln!(out, "{before}")?;
            writeln!(out, "{}{line}", " ".repeat(column + 2))?;
            continue;
        }
        let blanks = " ".repeat(column + 2 - wrap::columns(before));
        writeln!(out, "{}", format!("{before}{blanks}{line}").trim_end())?;
    }
    Ok(())
}
