//! A table in the terminal: a column a player, in bands where not all fit beside each other.

use std::io::{self, Write};

use crate::cli::color::Paint;
use crate::cli::wrap;
use crate::planning::percussion::{Question, Sharing, words};

/// Narrower than this, a column is hard to read.
const NARROWEST: usize = 20;
/// Blanks between columns.
const BETWEEN: usize = 2;

/// A line of a cell, and whether it is a move.
type CellLine = (String, Ink);

#[derive(Clone, Copy, PartialEq, Eq)]
enum Ink {
    Name,
    Plain,
    Quiet,
    Move,
}

/// How wide a table may be: the terminal's width, 80 into a file.
pub fn width() -> usize {
    terminal_size::terminal_size_of(std::io::stdout())
        .map_or(80, |(columns, _)| usize::from(columns.0))
        .clamp(40, 200)
}

/// Writes the table of a sharing; players who have nothing are left out.
pub fn write(
    question: &Question,
    sharing: &Sharing,
    width: usize,
    paint: Paint,
    out: &mut dyn Write,
) -> io::Result<()> {
    let busy: Vec<usize> = (0..question.seats.len())
        .filter(|&who| sharing.turns.get(who).is_some_and(|turns| !turns.is_empty()))
        .collect();
    if busy.is_empty() {
        return Ok(());
    }
    let fit = ((width + BETWEEN) / (NARROWEST + BETWEEN)).max(1);
    let bands = busy.len().div_ceil(fit);
    let each = busy.len().div_ceil(bands);
    let column = ((width + BETWEEN) / each).saturating_sub(BETWEEN).min(36);
    for (at, band) in busy.chunks(each).enumerate() {
        if at > 0 {
            writeln!(out)?;
        }
        let cells: Vec<Vec<CellLine>> = band
            .iter()
            .map(|&who| cell(question, sharing, who, column))
            .collect();
        let tallest = cells.iter().map(Vec::len).max().unwrap_or(0);
        for row in 0..tallest {
            let mut line = String::new();
            let mut owed = 0;
            for cell in &cells {
                let (words, ink) = cell.get(row).cloned().unwrap_or((String::new(), Ink::Plain));
                let taken = wrap::columns(&words);
                if !words.is_empty() {
                    line.push_str(&" ".repeat(owed));
                    owed = 0;
                    line.push_str(&match ink {
                        Ink::Name | Ink::Move => paint.bold(&words),
                        Ink::Quiet => paint.quiet(&words),
                        Ink::Plain => words,
                    });
                }
                owed += column.saturating_sub(taken) + BETWEEN;
            }
            writeln!(out, "{line}")?;
        }
    }
    Ok(())
}

fn cell(question: &Question, sharing: &Sharing, who: usize, width: usize) -> Vec<CellLine> {
    let mut lines = Vec::new();
    let mut add = |words: &str, indent: usize, ink: Ink| {
        let set = wrap::lines(&wrap::plain(words), width.saturating_sub(indent), 0);
        for line in set {
            let line = wrap::head(&line, width.saturating_sub(indent));
            lines.push((format!("{}{line}", " ".repeat(indent)), ink));
        }
    };
    let name = question.seats.get(who).map_or("", |seat| seat.name.as_str());
    add(name, 0, Ink::Name);
    add(&"─".repeat(width), 0, Ink::Quiet);
    for turn in sharing.turns.get(who).into_iter().flatten() {
        let Some(part) = question.parts.get(turn.part) else {
            continue;
        };
        let name = words::part(question, turn.part);
        let measures = words::measures(question, turn);
        add(format!("{name} {measures}").trim_end(), 0, Ink::Plain);
        let page = part.page.as_ref().map(|page| format!("page \"{page}\""));
        let beside = [part.sticks.as_deref(), page.as_deref()];
        let beside: Vec<&str> = beside.into_iter().flatten().collect();
        if !beside.is_empty() {
            add(&beside.join(", "), 2, Ink::Quiet);
        }
    }
    for way in sharing
        .moves
        .iter()
        .filter(|way| way.player == who)
        .take(MOST_MOVES)
    {
        // A figure stays with its unit.
        let told = words::way(question, way).replace(" s ", "\u{a0}s ");
        add(&format!("→ {told}"), 0, Ink::Move);
    }
    let all = sharing.moves.iter().filter(|way| way.player == who).count();
    if all > MOST_MOVES {
        add(&format!("→ and {} moves more", all - MOST_MOVES), 0, Ink::Move);
    }
    lines
}

/// The most moves told in a cell; a player with more of them is not reading the table for them.
const MOST_MOVES: usize = 8;
