//! The account of a card's words: every word that must mean something is understood, or told.
//!
//! Readers say what they understood by handing its place to an [`Ear`]. What must be accounted for and
//! was not handed over is left over at the end, so that a reader cannot lose a word by forgetting it.

use crate::text::Span;

use super::fields::RowsOf;
use super::of::Of;
use super::scan;

/// What is expected at a place where words were not understood.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Expected {
    /// An item or a value of this kind.
    Item(Of),
    /// A row of this table, or something said of one.
    Row(RowsOf),
}

/// Words next to each other that no reader understood.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Unheard {
    /// Where they stand, in bytes from the start of the card's text.
    pub span: Span,
    /// What was expected there.
    pub expected: Expected,
}

/// Keeps the account while a card is read.
#[derive(Debug, Default)]
pub struct Ear {
    regions: Vec<(Span, Expected)>,
    heard: Vec<Span>,
}

impl Ear {
    /// Says that all words of a stretch must be accounted for.
    pub fn listen(&mut self, span: Span, expected: Expected) {
        if !span.is_empty() {
            self.regions.push((span, expected));
        }
    }

    /// Says that the words of a stretch were understood.
    pub fn hear(&mut self, span: Span) {
        if !span.is_empty() {
            self.heard.push(span);
        }
    }

    /// How much was understood so far, to ask later about what came behind it.
    pub fn mark(&self) -> usize {
        self.heard.len()
    }

    /// Takes back what was understood since a mark.
    pub fn forget(&mut self, mark: usize) {
        self.heard.truncate(mark);
    }

    /// Whether every word of a stretch was understood since a mark.
    pub fn understood(&self, mark: usize, text: &str, span: Span) -> bool {
        let heard = self.heard.get(mark..).unwrap_or(&[]);
        is_within_one(span, heard)
            || match heard.is_sorted_by_key(|heard| heard.start) {
                // Readers mostly go from the left to the right.
                true => is_silent_between(text, span, heard),
                false => self.since(mark).all(text, span),
            }
    }

    /// What was understood since a mark.
    pub fn since(&self, mark: usize) -> Understood {
        Understood::of(self.heard.get(mark..).unwrap_or(&[]).to_vec())
    }

    /// What was not understood, in the order it stands. `text` has its remarks blanked.
    pub fn unheard(mut self, text: &str) -> Vec<Unheard> {
        self.regions.sort_by_key(|(span, _)| span.start);
        let understood = Understood::of(self.heard);
        let mut found: Vec<Unheard> = Vec::new();
        for (region, expected) in self.regions {
            let within = understood.within(region);
            if is_silent_between(text, region, within) {
                continue;
            }
            for word in words(text, region) {
                if is_heard(text, word, within) {
                    continue;
                }
                match found.last_mut() {
                    // Words beside each other are one thing that was not understood.
                    Some(last)
                        if last.expected == expected
                            && last.span.end <= word.start
                            && Span::new(last.span.end, word.start)
                                .slice(text)
                                .chars()
                                .all(scan::is_blank) =>
                    {
                        last.span = Span::new(last.span.start, word.end);
                    }
                    _ => found.push(Unheard { span: word, expected }),
                }
            }
        }
        found
    }
}

/// Stretches that were understood, in order, those that touch made one.
pub struct Understood {
    spans: Vec<Span>,
}

impl Understood {
    fn of(mut heard: Vec<Span>) -> Understood {
        heard.sort_by_key(|span| (span.start, span.end));
        Understood {
            spans: merged(&heard),
        }
    }

    /// Whether every word of a stretch was understood.
    pub fn all(&self, text: &str, span: Span) -> bool {
        is_silent_between(text, span, self.within(span))
    }

    fn within(&self, span: Span) -> &[Span] {
        let from = self.spans.partition_point(|heard| heard.end <= span.start);
        let to = self.spans.partition_point(|heard| heard.start < span.end);
        self.spans.get(from..to.max(from)).unwrap_or(&[])
    }
}

fn merged(sorted: &[Span]) -> Vec<Span> {
    let mut merged: Vec<Span> = Vec::with_capacity(sorted.len());
    for span in sorted {
        match merged.last_mut() {
            Some(last) if span.start <= last.end => last.end = last.end.max(span.end),
            _ => merged.push(*span),
        }
    }
    merged
}

/// The words of a stretch: what stands between blanks, commas and semicolons, where a letter or a figure is in it.
fn words(text: &str, region: Span) -> impl Iterator<Item = Span> + '_ {
    let slice = region.slice(text);
    let parts = slice.split(|c: char| scan::is_blank(c) || matches!(c, ',' | ';' | '\n' | '\r'));
    parts.filter_map(move |part| {
        let at = part.as_ptr() as usize - slice.as_ptr() as usize;
        let trimmed = part.trim_end_matches(['.', ':', '!']);
        let counts = trimmed.chars().any(|c| c.is_alphanumeric() || is_sign(c));
        counts.then(|| Span::long(region.start + at as u32, trimmed.len() as u32))
    })
}

/// Signs that mean something although they are no letters.
fn is_sign(c: char) -> bool {
    matches!(c, '♭' | '♯' | '#' | '$' | '€' | '£' | '½' | '¼' | '¾')
}

/// Whether no letter or figure stands in a stretch between those parts of it, in order, that were understood.
fn is_silent_between(text: &str, span: Span, heard: &[Span]) -> bool {
    let mut at = span.start;
    let end = Span::at(span.end);
    heard.iter().chain(std::iter::once(&end)).all(|heard| {
        let gap = Span::new(at, heard.start.min(span.end));
        at = at.max(heard.end);
        !gap.slice(text).chars().any(|c| c.is_alphanumeric() || is_sign(c))
    })
}

/// Whether one of some stretches holds all of another.
fn is_within_one(span: Span, heard: &[Span]) -> bool {
    heard
        .iter()
        .any(|heard| heard.start <= span.start && span.end <= heard.end)
}

/// Whether every letter and figure of a word lies in something that was understood.
fn is_heard(text: &str, word: Span, heard: &[Span]) -> bool {
    if is_within_one(word, heard) {
        return true;
    }
    word.slice(text)
        .char_indices()
        .filter(|(_, c)| c.is_alphanumeric() || is_sign(*c))
        .all(|(at, _)| {
            let at = word.start + at as u32;
            heard.iter().any(|span| span.start <= at && at < span.end)
        })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_nobody_heard_is_left_over() {
        let text = "2:40 with two solos, 62 USD";
        let mut ear = Ear::default();
        let whole = Span::whole(text);
        ear.listen(whole, Expected::Item(Of::Lasts));
        ear.hear(Span::new(0, 4));
        ear.hear(Span::new(21, 23));
        assert!(ear.since(0).all(text, Span::new(0, 4)));
        assert!(!ear.since(0).all(text, whole));
        assert!(!ear.since(1).all(text, Span::new(0, 4)));
        let left: Vec<&str> = ear
            .unheard(text)
            .iter()
            .map(|left| left.span.slice(text))
            .collect();
        assert_eq!(left, ["with two solos", "USD"]);
    }

    #[test]
    fn half_a_word_is_not_understood() {
        let text = "62zqxv";
        let mut ear = Ear::default();
        ear.listen(Span::whole(text), Expected::Item(Of::Money));
        ear.hear(Span::new(0, 2));
        assert_eq!(ear.unheard(text).len(), 1);
    }
}
