//! Fixes, changes that save writing, renaming, the one form.

use serde_json::Value;

use crate::assist::refactor::{self, Change};
use crate::assist::{fixes, formatting, rename};
use crate::notation::recopy::{How, recopy_file};
use crate::notation::split;
use crate::text::{Edit, Sheet, apply};

use super::answer::{Said, amiss, answer};
use super::places;
use super::question::{At, Range};
use super::shelf::File;

/// Edits of several files.
pub(super) fn files<'e>(file: &File<'_>, files: impl IntoIterator<Item = (usize, &'e [Edit])>) -> Value {
    let all: Vec<Value> = files
        .into_iter()
        .filter_map(|(number, edits)| {
            let (name, paper) = file.page.paper(number)?;
            Some(answer!("file": name, "edits": places::edits(&paper.sheet, edits)))
        })
        .collect();
    all.said()
}

/// The fixes of what is found in a stretch.
pub(super) fn fixes(file: &File<'_>, within: Range) -> Value {
    let span = places::span(&file.paper.sheet, within);
    let findings = |id| file.page.findings(id);
    let all: Vec<Value> = fixes::of_stretch(file.page.snapshot(), file.number, span, &findings, &|| false)
        .iter()
        .map(|fix| {
            let edited = fix.files.iter().map(|(number, edits)| (*number, &**edits));
            let own = fix.files.iter().find(|(number, _)| *number == file.number);
            let goes_on = fix.goes_on.and_then(|at| {
                let edits = own.map_or(&[][..], |(_, edits)| edits);
                let fixed = apply(&file.paper.sheet.to_string(), edits).ok()?;
                Some(places::at(&Sheet::new(&fixed, split), at))
            });
            answer!(
                "title": &fix.title,
                "phrase": fix.fix.finding.phrase,
                "at": places::range(&file.paper.sheet, fix.span),
                "first": fix.first,
                "fixes": fix.fix.mends,
                "files": files(file, edited),
                "goes_on": goes_on,)
        })
        .collect();
    all.said()
}

/// All fixes of the file that need no decision.
pub(super) fn fix_all(file: &File<'_>) -> Value {
    let findings = |id| file.page.findings(id);
    let edits = fixes::all_of_file(file.page.snapshot(), file.number, &findings, &|| false);
    file.edits(&edits.unwrap_or_default())
}

/// The titles of what else can be done at a place.
pub(super) fn works(file: &File<'_>, at: At) -> Value {
    let all = file.place(at).map(|place| refactor::at(&place));
    let titles: Vec<String> = all
        .unwrap_or_default()
        .into_iter()
        .map(|(_, title)| title)
        .collect();
    titles.said()
}

/// One of those, worked out: edits of files, and files to be made.
pub(super) fn work(file: &File<'_>, at: At, title: &str) -> Value {
    let changes = file.place(at).and_then(|place| {
        let (what, _) = refactor::at(&place)
            .into_iter()
            .find(|(_, other)| other == title)?;
        refactor::make(&place, what)
    });
    let Some(changes) = changes else {
        return amiss("There is nothing to do here anymore.");
    };
    let mut edited: Vec<(usize, &[Edit])> = Vec::new();
    let mut made = Vec::new();
    for change in &changes {
        match change {
            Change::Edit(number, edits) => edited.push((*number, edits)),
            Change::Make { beside, name, text } => {
                let beside = file.page.paper(*beside).map_or("", |(name, _)| name.as_str());
                let folder = beside.rsplit_once('/').map(|(folder, _)| folder);
                let path = folder.map_or_else(|| name.clone(), |folder| format!("{folder}/{name}"));
                made.push(answer!("file": path, "text": text));
            }
        }
    }
    answer!("files": files(file, edited), "made": made)
}

/// What can be renamed at a place.
pub(super) fn name(file: &File<'_>, at: At) -> Value {
    match file.place(at).map(|place| rename::prepare(&place)) {
        Some(Ok(Some(found))) => answer!(
            "at": places::range(&file.paper.sheet, found.span),
            "name": found.name,),
        Some(Err(why)) => amiss(&why),
        _ => amiss("There is no name here. Put the cursor into a name first."),
    }
}

/// The edits that give it a new name.
pub(super) fn rename(file: &File<'_>, at: At, new: &str) -> Value {
    match file.place(at).map(|place| rename::in_files(&place, new)) {
        Some(Ok(Some(found))) => {
            let edited = found.iter().map(|(number, edits)| (*number, &**edits));
            answer!("files": files(file, edited))
        }
        Some(Err(why)) => amiss(&why),
        _ => amiss("There is no name here. Put the cursor into a name first."),
    }
}

/// The edits that lay the file out in the one form.
pub(super) fn recopy(file: &File<'_>) -> Value {
    let text = file.paper.sheet.to_string();
    file.edits(&formatting::edits(
        &text,
        &recopy_file(&text, How::default()).text,
        None,
    ))
}
