//! Whether all that a program calls for can be taught by the evening at all, by what the cards say for certain.

use crate::catalogue::model::Ensemble;
use crate::catalogue::{EntryId, Snapshot};
use crate::notation::values::Pace;

use super::core::{self, Job};
use super::needs::Needs;
use super::weeks::{self, Amount};
use super::{STEPS_IN_SHORT, evenings};

/// More to teach than there are weeks.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TooMuch {
    /// The skills, each with a card that says how long it takes.
    pub skills: Vec<String>,
    /// How many of them cannot be ready.
    pub late: u32,
    /// How many may be in hand in one week, by the handbook.
    pub at_once: u32,
    /// The weeks with a rehearsal before the evening.
    pub weeks: u32,
}

/// Whether a band has more to learn for a concert than there are weeks, though each skill by itself could be
/// learned. Only what cards say for certain counts: the least that a skill takes, and the handbook's own number of
/// new skills a week.
pub fn too_much(snapshot: &Snapshot, band: EntryId, card: &Ensemble, concert: EntryId) -> Option<TooMuch> {
    let said = snapshot.handbook()?.teaching.iter();
    let at_once = said
        .filter(|said| said.is_certain())
        .find_map(|said| match said.value {
            Pace::Skills(count) => Some(count),
            Pace::Weeks(_) => None,
        })?;
    if card.taught.is_empty() || card.is_unread("taught") || card.is_unread("introduced") {
        return None;
    }
    let evening = evenings(snapshot, card, band, &[concert]);
    let evening = evening.first()?;
    let (all, _) = weeks::weeks(card, snapshot.today, evening.day.yesterday().ok()?);
    // A band of which nobody knows when it meets has no weeks to count.
    card.meeting().on.as_ref()?;
    let needs = Needs::of(snapshot, card, band, std::slice::from_ref(evening));
    let ladder = snapshot.ladder();
    let mut names = Vec::new();
    let jobs: Vec<Job> = needs
        .skills
        .iter()
        .map(|skill| {
            // What is begun, and what has no certain time, may be a matter of a day.
            let takes = ladder
                .takes(&skill.key)
                .filter(|said| said.is_certain() && !skill.begun)
                .and_then(|said| Amount::least(said.value));
            if takes.is_some() {
                names.push(skill.name.clone());
            }
            Job {
                ends: match takes {
                    Some(takes) => weeks::ends(&all, takes),
                    None => (0..u32::try_from(all.len().max(1)).unwrap_or(1)).collect(),
                },
                due: (!skill.pieces.is_empty()).then_some(evening.weeks),
                after: skill.after.clone(),
            }
        })
        .collect();
    // What takes too long by itself is told on its piece.
    let left = snapshot.today.until(evening.day).ok()?.get_days() / 7;
    let too_long = jobs.iter().filter(|job| job.due.is_some()).any(|job| {
        let chain = job
            .after
            .iter()
            .filter_map(|at| jobs.get(*at))
            .chain(std::iter::once(job));
        let weeks: u32 = chain.map(|job| job.end(0)).fold(0, u32::saturating_add);
        i64::from(weeks) > i64::from(left)
    });
    if too_long {
        return None;
    }
    let alone = core::plan(&jobs, jobs.len(), STEPS_IN_SHORT)?;
    if alone.late > 0 {
        return None;
    }
    let found = core::plan(&jobs, at_once as usize, STEPS_IN_SHORT)?;
    (found.proven && found.late > 0).then_some(TooMuch {
        skills: names,
        late: found.late,
        at_once,
        weeks: evening.weeks,
    })
}
