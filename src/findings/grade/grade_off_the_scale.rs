//! A grade that no scale of band music goes up to.

use crate::findings::card::Card;
use crate::findings::finding::{Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::values::Grade;
use crate::rule;
use crate::text::Edit;

rule! {
    /// A grade above 10. Publishers and state lists grade band music from 0.5 to 6 or 7 (common practice, no
    /// source), so a point was likely left out.
    ///
    /// # Why it matters
    ///
    /// A search by grade passes this piece by.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Drum Hill"
    ///   grade           25 publisher
    ///                   ^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Drum Hill"
    ///   grade           6.5 publisher, 7 "Far Away list"
    /// ```
    ///
    /// # What to do
    ///
    /// Put the point in: `2.5`.
    GradeOffTheScale: "grade off the scale", Grade, Warning, reads Card, looks at Grades
}

/// The highest grade that is believed, in hundredths.
pub(super) const HIGHEST: u32 = 1000;

impl Notice for GradeOffTheScale {
    type What = Grade;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Grade>> {
        let grades = card.piece().into_iter().flat_map(|piece| &piece.grades);
        grades
            .filter(|said| said.is_certain() && said.value.high > HIGHEST)
            .map(|said| Noticed::new(said.span, said.value.clone()))
            .collect()
    }

    fn say(what: &Grade, _card: &Card<'_>) -> Saying {
        Saying {
            place: "grade".to_owned(),
            says: format!("No list goes up to grade {}.", bare(what)),
            why: "A search by grade passes this piece by.".to_owned(),
            todo: match tenth(what) {
                Some(grade) => format!("Put the point in: {}.", bare(&grade)),
                None => "Write the grade that is meant.".to_owned(),
            },
        }
    }

    fn repairs(noticed: &Noticed<Grade>, _card: &Card<'_>) -> Vec<Repair> {
        tenth(&noticed.what)
            .map(|grade| {
                let edit = Edit::replace(noticed.span, grade.to_string());
                Repair::to_decide(format!("Write {}", bare(&grade)), vec![edit])
            })
            .into_iter()
            .collect()
    }
}

/// The figure alone.
fn bare(grade: &Grade) -> String {
    let grade = Grade {
        who: crate::notation::values::Who::Unsaid,
        ..grade.clone()
    };
    grade.to_string()
}

/// The grade with the point one place farther left, where that is a grade.
fn tenth(grade: &Grade) -> Option<Grade> {
    let tenth = Grade {
        low: grade.low / 10,
        high: grade.high / 10,
        shade: grade.shade,
        who: grade.who.clone(),
        part: None,
    };
    (grade.low.is_multiple_of(100) && tenth.high <= HIGHEST / 10 * 7).then_some(tenth)
}
