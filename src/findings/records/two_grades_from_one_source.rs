//! Two grades from one and the same.

use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::values::grade::{Who, show_hundredths};
use crate::rule;
use crate::text::Span;

rule! {
    /// Two different grades for a piece from the same publisher, list or person. That two sources disagree is
    /// no news.
    ///
    /// # Why it matters
    ///
    /// A search by grade finds the piece by whichever comes first.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Creek Bridge"
    ///   grade           1 publisher, 2 ours, 1.5 publisher
    ///                                        ^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Creek Bridge"
    ///   grade           1 publisher, 2 ours, about 1.5 publisher
    ///   grade           2, 2.5
    /// ```
    ///
    /// # What to do
    ///
    /// Keep the grade that this source gives, or write whose the other one is.
    TwoGradesFromOneSource: "two grades from one source", Records, Warning, reads Card, looks at Grades
}

/// Two grades and whose they are.
pub struct Grades {
    who: String,
    first: (String, Span),
    second: String,
}

impl Notice for TwoGradesFromOneSource {
    type What = Grades;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Grades>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let grades: Vec<_> = piece
            .grades
            .iter()
            // Grades that nobody is named for may be anybody's.
            .filter(|said| said.is_certain() && said.value.who != Who::Unsaid)
            .take(100)
            .collect();
        let mut found = Vec::new();
        for (at, said) in grades.iter().enumerate() {
            let before = grades
                .iter()
                .take(at)
                .find(|before| before.value.who == said.value.who);
            let differs = before
                .filter(|before| (before.value.low, before.value.high) != (said.value.low, said.value.high));
            if let Some(before) = differs {
                let who = match &said.value.who {
                    Who::Publisher => "the publisher".to_owned(),
                    Who::Ours => "you".to_owned(),
                    Who::List(name) => format!("\"{name}\""),
                    Who::Other(name) => name.clone(),
                    Who::Unsaid => continue,
                };
                let what = Grades {
                    who,
                    first: (shown(before.value.low, before.value.high), before.span),
                    second: shown(said.value.low, said.value.high),
                };
                found.push(Noticed::new(said.span, what));
            }
        }
        found
    }

    fn say(what: &Grades, _card: &Card<'_>) -> Saying {
        Saying {
            place: "grade".to_owned(),
            says: format!(
                "The piece has two grades from {}: {} and {}.",
                what.who, what.first.0, what.second
            ),
            why: "A search by grade finds the piece by whichever comes first.".to_owned(),
            todo: "Keep the grade that this source gives, or write whose the other one is.".to_owned(),
        }
    }

    fn related(what: &Grades, card: &Card<'_>) -> Vec<Related> {
        vec![card.beside(card.entry, what.first.1, "the other grade")]
    }
}

fn shown(low: u32, high: u32) -> String {
    match low == high {
        true => show_hundredths(low),
        false => format!("{}-{}", show_hundredths(low), show_hundredths(high)),
    }
}
