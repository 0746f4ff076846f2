//! Letting findings stand: `stet PHRASE because REASON` on a card, under a row, or in the handbook.

use std::collections::{HashMap, HashSet};

use crate::catalogue::Entry;
use crate::catalogue::model::StetSaid;
use crate::notation::Kind;
use crate::text::{Edit, Over, Span, whole_lines};

use super::finding::{Finding, Repair, Saying, Severity};
use super::names::idle_stet::PHRASE as IDLE_STET;
use super::table::number;

/// Stets by the rules that they silence, so that a finding asks only those that can cover it.
#[derive(Debug, Default)]
pub(super) struct Stets {
    rules: HashMap<usize, OfRule>,
    /// Whether one of them lets left over from befores stand.
    idle_stands: bool,
}

/// The stets of one rule.
#[derive(Debug, Default)]
struct OfRule {
    /// Whether one stands for the whole card.
    whole: bool,
    /// The rows that have one, none twice.
    rows: Vec<Span>,
    over: Over,
}

impl Stets {
    pub fn of(stets: &[StetSaid]) -> Stets {
        let mut found = Stets::default();
        for stet in stets {
            found.idle_stands |= stet.stet.phrase == IDLE_STET;
            let Some(rule) = number(&stet.stet.phrase) else {
                continue;
            };
            let rule = found.rules.entry(rule).or_default();
            match stet.covers {
                None => rule.whole = true,
                Some(row) => rule.rows.push(row),
            }
        }
        for rule in found.rules.values_mut() {
            rule.rows.sort_unstable();
            rule.rows.dedup();
            rule.over = Over::of(rule.rows.iter().copied());
        }
        found
    }

    fn of_rule(&self, phrase: &str) -> Option<&OfRule> {
        match self.rules.is_empty() {
            true => None,
            false => self.rules.get(&number(phrase)?),
        }
    }

    fn cover(&self, finding: &Finding) -> bool {
        self.of_rule(finding.phrase)
            .is_some_and(|rule| rule.whole || rule.over(finding.span).next().is_some())
    }
}

impl OfRule {
    /// The rows with a stet that a place lies in or touches.
    fn over(&self, span: Span) -> impl Iterator<Item = Span> + '_ {
        let rows = self.over.touching(span).map(|(row, _)| row);
        rows.filter(move |row| row.encloses(span) || row.overlaps(span))
    }
}

/// Takes out the findings that stets let stand, and adds one for each stet that lets nothing stand.
pub(super) fn silence(
    entry: &Entry,
    stets: &[StetSaid],
    everywhere: &Stets,
    is_handbook: bool,
    findings: Vec<Finding>,
) -> Vec<Finding> {
    let own = Stets::of(stets);
    let nothing = Stets::default();
    let everywhere = if is_handbook { &nothing } else { everywhere };
    // What the stets of this card cover: a rule throughout, or in a row.
    let mut covered: HashSet<(usize, Option<Span>)> = HashSet::new();
    for finding in &findings {
        let rule = number(finding.phrase).and_then(|at| Some((at, own.rules.get(&at)?)));
        if let Some((at, rule)) = rule {
            covered.insert((at, None));
            covered.extend(rule.over(finding.span).map(|row| (at, Some(row))));
        }
    }
    let idle: Vec<Finding> = stets
        .iter()
        // The handbook's stets cover other cards, so its own findings say nothing about them.
        .filter(|_| entry.kind != Some(Kind::Handbook))
        .filter(|stet| number(&stet.stet.phrase).is_some_and(|rule| !covered.contains(&(rule, stet.covers))))
        .map(|stet| idle_stet(entry, stet))
        .collect();
    let mut left: Vec<Finding> = findings
        .into_iter()
        .filter(|finding| !own.cover(finding) && !everywhere.cover(finding))
        .collect();
    if !own.idle_stands && !everywhere.idle_stands {
        left.extend(idle);
    }
    left
}

fn idle_stet(entry: &Entry, stet: &StetSaid) -> Finding {
    let line = whole_lines(&entry.text, Span::at(stet.span.start));
    Finding {
        phrase: IDLE_STET,
        severity: Severity::Information,
        span: stet.span,
        saying: Saying {
            place: "stet".to_owned(),
            says: format!(
                "Levare no longer says \"{}\" about this card, so there is nothing to let stand.",
                stet.stet.phrase
            ),
            why: "An old stet would hide the same trouble if it came back with next year's band.".to_owned(),
            todo: "Take the line out.".to_owned(),
        },
        related: Vec::new(),
        // Never unasked: the line holds the director's own reason, and a card that could not be read, or a band
        // that is not written down yet, may be why nothing is drawn.
        repairs: vec![Repair::to_decide("Take the stet out", vec![Edit::remove(line)])],
        idle: true,
    }
}
