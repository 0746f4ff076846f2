//! A sheet of paper: words, rules and shapes at their places, and how they are written out as one page that
//! any browser shows and prints, with nothing to fetch and nothing to run.
//!
//! Places are in points (1/72 inch) from the upper left corner. There is black and there is white; nothing is
//! said by color or by gray, so that a copy of a copy still reads.

use std::fmt::Write;

use super::letters::{self, printed};

/// What is printed on, always with the long side across.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Paper {
    /// US Letter, 11 by 8.5 inches.
    #[default]
    Letter,
    /// US Tabloid, 17 by 11 inches.
    Tabloid,
    /// ISO 216 A4, 297 by 210 millimeters.
    A4,
    /// ISO 216 A3, 420 by 297 millimeters.
    A3,
}

impl Paper {
    /// Width and height in points.
    pub fn size(self) -> (f64, f64) {
        match self {
            Paper::Letter => (792.0, 612.0),
            Paper::Tabloid => (1224.0, 792.0),
            Paper::A4 => (841.89, 595.28),
            Paper::A3 => (1190.55, 841.89),
        }
    }

    pub(super) fn css(self) -> (&'static str, &'static str) {
        match self {
            Paper::Letter => ("11in", "8.5in"),
            Paper::Tabloid => ("17in", "11in"),
            Paper::A4 => ("297mm", "210mm"),
            Paper::A3 => ("420mm", "297mm"),
        }
    }
}

/// A rectangle on the sheet, in points.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Area {
    /// The left edge.
    pub x: f64,
    /// The upper edge.
    pub y: f64,
    /// How wide it is.
    pub wide: f64,
    /// How high it is.
    pub high: f64,
}

impl Area {
    /// A rectangle from its corner and its size.
    pub fn new(x: f64, y: f64, wide: f64, high: f64) -> Area {
        Area { x, y, wide, high }
    }

    /// The right edge.
    pub fn right(&self) -> f64 {
        self.x + self.wide
    }

    /// The lower edge.
    pub fn bottom(&self) -> f64 {
        self.y + self.high
    }

    /// The same, smaller by so many points on each side.
    pub fn within(&self, by: f64) -> Area {
        Area::new(
            self.x + by,
            self.y + by,
            self.wide - 2.0 * by,
            self.high - 2.0 * by,
        )
    }

    /// Whether the other lies inside, edges counted, to a hundredth of a point.
    pub fn holds(&self, other: &Area) -> bool {
        const HAIR: f64 = 0.01;
        other.x >= self.x - HAIR
            && other.y >= self.y - HAIR
            && other.right() <= self.right() + HAIR
            && other.bottom() <= self.bottom() + HAIR
    }

    /// Whether both share more than an edge, to a hundredth of a point.
    pub fn meets(&self, other: &Area) -> bool {
        const HAIR: f64 = 0.01;
        self.x + HAIR < other.right()
            && other.x + HAIR < self.right()
            && self.y + HAIR < other.bottom()
            && other.y + HAIR < self.bottom()
    }
}

/// Black or white.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Ink {
    /// Black.
    #[default]
    Black,
    /// White, on black.
    White,
}

impl Ink {
    fn css(self) -> &'static str {
        match self {
            Ink::Black => "#000",
            Ink::White => "#fff",
        }
    }
}

/// How words are set.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Face {
    /// The size of the type in points.
    pub size: f64,
    /// Whether it is bold.
    pub bold: bool,
    /// Whether it is slanted.
    pub slanted: bool,
    /// Black, or white on black.
    pub ink: Ink,
}

impl Face {
    /// Regular type, black.
    pub fn plain(size: f64) -> Face {
        Face {
            size,
            ..Face::default()
        }
    }

    /// Bold type, black.
    pub fn bold(size: f64) -> Face {
        Face {
            size,
            bold: true,
            ..Face::default()
        }
    }

    /// The same in white.
    pub fn white(self) -> Face {
        Face {
            ink: Ink::White,
            ..self
        }
    }

    /// The same slanted.
    pub fn slanted(self) -> Face {
        Face {
            slanted: true,
            ..self
        }
    }

    /// How wide words are in this face, in points.
    pub fn width(&self, words: &str) -> f64 {
        letters::width(words, self.size, self.bold)
    }
}

/// One thing on a sheet.
#[derive(Debug, Clone, PartialEq)]
pub enum Mark {
    /// Words on a line, from their left end, exactly so wide.
    Words {
        /// The left end.
        x: f64,
        /// The line they stand on.
        y: f64,
        /// How wide they are set.
        wide: f64,
        /// How they are set.
        face: Face,
        /// What they say.
        words: String,
        /// Turned clockwise by so many degrees around their middle.
        turned: f64,
    },
    /// A straight rule.
    Rule {
        /// One end.
        from: (f64, f64),
        /// The other.
        to: (f64, f64),
        /// How thick it is.
        thick: f64,
        /// Whether it is broken into dashes.
        dashed: bool,
    },
    /// A line through points, with round ends.
    Curve {
        /// The points.
        points: Vec<(f64, f64)>,
        /// How thick it is.
        thick: f64,
    },
    /// A rectangle: filled, or white with an outline of this thickness.
    Frame {
        /// Where.
        area: Area,
        /// The outline; nothing fills the rectangle with black.
        outline: Option<f64>,
        /// How round its corners are.
        round: f64,
    },
    /// A circle: filled, or white with an outline of this thickness.
    Circle {
        /// Its middle.
        middle: (f64, f64),
        /// Its radius.
        radius: f64,
        /// The outline; nothing fills the circle with black.
        outline: Option<f64>,
    },
    /// A shape with corners: filled with black, or white with an outline of this thickness.
    Shape {
        /// Its corners.
        corners: Vec<(f64, f64)>,
        /// The outline; nothing fills it with black.
        outline: Option<f64>,
    },
}

impl Mark {
    /// The corners of the rectangle that words take, turned as they are; none of other marks.
    pub fn corners(&self) -> Vec<(f64, f64)> {
        let Mark::Words {
            x,
            y,
            wide,
            face,
            turned,
            ..
        } = self
        else {
            return Vec::new();
        };
        let (top, bottom) = (y - HIGH * face.size, y + LOW * face.size);
        let corners = [(*x, top), (x + wide, top), (x + wide, bottom), (*x, bottom)];
        if *turned == 0.0 {
            return corners.to_vec();
        }
        let middle = middle(*x, *y, *wide, *face);
        let (sin, cos) = turned.to_radians().sin_cos();
        let turn = |(x, y): (f64, f64)| {
            let (right, down) = (x - middle.0, y - middle.1);
            (
                middle.0 + right * cos - down * sin,
                middle.1 + right * sin + down * cos,
            )
        };
        corners.map(turn).to_vec()
    }

    /// The rectangle the mark takes, outlines counted by half their thickness.
    pub fn area(&self) -> Area {
        let around = |points: &[(f64, f64)], by: f64| {
            let (x, y) = points
                .iter()
                .fold((f64::MAX, f64::MAX), |(x, y), at| (x.min(at.0), y.min(at.1)));
            let (right, low) = points
                .iter()
                .fold((f64::MIN, f64::MIN), |(x, y), at| (x.max(at.0), y.max(at.1)));
            match points.is_empty() {
                true => Area::default(),
                false => Area::new(x, y, right - x, low - y).within(-by),
            }
        };
        let half = |outline: &Option<f64>| outline.unwrap_or(0.0) / 2.0;
        match self {
            Mark::Words { .. } => around(&self.corners(), 0.0),
            Mark::Curve { points, thick } => around(points, thick / 2.0),
            Mark::Rule { from, to, thick, .. } => around(&[*from, *to], thick / 2.0),
            Mark::Frame { area, outline, .. } => area.within(-half(outline)),
            Mark::Circle {
                middle,
                radius,
                outline,
            } => around(&[*middle], radius + half(outline)),
            Mark::Shape { corners, outline } => around(corners, half(outline)),
        }
    }
}

/// The middle of words on a line, halfway up the small letters.
fn middle(x: f64, y: f64, wide: f64, face: Face) -> (f64, f64) {
    (x + wide / 2.0, y - MIDDLE * face.size)
}

/// How far the middle of the small letters lies over the line, in parts of the type size.
const MIDDLE: f64 = 0.35;
/// How far capitals and tall letters rise over the line, in parts of the type size.
pub const HIGH: f64 = 0.74;
/// How far letters hang below the line, in parts of the type size.
pub const LOW: f64 = 0.22;

/// A sheet with all that is on it.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// Its width and height in points.
    pub size: (f64, f64),
    /// What is on it; later marks lie over earlier ones.
    pub marks: Vec<Mark>,
}

impl Sheet {
    /// An empty sheet.
    pub fn new(paper: Paper) -> Sheet {
        Sheet {
            size: paper.size(),
            marks: Vec::new(),
        }
    }

    /// Words from a left end, set closer where they are wider than `most`. Answers how wide they came out.
    pub fn words(&mut self, x: f64, y: f64, face: Face, words: &str, most: f64) -> f64 {
        let clean = clean(words);
        let wide = face.width(&clean).min(most.max(0.0));
        if !clean.trim().is_empty() {
            self.marks.push(Mark::Words {
                x,
                y,
                wide,
                face,
                words: clean,
                turned: 0.0,
            });
        }
        wide
    }

    /// Words around a point in the middle of their small letters, turned clockwise by degrees.
    pub fn words_turned(&mut self, at: (f64, f64), face: Face, words: &str, turned: f64) {
        let words = clean(words);
        let wide = face.width(&words);
        if !words.trim().is_empty() {
            self.marks.push(Mark::Words {
                x: at.0 - wide / 2.0,
                y: at.1 + MIDDLE * face.size,
                wide,
                face,
                words,
                turned,
            });
        }
    }

    /// A line through points.
    pub fn curve(&mut self, points: &[(f64, f64)], thick: f64) {
        self.marks.push(Mark::Curve {
            points: points.to_vec(),
            thick,
        });
    }

    /// Words around a middle.
    pub fn words_amid(&mut self, middle: f64, y: f64, face: Face, words: &str, most: f64) -> f64 {
        let wide = face.width(words).min(most.max(0.0));
        self.words(middle - wide / 2.0, y, face, words, most)
    }

    /// Words that end at a right end.
    pub fn words_before(&mut self, right: f64, y: f64, face: Face, words: &str, most: f64) -> f64 {
        let wide = face.width(words).min(most.max(0.0));
        self.words(right - wide, y, face, words, most)
    }

    /// A rule.
    pub fn rule(&mut self, from: (f64, f64), to: (f64, f64), thick: f64) {
        self.marks.push(Mark::Rule {
            from,
            to,
            thick,
            dashed: false,
        });
    }

    /// A dashed rule.
    pub fn dashes(&mut self, from: (f64, f64), to: (f64, f64), thick: f64) {
        self.marks.push(Mark::Rule {
            from,
            to,
            thick,
            dashed: true,
        });
    }

    /// A white rectangle with an outline.
    pub fn frame(&mut self, area: Area, thick: f64, round: f64) {
        self.marks.push(Mark::Frame {
            area,
            outline: Some(thick),
            round,
        });
    }

    /// A black rectangle.
    pub fn block(&mut self, area: Area) {
        self.marks.push(Mark::Frame {
            area,
            outline: None,
            round: 0.0,
        });
    }

    /// A white circle with an outline.
    pub fn circle(&mut self, middle: (f64, f64), radius: f64, thick: f64) {
        self.marks.push(Mark::Circle {
            middle,
            radius,
            outline: Some(thick),
        });
    }

    /// A black dot.
    pub fn dot(&mut self, middle: (f64, f64), radius: f64) {
        self.marks.push(Mark::Circle {
            middle,
            radius,
            outline: None,
        });
    }

    /// A black shape.
    pub fn solid(&mut self, corners: &[(f64, f64)]) {
        self.marks.push(Mark::Shape {
            corners: corners.to_vec(),
            outline: None,
        });
    }

    /// A white shape with an outline.
    pub fn outline(&mut self, corners: &[(f64, f64)], thick: f64) {
        self.marks.push(Mark::Shape {
            corners: corners.to_vec(),
            outline: Some(thick),
        });
    }
}

/// The line in every page's head that says who made it, so that only our own pages are written over.
pub const BY_LEVARE: &str = "<meta name=\"generator\" content=\"Levare\"/>\n";

/// Writes sheets out as one page. It holds all it needs, runs nothing, and prints a sheet a side.
pub fn page(title: &str, paper: Paper, sheets: &[Sheet]) -> String {
    let (wide, high) = paper.css();
    let mut out =
        String::from("<!DOCTYPE html>\n<html lang=\"en\" xmlns=\"http://www.w3.org/1999/xhtml\">\n<head>\n");
    out.push_str("<meta charset=\"utf-8\"/>\n");
    out.push_str(BY_LEVARE);
    out.push_str(&format!("<title>{}</title>\n", escaped(title)));
    out.push_str(&format!(
        "<style>\n@page {{ size: {wide} {high}; margin: 0 }}\n\
         html, body {{ margin: 0; background: #fff; color: #000 }}\n\
         svg {{ display: block; width: {wide}; height: {high}; overflow: hidden; break-after: page }}\n\
         svg:last-of-type {{ break-after: auto }}\n\
         text {{ font-family: \"Liberation Sans\", Arial, Helvetica, sans-serif; white-space: pre }}\n\
         @media screen {{ svg {{ margin: 0 auto 1em }} }}\n</style>\n</head>\n<body>\n"
    ));
    for sheet in sheets {
        svg(&mut out, sheet);
    }
    out.push_str("</body>\n</html>\n");
    out
}

fn svg(out: &mut String, sheet: &Sheet) {
    let (wide, high) = sheet.size;
    out.push_str(&format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {} {}\">\n",
        number(wide),
        number(high)
    ));
    for mark in &sheet.marks {
        // Writing to a text cannot go wrong.
        let _ = written(out, mark);
    }
    out.push_str("</svg>\n");
}

fn written(out: &mut String, mark: &Mark) -> std::fmt::Result {
    let paint = |outline: &Option<f64>| match outline {
        None => " fill=\"#000\"".to_owned(),
        Some(thick) => format!(
            " fill=\"#fff\" stroke=\"#000\" stroke-width=\"{}\"",
            number(*thick)
        ),
    };
    match mark {
        Mark::Words {
            x,
            y,
            wide,
            face,
            words,
            turned,
        } => writeln!(
            out,
            "<text x=\"{}\" y=\"{}\" font-size=\"{}\"{}{} fill=\"{}\" textLength=\"{}\" lengthAdjust=\"spacingAndGlyphs\"{}>{}</text>",
            number(*x),
            number(*y),
            number(face.size),
            if face.bold { " font-weight=\"700\"" } else { "" },
            if face.slanted {
                " font-style=\"italic\""
            } else {
                ""
            },
            face.ink.css(),
            number(*wide),
            turn(*turned, middle(*x, *y, *wide, *face)),
            escaped(words)
        ),
        Mark::Curve { points, thick } => {
            let points: Vec<String> = points
                .iter()
                .map(|(x, y)| format!("{},{}", number(*x), number(*y)))
                .collect();
            writeln!(
                out,
                "<polyline points=\"{}\" fill=\"none\" stroke=\"#000\" stroke-width=\"{}\" stroke-linecap=\"round\"/>",
                points.join(" "),
                number(*thick)
            )
        }
        Mark::Rule {
            from,
            to,
            thick,
            dashed,
        } => writeln!(
            out,
            "<line x1=\"{}\" y1=\"{}\" x2=\"{}\" y2=\"{}\" stroke=\"#000\" stroke-width=\"{}\"{}/>",
            number(from.0),
            number(from.1),
            number(to.0),
            number(to.1),
            number(*thick),
            if *dashed { " stroke-dasharray=\"4 3\"" } else { "" }
        ),
        Mark::Frame { area, outline, round } => writeln!(
            out,
            "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" rx=\"{}\"{}/>",
            number(area.x),
            number(area.y),
            number(area.wide.max(0.0)),
            number(area.high.max(0.0)),
            number(*round),
            paint(outline)
        ),
        Mark::Circle {
            middle,
            radius,
            outline,
        } => writeln!(
            out,
            "<circle cx=\"{}\" cy=\"{}\" r=\"{}\"{}/>",
            number(middle.0),
            number(middle.1),
            number(radius.max(0.0)),
            paint(outline)
        ),
        Mark::Shape { corners, outline } => {
            let points: Vec<String> = corners
                .iter()
                .map(|(x, y)| format!("{},{}", number(*x), number(*y)))
                .collect();
            writeln!(
                out,
                "<polygon points=\"{}\"{} stroke-linejoin=\"round\"/>",
                points.join(" "),
                paint(outline)
            )
        }
    }
}

fn turn(degrees: f64, (x, y): (f64, f64)) -> String {
    match degrees == 0.0 {
        true => String::new(),
        false => format!(
            " transform=\"rotate({} {} {})\"",
            number(degrees),
            number(x),
            number(y)
        ),
    }
}

/// A number as the page writes it: two places at most.
fn number(value: f64) -> String {
    if !value.is_finite() {
        return "0".to_owned();
    }
    // In whole hundredths: what prints any fraction whatever would be a part of the page for browsers by itself.
    let hundredths = (value * 100.0).round_ties_even() as i64;
    let (whole, part) = (hundredths.unsigned_abs() / 100, hundredths.unsigned_abs() % 100);
    let sign = if hundredths < 0 { "-" } else { "" };
    match (part, part % 10) {
        (0, _) => format!("{sign}{whole}"),
        (_, 0) => format!("{sign}{whole}.{}", part / 10),
        _ => format!("{sign}{whole}.{part:02}"),
    }
}

/// Words as they are printed.
fn clean(words: &str) -> String {
    words.chars().map(printed).collect()
}

/// Words as they stand between marks of the page or in its quotes.
pub fn escaped(words: &str) -> String {
    let mut out = String::with_capacity(words.len());
    for c in words.chars().map(printed) {
        match c {
            '&' => out.push_str("&amp;"),
            '<' => out.push_str("&lt;"),
            '>' => out.push_str("&gt;"),
            '"' => out.push_str("&quot;"),
            '\'' => out.push_str("&#39;"),
            c => out.push(c),
        }
    }
    out
}
