//! A range far beyond what a publisher's grade means.

use crate::catalogue::sections::{is_optional, part_rows, relates};
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::music::charts::{self, Chart};
use crate::music::{Pitch, PitchRange};
use crate::notation::row::Relation;
use crate::notation::values::Who;
use crate::notation::values::grade::show_hundredths;
use crate::rule;
use crate::text::Span;

use super::beyond_what_they_play::BeyondWhatTheyPlay;
use super::off_the_instrument::off;
use super::register::is_beside;
use super::written::ranges;

rule! {
    /// A part that goes a fifth or more beyond the range of one publisher's chart for the grade that the
    /// publisher gives the piece, grades 0.5 to 2 (NE Music Publishing, NMP Grading System). Publishers differ,
    /// so less is allowed. A note beyond what the band plays is reported by that rule alone.
    ///
    /// # Why it matters
    ///
    /// You choose by the grade on the cover. A clarinet part up to D6 is no grade 0.5, whatever the cover says:
    /// either the grade or the range was copied wrong.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Little Gray Boat"
    ///   grade           0.5 publisher
    ///   parts
    ///     clarinet        E4-D6
    ///                     ^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Little Gray Boat"
    ///   grade           0.5 publisher
    ///   parts
    ///     clarinet        G3-C5
    /// piece "The Mapmaker's Daughter"
    ///   grade           3 publisher
    ///   parts
    ///     clarinet        E3-D6
    /// ```
    ///
    /// # What to do
    ///
    /// Look at the cover for the grade and at the part for the range.
    BeyondThePublishersGrade: "beyond the publisher's grade", Ranges, Information, reads Catalogue,
        looks at Piece
}

/// The fewest half steps beyond the chart that are told.
const BEYOND: i32 = 7;
/// The chart's highest grade, in hundredths.
const HIGHEST: u32 = 200;

/// A note beyond the chart.
pub struct Beyond {
    part: String,
    note: Pitch,
    high: bool,
    chart: PitchRange,
    grade: u32,
    grade_span: Span,
}

impl Notice for BeyondThePublishersGrade {
    type What = Beyond;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Beyond>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let graded = piece
            .grades
            .iter()
            .find(|said| said.is_certain() && said.value.who == Who::Publisher && said.value.high <= HIGHEST);
        let Some((graded, tenths)) =
            graded.and_then(|said| Some((said, u8::try_from(said.value.high / 10).ok()?)))
        else {
            return Vec::new();
        };
        let mut found: Vec<Noticed<Beyond>> = Vec::new();
        for row in part_rows(piece) {
            if is_optional(row) || relates(row, &[Relation::InsteadOf]) {
                continue;
            }
            for name in &row.names {
                let Some(instrument) = card.instrument(&name.text) else {
                    continue;
                };
                let part = name.numbers.and_then(|(first, _)| u8::try_from(first).ok());
                let cell = charts::by_chart(Chart::GradedPublisher, &instrument.name, part, tenths);
                let Some(chart) = cell.and_then(|cell| cell.range()) else {
                    continue;
                };
                for (span, range) in ranges(row, instrument) {
                    let above = range.high.midi().saturating_sub(chart.high.midi());
                    let below = chart.low.midi().saturating_sub(range.low.midi());
                    let elsewhere = off(card, row, instrument, span).is_some()
                        || is_beside(card, row, name, instrument, span)
                        || found.iter().any(|noticed| noticed.span == span);
                    if above.max(below) < BEYOND || elsewhere {
                        continue;
                    }
                    let high = above >= below;
                    let what = Beyond {
                        part: name.one_form(),
                        note: if high { range.high } else { range.low },
                        high,
                        chart,
                        grade: graded.value.high,
                        grade_span: graded.span,
                    };
                    found.push(Noticed::new(span, what));
                }
            }
        }
        if !found.is_empty() {
            let told = BeyondWhatTheyPlay::notice(card);
            found.retain(|noticed| !told.iter().any(|other| other.span == noticed.span));
        }
        found
    }

    fn say(what: &Beyond, _card: &Card<'_>) -> Saying {
        let way = if what.high { "up to" } else { "down to" };
        Saying {
            place: what.part.clone(),
            says: format!(
                "The part goes {way} {}, and at grade {} one publisher's chart has {}.",
                what.note,
                show_hundredths(what.grade),
                what.chart
            ),
            why: "You choose by the grade on the cover, and this part is much harder than that.".to_owned(),
            todo: "Look at the cover for the grade and at the part for the range.".to_owned(),
        }
    }

    fn related(what: &Beyond, card: &Card<'_>) -> Vec<Related> {
        vec![card.beside(
            card.entry,
            what.grade_span,
            format!("the grade, compared with {}", Chart::GradedPublisher.told()),
        )]
    }
}
