//! A festival whose judges want more scores than the set holds.

use crate::catalogue::EntryId;
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::rule;
use crate::text::Span;
use crate::text::sentences::{agree, counted};

use super::neighbors::coming;

rule! {
    /// A piece in a coming program with fewer scores in its set than there are judges, by the concert's `judges`.
    /// Only where the card counts its scores. That judges get original scores is common practice at festivals, no
    /// source; the festival's own rules go first.
    ///
    /// # Why it matters
    ///
    /// A band whose judges have no original score may go without a rating, and scores take weeks to come.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Creek Bridge"
    ///   library
    ///     copies          2 scores, 8 flute
    /// concert "Spring festival"
    ///   on              2027-04-10
    ///   judges          3
    ///   program
    ///     "Creek Bridge"
    ///     ^^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Creek Bridge"
    ///   library
    ///     copies          3 full scores, 8 flute
    /// piece "Harbor Parade"
    ///   library
    ///     copies          8 flute
    /// concert "Spring festival"
    ///   on              2027-04-10
    ///   judges          3
    ///   program
    ///     "Creek Bridge"
    ///     "Harbor Parade"
    /// ```
    ///
    /// # What to do
    ///
    /// Order the scores that are short from the publisher.
    FewerScoresThanJudges: "fewer scores than judges", Concert, Warning, reads Catalogue, looks at Concert
}

/// The title, how many scores it has, how many judges there are, and where the scores are counted.
pub struct Scores {
    title: String,
    scores: u32,
    judges: u32,
    piece: EntryId,
    place: Span,
}

impl Notice for FewerScoresThanJudges {
    type What = Scores;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Scores>> {
        let Some((concert, rows)) = coming(card) else {
            return Vec::new();
        };
        let Some(judges) = concert.judges.as_ref().filter(|judges| judges.is_certain()) else {
            return Vec::new();
        };
        rows.into_iter()
            .filter_map(|(listed, subject)| {
                let subject = subject?;
                let copies = subject.piece.library.copies.iter();
                let scores: Vec<_> = copies
                    .filter(|said| said.value.is_score() && said.is_certain())
                    .collect();
                let place = scores.first()?.span;
                let there = scores
                    .iter()
                    .map(|said| said.value.count.unwrap_or(1))
                    .fold(0u32, u32::saturating_add);
                (there < judges.value).then(|| {
                    let what = Scores {
                        title: listed.title.value.name.clone(),
                        scores: there,
                        judges: judges.value,
                        piece: subject.id,
                        place,
                    };
                    Noticed::new(listed.title.span, what)
                })
            })
            .collect()
    }

    fn say(what: &Scores, _card: &Card<'_>) -> Saying {
        Saying {
            place: "program".to_owned(),
            says: format!(
                "There {} of \"{}\", and {}.",
                match what.scores {
                    0 => "is no score".to_owned(),
                    scores => format!(
                        "{} {}",
                        agree(scores as usize, "is", "are"),
                        counted(scores as usize, "score")
                    ),
                },
                what.title,
                counted(what.judges as usize, "judge")
            ),
            why: "A band whose judges have no original score may go without a rating, and scores take weeks to come."
                .to_owned(),
            todo: format!(
                "Order {} from the publisher, or ask the festival what it accepts.",
                counted((what.judges - what.scores) as usize, "more score")
            ),
        }
    }

    fn related(what: &Scores, card: &Card<'_>) -> Vec<Related> {
        vec![card.beside_card(what.piece, what.place, "the scores in the set")]
    }
}
