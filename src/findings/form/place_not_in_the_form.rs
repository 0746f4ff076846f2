//! A part of the piece, such as the trio, that its form does not have.

use crate::findings::card::Card;
use crate::findings::finding::{Related, Repair, Saying};
use crate::findings::notation::mark_not_found::{Known, ends};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::values::Point;
use crate::rule;
use crate::text::{Edit, Span};

rule! {
    /// A place that is named by a part of the piece, such as trio, when the card tells the form and its form,
    /// its marks and its roadmap have no such part.
    ///
    /// # Why it matters
    ///
    /// A change that holds "at trio" is lost when the piece has no trio, and players look for it and do not
    /// find it.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Bridgekeeper's March"
    ///   tempo           quarter = 116, quarter = 108 at trio
    ///                                                ^^^^^^^
    ///   form            introduction, two strains, coda
    ///   rehearsal marks A 5, B 21, C 37, coda 73
    /// ```
    ///
    /// # Does not
    ///
    /// A card that does not tell the form has none to compare with.
    ///
    /// ```levare
    /// piece "Gravel Road March"
    ///   key signature   1 flat, 2 flats at trio
    /// ```
    ///
    /// ```levare
    /// piece "Harbor Parade"
    ///   key signature   2 flats, 3 flats at trio
    ///   form            introduction, two strains, trio
    /// ```
    ///
    /// # What to do
    ///
    /// Add the part to the form, or write the measure or the mark instead.
    PlaceNotInTheForm: "place not in the form", Form, Warning, reads Card, looks at Any
}

/// Names of parts of a piece that directors use as places (common practice, no source).
const PARTS_OF_A_PIECE: [&str; 15] = [
    "trio",
    "coda",
    "introduction",
    "intro",
    "ending",
    "middle section",
    "interlude",
    "bridge",
    "codetta",
    "dogfight",
    "verse",
    "chorus",
    "refrain",
    "strain",
    "segno",
];

/// Whether a name is that of a part of a piece, such as `trio` or `second strain`.
pub(in crate::findings) fn is_part_of_a_piece(name: &str) -> bool {
    let lower = name.to_lowercase();
    let is = |word: &str, part: &str| word.strip_suffix('s').unwrap_or(word) == part || word == part;
    PARTS_OF_A_PIECE.iter().any(|part| match part.contains(' ') {
        true => lower.contains(part),
        false => lower
            .split(|c: char| !c.is_alphanumeric())
            .any(|word| is(word, part)),
    })
}

/// A part that is not there.
pub struct Lost {
    whose: String,
    part: String,
    form: Span,
}

impl Notice for PlaceNotInTheForm {
    type What = Lost;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Lost>> {
        let mut found = Vec::new();
        for (level, places) in card.places() {
            if places.is_empty() {
                continue;
            }
            let known = Known::of(level, card);
            let Some(form) = known.form_span else { continue };
            for named in places {
                // A place with a mark that is not there is told once, by the rule about marks.
                if known.lost(&named.points).is_some() {
                    continue;
                }
                let lost = named
                    .points
                    .iter()
                    .filter_map(Point::mark)
                    .flat_map(ends)
                    .find(|name| is_part_of_a_piece(name) && !known.has(name));
                if let Some(part) = lost {
                    let part = part.to_owned();
                    let whose = named.whose(level);
                    found.push(Noticed::new(named.span, Lost { whose, part, form }));
                }
            }
        }
        found
    }

    fn say(what: &Lost, _card: &Card<'_>) -> Saying {
        Saying {
            place: what.whose.clone(),
            says: format!("The form on the card has no {}.", what.part),
            why: "Nobody can start there in rehearsal, and what holds from there on is not checked."
                .to_owned(),
            todo: format!("Add {} to the form, or write the measure or the mark.", what.part),
        }
    }

    fn related(what: &Lost, card: &Card<'_>) -> Vec<Related> {
        vec![card.beside(card.entry, what.form, "the form of the card")]
    }

    fn repairs(noticed: &Noticed<Lost>, card: &Card<'_>) -> Vec<Repair> {
        let what = &noticed.what;
        let form = card.words(what.form).trim_end();
        let end = what.form.start.saturating_add(form.len() as u32);
        vec![Repair::to_decide(
            format!("Add {} to the form", what.part),
            vec![Edit::insert(end, format!(", {}", what.part))],
        )]
    }
}
