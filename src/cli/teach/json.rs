//! Plans of teaching for programs: an object for each band. Weeks are counted from 0 in the list `weeks`; a week
//! that is not counted any more stands in `until`.

use std::io::{self, Write};

use serde::Serialize;

use crate::cli::report::lines;
use crate::planning::teach::weeks::{Amount, Sure};
use crate::planning::teach::{BandPlan, Taught};

#[derive(Serialize)]
struct PlanLine<'p> {
    about: &'static str,
    band: &'p str,
    concerts: Vec<ConcertLine<'p>>,
    rehearsal_days: &'static str,
    at_once: u32,
    weeks: Vec<WeekLine>,
    skills: Vec<SkillLine<'p>>,
    late: usize,
    proven: bool,
    no_skills: &'p [String],
    perhaps: &'p [String],
    taken_as_known: &'p [String],
    no_card: &'p [String],
    silent: &'p [String],
}

#[derive(Serialize)]
struct ConcertLine<'p> {
    concert: &'p str,
    on: String,
    weeks: u32,
    rehearsals: u32,
}

#[derive(Serialize)]
struct WeekLine {
    monday: String,
    rehearsals: Vec<String>,
}

#[derive(Serialize)]
struct SkillLine<'p> {
    skill: &'p str,
    weeks: Option<u32>,
    rehearsals: Option<u32>,
    on_its_card: Option<&'p str>,
    introduced: bool,
    from: u32,
    until: u32,
    ready: Option<String>,
    due: Option<u32>,
    late: u32,
    pieces: Vec<PieceLine<'p>>,
    before: &'p [String],
    taught_in: &'p [String],
    promised: Option<String>,
}

#[derive(Serialize)]
struct PieceLine<'p> {
    piece: &'p str,
    concert: &'p str,
    due: u32,
    teaches_it: bool,
}

/// Writes the objects.
pub fn tell(plans: &[BandPlan], out: &mut dyn Write) -> io::Result<()> {
    for plan in plans {
        let line = PlanLine {
            about: "teaching",
            band: &plan.name,
            concerts: plan
                .concerts
                .iter()
                .map(|evening| ConcertLine {
                    concert: &evening.name,
                    on: evening.day.to_string(),
                    weeks: evening.weeks,
                    rehearsals: evening.rehearsals,
                })
                .collect(),
            rehearsal_days: match plan.sure {
                Sure::Days => "known",
                Sure::HowOften => "how often",
                Sure::Not => "not known",
            },
            at_once: plan.at_once.0,
            weeks: plan
                .weeks
                .iter()
                .map(|week| WeekLine {
                    monday: week.monday.to_string(),
                    rehearsals: week.days.iter().map(ToString::to_string).collect(),
                })
                .collect(),
            skills: plan.skills.iter().map(|one| skill(plan, one)).collect(),
            late: plan.late().count(),
            proven: plan.proven,
            no_skills: &plan.no_skills,
            perhaps: &plan.perhaps,
            taken_as_known: &plan.taken_as_known,
            no_card: &plan.no_card,
            silent: &plan.silent,
        };
        lines::line(&line, out)?;
    }
    Ok(())
}

fn skill<'p>(plan: &'p BandPlan, one: &'p Taught) -> SkillLine<'p> {
    let (weeks, rehearsals) = match one.takes {
        Amount::Weeks(weeks) => (Some(weeks), None),
        Amount::Rehearsals(rehearsals) => (None, Some(rehearsals)),
    };
    SkillLine {
        skill: &one.name,
        weeks,
        rehearsals,
        on_its_card: one.whole.as_deref(),
        introduced: one.begun,
        from: one.from,
        until: one.until,
        ready: plan.done(one).map(|day| day.to_string()),
        due: plan.first_need(one).map(|first| first.due),
        late: one.late,
        pieces: one
            .pieces
            .iter()
            .map(|piece| PieceLine {
                piece: &piece.piece,
                concert: plan
                    .concerts
                    .get(piece.concert)
                    .map_or("", |evening| &evening.name),
                due: piece.due,
                teaches_it: piece.itself,
            })
            .collect(),
        before: &one.under,
        taught_in: &one.taught_in,
        promised: one.promised.map(|day| day.to_string()),
    }
}
