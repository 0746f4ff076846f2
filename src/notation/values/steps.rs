//! Steps over the words of a place, a mark or a road, punctuation and figures included.

use crate::notation::scan;

/// What is left of a line while a value is read from its start.
#[derive(Clone, Copy)]
pub(super) struct Steps<'t> {
    /// What is left; blanks at its start are passed over by each step.
    pub rest: &'t str,
}

impl<'t> Steps<'t> {
    /// At the start of `text`.
    pub fn new(text: &'t str) -> Self {
        Self { rest: text }
    }

    /// Passes over blanks.
    pub fn blanks(&mut self) {
        self.rest = scan::skip_blanks(self.rest);
    }

    /// Passes over one of these phrases, whatever its capitals and blanks.
    pub fn any(&mut self, phrases: &[&str]) -> bool {
        let ahead = scan::skip_blanks(self.rest);
        for phrase in phrases {
            if let Some(rest) = scan::after_phrase(ahead, phrase) {
                self.rest = rest;
                return true;
            }
        }
        false
    }

    /// Whether a figure comes next, which begins a number and none of the phrases that name a place.
    pub fn at_figure(&self) -> bool {
        scan::skip_blanks(self.rest).starts_with(|c: char| c.is_ascii_digit())
    }

    /// Passes over a phrase.
    pub fn eat(&mut self, phrase: &str) -> bool {
        self.any(&[phrase])
    }

    /// Passes over one of these characters.
    pub fn sign(&mut self, signs: &[char]) -> bool {
        let ahead = scan::skip_blanks(self.rest);
        match ahead.strip_prefix(signs) {
            Some(rest) => {
                self.rest = rest;
                true
            }
            None => false,
        }
    }

    /// Passes over a hyphen or a dash.
    pub fn dash(&mut self) -> bool {
        self.sign(&['-', '–', '—', '−', '‐', '‑'])
    }

    /// Reads a whole number that ends where a word ends, or before `x`-like signs.
    pub fn number(&mut self) -> Option<u32> {
        let ahead = scan::skip_blanks(self.rest);
        let (rest, number) = scan::number(ahead).ok()?;
        scan::word_end(rest).ok()?;
        self.rest = rest;
        Some(number)
    }

    /// Reads a count in figures or in words up to twelve.
    pub fn count(&mut self) -> Option<u32> {
        if let Some(number) = self.number() {
            return Some(number);
        }
        if self.at_figure() {
            return None;
        }
        const WORDS: [&str; 12] = [
            "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve",
        ];
        let found = WORDS.iter().position(|word| self.eat(word))?;
        u32::try_from(found + 1).ok()
    }

    /// Passes over a word for measures, with its point: `mm.`, `bars`, `m`.
    pub fn measure_word(&mut self) -> bool {
        let ahead = scan::skip_blanks(self.rest);
        match super::place::measure_word(ahead) {
            Ok((rest, ())) => {
                self.rest = rest;
                true
            }
            Err(_) => false,
        }
    }

    /// Passes over `measures` or `bars` behind a count.
    pub fn measures(&mut self) -> bool {
        self.any(&["measures", "measure", "bars", "bar"])
    }

    /// Whether nothing but blanks is left.
    pub fn is_done(&self) -> bool {
        self.rest.trim().is_empty()
    }
}
