//! The geometry of a setup: rows as arcs around the podium, chairs evenly along them, all on one sheet.
//!
//! Lengths are pixels of which 96 make an inch; angles are degrees against the clock from the right.

use super::ink::Letters;
use super::plan::{Plan, stands};

/// The sheet: US letter, landscape.
pub const SHEET: (f64, f64) = (1056.0, 816.0);
/// The point that all rows go around.
pub const CENTER: (f64, f64) = (528.0, 722.0);
/// Where a row ends on the right; it starts as far from the left.
const LOWEST: f64 = 13.0;
/// The farthest that anything of a row may be from the center.
const FARTHEST: f64 = 498.0;
/// The free space around the podium.
const PODIUM: f64 = 78.0;
/// The widest that chairs stand apart.
const WIDEST: f64 = 62.0;
/// Letters of this size are worth more than a longer name.
const READ_FROM_AFAR: f64 = 14.0;
/// Section names are never larger than this.
const LARGEST_NAME: f64 = 21.0;

/// A chair.
#[derive(Debug, Clone, PartialEq)]
pub struct Chair {
    /// Its middle.
    pub at: (f64, f64),
    /// The length of its sides.
    pub side: f64,
    /// The angle at which it stands.
    pub angle: f64,
    /// What stands on it.
    pub words: String,
}

/// A stand, shared by two chairs or for one alone.
#[derive(Debug, Clone, PartialEq)]
pub struct Stand {
    /// Its middle.
    pub at: (f64, f64),
    /// Its width.
    pub wide: f64,
    /// How much room there is for it between the chairs and the edge of their strip.
    pub deep: f64,
    /// The angle at which it stands.
    pub angle: f64,
}

/// The floor that a section takes in its row.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Strip {
    /// Its edge on the podium's side and the one away from it.
    pub radii: (f64, f64),
    /// The angles of its right and left ends.
    pub ends: (f64, f64),
}

/// The name of a block, in one or two lines.
#[derive(Debug, Clone, PartialEq)]
pub struct Name {
    /// The lines with the middle of each.
    pub lines: Vec<(String, (f64, f64))>,
    /// The size of the letters.
    pub size: f64,
    /// The angle at which it stands.
    pub angle: f64,
    /// How wide it may be.
    pub room: f64,
}

/// A row.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// How far its chairs are from the center.
    pub radius: f64,
    /// The strips of its sections from left to right.
    pub strips: Vec<Strip>,
    /// Its chairs from left to right.
    pub chairs: Vec<Chair>,
    /// Its stands.
    pub stands: Vec<Stand>,
    /// The names behind it.
    pub names: Vec<Name>,
    /// The number of the row, at its left end.
    pub tag: Name,
}

/// All that stands on the floor before the percussion.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Layout {
    /// The rows from the podium outward.
    pub rows: Vec<Row>,
    /// How far out the last row goes with its names.
    pub farthest: f64,
}

/// The measures of a setup at one spacing of chairs.
struct Measures {
    pitch: f64,
    side: f64,
    stand: f64,
    name: f64,
}

impl Measures {
    fn of(pitch: f64) -> Measures {
        Measures {
            pitch,
            side: pitch * 0.78,
            stand: pitch * 0.34,
            name: (pitch * 0.68).clamp(2.0, 36.0),
        }
    }

    /// The radius of every row; the last number is how far the last one's names go.
    fn radii(&self, counts: &[usize]) -> (Vec<f64>, f64) {
        let mut inner = PODIUM.min(self.pitch * 8.0);
        let mut radii = Vec::new();
        for count in counts {
            let wanted = *count as f64 * self.pitch / span();
            let radius = (inner + self.stand + self.side / 2.0).max(wanted);
            radii.push(radius);
            inner = radius + self.side / 2.0 + self.name;
        }
        (radii, inner)
    }
}

/// The widest arc, in radians.
fn span() -> f64 {
    (180.0 - 2.0 * LOWEST).to_radians()
}

/// Lays a plan out as large as the sheet allows.
pub fn layout(plan: &Plan) -> Layout {
    let counts: Vec<usize> = plan.rows.iter().map(|row| Plan::totals(row).0).collect();
    if counts.is_empty() {
        return Layout::default();
    }
    // The largest spacing that fits, to a fortieth of a pixel.
    let (mut low, mut high) = (0.5, WIDEST);
    if Measures::of(high).radii(&counts).1 <= FARTHEST {
        low = high;
    }
    for _ in 0..12 {
        let middle = f64::midpoint(low, high);
        match Measures::of(middle).radii(&counts).1 <= FARTHEST {
            true => low = middle,
            false => high = middle,
        }
    }
    let measures = Measures::of(low);
    let (mut radii, mut farthest) = measures.radii(&counts);
    // Room that is left over goes between the rows.
    let spare = ((FARTHEST - farthest) / radii.len() as f64).clamp(0.0, 26.0);
    for (at, radius) in radii.iter_mut().enumerate() {
        *radius += spare * (at + 1) as f64;
    }
    farthest += spare * radii.len() as f64;
    let rows = plan
        .rows
        .iter()
        .zip(&radii)
        .enumerate()
        .map(|(at, (blocks, radius))| row(blocks, *radius, at, &measures))
        .collect();
    Layout { rows, farthest }
}

/// A point at an angle.
pub fn at(radius: f64, angle: f64) -> (f64, f64) {
    let turn = angle.to_radians();
    (CENTER.0 + radius * turn.cos(), CENTER.1 - radius * turn.sin())
}

fn row(blocks: &[super::plan::Block], radius: f64, number: usize, measures: &Measures) -> Row {
    let count = blocks.iter().map(|block| block.chairs.len()).sum::<usize>();
    // A short row stays together in the middle.
    let apart = (span() / count.max(1) as f64).min(measures.pitch * 1.7 / radius);
    let width = apart.to_degrees();
    let half = width * count as f64 / 2.0;
    let angle = |chair: usize| 90.0 + half - width * (chair as f64 + 0.5);
    let mut made = Row {
        radius,
        strips: Vec::new(),
        chairs: Vec::new(),
        stands: Vec::new(),
        names: Vec::new(),
        tag: tag(radius, 90.0 + half, number, measures),
    };
    let mut first = 0usize;
    for block in blocks {
        for (at_chair, words) in block.chairs.iter().enumerate() {
            let angle = angle(first + at_chair);
            made.chairs.push(Chair {
                at: at(radius, angle),
                side: measures.side,
                angle,
                words: words.clone(),
            });
        }
        for (one, other) in stands(&block.chairs) {
            let middle = f64::midpoint(angle(first + one), angle(first + other));
            let away = radius - measures.side / 2.0 - measures.stand * 0.55;
            made.stands.push(Stand {
                at: at(away, middle),
                wide: measures.side * if one == other { 0.55 } else { 0.95 },
                deep: measures.stand,
                angle: middle,
            });
        }
        let size = block.chairs.len();
        // A gap of a finger between the strips; the edge goes around the stands.
        let gap = (2.0 / radius).to_degrees().min(width * 0.1);
        made.strips.push(Strip {
            radii: (
                radius - measures.side / 2.0 - measures.stand * 0.85,
                radius + measures.side / 2.0,
            ),
            ends: (
                angle(first + size.saturating_sub(1)) - width / 2.0 + gap,
                angle(first) + width / 2.0 - gap,
            ),
        });
        let middle = f64::midpoint(angle(first), angle(first + size.saturating_sub(1)));
        let behind = radius + measures.side / 2.0;
        // The chord is what straight letters have; a little air on both sides keeps neighbors apart.
        let wide = apart * size as f64;
        let room = 2.0 * behind * (wide.min(2.2) / 2.0).sin() * 0.94;
        made.names.push(name(block, behind, middle, room, measures.name));
        first += size;
    }
    made
}

/// The number of a row, on a mark before its first chair.
fn tag(radius: f64, end: f64, number: usize, measures: &Measures) -> Name {
    let size = (measures.side * 0.5).min(17.0);
    let words = format!("{}", number + 1);
    let room = size * 1.56;
    let angle = end + (room * 0.75 / radius).to_degrees();
    Name {
        lines: vec![(words, at(radius, angle))],
        size,
        angle: 90.0,
        room,
    }
}

/// The way of writing a name that has the largest letters: in one line, in two, or short.
fn name(block: &super::plan::Block, behind: f64, angle: f64, room: f64, high: f64) -> Name {
    let mut ways: Vec<Vec<String>> = vec![vec![block.name.clone()]];
    if let Some((first, rest)) = block.name.split_once(' ') {
        ways.push(vec![first.to_owned(), rest.to_owned()]);
    }
    ways.push(vec![block.short.clone()]);
    let size_of = |lines: &Vec<String>| {
        let widest = lines
            .iter()
            .map(|line| Letters::new(1.0).bold().width(line))
            .fold(0.1, f64::max);
        let many = lines.len() as f64;
        let mut size = (room / widest).min(high * 0.92 / many).min(LARGEST_NAME);
        // Straight letters before a round row: their ends are farther out than their middle.
        let reach = |size: f64| (behind + size * (many - 0.03)).hypot(size * widest / 2.0);
        for _ in 0..80 {
            if reach(size) <= behind + high {
                break;
            }
            size *= 0.95;
        }
        size
    };
    // The longest way whose letters can be read from afar; where none can, the one with the largest.
    let sizes: Vec<f64> = ways.iter().map(size_of).collect();
    let largest = sizes.iter().copied().fold(0.0, f64::max);
    let good = largest.min(READ_FROM_AFAR);
    let chosen = sizes.iter().position(|size| *size >= good).unwrap_or(0);
    let (lines, size) = (
        ways.swap_remove(chosen),
        sizes.get(chosen).copied().unwrap_or(1.0),
    );
    let many = lines.len();
    let placed = lines
        .into_iter()
        .enumerate()
        .map(|(line, words)| {
            let up = (many - 1 - line) as f64 * size;
            (words, at(behind + size * 0.62 + up, angle))
        })
        .collect();
    Name {
        lines: placed,
        size,
        angle,
        room,
    }
}
