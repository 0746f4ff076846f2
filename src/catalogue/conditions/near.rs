//! What a condition that was not understood was perhaps meant to be.

use crate::catalogue::Snapshot;
use crate::text::Span;

use super::amount::begins_as_bound;
use super::read::read;
use super::styles::STYLES;
use super::term::{Condition, Term};

/// Words that conditions are made of.
const WORDS: &[&str] = &[
    "accidentals",
    "altogether",
    "asks",
    "bars",
    "before",
    "below",
    "between",
    "break",
    "changes",
    "composers",
    "costs",
    "different",
    "every",
    "exactly",
    "features",
    "fewer",
    "flat",
    "flats",
    "from",
    "grade",
    "grades",
    "keys",
    "least",
    "lasts",
    "length",
    "library",
    "lyrical",
    "march",
    "marches",
    "measures",
    "meter",
    "meters",
    "minor",
    "major",
    "minutes",
    "missing",
    "most",
    "never",
    "not",
    "octave",
    "over",
    "owned",
    "percussionist",
    "percussionists",
    "performed",
    "piece",
    "pieces",
    "range",
    "seconds",
    "sharp",
    "sharps",
    "since",
    "solo",
    "solos",
    "styles",
    "teaches",
    "tempo",
    "tempos",
    "third",
    "triple",
    "duple",
    "wanted",
    "clarinet",
    "trumpet",
    "flute",
    "timpani",
    "without",
];

/// A known form near to words that are none.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Near {
    /// Where the word stands that a slip of the hand explains, counted from the start of the text.
    pub span: Span,
    /// The word that was meant.
    pub word: String,
    /// The whole condition with that word.
    pub form: String,
}

/// The known form nearest to a condition's `text`, where one word off by a slip of the hand keeps it from
/// being understood. Styles that the catalogue uses count as known.
pub fn near(text: &str, snapshot: &Snapshot) -> Option<Near> {
    // Whoever writes at such length writes plain words.
    if text.len() > 120 {
        return None;
    }
    let mut at = 0usize;
    for word in text.split(' ') {
        let start = at;
        at = at.saturating_add(word.len()).saturating_add(1);
        let plain = word.chars().count() > 2 && word.chars().all(char::is_alphabetic);
        if !plain {
            continue;
        }
        let known = WORDS
            .iter()
            .chain(STYLES.iter().filter(|style| !style.contains(' ')));
        if known.clone().any(|known| known.eq_ignore_ascii_case(word)) {
            continue;
        }
        let Some(meant) = crate::notation::nearest(word, known.copied()) else {
            continue;
        };
        // A short word is two slips away from too many others: a ballet is no ballad.
        let slips = strsim::damerau_levenshtein(&word.to_lowercase(), meant);
        if slips > 1 && word.chars().count() < 9 {
            continue;
        }
        let form = [
            text.get(..start)?,
            meant,
            text.get(start.saturating_add(word.len())..)?,
        ]
        .concat();
        let understood = read(&form).iter().all(|one| was_understood(one, snapshot));
        if understood {
            return Some(Near {
                span: Span::long(u32::try_from(start).ok()?, u32::try_from(word.len()).ok()?),
                word: meant.to_owned(),
                form,
            });
        }
    }
    None
}

/// Whether all of a condition was understood; a style must be known, or be used by some card.
pub fn was_understood(condition: &Condition, snapshot: &Snapshot) -> bool {
    match &condition.term {
        Term::Words(_) => false,
        Term::Style(style) => is_style(style, snapshot),
        Term::Not(inner) | Term::Only(inner) => was_understood(inner, snapshot),
        Term::Count { of: Some(inner), .. } => was_understood(inner, snapshot),
        Term::Any(all) => all.iter().all(|one| was_understood(one, snapshot)),
        _ => true,
    }
}

fn is_style(style: &str, snapshot: &Snapshot) -> bool {
    let holds = |all: &str| all.split([' ', '-']).any(|word| word == style) || all == style;
    STYLES.iter().any(|known| holds(known))
        || snapshot
            .entries()
            .filter_map(|(_, entry)| entry.piece())
            .flat_map(|piece| &piece.styles)
            .any(|said| holds(&said.value.to_lowercase()))
}

/// Whether words that were not understood were surely meant as a condition that can be checked, and are no
/// plain words: they begin with a bound.
pub fn was_meant(words: &str) -> bool {
    let small = words.to_lowercase();
    begins_as_bound(&small) || small.starts_with("every range") || small.starts_with("grade ")
}
