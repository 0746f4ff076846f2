//! Letting findings stand: `stet PHRASE because REASON` on a card, under a row, or in the handbook.

use std::sync::Arc;

use crate::catalogue::model::StetSaid;
use crate::catalogue::{Entry, EntryId, Snapshot};
use crate::text::Edit;

use super::finding::{Finding, Repair, Saying, Severity};
use super::names::idle_stet::PHRASE as IDLE_STET;
use super::renamed::today;
use super::table::RULES;

/// Takes out the findings that stets let stand, and adds one for each stet that lets nothing stand.
pub(super) fn silence(
    snapshot: &Snapshot,
    id: EntryId,
    entry: &Arc<Entry>,
    findings: Vec<Finding>,
) -> Vec<Finding> {
    let own = entry.stets();
    let everywhere: &[StetSaid] = match snapshot.handbook_card() {
        Some((handbook, card)) if handbook != id => card.stets(),
        _ => &[],
    };
    let covers = |stet: &StetSaid, finding: &Finding| {
        today(&stet.stet.phrase) == finding.phrase
            && stet
                .covers
                .is_none_or(|row| row.encloses(finding.span) || row.overlaps(finding.span))
    };
    let is_handbook = entry.handbook().is_some();
    let idle: Vec<Finding> = own
        .iter()
        // The handbook's stets cover other cards, so its own findings say nothing about them.
        .filter(|_| !is_handbook)
        .filter(|stet| RULES.iter().any(|rule| rule.phrase == today(&stet.stet.phrase)))
        .filter(|stet| !findings.iter().any(|finding| covers(stet, finding)))
        .map(|stet| idle_stet(entry, stet))
        .collect();
    let mut left: Vec<Finding> = findings
        .into_iter()
        .filter(|finding| !own.iter().chain(everywhere).any(|stet| covers(stet, finding)))
        .collect();
    let idle_stands = |stet: &StetSaid| stet.stet.phrase == IDLE_STET;
    if !own.iter().any(idle_stands) && !everywhere.iter().any(idle_stands) {
        left.extend(idle);
    }
    left
}

fn idle_stet(entry: &Entry, stet: &StetSaid) -> Finding {
    let line = line_of(&entry.text, stet.span.start);
    Finding {
        phrase: IDLE_STET,
        severity: Severity::Information,
        span: stet.span,
        saying: Saying {
            place: "stet".to_owned(),
            says: format!(
                "Levare no longer says \"{}\" of this card, so there is nothing to let stand.",
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

/// The whole line around a place, its ending included.
fn line_of(text: &str, offset: u32) -> crate::text::Span {
    let lines = crate::text::Lines::of(text);
    lines.full_line_span(lines.line_at(offset))
}
