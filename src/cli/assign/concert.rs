//! A whole concert's sharing for the terminal.

use std::io::{self, Write};

use super::piece::{Ink, say};
use super::table;
use super::winds;
use crate::catalogue::Snapshot;
use crate::cli::color::Paint;
use crate::cli::wrap;
use crate::planning::percussion::{ConcertPlan, PiecePlan, plan_words, words};
use crate::planning::winds::words as wind_words;

/// Tells it: the pieces in order with what happens between them, who does what, and what if somebody is missing.
pub fn tell(
    snapshot: &Snapshot,
    plan: &ConcertPlan,
    without: &[String],
    paint: Paint,
    out: &mut dyn Write,
) -> io::Result<()> {
    let name = snapshot
        .entry(plan.concert)
        .map_or("", |entry| entry.name.as_str());
    writeln!(out, "{}", paint.bold(&wrap::plain(name)))?;
    if let Some(words) = plan_words::date(snapshot, plan) {
        say(&words, paint, Ink::Quiet, out)?;
    }
    for note in plan.notes.iter().chain(&plan_words::no_time_between(plan)) {
        say(note, paint, Ink::Plain, out)?;
    }
    for words in plan_words::set_up(plan) {
        say(&words, paint, Ink::Quiet, out)?;
    }
    for line in plan_words::decided(plan) {
        say(&line, paint, Ink::Plain, out)?;
    }
    for (at, piece) in plan.pieces.iter().enumerate() {
        let gap = at.checked_sub(1).and_then(|before| plan.gaps.get(before));
        let told = gap.map_or(Vec::new(), |gap| plan_words::gap(snapshot, plan, gap));
        if !told.is_empty() {
            writeln!(out)?;
        }
        for line in told {
            say(&format!("  {line}"), paint, Ink::Quiet, out)?;
        }
        writeln!(out)?;
        one(snapshot, (at, piece), paint, out)?;
    }
    winds_amiss(snapshot, plan, without, paint, out)?;
    let duties = plan_words::duty_list(snapshot, plan);
    if !duties.is_empty() {
        writeln!(out)?;
        writeln!(out, "{}", paint.bold("Duties"))?;
        for line in duties.into_iter().chain(plan_words::evening(snapshot, plan)) {
            say(&line, paint, Ink::Plain, out)?;
        }
    }
    let backups = plan_words::backups(snapshot, plan);
    if !backups.is_empty() {
        writeln!(out)?;
        writeln!(out, "{}", paint.bold("If somebody is missing"))?;
        for line in backups {
            say(&line, paint, Ink::Plain, out)?;
        }
    }
    let mut told: Vec<String> = Vec::new();
    let questions = plan.pieces.iter().filter_map(|piece| piece.question.as_ref());
    for line in questions.flat_map(|question| words::times(question, snapshot.instruments())) {
        if !told.contains(&line) {
            told.push(line);
        }
    }
    if !told.is_empty() {
        writeln!(out)?;
    }
    for line in told {
        say(&line, paint, Ink::Quiet, out)?;
    }
    Ok(())
}

/// What of the winds is short in the pieces; who has which part is told with each piece by itself.
fn winds_amiss(
    snapshot: &Snapshot,
    plan: &ConcertPlan,
    without: &[String],
    paint: Paint,
    out: &mut dyn Write,
) -> io::Result<()> {
    let mut said = false;
    for (at, piece) in plan.pieces.iter().enumerate() {
        let setting = piece.setting.as_ref();
        let Some(sharing) = setting.and_then(|one| winds::sharing(snapshot, one, without)) else {
            continue;
        };
        let amiss = wind_words::amiss(&sharing);
        if amiss.is_empty() {
            continue;
        }
        if !said {
            writeln!(out)?;
            writeln!(out, "{}", paint.bold("Winds"))?;
            said = true;
        }
        say(
            &format!("{}. {}", at.saturating_add(1), amiss.join(" ")),
            paint,
            Ink::Plain,
            out,
        )?;
    }
    Ok(())
}

fn one(
    snapshot: &Snapshot,
    (at, piece): (usize, &PiecePlan),
    paint: Paint,
    out: &mut dyn Write,
) -> io::Result<()> {
    let number = at.saturating_add(1);
    writeln!(
        out,
        "{}",
        paint.bold(&wrap::plain(&format!("{number}. {}", piece.title)))
    )?;
    let (Some(setting), Some(question), Some(answer)) = (&piece.setting, &piece.question, &piece.answer)
    else {
        return say("There is no card of this title.", paint, Ink::Plain, out);
    };
    say(&words::for_whom(snapshot, setting), paint, Ink::Quiet, out)?;
    if let Some(card) = snapshot.entry(setting.piece).and_then(|entry| entry.piece()) {
        for line in words::coarse(question, card) {
            say(&line, paint, Ink::Plain, out)?;
        }
    }
    for line in words::how_many(question, answer)
        .into_iter()
        .take(1)
        .chain(words::shared_among(answer))
    {
        say(&line, paint, Ink::Plain, out)?;
    }
    if let Some(sharing) = &answer.sharing
        && !sharing.turns.iter().all(Vec::is_empty)
    {
        writeln!(out)?;
        table::write(question, sharing, table::width(), paint, out)?;
        writeln!(out)?;
    }
    for line in words::decided_in_a_concert(question)
        .into_iter()
        .chain(words::clashes(question, answer))
    {
        say(&line, paint, Ink::Plain, out)?;
    }
    for line in words::lacking(&setting.lacking(snapshot, question)) {
        say(&line, paint, Ink::Plain, out)?;
    }
    for line in words::roster(question, answer, false) {
        say(&line, paint, Ink::Plain, out)?;
    }
    Ok(())
}
