//! The floor plan: the stations in a row as the players stand behind them, drawn from above.

use crate::pages::letters;
use crate::pages::paper::{Area, Face, Sheet};

use super::Stand;

/// What a station looks like from above.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Shape {
    /// Bars in two rows, the low end wider.
    Mallets,
    /// One drum.
    Drum,
    /// A drum on its side.
    BassDrum,
    /// Kettles.
    Timpani,
    /// Several drums.
    Drums,
    /// Cymbals or a gong.
    Cymbals,
    /// A table with small things on it.
    #[default]
    Table,
}

/// The most stations beside each other; more stand in two rows.
const ACROSS: usize = 9;

/// How many rows the stations take.
pub fn rows(stations: usize) -> usize {
    stations.div_ceil(ACROSS).max(1)
}

/// Draws the stations into a rectangle, a slot each. Answers the slots.
pub fn draw(sheet: &mut Sheet, stations: &[Stand], inside: Area) -> Vec<Area> {
    let rows = rows(stations.len());
    let each = stations.len().div_ceil(rows).max(1);
    let high = inside.high / rows as f64;
    let mut slots = Vec::new();
    // All names take as many lines as the longest, so that all pictures are of one size.
    let slot = Area::new(0.0, 0.0, inside.wide / each as f64, high).within(1.5);
    let deep = stations
        .iter()
        .map(|stand| name(stand, slot).1.len())
        .max()
        .unwrap_or(1);
    for (row, band) in stations.chunks(each).enumerate() {
        let wide = inside.wide / band.len().max(1) as f64;
        for (at, stand) in band.iter().enumerate() {
            let slot = Area::new(
                inside.x + wide * at as f64,
                inside.y + high * row as f64,
                wide,
                high,
            );
            station(sheet, stand, slot.within(1.5), deep);
            slots.push(slot);
        }
    }
    slots
}

/// The size of the largest words in a slot.
fn tall(slot: Area) -> f64 {
    (slot.high * 0.165).clamp(4.0, 13.0)
}

/// A station's name: the size in which the longest word fits, but no smaller than half of what the height allows,
/// and one line or two.
fn name(stand: &Stand, slot: Area) -> (f64, Vec<String>) {
    let (most, tall) = (slot.wide.max(1.0), tall(slot));
    let word = letters::widest_word(&stand.name, tall, true, f64::MAX).max(1.0);
    let size = tall * (most / word).clamp(0.5, 1.0);
    let mut lines = letters::lines(&stand.name, size, true, most);
    if lines.len() > 2 {
        // Two lines, the second set as close as it must be.
        let rest = lines.split_off(1).join(" ");
        lines.push(rest);
    }
    (size, lines)
}

fn station(sheet: &mut Sheet, stand: &Stand, slot: Area, deep: usize) {
    let (most, tall) = (slot.wide.max(1.0), tall(slot));
    let (size, lines) = name(stand, slot);
    let face = Face::bold(size);
    let numbers = stand.pieces.join(", ");
    let below = deep.max(lines.len()) as f64 * tall * 1.1 + tall * 0.3;
    let above = tall * 1.1;
    // Number, picture and name stand close together in the middle of the slot.
    let room = (slot.high - below - above).max(2.0);
    let half = (room * 0.5).min(slot.wide * 0.3).min(tall * 2.0);
    let top = slot.y + (slot.high - below - above - half * 2.0) / 2.0;
    let middle = (slot.x + slot.wide / 2.0, top + above + half);
    shape(sheet, stand.shape, middle, half);
    if !numbers.is_empty() {
        let words = format!("in {numbers}");
        sheet.words_amid(middle.0, top + tall * 0.8, Face::plain(tall * 0.9), &words, most);
    }
    for (at, line) in lines.iter().enumerate() {
        let y = middle.1 + half + size * 1.1 + at as f64 * size * 1.1;
        sheet.words_amid(middle.0, y, face, line, most);
    }
}

/// Draws a shape around a middle, at most `half` up and down from it and three fifths more to the sides.
fn shape(sheet: &mut Sheet, shape: Shape, (x, y): (f64, f64), half: f64) {
    const THICK: f64 = 1.6;
    let half = (half - THICK).max(1.0);
    match shape {
        Shape::Mallets => {
            let (long, low, high) = (half * 1.6, half * 0.9, half * 0.5);
            sheet.outline(
                &[
                    (x - long, y - low),
                    (x + long, y - high),
                    (x + long, y + high),
                    (x - long, y + low),
                ],
                THICK,
            );
            for bar in 1..8 {
                let part = f64::from(bar) / 8.0;
                let edge = low + (high - low) * part;
                let at = x - long + 2.0 * long * part;
                sheet.rule((at, y - edge), (at, y + edge), 0.8);
            }
        }
        Shape::Drum => {
            sheet.circle((x, y), half * 0.8, THICK);
            sheet.circle((x, y), half * 0.66, 0.8);
        }
        Shape::BassDrum => {
            sheet.frame(
                Area::new(x - half * 0.5, y - half, half, half * 2.0),
                THICK,
                half * 0.18,
            );
            for side in [-1.0, 1.0] {
                let at = x + side * half * 0.32;
                sheet.rule((at, y - half), (at, y + half), 0.8);
            }
        }
        Shape::Timpani => {
            for side in [-1.0, 1.0] {
                sheet.circle((x + side * half * 0.75, y), half * 0.72, THICK);
                sheet.dot((x + side * half * 0.75, y), half * 0.12);
            }
        }
        Shape::Drums => {
            for side in [-1.0, 0.0, 1.0] {
                let drop = if side == 0.0 { -0.3 } else { 0.2 };
                sheet.circle((x + side * half, y + half * drop), half * 0.52, THICK);
            }
        }
        Shape::Cymbals => {
            sheet.circle((x, y), half * 0.8, THICK);
            sheet.circle((x, y), half * 0.26, 0.8);
            sheet.dot((x, y), half * 0.08);
        }
        Shape::Table => {
            sheet.frame(
                Area::new(x - half * 1.3, y - half * 0.6, half * 2.6, half * 1.2),
                THICK,
                0.0,
            );
            sheet.outline(
                &[
                    (x - half * 0.8, y + half * 0.3),
                    (x - half * 0.4, y - half * 0.35),
                    (x, y + half * 0.3),
                ],
                0.9,
            );
            sheet.circle((x + half * 0.65, y), half * 0.3, 0.9);
        }
    }
}
