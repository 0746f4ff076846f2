//! Facts marked with a question mark.

use crate::findings::card::Card;
use crate::findings::finding::{Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::rule;
use crate::text::{Edit, Lines, Span};

rule! {
    /// Something marked with `?`: written from memory, to be checked in the score. A line is named once, however
    /// many question marks it has; running text has none.
    ///
    /// # Why it matters
    ///
    /// Nothing treats it as certain, so warnings that depend on it stay away until it is checked.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Hayloft Dance"
    ///   grade           1.5?
    ///                   ^^^^
    ///   parts
    ///     oboe            solo 17-24?
    ///                     ^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Hayloft Dance"
    ///   grade           about 1.5
    ///   notes           Was it faster last time?
    /// ```
    ///
    /// # What to do
    ///
    /// Look in the score, then take the question mark away.
    OpenQuestion: "open question", Names, Hint, reads Card, looks at Any
}

/// What is asked, and how many more questions its line holds.
pub struct Question {
    place: String,
    words: String,
    more: usize,
}

impl Notice for OpenQuestion {
    type What = Question;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Question>> {
        let mut open: Vec<(Span, String)> = Vec::new();
        for level in card.levels() {
            for field in level.fields {
                let Some(spec) = field.spec else { continue };
                let place = level.at(spec.name);
                let items = field.items().iter().filter(|item| item.open);
                open.extend(items.map(|item| (item.span, place.clone())));
                for row in field.rows().iter().map(|row| &row.row) {
                    let names = row.names.iter().filter(|name| name.open).map(|name| name.span);
                    let counts = row
                        .count
                        .iter()
                        .filter(|count| count.open)
                        .map(|count| count.span);
                    let facts = row.facts.iter().filter(|fact| fact.open).map(|fact| fact.span);
                    open.extend(names.chain(counts).chain(facts).map(|span| (span, place.clone())));
                }
            }
        }
        if open.is_empty() {
            return Vec::new();
        }
        open.sort_by_key(|(span, _)| span.start);
        let lines = Lines::of(card.text());
        // What hangs on a condition is open too, and nothing that a score could answer.
        open.retain(|(span, _)| {
            let end = lines.line_span(lines.line_at(span.start)).end;
            Span::new(span.start, end.max(span.start))
                .slice(card.text())
                .contains('?')
        });
        let mut found: Vec<(u32, Noticed<Question>)> = Vec::new();
        for (span, place) in open {
            let line = lines.line_at(span.start);
            match found.last_mut().filter(|(last, _)| *last == line) {
                Some((_, noticed)) => noticed.what.more += 1,
                None => {
                    let words = card.words(span).to_owned();
                    found.push((
                        line,
                        Noticed::new(
                            span,
                            Question {
                                place,
                                words,
                                more: 0,
                            },
                        ),
                    ));
                }
            }
        }
        found.into_iter().map(|(_, noticed)| noticed).collect()
    }

    fn say(what: &Question, _card: &Card<'_>) -> Saying {
        let words = what.words.trim_end_matches(['?', ' ']);
        let more = match what.more {
            0 => String::new(),
            1 => ", and one more on this line".to_owned(),
            more => format!(", and {more} more on this line"),
        };
        Saying {
            place: what.place.clone(),
            says: format!("Still to be checked in the score: {words}{more}."),
            why: "Until then it is not counted as certain.".to_owned(),
            todo: "Look in the score, then take the question mark away.".to_owned(),
        }
    }

    fn repairs(noticed: &Noticed<Question>, card: &Card<'_>) -> Vec<Repair> {
        let words = card.words(noticed.span);
        let certain = words.trim_end_matches(['?', ' ']);
        let mark = Span::new(noticed.span.start + certain.len() as u32, noticed.span.end);
        match certain.len() < words.len() {
            true => vec![Repair::to_decide(
                format!("It is checked: take the question mark after \"{certain}\" away"),
                vec![Edit::remove(mark)],
            )],
            false => Vec::new(),
        }
    }
}
