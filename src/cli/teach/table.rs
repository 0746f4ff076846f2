//! A plan of teaching to be read.

use std::io::{self, Write};

use crate::catalogue::Snapshot;
use crate::cli::color::Paint;
use crate::cli::say::{gap, item, say};
use crate::cli::wrap;
use crate::planning::teach::words::{caveats, evenings, lateness, standing, takes, what_for};
use crate::planning::teach::{BandPlan, Taught, last_times};
use crate::text::sentences::{capital, counted, joined};

/// Tells the plans of all bands.
pub fn tell(snapshot: &Snapshot, plans: &[BandPlan], paint: Paint, out: &mut dyn Write) -> io::Result<()> {
    for (at, plan) in plans.iter().enumerate() {
        if at > 0 {
            gap(out)?;
        }
        one(snapshot, plan, paint, out)?;
    }
    Ok(())
}

fn one(snapshot: &Snapshot, plan: &BandPlan, paint: Paint, out: &mut dyn Write) -> io::Result<()> {
    writeln!(out, "{}", paint.bold(&plan.name))?;
    say(&format!("For {}. {}", evenings(plan), standing(plan)), out)?;
    weeks(plan, out)?;
    if !plan.skills.is_empty() {
        gap(out)?;
    }
    for skill in &plan.skills {
        item(&about(plan, skill), out)?;
    }
    for (nth, (title, said)) in last_times(snapshot, plan).iter().enumerate() {
        if nth == 0 {
            gap(out)?;
            say("From the last time:", out)?;
        }
        item(&format!("{title}: {}", said.join(" ")), out)?;
    }
    let said = caveats(plan);
    if !said.is_empty() {
        gap(out)?;
    }
    for words in said {
        say(&words, out)?;
    }
    Ok(())
}

/// The weeks in which something is in hand, and those in which something is due.
fn weeks(plan: &BandPlan, out: &mut dyn Write) -> io::Result<()> {
    let dues = || {
        let all = plan.skills.iter().flat_map(|skill| &skill.pieces);
        all.filter(|one| !one.itself && one.due > 0)
    };
    let last = plan.skills.iter().map(|skill| skill.until).max().unwrap_or(0);
    let last = dues().map(|one| one.due.saturating_add(1)).fold(last, u32::max);
    if last == 0 {
        return Ok(());
    }
    gap(out)?;
    writeln!(out, "  week of     rehearsals  in hand")?;
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
        idle_row(&mut idle, out)?;
        let mut words = open.join(", ");
        if !begun.is_empty() {
            let semicolon = if words.is_empty() { "" } else { "; " };
            words = format!("{words}{semicolon}begin {}", joined(&begun));
        }
        row(&week.monday.to_string(), week.days.len(), &words, out)?;
    }
    idle_row(&mut idle, out)
}

fn idle_row(idle: &mut (u32, usize), out: &mut dyn Write) -> io::Result<()> {
    let (weeks, rehearsals) = std::mem::take(idle);
    match weeks {
        0 => Ok(()),
        weeks => row(&counted(weeks as usize, "week"), rehearsals, "nothing new", out),
    }
}

fn row(week: &str, rehearsals: usize, words: &str, out: &mut dyn Write) -> io::Result<()> {
    let head = format!("  {week:<10}  {rehearsals:<10}  ");
    let room = wrap::width().saturating_sub(head.len() + 2);
    for (at, line) in wrap::lines(&wrap::plain(words), room, 0).iter().enumerate() {
        let head = match at {
            0 => head.clone(),
            _ => " ".repeat(head.len() + 2),
        };
        writeln!(out, "{head}{line}")?;
    }
    Ok(())
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
        said.push(format!("The band's card says by {promised}."));
    }
    said.join(" ")
}

fn uncapital(words: &str) -> String {
    let mut letters = words.chars();
    letters
        .next()
        .map_or_else(String::new, |first| first.to_lowercase().chain(letters).collect())
}
