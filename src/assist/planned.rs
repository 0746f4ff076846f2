//! A plan of teaching written onto the cards of its bands: by which day each skill is taught.

use std::collections::BTreeMap;

use jiff::civil::Date;

use crate::catalogue::{EntryId, Snapshot};
use crate::notation::recopy::field_line;
use crate::planning::teach::{BandPlan, STEPS_IN_SHORT, bands, plan};
use crate::text::{Edit, Ending};

use super::recorded;
use super::refactor::line_in_order;

/// The plans of a concert's bands, found while somebody waits.
pub fn of_concert(snapshot: &Snapshot, concert: EntryId) -> Vec<BandPlan> {
    let concerts = [concert];
    bands(snapshot, &concerts)
        .into_iter()
        .filter_map(|band| plan(snapshot, band, &concerts, STEPS_IN_SHORT).ok())
        .collect()
}

/// The skills of a plan by the day on which they are ready; those that the card promises already are left as they
/// are.
fn by_day(plan: &BandPlan) -> BTreeMap<Date, Vec<&str>> {
    let mut days: BTreeMap<Date, Vec<&str>> = BTreeMap::new();
    for skill in plan.skills.iter().filter(|skill| skill.promised.is_none()) {
        if let Some(day) = plan.done(skill) {
            days.entry(day).or_default().push(&skill.name);
        }
    }
    days
}

/// How many skills would be written.
pub fn count(plans: &[BandPlan]) -> usize {
    plans
        .iter()
        .map(|plan| by_day(plan).values().map(Vec::len).sum::<usize>())
        .sum()
}

/// The edits of each file, by its number, that write the days of the plans onto the bands' cards.
pub fn edits(snapshot: &Snapshot, plans: &[BandPlan]) -> Vec<(usize, Vec<Edit>)> {
    let mut files: Vec<(usize, Vec<Edit>)> = Vec::new();
    for plan in plans {
        let Some(entry) = snapshot.entry(plan.band) else {
            continue;
        };
        let lines: Vec<String> = by_day(plan)
            .into_iter()
            .map(|(day, skills)| {
                let all = if skills.len() > 1 { ", all" } else { "" };
                field_line(2, "taught", &format!("{}{all} by {day}", skills.join(", ")))
            })
            .collect();
        let lines = lines.join(Ending::of(&entry.text).as_str());
        if lines.is_empty() {
            continue;
        }
        if let Some(edit) = line_in_order(snapshot, plan.band, "taught", &lines) {
            recorded::add(&mut files, plan.band.file as usize, vec![edit]);
        }
    }
    files
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::catalogue::CardFile;
    use crate::notation::Kind;
    use crate::text::apply;

    #[test]
    fn days_stand_on_the_bands_card_once() {
        let cards = "ensemble \"Band\"\n  meets Tuesday\n  taught ties\n  introduced growl\npiece \"A\"\n  asks growl, flutter, staccato\nconcert \"Winter\"\n  on 2027-01-14\n  for \"Band\"\n  program\n    \"A\"\nhandbook\n  teaching at most 3 new skills a week\nskill \"growl\"\nskill \"flutter\"\n";
        let read = |text: &str| {
            let file = Arc::new(CardFile::read("a.levare", text));
            Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20))
        };
        let plans = |snapshot: &Snapshot| {
            let concert = snapshot
                .names()
                .of(Kind::Concert, "Winter")
                .next()
                .expect("it is there");
            of_concert(snapshot, concert)
        };
        let snapshot = read(cards);
        let found = plans(&snapshot);
        assert_eq!(count(&found), 3);
        let files = edits(&snapshot, &found);
        let written = apply(cards, &files[0].1).expect("no two overlap");
        let line = "  taught ties\n  taught          flutter, growl, staccato, all by 2026-10-20\n";
        assert!(written.contains(line), "{written}");
        // Now the card promises them.
        let again = read(&written);
        assert_eq!(count(&plans(&again)), 0);
    }
}
