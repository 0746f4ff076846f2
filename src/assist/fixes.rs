//! Ways to fix what was found, and to let it stand.

mod aligned;
mod more;
mod stretch;

pub use stretch::{InFile, all_of_file, of_stretch};

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
    /// Edits of another file, by its number and in its bytes.
    pub elsewhere: Option<(usize, Vec<Edit>)>,
    /// Where typing goes on, in bytes of the card as the edits leave it.
    pub goes_on: Option<u32>,
}

/// Every fix of the findings of a card that touch a stretch of it.
pub fn at(snapshot: &Snapshot, id: EntryId, findings: &[Finding], within: Span) -> Vec<Fix> {
    let mut fixes: Vec<Fix> = Vec::new();
    let touched = |finding: &&Finding| {
        finding.span.overlaps(within)
            || finding.span.touches(within.start)
            || finding.span.touches(within.end)
    };
    let text = snapshot.entry(id).map_or("", |entry| &*entry.text);
    for finding in findings.iter().filter(touched) {
        let more = more::of(snapshot, id, finding);
        for repair in &finding.repairs {
            // A fix that knows the lines around takes the place of the rule's own.
            if more.iter().any(|fix| fix.title == repair.title) {
                continue;
            }
            let edits = aligned::aligned(text, &repair.edits);
            let seen = fixes
                .iter()
                .any(|fix| fix.title == repair.title && fix.edits == edits);
            if !seen {
                fixes.push(Fix {
                    title: repair.title.clone(),
                    safe: repair.safe,
                    mends: true,
                    id,
                    finding: finding.clone(),
                    edits,
                    elsewhere: None,
                    goes_on: None,
                });
            }
        }
        for fix in more {
            if !fixes
                .iter()
                .any(|other| other.title == fix.title && other.edits == fix.edits)
            {
                fixes.push(fix);
            }
        }
    }
    for finding in findings.iter().filter(touched) {
        let seen = fixes
            .iter()
            .any(|fix| !fix.mends && fix.finding.phrase == finding.phrase);
        if !seen && let Some(edit) = let_stand(snapshot, id, finding) {
            let end = edit.span.start.saturating_add(Span::whole(&edit.text).end);
            fixes.push(Fix {
                title: format!("Let \"{}\" stand on this card, with a reason", finding.phrase),
                safe: false,
                mends: false,
                id,
                finding: finding.clone(),
                edits: vec![edit],
                elsewhere: None,
                goes_on: Some(end),
            });
        }
    }
    fixes
}

/// The edit that lets a finding stand: a line at the end of the card, its reason still to be typed.
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
    let text = format!("{ending}{indent}{:<16}{} because ", "stet", finding.phrase);
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
