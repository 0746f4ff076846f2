//! The signs of a part, drawn: the clef of percussion, rests, slashes, bar lines.

use crate::pages::paper::{Area, Face, Sheet};

/// The clef: two thick strokes.
pub fn clef(sheet: &mut Sheet, x: f64, line: f64, unit: f64) {
    for shift in [0.0, 3.2] {
        sheet.block(Area::new(
            x + shift * unit,
            line - 4.5 * unit,
            1.8 * unit,
            9.0 * unit,
        ));
    }
}

/// A rest of so many measures between two places. One measure is the hanging block of a whole rest; more are a
/// thick bar between two strokes, with the number above.
pub fn rest(
    sheet: &mut Sheet,
    (from, to): (f64, f64),
    line: f64,
    number_line: f64,
    measures: u32,
    unit: f64,
) {
    let middle = (from + to) / 2.0;
    if measures == 1 {
        let half = (3.6 * unit).min((to - from) * 0.3);
        sheet.block(Area::new(middle - half, line, half * 2.0, 2.6 * unit));
        return;
    }
    let inset = (7.0 * unit).min((to - from) * 0.2);
    let (left, right) = (from + inset, to - inset);
    sheet.block(Area::new(left, line - 1.7 * unit, right - left, 3.4 * unit));
    for x in [left, right] {
        sheet.rule((x, line - 4.2 * unit), (x, line + 4.2 * unit), 1.1 * unit);
    }
    let face = Face::bold(9.6 * unit);
    sheet.words_amid(middle, number_line, face, &measures.to_string(), right - left);
}

/// Slashes along the line: this is played.
pub fn slashes(sheet: &mut Sheet, (from, to): (f64, f64), line: f64, measures: u32, unit: f64) {
    let inset = (6.0 * unit).min((to - from) * 0.2);
    let long = to - from - 2.0 * inset;
    let most = (long / (9.0 * unit)).floor().max(1.0) as u32;
    let count = measures.saturating_mul(4).min(most).max(1);
    let step = long / f64::from(count);
    let (half, lean, thick) = (4.0 * unit, 2.0 * unit, 1.2 * unit);
    for at in 0..count {
        let x = from + inset + step * (f64::from(at) + 0.5);
        sheet.solid(&[
            (x - lean - thick, line + half),
            (x - lean + thick, line + half),
            (x + lean + thick, line - half),
            (x + lean - thick, line - half),
        ]);
    }
}

/// How a bar line looks.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Bar {
    /// One thin stroke.
    Single,
    /// Two thin strokes, where something stands over the lines.
    Double,
    /// A thin and a thick one.
    Final,
    /// A repeat begins.
    From,
    /// A repeat ends.
    To,
    /// One repeat ends and another begins.
    Both,
}

/// A bar line across a line.
pub fn bar(sheet: &mut Sheet, x: f64, line: f64, bar: Bar, unit: f64) {
    let half = 5.0 * unit;
    let mut stroke = |x: f64, thick: f64| sheet.rule((x, line - half), (x, line + half), thick * unit);
    match bar {
        Bar::Single => stroke(x, 0.8),
        Bar::Double => {
            stroke(x - 2.2 * unit, 0.8);
            stroke(x, 0.8);
        }
        Bar::Final => {
            stroke(x - 3.4 * unit, 0.8);
            stroke(x - 0.9 * unit, 1.8);
        }
        Bar::From => {
            stroke(x, 1.8);
            stroke(x + 2.5 * unit, 0.8);
        }
        Bar::To => {
            stroke(x - 2.5 * unit, 0.8);
            stroke(x, 1.8);
        }
        Bar::Both => {
            stroke(x - 2.5 * unit, 0.8);
            stroke(x, 1.8);
            stroke(x + 2.5 * unit, 0.8);
        }
    }
    let mut dots = |side: f64| {
        for rise in [-1.0, 1.0] {
            sheet.dot((x + side * 5.0 * unit, line + rise * 2.4 * unit), 0.9 * unit);
        }
    };
    if matches!(bar, Bar::From | Bar::Both) {
        dots(1.0);
    }
    if matches!(bar, Bar::To | Bar::Both) {
        dots(-1.0);
    }
}
