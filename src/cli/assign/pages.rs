//! A sharing as a page to print: for the door of the band room, or counted like a part.

use std::io::{self, Write};
use std::path::Path;

use crate::catalogue::Snapshot;
use crate::cli::args::{Assign, PaperSize};
use crate::cli::report::cards::count;
use crate::cli::{complain, room, wrap};
use crate::disk;
use crate::pages::cards;
use crate::pages::counting::{self, Counting};
use crate::pages::door::{self, DoorPage};
use crate::pages::paper::{BY_LEVARE, Paper};
use crate::planning::percussion::{Answer, ConcertPlan, Question, Setting};

/// A page says so near its beginning.
const HEAD: usize = 1024;
/// No page of ours is longer, in bytes.
const LARGEST_PAGE: u64 = 1 << 28;

/// Writes the pages for the door. Answers whether that could be done; why not has been told then.
pub fn door(
    snapshot: &Snapshot,
    plan: &ConcertPlan,
    asked: &Assign,
    out: &mut dyn Write,
) -> io::Result<bool> {
    doors(&door::of_concert(snapshot, plan, &asked.without), asked, out)
}

/// Writes the page for the door with one piece on it.
pub fn piece_door(
    snapshot: &Snapshot,
    (setting, question, answer): (&Setting, &Question, &Answer),
    asked: &Assign,
    out: &mut dyn Write,
) -> io::Result<bool> {
    let page = door::of_piece(snapshot, setting, question, answer, &asked.without);
    doors(&[page], asked, out)
}

fn doors(doors: &[DoorPage], asked: &Assign, out: &mut dyn Write) -> io::Result<bool> {
    let paper = paper(asked.paper);
    let sheets = doors.iter().map(|page| door::sheets(page, paper).len()).sum();
    written(&door::html(doors, paper), sheets, asked, out)
}

/// Writes a card for each player of a concert.
pub fn cards(
    snapshot: &Snapshot,
    plan: &ConcertPlan,
    asked: &Assign,
    out: &mut dyn Write,
) -> io::Result<bool> {
    let all = cards::of_concert(snapshot, plan);
    if all.is_empty() {
        complain(
            "No percussionist is known for this concert, so there are no cards to write. Write the seats on the band's card, under \"percussionists\".",
        );
        return Ok(false);
    }
    let paper = paper(asked.paper);
    let name = snapshot
        .entry(plan.concert)
        .map_or("", |entry| entry.name.as_str());
    let sheets = cards::sheets(&all, paper).len();
    written(
        &cards::html(&format!("{name}: cards"), &all, paper),
        sheets,
        asked,
        out,
    )
}

/// Writes the countings of all pieces of a concert.
pub fn countings(
    snapshot: &Snapshot,
    plan: &ConcertPlan,
    asked: &Assign,
    out: &mut dyn Write,
) -> io::Result<bool> {
    counted(&counting::of_concert(snapshot, plan), asked, out)
}

/// Writes the counting of one piece.
pub fn piece_counting(
    snapshot: &Snapshot,
    (setting, question, answer): (&Setting, &Question, &Answer),
    asked: &Assign,
    out: &mut dyn Write,
) -> io::Result<bool> {
    let counting = counting::of_piece(snapshot, setting, question, answer);
    counted(&counting.into_iter().collect::<Vec<Counting>>(), asked, out)
}

fn counted(countings: &[Counting], asked: &Assign, out: &mut dyn Write) -> io::Result<bool> {
    if countings.is_empty() {
        complain(
            "No piece of this concert has a card, so there is nothing to count. Write a card for each title of the program.",
        );
        return Ok(false);
    }
    let paper = paper(asked.paper);
    let sheets = countings
        .iter()
        .map(|one| counting::sheets(one, paper).len())
        .sum();
    written(&counting::html(countings, paper), sheets, asked, out)
}

/// What a page is printed on.
pub fn paper(size: PaperSize) -> Paper {
    match size {
        PaperSize::Letter => Paper::Letter,
        PaperSize::Tabloid => Paper::Tabloid,
        PaperSize::A4 => Paper::A4,
        PaperSize::A3 => Paper::A3,
    }
}

/// Writes a page into its file, or prints it where no file is named.
pub fn written(page: &str, sheets: usize, asked: &Assign, out: &mut dyn Write) -> io::Result<bool> {
    into_file(page, sheets, asked.to.as_deref(), out)
}

/// Writes a page into a file, or prints it where none is named.
pub fn into_file(page: &str, sheets: usize, to: Option<&Path>, out: &mut dyn Write) -> io::Result<bool> {
    let Some(path) = to else {
        out.write_all(page.as_bytes())?;
        return Ok(true);
    };
    // Nobody's cards are written over by a slip of the hand.
    if !is_page(path) {
        complain(&format!(
            "A page is written to a file whose name ends in .html, such as door.html; \"{}\" does not end that way, so nothing was written.",
            path.display()
        ));
        return Ok(false);
    }
    if is_foreign(path) {
        complain(&format!(
            "\"{}\" is there already, and Levare did not make it, so it was left alone. Name another file, or move that one first.",
            path.display()
        ));
        return Ok(false);
    }
    if let Err(problem) = disk::write_atomically(path, page.as_bytes()) {
        complain(&problem.to_string());
        return Ok(false);
    }
    let words = format!(
        "{} in \"{}\". Open it in a browser and print it.",
        count(sheets, "sheet is", "sheets are"),
        room::shown(path)
    );
    for line in wrap::lines(&wrap::plain(&words), wrap::width(), 0) {
        writeln!(out, "{line}")?;
    }
    Ok(true)
}

/// Whether something else than one of our pages stands at the path.
fn is_foreign(path: &Path) -> bool {
    if path.symlink_metadata().is_err() {
        return false;
    }
    match disk::read_bytes(path, LARGEST_PAGE) {
        Ok(bytes) => !String::from_utf8_lossy(bytes.get(..HEAD).unwrap_or(&bytes)).contains(BY_LEVARE),
        Err(_) => true,
    }
}

fn is_page(path: &Path) -> bool {
    let ending = path.extension().and_then(|ending| ending.to_str());
    ending.is_some_and(|ending| ending.eq_ignore_ascii_case("html") || ending.eq_ignore_ascii_case("htm"))
}
