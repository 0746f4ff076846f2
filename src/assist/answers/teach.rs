//! A plan of teaching to be read.

use crate::catalogue::{EntryId, Snapshot};
use crate::planning::teach::words::{caveats, evenings, lateness, standing, takes, what_for};
use crate::planning::teach::{BandPlan, NoPlan, STEPS, Taught, bands, last_times, plan, to_come};
use crate::text::said::{Answer, Column, Table, Wide};
use crate::text::sentences::{capital, counted, joined};

/// For whom is taught.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Whom {
    /// The bands of all concerts to come.
    All,
    /// The bands of a concert.
    Concert(EntryId),
    /// A band.
    Band(EntryId),
}

/// The plans, and the bands that have none; in words why there is nothing to plan.
pub fn plans(snapshot: &Snapshot, whom: Whom) -> Result<(Vec<BandPlan>, Vec<NoPlan>), String> {
    let all = to_come(snapshot);
    let (concerts, bands): (Vec<EntryId>, Vec<EntryId>) = match whom {
        Whom::All => {
            let bands = bands(snapshot, &all);
            (all, bands)
        }
        Whom::Concert(concert) if all.contains(&concert) => (vec![concert], bands(snapshot, &[concert])),
        Whom::Concert(concert) => {
            let entry = snapshot.entry(concert);
            let name = entry.map_or("", |entry| entry.name.as_str());
            return Err(match entry.and_then(|entry| entry.concert()?.day()) {
                Some(day) => format!("\"{name}\" was on {day}, so there is nothing left to teach for it."),
                None => {
                    format!("\"{name}\" has no day yet. Write it on its card, as in: on 2026-12-10.")
                }
            });
        }
        Whom::Band(band) => (all, vec![band]),
    };
    if bands.is_empty() {
        if let Whom::Concert(concert) = whom {
            super::choose::bands(snapshot, concert)?;
            let name = snapshot.entry(concert).map_or("", |entry| entry.name.as_str());
            return Err(format!(
                "No piece on the program of \"{name}\" has a card yet, so nobody knows what it asks of the band."
            ));
        }
        return Err(
            "No coming concert has a day and pieces with cards. Write a concert card with its day and its program."
                .to_owned(),
        );
    }
    let (mut plans, mut none) = (Vec::new(), Vec::new());
    for band in bands {
        match plan(snapshot, band, &concerts, STEPS) {
            Ok(plan) => plans.push(plan),
            Err(why) => none.push(why),
        }
    }
    Ok((plans, none))
}

/// Tells the plans of all bands.
pub fn tell(snapshot: &Snapshot, plans: &[BandPlan]) -> Answer {
    let mut answer = Answer::default();
    let out = &mut answer;
    for (at, plan) in plans.iter().enumerate() {
        if at > 0 {
            out.gap();
        }
        one(snapshot, plan, out);
    }
    answer
}

fn one(snapshot: &Snapshot, plan: &BandPlan, out: &mut Answer) {
    out.head(&plan.name);
    out.say(format!("For {}. {}", evenings(plan), standing(plan)));
    weeks(plan, out);
    if !plan.skills.is_empty() {
        out.gap();
    }
    for skill in &plan.skills {
        out.item(about(plan, skill));
    }
    for (nth, (title, said)) in last_times(snapshot, plan).iter().enumerate() {
        if nth == 0 {
            out.gap();
            out.say("From the last time:");
        }
        out.item(format!("{title}: {}", said.join(" ")));
    }
    let said = caveats(plan);
    if !said.is_empty() {
        out.gap();
    }
    for words in said {
        out.say(words);
    }
}

/// The weeks in which something is in hand, and those in which something is due.
fn weeks(plan: &BandPlan, out: &mut Answer) {
    let dues = || {
        let all = plan.skills.iter().flat_map(|skill| &skill.pieces);
        all.filter(|one| !one.itself && one.due > 0)
    };
    let last = plan.skills.iter().map(|skill| skill.until).max().unwrap_or(0);
    let last = dues().map(|one| one.due.saturating_add(1)).fold(last, u32::max);
    if last == 0 {
        return;
    }
    out.gap();
    let column = |head, wide| Column {
        head,
        wide,
        right: false,
    };
    let mut table = Table {
        columns: vec![
            column("week of", Wide::Of(10)),
            column("rehearsals", Wide::Of(10)),
            column("in hand", Wide::Rest),
        ],
        rows: Vec::new(),
    };
    // Weeks in which nothing is in hand and nothing begins stand in one row.
    let mut idle: (u32, usize) = (0, 0);
    for (at, week) in (0u32..).zip(&plan.weeks).take(last as usize) {
        let open: Vec<String> = plan
            .skills
            .iter()
            .filter(|skill| skill.from <= at && at < skill.until)
            .map(|skill| {
                let (now, all) = (at - skill.from + 1, skill.until - skill.from);
                match all {
                    1 => skill.name.clone(),
                    _ => format!("{} ({now} of {all})", skill.name),
                }
            })
            .collect();
        let mut begun: Vec<String> = dues()
            .filter(|one| one.due == at)
            .map(|one| format!("\"{}\"", one.piece))
            .collect();
        begun.sort_unstable();
        begun.dedup();
        if open.is_empty() && begun.is_empty() {
            idle = (idle.0 + 1, idle.1 + week.days.len());
            continue;
        }
        idle_row(&mut idle, &mut table);
        let mut words = open.join(", ");
        if !begun.is_empty() {
            let semicolon = if words.is_empty() { "" } else { "; " };
            words = format!("{words}{semicolon}begin {}", joined(&begun));
        }
        row(&week.monday.to_string(), week.days.len(), words, &mut table);
    }
    idle_row(&mut idle, &mut table);
    out.table(table);
}

fn idle_row(idle: &mut (u32, usize), table: &mut Table) {
    let (weeks, rehearsals) = std::mem::take(idle);
    if weeks > 0 {
        let words = "nothing new".to_owned();
        row(&counted(weeks as usize, "week"), rehearsals, words, table);
    }
}

fn row(week: &str, rehearsals: usize, words: String, table: &mut Table) {
    table
        .rows
        .push(vec![week.to_owned(), rehearsals.to_string(), words]);
}

fn about(plan: &BandPlan, skill: &Taught) -> String {
    let mut said = vec![format!("{}: {}.", capital(&skill.name), takes(skill))];
    let what = what_for(plan, skill);
    if !what.is_empty() {
        said.push(format!("{}.", capital(&what)));
    }
    if !skill.taught_in.is_empty() {
        let titles: Vec<String> = skill
            .taught_in
            .iter()
            .map(|title| format!("\"{title}\""))
            .collect();
        said.push(format!("Can be taught with {}.", joined(&titles)));
    }
    match lateness(plan, skill) {
        Some(late) => said.push(format!("Late: {}", uncapital(&late))),
        None => said.extend(plan.done(skill).map(|day| format!("Ready by {day}."))),
    }
    if let Some(promised) = skill.promised {
        said.push(format!("The band's card says that it is taught by {promised}."));
    }
    said.join(" ")
}

fn uncapital(words: &str) -> String {
    let mut letters = words.chars();
    letters
        .next()
        .map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}
