//! A whole concert's sharing for the terminal.

use std::io::{self, Write};

use super::piece::{Ink, say};
use super::table;
use crate::catalogue::Snapshot;
use crate::cli::color::Paint;
use crate::cli::wrap;
use crate::planning::percussion::{ConcertPlan, PiecePlan, plan_words, words};

/// Tells it: the pieces in order with what happens between them, who does what, and what if somebody is missing.
pub fn tell(snapshot: &Snapshot, plan: &ConcertPlan, paint: Paint, out: &mut dyn Write) -> io::Result<()> {
    let name = snapshot
        .entry(plan.concert)
        .map_or("", |entry| entry.name.as_str());
    writeln!(out, "{}", paint.bold(&wrap::plain(name)))?;
    if let Some(words) = plan_words::date(snapshot, plan) {
        say(&words, paint, Ink::Quiet, out)?;
    }
    for note in &plan.notes {
        say(note, paint, Ink::Plain, out)?;
    }
    if let Some(words) = plan_words::set_up(plan) {
        say(&words, paint, Ink::Quiet, out)?;
    }
    for (at, piece) in plan.pieces.iter().enumerate() {
        if let Some(gap) = at.checked_sub(1).and_then(|before| plan.gaps.get(before)) {
            writeln!(out)?;
            for line in plan_words::gap(snapshot, plan, gap) {
                say(&format!("  {line}"), paint, Ink::Quiet, out)?;
            }
        }
        writeln!(out)?;
        one(snapshot, (at, piece), paint, out)?;
    }
    let duties = plan_words::duty_list(snapshot, plan);
    if !duties.is_empty() {
        writeln!(out)?;
        writeln!(out, "{}", paint.bold("Duties"))?;
        for line in duties {
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
    for line in words::how_many(question, answer).into_iter().take(1) {
        say(&line, paint, Ink::Plain, out)?;
    }
    if let Some(sharing) = &answer.sharing
        && !sharing.turns.iter().all(Vec::is_empty)
    {
        writeln!(out)?;
        table::write(question, sharing, table::width(), paint, out)?;
        writeln!(out)?;
    }
    for line in words::lacking(&setting.lacking(snapshot, question)) {
        say(&line, paint, Ink::Plain, out)?;
    }
    for line in words::roster(question, answer) {
        say(&line, paint, Ink::Plain, out)?;
    }
    Ok(())
}
