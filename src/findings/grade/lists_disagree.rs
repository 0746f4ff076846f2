//! Grades from outside that lie a whole grade or more apart.

use std::sync::Arc;

use crate::catalogue::model::{Facts, Piece};
use crate::catalogue::{Entry, names};
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::values::grade::show_hundredths;
use crate::notation::values::{Grade, Who};
use crate::rule;

use super::grade_off_the_scale::HIGHEST;
use crate::text::Span;

rule! {
    /// Two grades from outside, of the publisher or of lists, that lie a whole grade or more apart; or the
    /// grade of a list that the card says otherwise than the list's own card. A piece that you have graded
    /// yourself is left alone: you have looked at it already.
    ///
    /// # Why it matters
    ///
    /// One of them may be copied wrong, and whoever trusts it chooses for the wrong band.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Lanterns on the Weir"
    ///   grade           1 publisher, 2.5 "State book"
    ///                                ^^^^^^^^^^^^^^^^
    /// ```
    ///
    /// ```levare
    /// piece "Lanterns on the Weir"
    ///   grade           2 "Thrum Hollow list"
    ///                   ^^^^^^^^^^^^^^^^^^^^^
    ///
    /// list "Thrum Hollow list"
    ///   holds           "Lanterns on the Weir" grade 1.5
    /// ```
    ///
    /// # Does not
    ///
    /// Half a grade is nobody's quarrel, and your own grade settles any.
    ///
    /// ```levare
    /// piece "Lanterns on the Weir"
    ///   grade           1 publisher, 1.5 "State book"
    ///
    /// piece "Harbor Parade"
    ///   grade           1 publisher, 3 "State book", 2 ours
    /// ```
    ///
    /// # What to do
    ///
    /// Look at both sources, then at the score, and add your own grade: `2 ours`.
    ListsDisagree: "lists disagree", Grade, Information, reads Catalogue, looks at Piece
}

/// Two grades.
pub struct Apart {
    one: String,
    other: String,
    same_list: bool,
    related: Vec<(Arc<Entry>, Span)>,
}

impl Notice for ListsDisagree {
    type What = Apart;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Apart>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let on_lists = on_lists(card);
        against_the_list(piece, &on_lists)
            .or_else(|| apart(piece, &on_lists, card))
            .into_iter()
            .collect()
    }

    fn say(what: &Apart, _card: &Card<'_>) -> Saying {
        let says = match what.same_list {
            true => format!(
                "This card says {}, but the list's own card says {}.",
                what.one, what.other
            ),
            false => format!("{} and {} lie a whole grade or more apart.", what.one, what.other),
        };
        Saying {
            place: "grade".to_owned(),
            says,
            why: "One of them may be copied wrong, and whoever trusts it chooses for the wrong band."
                .to_owned(),
            todo: "Look at both sources, then at the score, and add your own grade, such as \"2 ours\"."
                .to_owned(),
        }
    }

    fn related(what: &Apart, card: &Card<'_>) -> Vec<Related> {
        what.related
            .iter()
            .map(|(entry, span)| card.beside(entry, *span, "on the list"))
            .collect()
    }
}

/// The grades that lists' cards give this piece.
fn on_lists(card: &Card<'_>) -> Vec<(Arc<Entry>, Span, Grade)> {
    let mut found = Vec::new();
    let mut seen = Vec::new();
    for (id, _) in card.snapshot.uses_of(card.id) {
        let Some(entry) = card.snapshot.entry(id).filter(|_| !seen.contains(&id)) else {
            continue;
        };
        seen.push(id);
        let Facts::List(list) = entry.facts() else {
            continue;
        };
        for held in list.holds.iter().filter(|held| held.is_certain()) {
            let meant = card
                .snapshot
                .pieces_titled(&held.value.name, held.value.by.as_deref());
            if let (true, Some(grade)) = (meant == [card.id], &held.value.grade) {
                let who = Who::List(entry.name.clone());
                found.push((Arc::clone(entry), held.span, Grade { who, ..grade.clone() }));
            }
        }
    }
    found
}

fn against_the_list(piece: &Piece, on_lists: &[(Arc<Entry>, Span, Grade)]) -> Option<Noticed<Apart>> {
    piece
        .grades
        .iter()
        .filter(|said| said.is_certain() && said.value.high <= HIGHEST)
        .find_map(|said| {
            let Who::List(name) = &said.value.who else {
                return None;
            };
            let mut same = on_lists
                .iter()
                .filter(|(entry, _, _)| names::key(&entry.name) == names::key(name))
                .peekable();
            let (entry, span, grade) = *same.peek()?;
            // Where a list gives several grades, one that agrees is enough.
            if same.any(|(_, _, grade)| (grade.low, grade.high) == (said.value.low, said.value.high)) {
                return None;
            }
            let what = Apart {
                one: number(&said.value),
                other: number(grade),
                same_list: true,
                related: vec![(Arc::clone(entry), *span)],
            };
            Some(Noticed::new(said.span, what))
        })
}

/// A grade from outside: where it stands on the piece's card, or on which list's card.
type Outside<'g> = (Option<Span>, &'g Grade, Option<(Arc<Entry>, Span)>);

fn apart(piece: &Piece, on_lists: &[(Arc<Entry>, Span, Grade)], card: &Card<'_>) -> Option<Noticed<Apart>> {
    if piece.grades.iter().any(|said| said.value.who == Who::Ours) {
        return None;
    }
    let outside = |who: &Who| matches!(who, Who::Publisher | Who::List(_) | Who::Other(_));
    let own = piece
        .grades
        .iter()
        .filter(|said| said.is_certain() && said.value.high <= HIGHEST && outside(&said.value.who));
    let mut all: Vec<Outside<'_>> = own.map(|said| (Some(said.span), &said.value, None)).collect();
    for (entry, span, grade) in on_lists {
        // What the card says of the list itself was compared already.
        if !all.iter().any(|(_, known, _)| matches!((&known.who, &grade.who), (Who::List(a), Who::List(b)) if names::key(a) == names::key(b))) {
            all.push((None, grade, Some((Arc::clone(entry), *span))));
        }
    }
    let low = all.iter().min_by_key(|(_, grade, _)| grade.high)?;
    let high = all.iter().max_by_key(|(_, grade, _)| grade.low)?;
    if high.1.low.saturating_sub(low.1.high) < 100 {
        return None;
    }
    let what = Apart {
        one: named(low.1),
        other: named(high.1),
        same_list: false,
        related: low.2.iter().chain(&high.2).cloned().collect(),
    };
    // The later of the two on the card, else the card's name where both stand on lists.
    let span = low.0.into_iter().chain(high.0).max_by_key(|span| span.start);
    Some(Noticed::new(span.unwrap_or_else(|| card.head_span()), what))
}

fn number(grade: &Grade) -> String {
    match grade.low == grade.high {
        true => format!("grade {}", show_hundredths(grade.low)),
        false => format!(
            "grade {}-{}",
            show_hundredths(grade.low),
            show_hundredths(grade.high)
        ),
    }
}

fn named(grade: &Grade) -> String {
    let mut words = number(grade);
    if let Some(first) = words.get_mut(..1) {
        first.make_ascii_uppercase();
    }
    match &grade.who {
        Who::Publisher => format!("{words} of the publisher"),
        Who::List(name) => format!("{words} on \"{name}\""),
        Who::Other(who) => format!("{words} by {who}"),
        _ => words,
    }
}
