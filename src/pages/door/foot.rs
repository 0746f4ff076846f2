//! The foot of the page: the floor plan at the left, short notes at the right.

use crate::pages::letters;
use crate::pages::paper::{Area, Face, Sheet};

use super::{DoorPage, Note, floor};

/// The places of the foot.
pub struct Foot {
    /// The floor plan.
    pub floor: Option<Area>,
    /// The notes.
    pub notes: Option<Area>,
    /// How many notes stand there; the others want a sheet of their own.
    pub told: usize,
}

/// The part of the width that the floor plan takes when there are notes beside it.
const SHARE: f64 = 0.6;
/// The blank between the floor plan and the notes, in points on a Letter sheet.
const GAP: f64 = 10.0;
/// The height of a line of notes, in parts of the type size.
const LEAD: f64 = 1.16;
/// The size of notes, in points on a Letter sheet, where there is room for it.
const NOTE: f64 = 10.0;
/// The smallest and the largest type of notes, in points. They are read by who stands before the page (from memory).
const SMALLEST: f64 = 9.0;
const LARGEST: f64 = 16.0;

/// How high the foot is on a sheet so wide and high; nothing where there is nothing to say.
pub fn height(door: &DoorPage, wide: f64, sheet_high: f64) -> f64 {
    let unit = sheet_high / 612.0;
    let floor = match door.stations.len() {
        0 => 0.0,
        count => (16.0 + 58.0 * floor::rows(count) as f64) * unit,
    };
    let share = if door.stations.is_empty() {
        1.0
    } else {
        1.0 - SHARE
    };
    let lines = broken(&door.notes, NOTE * unit, wide * share - GAP * unit).len() as f64;
    floor.max((lines * NOTE * LEAD * unit).min(110.0 * unit))
}

/// Draws the foot into a rectangle.
pub fn draw(sheet: &mut Sheet, door: &DoorPage, inside: Area) -> Foot {
    let unit = sheet.size.1 / 612.0;
    let share = match (door.stations.is_empty(), door.notes.is_empty()) {
        (true, _) => 0.0,
        (_, true) => 1.0,
        _ => SHARE,
    };
    let mut foot = Foot {
        floor: None,
        notes: None,
        told: 0,
    };
    let head = Face::bold(9.0 * unit);
    if share > 0.0 {
        let area = Area::new(inside.x, inside.y, inside.wide * share, inside.high);
        sheet.frame(area.within(1.0), 2.0, 0.0);
        let within = area.within(5.0 * unit);
        let words = "The stations, and the pieces that need them";
        sheet.words(within.x, within.y + head.size * 0.8, head, words, within.wide);
        let top = head.size * 1.1;
        floor::draw(
            sheet,
            &door.stations,
            Area::new(within.x, within.y + top, within.wide, within.high - top),
        );
        foot.floor = Some(area);
    }
    if share < 1.0 {
        let gap = if share > 0.0 { GAP * unit } else { 0.0 };
        let left = inside.x + inside.wide * share + gap;
        let area = Area::new(left, inside.y, inside.right() - left, inside.high);
        foot.told = notes(sheet, &door.notes, area);
        foot.notes = Some(area);
    }
    foot
}

/// A line of notes: what it is about, bold, and what it says.
pub type NoteLine = (String, String);

/// The notes broken into lines; each goes on behind what it is about.
fn broken(notes: &[Note], size: f64, wide: f64) -> Vec<NoteLine> {
    let mut lines: Vec<NoteLine> = Vec::new();
    for note in notes {
        let mut about = letters::lines(&note.about, size, true, wide);
        let last = about.pop().unwrap_or_default();
        lines.extend(about.into_iter().map(|line| (line, String::new())));
        let mut filled = letters::width(&last, size, true);
        let mut line: NoteLine = (last, String::new());
        let blank = letters::width(" ", size, false);
        for word in letters::lines(&note.says, size, false, wide)
            .iter()
            .flat_map(|line| line.split(' '))
        {
            let long = letters::width(word, size, false);
            let empty = line.0.is_empty() && line.1.is_empty();
            if !empty && filled + blank + long > wide {
                lines.push(std::mem::take(&mut line));
                filled = 0.0;
            }
            if !line.1.is_empty() {
                line.1.push(' ');
                filled += blank;
            } else if !line.0.is_empty() {
                filled += blank;
            }
            line.1.push_str(word);
            filled += long;
        }
        if !line.0.is_empty() || !line.1.is_empty() {
            lines.push(line);
        }
    }
    lines
}

/// The largest type in which lines of notes fit, else the smallest; and how many lines of it do.
fn fitting(notes: &[Note], wide: f64, high: f64) -> (f64, usize) {
    let room = |size: f64| (high / (size * LEAD) + 0.01) as usize;
    let mut size = LARGEST;
    while size > SMALLEST && broken(notes, size, wide).len() > room(size) {
        size -= 0.5;
    }
    (size, room(size))
}

/// Draws notes in the largest type in which all of them fit, else as many whole ones as fit in the smallest; says how
/// many those are.
fn notes(sheet: &mut Sheet, notes: &[Note], inside: Area) -> usize {
    let (size, room) = fitting(notes, inside.wide, inside.high);
    let fit = |count: &usize| broken(notes.get(..*count).unwrap_or(&[]), size, inside.wide).len() <= room;
    let told = (0..=notes.len()).rev().find(fit).unwrap_or(0);
    let lines = broken(notes.get(..told).unwrap_or(&[]), size, inside.wide);
    draw_lines(sheet, &lines, size, inside);
    told
}

/// Notes on sheets of their own, each so wide and high: the type and the lines of every sheet.
pub fn on_sheets(notes: &[Note], (wide, high): (f64, f64)) -> Vec<(f64, Vec<NoteLine>)> {
    let (size, room) = fitting(notes, wide, high);
    let lines = broken(notes, size, wide);
    let sheets = lines.chunks(room.max(1));
    sheets.map(|lines| (size, lines.to_vec())).collect()
}

/// Draws lines of notes.
pub fn draw_lines(sheet: &mut Sheet, lines: &[NoteLine], size: f64, inside: Area) {
    for (at, (about, says)) in lines.iter().enumerate() {
        let y = inside.y + size * (0.82 + LEAD * at as f64);
        let mut x = inside.x;
        if !about.is_empty() {
            let room = if says.is_empty() {
                inside.wide
            } else {
                inside.wide * 0.9
            };
            x += sheet.words(x, y, Face::bold(size), about, room) + letters::width(" ", size, false);
        }
        sheet.words(x, y, Face::plain(size), says, (inside.right() - x).max(1.0));
    }
}
