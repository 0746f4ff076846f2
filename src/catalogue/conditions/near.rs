//! A word of a condition that was not understood: where it stands, what belongs there, and the nearest word
//! that would be read.

use crate::catalogue::Snapshot;
use crate::text::Span;

use super::cursor::{Far, Word};
use super::lexicon::{Sort, words_of};
use super::read::{attempt, joined};
use super::term::{Condition, Term};

/// The first word of a condition that no reading got past.
#[derive(Debug, Clone, PartialEq)]
pub struct Leftover {
    /// The whole condition in its own words.
    pub words: String,
    /// The word.
    pub word: String,
    /// Where it stands.
    pub span: Span,
    /// What belongs there.
    pub expected: Expected,
}

/// What belongs where a word was not understood.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Expected {
    /// Sorts of things that would be read there.
    pub sorts: Vec<Sort>,
    /// The nearest word that would be read.
    pub nearest: Option<String>,
    /// The whole condition with that word.
    pub form: Option<String>,
    /// What stands before the word and makes a condition by itself.
    pub before: Option<String>,
    /// Whether the words end too soon, so that something belongs after the last of them.
    pub too_soon: bool,
}

impl Expected {
    /// What belongs there in words: `a number or an instrument`; none where too much would be read.
    pub fn says(&self) -> Option<String> {
        let mut words: Vec<&str> = self.sorts.iter().map(|sort| sort.says()).collect();
        words.dedup();
        match words.as_slice() {
            [] => None,
            [one] => Some((*one).to_owned()),
            [one, other] => Some(format!("{one} or {other}")),
            [one, other, third] => Some(format!("{one}, {other} or {third}")),
            _ => None,
        }
    }
}

impl Leftover {
    /// What is wrong, in a sentence.
    pub fn says(&self) -> String {
        let Leftover {
            words,
            word,
            expected,
            ..
        } = self;
        match (&expected.before, expected.says()) {
            _ if expected.too_soon => match expected.says() {
                Some(belongs) => format!("\"{words}\" breaks off: {belongs} belongs after it."),
                None => format!("\"{words}\" breaks off before it asks for anything."),
            },
            (Some(before), _) if expected.nearest.is_none() => {
                format!("\"{before}\" is understood, but not \"{word}\" after it.")
            }
            (_, Some(belongs)) if expected.nearest.is_none() => {
                format!("\"{word}\" in \"{words}\" is not understood. What belongs here is {belongs}.")
            }
            _ if word == words => format!("\"{word}\" is not understood."),
            _ => format!("\"{word}\" in \"{words}\" is not understood."),
        }
    }

    /// What to do about it where it stands on a card.
    pub fn todo(&self) -> String {
        match (&self.expected.nearest, &self.expected.form) {
            (Some(_), Some(form)) => format!("If you meant \"{form}\", write it that way."),
            _ => "Say it in the words of the cards, such as \"at most 5 percussionists\" or \"up to 3 flats\", or put your own wish in parentheses."
                .to_owned(),
        }
    }
}

/// What belongs at the farthest word that any reading reached.
pub(super) fn expected(snapshot: &Snapshot, all: &[Word], far: &Far) -> Expected {
    let mut sorts = Vec::new();
    for sort in &far.sorts {
        if !sorts.contains(sort) {
            sorts.push(*sort);
        }
    }
    let offer = nearest(snapshot, all, far, &sorts);
    Expected {
        before: far
            .ends
            .then(|| joined(all.get(..far.at).unwrap_or_default()))
            .filter(|words| !words.is_empty()),
        too_soon: far.at >= all.len(),
        nearest: offer.as_ref().map(|(word, _)| word.clone()),
        form: offer.map(|(_, form)| form),
        sorts,
    }
}

/// The nearest word that a slip of the hand explains and with which the condition is understood, or at least
/// farther than before.
fn nearest(snapshot: &Snapshot, all: &[Word], far: &Far, sorts: &[Sort]) -> Option<(String, String)> {
    let written = all.get(far.at).filter(|word| !word.quoted)?;
    let length = written.small.chars().count();
    if !(3..=40).contains(&length) || !written.small.chars().any(char::is_alphabetic) {
        return None;
    }
    let mut known: Vec<String> = far.words.iter().map(|word| (*word).to_owned()).collect();
    for sort in sorts {
        known.extend(words_of(*sort, snapshot));
    }
    known.sort();
    known.dedup();
    // A short word is two slips away from too many others: a ballet is no ballad.
    let allowed = if length < 9 { 1 } else { 3 };
    let mut close: Vec<(usize, &String)> = known
        .iter()
        .filter(|word| word.chars().count() > 2 && word.chars().count().abs_diff(length) <= allowed)
        .map(|word| {
            (
                strsim::damerau_levenshtein(&written.small, &word.to_lowercase()),
                word,
            )
        })
        .filter(|(slips, _)| (1..=allowed).contains(slips))
        .collect();
    close.sort();
    close.iter().take(4).find_map(|(_, word)| {
        let mut with = all.to_vec();
        let place = with.get_mut(far.at)?;
        place.text.clone_from(word);
        place.small = word.to_lowercase();
        let leads_on = match attempt(snapshot, &with) {
            Ok(_) => true,
            // The word after it must be read too, or any beginning would do.
            Err(farther) => farther.at > far.at + 1,
        };
        leads_on.then(|| ((*word).clone(), joined(&with)))
    })
}

impl Condition {
    /// The words inside it that were not understood.
    pub fn leftovers(&self) -> Vec<&Leftover> {
        match &self.term {
            Term::Unheard(left) => vec![left],
            Term::Not(inner) | Term::Only(inner) => inner.leftovers(),
            Term::Count { of: Some(inner), .. } => inner.leftovers(),
            Term::Any(all) => all.iter().flat_map(Condition::leftovers).collect(),
            _ => Vec::new(),
        }
    }

    /// Whether every word of it was understood.
    pub fn is_heard(&self) -> bool {
        self.leftovers().is_empty()
    }
}
