//! Systems on sheets: the fewest sheets, and on those the largest type.

use std::collections::BTreeMap;
use std::ops::Range;

use crate::pages::letters;
use crate::pages::paper::{Area, Face, Paper, Sheet};

use super::counted::Counted;
use super::draw::{self, CLEF, Drawn, LINE, MARKS};
use super::spacing::{MOST, Need, Spacing, System};
use super::{Counting, Course};

/// The edge that printers leave white, in points; common practice, no source.
const EDGE: f64 = 28.0;
/// The units in points, the largest first; at 1 the words over the lines are 8.8 points high.
const UNITS: [f64; 7] = [1.8, 1.6, 1.45, 1.3, 1.15, 1.0, 0.9];

/// The courses as they are spaced for some players, in units, so that every size uses them.
type Spacings<'a> = BTreeMap<(usize, usize), Vec<Spacing<'a>>>;

/// A sheet, and where everything is on it.
#[derive(Debug, Clone, PartialEq)]
pub struct Laid {
    /// What is drawn.
    pub sheet: Sheet,
    /// The places, none of which overlap.
    pub places: Vec<(Place, Area)>,
}

/// What stands in a place.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Place {
    /// The title and the notes.
    Title,
    /// The name of a course.
    Course(usize),
    /// A player's line in a system of a course.
    Line {
        /// The course.
        course: usize,
        /// The system of the course.
        system: usize,
        /// The player.
        player: usize,
    },
}

/// The piece in one size.
struct Set {
    unit: f64,
    names: f64,
    /// Which players stand on sheets together.
    groups: Vec<Range<usize>>,
    /// For each group and each course, its systems.
    systems: Vec<Vec<Vec<System>>>,
    /// For each group, for each sheet, the systems by course and place.
    sheets: Vec<Vec<Vec<(usize, usize)>>>,
}

/// Lays the piece out.
pub fn sheets(counting: &Counting, paper: Paper) -> Vec<Laid> {
    let (wide, high) = paper.size();
    let whole = Area::new(0.0, 0.0, wide, high).within(EDGE);
    let counted: Vec<Counted> = counting.courses.iter().map(Counted::of).collect();
    let mut best: Option<Set> = None;
    let mut spacings = Spacings::new();
    for unit in UNITS {
        let set = set(counting, &counted, whole, unit, &mut spacings);
        let count = |set: &Set| set.sheets.iter().map(Vec::len).sum::<usize>();
        if best.as_ref().is_none_or(|best| count(&set) < count(best)) {
            best = Some(set);
        }
    }
    let Some(set) = best else { return Vec::new() };
    drawn(counting, &counted, &set, paper, whole)
}

/// The notes, one behind the other, broken into lines.
fn notes(counting: &Counting, wide: f64) -> Vec<String> {
    letters::lines(&counting.notes.join(" "), NOTE, false, wide)
}

const NOTE: f64 = 10.0;

/// The height of title and notes; never more than a third of the sheet.
fn title_high(counting: &Counting, whole: Area) -> f64 {
    let lines = notes(counting, whole.wide).len() as f64;
    (36.0 + lines * NOTE * 1.2).min(whole.high / 3.0)
}

fn set<'a>(
    counting: &'a Counting,
    counted: &'a [Counted],
    whole: Area,
    unit: f64,
    spacings: &mut Spacings<'a>,
) -> Set {
    let room = whole.high - title_high(counting, whole);
    let name = Face::bold(12.0 * unit);
    let names = counting
        .players
        .iter()
        .map(|seat| name.width(seat))
        .fold(20.0 * unit, f64::max);
    let names = names.min(80.0 * unit) + 7.0 * unit;
    let each = (((room - MARKS * unit - COURSE * unit) / (LINE * unit)).floor() as usize).max(1);
    let players = counting.players.len();
    let count = players.div_ceil(each).max(1);
    let even = players.div_ceil(count).max(1);
    let groups: Vec<Range<usize>> = (0..count)
        .map(|at| (at * even).min(players)..((at + 1) * even).min(players))
        .collect();
    let wide = (whole.wide - names) / unit - CLEF;
    let systems: Vec<Vec<Vec<System>>> = groups
        .iter()
        .map(|group| {
            let courses = spacings.entry((group.start, group.end)).or_insert_with(|| {
                let courses = counting.courses.iter().zip(counted);
                courses
                    .map(|(course, counted)| spacing(course, counted, group))
                    .collect()
            });
            courses.iter().map(|spacing| spacing.systems(wide)).collect()
        })
        .collect();
    let sheets = groups
        .iter()
        .zip(&systems)
        .map(|(group, systems)| paged(counting, systems, group, room, unit))
        .collect();
    Set {
        unit,
        names,
        groups,
        systems,
        sheets,
    }
}

/// How a course is spaced for some players, in units.
fn spacing<'a>(course: &'a Course, counted: &'a Counted, group: &Range<usize>) -> Spacing<'a> {
    let natural = counted.cuts.windows(2).map(|pair| {
        let measures = pair
            .last()
            .zip(pair.first())
            .map_or(1, |(next, first)| next.saturating_sub(*first));
        // A long rest takes more room than a short one, but never as much more as it is longer.
        (16.0 + 8.0 * f64::from(measures).sqrt()).min(150.0)
    });
    let group = group.clone();
    let needs = move |from: usize| {
        let between = (from, (from + MOST).min(counted.cuts.len().saturating_sub(1)));
        let wide = |labels: Vec<draw::Label>, walk: bool| -> Vec<Need> {
            let all = labels.iter().map(|label| Need {
                at: label.at,
                wide: draw::label_wide(label, walk, 1.0),
            });
            all.collect()
        };
        let mut rows = vec![draw::marks(course, counted, between, 1.0)];
        for player in group.clone() {
            rows.push(wide(draw::labels(course, counted, player, between), false));
            rows.push(wide(draw::walks(counted, player, between), true));
        }
        rows
    };
    Spacing::new(natural.collect(), Box::new(needs))
}

/// The height of the name of a course, in units.
const COURSE: f64 = 18.0;
/// The blank under a system, in units.
const UNDER: f64 = 6.0;

fn high(counting: &Counting, group: &Range<usize>, course: usize, system: usize, unit: f64) -> f64 {
    let named = system == 0
        && counting
            .courses
            .get(course)
            .is_some_and(|course| !course.name.is_empty());
    unit * (MARKS + LINE * group.len() as f64 + if named { COURSE } else { 0.0 })
}

fn paged(
    counting: &Counting,
    systems: &[Vec<System>],
    group: &Range<usize>,
    room: f64,
    unit: f64,
) -> Vec<Vec<(usize, usize)>> {
    let mut sheets: Vec<Vec<(usize, usize)>> = Vec::new();
    let mut filled = 0.0;
    for (course, systems) in systems.iter().enumerate() {
        for system in 0..systems.len() {
            let high = high(counting, group, course, system, unit);
            match sheets.last_mut() {
                Some(sheet) if filled + high <= room => sheet.push((course, system)),
                _ => {
                    sheets.push(vec![(course, system)]);
                    filled = 0.0;
                }
            }
            filled += high + UNDER * unit;
        }
    }
    if sheets.is_empty() {
        sheets.push(Vec::new());
    }
    sheets
}

fn drawn(counting: &Counting, counted: &[Counted], set: &Set, paper: Paper, whole: Area) -> Vec<Laid> {
    let title = title_high(counting, whole);
    let count: usize = set.sheets.iter().map(Vec::len).sum();
    let mut laid = Vec::new();
    for ((group, sheets), systems) in set.groups.iter().zip(&set.sheets).zip(&set.systems) {
        for sheet in sheets {
            let mut one = begun(counting, paper, whole, title, (laid.len() + 1, count));
            let mut y = whole.y + title;
            for &(course, nth) in sheet {
                let found = counting.courses.get(course).zip(counted.get(course));
                let system = systems.get(course).and_then(|systems| systems.get(nth));
                let (Some((told, counted)), Some(system)) = (found, system) else {
                    continue;
                };
                if nth == 0 && !told.name.is_empty() {
                    let face = Face::bold(13.0 * set.unit);
                    one.sheet
                        .words(whole.x, y + face.size, face, &told.name, whole.wide);
                    let area = Area::new(whole.x, y, whole.wide, COURSE * set.unit);
                    one.places.push((Place::Course(course), area));
                    y += COURSE * set.unit;
                }
                let drawn = Drawn {
                    course: told,
                    counted,
                    system,
                    players: group.clone(),
                    seats: &counting.players,
                    names: set.names,
                    unit: set.unit,
                };
                let tall = set.unit * (MARKS + LINE * group.len() as f64);
                let lines = drawn.draw(&mut one.sheet, Area::new(whole.x, y, whole.wide, tall));
                one.places.extend(lines.into_iter().map(|(player, area)| {
                    let place = Place::Line {
                        course,
                        system: nth,
                        player,
                    };
                    (place, area)
                }));
                y += tall + UNDER * set.unit;
            }
            laid.push(one);
        }
    }
    laid
}

fn begun(counting: &Counting, paper: Paper, whole: Area, high: f64, (number, count): (usize, usize)) -> Laid {
    let mut sheet = Sheet::new(paper);
    let half = whole.wide * 0.5;
    sheet.words(whole.x, whole.y + 20.0, Face::bold(24.0), &counting.title, half);
    let mut beside = counting.beside.clone();
    if count > 1 {
        beside = match beside.is_empty() {
            true => format!("sheet {number} of {count}"),
            false => format!("{beside}   sheet {number} of {count}"),
        };
    }
    let right = whole.wide - half - 12.0;
    sheet.words_before(whole.right(), whole.y + 18.0, Face::bold(13.0), &beside, right);
    for (at, line) in notes(counting, whole.wide).iter().enumerate() {
        let y = whole.y + 30.0 + NOTE * (0.8 + 1.2 * at as f64);
        // On a sheet that is nearly all notes the last ones give way.
        if y + NOTE * 0.3 > whole.y + high {
            break;
        }
        sheet.words(whole.x, y, Face::plain(NOTE), line, whole.wide);
    }
    Laid {
        sheet,
        places: vec![(Place::Title, Area::new(whole.x, whole.y, whole.wide, high))],
    }
}
