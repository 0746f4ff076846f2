//! A day of the week beside a day that is another one.

use crate::findings::card::Card;
use crate::findings::finding::{Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::values::Day;
use crate::notation::values::day::weekday_name;
use crate::rule;
use crate::text::Edit;

rule! {
    /// A day of the week beside a date that falls on another day.
    ///
    /// # Why it matters
    ///
    /// Parents come on the Friday or on the 10th, and half of the band stands before a locked door.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// concert "Winter evening"
    ///   on              Friday 2026-12-10, 19:00
    ///                   ^^^^^^^^^^^^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// concert "Winter evening"
    ///   on              Thursday 2026-12-10, 19:00
    /// ```
    ///
    /// # What to do
    ///
    /// Look at the calendar and fix the day or the day of the week.
    AnotherWeekday: "another weekday", Notation, Warning, reads Card, looks at Any
}

/// A day and what stands beside it.
pub struct Beside {
    place: String,
    day: Day,
    written: &'static str,
    is: &'static str,
}

impl Notice for AnotherWeekday {
    type What = Beside;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Beside>> {
        let mut found = Vec::new();
        for level in card.levels() {
            for field in level.fields {
                let Some(spec) = field.spec else { continue };
                for item in field.items().iter().filter(|item| !item.open) {
                    let days = item.value.iter().flat_map(|value| value.days());
                    for day in days {
                        let (Some(written), Some(is)) = (day.weekday, day.other_weekday()) else {
                            continue;
                        };
                        let what = Beside {
                            place: level.at(spec.name),
                            day: Day { weekday: None, ..day },
                            written: weekday_name(written),
                            is: weekday_name(is),
                        };
                        found.push(Noticed::new(item.core, what));
                    }
                }
            }
        }
        found
    }

    fn say(what: &Beside, _card: &Card<'_>) -> Saying {
        Saying {
            place: what.place.clone(),
            says: format!("{} is a {}, not a {}.", what.day, what.is, what.written),
            why: "Some will come on the one day and some on the other.".to_owned(),
            todo: "Look at the calendar and fix the day or the day of the week.".to_owned(),
        }
    }

    fn repairs(noticed: &Noticed<Beside>, card: &Card<'_>) -> Vec<Repair> {
        let what = &noticed.what;
        let words = card.words(noticed.span);
        let Some(at) = words.find(what.written) else {
            return Vec::new();
        };
        let start = noticed.span.start + at as u32;
        let span = crate::text::Span::long(start, what.written.len() as u32);
        vec![Repair::to_decide(
            format!("Write {}", what.is),
            vec![Edit::replace(span, what.is)],
        )]
    }
}
