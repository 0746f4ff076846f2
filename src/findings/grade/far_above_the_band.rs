//! A piece in a coming program, more than a grade above the band.

use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::values::{Grade, Shade, Who};
use crate::rule;
use crate::text::sentences::the;

use super::grade_off_the_scale::HIGHEST;

rule! {
    /// A piece in the program of a concert to come whose grade is more than one above the grade that the
    /// handbook follows, played by the band that the handbook is for. Your own grade counts first, then the
    /// publisher's. (One grade: common practice, no source.)
    ///
    /// # Why it matters
    ///
    /// The band learns this one piece and nothing else until the concert.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// handbook
    ///   for             "Seventh Grade Band"
    ///   follows         publisher's grades, grade 1
    /// ensemble "Seventh Grade Band"
    /// piece "Night Train to Alder"
    ///   grade           2.5 publisher
    ///                   ^^^^^^^^^^^^^
    /// concert "Winter evening"
    ///   for             "Seventh Grade Band"
    ///   program
    ///     "Night Train to Alder"
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// handbook
    ///   for             "Seventh Grade Band"
    ///   follows         publisher's grades, grade 1
    /// ensemble "Seventh Grade Band"
    /// piece "Night Train to Alder"
    ///   grade           2.5 publisher, 2 ours
    /// piece "On the Shelf"
    ///   grade           4 publisher
    /// concert "Winter evening"
    ///   for             "Seventh Grade Band"
    ///   program
    ///     "Night Train to Alder"
    /// ```
    ///
    /// # What to do
    ///
    /// Choose an easier piece, write down the grade that you give it yourself, or let it stand.
    FarAboveTheBand: "far above the band", Grade, Information, reads Catalogue, looks at Grades
}

/// How far above is too far, in hundredths of a grade.
const FAR: u32 = 100;

/// The two grades and the band.
pub struct Above {
    piece: Grade,
    ours: bool,
    band: Grade,
    name: String,
}

impl Notice for FarAboveTheBand {
    type What = Above;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Above>> {
        let (Some(piece), Some((_, tenths))) = (
            card.piece(),
            card.snapshot.handbook().and_then(|book| book.chart()),
        ) else {
            return Vec::new();
        };
        let from = |who: &Who| piece.grades.iter().find(|said| said.value.who == *who);
        let Some(said) = from(&Who::Ours).or_else(|| from(&Who::Publisher)) else {
            return Vec::new();
        };
        let hundredths = u32::from(tenths).saturating_mul(10);
        // A grade off every scale is another finding.
        if !said.is_certain() || said.value.high > HIGHEST || said.value.low <= hundredths.saturating_add(FAR)
        {
            return Vec::new();
        }
        let usual = card.snapshot.usual_bands();
        let listings = card.snapshot.listings_of(card.id);
        let band = listings
            .iter()
            .flat_map(|listing| &listing.bands)
            .find(|band| usual.contains(band))
            .and_then(|band| card.snapshot.entry(*band));
        band.map(|band| {
            let what = Above {
                piece: Grade {
                    who: Who::Unsaid,
                    ..said.value.clone()
                },
                ours: said.value.who == Who::Ours,
                band: Grade {
                    low: hundredths,
                    high: hundredths,
                    shade: Shade::Even,
                    who: Who::Unsaid,
                },
                name: band.name.clone(),
            };
            Noticed::new(said.span, what)
        })
        .into_iter()
        .collect()
    }

    fn say(what: &Above, _card: &Card<'_>) -> Saying {
        Saying {
            place: "grade".to_owned(),
            says: format!(
                "The handbook follows grade {} for {}, and this piece is grade {} {}.",
                what.band,
                the(&what.name),
                what.piece,
                if what.ours {
                    "by your own grading"
                } else {
                    "from the publisher"
                }
            ),
            why: "The band learns this one piece and nothing else until the concert.".to_owned(),
            todo: "Choose an easier piece, write down the grade that you give it yourself, or let it stand."
                .to_owned(),
        }
    }

    fn related(_what: &Above, card: &Card<'_>) -> Vec<Related> {
        let Some((_, entry)) = card.snapshot.handbook_card() else {
            return Vec::new();
        };
        let follows = entry.handbook().and_then(|book| book.follows.as_ref());
        follows
            .map(|said| card.beside(entry, said.span, "the grade of the handbook"))
            .into_iter()
            .collect()
    }
}
