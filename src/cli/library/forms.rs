//! The library for programs, and the sheet for a count.
//!
//! JSON is one object a set; money is in hundredths. The sheet has the columns `piece`, `by`, `place`, `part`,
//! `on card` and `counted`, the last one blank.

use std::io::{self, Write};

use serde::Serialize;

use crate::catalogue::Snapshot;
use crate::cli::find::cell;
use crate::cli::report::lines;
use crate::planning::library::Shelf;
use crate::planning::library::sheet::Row;

#[derive(Serialize)]
struct SetLine<'s> {
    about: &'static str,
    piece: &'s str,
    place: Option<&'s str>,
    copies: u32,
    score: Option<bool>,
    missing: &'s [String],
    short: Vec<ShortLine<'s>>,
    lent: Vec<LentLine<'s>>,
    performed: Vec<PastLine<'s>>,
    rests_until: Option<String>,
    hundredths: Option<u64>,
    currency: Option<&'s str>,
}

#[derive(Serialize)]
struct ShortLine<'s> {
    instrument: &'s str,
    copies: u32,
    players: u32,
    short: u32,
}

#[derive(Serialize)]
struct LentLine<'s> {
    what: &'s str,
    due: Option<String>,
    overdue: bool,
}

#[derive(Serialize)]
struct PastLine<'s> {
    on: Option<String>,
    by: &'s [String],
    said: &'s [String],
}

/// Writes the sets as JSON.
pub fn json(snapshot: &Snapshot, shelf: &Shelf, out: &mut dyn Write) -> io::Result<()> {
    for set in &shelf.sets {
        let line = SetLine {
            about: "set",
            piece: &set.name,
            place: set.place.as_deref(),
            copies: set.copies,
            score: set.score,
            missing: &set.missing,
            short: set
                .fewer
                .iter()
                .map(|few| ShortLine {
                    instrument: &few.instrument,
                    copies: few.copies,
                    players: few.players,
                    short: few.short(),
                })
                .collect(),
            lent: set
                .lent
                .iter()
                .map(|lent| LentLine {
                    what: &lent.words,
                    due: lent.due.map(|day| day.to_string()),
                    overdue: lent.over,
                })
                .collect(),
            performed: set
                .history
                .iter()
                .map(|past| PastLine {
                    on: past.day.map(|day| day.to_string()),
                    by: &past.bands,
                    said: &past.said,
                })
                .collect(),
            rests_until: set.rests_until(snapshot.today).map(|day| day.to_string()),
            hundredths: set.price.as_ref().map(|price| price.high),
            currency: set.price.as_ref().map(|price| price.currency.as_str()),
        };
        lines::line(&line, out)?;
    }
    Ok(())
}

/// Writes the sheet for a count.
pub fn csv(rows: &[Row], out: &mut dyn Write) -> io::Result<()> {
    let mut write = |cells: [&str; 6]| {
        let cells = cells.map(cell);
        write!(out, "{}\r\n", cells.join(","))
    };
    write(["piece", "by", "place", "part", "on card", "counted"])?;
    for row in rows {
        let count = row.on_the_card.map(|count| count.to_string()).unwrap_or_default();
        write([&row.piece, &row.by, &row.place, &row.part, &count, ""])?;
    }
    Ok(())
}
