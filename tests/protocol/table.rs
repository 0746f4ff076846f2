//! The page `editors/capabilities.md` says what the desk offers. It is made from the desk's own answer to
//! `initialize`, and this test fails when the two differ; `LEVARE_BLESS=1` writes it anew.

use std::collections::BTreeSet;
use std::fmt::Write;
use std::path::{Path, PathBuf};

use serde_json::Value;

use crate::client::{Folder, Setup};
use crate::clients;
use crate::questions::offers;

/// A feature of the protocol.
struct Feature {
    name: &'static str,
    /// The version of the Language Server Protocol that brought it, from memory; what is older than its
    /// changelog is said to be of 1 to 3.0.
    since: &'static str,
    /// Where the answer offers it.
    at: &'static str,
    /// What it does in a catalog, or why it is of no use in one.
    says: &'static str,
    /// It is of no use in a catalog.
    is_idle: bool,
}

const fn feature(name: &'static str, since: &'static str, at: &'static str, says: &'static str) -> Feature {
    Feature {
        name,
        since,
        at,
        says,
        is_idle: false,
    }
}

const fn idle(name: &'static str, since: &'static str, at: &'static str, says: &'static str) -> Feature {
    Feature {
        is_idle: true,
        ..feature(name, since, at, says)
    }
}

#[rustfmt::skip]
const FEATURES: &[Feature] = &[
    feature("columns in the editor's own unit", "3.17", "/positionEncoding", "Accents, flats and clefs never shift a mark."),
    feature("open files, edit by edit", "3.0", "/textDocumentSync/openClose", "What is on the screen counts, saved or not; only the cards that an edit touched are read again."),
    feature("only what changed is sent", "3.0", "/textDocumentSync/change", "An edit costs as much as the edit, not as much as the file."),
    feature("saving", "3.0", "/textDocumentSync/save", "What waited at the end of the last edit is told."),
    idle("before saving", "3.0", "/textDocumentSync/willSave", "Nothing depends on it."),
    feature("recopied while saving", "3.0", "/textDocumentSync/willSaveWaitUntil", "A saved file is recopied."),
    idle("notebooks", "3.17", "/notebookDocumentSync", "A catalog has none."),
    feature("findings when asked for", "3.17", "/diagnosticProvider", "An editor that asks gets what was found, and hears shortly when nothing changed. Others are told."),
    feature("findings of all files", "3.17", "/diagnosticProvider/workspaceDiagnostics", "What is found in closed files is there too."),
    feature("completion", "1.0", "/completionProvider", "Kinds of cards, fields not yet written, instruments, keys, skills, titles, marks, phrases, each where it belongs."),
    feature("completion: more on request", "1.0", "/completionProvider/resolveProvider", "What a word means, read when it is chosen."),
    feature("hover", "1.0", "/hoverProvider", "What each section reads in a key, what a range asks for, where a title is played."),
    feature("the shape of a value", "1.0", "/signatureHelpProvider", "What a field's value is made of, while it is written."),
    feature("to the card", "1.0", "/definitionProvider", "From a title, an ensemble, a skill or a mark to where it is written."),
    idle("to the declaration", "3.14", "/declarationProvider", "The same as \"to the card\" in a catalog."),
    idle("to the type", "3.6", "/typeDefinitionProvider", "Cards have no types."),
    idle("to what carries it out", "3.6", "/implementationProvider", "Nothing in a catalog carries out another thing."),
    feature("where it is used", "1.0", "/referencesProvider", "Every program, list and part that names a card."),
    feature("the same name lit up", "1.0", "/documentHighlightProvider", "All places of a name in this file."),
    feature("outline", "1.0", "/documentSymbolProvider", "Cards, their fields, the rows of tables."),
    feature("search over all cards", "1.0", "/workspaceSymbolProvider", "By a part of a title, in every folder that is open."),
    feature("search: places on request", "3.17", "/workspaceSymbolProvider/resolveProvider", "Long lists come at once."),
    feature("repairs", "1.0", "/codeActionProvider", "Each way to fix a finding, or to let it stand; all safe ones at once."),
    feature("repairs: edits on request", "3.16", "/codeActionProvider/resolveProvider", "An edit is worked out when it is chosen."),
    feature("lines above cards", "1.0", "/codeLensProvider", "Where a card is used, above it."),
    feature("lines above cards: on request", "1.0", "/codeLensProvider/resolveProvider", "Counted when they are on the screen."),
    feature("facts within the line", "3.17", "/inlayHintProvider", "What follows from a value, beside it."),
    feature("facts: more on request", "3.17", "/inlayHintProvider/resolveProvider", "Why it is so, when one points at it."),
    feature("word colors", "3.16", "/semanticTokensProvider/full", "Colored by what a word is, not by what it looks like."),
    feature("word colors: only what changed", "3.16", "/semanticTokensProvider/full/delta", "A keystroke recolors a line."),
    feature("word colors: a stretch", "3.16", "/semanticTokensProvider/range", "What is on the screen comes first."),
    feature("folding", "3.10", "/foldingRangeProvider", "Cards, tables and blocks fold."),
    feature("growing selections", "3.15", "/selectionRangeProvider", "Word, value, field, card."),
    feature("names that change together", "3.16", "/linkedEditingRangeProvider", "Where a name is said twice on a card."),
    feature("links", "1.0", "/documentLinkProvider", "Scores and pages that a card names."),
    feature("links: on request", "1.0", "/documentLinkProvider/resolveProvider", "Looked for when they are followed."),
    idle("colors of things", "3.6", "/colorProvider", "A catalog names no colors."),
    feature("renaming", "1.0", "/renameProvider", "A title, an ensemble, a skill or a mark, in all files at once."),
    feature("renaming: asked first", "3.12", "/renameProvider/prepareProvider", "What has no name of its own is not offered for renaming."),
    feature("recopying", "1.0", "/documentFormattingProvider", "By small edits; no word is moved."),
    feature("laying out a stretch", "1.0", "/documentRangeFormattingProvider", "Only the lines asked for."),
    feature("laying out several stretches", "3.18", "/documentRangeFormattingProvider/rangesSupport", "Only the lines that changed."),
    feature("laying out while typing", "1.0", "/documentOnTypeFormattingProvider", "The next line begins where it belongs."),
    idle("who calls whom", "3.16", "/callHierarchyProvider", "Nothing in a catalog calls."),
    idle("kinds of kinds", "3.17", "/typeHierarchyProvider", "Cards have no types."),
    idle("values while debugging", "3.17", "/inlineValueProvider", "Nothing in a catalog runs."),
    idle("names across projects", "3.16", "/monikerProvider", "A catalog stands for itself."),
    idle("text written ahead", "3.18", "/inlineCompletionProvider", "What a director has not decided is not guessed."),
    feature("commands", "2.0", "/executeCommandProvider", "What the lines above cards and menus do."),
    feature("several folders", "3.6", "/workspace/workspaceFolders/supported", "Each folder is a catalog of its own."),
    feature("folders that come and go", "3.6", "/workspace/workspaceFolders/changeNotifications", "Added and removed without starting again."),
    feature("files renamed: before", "3.16", "/workspace/fileOperations/willRename", "Cards that name the file follow it."),
    feature("files renamed: after", "3.16", "/workspace/fileOperations/didRename", "Read under the new name."),
    idle("files made: before", "3.16", "/workspace/fileOperations/willCreate", "A new file starts empty."),
    idle("files made: after", "3.16", "/workspace/fileOperations/didCreate", "Watching the folder tells of it."),
    idle("files deleted: before", "3.16", "/workspace/fileOperations/willDelete", "Nothing is rewritten because a file goes."),
    idle("files deleted: after", "3.16", "/workspace/fileOperations/didDelete", "Watching the folder tells of it."),
    feature("pages that are on no disk", "3.18", "/workspace/textDocumentContent", "The page of a rule, opened from where it is named."),
];

/// Parts of an answer that say how and not whether: letters that open the completion, names of kinds.
const MANNER: [&str; 16] = [
    "/completionProvider/triggerCharacters",
    "/completionProvider/completionItem",
    "/completionProvider/allCommitCharacters",
    "/signatureHelpProvider/triggerCharacters",
    "/signatureHelpProvider/retriggerCharacters",
    "/codeActionProvider/codeActionKinds",
    "/documentOnTypeFormattingProvider/firstTriggerCharacter",
    "/documentOnTypeFormattingProvider/moreTriggerCharacter",
    "/executeCommandProvider/commands",
    "/semanticTokensProvider/legend",
    "/diagnosticProvider/identifier",
    "/diagnosticProvider/interFileDependencies",
    "/textDocumentSync/save/includeText",
    "/workspace/textDocumentContent/schemes",
    "/workspace/fileOperations",
    "/workDoneProgress",
];

/// The answer to a client that can do everything.
fn offered() -> Value {
    let folder = Folder::with(&[]);
    let everything = clients::all()
        .into_iter()
        .find(|(name, _)| name == "everything")
        .unwrap()
        .1;
    let client = Setup::new(&[&folder.path("")]).exactly(everything).start();
    client.capabilities.clone()
}

/// What is offered and has no row: a feature without words is a feature that nobody finds.
fn without_a_row(offered: &Value) -> Vec<String> {
    let mut unknown = BTreeSet::new();
    let mut open = vec![(String::new(), offered.clone())];
    while let Some((at, value)) = open.pop() {
        let is_row = FEATURES.iter().any(|feature| feature.at == at);
        let is_manner = MANNER
            .iter()
            .any(|manner| at.starts_with(manner) || at.ends_with(manner));
        let is_within_row = FEATURES
            .iter()
            .any(|feature| feature.at.starts_with(&format!("{at}/")));
        match value {
            Value::Object(fields) if is_row || is_within_row || at.is_empty() => {
                open.extend(
                    fields
                        .into_iter()
                        .map(|(name, value)| (format!("{at}/{name}"), value)),
                );
            }
            Value::Bool(false) | Value::Null => {}
            _ if is_row || is_within_row || is_manner => {}
            _ => {
                unknown.insert(at);
            }
        }
    }
    // The manner of file operations is the files that they are about.
    unknown.retain(|at| !MANNER.iter().any(|manner| at.starts_with(manner)));
    unknown.into_iter().collect()
}

fn table(offered: &Value) -> String {
    let mut out = String::from(
        "# What the desk offers\n\n\
         Levare's desk speaks the Language Server Protocol 3.18. This page is made from its own answer to an editor \
         that can do everything (`tests/protocol/table.rs`); an editor that can do less is offered less. The second \
         column is the version of the protocol that brought the feature.\n\n\
         | feature | since | Levare | in a catalog |\n| --- | --- | --- | --- |\n",
    );
    for feature in FEATURES {
        let there = offers(offered, feature.at);
        let answer = if there { "yes" } else { "no" };
        // What it would do says nothing about what it does.
        let says = if there != feature.is_idle {
            feature.says
        } else {
            ""
        };
        writeln!(
            out,
            "| {} | {} | {answer} | {says} |",
            feature.name, feature.since
        )
        .unwrap();
    }
    let count = FEATURES
        .iter()
        .filter(|feature| offers(offered, feature.at))
        .count();
    writeln!(out, "\n{count} of {} are there.", FEATURES.len()).unwrap();
    out
}

fn page() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("editors/capabilities.md")
}

#[test]
fn the_page_says_what_the_desk_offers() {
    let wanted = table(&offered());
    if std::env::var_os("LEVARE_BLESS").is_some() {
        std::fs::write(page(), &wanted).unwrap();
    }
    let written = std::fs::read_to_string(page()).unwrap_or_default();
    assert!(
        written == wanted,
        "editors/capabilities.md is not what the desk offers; write it anew with\n\
         LEVARE_BLESS=1 cargo test --test protocol table\n\n{wanted}"
    );
}

#[test]
fn everything_that_is_offered_has_a_row() {
    let mut offered = offered();
    assert_eq!(
        without_a_row(&offered),
        [""; 0],
        "add a row to tests/protocol/table.rs"
    );
    // This test notices both a new feature and a new part of one.
    offered["evenNewerProvider"] = true.into();
    offered["renameProvider"] = serde_json::json!({"evenNewer": true});
    assert_eq!(
        without_a_row(&offered),
        ["/evenNewerProvider", "/renameProvider/evenNewer"]
    );
}
