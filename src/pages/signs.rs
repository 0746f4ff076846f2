//! Signs that more than one page draws.

use super::paper::{Area, Sheet};

/// An arrow to the right, `long` from its left end.
pub fn arrow(sheet: &mut Sheet, x: f64, middle: f64, long: f64) {
    let (half, shaft) = (long * 0.4, long * 0.14);
    let neck = x + long * 0.48;
    sheet.solid(&[
        (x, middle - shaft),
        (neck, middle - shaft),
        (neck, middle - half),
        (x + long, middle),
        (neck, middle + half),
        (neck, middle + shaft),
        (x, middle + shaft),
    ]);
}

/// The sign for a rest of several measures: a thick bar between two strokes.
pub fn rest(sheet: &mut Sheet, area: Area) {
    let middle = area.y + area.high / 2.0;
    let thick = area.high * 0.42;
    sheet.block(Area::new(area.x, middle - thick / 2.0, area.wide, thick));
    for x in [area.x, area.right()] {
        sheet.rule((x, area.y), (x, area.bottom()), (area.high * 0.12).max(0.7));
    }
}
