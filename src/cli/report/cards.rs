//! Findings to read: a sentence with a musical place first, the lines of the card, why, and what to do.

use std::io::{self, Write};

use super::drawing::{Manner, Mark, draw};
use super::{Place, Report, Told};
use crate::cli::color::Paint;
use crate::cli::wrap::{self, plain};
use crate::findings::Severity;

/// Columns of the words before a part, blanks included.
const LABEL: usize = 14;

/// Tells all that was found.
pub fn tell(report: &Report<'_>, width: usize, paint: Paint, out: &mut dyn Write) -> io::Result<()> {
    let mut teller = Teller { width, paint, out };
    let mut rest = report.told.as_slice();
    while let Some(first) = rest.first() {
        // The same thing said twice of one card is said once, with both places.
        let same = rest.iter().take_while(|other| same(first, other)).count();
        let (together, others) = rest.split_at(same.max(1));
        teller.finding(first, together)?;
        rest = others;
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

fn same(one: &Told<'_>, other: &Told<'_>) -> bool {
    one.entry.name_span == other.entry.name_span
        && std::sync::Arc::ptr_eq(&one.entry, &other.entry)
        && one.id == other.id
        && one.finding.phrase == other.finding.phrase
        && one.finding.saying == other.finding.saying
        && one.finding.related == other.finding.related
}

struct Teller<'o> {
    width: usize,
    paint: Paint,
    out: &'o mut dyn Write,
}

impl Teller<'_> {
    fn finding(&mut self, told: &Told<'_>, together: &[Told<'_>]) -> io::Result<()> {
        let finding = &told.finding;
        let saying = &finding.saying;
        self.sentence(told)?;
        let places: Vec<Place<'_>> = together.iter().map(Told::place).collect();
        // What explains it on the same card is drawn with it; what stands elsewhere comes after.
        let (here, elsewhere): (Vec<_>, Vec<_>) = finding
            .related
            .iter()
            .map(|related| (related, told.related(related)))
            .partition(|(related, place)| place.is_some() && related.card.is_none());
        let mut marks: Vec<Mark<'_, '_>> = places.iter().map(|place| Mark { place, says: None }).collect();
        marks.extend(here.iter().filter_map(|(related, place)| {
            let place = place.as_ref()?;
            let says = Some(related.says.as_str());
            Some(Mark { place, says })
        }));
        self.drawing(&marks, finding.severity)?;
        self.part("Why", &saying.why)?;
        self.part("What to do", &saying.todo)?;
        if let Some(repair) = finding.repairs.iter().find(|repair| repair.safe) {
            let title = repair.title.trim_end_matches('.');
            self.part("Mend", &format!("{title}: levare proofread --mend does it."))?;
        }
        for (related, place) in &elsewhere {
            let Some(place) = place else {
                self.part("See", &related.says)?;
                continue;
            };
            let stands = format!("{}, line {}", place.sheet.shown, place.line());
            self.part("See", &format!("{} ({stands})", related.says))?;
            let says = Some("");
            self.drawing(&[Mark { place, says }], Severity::Hint)?;
        }
        let line = places.first().map_or(0, Place::line);
        let known = if told.known { ", known" } else { "" };
        let quiet = format!(
            "{} ({}{known}) · {}, line {line}",
            finding.phrase,
            finding.severity,
            plain(&told.sheet.shown)
        );
        writeln!(self.out, "  {}\n", self.paint.quiet(&quiet))
    }

    /// The card's name, the place, and what is wrong.
    fn sentence(&mut self, told: &Told<'_>) -> io::Result<()> {
        let card = plain(told.card());
        let saying = &told.finding.saying;
        let place = match saying.place.is_empty() {
            true => String::new(),
            false => format!(", {}", saying.place),
        };
        let whole = plain(&format!("{card}{place}: {}", saying.says));
        let mut set = wrap::lines(&whole, self.width, 0);
        // The name is inked where it stands whole on the first line.
        if let Some(first) = set.first_mut()
            && let Some(rest) = first.strip_prefix(card.as_str())
        {
            *first = format!("{}{rest}", self.paint.strength(told.finding.severity, &card));
        }
        self.rows(&set)
    }

    /// A part with its word before it and its lines under each other; nothing when there is nothing to say.
    fn part(&mut self, label: &str, words: &str) -> io::Result<()> {
        if words.trim().is_empty() {
            return Ok(());
        }
        let set = wrap::lines(&plain(words), self.width.saturating_sub(LABEL), 0);
        for (index, line) in set.iter().enumerate() {
            let label = if index == 0 { label } else { "" };
            let blanks = LABEL.saturating_sub(2).saturating_sub(label.len());
            writeln!(self.out, "  {}{:blanks$}{line}", self.paint.bold(label), "")?;
        }
        Ok(())
    }

    fn drawing(&mut self, marks: &[Mark<'_, '_>], severity: Severity) -> io::Result<()> {
        let manner = Manner {
            width: self.width,
            numbers: true,
            severity,
            paint: self.paint,
        };
        writeln!(self.out)?;
        self.rows(&draw(marks, manner))?;
        writeln!(self.out)
    }

    fn rows(&mut self, rows: &[String]) -> io::Result<()> {
        for row in rows {
            writeln!(self.out, "{row}")?;
        }
        Ok(())
    }
}

/// The sentence at the end: how much was found on how many cards, and what was left out.
pub fn closing(report: &Report<'_>) -> String {
    let mut cards: Vec<(usize, _)> = report
        .told
        .iter()
        .map(|told| (std::sync::Arc::as_ptr(&told.shelf) as usize, told.id))
        .collect();
    cards.sort_unstable();
    cards.dedup();
    let mut words = match report.told.len() {
        // What was asked about could not be read, which is told.
        0 if report.cards == 0 && !report.problems.is_empty() => return "No card was read.".to_owned(),
        0 => format!("Nothing found on {}", count(report.cards, "card", "cards")),
        found => format!(
            "{} on {}",
            count(found, "finding", "findings"),
            count(cards.len(), "card", "cards")
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
    words
}

/// A number with its word.
pub fn count(number: usize, one: &str, many: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { many })
}
