//! The winds on the page: how many play each part in each piece, below the percussion where there is room, else on a
//! sheet of their own.

use std::ops::Range;

use crate::pages::letters;
use crate::pages::paper::{Area, Face, Sheet};

/// Who plays the wind parts: a row a part, a column a piece.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Winds {
    /// The numbers of the pieces, over the columns; empty for a piece by itself.
    pub pieces: Vec<String>,
    /// The parts, as a score has them.
    pub rows: Vec<WindRow>,
}

/// A wind part.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct WindRow {
    /// The part.
    pub part: String,
    /// For each piece, who plays it; as many as there are pieces, at least one.
    pub cells: Vec<WindCell>,
}

/// Who plays a part in a piece.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct WindCell {
    /// In a few words: `4`, `1 flute`, `nobody`; empty where the piece has no such part.
    pub words: String,
    /// Whether a part that is needed has nobody.
    pub amiss: bool,
}

/// The block laid out for a size of type.
#[derive(Debug, Clone, PartialEq)]
pub struct Block {
    size: f64,
    /// The width of the names.
    name: f64,
    /// The width of each piece's column.
    cells: Vec<f64>,
    /// How many rows stand under one another; what is more stands beside them.
    deep: usize,
    /// How many such stacks stand side by side.
    stacks: usize,
}

/// The height of a row, in parts of the type size.
const LEAD: f64 = 1.4;
/// The height of the words over the block.
const HEAD: f64 = 1.7;
/// The blank between stacks, in parts of the type size.
const GAP: f64 = 1.6;
/// The most stacks side by side.
const MOST_STACKS: usize = 4;

impl Block {
    /// The block for a size of type and so many stacks; none where it is wider than there is room.
    fn of(winds: &Winds, rows: usize, size: f64, stacks: usize, wide: f64) -> Option<Block> {
        let blank = size * 0.7;
        let names = winds.rows.iter().map(|row| letters::width(&row.part, size, true));
        let name = names.fold(0.0, f64::max).min(wide * 0.4) + blank;
        let cells: Vec<f64> = (0..winds.pieces.len().max(1))
            .map(|piece| {
                let words = winds.rows.iter().filter_map(|row| row.cells.get(piece));
                let words = words.map(|cell| letters::width(&cell.words, size, cell.amiss));
                let head = winds.pieces.get(piece);
                let head = head.map_or(0.0, |number| letters::width(number, size, true));
                words.fold(head.max(size), f64::max).min(wide * 0.3) + blank
            })
            .collect();
        let one = name + cells.iter().sum::<f64>();
        let all = one * stacks as f64 + GAP * size * (stacks as f64 - 1.0);
        (all <= wide).then(|| Block {
            size,
            name,
            cells,
            deep: rows.div_ceil(stacks),
            stacks,
        })
    }

    fn head(&self, winds: &Winds) -> f64 {
        let numbers = if winds.pieces.is_empty() { 0.0 } else { LEAD };
        (HEAD + numbers) * self.size
    }

    /// How high it is.
    pub fn high(&self, winds: &Winds) -> f64 {
        self.head(winds) + self.deep as f64 * LEAD * self.size
    }

    /// How many rows go under one another in a height.
    fn fits(&self, winds: &Winds, high: f64) -> usize {
        let rows = ((high - self.head(winds)) / (LEAD * self.size) + 0.001).floor();
        if rows > 0.0 { rows as usize } else { 0 }
    }
}

/// The block in the largest type with which all of it fits a room; none where that is smaller than `least`.
pub fn in_room(winds: &Winds, (wide, high): (f64, f64), largest: f64, least: f64) -> Option<Block> {
    let mut size = largest;
    while size >= least {
        // Side by side as far as there is room; a stack of one or two rows is hard to read.
        let found = (1..=MOST_STACKS)
            .rev()
            .filter(|stacks| *stacks == 1 || winds.rows.len() >= 3 * stacks)
            .filter_map(|stacks| Block::of(winds, winds.rows.len(), size, stacks, wide))
            .find(|block| block.high(winds) <= high);
        if found.is_some() {
            return found;
        }
        size -= 0.5;
    }
    None
}

/// The block on sheets of its own, in type that can be read, with the rows of each.
pub fn on_sheets(
    winds: &Winds,
    (wide, high): (f64, f64),
    largest: f64,
    least: f64,
) -> Vec<(Block, Range<usize>)> {
    let rows = winds.rows.len();
    if let Some(block) = in_room(winds, (wide, high), largest, least) {
        return vec![(block, 0..rows)];
    }
    // Columns too many for the width are set smaller rather than cut.
    let mut size = least;
    let found = loop {
        let found = (1..=MOST_STACKS)
            .rev()
            .find_map(|stacks| Block::of(winds, rows, size, stacks, wide));
        match found {
            Some(block) => break block,
            None if size <= 3.0 => {
                break Block {
                    size,
                    name: wide * 0.3,
                    cells: vec![wide * 0.7 / winds.pieces.len().max(1) as f64; winds.pieces.len().max(1)],
                    deep: rows,
                    stacks: 1,
                };
            }
            None => size -= 0.5,
        }
    };
    let deep = found.fits(winds, high).max(1);
    let each = deep * found.stacks;
    (0..rows.div_ceil(each))
        .map(|nth| {
            let rows = nth * each..rows.min((nth + 1) * each);
            let block = Block {
                deep: deep.min(rows.len()),
                ..found.clone()
            };
            (block, rows)
        })
        .collect()
}

/// Draws some rows from the top left of a rectangle.
pub fn draw(sheet: &mut Sheet, winds: &Winds, block: &Block, rows: Range<usize>, area: Area) {
    let size = block.size;
    let bold = Face::bold(size);
    sheet.words(
        area.x,
        area.y + size * 1.0,
        bold,
        "Winds: how many play each part",
        area.wide,
    );
    let one = block.name + block.cells.iter().sum::<f64>();
    let top = area.y + block.head(winds);
    let rows = winds.rows.get(rows).unwrap_or(&[]);
    for (stack, rows) in rows.chunks(block.deep.max(1)).enumerate() {
        let left = area.x + stack as f64 * (one + GAP * size);
        let mut x = left + block.name;
        for (number, wide) in winds.pieces.iter().zip(&block.cells) {
            let most = wide - size * 0.5;
            sheet.words(x, top - size * 0.45, bold, number, most);
            x += wide;
        }
        for (nth, row) in rows.iter().enumerate() {
            let y = top + nth as f64 * LEAD * size;
            sheet.rule((left, y), (left + one - size * 0.4, y), 0.5);
            let base = y + size * 1.0;
            sheet.words(left, base, bold, &row.part, block.name - size * 0.5);
            let mut x = left + block.name;
            for (cell, wide) in row.cells.iter().zip(&block.cells) {
                let face = match cell.amiss {
                    true => bold,
                    false => Face::plain(size),
                };
                sheet.words(x, base, face, &cell.words, wide - size * 0.5);
                x += wide;
            }
        }
    }
}
