//! Findings to be read aloud by a screen reader: whole sentences, a paragraph a finding, nothing drawn.

use std::io::{self, Write};

use super::cards::{by_card, closing, same};
use super::{Place, Report, Told};
use crate::cli::wrap::plain;
use crate::text::sentences::{capital, sentence};

/// Longer lines of a card are cut where they are read out.
const LONGEST: usize = 200;

/// Tells all that was found.
pub fn tell(report: &Report<'_>, out: &mut dyn Write) -> io::Result<()> {
    let cards = by_card(report);
    for card in &cards {
        let Some(first) = card.first() else { continue };
        let name = plain(first.card());
        writeln!(out, "{name}, in {}.\n", plain(&first.sheet.shown))?;
        let mut rest = card.as_slice();
        while let Some(first) = rest.first() {
            let together = rest.iter().take_while(|other| same(first, other)).count();
            let (together, others) = rest.split_at(together.max(1));
            writeln!(out, "{}\n", paragraph(first, together))?;
            rest = others;
        }
    }
    for problem in &report.problems {
        writeln!(out, "{}\n", plain(&problem.to_string()))?;
    }
    writeln!(out, "{}", closing(report))
}

fn paragraph(told: &Told<'_>, together: &[&Told<'_>]) -> String {
    let finding = &told.finding;
    let saying = &finding.saying;
    let mut words: Vec<String> = Vec::new();
    let places: Vec<Place<'_>> = together.iter().map(|told| told.place()).collect();
    let known = if told.known { ", known" } else { "" };
    words.push(format!("{}{known}.", capital(finding.severity.word())));
    words.push(match saying.place.is_empty() {
        true => saying.says.clone(),
        false => format!("{}: {}", capital(&saying.place), saying.says),
    });
    words.extend(places.iter().map(read_out));
    words.push(saying.why.clone());
    words.push(format!("What to do: {}", saying.todo));
    if let Some(repair) = finding.repairs.iter().find(|repair| repair.safe) {
        let title = repair.title.trim_end_matches('.');
        words.push(format!("{title}: --correct does it."));
    }
    for related in &finding.related {
        let says = capital(related.says.trim_end_matches('.'));
        words.push(match told.related(related) {
            Some(place) => {
                let file = match related.card.is_some() {
                    true => format!(", in {}", place.sheet.shown),
                    false => String::new(),
                };
                format!("{says}{file}: {}", read_out(&place))
            }
            None => format!("{says}."),
        });
    }
    words.push(format!("This finding is called \"{}\".", finding.phrase));
    plain(&words.join(" "))
}

/// `Line 14 reads: crash cymbals 1-112. The words in question are: 1-112.`
fn read_out(place: &Place<'_>) -> String {
    let text = &place.sheet.text;
    let number = place.line();
    let whole = place.lines.line_span(number.saturating_sub(1)).slice(text);
    let line = short(whole);
    let meant = short(place.span.slice(text).lines().next().unwrap_or(""));
    match meant.is_empty() || line == meant {
        true => sentence(&format!("Line {number} reads: {line}")),
        false => format!(
            "{} {}",
            sentence(&format!("Line {number} reads: {line}")),
            sentence(&format!("The words in question are: {meant}"))
        ),
    }
}

/// The words of a line with single blanks, and not more than anybody would listen to.
fn short(words: &str) -> String {
    let single = words.split_whitespace().collect::<Vec<_>>().join(" ");
    match single.char_indices().nth(LONGEST) {
        Some((end, _)) => format!("{} and so on", single.get(..end).unwrap_or("")),
        None => single,
    }
}
