//! A range on its staff, drawn with letters and dashes, so that every editor and terminal can show it.

use super::PitchRange;
use super::pitch::Pitch;
use super::staff::Clef;

/// Notes further from the staff than this (in lines and spaces) are not drawn.
const FURTHEST: i32 = 24;

/// The columns of the lower and of the upper note, and the width of the staff.
const LOW: usize = 5;
const HIGH: usize = 12;
const WIDTH: usize = 18;

/// The two notes of a range on their staff, line by line from the top; empty for a clef with two staves or
/// none, and for notes too far away. A note is an `o`, with `b` or `#` before it.
pub fn of(range: PitchRange, clef: Clef) -> String {
    if matches!(clef, Clef::Grand | Clef::Percussion) {
        return String::new();
    }
    let height = |pitch: Pitch| {
        pitch
            .position()
            .saturating_sub(clef.bottom_line(pitch).position())
    };
    let notes = [(LOW, range.low), (HIGH, range.high)].map(|(column, pitch)| (column, height(pitch), pitch));
    if notes
        .iter()
        .any(|(_, height, _)| !(-FURTHEST..=8 + FURTHEST).contains(height))
    {
        return String::new();
    }
    let top = notes.iter().map(|(_, height, _)| *height).fold(8, i32::max);
    let bottom = notes.iter().map(|(_, height, _)| *height).fold(0, i32::min);
    let rows = (bottom..=top).rev().map(|here| {
        let mut row = [' '; WIDTH];
        let is_line = here % 2 == 0;
        if is_line && (0..=8).contains(&here) {
            row = ['-'; WIDTH];
        }
        for (column, height, pitch) in notes {
            // Lines beyond the staff are drawn up to the note that needs them.
            let beyond = (here > 8 && here <= height) || (here < 0 && here >= height);
            for (at, cell) in row.iter_mut().enumerate() {
                if is_line && beyond && at.abs_diff(column) <= 2 {
                    *cell = '-';
                }
                if here == height && at == column {
                    *cell = 'o';
                }
                if here == height && at + 1 == column && pitch.alter != 0 {
                    *cell = if pitch.alter < 0 { 'b' } else { '#' };
                }
            }
        }
        row.iter().collect::<String>().trim_end().to_owned()
    });
    rows.collect::<Vec<_>>().join("\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn notes_stand_where_they_are_read() {
        let range = |low: &str, high: &str| {
            Pitch::read(low)
                .zip(Pitch::read(high))
                .map(|(a, b)| PitchRange::new(a, b))
        };
        // C4 hangs on the first line below a treble staff and C5 is in its third space, as every method
        // book's first page shows.
        let drawn = range("C4", "C5")
            .map(|range| of(range, Clef::Treble))
            .unwrap_or_default();
        let wanted = [
            "------------------",
            "",
            "------------------",
            "            o",
            "------------------",
            "",
            "------------------",
            "",
            "------------------",
            "",
            "   --o--",
        ];
        assert_eq!(drawn.lines().collect::<Vec<_>>(), wanted);
        // B flat on the second line of a bass staff.
        let drawn = range("Bb2", "F3")
            .map(|range| of(range, Clef::Bass))
            .unwrap_or_default();
        let wanted = [
            "------------------",
            "",
            "------------o-----",
            "",
            "------------------",
            "",
            "----bo------------",
            "",
            "------------------",
        ];
        assert_eq!(drawn.lines().collect::<Vec<_>>(), wanted);
    }

    #[test]
    fn hostile_heights_are_not_drawn() {
        let far = PitchRange::new(
            Pitch::new(super::super::pitch::Step::C, -128, -128),
            Pitch::new(super::super::pitch::Step::B, 127, 127),
        );
        assert_eq!(of(far, Clef::Treble), "");
        assert_eq!(of(far, Clef::Grand), "");
    }
}
