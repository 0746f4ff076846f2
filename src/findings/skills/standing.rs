//! How a skill that a piece asks stands with the band that is about to play it.

use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

use jiff::civil::Date;

use crate::catalogue::Entry;
use crate::catalogue::model::{Ensemble, Said};
use crate::catalogue::names::nearly_alike;
use crate::findings::card::Card;
use crate::findings::judging::{Judging, for_each_band};
use crate::findings::rule::Noticed;
use crate::notation::values::{Day, Skill};
use crate::text::Span;

use crate::catalogue::Ladder;

/// What is wrong with a skill.
#[derive(Debug, Clone, PartialEq)]
pub(super) enum Trouble {
    /// The band's card names it neither as taught nor as begun.
    NotTaught,
    /// It is taught only by a day after the concert.
    TooLate {
        /// The day it is taught by.
        by: Day,
        /// The day of the concert.
        concert: Day,
        /// Which of the bands, by its place in the judging.
        band: usize,
        /// Where the band's card says so.
        span: Span,
    },
    /// It takes longer to teach than there is time.
    TooLong {
        /// The weeks it takes, with what must come before it.
        takes: u32,
        /// The weeks to the concert.
        left: u32,
        /// What must be taught before it and is not yet.
        before: Vec<String>,
    },
}

/// A skill asked, the band, and what is wrong.
pub(super) struct Asked {
    /// The skill as written.
    pub skill: String,
    /// The band.
    pub band: String,
    /// What is wrong.
    pub trouble: Trouble,
    /// The band's card, where `TooLate` points to.
    pub entry: Option<Arc<Entry>>,
}

/// Looks at what a piece asks for every band that is about to play it, and keeps what `wanted` takes.
pub(super) fn troubles(card: &Card<'_>, wanted: impl Fn(&Trouble) -> bool) -> Vec<Noticed<Asked>> {
    let Some(piece) = card.piece().filter(|piece| !piece.asks.is_empty()) else {
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
        let asked = piece.asks.iter().filter(|said| said.is_certain());
        asked
            .filter_map(|said| {
                let skill = ladder.one_name(&said.value.name);
                if !ladder.knows(&skill) || teaches.contains(&skill) {
                    return None;
                }
                let trouble = trouble(card, judging, ladder, &skill).filter(|found| wanted(found))?;
                let entry = match &trouble {
                    Trouble::TooLate { band, .. } => {
                        judging.bands.get(*band).map(|(entry, _)| Arc::clone(entry))
                    }
                    _ => None,
                };
                let what = Asked {
                    skill: said.value.name.clone(),
                    band: judging.name(),
                    trouble,
                    entry,
                };
                Some(Noticed::judged(said.span, judging.in_full(), what))
            })
            .collect()
    })
}

/// The skills of bands that play together.
pub(in crate::findings) struct Taught {
    /// Those they have.
    known: BTreeSet<String>,
    /// Those that are taught only after the concert.
    late: BTreeMap<String, Trouble>,
}

impl Taught {
    /// Collects them from the bands' cards.
    pub(in crate::findings) fn of(judging: &Judging<'_>, ladder: &Ladder) -> Taught {
        let concert = day_of(judging);
        let mut known: BTreeSet<String> = BTreeSet::new();
        let mut late: BTreeMap<String, Trouble> = BTreeMap::new();
        for (band, (_, ensemble)) in judging.bands.iter().enumerate() {
            for (said, by) in taught(ensemble) {
                let name = ladder.one_name(&said.value.name);
                match (by, concert) {
                    (Some(by), Some(concert)) if by.first() > concert.last() && said.is_certain() => {
                        let too_late = Trouble::TooLate {
                            by,
                            concert,
                            band,
                            span: said.span,
                        };
                        late.entry(name).or_insert(too_late);
                    }
                    _ => {
                        known.extend(ladder.below(&name));
                        known.insert(name);
                    }
                }
            }
            for said in &ensemble.introduced {
                let name = ladder.one_name(&said.value.name);
                known.extend(ladder.below(&name));
                known.insert(name);
            }
        }
        Taught { known, late }
    }
}

/// The day of the concert that makes it earnest, where that is certain.
fn day_of(judging: &Judging<'_>) -> Option<Day> {
    let on = judging.concert?.on.as_ref().filter(|on| on.is_certain());
    on.map(|on| on.value.day)
}

fn trouble(card: &Card<'_>, judging: &Judging<'_>, ladder: &Ladder, skill: &str) -> Option<Trouble> {
    judging.concert?;
    let concert = day_of(judging);
    let Taught { known, late } = judging.taught(ladder);
    // What the card says and nobody understood may be this skill.
    let unread = |band: &Ensemble| {
        let lists = ["taught", "introduced"];
        let said = band.taught.iter().chain(&band.introduced);
        let slip = |said: &Said<Skill>| {
            nearly_alike(&said.value.name, skill) && !ladder.knows(&ladder.one_name(&said.value.name))
        };
        lists.iter().any(|list| band.is_unread(list)) || said.into_iter().any(slip)
    };
    if !known.contains(skill) && !late.contains_key(skill) && judging.ensembles().into_iter().any(unread) {
        return None;
    }
    // A band that lists nothing has not said what it knows.
    if known.contains(skill) || (known.is_empty() && late.is_empty()) {
        return None;
    }
    if let Some(late) = late.get(skill) {
        return Some(late.clone());
    }
    let left = concert
        .and_then(Day::last)
        .and_then(|day| weeks_between(card.snapshot.today, day));
    let before: Vec<String> = ladder
        .below(skill)
        .into_iter()
        .filter(|below| !known.contains(below.as_str()) && ladder.weeks(below).is_some())
        .collect();
    let takes = before.iter().filter_map(|below| ladder.weeks(below));
    let takes = ladder
        .weeks(skill)
        .map(|weeks| takes.fold(weeks, u32::saturating_add));
    match (takes, left) {
        (Some(takes), Some(left)) if takes > left => Some(Trouble::TooLong {
            takes,
            left,
            before: before.iter().map(|below| ladder.written(below)).collect(),
        }),
        _ => Some(Trouble::NotTaught),
    }
}

/// Whole weeks from one day to another; none where the other is over.
fn weeks_between(from: Date, to: Date) -> Option<u32> {
    let days = from.until(to).ok()?.get_days();
    u32::try_from(days).ok().map(|days| days / 7)
}

/// The skills taught, each with the day it is taught by.
pub fn taught(band: &Ensemble) -> impl Iterator<Item = (&Said<Skill>, Option<Day>)> {
    band.taught.iter().map(|said| (said, said.value.by))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_day_belongs_to_its_skill_unless_the_line_says_all() {
        for (line, by) in [
            ("ties, triplets by 2027-02-01", ["", "2027-02-01"].as_slice()),
            ("ties, triplets, all by 2027-02-01", &["2027-02-01", "2027-02-01"]),
            (
                "ties by 2026-11-01, triplets, all by 2027-02-01",
                &["2026-11-01", "2027-02-01"],
            ),
            ("ties\n  taught triplets, all by 2027-02-01", &["", "2027-02-01"]),
            ("ties, triplets", &["", ""]),
        ] {
            let entry = Entry::read(crate::text::Shared::from(format!(
                "ensemble \"A\"\n  taught {line}\n"
            )));
            let band = entry.ensemble().expect("an ensemble");
            let days: Vec<String> = taught(band)
                .map(|(_, by)| by.map_or(String::new(), |by| by.to_string()))
                .collect();
            assert_eq!(days, by, "{line}");
        }
    }
}
