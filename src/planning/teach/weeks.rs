//! The weeks in which a band rehearses.

use jiff::civil::{Date, Weekday};

use crate::catalogue::model::Ensemble;
use crate::notation::values::{Takes, Teaching};

/// A week with at least one rehearsal.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Week {
    /// Its Monday.
    pub monday: Date,
    /// Its rehearsals.
    pub days: Vec<Date>,
}

/// How surely the days of rehearsal are known.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Sure {
    /// By the day.
    Days,
    /// The card says how often and not on which days.
    HowOften,
    /// The card does not say when the band meets; every school day was taken.
    Not,
}

/// The weeks in which a band rehearses, from one day to another, both counted. A first week of which half or more
/// is over is no week of teaching any more: what is left of it goes with the next.
pub fn weeks(band: &Ensemble, from: Date, to: Date) -> (Vec<Week>, Sure) {
    let meeting = band.meeting();
    let begins = monday_of(from);
    let (days, sure) = match meeting.days(begins, to) {
        Some(days) if meeting.tells_days() => (days, Sure::Days),
        Some(days) => (days, Sure::HowOften),
        None => (school_days(begins, to, |day| meeting.is_off(day)), Sure::Not),
    };
    let mut found = by_week(days);
    if let Some(first) = found.first_mut().filter(|week| week.monday == begins) {
        let all = first.days.len();
        first.days.retain(|day| *day >= from);
        if first.days.len() * 2 <= all {
            let left = std::mem::take(&mut first.days);
            match found.get_mut(1) {
                Some(next) => {
                    next.days.splice(0..0, left);
                    found.remove(0);
                }
                None if left.is_empty() => found.clear(),
                None => {
                    if let Some(only) = found.first_mut() {
                        only.days = left;
                    }
                }
            }
        }
    }
    (found, sure)
}

/// Days of rehearsal, week by week.
fn by_week(days: Vec<Date>) -> Vec<Week> {
    let mut found: Vec<Week> = Vec::new();
    for day in days {
        let monday = monday_of(day);
        match found.last_mut().filter(|week| week.monday == monday) {
            Some(week) => week.days.push(day),
            None => found.push(Week {
                monday,
                days: vec![day],
            }),
        }
    }
    found
}

fn school_days(from: Date, to: Date, is_off: impl Fn(Date) -> bool) -> Vec<Date> {
    let mut days = Vec::new();
    let mut day = from;
    while day <= to && days.len() < 800 {
        if !matches!(day.weekday(), Weekday::Saturday | Weekday::Sunday) && !is_off(day) {
            days.push(day);
        }
        let Ok(next) = day.tomorrow() else { break };
        day = next;
    }
    days
}

fn monday_of(day: Date) -> Date {
    let back = i64::from(day.weekday().to_monday_zero_offset());
    day.checked_sub(jiff::Span::new().days(back)).unwrap_or(day)
}

/// For each of the weeks, the week by which something is done that begins in it.
pub fn ends(weeks: &[Week], amount: Amount) -> Vec<u32> {
    let number = |at: usize| u32::try_from(at).unwrap_or(u32::MAX);
    let of = |from: usize| match amount {
        Amount::Weeks(takes) => number(from).saturating_add(takes),
        Amount::Rehearsals(takes) => {
            let mut held = 0usize;
            for (at, week) in weeks.iter().enumerate().skip(from) {
                held += week.days.len();
                if held >= takes as usize {
                    return number(at + 1);
                }
            }
            // Behind the last week that is known it goes on as the weeks before did.
            let all: usize = weeks.iter().map(|week| week.days.len()).sum();
            let a_week = all.checked_div(weeks.len()).unwrap_or(1).max(1);
            let more = (takes as usize).saturating_sub(held).div_ceil(a_week);
            number(weeks.len().saturating_add(more))
        }
    };
    let mut all: Vec<u32> = (0..weeks.len().max(1)).map(of).collect();
    // A long week at the end of the calendar must not make a later beginning end earlier.
    let mut low = 0;
    for end in &mut all {
        low = low.max(*end);
        *end = low;
    }
    all
}

/// How much teaching something takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Amount {
    /// Weeks in which the band rehearses.
    Weeks(u32),
    /// Rehearsals.
    Rehearsals(u32),
}

impl Amount {
    /// The most that is meant by what a card says.
    pub fn of(takes: Takes) -> Amount {
        let most = takes.count.high.or(takes.count.low).unwrap_or(1).clamp(1, 400);
        match takes.unit {
            Teaching::Rehearsals => Amount::Rehearsals(most),
            Teaching::Days => Amount::Weeks(most.div_ceil(7)),
            Teaching::Weeks => Amount::Weeks(most),
            Teaching::Months => Amount::Weeks(most.saturating_mul(4)),
        }
    }

    /// The least that is meant by what a card says; none where it says at most.
    pub fn least(takes: Takes) -> Option<Amount> {
        let least = takes.count.low?.min(400);
        Some(match takes.unit {
            Teaching::Rehearsals => Amount::Rehearsals(least),
            Teaching::Days => Amount::Weeks(least / 7),
            Teaching::Weeks => Amount::Weeks(least),
            Teaching::Months => Amount::Weeks(least.saturating_mul(4)),
        })
    }

    /// Half of it, rounded up.
    pub fn half(self) -> Amount {
        match self {
            Amount::Weeks(weeks) => Amount::Weeks(weeks.div_ceil(2)),
            Amount::Rehearsals(rehearsals) => Amount::Rehearsals(rehearsals.div_ceil(2)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::catalogue::Entry;

    fn of(meets: &str, from: (i16, i8, i8), to: (i16, i8, i8)) -> (Vec<Week>, Sure) {
        let card = format!("ensemble \"A\"\n  season 2026-27\n{meets}");
        let entry = Entry::read(crate::text::Shared::from(card));
        let date = |(year, month, day)| jiff::civil::date(year, month, day);
        weeks(entry.ensemble().expect("a band"), date(from), date(to))
    }

    #[test]
    fn weeks_have_the_rehearsals_that_there_are() {
        let meets = "  meets Tuesday and Thursday, not 2026-11-23 to 2026-11-27\n";
        let (weeks, sure) = of(meets, (2026, 11, 10), (2026, 12, 3));
        let days: Vec<(String, usize)> = weeks
            .iter()
            .map(|week| (week.monday.to_string(), week.days.len()))
            .collect();
        let wanted = [("2026-11-09", 2), ("2026-11-16", 2), ("2026-11-30", 2)];
        assert_eq!(days, wanted.map(|(day, count)| (day.to_owned(), count)));
        assert_eq!(sure, Sure::Days);
        // Three rehearsals reach into the week after; two begun last fill it.
        assert_eq!(ends(&weeks, Amount::Rehearsals(3)), [2, 3, 4]);
        assert_eq!(ends(&weeks, Amount::Weeks(2)), [2, 3, 4]);
        let (weeks, sure) = of("", (2026, 11, 11), (2026, 11, 17));
        assert_eq!((weeks.len(), sure), (2, Sure::Not));
        assert_eq!(
            of("  meets every other day\n", (2026, 11, 16), (2026, 11, 20)).1,
            Sure::HowOften
        );
    }

    #[test]
    fn a_week_that_is_half_over_is_no_week() {
        let meets = "  meets Tuesday and Thursday, not 2026-11-23 to 2026-11-27\n";
        let first = |from| {
            let (weeks, _) = of(meets, from, (2026, 12, 3));
            let first = weeks.first().expect("a week");
            (first.monday.to_string(), first.days.len(), weeks.len())
        };
        // On Tuesday all of the week is to come; on Wednesday only half of it, which goes with the next.
        assert_eq!(first((2026, 11, 10)), ("2026-11-09".to_owned(), 2, 3));
        assert_eq!(first((2026, 11, 11)), ("2026-11-16".to_owned(), 3, 2));
        assert_eq!(first((2026, 11, 13)), ("2026-11-16".to_owned(), 2, 2));
        // Where there is no other week, what is left is all there is.
        let (last, _) = of(meets, (2026, 12, 2), (2026, 12, 4));
        assert_eq!(last.iter().map(|week| week.days.len()).collect::<Vec<_>>(), [1]);
        let (gone, _) = of(meets, (2026, 12, 4), (2026, 12, 5));
        assert!(gone.is_empty());
    }
}
