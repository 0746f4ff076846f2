//! Marks of version control where changes collide.

use crate::findings::card::Card;
use crate::findings::finding::{Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::tree::{Stray, StrayWhy};
use crate::rule;
use crate::text::{Edit, Span, whole_lines};

rule! {
    /// The marks that version control leaves in a file when two people changed the same lines.
    ///
    /// # Why it matters
    ///
    /// Both versions are on the card, one under the other. Until one of them is chosen, the card says things
    /// that neither of you wrote.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Harbor Parade"
    /// <<<<<<< ours
    /// ^^^^^^^^^^^^
    ///   style           march
    /// =======
    ///   style           parade
    /// >>>>>>> theirs
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Harbor Parade"
    ///   style           march
    ///   notes           << softer here >>
    /// ```
    ///
    /// # What to do
    ///
    /// Keep the lines that are right, and take out the others and the marks.
    TwoEditsMet: "changes collide", Notation, Error, reads Card, looks at Any
}

/// The marks of one place, with the lines that each version takes out.
pub struct Met {
    /// Both versions in a few words each, where all the marks stand on this card.
    versions: Option<(String, String)>,
    /// What goes when the upper version stays.
    keep_upper: Vec<Span>,
    /// What goes when the lower version stays.
    keep_lower: Vec<Span>,
}

impl Notice for TwoEditsMet {
    type What = Met;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Met>> {
        let strays = card.reading.tree.strays.iter();
        let marks: Vec<&Stray> = strays.filter(|stray| stray.why == StrayWhy::Conflict).collect();
        let starts = |stray: &&Stray, mark: &str| card.words(stray.body).starts_with(mark);
        let mut found = Vec::new();
        let mut at = 0;
        while let Some(first) = marks.get(at) {
            let rest = marks.get(at..).unwrap_or(&[]);
            // A card may hold only the end of what began on the card above it.
            let length = match rest.iter().position(|mark| starts(mark, ">>>>>>>")) {
                Some(last) => last + 1,
                None => rest.len(),
            };
            let group = rest.get(..length).unwrap_or(rest);
            found.push(Noticed::new(first.body, met(card, group)));
            at += length.max(1);
        }
        found
    }

    fn say(what: &Met, _card: &Card<'_>) -> Saying {
        let says = "Two people's changes collide here, and both versions are on the card";
        Saying {
            place: String::new(),
            says: match &what.versions {
                Some((upper, lower)) => format!("{says}: {upper} or {lower}."),
                None => format!("{says}."),
            },
            why: "Until one is chosen, the card says things that neither of you wrote.".to_owned(),
            todo: "Keep the lines that are right, and take out the others and the marks.".to_owned(),
        }
    }

    fn repairs(noticed: &Noticed<Met>, _card: &Card<'_>) -> Vec<Repair> {
        let remove = |spans: &[Span]| spans.iter().map(|span| Edit::remove(*span)).collect();
        let what = &noticed.what;
        [
            ("Keep the upper version", &what.keep_upper),
            ("Keep the lower version", &what.keep_lower),
        ]
        .into_iter()
        .filter(|(_, spans)| !spans.is_empty())
        .map(|(title, spans)| Repair::to_decide(title, remove(spans)))
        .collect()
    }
}

/// What to take out for either version, where all the marks stand on this card.
fn met(card: &Card<'_>, group: &[&Stray]) -> Met {
    let line = |mark: &str| {
        let stray = group
            .iter()
            .find(|stray| card.words(stray.body).starts_with(mark))?;
        Some(whole_lines(card.text(), stray.body))
    };
    let (Some(first), Some(middle), Some(last)) = (line("<<<<<<<"), line("======="), line(">>>>>>>")) else {
        return Met {
            versions: None,
            keep_upper: Vec::new(),
            keep_lower: Vec::new(),
        };
    };
    // Some programs also show what stood there before, between two more marks.
    let before = line("|||||||").unwrap_or(middle);
    let upper = Span::new(first.end, before.start).slice(card.text());
    let lower = Span::new(middle.end, last.start).slice(card.text());
    // Where one side took out all the lines there are, it took out the card.
    let head = card.reading.tree.lines.first().map_or(0, |line| line.span.end);
    let is_all = first.start == head
        && Span::new(last.end, Span::whole(card.text()).end)
            .slice(card.text())
            .trim()
            .is_empty();
    let keep = |version: &str, spans: Vec<Span>| match is_all && version.trim().is_empty() {
        true => vec![Span::whole(card.text())],
        false => spans,
    };
    Met {
        versions: Some((shortly(upper), shortly(lower))),
        keep_upper: keep(upper, vec![first, Span::new(before.start, last.end)]),
        keep_lower: keep(lower, vec![Span::new(first.start, middle.end), last]),
    }
}

/// The longest version that is shown whole, in characters.
const LONGEST: usize = 60;

/// A version in a few words.
fn shortly(version: &str) -> String {
    let mut lines = version.lines().filter(|line| !line.trim().is_empty());
    let Some(first) = lines.next() else {
        return "taken out".to_owned();
    };
    let words = first.split_whitespace().collect::<Vec<_>>().join(" ");
    let words = words.trim_end_matches('.');
    let more = lines.next().is_some();
    match words.char_indices().nth(LONGEST) {
        Some((at, _)) => format!("\"{} ...\"", words.get(..at).unwrap_or("").trim_end()),
        None if more => format!("\"{words} ...\""),
        None => format!("\"{words}\""),
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use crate::catalogue::{CardFile, Snapshot};
    use crate::findings::{Finding, of_card};
    use crate::text::apply;

    fn found(text: &str) -> Finding {
        let file = Arc::new(CardFile::read("a.levare", text));
        let snapshot = Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20));
        let mut all = snapshot.entries().flat_map(|(id, _)| of_card(&snapshot, id));
        all.find(|finding| finding.phrase == "changes collide")
            .expect("it is told")
    }

    fn kept(text: &str) -> Vec<String> {
        let repairs = found(text).repairs.into_iter();
        repairs
            .map(|repair| apply(text, &repair.edits).expect("they fit"))
            .collect()
    }

    #[test]
    fn both_versions_are_shown_and_either_can_be_kept() {
        let text = "piece \"Air\"\n<<<<<<< ours\n  measures  90\n=======\n  measures 92\n  lasts 3:10\n>>>>>>> theirs\n  grade 1\n";
        let says = found(text).saying.says;
        assert!(
            says.ends_with("card: \"measures 90\" or \"measures 92 ...\"."),
            "{says}"
        );
        assert_eq!(
            kept(text),
            [
                "piece \"Air\"\n  measures  90\n  grade 1\n",
                "piece \"Air\"\n  measures 92\n  lasts 3:10\n  grade 1\n"
            ]
        );
    }

    #[test]
    fn a_card_that_one_side_took_out_goes_as_a_whole() {
        let text = "piece \"Air\"\n<<<<<<< ours (taken out)\n=======\n  grade 2\n>>>>>>> theirs\n";
        let says = found(text).saying.says;
        assert!(says.ends_with("taken out or \"grade 2\"."), "{says}");
        assert_eq!(kept(text), ["", "piece \"Air\"\n  grade 2\n"]);
    }
}
