//! The setup's own lengths and points on a sheet: a picture of [`super::SHEET`] in the middle of any paper.

use crate::pages::letters;
use crate::pages::paper::{self, Area, Face, Paper, Sheet};

use super::SHEET;

/// Where a point lies in words.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Anchor {
    Start,
    Middle,
    End,
}

/// How words are set.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Letters {
    size: f64,
    bold: bool,
    anchor: Anchor,
    turned: f64,
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

    /// The same turned clockwise, in degrees, around their middle.
    pub const fn turned(self, degrees: f64) -> Letters {
        Letters {
            turned: degrees,
            anchor: Anchor::Middle,
            ..self
        }
    }

    /// How wide words are.
    pub fn width(self, words: &str) -> f64 {
        letters::width(words, self.size, self.bold)
    }
}

/// How a shape is inked.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Ink {
    /// White, with a black line so thick around it.
    White(f64),
    /// Black.
    Black,
}

/// A sheet on which a setup is drawn.
pub struct Drawing {
    sheet: Sheet,
    scale: f64,
    corner: (f64, f64),
}

impl Drawing {
    /// An empty sheet.
    pub fn new(paper: Paper) -> Drawing {
        let sheet = Sheet::new(paper);
        let (wide, high) = sheet.size;
        let scale = (wide / SHEET.0).min(high / SHEET.1);
        Drawing {
            corner: ((wide - SHEET.0 * scale) / 2.0, (high - SHEET.1 * scale) / 2.0),
            scale,
            sheet,
        }
    }

    /// The sheet with all that was drawn.
    pub fn finish(self) -> Sheet {
        self.sheet
    }

    fn at(&self, (x, y): (f64, f64)) -> (f64, f64) {
        (self.corner.0 + x * self.scale, self.corner.1 + y * self.scale)
    }

    fn all(&self, points: &[(f64, f64)]) -> Vec<(f64, f64)> {
        points.iter().map(|point| self.at(*point)).collect()
    }

    /// A rectangle with round corners around a middle.
    pub fn block(&mut self, middle: (f64, f64), (wide, high): (f64, f64), round: f64, ink: Ink) {
        let (x, y) = self.at((middle.0 - wide / 2.0, middle.1 - high / 2.0));
        let area = Area::new(x, y, wide * self.scale, high * self.scale);
        match ink {
            Ink::White(thick) => self.sheet.frame(area, thick * self.scale, round * self.scale),
            Ink::Black => self.sheet.block(area),
        }
    }

    /// A circle.
    pub fn circle(&mut self, middle: (f64, f64), radius: f64, ink: Ink) {
        let (middle, radius) = (self.at(middle), radius * self.scale);
        match ink {
            Ink::White(thick) => self.sheet.circle(middle, radius, thick * self.scale),
            Ink::Black => self.sheet.dot(middle, radius),
        }
    }

    /// A straight line with round ends.
    pub fn line(&mut self, from: (f64, f64), to: (f64, f64), thick: f64) {
        let points = self.all(&[from, to]);
        self.sheet.curve(&points, thick * self.scale);
    }

    /// A white shape through these points.
    pub fn shape(&mut self, points: &[(f64, f64)], thick: f64) {
        let points = self.all(points);
        self.sheet.outline(&points, thick * self.scale);
    }

    /// A part of a circle, from one angle to another in degrees counted against the clock from the right.
    pub fn arc(&mut self, middle: (f64, f64), radius: f64, ends: (f64, f64), thick: f64) {
        let points = self.all(&along(middle, radius, ends));
        self.sheet.curve(&points, thick * self.scale);
    }

    /// A white stretch of a ring between two radii, from one angle to another as in [`Drawing::arc`].
    pub fn ring(&mut self, middle: (f64, f64), (inner, outer): (f64, f64), ends: (f64, f64), thick: f64) {
        let mut points = along(middle, outer, ends);
        points.extend(along(middle, inner, (ends.1, ends.0)));
        self.shape(&points, thick);
    }

    /// Words, black. The point lies on the middle of the small letters.
    pub fn words(&mut self, at: (f64, f64), letters: Letters, words: &str) {
        self.words_in(at, letters, words, paper::Ink::Black);
    }

    /// Words, white on black.
    pub fn white_words(&mut self, at: (f64, f64), letters: Letters, words: &str) {
        self.words_in(at, letters, words, paper::Ink::White);
    }

    fn words_in(&mut self, (x, y): (f64, f64), letters: Letters, words: &str, ink: paper::Ink) {
        let wide = letters.width(words);
        let middle = match letters.anchor {
            Anchor::Start => x + wide / 2.0,
            Anchor::Middle => x,
            Anchor::End => x - wide / 2.0,
        };
        let face = Face {
            size: letters.size * self.scale,
            bold: letters.bold,
            ink,
            ..Face::default()
        };
        let at = self.at((middle, y));
        self.sheet.words_turned(at, face, words, letters.turned);
    }
}

/// Points along a circle, close enough together that nobody sees the corners.
fn along(middle: (f64, f64), radius: f64, (from, to): (f64, f64)) -> Vec<(f64, f64)> {
    let steps = ((to - from).abs() / 3.0).ceil().clamp(1.0, 200.0);
    (0..=steps as usize)
        .map(|step| {
            let angle = (from + (to - from) * step as f64 / steps).to_radians();
            (middle.0 + radius * angle.cos(), middle.1 - radius * angle.sin())
        })
        .collect()
}
