//! Walking over the words of a value: a reader takes what it understands and succeeds only at the end.

use std::borrow::Cow;

/// The most words that one value inside a longer one is looked for in, which bounds the work.
const STRETCH: usize = 12;

/// A place between two words of a value.
#[derive(Debug, Clone)]
pub(super) struct Cursor<'t> {
    text: &'t str,
    /// Whether nothing but single blanks stands between the words.
    evenly: bool,
    words: Vec<&'t str>,
    at: usize,
}

impl<'t> Cursor<'t> {
    /// Before the first word.
    pub(super) fn new(text: &'t str) -> Cursor<'t> {
        let text = text.trim();
        let words: Vec<&str> = text.split_whitespace().collect();
        let letters: usize = words.iter().map(|word| word.len()).sum();
        Cursor {
            text,
            evenly: letters + words.len().saturating_sub(1) == text.len()
                && !text.contains(['\t', '\n', '\r', '\u{b}', '\u{c}']),
            words,
            at: 0,
        }
    }

    /// The words from one place to another, with single blanks between them.
    fn between(&self, from: usize, to: usize) -> Option<Cow<'t, str>> {
        let words = self.words.get(from..to)?;
        let ([first, ..], [.., last], true) = (words, words, self.evenly) else {
            return Some(Cow::Owned(words.join(" ")));
        };
        let start = first.as_ptr() as usize - self.text.as_ptr() as usize;
        let end = last.as_ptr() as usize - self.text.as_ptr() as usize + last.len();
        self.text.get(start..end).map(Cow::Borrowed)
    }

    /// Whether every word was taken.
    pub(super) fn done(&self) -> bool {
        self.at >= self.words.len()
    }

    /// The next word, not taken.
    pub(super) fn peek(&self) -> Option<&'t str> {
        self.words.get(self.at).copied()
    }

    /// Takes the words of a phrase, whatever their capitals.
    pub(super) fn take(&mut self, phrase: &str) -> bool {
        // Most phrases are refused at their first letter.
        let first = |word: &str| word.as_bytes().first().map(u8::to_ascii_lowercase);
        let here = self.words.get(self.at).map(|word| first(word));
        if here != Some(first(phrase)) {
            return false;
        }
        let mut at = self.at;
        for part in phrase.split(' ') {
            match self.words.get(at) {
                Some(word) if word.eq_ignore_ascii_case(part) => at += 1,
                _ => return false,
            }
        }
        self.at = at;
        true
    }

    /// Takes the first of these phrases that stands here.
    pub(super) fn any(&mut self, phrases: &[&str]) -> bool {
        phrases.iter().any(|phrase| self.take(phrase))
    }

    /// Takes the first of these phrases that stands here, and gives what it means.
    pub(super) fn one_of<T: Copy>(&mut self, table: &[(&str, T)]) -> Option<T> {
        table
            .iter()
            .find(|(phrase, _)| self.take(phrase))
            .map(|(_, meaning)| *meaning)
    }

    /// Takes a whole number, in figures or in words.
    pub(super) fn number(&mut self) -> Option<u32> {
        let number = number(self.peek()?)?;
        self.at += 1;
        Some(number)
    }

    /// Takes the longest stretch of words from here that a reader accepts.
    pub(super) fn longest<T>(&mut self, read: impl Fn(&str) -> Option<T>) -> Option<T> {
        let end = self.words.len().min(self.at + STRETCH);
        let found = (self.at + 1..=end)
            .rev()
            .find_map(|end| Some((read(&self.between(self.at, end)?)?, end)));
        let (value, end) = found?;
        self.at = end;
        Some(value)
    }

    /// Takes everything that is left, with single blanks.
    pub(super) fn rest(&mut self) -> String {
        let rest = self.words.get(self.at..).unwrap_or(&[]).join(" ");
        self.at = self.words.len();
        rest
    }

    /// Takes the words before one of these phrases, or all that are left; none when there is no word.
    pub(super) fn until(&mut self, stops: &[&str]) -> Option<String> {
        let from = self.at;
        let mut end = from;
        while end < self.words.len() {
            self.at = end;
            if end > from && self.any(stops) {
                break;
            }
            end += 1;
        }
        self.at = end;
        let words = self.words.get(from..end)?.join(" ");
        (!words.is_empty()).then_some(words)
    }
}

/// `5`, `five` or `twenty-five`.
pub(super) fn number(word: &str) -> Option<u32> {
    if !word.is_empty() && word.chars().all(|c| c.is_ascii_digit()) {
        return word.parse().ok();
    }
    super::number_words::read(word)
}

/// Text with single blanks between its words.
pub(super) fn single(text: &str) -> String {
    crate::notation::scan::single(text)
}

/// The words in front of which nothing is lost: `the school`, `a piano`, `our choir`.
pub(super) const ARTICLES: [&str; 5] = ["the", "a", "an", "our", "my"];
