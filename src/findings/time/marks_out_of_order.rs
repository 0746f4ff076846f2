//! Rehearsal marks that run backward.

use crate::catalogue::model::{Piece, Said};
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::values::Mark;
use crate::rule;
use crate::text::Span;

rule! {
    /// Rehearsal letters or numbers whose measures do not go up: B before A, or two of them at one measure.
    /// Marks with names, such as trio or coda, may be anywhere.
    ///
    /// # Why it matters
    ///
    /// "Start at B" would bring in the band at a different place from the one you mean, and whatever the card
    /// says of that mark holds in the wrong measures.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Bridge Street"
    ///   rehearsal marks A 9, B 52, C 33, D 41
    ///                              ^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Bridge Street"
    ///   rehearsal marks A 9, B 25, trio 17, D 41, 57
    /// ```
    ///
    /// # What to do
    ///
    /// Look in the score where both marks are.
    MarksOutOfOrder: "marks out of order", Time, Warning, reads Card, looks at Marks
}

/// Two marks that run backward.
pub struct Backward {
    place: String,
    before: (String, u32, Span),
    after: (String, u32),
}

impl Notice for MarksOutOfOrder {
    type What = Backward;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Backward>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let movements = piece.movements.iter().map(|movement| {
            let place = format!("movement {}, rehearsal marks", movement.number);
            (place, &movement.piece)
        });
        std::iter::once(("rehearsal marks".to_owned(), piece))
            .chain(movements)
            .flat_map(|(place, piece)| backward(&place, piece))
            .collect()
    }

    fn say(what: &Backward, _card: &Card<'_>) -> Saying {
        let (before, at, _) = &what.before;
        let (after, after_at) = &what.after;
        let says = match at == after_at {
            true => format!("{before} and {after} are both at measure {at}."),
            false => format!("{after} is at measure {after_at}, before {before} at measure {at}."),
        };
        Saying {
            place: what.place.clone(),
            says,
            why: "Called out in rehearsal, one of the two would send the band to the wrong measure."
                .to_owned(),
            todo: "Look in the score where both marks are.".to_owned(),
        }
    }

    fn related(what: &Backward, card: &Card<'_>) -> Vec<Related> {
        let (name, at, span) = &what.before;
        vec![card.beside(card.entry, *span, format!("{name} is at measure {at}"))]
    }
}

fn backward(place: &str, piece: &Piece) -> Vec<Noticed<Backward>> {
    let mut ordered: Vec<((u32, u32), &Said<Mark>)> = piece
        .marks
        .iter()
        .filter(|said| said.is_certain() && !piece.is_past_the_end(said.value.measure))
        .filter(|said| !in_two_places(piece, &said.value))
        .filter_map(|said| Some((rank(&said.value)?, said)))
        .collect();
    ordered.sort_by_key(|(rank, _)| *rank);
    let mut found = Vec::new();
    let mut running_back = false;
    for pair in ordered.windows(2) {
        let [(rank, before), (next, after)] = pair else {
            continue;
        };
        // Letters and numbers are two rows of marks, and a mark said twice is another matter.
        let apart = rank.0 == next.0 && rank.1 < next.1;
        let (first, second) = (&before.value, &after.value);
        let back = apart && second.measure <= first.measure;
        // A row that runs back several times in a row is one fault.
        if back && !running_back {
            let what = Backward {
                place: place.to_owned(),
                before: (first.name.clone(), first.measure, before.span),
                after: (second.name.clone(), second.measure),
            };
            found.push(Noticed::new(after.span, what));
        }
        running_back = back;
    }
    found
}

/// Whether the mark also stands at another measure, which is told by its own rule.
fn in_two_places(piece: &Piece, mark: &Mark) -> bool {
    piece
        .marks
        .iter()
        .take(200)
        .any(|other| other.value.name == mark.name && other.value.measure != mark.measure)
}

/// Which row of marks it belongs to, and where in it: A is 1, Z 26, AA 27, BB 28; numbers by their value.
/// None for names, and for a mark that is its measure's number.
fn rank(mark: &Mark) -> Option<(u32, u32)> {
    let name = mark.name.as_str();
    if let Ok(number) = name.parse::<u32>() {
        return (number != mark.measure).then_some((1, number));
    }
    let mut letters = name.chars();
    let first = letters.next()?.to_ascii_uppercase();
    if !first.is_ascii_uppercase() || name.len() > 2 {
        return None;
    }
    let place = u32::from(first) - u32::from('A') + 1;
    match letters.next() {
        None => Some((0, place)),
        Some(second) if second.to_ascii_uppercase() == first => Some((0, place + 26)),
        Some(_) => None,
    }
}
