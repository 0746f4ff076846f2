//! Remarks that stand without parentheses: clauses in which a director talks, such as `, they love it` or
//! `, so watch the balance`.
//!
//! Such a clause is a remark only where no reader understood any word of it, where it begins as talk does, and
//! where none of its words could say a fact: no figure, no number in words, no instrument, no `not` and no `only`,
//! no word of measures, days, money, players or parts. All others are told.
//!
//! What a director says behind `if`, `unless` and their like is kept too, where no reader understands the condition:
//! what stands before it is an open question then, as if it were marked with a `?`.

mod weight;

use crate::text::Span;

use super::asides;
use super::fields::{RowsOf, Shape};
use super::heard::Unheard;
use super::of::Of;
use super::scan;
use super::tree::{Field, Row, Tree};

/// How talk begins, in small letters, the longer before the shorter. All are common practice, no source.
const LEADS: &[&str] = &[
    "actually",
    "always",
    "and he",
    "and it",
    "and i",
    "and she",
    "and they",
    "and we",
    "apparently",
    "ask",
    "basically",
    "beautiful",
    "be careful",
    "beware",
    "bless",
    "boring",
    "but",
    "careful",
    "cheesy",
    "clearly",
    "cool",
    "corny",
    "could use",
    "cute",
    "dull",
    "effective",
    "enjoy",
    "fun",
    "glad",
    "good for",
    "good to",
    "good with",
    "gorgeous",
    "great",
    "happy",
    "he",
    "he's",
    "he'll",
    "honestly",
    "hope",
    "hopefully",
    "i",
    "i'd",
    "i'll",
    "i'm",
    "i've",
    "it",
    "it'll",
    "it's",
    "kids",
    "kinda",
    "let's",
    "lets",
    "listen",
    "looks",
    "love",
    "loved",
    "lovely",
    "luckily",
    "make sure",
    "mind",
    "my",
    "obviously",
    "our",
    "parents",
    "perfect",
    "pray",
    "pretty",
    "really",
    "remember",
    "remind",
    "she",
    "she's",
    "she'll",
    "so",
    "sounds",
    "still",
    "students",
    "super",
    "surprisingly",
    "tell",
    "that",
    "that's",
    "thats",
    "the audience",
    "the kids",
    "they",
    "they'll",
    "they're",
    "they've",
    "theyre",
    "this",
    "tho",
    "though",
    "although",
    "too",
    "trust",
    "watch",
    "we",
    "we'll",
    "we're",
    "which",
];

/// How talk begins besides, with a word of doubt in front of nothing else.
const MORE_LEADS: &[&str] = &[
    "we've",
    "who",
    "why",
    "works",
    "worth",
    "you",
    "you'll",
    "you're",
    "u",
    "the rest is",
    "rest is",
    "since",
    "sort of",
    "very",
    "feels",
    "whatever",
    "signed",
    "custodian",
    "their",
    "your",
    "families",
    "grandparents",
    "the principal",
    "crowd",
    "the crowd",
    "audience",
    "sweet",
    "bonus",
    "thats it",
    "that's it",
];

/// People who play nothing.
const BYSTANDERS: [&str; 9] = [
    "custodian",
    "parents",
    "families",
    "the audience",
    "audience",
    "crowd",
    "the crowd",
    "grandparents",
    "the principal",
];

const PREPOSITIONS: [&str; 11] = [
    "up", "in", "on", "at", "out", "off", "back", "down", "over", "away", "here",
];

/// Words inside a line at which talk may begin without a comma before it.
const INNER: [&str; 6] = ["so", "but", "though", "although", "who", "which"];

/// What somebody keeps doing, whatever they play: `always forgets sticks`.
const HABITS: [&str; 10] = [
    "always forgets",
    "always loses",
    "always forgetting",
    "always losing",
    "keeps forgetting",
    "keeps losing",
    "never has",
    "never brings",
    "forgets",
    "loses",
];

/// What they forget.
const FORGOTTEN: [&str; 16] = [
    "sticks",
    "mallets",
    "a pencil",
    "pencil",
    "pencils",
    "music",
    "folder",
    "book",
    "reeds",
    "a reed",
    "mouthpiece",
    "valve oil",
    "everything",
    "stuff",
    "things",
    "shoes",
];

/// Words that lead a condition, the longer before the shorter (common practice, no source).
const CONDITIONS: [&str; 19] = [
    "or however",
    "or as slow as",
    "or as fast as",
    "or as long as",
    "or as much as",
    "or as many as",
    "or whatever",
    "but only if",
    "only if",
    "just if",
    "but if",
    "if",
    "unless",
    "as long as",
    "provided",
    "depending on",
    "depends on",
    "assuming",
    "in case",
];

/// The clauses of talk on the lines of a card, each from its first word to its last. `masked` has its remarks and
/// asides blanked already.
pub fn found(masked: &str, tree: &Tree, unheard: &[Unheard]) -> Vec<Span> {
    let mut talk = Talk {
        masked,
        unheard,
        found: Vec::new(),
    };
    for field in &tree.fields {
        talk.field(field);
    }
    talk.found
}

/// Whether a clause is a condition, so that what stands before it is an open question.
pub fn is_condition(clause: &str) -> bool {
    condition(clause).is_some_and(|rest| !rest.trim().is_empty())
}

/// What stands behind the words that lead a condition.
fn condition(clause: &str) -> Option<&str> {
    let rest = CONDITIONS
        .iter()
        .find_map(|lead| scan::after_phrase(clause, lead))?;
    rest.starts_with(scan::is_blank).then_some(rest)
}

/// A clause with the comma, dash or dot that parts it from what stands before.
pub fn with_its_comma(masked: &str, clause: Span) -> Span {
    let before = masked.get(..clause.start as usize).unwrap_or("");
    let head = before.trim_end_matches(|c: char| {
        scan::is_blank(c) || matches!(c, ',' | ';' | '—' | '–' | '-' | '.' | '!')
    });
    Span::new(head.len() as u32, clause.end)
}

struct Talk<'t> {
    masked: &'t str,
    unheard: &'t [Unheard],
    found: Vec<Span>,
}

impl Talk<'_> {
    fn field(&mut self, field: &Field) {
        // Whether words that nobody knows are taken for a name here, and told as one.
        let names = match field.spec.map(|spec| spec.shape) {
            None | Some(Shape::Running) => return,
            Some(Shape::Value(of) | Shape::List(of)) if of.is_free() || of.is_own_words() => return,
            Some(Shape::Value(of) | Shape::List(of)) => {
                matches!(of, Of::Equipment | Of::Copies | Of::Absent | Of::Away | Of::Loan)
            }
            Some(Shape::Rows(of)) => matches!(of, RowsOf::Percussionists),
            Some(Shape::Block(_)) => false,
        };
        self.line(field.value, names, rows_of(field));
        self.rows(&field.rows, names, rows_of(field));
    }

    fn rows(&mut self, rows: &[Row], names: bool, table: bool) {
        for row in rows {
            self.line(row.body, names, table);
            self.rows(&row.rows, names, table);
        }
    }

    fn line(&mut self, line: Span, names: bool, row: bool) {
        let unheard = self.unheard.iter().any(|left| left.span.overlaps(line));
        if line.is_empty() || line.len() > scan::LONGEST || !(unheard || names) {
            return;
        }
        let text = line.slice(self.masked);
        if asides::keeps_its_words(text) {
            return;
        }
        for (start, end) in clauses(text) {
            let Some(words) = text.get(start..end) else {
                continue;
            };
            if let Some(at) = on_condition(words, start > 0, row) {
                let span = Span::new(line.start + (start + at) as u32, line.start + end as u32);
                if names || self.is_condition_unheard(span) {
                    self.found.push(span);
                    continue;
                }
            }
            if let Some(at) = habit(words).filter(|at| start + at > 0) {
                self.found.push(Span::new(
                    line.start + (start + at) as u32,
                    line.start + end as u32,
                ));
                continue;
            }
            let from = match start > 0 && talks(words) {
                true => Some(start),
                false => inner(words).map(|at| start + at),
            };
            let Some(from) = from else { continue };
            let span = Span::new(line.start + from as u32, line.start + end as u32);
            if names || self.is_unheard(span) {
                self.found.push(span);
            }
        }
    }

    /// Whether nobody understood the word that leads a condition, nor all that stands behind it.
    fn is_condition_unheard(&self, span: Span) -> bool {
        let left = |word: Span| self.unheard.iter().any(|left| left.span.encloses(word));
        let mut words = super::items::words_of(self.masked, span);
        words
            .find(|word| condition(Span::new(word.start, span.end).slice(self.masked)).is_some())
            .is_some_and(left)
    }

    /// Whether nobody understood any word of a clause, but for the word that joins it to what stands before.
    fn is_unheard(&self, span: Span) -> bool {
        let words = super::items::words_of(self.masked, span).enumerate();
        words
            .filter(|(at, word)| *at > 0 || !is_joint(word.slice(self.masked)))
            .all(|(_, word)| {
                let bare = word
                    .slice(self.masked)
                    .trim_end_matches(|c: char| !c.is_alphanumeric());
                let word = Span::long(word.start, bare.len() as u32);
                self.unheard.iter().any(|left| left.span.encloses(word))
            })
    }
}

/// Where a clause begins that says what somebody always forgets, with the word that joins it.
fn habit(words: &str) -> Option<usize> {
    let is_habit = |text: &str| {
        let rest = HABITS.iter().find_map(|lead| scan::after_phrase(text, lead))?;
        let what = rest.trim();
        let what = ["his ", "her ", "their ", "the "]
            .iter()
            .find_map(|whose| what.strip_prefix(whose))
            .unwrap_or(what);
        FORGOTTEN
            .iter()
            .any(|known| known.eq_ignore_ascii_case(what))
            .then_some(())
    };
    let joints = [" & ", " and ", " but "]
        .iter()
        .flat_map(|joint| words.match_indices(joint))
        .map(|(at, joint)| (at + 1, at + joint.len()));
    std::iter::once((0, 0))
        .chain(joints)
        .find_map(|(from, at)| is_habit(words.get(at..)?).map(|()| from))
}

/// Whether a field's lines are rows, which begin with a name.
fn rows_of(field: &Field) -> bool {
    matches!(field.spec.map(|spec| spec.shape), Some(Shape::Rows(_)))
}

fn is_joint(word: &str) -> bool {
    ["and", "but", "so"]
        .iter()
        .any(|joint| word.eq_ignore_ascii_case(joint))
}

/// The clauses of a line, each without blanks at its ends: what stands between commas, semicolons, dashes and the
/// ends of sentences, quoted names left whole.
fn clauses(text: &str) -> Vec<(usize, usize)> {
    let mut found = Vec::new();
    let mut start = 0;
    let mut quoted = false;
    let mut push = |from: usize, to: usize| {
        let words = text.get(from..to).unwrap_or("");
        let lead = words.len() - words.trim_start().len();
        let bare = words.trim();
        if !bare.is_empty() {
            found.push((from + lead, from + lead + bare.len()));
        }
    };
    for (at, c) in text.char_indices() {
        if scan::is_quote(c) {
            quoted = !quoted;
        }
        let behind = text.get(at + c.len_utf8()..).unwrap_or("");
        let before = text.get(..at).unwrap_or("");
        let apart = behind.starts_with(scan::is_blank);
        let parts = match c {
            ',' | ';' => true,
            '—' => true,
            '-' | '–' => apart && before.ends_with([' ', '-']),
            '.' | '!' => apart && ends_sentence(before),
            _ => false,
        };
        if parts && !quoted {
            push(start, at);
            start = at + c.len_utf8();
        }
    }
    push(start, text.len());
    found
}

/// Whether a dot behind these words ends a sentence, and no abbreviation.
fn ends_sentence(before: &str) -> bool {
    let word = before.rsplit(scan::is_blank).next().unwrap_or("");
    word.chars().count() > 1
        && word
            .chars()
            .all(|c| c.is_alphanumeric() || matches!(c, '/' | ':'))
}

/// Where a condition begins in a clause: at its start where something stands before the clause, or behind a figure or
/// some words in it. Behind a name alone it would make an open question of the name.
fn on_condition(words: &str, goes_on: bool, row: bool) -> Option<usize> {
    let blanks = words
        .char_indices()
        .filter(|(_, c)| scan::is_blank(*c))
        .map(|(at, _)| at + 1);
    std::iter::once(0).chain(blanks).find(|at| {
        let head = words.get(..*at).unwrap_or("");
        let behind = words.get(*at..).unwrap_or("");
        let said = goes_on
            || !row
            || head.contains(|c: char| c.is_ascii_digit())
            || head.split_whitespace().count() > 2;
        let room = *at > 0 || goes_on;
        // What is asked about, and what has a figure of its own behind it, is for other readers.
        let few = behind.split_whitespace().count() <= 9;
        room && said && few && is_condition(behind)
    })
}

/// Where talk begins inside a clause, without a comma before it.
fn inner(words: &str) -> Option<usize> {
    INNER.iter().find_map(|lead| {
        let at = scan::find_word(words, lead)?;
        let talk = words.get(at..)?;
        // `8 or so` is near enough.
        let near = words.get(..at)?.trim_end().ends_with(" or");
        (!near && at > 0 && words.get(..at)?.ends_with(scan::is_blank) && talks(talk)).then_some(at)
    })
}

/// Whether a clause begins as talk does and says no fact.
pub(super) fn talks(clause: &str) -> bool {
    let begins = LEADS
        .iter()
        .chain(MORE_LEADS)
        .filter_map(|lead| scan::after_phrase(clause, lead))
        .min_by_key(|rest| rest.len());
    let Some(rest) = begins else { return false };
    // Of those who play nothing no entrance is told: `custodian locks up`.
    let bystander = BYSTANDERS
        .iter()
        .any(|lead| scan::after_phrase(clause, lead).is_some());
    let plain: Vec<&str> = clause
        .split(scan::is_blank)
        .filter(|word| !bystander || !PREPOSITIONS.contains(word))
        .collect();
    let clause = plain.join(" ");
    let clause = clause.as_str();
    let joins = INNER.iter().any(|lead| clause.eq_ignore_ascii_case(lead));
    !joins && (rest.is_empty() || rest.starts_with(scan::is_blank)) && !weight::any(clause)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::notation::read;

    fn told(line: &str) -> Vec<String> {
        let text = format!("piece \"Air\"\n  {line}\n");
        let reading = read(&text);
        let told = reading.unheard.iter();
        told.map(|left| left.span.slice(&text).to_owned()).collect()
    }

    #[test]
    fn talk_is_a_remark() {
        for line in [
            "grade 2, they love it",
            "lasts 3:10 - so worth it",
            "price 55, great for contrast",
            "tempo 80, which feels right",
            "meter 4/4. kids rush",
            "grade 2, always forgets sticks",
        ] {
            assert!(told(line).is_empty(), "{line}: {:?}", told(line));
        }
    }

    #[test]
    fn what_may_be_a_fact_is_told() {
        for line in [
            "grade 2, always forgets the repeat",
            "grade 2, they say 3",
            "grade 2, but not ours",
            "lasts 3:10, so only the trio",
            "tempo 80, we take the repeat slower",
            "price 55, which the choir paid",
            "price 55, it came free",
            "grade 2, zqxv they love it",
            "meter 4/4, but the flutes rush",
        ] {
            assert!(!told(line).is_empty(), "{line}");
        }
    }

    #[test]
    fn half_a_phrase_is_no_talk() {
        let said = super::super::facts::sayings::written();
        for phrase in said {
            let words: Vec<&str> = phrase.split(' ').collect();
            for at in 0..=words.len() {
                let mut planted = words.clone();
                planted.insert(at, "zqxv");
                let planted = planted.join(" ");
                assert!(!talks(&planted), "{planted}");
            }
        }
    }
}
