//! The columns and rows of the page for one size of type: how wide, how high, and how many sheets they take.

use std::ops::Range;

use crate::pages::letters;

use super::cell::{self, Line, Sizes};
use super::{Change, DoorPage};

/// Columns for some of the players.
#[derive(Debug, Clone, PartialEq)]
pub struct Columns {
    /// Which players.
    pub players: Range<usize>,
    /// The width of each one's column.
    pub wide: Vec<f64>,
}

/// A row of cells, broken into lines.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// A piece, or what is carried.
    pub what: RowOf,
    /// The cell at the left.
    pub left: Vec<Line>,
    /// Each player's cell, all players.
    pub cells: Vec<Vec<Line>>,
    /// The cell at the right.
    pub right: Vec<Line>,
    /// How high it has to be.
    pub high: f64,
}

/// What a row is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum RowOf {
    /// The piece at this place.
    Piece(usize),
    /// The change at this place of the list.
    Change(usize),
}

/// The page in one size of type.
#[derive(Debug, Clone, PartialEq)]
pub struct Grid {
    /// The size.
    pub sizes: Sizes,
    /// The width of the column of the pieces.
    pub left: f64,
    /// The width of the column of what is left out.
    pub right: f64,
    /// The players, in as many groups as it takes.
    pub columns: Vec<Columns>,
    /// The rows from top to bottom.
    pub rows: Vec<Row>,
    /// Which rows stand on a sheet, sheet after sheet.
    pub sheets: Vec<Range<usize>>,
    /// Whether the foot needs a sheet for itself.
    pub foot_alone: bool,
    /// Whether some row is higher than a sheet.
    pub cut: bool,
    /// Whether a title has to be cut within a word.
    pub cut_word: bool,
}

/// The room for rows on a sheet.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Room {
    /// The width of the whole table.
    pub wide: f64,
    /// The height for rows, the head of the table not counted.
    pub high: f64,
    /// The height that the foot takes on the last sheet.
    pub foot: f64,
}

impl Grid {
    /// The page in this size.
    pub fn of(door: &DoorPage, sizes: Sizes, room: Room) -> Grid {
        let words = door.pieces.iter().map(|piece| {
            let title = letters::widest_word(&piece.title, sizes.name, true, sizes.name * 8.0);
            let coarse = piece.coarse.as_deref().unwrap_or_default();
            let coarse = letters::widest_word(coarse, sizes.small(), false, sizes.name * 8.0);
            let word = title.max(coarse) * letters::CLOSEST;
            // Half a point more, so that what just fits is not cut for a rounding.
            word + number_wide(&piece.number, sizes) + 2.0 * sizes.pad() + 0.5
        });
        // A piece by itself has its title over the page, and needs no column for it.
        let alone = matches!(door.pieces.as_slice(), [only] if only.number.is_empty());
        let word = words.fold(0.0, f64::max);
        let wanted = match alone {
            true => 0.0,
            false => word.max(sizes.name * 7.0).max(80.0),
        };
        let left = wanted.min(room.wide * 0.18);
        let right = match door.pieces.iter().all(|piece| piece.left_out.is_empty()) {
            true => 0.0,
            false => (sizes.name * 5.0).clamp(60.0, room.wide * 0.12),
        };
        let columns = columns(door, sizes, room.wide - left - right);
        let rows = rows(door, sizes, &columns, left, right);
        let cut = rows.iter().any(|row| row.high > room.high);
        let (sheets, foot_alone) = sheets(&rows, room);
        Grid {
            sizes,
            left,
            right,
            columns,
            rows,
            sheets,
            foot_alone,
            cut,
            cut_word: !alone && word > left,
        }
    }

    /// How many sheets it takes.
    pub fn count(&self) -> usize {
        self.sheets.len() * self.columns.len() + usize::from(self.foot_alone)
    }
}

/// How wide each player's column is; players who do not fit beside the others come on further sheets.
fn columns(door: &DoorPage, sizes: Sizes, wide: f64) -> Vec<Columns> {
    let both: Vec<(f64, f64)> = (0..door.players.len())
        .map(|player| {
            let cells = door.pieces.iter().filter_map(|piece| piece.cells.get(player));
            let cells = cells.map(|cell| cell::widths(cell, sizes));
            let pad = 2.0 * sizes.pad();
            let (least, wish) = cells.fold((sizes.name * 2.6, sizes.name * 3.6), |all, one| {
                (all.0.max(one.0), all.1.max(one.1))
            });
            ((least + pad).min(wide), (wish + pad).min(wide))
        })
        .collect();
    let narrowest: Vec<f64> = both.iter().map(|(least, _)| *least).collect();
    let greedy = grouped(&narrowest, wide, usize::MAX);
    // The same number of sheets, but as many players on each.
    let even = grouped(&narrowest, wide, door.players.len().div_ceil(greedy.len().max(1)));
    let groups = if even.len() <= greedy.len() { even } else { greedy };
    groups
        .into_iter()
        .map(|players| {
            let wishes: &[(f64, f64)] = both.get(players.clone()).unwrap_or(&[]);
            Columns {
                wide: shared(wishes, wide),
                players,
            }
        })
        .collect()
}

fn grouped(narrowest: &[f64], wide: f64, most: usize) -> Vec<Range<usize>> {
    let mut groups: Vec<Range<usize>> = Vec::new();
    let mut filled = 0.0;
    for (at, least) in narrowest.iter().enumerate() {
        match groups.last_mut() {
            Some(group) if filled + least <= wide && group.len() < most => {
                group.end = at + 1;
                filled += least;
            }
            _ => {
                groups.push(at..at + 1);
                filled = *least;
            }
        }
    }
    if groups.is_empty() {
        groups.push(0..0);
    }
    groups
}

/// Shares a width among columns of which each has a least width and one it wishes for. What is over after all
/// wishes goes to everybody alike; what is short is short in proportion.
fn shared(columns: &[(f64, f64)], wide: f64) -> Vec<f64> {
    let least: f64 = columns.iter().map(|(least, _)| least).sum();
    let wished: f64 = columns.iter().map(|(least, wish)| least.max(*wish)).sum();
    let over = ((wide - wished) / columns.len().max(1) as f64).max(0.0);
    let part = ((wide - least) / (wished - least).max(0.001)).clamp(0.0, 1.0);
    columns
        .iter()
        .map(|(least, wish)| least + (wish.max(*least) - least) * part + over)
        .collect()
}

fn rows(door: &DoorPage, sizes: Sizes, columns: &[Columns], left: f64, right: f64) -> Vec<Row> {
    let mut rows = Vec::new();
    let changes = |after: usize| {
        let all = door.changes.iter().enumerate();
        all.filter(move |(_, change)| {
            change.after == after && change.duties.iter().any(|duties| !duties.is_empty())
        })
    };
    let wide: Vec<f64> = columns
        .iter()
        .flat_map(|columns| columns.wide.iter().copied())
        .collect();
    let pad = 2.0 * sizes.pad();
    for at in 0..=door.pieces.len() {
        for (place, change) in changes(at) {
            let next = door.pieces.get(at).map_or("", |piece| piece.number.as_str());
            rows.push(change_row((change, place), next, sizes, &wide, left, pad));
        }
        let Some(piece) = door.pieces.get(at) else {
            continue;
        };
        let cells: Vec<Vec<Line>> = wide
            .iter()
            .enumerate()
            .map(|(player, wide)| {
                let does = piece.cells.get(player).map_or(&[][..], Vec::as_slice);
                let absent = door.players.get(player).is_some_and(|player| player.absent);
                cell::player(does, absent, sizes, wide - pad)
            })
            .collect();
        let title = match left > 0.0 {
            true => cell::piece(piece, sizes, left - pad - number_wide(&piece.number, sizes)),
            false => Vec::new(),
        };
        let out = cell::left_out(&piece.left_out, sizes, right - pad);
        rows.push(row(
            RowOf::Piece(at),
            title,
            cells,
            out,
            sizes.name * 0.55,
            sizes.name * 3.0,
        ));
    }
    rows
}

fn change_row(
    (change, place): (&Change, usize),
    next: &str,
    sizes: Sizes,
    wide: &[f64],
    left: f64,
    pad: f64,
) -> Row {
    let cells: Vec<Vec<Line>> = wide
        .iter()
        .enumerate()
        .map(|(player, wide)| {
            let duties = change.duties.get(player).map_or(&[][..], Vec::as_slice);
            cell::duties(duties, sizes, wide - pad)
        })
        .collect();
    let mut head = match (change.after, next) {
        (0, "" | "1") => "Before the concert".to_owned(),
        (0, next) => format!("Before {next}"),
        _ => "Between".to_owned(),
    };
    if let Some(time) = &change.time {
        head.push_str(&format!(": {time}"));
    }
    let head = match left > 0.0 {
        true => cell::duties(&[head], sizes, left - pad),
        false => Vec::new(),
    };
    row(
        RowOf::Change(place),
        head,
        cells,
        Vec::new(),
        sizes.name * 0.5,
        0.0,
    )
}

fn row(what: RowOf, left: Vec<Line>, cells: Vec<Vec<Line>>, right: Vec<Line>, pad: f64, least: f64) -> Row {
    let tallest = cells
        .iter()
        .chain([&left, &right])
        .map(|lines| cell::height(lines))
        .fold(least, f64::max);
    Row {
        what,
        left,
        cells,
        right,
        high: tallest + pad,
    }
}

/// How wide the number before a title is, with the blank after it.
pub fn number_wide(number: &str, sizes: Sizes) -> f64 {
    match number.is_empty() {
        true => 0.0,
        false => letters::width(number, sizes.name * 1.9, true).min(sizes.name * 3.0) + sizes.name * 0.4,
    }
}

/// Which rows stand on which sheet; what is carried after a piece stays with it.
fn sheets(rows: &[Row], room: Room) -> (Vec<Range<usize>>, bool) {
    let mut blocks: Vec<(Range<usize>, f64)> = Vec::new();
    for (at, row) in rows.iter().enumerate() {
        match (row.what, blocks.last_mut()) {
            (RowOf::Change(_), Some(block)) if block.1 + row.high <= room.high => {
                block.0.end = at + 1;
                block.1 += row.high;
            }
            // What is carried before the concert stays with the first piece.
            (RowOf::Piece(0), Some(block)) if block.1 + row.high <= room.high => {
                block.0.end = at + 1;
                block.1 += row.high;
            }
            _ => blocks.push((at..at + 1, row.high)),
        }
    }
    let mut sheets: Vec<(Range<usize>, f64)> = Vec::new();
    for (rows, high) in blocks {
        match sheets.last_mut() {
            Some(sheet) if sheet.1 + high <= room.high => {
                sheet.0.end = rows.end;
                sheet.1 += high;
            }
            _ => sheets.push((rows, high)),
        }
    }
    let alone = sheets
        .last()
        .is_some_and(|(_, high)| high + room.foot > room.high);
    let mut ranges: Vec<Range<usize>> = sheets.into_iter().map(|(rows, _)| rows).collect();
    if ranges.is_empty() {
        ranges.push(0..0);
    }
    (ranges, alone && room.foot > 0.0)
}
