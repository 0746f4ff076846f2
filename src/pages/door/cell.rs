//! What stands in one cell: lines one under another, broken to the width of the column.

use crate::pages::letters::{self, glued};
use crate::pages::paper::{Area, Face, HIGH, LOW, Sheet};
use crate::pages::signs::{arrow, rest};

use super::{Does, Goes, LeftOut, PieceRow, Plays};

/// The sizes of type on the page, all told by the size of an instrument's name.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sizes {
    /// An instrument's name, in points.
    pub name: f64,
}

impl Sizes {
    /// What is read from near: sticks, measures, pages.
    pub fn small(&self) -> f64 {
        (self.name * 0.68).max(self.name.min(8.0))
    }

    /// A move, and a measure to come in at.
    pub fn call(&self) -> f64 {
        self.name * 0.9
    }

    /// The room left and right of the words in a cell.
    pub fn pad(&self) -> f64 {
        (self.name * 0.36).min(6.0)
    }

    /// The blank between two things in a cell.
    pub fn gap(&self) -> f64 {
        self.name * 0.3
    }
}

/// A line in a cell.
#[derive(Debug, Clone, PartialEq)]
pub struct Line {
    /// How it is set.
    pub face: Face,
    /// What it says.
    pub words: String,
    /// What stands before the words or around them.
    pub sign: Sign,
    /// The blank above it.
    pub above: f64,
}

/// What stands beside a line's words.
#[derive(Debug, Clone, PartialEq)]
pub enum Sign {
    /// Nothing.
    None,
    /// A measure in a box behind the words, as rehearsal marks are boxed in a part, and small words after it.
    Boxed(String, Option<(Face, String)>),
    /// The arrow of a move; the lines that follow are set in as far.
    Arrow,
    /// Set in by so many points.
    Inset(f64),
    /// The sign for rests of several measures.
    Rest,
}

/// How far a move's words are set in, in parts of their size.
const INSET: f64 = 1.05;

impl Line {
    /// How high the line is without the blank above it.
    pub fn high(&self) -> f64 {
        match self.sign {
            Sign::Boxed(..) => self.face.size * 1.34,
            Sign::Rest => self.face.size * 1.7,
            _ => self.face.size * 1.12,
        }
    }

    fn set_in(&self) -> f64 {
        match self.sign {
            Sign::Arrow => self.face.size * INSET,
            Sign::Inset(by) => by,
            _ => 0.0,
        }
    }
}

/// How high lines are one under another.
pub fn height(lines: &[Line]) -> f64 {
    lines.iter().map(|line| line.above + line.high()).sum()
}

/// Adds words, broken to the width; the first line has the blank above it.
fn add(lines: &mut Vec<Line>, words: &str, face: Face, sign: Sign, above: f64, wide: f64) {
    let inset = match sign {
        Sign::Arrow => face.size * INSET,
        Sign::Inset(by) => by,
        _ => 0.0,
    };
    for (at, words) in letters::lines(words, face.size, face.bold, (wide - inset).max(1.0))
        .into_iter()
        .enumerate()
    {
        lines.push(Line {
            face,
            words,
            sign: match (at, &sign) {
                (0, sign) => sign.clone(),
                (_, Sign::Arrow) => Sign::Inset(inset),
                (_, sign) => sign.clone(),
            },
            above: if at == 0 { above } else { 0.0 },
        });
    }
}

/// The lines of a player's cell.
pub fn player(does: &[Does], absent: bool, sizes: Sizes, wide: f64) -> Vec<Line> {
    let mut lines = Vec::new();
    if does.is_empty() {
        let words = if absent { "away" } else { "tacet" };
        let sign = if absent { Sign::None } else { Sign::Rest };
        add(
            &mut lines,
            words,
            Face::plain(sizes.call()).slanted(),
            sign,
            0.0,
            wide,
        );
        return lines;
    }
    for (at, does) in does.iter().enumerate() {
        let above = if at == 0 { 0.0 } else { sizes.gap() };
        match does {
            Does::Plays(plays) => self::plays(&mut lines, plays, sizes, above, wide),
            Does::Goes(goes) => self::goes(&mut lines, goes, sizes, above, wide),
            Does::NotKnown => {
                let face = Face::plain(sizes.call()).slanted();
                add(&mut lines, "not known", face, Sign::None, above, wide);
            }
        }
    }
    lines
}

fn plays(lines: &mut Vec<Line>, plays: &Plays, sizes: Sizes, above: f64, wide: f64) {
    add(
        lines,
        &plays.instrument,
        Face::bold(sizes.name),
        Sign::None,
        above,
        wide,
    );
    let small = Face::plain(sizes.small());
    let mut measures = measures(plays);
    if let Some(enters) = &plays.enters {
        let face = Face::plain(sizes.call());
        let taken = enters_wide(sizes) + boxed(face, enters);
        let words = if taken <= wide { "enters" } else { "" };
        // The measures stand beside the box where there is room, else below it.
        let beside = measures.take_if(|measures| taken + small.size * 0.4 + small.width(measures) <= wide);
        lines.push(Line {
            face,
            words: words.to_owned(),
            sign: Sign::Boxed(enters.clone(), beside.map(|words| (small, words))),
            above: sizes.name * 0.04,
        });
    }
    if let Some(measures) = measures {
        add(lines, &measures, small, Sign::None, 0.0, wide);
    }
    add(lines, &brings(plays), small, Sign::None, 0.0, wide);
}

/// The size of the word before a boxed measure, in parts of the measure's.
const ENTERS: f64 = 0.76;

fn enters_wide(sizes: Sizes) -> f64 {
    Face::plain(sizes.call() * ENTERS).width("enters ")
}

fn measures(plays: &Plays) -> Option<String> {
    (!plays.measures.is_empty()).then(|| plays.measures.clone())
}

/// What a player brings and reads: sticks, where it stands, the page.
fn brings(plays: &Plays) -> String {
    let page = plays.page.as_ref().map(|page| glued(&format!("{page} page")));
    let all = [&plays.sticks, &plays.station, &page].into_iter().flatten();
    all.map(String::as_str).collect::<Vec<&str>>().join(", ")
}

fn goes(lines: &mut Vec<Line>, goes: &Goes, sizes: Sizes, above: f64, wide: f64) {
    add(
        lines,
        &way(goes),
        Face::bold(sizes.call()),
        Sign::Arrow,
        above,
        wide,
    );
    let mut more: Vec<String> = [&goes.after, &goes.seconds]
        .into_iter()
        .flatten()
        .map(|words| glued(words))
        .collect();
    if goes.times > 1 {
        more.push(glued(&format!("{} times", goes.times)));
    }
    if !more.is_empty() {
        // Set in as far as the words above, though it is smaller.
        let small = Face::plain(sizes.small());
        add(
            lines,
            &more.join(", "),
            small,
            Sign::Inset(sizes.call() * INSET),
            0.0,
            wide,
        );
    }
}

fn way(goes: &Goes) -> String {
    let least = if goes.times > 1 { "at least " } else { "" };
    match goes.measures {
        None => format!("to {}", goes.to),
        Some(0) => format!("to {}: no\u{a0}measure", goes.to),
        Some(1) => format!("to {}: {least}1\u{a0}measure", goes.to),
        Some(count) => format!("to {}: {least}{count}\u{a0}measures", goes.to),
    }
}

/// The lines of a piece's own cell at the left.
pub fn piece(row: &PieceRow, sizes: Sizes, wide: f64) -> Vec<Line> {
    let mut lines = Vec::new();
    add(
        &mut lines,
        &row.title,
        Face::bold(sizes.name),
        Sign::None,
        0.0,
        wide,
    );
    let small = Face::plain(sizes.small());
    add(&mut lines, &row.under, small, Sign::None, 0.0, wide);
    if let Some(coarse) = &row.coarse {
        add(&mut lines, coarse, small.slanted(), Sign::None, 0.0, wide);
    }
    lines
}

/// The lines of what is left out.
pub fn left_out(parts: &[LeftOut], sizes: Sizes, wide: f64) -> Vec<Line> {
    let mut lines = Vec::new();
    for (at, left) in parts.iter().enumerate() {
        let above = if at == 0 { 0.0 } else { sizes.gap() * 0.5 };
        let face = Face::bold(sizes.call());
        add(&mut lines, &left.part, face, Sign::None, above, wide);
        // Parts that are left out for one reason have it told once, below the last.
        if parts.get(at + 1).is_some_and(|next| next.why == left.why) {
            continue;
        }
        add(
            &mut lines,
            &left.why,
            Face::plain(sizes.small()),
            Sign::None,
            0.0,
            wide,
        );
    }
    lines
}

/// The lines of a player's duties after a piece.
pub fn duties(duties: &[String], sizes: Sizes, wide: f64) -> Vec<Line> {
    let mut lines = Vec::new();
    for duty in duties {
        add(
            &mut lines,
            duty,
            Face::bold(sizes.name * 0.74),
            Sign::None,
            0.0,
            wide,
        );
    }
    lines
}

/// The narrowest a cell with these words can be, and the width at which it has the fewest lines.
pub fn widths(does: &[Does], sizes: Sizes) -> (f64, f64) {
    // A word longer than this is cut.
    let most = sizes.name * 6.2;
    let word = |words: &str, face: Face| {
        letters::widest_word(words, face.size, face.bold, most / letters::CLOSEST) * letters::CLOSEST
    };
    let small = Face::plain(sizes.small());
    let (call, name) = (Face::bold(sizes.call()), Face::bold(sizes.name));
    let least = sizes.name * 2.6;
    does.iter().fold((least, least), |(least, wish), does| {
        let (narrow, good) = match does {
            Does::Plays(plays) => {
                let face = Face::plain(sizes.call());
                let enters = plays
                    .enters
                    .as_ref()
                    .map_or(0.0, |enters| enters_wide(sizes) + boxed(face, enters));
                let narrow = word(&plays.instrument, name)
                    .max(word(&brings(plays), small))
                    .max(word(&plays.measures, small))
                    .max(enters.min(most));
                let measures = measures(plays).map_or(0.0, |words| small.width(&words) + small.size * 0.4);
                let line = enters + measures;
                (
                    narrow,
                    line.max(name.width(&plays.instrument))
                        .max(small.width(&brings(plays))),
                )
            }
            Does::Goes(goes) => {
                let narrow = word(&way(goes), call);
                let inset = call.size * INSET;
                (narrow + inset, call.width(&way(goes)) + inset)
            }
            Does::NotKnown => (call.width("known"), call.width("not known")),
        };
        (least.max(narrow), wish.max(good.min(sizes.name * 16.0)))
    })
}

/// How wide a boxed measure is.
fn boxed(face: Face, words: &str) -> f64 {
    Face::bold(face.size).width(words) + face.size * 0.6
}

/// Draws lines into a cell, from its upper left corner, as many as fit; says on the last one how many did not.
pub fn draw(sheet: &mut Sheet, lines: &[Line], inside: Area) {
    let mut y = inside.y;
    for (at, line) in lines.iter().enumerate() {
        let rest = lines.len() - at;
        let next = lines.get(at + 1).map_or(0.0, |next| next.above + next.high());
        let room = inside.bottom() - y + 0.01;
        if line.above + line.high() > room {
            return;
        }
        // The last line that fits, when more than one should follow, tells of those.
        if rest > 1 && line.above + line.high() + next > room {
            let words = format!("and {rest} more lines");
            let face = Face::plain(line.face.size.min(9.0)).slanted();
            sheet.words(inside.x, y + line.above + face.size, face, &words, inside.wide);
            return;
        }
        y += line.above;
        one(sheet, line, inside, y);
        y += line.high();
    }
}

fn one(sheet: &mut Sheet, line: &Line, inside: Area, top: f64) {
    let size = line.face.size;
    // The letters stand in the middle of the line's height.
    let base = top + (line.high() - (HIGH + LOW) * size) / 2.0 + HIGH * size;
    let left = inside.x + line.set_in();
    let most = (inside.right() - left).max(1.0);
    match &line.sign {
        Sign::None | Sign::Inset(_) => {
            sheet.words(left, base, line.face, &line.words, most);
        }
        Sign::Arrow => {
            arrow(sheet, inside.x, base - size * 0.36, size * 0.85);
            sheet.words(left, base, line.face, &line.words, most);
        }
        Sign::Boxed(measure, beside) => {
            let mut x = left;
            if !line.words.is_empty() {
                let face = Face::plain(size * ENTERS);
                x += sheet.words(left, base, face, &line.words, most) + face.width(" ");
            }
            let wide = boxed(line.face, measure).min((inside.right() - x).max(1.0));
            let area = Area::new(x, top + size * 0.06, wide, line.high() - size * 0.12);
            sheet.frame(area.within(0.6), 1.2, 0.0);
            let words = (wide - size * 0.6).max(1.0);
            sheet.words(x + size * 0.3, base, Face::bold(size), measure, words);
            if let Some((face, words)) = beside {
                let x = x + wide + face.size * 0.4;
                sheet.words(x, base, *face, words, (inside.right() - x).max(1.0));
            }
        }
        Sign::Rest => {
            let words = line.face.width(&line.words);
            let bar = (most - words - size * 0.4).min(size * 2.2);
            // In a narrow column the word stands alone.
            let x = match bar >= size * 0.8 {
                true => {
                    rest(sheet, Area::new(left, top + size * 0.5, bar, size * 0.7));
                    left + bar + size * 0.4
                }
                false => left,
            };
            sheet.words(x, base, line.face, &line.words, (inside.right() - x).max(1.0));
        }
    }
}
