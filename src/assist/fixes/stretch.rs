//! The fixes of a stretch of a file, as edits of whole files.

use std::sync::Arc;

use crate::catalogue::{EntryId, Snapshot};
use crate::findings::Finding;
use crate::text::{Edit, Span};

use super::{Fix, all_safe, at};

/// A fix of something in a file.
#[derive(Debug, Clone, PartialEq)]
pub struct InFile {
    /// The fix, as its card has it.
    pub fix: Fix,
    /// What it is called: one that may change a meaning says so.
    pub title: String,
    /// Where the finding stands in the file.
    pub span: Span,
    /// The edits of each file that changes, by its number, in bytes of that file; the file itself first.
    pub files: Vec<(usize, Vec<Edit>)>,
    /// Whether it is the likeliest way to fix its finding, and safe.
    pub first: bool,
    /// Where typing goes on, in bytes of the file as the edits leave it.
    pub goes_on: Option<u32>,
}

/// The numbers of a file's cards.
fn ids(snapshot: &Snapshot, file: usize) -> impl Iterator<Item = EntryId> + '_ {
    let cards = snapshot.files().get(file).map_or(0, |cards| cards.entries.len());
    (0..cards).filter_map(move |entry| {
        Some(EntryId {
            file: u32::try_from(file).ok()?,
            entry: u32::try_from(entry).ok()?,
        })
    })
}

/// Every fix of the findings that touch a stretch of a file. `findings` are asked for card by card, and `stop` at
/// each.
pub fn of_stretch(
    snapshot: &Snapshot,
    file: usize,
    span: Span,
    findings: &dyn Fn(EntryId) -> Arc<[Finding]>,
    stop: &dyn Fn() -> bool,
) -> Vec<InFile> {
    let mut found = Vec::new();
    let Some(cards) = snapshot.files().get(file) else {
        return found;
    };
    for id in ids(snapshot, file) {
        let index = id.entry as usize;
        let Some(entry) = cards.entries.get(index) else {
            continue;
        };
        let whole = cards.in_file(index, Span::whole(&entry.text));
        if stop() || whole.start > span.end {
            break;
        }
        if !(whole.overlaps(span) || whole.touches(span.start)) {
            continue;
        }
        let within = Span::new(
            span.start.max(whole.start).saturating_sub(whole.start),
            span.end.min(whole.end).saturating_sub(whole.start),
        );
        let findings = findings(id);
        // Of several ways to fix one finding, the first is the likeliest.
        let mut preferred: Vec<Finding> = Vec::new();
        for fix in at(snapshot, id, &findings, within) {
            let first = fix.mends && fix.safe && !preferred.contains(&fix.finding);
            if first {
                preferred.push(fix.finding.clone());
            }
            found.push(in_file(file, i64::from(whole.start), fix, first));
        }
    }
    found
}

fn in_file(file: usize, start: i64, fix: Fix, first: bool) -> InFile {
    let mut files = Vec::new();
    let edits = shifted(&fix.edits, start);
    if !edits.is_empty() {
        files.push((file, edits));
    }
    if let Some((other, elsewhere)) = &fix.elsewhere {
        match files.iter_mut().find(|(own, _)| own == other) {
            Some((_, edits)) => edits.extend(elsewhere.iter().cloned()),
            None => files.push((*other, elsewhere.clone())),
        }
    }
    InFile {
        title: match fix.mends && !fix.safe {
            true => format!("{} (check the score)", fix.title),
            false => fix.title.clone(),
        },
        span: fix.finding.span.shift(start),
        files,
        first,
        goes_on: fix.goes_on.map(|at| Span::at(at).shift(start).start),
        fix,
    }
}

/// Every safe fix of a file, as edits of the file; none when `stop` was set on the way.
pub fn all_of_file(
    snapshot: &Snapshot,
    file: usize,
    findings: &dyn Fn(EntryId) -> Arc<[Finding]>,
    stop: &dyn Fn() -> bool,
) -> Option<Vec<Edit>> {
    let cards = snapshot.files().get(file)?;
    let mut edits = Vec::new();
    for id in ids(snapshot, file) {
        if stop() {
            return None;
        }
        let start = cards.in_file(id.entry as usize, Span::at(0)).start;
        edits.extend(shifted(&all_safe(&findings(id)), i64::from(start)));
    }
    Some(edits)
}

fn shifted(edits: &[Edit], start: i64) -> Vec<Edit> {
    edits
        .iter()
        .map(|edit| Edit::replace(edit.span.shift(start), edit.text.clone()))
        .collect()
}
