//! Reads `piece` cards from standard input and writes, a line a card, the order in which their measures sound.
//!
//! A line is the card's name, a tab, and the printed numbers parted by blanks; or the name, a tab, and
//! `not known:` with what is missing. Movements follow one another, each with its own numbers.

use std::io::{self, Read as _, Write as _};

use levare::catalogue::CardFile;
use levare::catalogue::course::{Course, Missing};
use levare::catalogue::model::Piece;

/// The order of a piece, of its movements where it has them.
fn order(piece: &Piece) -> Result<Vec<u32>, Missing> {
    let courses = Course::all(piece);
    let played = match courses.split_first() {
        Some((whole, [])) => std::slice::from_ref(whole),
        Some((_, movements)) => movements,
        None => &[],
    };
    let mut all = Vec::new();
    for course in played {
        all.extend(course.order()?);
    }
    Ok(all)
}

/// What the line of one card says after the name.
fn said(piece: &Piece) -> String {
    match order(piece) {
        Ok(order) => {
            let numbers: Vec<String> = order.iter().map(u32::to_string).collect();
            numbers.join(" ")
        }
        Err(Missing::Broken(problem)) => format!("not known: {problem:?}"),
        Err(missing) => format!("not known: {}", missing.words()),
    }
}

fn main() -> io::Result<()> {
    let mut text = String::new();
    io::stdin().read_to_string(&mut text)?;
    let file = CardFile::read("stdin.levare", &text);
    let mut out = io::stdout().lock();
    for entry in &file.entries {
        if let Some(piece) = entry.piece() {
            writeln!(out, "{}\t{}", entry.name, said(piece))?;
        }
    }
    Ok(())
}
