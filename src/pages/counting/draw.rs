//! One system drawn: the marks over it, and a line a player.

use crate::pages::paper::{Area, Face, Sheet};
use crate::pages::signs::arrow;

use super::counted::{Counted, marks_at};
use super::signs::{self, Bar};
use super::spacing::{Need, System};
use super::{Course, What};

/// The heights of a player's line in units: words, numbers, the line itself, the walk below.
const WORDS: f64 = 10.0;
const NUMBERS: f64 = 9.8;
const STAFF: f64 = 11.0;
const WALK: f64 = 9.6;
/// What a player's line takes.
pub const LINE: f64 = WORDS + NUMBERS + STAFF + WALK + 1.6;
/// What the marks over a system take.
pub const MARKS: f64 = 16.0;
/// The room between the left end of the lines and the first measure, for the clef.
pub const CLEF: f64 = 12.0;

/// Words that begin at a cut: some bold, some plain, and an arrow before them.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Label {
    /// The cut.
    pub at: usize,
    /// What is bold.
    pub bold: String,
    /// What follows, plain.
    pub plain: String,
}

/// The size of a label's type in units.
const LABEL: f64 = 8.8;
/// The size of a walk's type.
const WALKS: f64 = 8.4;
/// The size of what stands over the lines.
const MARK: f64 = 10.5;

/// Where the words over a player's line begin, between two cuts.
pub fn labels(course: &Course, counted: &Counted, player: usize, (from, to): (usize, usize)) -> Vec<Label> {
    let mut labels: Vec<Label> = Vec::new();
    let mut stands: Option<String> = None;
    for at in from..to {
        let plays = counted.plays.get(player).map_or(&[][..], Vec::as_slice);
        let now = plays.get(at).and_then(Option::as_ref);
        let before = at
            .checked_sub(1)
            .and_then(|at| plays.get(at))
            .and_then(Option::as_ref);
        let measure = counted.cuts.get(at).map(u32::to_string).unwrap_or_default();
        match now {
            // Begins to play.
            Some(now) if before != Some(now) => {
                let named = stands.as_ref() != Some(now);
                labels.push(Label {
                    at,
                    bold: if named {
                        format!("{measure}  {now}")
                    } else {
                        measure
                    },
                    plain: if named {
                        sticks(course, counted, player, at, now)
                    } else {
                        String::new()
                    },
                });
                stands = Some(now.clone());
            }
            // A system begins: where the player stands.
            _ if at == from => {
                if plays.iter().all(Option::is_none) {
                    labels.push(Label {
                        at,
                        bold: "tacet".to_owned(),
                        plain: String::new(),
                    });
                } else if let Some((name, going)) = counted.stands_at(player, at) {
                    let first = at == 0;
                    labels.push(Label {
                        at,
                        bold: match (first, going) {
                            (true, _) => name.clone(),
                            (false, true) => format!("{measure}  (to {name})"),
                            (false, false) => format!("{measure}  ({name})"),
                        },
                        plain: if first {
                            sticks(course, counted, player, at, &name)
                        } else {
                            String::new()
                        },
                    });
                    stands = Some(name);
                }
            }
            _ => {}
        }
    }
    labels
}

/// The sticks, told where an instrument comes for the first time.
fn sticks(course: &Course, counted: &Counted, player: usize, at: usize, name: &str) -> String {
    let told = counted.plays.get(player).is_some_and(|plays| {
        let earlier = plays.iter().take(at);
        earlier.flatten().any(|earlier| earlier == name)
    });
    let line = course.lines.get(player).filter(|_| !told);
    let played = line.and_then(|line| line.plays.iter().find(|played| played.instrument == name));
    played
        .and_then(|played| played.sticks.clone())
        .unwrap_or_default()
}

/// Where the words of the walks begin.
pub fn walks(counted: &Counted, player: usize, (from, to): (usize, usize)) -> Vec<Label> {
    let walks = counted.walks.get(player).map_or(&[][..], Vec::as_slice);
    // A walk that begins at the end of a system is told at its end, over the last stretch.
    (from..to)
        .filter_map(|at| {
            let walk = walks.get(at)?.as_ref()?;
            let there = match walk.measures {
                0 => "no measure".to_owned(),
                1 => "1 measure".to_owned(),
                count => format!("{count} measures"),
            };
            let back = if walk.back { "in the repeat " } else { "" };
            Some(Label {
                at,
                bold: format!("{back}to {}: {there}", walk.to),
                plain: match &walk.seconds {
                    Some((there, needed)) => format!("{there}, needs {needed}"),
                    None => String::new(),
                },
            })
        })
        .collect()
}

/// How wide the marks at each cut are, with those that end at the next.
pub fn marks(course: &Course, counted: &Counted, (from, to): (usize, usize), unit: f64) -> Vec<Need> {
    let mut needs: Vec<Need> = Vec::new();
    let mut until = false;
    for at in from..to {
        let begin = begin_wide(course, counted, at, unit);
        let end = until_wide(course, counted, at + 1, unit);
        // Where words have to end, the next begin, though they may be none.
        if begin + end > 0.0 || until {
            let wide = begin + end + if begin + end > 0.0 { 4.0 * unit } else { 0.0 };
            needs.push(Need { at, wide });
        }
        until = end > 0.0;
    }
    needs
}

/// How wide the marks are that begin at a cut.
fn begin_wide(course: &Course, counted: &Counted, cut: usize, unit: f64) -> f64 {
    let Some(&measure) = counted.cuts.get(cut) else {
        return 0.0;
    };
    marks_at(course, measure)
        .map(|mark| mark_wide(&mark.what, measure, unit))
        .sum()
}

fn mark_wide(what: &What, measure: u32, unit: f64) -> f64 {
    match what {
        What::Rehearsal(words) => {
            Face::bold(MARK * unit).width(words)
                + 10.0 * unit
                + Face::plain(LABEL * unit).width(&measure.to_string())
                + 5.0 * unit
        }
        What::Words(words) => Face::bold(LABEL * unit).width(words) + 6.0 * unit,
        What::RepeatFrom | What::RepeatTo | What::Until(_) => 0.0,
    }
}

/// The words that end at a cut, in one.
fn until(course: &Course, counted: &Counted, cut: usize) -> String {
    let Some(&measure) = counted.cuts.get(cut) else {
        return String::new();
    };
    let words = marks_at(course, measure).filter_map(|mark| match &mark.what {
        What::Until(words) => Some(words.as_str()),
        _ => None,
    });
    words.collect::<Vec<_>>().join(", ")
}

fn until_wide(course: &Course, counted: &Counted, cut: usize, unit: f64) -> f64 {
    let words = until(course, counted, cut);
    match words.is_empty() {
        true => 0.0,
        false => Face::bold(LABEL * unit).width(&words) + 8.0 * unit,
    }
}

/// How wide a label is.
pub fn label_wide(label: &Label, walk: bool, unit: f64) -> f64 {
    let size = if walk { WALKS } else { LABEL } * unit;
    let plain = if label.plain.is_empty() {
        0.0
    } else {
        size * 0.5 + Face::plain(size).width(&label.plain)
    };
    let arrow = if walk { size * 1.1 } else { 0.0 };
    arrow + Face::bold(size).width(&label.bold) + plain + 5.0 * unit
}

/// What one system is drawn from.
pub struct Drawn<'a> {
    /// The course.
    pub course: &'a Course,
    /// The same, counted.
    pub counted: &'a Counted,
    /// The cuts and their places.
    pub system: &'a System,
    /// The players whose lines are drawn.
    pub players: std::ops::Range<usize>,
    /// Their seats.
    pub seats: &'a [String],
    /// The room for seats at the left.
    pub names: f64,
    /// Points to a unit.
    pub unit: f64,
}

impl Drawn<'_> {
    /// Draws the system into a rectangle. Answers the rectangle of each player's line.
    pub fn draw(&self, sheet: &mut Sheet, inside: Area) -> Vec<(usize, Area)> {
        let left = inside.x + self.names + CLEF * self.unit;
        let x = |cut: usize| {
            let at = cut
                .checked_sub(self.system.from)
                .and_then(|at| self.system.places.get(at));
            left + at.copied().unwrap_or(0.0) * self.unit
        };
        let end = x(self.system.to);
        self.marks(sheet, inside.y, &x, end);
        let top = inside.y + MARKS * self.unit;
        let mut areas = Vec::new();
        for (nth, player) in self.players.clone().enumerate() {
            let area = Area::new(
                inside.x,
                top + LINE * self.unit * nth as f64,
                inside.wide,
                LINE * self.unit,
            );
            self.line(sheet, player, area, &x, end);
            areas.push((player, area));
        }
        // The stroke that holds the lines of a system together.
        if let (Some((_, first)), Some((_, last))) = (areas.first(), areas.last()) {
            let to_staff = (WORDS + NUMBERS + STAFF / 2.0) * self.unit;
            let at = inside.x + self.names;
            sheet.rule(
                (at, first.y + to_staff - 5.0 * self.unit),
                (at, last.y + to_staff + 5.0 * self.unit),
                2.0 * self.unit,
            );
        }
        areas
    }

    fn marks(&self, sheet: &mut Sheet, top: f64, x: &dyn Fn(usize) -> f64, end: f64) {
        let (course, counted, unit) = (self.course, self.counted, self.unit);
        let base = top + 11.5 * unit;
        let needs = marks(course, counted, (self.system.from, self.system.to), unit);
        for (nth, need) in needs.iter().enumerate() {
            let room = needs.get(nth + 1).map_or(end, |next| x(next.at)) - x(need.at);
            // Everything is set closer where it does not fit.
            let closer = (room / need.wide.max(1.0)).min(1.0);
            let measure = counted.cuts.get(need.at).copied().unwrap_or(0);
            let mut here = x(need.at);
            for mark in marks_at(course, measure) {
                self.mark(sheet, &mark.what, measure, (here, top, base), closer);
                here += mark_wide(&mark.what, measure, unit) * closer;
            }
            let words = until(course, counted, need.at + 1);
            let face = Face::bold(LABEL * unit).slanted();
            let right = x(need.at + 1) - 3.0 * unit * closer;
            sheet.words_before(right, base, face, &words, face.width(&words) * closer);
        }
    }

    fn mark(
        &self,
        sheet: &mut Sheet,
        what: &What,
        measure: u32,
        (x, top, base): (f64, f64, f64),
        closer: f64,
    ) {
        let unit = self.unit;
        match what {
            What::Rehearsal(words) => {
                let face = Face::bold(MARK * unit);
                let wide = face.width(words) * closer;
                let frame = Area::new(x, top + 1.0 * unit, wide + 6.0 * unit * closer, 13.5 * unit);
                sheet.frame(frame.within(0.5), 1.2, 0.0);
                sheet.words(x + 3.0 * unit * closer, base, face, words, wide);
                let small = Face::plain(LABEL * unit);
                let number = measure.to_string();
                let at = frame.right() + 2.5 * unit * closer;
                sheet.words(at, base, small, &number, small.width(&number) * closer);
            }
            What::Words(words) => {
                let face = Face::bold(LABEL * unit).slanted();
                sheet.words(x, base, face, words, face.width(words) * closer);
            }
            What::RepeatFrom | What::RepeatTo | What::Until(_) => {}
        }
    }

    fn line(&self, sheet: &mut Sheet, player: usize, area: Area, x: &dyn Fn(usize) -> f64, end: f64) {
        let unit = self.unit;
        let between = (self.system.from, self.system.to);
        let line = area.y + (WORDS + NUMBERS + STAFF / 2.0) * unit;
        let begin = area.x + self.names;
        let seat = self.seats.get(player).map_or("", String::as_str);
        let face = Face::bold(12.0 * unit);
        sheet.words(
            area.x,
            line + face.size * 0.36,
            face,
            seat,
            self.names - 5.0 * unit,
        );
        sheet.rule((begin, line), (end, line), 0.8 * unit);
        signs::clef(sheet, begin + 3.0 * unit, line, unit);
        let numbers = area.y + (WORDS + NUMBERS - 2.0) * unit;
        for run in self.counted.runs(player, self.system.from, self.system.to) {
            let places = (x(run.from), x(run.to));
            match run.plays {
                None => signs::rest(sheet, places, line, numbers, run.measures, unit),
                Some(_) => {
                    signs::slashes(sheet, places, line, run.measures, unit);
                    let words = format!("play {}", run.measures);
                    let most = (places.1 - places.0 - 4.0 * unit).max(1.0);
                    let face = Face::plain(8.0 * unit).slanted();
                    sheet.words_amid((places.0 + places.1) / 2.0, numbers, face, &words, most);
                }
            }
            self.bar(sheet, run.to, x(run.to), line);
        }
        if self.bar_at(self.system.from) == Bar::From {
            signs::bar(sheet, x(self.system.from) - 1.0 * unit, line, Bar::From, unit);
        }
        let words = labels(self.course, self.counted, player, between);
        self.labels(sheet, &words, area.y + (WORDS - 2.2) * unit, false, x, end);
        let walks = walks(self.counted, player, between);
        let low = area.y + (WORDS + NUMBERS + STAFF + WALK - 2.2) * unit;
        self.labels(sheet, &walks, low, true, x, end);
    }

    fn labels(
        &self,
        sheet: &mut Sheet,
        labels: &[Label],
        base: f64,
        walk: bool,
        x: &dyn Fn(usize) -> f64,
        end: f64,
    ) {
        let size = if walk { WALKS } else { LABEL } * self.unit;
        for (nth, label) in labels.iter().enumerate() {
            let until = labels.get(nth + 1).map_or(end, |next| x(next.at)) - 2.0 * self.unit;
            let mut here = x(label.at);
            let natural = label_wide(label, walk, self.unit) - 5.0 * self.unit;
            let closer = ((until - here) / natural.max(1.0)).clamp(0.01, 1.0);
            if walk {
                arrow(sheet, here, base - size * 0.36, size * 0.85 * closer);
                here += size * 1.1 * closer;
            }
            let bold = Face::bold(size);
            let plain = Face::plain(size);
            here += sheet.words(here, base, bold, &label.bold, bold.width(&label.bold) * closer);
            if !label.plain.is_empty() {
                here += size * 0.5 * closer;
                sheet.words(
                    here,
                    base,
                    plain,
                    &label.plain,
                    plain.width(&label.plain) * closer,
                );
            }
        }
    }

    fn bar(&self, sheet: &mut Sheet, cut: usize, x: f64, line: f64) {
        let mut bar = self.bar_at(cut);
        // A repeat that begins at the end of a system is drawn at the start of the next.
        if cut == self.system.to {
            bar = match bar {
                Bar::From => Bar::Double,
                Bar::Both => Bar::To,
                bar => bar,
            };
        }
        signs::bar(sheet, x, line, bar, self.unit);
    }

    fn bar_at(&self, cut: usize) -> Bar {
        let Some(&measure) = self.counted.cuts.get(cut) else {
            return Bar::Single;
        };
        let has = |what: &What| marks_at(self.course, measure).any(|mark| mark.what == *what);
        match (has(&What::RepeatTo), has(&What::RepeatFrom)) {
            (true, true) => Bar::Both,
            (true, false) => Bar::To,
            (false, true) => Bar::From,
            _ if cut + 1 == self.counted.cuts.len() => Bar::Final,
            _ if self.counted.marked.get(cut).copied().unwrap_or(false) => Bar::Double,
            _ => Bar::Single,
        }
    }
}
