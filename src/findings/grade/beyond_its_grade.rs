//! A piece that does not meet your own criteria for the grade you gave it.

use crate::catalogue::EntryId;
use crate::catalogue::conditions::{Subject, Truth, alone, lowest_met};
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::values::Who;
use crate::notation::values::grade::show_hundredths;
use crate::planning::fitting::asking;
use crate::rule;
use crate::text::sentences::joined;

rule! {
    /// A piece with a grade of your own (`1 ours`) that is sure not to meet a condition of your criteria for
    /// that grade: a criteria card with that `grade`, or one named like `our grade 1`.
    ///
    /// # Why it matters
    ///
    /// You will choose by your own grade, and the band would find out what it does not tell.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// criteria "our grade 1"
    ///   calls for       up to 2 flats, at most 6 percussionists
    ///
    /// piece "Lanterns on the Weir"
    ///   grade           2 publisher, 1 ours
    ///                                ^^^^^^
    ///   key signature   3 flats
    /// ```
    ///
    /// # Does not
    ///
    /// Grades of others are theirs, and what no card tells proves nothing.
    ///
    /// ```levare
    /// criteria "our grade 1"
    ///   calls for       up to 2 flats
    ///
    /// piece "Lanterns on the Weir"
    ///   grade           1 publisher
    ///   key signature   3 flats
    ///
    /// piece "Harbor Parade"
    ///   grade           1 ours
    /// ```
    ///
    /// # What to do
    ///
    /// Raise your grade, fix the criteria, or let it stand with a reason.
    BeyondItsGrade: "beyond its grade", Grade, Information, reads Catalogue, looks at Grades
}

/// The grade, the reasons, and what grade it would be.
pub struct Beyond {
    grade: u32,
    reasons: Vec<String>,
    lowest: Option<u32>,
    criteria: EntryId,
}

impl Notice for BeyondItsGrade {
    type What = Beyond;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Beyond>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let subject = Subject {
            id: card.id,
            entry: card.entry,
            piece,
            movements: &[],
        };
        let ours = subject.piece.grades.iter().find(|said| {
            said.is_certain() && said.value.who == Who::Ours && said.value.low == said.value.high
        });
        let Some(ours) = ours else { return Vec::new() };
        let asked = asking(card.snapshot);
        let steps = card.snapshot.grade_cards();
        let same = steps.iter().filter(|step| step.grade == ours.value.low);
        let beyond = same.filter_map(|step| {
            let reasons: Vec<String> = step
                .conditions
                .iter()
                .filter_map(|condition| match asked.piece(condition, &subject) {
                    Truth::No(why) => Some(format!("{} (\"{condition}\")", alone(&why))),
                    _ => None,
                })
                .collect();
            (!reasons.is_empty()).then(|| Beyond {
                grade: step.grade,
                reasons,
                lowest: lowest_met(&asked, &subject),
                criteria: step.card,
            })
        });
        beyond.take(1).map(|what| Noticed::new(ours.span, what)).collect()
    }

    fn say(what: &Beyond, _card: &Card<'_>) -> Saying {
        let grade = show_hundredths(what.grade);
        let lowest = what.lowest.map_or(String::new(), |lowest| {
            format!(
                " The lowest of your grades it meets is {}.",
                show_hundredths(lowest)
            )
        });
        Saying {
            place: "grade".to_owned(),
            says: format!(
                "You call it grade {grade}, but by your own criteria for that grade it is not: {}.{lowest}",
                joined(&what.reasons)
            ),
            why: "You choose by your own grade, and here it would mislead you.".to_owned(),
            todo: "Raise your grade, fix the criteria, or let it stand with a reason.".to_owned(),
        }
    }

    fn related(what: &Beyond, card: &Card<'_>) -> Vec<Related> {
        let entry = card.snapshot.entry(what.criteria);
        entry
            .map(|entry| card.beside(entry, entry.name_span, "your criteria for that grade"))
            .into_iter()
            .collect()
    }
}
