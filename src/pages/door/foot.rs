//! The foot of the page: the floor plan at the left, short notes at the right.

use crate::pages::letters;
use crate::pages::paper::{Area, Face, Sheet};

use super::{DoorPage, floor};

/// The places of the foot.
pub struct Foot {
    /// The floor plan.
    pub floor: Option<Area>,
    /// The notes.
    pub notes: Option<Area>,
}

/// How high the foot is on a sheet so high; nothing where there is nothing to say.
pub fn height(door: &DoorPage, sheet_high: f64) -> f64 {
    let unit = sheet_high / 612.0;
    let floor = match door.stations.len() {
        0 => 0.0,
        count => (14.0 + 58.0 * floor::rows(count) as f64) * unit,
    };
    let notes = match door.notes.len() {
        0 => 0.0,
        count => (16.0 + 24.0 * count as f64).min(150.0) * unit,
    };
    floor.max(notes)
}

/// Draws the foot into a rectangle.
pub fn draw(sheet: &mut Sheet, door: &DoorPage, inside: Area) -> Foot {
    let unit = sheet.size.1 / 612.0;
    let share = match (door.stations.is_empty(), door.notes.is_empty()) {
        (true, _) => 0.0,
        (_, true) => 1.0,
        _ => 0.62,
    };
    let mut foot = Foot {
        floor: None,
        notes: None,
    };
    let head = Face::bold(10.0 * unit);
    if share > 0.0 {
        let area = Area::new(inside.x, inside.y, inside.wide * share, inside.high);
        sheet.frame(area.within(1.0), 2.0, 0.0);
        let within = area.within(5.0 * unit);
        let words = "Where things stand, seen from the podium";
        sheet.words(within.x, within.y + head.size * 0.8, head, words, within.wide);
        let top = head.size * 1.2;
        floor::draw(
            sheet,
            &door.stations,
            Area::new(within.x, within.y + top, within.wide, within.high - top),
        );
        foot.floor = Some(area);
    }
    if share < 1.0 {
        let gap = if share > 0.0 { 8.0 * unit } else { 0.0 };
        let left = inside.x + inside.wide * share + gap;
        let area = Area::new(left, inside.y, inside.right() - left, inside.high);
        notes(sheet, door, area);
        foot.notes = Some(area);
    }
    foot
}

/// The notes, in the largest type in which all of them fit; in the smallest, the last ones give way and the
/// page says so.
fn notes(sheet: &mut Sheet, door: &DoorPage, inside: Area) {
    let broken = |size: f64| -> Vec<(String, bool)> {
        let mut lines = Vec::new();
        for note in &door.notes {
            let about = letters::lines(&note.about, size, true, inside.wide);
            lines.extend(about.into_iter().map(|line| (line, true)));
            let says = letters::lines(&note.says, size, false, inside.wide);
            lines.extend(says.into_iter().map(|line| (line, false)));
        }
        lines
    };
    let sizes = [13.0, 12.0, 11.0, 10.0, 9.0, 8.0, 7.0, 6.0];
    let mut size = 6.0;
    for try_size in sizes {
        size = try_size;
        if broken(size).len() as f64 * size * 1.16 <= inside.high {
            break;
        }
    }
    let lines = broken(size);
    let fit = ((inside.high / (size * 1.16)) as usize).max(1);
    for (at, (words, bold)) in lines.iter().enumerate().take(fit) {
        let y = inside.y + size * (0.82 + 1.16 * at as f64);
        if at + 1 == fit && lines.len() > fit {
            let words = format!("and {} more lines", lines.len() - at);
            sheet.words(inside.x, y, Face::plain(size).slanted(), &words, inside.wide);
            return;
        }
        let face = if *bold {
            Face::bold(size)
        } else {
            Face::plain(size)
        };
        sheet.words(inside.x, y, face, words, inside.wide);
    }
}
