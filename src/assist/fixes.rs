//! Ways to mend what was found, and to let it stand.

use crate::catalogue::{EntryId, Snapshot};
use crate::findings::Finding;
use crate::notation::tree::LineKind;
use crate::text::{Edit, Ending, Span};

/// One way to mend a finding, or to let it stand.
#[derive(Debug, Clone, PartialEq)]
pub struct Fix {
    /// What it does, as an order.
    pub title: String,
    /// Whether it can be made without looking.
    pub safe: bool,
    /// Whether it mends the finding; otherwise it lets it stand.
    pub mends: bool,
    /// The card whose text it edits.
    pub id: EntryId,
    /// The finding.
    pub finding: Finding,
    /// The edits, in bytes of the card.
    pub edits: Vec<Edit>,
}

/// Every fix of the findings of a card that touch a stretch of it.
pub fn at(snapshot: &Snapshot, id: EntryId, findings: &[Finding], within: Span) -> Vec<Fix> {
    let mut fixes: Vec<Fix> = Vec::new();
    let touched = |finding: &&Finding| {
        finding.span.overlaps(within)
            || finding.span.touches(within.start)
            || finding.span.touches(within.end)
    };
    for finding in findings.iter().filter(touched) {
        for repair in &finding.repairs {
            let seen = fixes
                .iter()
                .any(|fix| fix.title == repair.title && fix.edits == repair.edits);
            if !seen {
                fixes.push(Fix {
                    title: repair.title.clone(),
                    safe: repair.safe,
                    mends: true,
                    id,
                    finding: finding.clone(),
                    edits: repair.edits.clone(),
                });
            }
        }
    }
    for finding in findings.iter().filter(touched) {
        let seen = fixes
            .iter()
            .any(|fix| !fix.mends && fix.finding.phrase == finding.phrase);
        if !seen && let Some(edit) = let_stand(snapshot, id, finding) {
            fixes.push(Fix {
                title: format!("Let \"{}\" stand on this card, with a reason", finding.phrase),
                safe: false,
                mends: false,
                id,
                finding: finding.clone(),
                edits: vec![edit],
            });
        }
    }
    fixes
}

/// The edit that lets a finding stand: a line at the end of the card, its reason to be filled in.
fn let_stand(snapshot: &Snapshot, id: EntryId, finding: &Finding) -> Option<Edit> {
    // A stet that does nothing is taken out, not let stand by another.
    if finding.idle {
        return None;
    }
    let entry = snapshot.entry(id)?;
    let reading = entry.reading();
    reading.tree.head.as_ref()?;
    let last = reading
        .tree
        .lines
        .iter()
        .rfind(|line| matches!(line.kind, LineKind::Head | LineKind::Field | LineKind::Deeper))?;
    let indent = reading
        .tree
        .lines
        .iter()
        .find(|line| line.kind == LineKind::Field && line.indent > 0)
        .map_or("  ", |line| {
            Span::new(line.span.start, line.body.start).slice(&entry.text)
        });
    let ending = Ending::of(&entry.text).as_str();
    let text = format!(
        "{ending}{indent}{:<16}{} because (say why)",
        "stet", finding.phrase
    );
    Some(Edit::insert(last.body.end, text))
}

/// All safe repairs of a card that do not get into each other's way, as edits in bytes of the card.
pub fn all_safe(findings: &[Finding]) -> Vec<Edit> {
    let mut made: Vec<Edit> = Vec::new();
    for finding in findings {
        let Some(repair) = finding.repairs.iter().find(|repair| repair.safe) else {
            continue;
        };
        let clashes = |edit: &Edit| {
            made.iter().any(|other| {
                edit.span.overlaps(other.span)
                    || edit.span == other.span
                    || (edit.span.touches(other.span.start) && edit.span.touches(other.span.end))
                    || (other.span.touches(edit.span.start) && other.span.touches(edit.span.end))
            })
        };
        if !repair.edits.iter().any(clashes) {
            made.extend(repair.edits.iter().cloned());
        }
    }
    made.sort_by_key(|edit| (edit.span.start, edit.span.end));
    made
}
