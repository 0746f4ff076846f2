//! What a band must be taught for its concerts, and in which week.
//!
//! [`needs`] finds what its pieces ask and the band does not know, [`weeks`] the weeks in which it rehearses, and
//! the exact [`core`] says which skill is in hand in which of them.

mod before;
pub mod core;
pub mod evening;
pub mod needs;
#[cfg(test)]
mod tests;
pub mod weeks;
pub mod words;

pub use before::{Learned, taught_before};

use jiff::civil::Date;

use crate::catalogue::model::Ensemble;
use crate::catalogue::{EntryId, Snapshot};
use crate::notation::values::{Day, Pace};
use crate::planning::remembered::remembered;

use core::Job;
use needs::{Needs, Skill};
use weeks::{Amount, Sure, Week};

/// So many new skills in hand in one week where the handbook says nothing (common practice, no source).
pub const AT_ONCE: u32 = 2;
/// So many weeks a piece is rehearsed before its concert where neither its card nor the handbook says how long it
/// takes (common practice, no source).
pub const TO_A_PIECE: u32 = 6;
/// So many weeks a skill takes where no card says it (ours, no source).
pub const UNKNOWN: u32 = 1;

/// Far more steps than the skills of a school year need.
pub const STEPS: u64 = 1_000_000;
/// Steps while somebody waits for a line above a card.
pub const STEPS_IN_SHORT: u64 = 20_000;

/// What one band must be taught.
#[derive(Debug, Clone, PartialEq)]
pub struct BandPlan {
    /// The band.
    pub band: EntryId,
    /// Its name.
    pub name: String,
    /// Its concerts, the first one first.
    pub concerts: Vec<Evening>,
    /// How surely its rehearsals are known.
    pub sure: Sure,
    /// The weeks in which it rehearses, from today to the last concert or to the end of what is planned.
    pub weeks: Vec<Week>,
    /// The skills, in the order in which they are begun.
    pub skills: Vec<Taught>,
    /// How many may be in hand in one week, and whether the handbook says so.
    pub at_once: (u32, bool),
    /// Whether some piece is given [`TO_A_PIECE`] weeks, because nothing says how many it needs.
    pub ours: bool,
    /// Whether no plan has fewer late skills, nor as many and fewer weeks late.
    pub proven: bool,
    /// What pieces ask that is no skill by any card nor by a usual name.
    pub no_skills: Vec<String>,
    /// What pieces perhaps ask.
    pub perhaps: Vec<String>,
    /// What skills stand on that the band's card does not name and no card is about; taken as known.
    pub taken_as_known: Vec<String>,
    /// Titles on the programs that mean no one card.
    pub no_card: Vec<String>,
    /// Pieces that do not say what they ask.
    pub silent: Vec<String>,
}

/// A concert of a band.
#[derive(Debug, Clone, PartialEq)]
pub struct Evening {
    /// The concert.
    pub id: EntryId,
    /// Its name.
    pub name: String,
    /// Its day.
    pub day: Date,
    /// The weeks with a rehearsal before it.
    pub weeks: u32,
    /// The rehearsals before it.
    pub rehearsals: u32,
}

/// A skill with its weeks.
#[derive(Debug, Clone, PartialEq)]
pub struct Taught {
    /// Its name.
    pub name: String,
    /// Its card.
    pub card: Option<EntryId>,
    /// What it takes from now on.
    pub takes: Amount,
    /// What its card says that it takes; none where no card does.
    pub whole: Option<String>,
    /// Whether it is begun, so that half of that is left.
    pub begun: bool,
    /// The weeks in which it is in hand, by their numbers; the second is not counted.
    pub from: u32,
    /// The week by which it is done.
    pub until: u32,
    /// For which pieces.
    pub pieces: Vec<For>,
    /// The other skills of the plan that stand on it.
    pub under: Vec<String>,
    /// The pieces of the programs that teach it.
    pub taught_in: Vec<String>,
    /// The day by which the band's card says it will be taught.
    pub promised: Option<Day>,
    /// How many weeks it is late; 0 for none.
    pub late: u32,
}

/// A piece that asks a skill.
#[derive(Debug, Clone, PartialEq)]
pub struct For {
    /// Its title.
    pub piece: String,
    /// The concert, by its place among the band's.
    pub concert: usize,
    /// The week before which the skill is due.
    pub due: u32,
    /// Whether the piece teaches it itself, so that it is due at the concert.
    pub itself: bool,
    /// How many weeks the piece is rehearsed.
    pub weeks: u32,
}

impl BandPlan {
    /// The skills that are late.
    pub fn late(&self) -> impl Iterator<Item = &Taught> {
        self.skills.iter().filter(|skill| skill.late > 0)
    }

    /// The last rehearsal of a skill; none where it lies behind the calendar.
    pub fn done(&self, skill: &Taught) -> Option<Date> {
        let week = self.weeks.get(skill.until.checked_sub(1)? as usize)?;
        week.days.last().copied()
    }

    /// The first rehearsal of a week; none where it lies behind the calendar.
    pub fn first_of(&self, week: u32) -> Option<Date> {
        self.weeks.get(week as usize)?.days.first().copied()
    }

    /// The piece that a skill is due for first.
    pub fn first_need<'t>(&self, skill: &'t Taught) -> Option<&'t For> {
        skill.pieces.iter().min_by_key(|one| one.due)
    }
}

/// Why there is no plan for a band.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum NoPlan {
    /// The card does not say what the band has been taught.
    NothingTaught(String),
    /// No concert to come has pieces for it.
    NoConcert(String),
    /// Skills wait for each other.
    Circle(String),
}

/// The concerts to come that have a day, the first one first.
pub fn to_come(snapshot: &Snapshot) -> Vec<EntryId> {
    let mut found: Vec<(Date, EntryId)> = snapshot
        .entries()
        .filter_map(|(id, entry)| {
            let day = entry.concert()?.day()?;
            (day >= snapshot.today).then_some((day, id))
        })
        .collect();
    found.sort_unstable();
    found.into_iter().map(|(_, id)| id).collect()
}

/// The bands that play at concerts, in the order in which they come up.
pub fn bands(snapshot: &Snapshot, concerts: &[EntryId]) -> Vec<EntryId> {
    let mut found = Vec::new();
    for concert in concerts {
        for (row, _) in needs::rows(snapshot, *concert) {
            for band in row.into_iter().flat_map(|row| row.bands) {
                if !found.contains(&band) {
                    found.push(band);
                }
            }
        }
    }
    found
}

/// What the cards remember of the pieces of a plan's concerts, title by title in the order of the programs.
pub fn last_times(snapshot: &Snapshot, plan: &BandPlan) -> Vec<(String, Vec<String>)> {
    let mut found: Vec<(String, Vec<String>)> = Vec::new();
    for evening in &plan.concerts {
        for (row, title) in needs::rows(snapshot, evening.id) {
            let Some(row) = row.filter(|row| row.bands.contains(&plan.band)) else {
                continue;
            };
            let said = remembered(snapshot, &row.subject);
            if !said.is_empty() && !found.iter().any(|(known, _)| *known == title) {
                found.push((title, said));
            }
        }
    }
    found
}

/// What a band must be taught for these concerts, and when, in at most so many steps.
pub fn plan(
    snapshot: &Snapshot,
    band: EntryId,
    concerts: &[EntryId],
    steps: u64,
) -> Result<BandPlan, NoPlan> {
    let entry = snapshot.entry(band);
    let name = entry.map_or_else(String::new, |entry| entry.name.clone());
    let none = || NoPlan::NoConcert(name.clone());
    let card: &Ensemble = entry.and_then(|entry| entry.ensemble()).ok_or_else(none)?;
    if card.taught.is_empty() && card.introduced.is_empty() {
        return Err(NoPlan::NothingTaught(name));
    }
    let evenings = evenings(snapshot, card, band, concerts);
    let last = evenings.last().map(|evening| evening.day).ok_or_else(none)?;
    // What is late may reach far behind the last concert.
    let beyond = last.checked_add(jiff::Span::new().weeks(40)).unwrap_or(last);
    let (mut weeks, sure) = weeks::weeks(card, snapshot.today, beyond);
    let needs = Needs::of(snapshot, card, band, &evenings);
    let said = snapshot
        .handbook()
        .into_iter()
        .flat_map(|handbook| &handbook.teaching);
    let at_once = said
        .filter(|said| said.is_certain())
        .find_map(|said| match said.value {
            Pace::Skills(count) => Some(count),
            Pace::Weeks(_) => None,
        });
    let jobs: Vec<Job> = needs
        .skills
        .iter()
        .map(|skill| Job {
            ends: weeks::ends(&weeks, skill.takes),
            due: skill.due(&weeks),
            after: skill.after.clone(),
        })
        .collect();
    let most = at_once.unwrap_or(AT_ONCE);
    let timetable = core::plan(&jobs, most as usize, steps).ok_or_else(|| NoPlan::Circle(name.clone()))?;
    let mut skills: Vec<Taught> = Vec::new();
    let all = needs
        .skills
        .iter()
        .zip(timetable.starts.iter().zip(&timetable.ends));
    for ((skill, (from, until)), job) in all.zip(&jobs) {
        skills.push(Taught {
            name: skill.name.clone(),
            card: snapshot.ladder().card(&skill.key),
            takes: skill.takes,
            whole: skill.whole.clone(),
            begun: skill.begun,
            from: *from,
            until: *until,
            pieces: skill.pieces.clone(),
            under: under(&needs.skills, &skill.key),
            taught_in: skill.taught_in.clone(),
            promised: skill.promised,
            late: job.due.map_or(0, |due| until.saturating_sub(due)),
        });
    }
    skills
        .sort_by(|one, other| (one.from, one.until, &one.name).cmp(&(other.from, other.until, &other.name)));
    let shown = skills.iter().map(|skill| skill.until).max().unwrap_or(0);
    let shown = evenings.last().map_or(shown, |evening| evening.weeks.max(shown));
    weeks.truncate(shown as usize);
    Ok(BandPlan {
        band,
        name,
        concerts: evenings,
        sure,
        weeks,
        skills,
        at_once: (most, at_once.is_some()),
        ours: needs.ours,
        proven: timetable.proven,
        no_skills: needs.no_skills,
        perhaps: needs.perhaps,
        taken_as_known: needs.taken_as_known,
        no_card: needs.no_card,
        silent: needs.silent,
    })
}

/// The skills that stand on one directly.
fn under(skills: &[Skill], key: &str) -> Vec<String> {
    let at = skills.iter().position(|skill| skill.key == key);
    let direct = skills
        .iter()
        .filter(|skill| at.is_some_and(|at| skill.after.contains(&at)));
    direct.map(|skill| skill.name.clone()).collect()
}

/// The concerts that have a day and a piece for a band.
fn evenings(snapshot: &Snapshot, card: &Ensemble, band: EntryId, concerts: &[EntryId]) -> Vec<Evening> {
    let mut found: Vec<Evening> = concerts
        .iter()
        .filter_map(|id| {
            let entry = snapshot.entry(*id)?;
            let day = entry.concert()?.day().filter(|day| *day >= snapshot.today)?;
            let plays = needs::rows(snapshot, *id)
                .into_iter()
                .any(|(row, _)| row.is_some_and(|row| row.bands.contains(&band)));
            if !plays {
                return None;
            }
            let (before, _) = weeks::weeks(card, snapshot.today, day.yesterday().ok()?);
            Some(Evening {
                id: *id,
                name: entry.name.clone(),
                day,
                weeks: u32::try_from(before.len()).ok()?,
                rehearsals: u32::try_from(before.iter().map(|week| week.days.len()).sum::<usize>()).ok()?,
            })
        })
        .collect();
    found.sort_by_key(|evening| evening.day);
    found
}
