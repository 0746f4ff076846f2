//! A plan of teaching in words: the same in the command, in the editor and on the page.

use crate::catalogue::{EntryId, Snapshot};
use crate::text::sentences::{agree, counted, joined};

use super::weeks::Amount;
use super::{BandPlan, Evening, For, NoPlan, STEPS_IN_SHORT, TO_A_PIECE, Taught, bands, plan};

/// `2 weeks`, `1 rehearsal`.
pub fn amount(amount: Amount) -> String {
    match amount {
        Amount::Weeks(weeks) => counted(weeks as usize, "week"),
        Amount::Rehearsals(rehearsals) => counted(rehearsals as usize, "rehearsal"),
    }
}

impl NoPlan {
    /// Why there is none, and what to do.
    pub fn says(&self) -> String {
        match self {
            NoPlan::NothingTaught(band) => format!(
                "The card of the {band} does not say what it has been taught, so nobody can tell what is new to it. Write it on the card, as in: taught slurs, ties."
            ),
            NoPlan::NoConcert(band) => format!(
                "No concert to come has a day and a piece with a card for the {band}, so there is nothing to teach by a day."
            ),
            NoPlan::Circle(band) => format!(
                "Some skills that the {band} needs wait for each other, so none of them can be first. See what \"levare proofread\" says of their cards."
            ),
        }
    }
}

/// How a plan stands, in a sentence.
pub fn standing(plan: &BandPlan) -> String {
    let all = plan.skills.len();
    let late = plan.late().count();
    match (all, late) {
        (0, _) => "Nothing to teach: the band knows all that is asked.".to_owned(),
        (_, 0) => format!(
            "{} to teach, {} ready in time.",
            counted(all, "skill"),
            if all == 1 { "and it is" } else { "and all are" }
        ),
        _ => format!(
            "{} to teach, and {} cannot be ready in time{}.",
            counted(all, "skill"),
            match all {
                1 => "it".to_owned(),
                _ => format!("{late} of them"),
            },
            if plan.proven {
                ""
            } else {
                " in any plan that was found"
            }
        ),
    }
}

/// What a skill takes, and why so long.
pub fn takes(skill: &Taught) -> String {
    let left = amount(skill.takes);
    match (&skill.whole, skill.begun) {
        (Some(whole), true) => format!("{left}: half of the {whole} on its card, because it was introduced"),
        (Some(_), false) => format!("{left}, by its card"),
        (None, true) => format!("{left}, because it was introduced and no card says how long it takes"),
        (None, false) => format!("{left}, because no card says how long it takes"),
    }
}

/// What a skill is for: the piece that needs it first, and how many others do.
pub fn what_for(plan: &BandPlan, skill: &Taught) -> String {
    let mut said = Vec::new();
    if let Some(first) = plan.first_need(skill) {
        let mut others: Vec<String> = skill
            .pieces
            .iter()
            .filter(|one| one.piece != first.piece)
            .map(|one| format!("\"{}\"", one.piece))
            .collect();
        others.dedup();
        let also = match others.is_empty() {
            true => String::new(),
            false => format!(", then {}", joined(&others)),
        };
        said.push(format!("for \"{}\", {}{also}", first.piece, begins(plan, first)));
    }
    if !skill.under.is_empty() {
        said.push(format!("comes before {}", joined(&skill.under)));
    }
    said.join("; ")
}

/// When a skill must be there for a piece.
fn begins(plan: &BandPlan, one: &For) -> String {
    let evening = plan
        .concerts
        .get(one.concert)
        .map_or("the concert", |evening| &evening.name);
    if one.itself {
        return format!("which teaches it on the way to \"{evening}\"");
    }
    match plan.first_of(one.due).filter(|_| one.due > 0) {
        Some(day) => format!("first rehearsed on {day}"),
        None => "which should be in rehearsal now".to_owned(),
    }
}

/// By how much a skill is late; none where it is not.
pub fn lateness(plan: &BandPlan, skill: &Taught) -> Option<String> {
    let first = plan.first_need(skill).filter(|_| skill.late > 0)?;
    let by = match plan.done(skill) {
        Some(day) => format!("It is done by {day}"),
        None => "It is not done this school year".to_owned(),
    };
    let late = counted(skill.late as usize, "week");
    let evening = plan.concerts.get(first.concert)?;
    let concert = match evening.weeks.checked_sub(skill.until) {
        Some(0) => format!("just before \"{}\"", evening.name),
        Some(left) => format!(
            "{} of rehearsal before \"{}\"",
            counted(left as usize, "week"),
            evening.name
        ),
        None => format!(
            "{} of rehearsal after \"{}\"",
            counted(skill.until.saturating_sub(evening.weeks) as usize, "week"),
            evening.name
        ),
    };
    Some(match first.itself {
        true => format!("{by}, {concert}."),
        false => format!(
            "{by}, {late} after the first rehearsal of \"{}\" and {concert}.",
            first.piece
        ),
    })
}

/// How surely things are known, each in a sentence.
pub fn caveats(plan: &BandPlan) -> Vec<String> {
    use super::weeks::Sure;
    let mut said = Vec::new();
    if !plan.skills.is_empty() {
        said.extend(figures(plan));
    }
    match plan.sure {
        _ if plan.skills.is_empty() => {}
        Sure::Days => {}
        Sure::HowOften => said.push(
            "The band's card says how often it rehearses and not on which days, so a rehearsal may fall a day earlier or later."
                .to_owned(),
        ),
        Sure::Not => said.push(
            "The band's card does not say when it rehearses, so every school day was counted. Write it on the card, as in: meets Tuesday and Thursday."
                .to_owned(),
        ),
    }
    let unknown: Vec<&str> = plan
        .skills
        .iter()
        .filter(|skill| skill.whole.is_none())
        .map(|skill| skill.name.as_str())
        .collect();
    if !unknown.is_empty() {
        said.push(format!(
            "No card says how long {} {}, so 1 week was counted. Write it on a card: skill \"{}\", and below it: takes 2 weeks.",
            joined(&unknown),
            agree(unknown.len(), "takes", "take"),
            unknown.first().unwrap_or(&"")
        ));
    }
    let list = |names: &[String]| joined(&names.iter().map(|name| format!("\"{name}\"")).collect::<Vec<_>>());
    if !plan.taken_as_known.is_empty() {
        said.push(format!(
            "Taken as known, though the band's card does not name {}: {}. The skills above stand on {}; write a skill card for what is not known.",
            agree(plan.taken_as_known.len(), "it", "them"),
            joined(&plan.taken_as_known),
            agree(plan.taken_as_known.len(), "it", "them")
        ));
    }
    if !plan.no_skills.is_empty() {
        said.push(format!(
            "Left out, because no skill card and no usual name says what it is: {}.",
            joined(&plan.no_skills)
        ));
    }
    if !plan.perhaps.is_empty() {
        said.push(format!(
            "Left out, because a card is not sure of it: {}.",
            joined(&plan.perhaps)
        ));
    }
    if !plan.silent.is_empty() {
        said.push(format!(
            "What {} {} is on no card.",
            list(&plan.silent),
            agree(plan.silent.len(), "asks", "ask")
        ));
    }
    if !plan.no_card.is_empty() {
        said.push(format!(
            "{} {} no card to read, so nothing is known of what {}.",
            list(&plan.no_card),
            agree(plan.no_card.len(), "has", "have"),
            agree(plan.no_card.len(), "it asks", "they ask")
        ));
    }
    if !plan.proven && plan.late().next().is_some() {
        said.push("There are too many skills to try every plan, so there may be a better one.".to_owned());
    }
    said
}

/// The figures of ours that the plan rests on.
fn figures(plan: &BandPlan) -> Option<String> {
    let mut write = Vec::new();
    if !plan.at_once.1 {
        write.push(format!("at most {} new skills a week", plan.at_once.0));
    }
    if plan.ours {
        write.push(format!("{TO_A_PIECE} weeks to a piece"));
    }
    (!write.is_empty()).then(|| {
        let write = write.join(", ");
        format!(
            "Nothing says how fast you teach, so this was taken: {write}. If you teach faster or slower, write it in the handbook: teaching {write}."
        )
    })
}

/// One concert, or all of a band's, in words.
pub fn evenings(plan: &BandPlan) -> String {
    let one = |evening: &Evening| format!("\"{}\" on {}", evening.name, evening.day);
    joined(&plan.concerts.iter().map(one).collect::<Vec<_>>())
}

/// A concert's teaching in a few words, for a line above its card: `3 skills to teach, the first by 2026-10-29`.
pub fn in_short(snapshot: &Snapshot, concert: EntryId) -> Option<String> {
    let concerts = [concert];
    let plans: Vec<BandPlan> = bands(snapshot, &concerts)
        .into_iter()
        .filter_map(|band| plan(snapshot, band, &concerts, STEPS_IN_SHORT).ok())
        .collect();
    let all: usize = plans.iter().map(|plan| plan.skills.len()).sum();
    if all == 0 {
        return None;
    }
    let late: usize = plans.iter().map(|plan| plan.late().count()).sum();
    let skills = format!("{} to teach", counted(all, "skill"));
    if late > 0 {
        return Some(format!("{skills}, {late} too late"));
    }
    // The day before which the last of them must be there.
    let last = plans
        .iter()
        .flat_map(|plan| plan.skills.iter().filter_map(|skill| plan.done(skill)));
    Some(match last.max() {
        Some(day) => format!("{skills} by {day}"),
        None => skills,
    })
}
