//! Findings to read: card by card, the worst first; what is wrong, the lines of the card, why, and what to do.

use std::io::{self, Write};

use super::drawing::{Manner, Mark, draw};
use super::{Place, Report, Told};
use crate::cli::color::Paint;
use crate::cli::wrap::{self, columns, plain};
use crate::findings::Severity;
use crate::text::sentences::capital;

/// Columns before what is said of a card.
const INDENT: usize = 2;

/// Tells all that was found.
pub fn tell(report: &Report<'_>, width: usize, paint: Paint, out: &mut dyn Write) -> io::Result<()> {
    let mut teller = Teller { width, paint, out };
    for card in by_card(report) {
        let Some(first) = card.first() else { continue };
        teller.head(first)?;
        let mut rest = card.as_slice();
        while let Some(first) = rest.first() {
            // The same thing said twice of one card is said once, with both places.
            let same = rest.iter().take_while(|other| same(first, other)).count();
            let (together, others) = rest.split_at(same.max(1));
            teller.finding(first, together)?;
            rest = others;
        }
    }
    for problem in &report.problems {
        let shown = plain(&problem.to_string());
        for line in wrap::lines(&shown, width, 0) {
            writeln!(teller.out, "{line}")?;
        }
        writeln!(teller.out)?;
    }
    for line in wrap::lines(&closing(report), width, 0) {
        writeln!(teller.out, "{line}")?;
    }
    Ok(())
}

/// What was found, a list a card: the worst first, and cards by the worst of each.
pub(super) fn by_card<'t, 'r>(report: &'t Report<'r>) -> Vec<Vec<&'t Told<'r>>> {
    let mut cards: Vec<Vec<&Told<'_>>> = report
        .told
        .chunk_by(|one, other| std::sync::Arc::ptr_eq(&one.shelf, &other.shelf) && one.id == other.id)
        .map(|card| card.iter().collect())
        .collect();
    for card in &mut cards {
        card.sort_by_key(|told| told.finding.severity);
    }
    cards.sort_by_key(|card| card.first().map(|told| told.finding.severity));
    cards
}

/// Whether two findings say the same thing.
pub(super) fn same(one: &Told<'_>, other: &Told<'_>) -> bool {
    one.finding.phrase == other.finding.phrase
        && one.finding.saying == other.finding.saying
        && one.finding.related == other.finding.related
}

struct Teller<'o> {
    width: usize,
    paint: Paint,
    out: &'o mut dyn Write,
}

impl Teller<'_> {
    /// The head of a card, ruled below as an index card is: its name, and at the right the file it is kept in.
    fn head(&mut self, told: &Told<'_>) -> io::Result<()> {
        let name = plain(told.card());
        let file = plain(&told.sheet.shown);
        let used = columns(&name).saturating_add(columns(&file));
        match self.width.checked_sub(used).filter(|between| *between >= 2) {
            Some(between) => {
                let file = self.paint.quiet(&file);
                writeln!(self.out, "{}{:between$}{file}", self.paint.bold(&name), "")?;
            }
            None => {
                for line in wrap::lines(&name, self.width, 0) {
                    writeln!(self.out, "{}", self.paint.bold(&line))?;
                }
                writeln!(self.out, "{}", self.paint.quiet(&file))?;
            }
        }
        writeln!(self.out, "{}\n", self.paint.margin(&"─".repeat(self.width)))
    }

    fn finding(&mut self, told: &Told<'_>, together: &[&Told<'_>]) -> io::Result<()> {
        let finding = &told.finding;
        let saying = &finding.saying;
        self.words(&match saying.place.is_empty() {
            true => saying.says.clone(),
            false => format!("{}: {}", capital(&saying.place), saying.says),
        })?;
        let places: Vec<Place<'_>> = together.iter().map(|told| told.place()).collect();
        // What explains it on the same card is shown with it; what stands elsewhere comes after.
        let related = finding
            .related
            .iter()
            .map(|related| (related, told.related(related)));
        let (here, elsewhere): (Vec<_>, Vec<_>) =
            related.partition(|(related, place)| place.is_some() && related.card.is_none());
        let mut marks: Vec<Mark<'_, '_>> = places.iter().map(|place| Mark { place, ringed: true }).collect();
        marks.extend(here.iter().filter_map(|(_, place)| {
            let place = place.as_ref()?;
            Some(Mark { place, ringed: false })
        }));
        self.drawing(&marks, finding.severity)?;
        self.words(&saying.why)?;
        let sure = finding.repairs.iter().find(|repair| repair.safe);
        let sure = sure.map_or(String::new(), |repair| {
            let title = repair.title.trim_end_matches('.');
            format!(" ({title}: --correct does it.)")
        });
        self.todo(&format!("{}{sure}", saying.todo))?;
        for (related, place) in &elsewhere {
            let Some(place) = place else {
                self.words(&related.says)?;
                continue;
            };
            let stands = format!("{}, line {}", place.sheet.shown, place.line());
            self.words(&format!(
                "{} ({stands}).",
                capital(related.says.trim_end_matches('.'))
            ))?;
            self.drawing(&[Mark { place, ringed: false }], Severity::Hint)?;
        }
        let line = places.first().map_or(0, Place::line);
        let known = if told.known { ", known" } else { "" };
        let foot = format!("line {line} · {} ({}{known})", finding.phrase, finding.severity);
        let blanks = self.width.saturating_sub(columns(&foot));
        writeln!(self.out, "{:blanks$}{}\n", "", self.paint.quiet(&foot))
    }

    /// What is to be done, as an item to check off.
    fn todo(&mut self, words: &str) -> io::Result<()> {
        let box_and_blank = columns("☐ ");
        for (index, line) in self.set(words, box_and_blank).into_iter().enumerate() {
            let before = if index == 0 { "☐ " } else { "  " };
            writeln!(self.out, "{:INDENT$}{}{line}", "", self.paint.bold(before))?;
        }
        Ok(())
    }

    fn words(&mut self, words: &str) -> io::Result<()> {
        for line in self.set(words, 0) {
            writeln!(self.out, "{:INDENT$}{line}", "")?;
        }
        Ok(())
    }

    /// Words in lines, some columns narrower; none when there is nothing to say.
    fn set(&self, words: &str, narrower: usize) -> Vec<String> {
        let room = self.width.saturating_sub(INDENT).saturating_sub(narrower);
        match words.trim().is_empty() {
            true => Vec::new(),
            false => wrap::lines(&plain(words), room, 0),
        }
    }

    fn drawing(&mut self, marks: &[Mark<'_, '_>], severity: Severity) -> io::Result<()> {
        let manner = Manner {
            width: self.width,
            severity,
            paint: self.paint,
        };
        let rows = draw(marks, manner);
        writeln!(self.out)?;
        for row in &rows {
            writeln!(self.out, "{row}")?;
        }
        // The lower half of a ring stands clear of the words below by itself.
        match rows.last().is_some_and(|row| row.contains('╰')) {
            true => Ok(()),
            false => writeln!(self.out),
        }
    }
}

/// What stands at the end: how much was found on how many cards, what was left out, and what to do next.
pub fn closing(report: &Report<'_>) -> String {
    let cards = by_card(report).len();
    let mut words = match report.told.len() {
        // What was asked about could not be read, which is told.
        0 if report.cards == 0 && !report.problems.is_empty() => return "No card was read.".to_owned(),
        0 => format!("Nothing found on {}", count(report.cards, "card", "cards")),
        found => format!(
            "{} on {}",
            count(found, "finding", "findings"),
            count(cards, "card", "cards")
        ),
    };
    if report.hints > 0 {
        words.push_str(&format!("; {} more", count(report.hints, "hint", "hints")));
    }
    words.push('.');
    if report.hints > 0 {
        words.push_str(" To read the hints too: --least hint.");
    }
    if report.weaker > 0 {
        words.push_str(&format!(
            " {} left out as weaker.",
            count(report.weaker, "finding was", "findings were")
        ));
    }
    if report.known > 0 {
        words.push_str(&format!(
            " {} left out as known; to read them too: --all.",
            count(report.known, "finding was", "findings were")
        ));
    }
    if report.gone > 0 {
        words.push_str(&format!(
            " {} gone; --record-known takes them from the list.",
            count(report.gone, "known finding is", "known findings are")
        ));
    }
    if let Some(next) = next(report) {
        words.push_str(&format!(" {next}"));
    }
    words
}

/// What to do next: what needs no decision first, else to ask about the worst.
fn next(report: &Report<'_>) -> Option<String> {
    let sure = |told: &&Told<'_>| told.finding.repairs.iter().any(|repair| repair.safe);
    let sure = report.told.iter().filter(sure).count();
    if sure > 0 {
        let them = count(sure, "correction", "corrections");
        let need = if sure == 1 { "needs" } else { "need" };
        return Some(format!(
            "Next: {them} {need} no decision, and levare proofread --correct makes {}.",
            if sure == 1 { "it" } else { "them" }
        ));
    }
    let cards = by_card(report);
    let worst = cards.first()?.first()?;
    Some(format!(
        "Next: start at the top; levare reason {} tells more about the first.",
        worst.finding.phrase
    ))
}

/// A number with its word.
pub fn count(number: usize, one: &str, many: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { many })
}
