//! Marks of version control where changes collide.

use crate::findings::card::Card;
use crate::findings::finding::{Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::tree::{Stray, StrayWhy};
use crate::rule;
use crate::text::{Edit, Span, whole_lines};

rule! {
    /// The marks that version control leaves in a file when two people changed the same lines.
    ///
    /// # Why it matters
    ///
    /// Both versions stand on the card, one under the other. Until one of them is chosen, the card says things
    /// that neither of you wrote.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Harbor Parade"
    /// <<<<<<< ours
    /// ^^^^^^^^^^^^
    ///   style           march
    /// =======
    ///   style           parade
    /// >>>>>>> theirs
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Harbor Parade"
    ///   style           march
    ///   notes           << softer here >>
    /// ```
    ///
    /// # What to do
    ///
    /// Keep the lines that are right, and take out the others and the marks.
    TwoEditsMet: "changes collide", Notation, Error, reads Card, looks at Any
}

/// The marks of one place, with the lines that each version takes out.
pub struct Met {
    /// What goes when the upper version stays.
    keep_upper: Vec<Span>,
    /// What goes when the lower version stays.
    keep_lower: Vec<Span>,
}

impl Notice for TwoEditsMet {
    type What = Met;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Met>> {
        let strays = card.reading.tree.strays.iter();
        let marks: Vec<&Stray> = strays.filter(|stray| stray.why == StrayWhy::Conflict).collect();
        let starts = |stray: &&Stray, mark: &str| card.words(stray.body).starts_with(mark);
        let mut found = Vec::new();
        let mut at = 0;
        while let Some(first) = marks.get(at) {
            let rest = marks.get(at..).unwrap_or(&[]);
            // A card may hold only the end of what began on the card above it.
            let length = match rest.iter().position(|mark| starts(mark, ">>>>>>>")) {
                Some(last) => last + 1,
                None => rest.len(),
            };
            let group = rest.get(..length).unwrap_or(rest);
            found.push(Noticed::new(first.body, met(card, group)));
            at += length.max(1);
        }
        found
    }

    fn say(_what: &Met, _card: &Card<'_>) -> Saying {
        Saying {
            place: String::new(),
            says: "Two people's changes collide here, and both versions stand on the card.".to_owned(),
            why: "Until one is chosen, the card says things that neither of you wrote.".to_owned(),
            todo: "Keep the lines that are right, and take out the others and the marks.".to_owned(),
        }
    }

    fn repairs(noticed: &Noticed<Met>, _card: &Card<'_>) -> Vec<Repair> {
        let remove = |spans: &[Span]| spans.iter().map(|span| Edit::remove(*span)).collect();
        let what = &noticed.what;
        [
            ("Keep the upper version", &what.keep_upper),
            ("Keep the lower version", &what.keep_lower),
        ]
        .into_iter()
        .filter(|(_, spans)| !spans.is_empty())
        .map(|(title, spans)| Repair::to_decide(title, remove(spans)))
        .collect()
    }
}

/// What to take out for either version, where all the marks stand on this card.
fn met(card: &Card<'_>, group: &[&Stray]) -> Met {
    let line = |mark: &str| {
        let stray = group
            .iter()
            .find(|stray| card.words(stray.body).starts_with(mark))?;
        Some(whole_lines(card.text(), stray.body))
    };
    let (Some(first), Some(middle), Some(last)) = (line("<<<<<<<"), line("======="), line(">>>>>>>")) else {
        return Met {
            keep_upper: Vec::new(),
            keep_lower: Vec::new(),
        };
    };
    // Some programs also show what stood there before, between two more marks.
    let before = line("|||||||").unwrap_or(middle);
    Met {
        keep_upper: vec![first, Span::new(before.start, last.end)],
        keep_lower: vec![Span::new(first.start, middle.end), last],
    }
}
