//! What was found, in a file and everywhere.

use std::sync::Arc;

use serde_json::Value;

use crate::assist::lines::Lines;
use crate::assist::{Target, told};
use crate::catalogue::EntryId;
use crate::catalogue::known::Mark;
use crate::findings::{Finding, Severity};
use crate::text::{Encoding, Position, Span};

use super::answer::{amiss, answer};
use super::places;
use super::question::At;
use super::shelf::{File, Page};

fn findings_of(file: &File<'_>) -> Vec<(EntryId, Arc<[Finding]>)> {
    file.ids().map(|id| (id, file.page.findings(id))).collect()
}

fn line_of(file: &File<'_>, at: At) -> Span {
    let sheet = &file.paper.sheet;
    told::being_written(sheet, places::offset(sheet, at))
}

/// What is told of a file.
pub(super) fn of_file(file: &File<'_>, written: Option<At>) -> Value {
    let written = written.map(|at| line_of(file, at));
    let mut said = file.paper.said.borrow_mut();
    let all = findings_of(file);
    let findings = all.iter().map(|(id, findings)| (*id, &**findings));
    let told = told::of_file(file.page.snapshot(), findings, file.page.known(), written, &said);
    *said = told.found.iter().map(|(_, _, one)| told::digest(one)).collect();
    let found: Vec<Value> = told
        .found
        .iter()
        .map(|(span, id, finding)| one(file, places::range(&file.paper.sheet, *span), *id, finding))
        .collect();
    let more = (told.remaining > 0).then(|| told::remainder(told.remaining));
    answer!("found": found, "more": more, "waiting": told.waiting)
}

fn one(file: &File<'_>, at: [u32; 4], id: EntryId, finding: &Finding) -> Value {
    let card = file.page.snapshot().entry(id).map_or("", |entry| &entry.name);
    let related: Vec<Value> = finding
        .related
        .iter()
        .filter_map(|related| {
            let target = Target {
                id: related.card.unwrap_or(id),
                span: related.span,
            };
            Some(answer!("says": &related.says, "leads": places::target(file.page, target)?))
        })
        .collect();
    answer!(
        "at": at,
        "phrase": finding.phrase,
        "severity": finding.severity.word(),
        "card": card,
        "says": told::message(card, finding),
        "related": related,
        "idle": finding.idle,)
}

/// What is told of each file, the files in their order. On the line of one that is being `written` nothing new is.
pub(super) fn everywhere(page: &Page, written: Option<(&String, At)>) -> Value {
    let mut files = Vec::new();
    for number in 0..page.files() {
        let Some((name, paper)) = page.paper(number) else {
            continue;
        };
        let file = File { page, number, paper };
        let all = findings_of(&file);
        let findings = all.iter().map(|(id, findings)| (*id, &**findings));
        let line = written.as_ref().filter(|(open, _)| *open == name);
        let line = line.map(|(_, at)| line_of(&file, *at));
        let said = file.paper.said.borrow();
        let told = told::of_file(page.snapshot(), findings, page.known(), line, &said);
        let found: Vec<Value> = told
            .found
            .iter()
            .map(|(span, id, finding)| {
                let card = page.snapshot().entry(*id).map_or("", |entry| &entry.name);
                answer!(
                    "at": places::range(&paper.sheet, *span),
                    "phrase": finding.phrase,
                    "severity": finding.severity.word(),
                    "card": card,
                    "says": told::message(card, finding),)
            })
            .collect();
        files.push(answer!("file": name, "found": found, "more": told.remaining));
    }
    answer!("files": files)
}

/// All findings from `least` on, known ones only where `all` are asked for, as the command line writes them.
pub(super) fn lines(page: &Page, least: &str, all: bool) -> Value {
    let Some(least) = Severity::of_word(least) else {
        return amiss(&format!("\"{least}\" is no strength of a finding."));
    };
    let snapshot = page.snapshot();
    let mut known = page.known();
    let mut text = String::new();
    let found: Vec<(EntryId, Arc<[Finding]>)> = snapshot
        .entries()
        .map(|(id, _)| (id, page.findings(id)))
        .collect();
    let lines = Lines {
        snapshot,
        called: &|file| page.paper(file).map(|(name, _)| name.as_str()),
        position: &|file, offset| {
            page.paper(file).map_or(Position::default(), |(_, paper)| {
                paper.sheet.position(offset, Encoding::Utf32)
            })
        },
    };
    for (id, findings) in &found {
        let Some(entry) = snapshot.entry(*id) else {
            continue;
        };
        for finding in findings.iter() {
            let is_known = known.take(&Mark::of(entry, finding.phrase, finding.span));
            if is_known && !all || finding.severity > least {
                continue;
            }
            if let Ok(line) = serde_json::to_string(&lines.of(*id, finding, is_known)) {
                text.push_str(&line);
                text.push('\n');
            }
        }
    }
    answer!("text": text)
}
