//! A drawing in SVG 1.1 (W3C), put together from shapes. Black, white and grays alone, so that it prints anywhere.

use std::fmt::Write;

use super::letters;
use super::paper::{BY_LEVARE, Paper};

/// Text made safe for XML 1.0 (W3C, 5th edition): the five marks escaped, characters it forbids left out.
pub fn escape(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for c in text.chars() {
        match c {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            '\'' => safe.push_str("&#39;"),
            '\t' | '\n' | '\r' => safe.push(' '),
            c if c.is_control() || matches!(c, '\u{fffe}' | '\u{ffff}') => {}
            c => safe.push(c),
        }
    }
    safe
}

/// How words are set.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Letters {
    /// The size in pixels of the drawing.
    pub size: f64,
    /// Whether they are bold.
    pub bold: bool,
    /// Where the point given lies in them.
    pub anchor: Anchor,
    /// Turned clockwise by so many degrees around that point.
    pub turned: f64,
}

/// Where a point lies in words.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Anchor {
    /// At their start.
    Start,
    /// In their middle.
    Middle,
    /// At their end.
    End,
}

impl Letters {
    /// Plain letters of a size, from their start.
    pub const fn new(size: f64) -> Letters {
        Letters {
            size,
            bold: false,
            anchor: Anchor::Start,
            turned: 0.0,
        }
    }

    /// The same in bold.
    pub const fn bold(self) -> Letters {
        Letters { bold: true, ..self }
    }

    /// The same around their middle.
    pub const fn middle(self) -> Letters {
        Letters {
            anchor: Anchor::Middle,
            ..self
        }
    }

    /// The same up to their end.
    pub const fn end(self) -> Letters {
        Letters {
            anchor: Anchor::End,
            ..self
        }
    }

    /// The same turned clockwise, in degrees.
    pub const fn turned(self, degrees: f64) -> Letters {
        Letters {
            turned: degrees,
            ..self
        }
    }

    /// How wide words are, in pixels, by the widths of Arial and its metric equals.
    pub fn width(self, words: &str) -> f64 {
        letters::width(words, self.size, self.bold)
    }
}

/// How a shape is inked.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Ink {
    /// What fills it, as in SVG: `white`, `#ddd`, `none`.
    pub fill: &'static str,
    /// The color of its line.
    pub line: &'static str,
    /// How thick the line is, in pixels.
    pub thick: f64,
}

impl Ink {
    /// A line around nothing.
    pub const fn line(thick: f64) -> Ink {
        Ink {
            fill: "none",
            line: "black",
            thick,
        }
    }

    /// A black line around a fill.
    pub const fn filled(fill: &'static str, thick: f64) -> Ink {
        Ink {
            fill,
            line: "black",
            thick,
        }
    }
}

/// A drawing that grows.
#[derive(Debug)]
pub struct Drawing {
    body: String,
    width: f64,
    height: f64,
    name: String,
}

impl Drawing {
    /// An empty white sheet, in pixels of which 96 make an inch, with a name for those who hear it read out.
    pub fn new(width: f64, height: f64, name: &str) -> Drawing {
        Drawing {
            body: String::new(),
            width,
            height,
            name: name.to_owned(),
        }
    }

    fn add(&mut self, arguments: std::fmt::Arguments<'_>) {
        // Writing to a string cannot fail.
        let _ = self.body.write_fmt(arguments);
        self.body.push('\n');
    }

    /// A rectangle with round corners, turned clockwise in degrees around its middle.
    pub fn block(&mut self, middle: (f64, f64), size: (f64, f64), round: f64, turned: f64, ink: Ink) {
        let ((x, y), (wide, high)) = (middle, size);
        let turn = match turned == 0.0 {
            true => String::new(),
            false => format!(" transform=\"rotate({turned:.2} {x:.2} {y:.2})\""),
        };
        self.add(format_args!(
            "<rect x=\"{:.2}\" y=\"{:.2}\" width=\"{wide:.2}\" height=\"{high:.2}\" rx=\"{round:.2}\" {}{turn}/>",
            x - wide / 2.0,
            y - high / 2.0,
            inked(ink)
        ));
    }

    /// A circle.
    pub fn circle(&mut self, middle: (f64, f64), radius: f64, ink: Ink) {
        let (x, y) = middle;
        self.add(format_args!(
            "<circle cx=\"{x:.2}\" cy=\"{y:.2}\" r=\"{radius:.2}\" {}/>",
            inked(ink)
        ));
    }

    /// A straight line with round ends.
    pub fn line(&mut self, from: (f64, f64), to: (f64, f64), ink: Ink) {
        self.add(format_args!(
            "<path d=\"M{:.2} {:.2}L{:.2} {:.2}\" stroke-linecap=\"round\" {}/>",
            from.0,
            from.1,
            to.0,
            to.1,
            inked(ink)
        ));
    }

    /// A closed shape through these points.
    pub fn shape(&mut self, points: &[(f64, f64)], ink: Ink) {
        let points: Vec<String> = points.iter().map(|(x, y)| format!("{x:.2},{y:.2}")).collect();
        self.add(format_args!(
            "<polygon points=\"{}\" stroke-linejoin=\"round\" {}/>",
            points.join(" "),
            inked(ink)
        ));
    }

    /// A part of a circle, from one angle to another in degrees counted against the clock from the right.
    pub fn arc(&mut self, middle: (f64, f64), radius: f64, from: f64, to: f64, ink: Ink) {
        let at = |degrees: f64| {
            let angle = degrees.to_radians();
            (middle.0 + radius * angle.cos(), middle.1 - radius * angle.sin())
        };
        let ((x, y), (to_x, to_y)) = (at(from), at(to));
        let large = i32::from((to - from).abs() > 180.0);
        self.add(format_args!(
            "<path d=\"M{x:.2} {y:.2}A{radius:.2} {radius:.2} 0 {large} 0 {to_x:.2} {to_y:.2}\" {}/>",
            inked(ink)
        ));
    }

    /// A stretch of a ring, from one angle to another as in [`Drawing::arc`], between two radii.
    pub fn ring(&mut self, middle: (f64, f64), (inner, outer): (f64, f64), (from, to): (f64, f64), ink: Ink) {
        let at = |radius: f64, degrees: f64| {
            let angle = degrees.to_radians();
            (middle.0 + radius * angle.cos(), middle.1 - radius * angle.sin())
        };
        let large = i32::from((to - from).abs() > 180.0);
        let [(ax, ay), (bx, by), (cx, cy), (dx, dy)] =
            [at(outer, from), at(outer, to), at(inner, to), at(inner, from)];
        self.add(format_args!(
            "<path d=\"M{ax:.2} {ay:.2}A{outer:.2} {outer:.2} 0 {large} 0 {bx:.2} {by:.2}L{cx:.2} {cy:.2}A{inner:.2} {inner:.2} 0 {large} 1 {dx:.2} {dy:.2}Z\" stroke-linejoin=\"round\" {}/>",
            inked(ink)
        ));
    }

    /// Words. The point lies on the middle of the small letters.
    pub fn words(&mut self, at: (f64, f64), letters: Letters, words: &str) {
        self.words_in(at, letters, "black", words);
    }

    /// Words in a color.
    pub fn words_in(&mut self, at: (f64, f64), letters: Letters, color: &str, words: &str) {
        let anchor = match letters.anchor {
            Anchor::Start => "start",
            Anchor::Middle => "middle",
            Anchor::End => "end",
        };
        let weight = if letters.bold { "bold" } else { "normal" };
        let (x, y) = at;
        let turn = match letters.turned == 0.0 {
            true => String::new(),
            false => format!(" transform=\"rotate({:.2} {x:.2} {y:.2})\"", letters.turned),
        };
        // Viewers do not agree on `dominant-baseline`, so the base line is set by the size of the letters.
        self.add(format_args!(
            "<text x=\"{x:.2}\" y=\"{:.2}\" font-size=\"{:.2}\" font-weight=\"{weight}\" text-anchor=\"{anchor}\" fill=\"{color}\" textLength=\"{:.2}\" lengthAdjust=\"spacingAndGlyphs\"{turn}>{}</text>",
            y + letters.size * 0.35,
            letters.size,
            letters.width(words),
            escape(words)
        ));
    }

    /// The whole picture, ready for a file of its own.
    pub fn finish(self) -> String {
        let (wide, high) = (self.width, self.height);
        format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{wide:.0}\" height=\"{high:.0}\" viewBox=\"0 0 {wide:.0} {high:.0}\" role=\"img\" font-family=\"Helvetica, Arial, 'Liberation Sans', 'DejaVu Sans', sans-serif\">\n<title>{}</title>\n<rect width=\"100%\" height=\"100%\" fill=\"white\"/>\n{}</svg>\n",
            escape(&self.name),
            self.body
        )
    }
}

fn inked(ink: Ink) -> String {
    format!(
        "fill=\"{}\" stroke=\"{}\" stroke-width=\"{:.2}\"",
        ink.fill, ink.line, ink.thick
    )
}

/// Pictures, each on a landscape sheet of paper, as one page for any browser. A picture of another shape than the
/// sheet keeps its own and stands in the middle.
pub fn landscape(name: &str, paper: Paper, pictures: &[String]) -> String {
    let (wide, high) = paper.size();
    format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\"/>\n{BY_LEVARE}<title>{}</title>\n<style>\n@page {{ size: {wide}pt {high}pt; margin: 0 }}\nhtml, body {{ margin: 0; background: white }}\nsvg {{ display: block; width: {wide}pt; height: {high}pt; margin: 0 auto; break-inside: avoid }}\nsvg + svg {{ break-before: page }}\n</style>\n</head>\n<body>\n{}</body>\n</html>\n",
        escape(name),
        pictures.concat()
    )
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_cannot_break_out() {
        assert_eq!(
            escape("<b> \"Q&A\" it's\u{1}\n"),
            "&lt;b&gt; &quot;Q&amp;A&quot; it&#39;s "
        );
        let mut drawing = Drawing::new(100.0, 50.0, "</title>");
        drawing.words((1.0, 1.0), Letters::new(10.0), "</text><script>");
        let svg = drawing.finish();
        assert!(!svg.contains("<script>") && svg.matches("</title>").count() == 1);
    }
}
