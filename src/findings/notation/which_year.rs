//! A day without its year, where the year decides.

use crate::findings::card::Card;
use crate::findings::finding::{Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::values::{Day, Loan, Value};
use crate::rule;
use crate::text::Edit;

rule! {
    /// The day of a concert, a purchase, a performance or a license that has no year.
    ///
    /// # Why it matters
    ///
    /// Whether a concert is still to come, or a license is over, depends on the year, and next season the card
    /// says something else.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// concert "Winter evening"
    ///   on              Dec 10, 19:00
    ///                   ^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// A band's card says its school year, and days on it lie in that.
    ///
    /// ```levare
    /// ensemble "Concert Band"
    ///   season          2026-27
    ///   meets           daily, not Dec 21-Jan 3
    /// ```
    ///
    /// How long ago a piece was performed may be known no better.
    ///
    /// ```levare
    /// piece "Fogbell"
    ///   performed       last spring
    /// ```
    ///
    /// A loan is still going on, so that it ends on the day that comes next, or is just over.
    ///
    /// ```levare
    /// ensemble "Concert Band"
    ///   borrowed        chimes from the church until Dec 20
    /// ```
    ///
    /// # What to do
    ///
    /// Write the year.
    WhichYear: "which year", Notation, Warning, reads Catalogue, looks at Any
}

/// A day and the years it may be meant for.
pub struct Yearless {
    place: String,
    day: Day,
    written: String,
    in_one_form: Vec<String>,
}

impl Notice for WhichYear {
    type What = Yearless;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Yearless>> {
        let mut found = Vec::new();
        // Days on a band's card lie in its season; without a season they are asked about as elsewhere.
        if card.entry.ensemble().is_some_and(|band| band.season.is_some()) {
            return found;
        }
        for level in card.levels() {
            for field in level.fields {
                let Some(spec) = field.spec else { continue };
                for item in field
                    .items()
                    .iter()
                    .filter(|item| !item.open && !item.about && !item.partial)
                {
                    let Some(value) = &item.value else { continue };
                    if ends_some_day(value, spec.name) || is_rough(value) {
                        continue;
                    }
                    let Some(day) = value.days().into_iter().find(|day| day.year.is_none()) else {
                        continue;
                    };
                    let what = Yearless {
                        place: level.at(spec.name),
                        day,
                        written: card.words(item.core).to_owned(),
                        in_one_form: years(card)
                            .into_iter()
                            .filter_map(|first| with_year(value, first))
                            .collect(),
                    };
                    found.push(Noticed::new(item.core, what));
                }
            }
        }
        found
    }

    fn say(what: &Yearless, _card: &Card<'_>) -> Saying {
        Saying {
            place: what.place.clone(),
            says: format!("\"{}\" does not say the year of {}.", what.written, what.day),
            why: "Whether that day is still to come depends on the year, so nothing is figured from it."
                .to_owned(),
            todo: "Write the year.".to_owned(),
        }
    }

    fn repairs(noticed: &Noticed<Yearless>, _card: &Card<'_>) -> Vec<Repair> {
        let written = noticed.what.in_one_form.iter();
        written
            .map(|text| {
                let edits = vec![Edit::replace(noticed.span, text.clone())];
                Repair::to_decide(format!("Write {text}"), edits)
            })
            .collect()
    }
}

/// Whether a value only says until when something is lent, which is figured from today.
fn ends_some_day(value: &Value, field: &str) -> bool {
    match value {
        Value::Days(days) => field == "borrowed" && days.until.is_some(),
        // The day on which a loan began decides nothing, and is kept.
        Value::Loan(Loan::Due(_) | Loan::Out { .. }) => true,
        Value::Equipment(thing) => thing.days.is_some_and(|days| days.until.is_some()),
        _ => false,
    }
}

/// Whether a piece is only said to have been performed `last spring`, which whoever writes so knows no better.
fn is_rough(value: &Value) -> bool {
    match value {
        Value::Performance(performance) => performance.day.is_some_and(|day| day.term.is_some()),
        _ => false,
    }
}

/// The first years of the school years that may be meant: those on the cards of the bands, else the one that
/// today lies in.
fn years(card: &Card<'_>) -> Vec<i16> {
    let bands = card.snapshot.entries().filter_map(|(_, entry)| entry.ensemble());
    let mut years: Vec<i16> = bands
        .filter_map(|band| Some(band.season.as_ref()?.value.first))
        .collect();
    years.sort_unstable();
    years.dedup();
    if years.is_empty() {
        let today = card.snapshot.today;
        years.push(today.year().saturating_sub(i16::from(today.month() < 7)));
    }
    years.truncate(3);
    years
}

/// The value in the one form, with the year that its day has in a school year.
fn with_year(value: &Value, first: i16) -> Option<String> {
    let value = match value {
        Value::Moment(moment) => {
            let mut moment = *moment;
            moment.day = moment.day.in_season(first);
            Value::Moment(moment)
        }
        Value::Performance(performance) => {
            let mut performance = performance.clone();
            performance.day = performance.day.map(|day| day.in_season(first));
            Value::Performance(performance)
        }
        _ => return None,
    };
    Some(value.to_string())
}
