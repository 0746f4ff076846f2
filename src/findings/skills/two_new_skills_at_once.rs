//! A piece that calls for several things the band is only just learning.

use std::collections::BTreeSet;

use crate::findings::card::Card;
use crate::findings::finding::Saying;
use crate::findings::judging::{Judging, for_each_band};
use crate::findings::rule::{Notice, Noticed};
use crate::rule;
use crate::text::sentences::{agree, joined};

use super::standing::taught;
use crate::catalogue::Ladder;

rule! {
    /// A piece of a coming concert that calls for two or more things that the band has begun and does not know
    /// yet: those under `introduced`, and those that will be taught by a day still to come. What the piece itself
    /// teaches is left out. (Two: common practice, no source.)
    ///
    /// # Why it matters
    ///
    /// One new thing at a time is learned in the piece; two are rehearsed apart and fall apart together.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   taught          ties, triplets by 2026-11-20
    ///   introduced      syncopation
    /// piece "Creek Bridge"
    ///   asks            ties, triplets, syncopation
    ///                                   ^^^^^^^^^^^
    /// concert "Winter evening"
    ///   on              2026-12-10
    ///   program
    ///     "Creek Bridge"
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   taught          ties, triplets
    ///   introduced      syncopation, staccato
    /// piece "Creek Bridge"
    ///   asks            ties, triplets, syncopation, staccato
    ///   teaches         staccato
    /// concert "Winter evening"
    ///   on              2026-12-10
    ///   program
    ///     "Creek Bridge"
    /// ```
    ///
    /// # What to do
    ///
    /// Teach one of them before the first rehearsal, or let it stand.
    TwoNewSkillsAtOnce: "two new skills at once", Skills, Hint, reads Catalogue, looks at Piece
}

/// The skills and the band.
pub struct New {
    skills: Vec<String>,
    band: String,
    bands: usize,
}

impl Notice for TwoNewSkillsAtOnce {
    type What = New;

    fn notice(card: &Card<'_>) -> Vec<Noticed<New>> {
        let Some(piece) = card.piece().filter(|piece| piece.asks.len() > 1) else {
            return Vec::new();
        };
        if card.snapshot.listings_of(card.id).is_empty() {
            return Vec::new();
        }
        let ladder = card.snapshot.ladder();
        let teaches: BTreeSet<String> = piece
            .teaches
            .iter()
            .map(|said| ladder.one_name(&said.value.name))
            .collect();
        for_each_band(card, |judging| {
            let begun = begun(card, judging, ladder);
            let new: Vec<_> = piece
                .asks
                .iter()
                .filter(|said| {
                    let skill = ladder.one_name(&said.value.name);
                    said.is_certain() && !teaches.contains(&skill) && begun.contains(&skill)
                })
                .collect();
            let [_, second, ..] = new.as_slice() else {
                return Vec::new();
            };
            let what = New {
                skills: new.iter().map(|said| said.value.name.clone()).collect(),
                band: judging.name(),
                bands: judging.bands.len(),
            };
            vec![Noticed::judged(second.span, judging.earnest(), what)]
        })
    }

    fn say(what: &New, _card: &Card<'_>) -> Saying {
        Saying {
            place: "asks".to_owned(),
            says: format!(
                "This piece calls for {}, and {} {} only learning them.",
                joined(&what.skills),
                what.band,
                agree(what.bands, "is", "are")
            ),
            why: "One new thing at a time is learned in the piece; two are rehearsed apart and fall apart together."
                .to_owned(),
            todo: "Teach one of them before the first rehearsal, or let it stand.".to_owned(),
        }
    }
}

/// What the bands have begun, or will be taught by the concert, and do not know today.
fn begun(card: &Card<'_>, judging: &Judging<'_>, ladder: &Ladder) -> BTreeSet<String> {
    let on = judging.concert.and_then(|concert| concert.on.as_ref());
    let concert = on.and_then(|on| on.value.day.last());
    let mut known: BTreeSet<String> = BTreeSet::new();
    let mut begun: BTreeSet<String> = BTreeSet::new();
    for (_, band) in &judging.bands {
        for (said, by) in taught(band) {
            let name = ladder.one_name(&said.value.name);
            match by
                .and_then(|by| by.first())
                .filter(|by| *by > card.snapshot.today)
            {
                Some(by) if concert.is_some_and(|concert| by <= concert) => {
                    begun.insert(name);
                }
                // What is taught after the concert is another finding.
                Some(_) => {}
                None => {
                    known.extend(ladder.below(&name));
                    known.insert(name);
                }
            }
        }
        let introduced = band.introduced.iter().filter(|said| said.is_certain());
        begun.extend(introduced.map(|said| ladder.one_name(&said.value.name)));
    }
    begun.difference(&known).cloned().collect()
}
