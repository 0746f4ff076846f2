//! Every capability of the answer to `initialize` has a test of its own, and no test is named for one that is
//! not there.

use std::collections::BTreeSet;

use serde_json::Value;

use crate::year;

/// Each capability by its place in the answer, with the test that gets a right answer from it, and another one
/// after an edit.
const TESTED: &[(&str, &str)] = &[
    (
        "/codeActionProvider/codeActionKinds",
        "mended_by_hand_without_what_the_client_drops",
    ),
    (
        "/codeActionProvider/resolveProvider",
        "parts_and_percussion_are_drafted_from_the_band",
    ),
    (
        "/codeLensProvider/resolveProvider",
        "a_line_above_a_card_says_who_uses_it",
    ),
    (
        "/completionProvider/resolveProvider",
        "an_offer_is_documented_when_it_is_shown",
    ),
    (
        "/completionProvider/triggerCharacters",
        "completion_knows_where_it_is",
    ),
    ("/definitionProvider", "from_a_name_to_its_card_and_back"),
    (
        "/diagnosticProvider/interFileDependencies",
        "clients_that_ask_are_not_told",
    ),
    (
        "/diagnosticProvider/workDoneProgress",
        "the_clients_own_token_is_told_and_parts_are_sent",
    ),
    (
        "/diagnosticProvider/workspaceDiagnostics",
        "a_workspace_answer_waits_for_news_and_can_be_cancelled",
    ),
    (
        "/documentFormattingProvider",
        "laid_out_in_the_one_form_by_small_edits",
    ),
    (
        "/documentHighlightProvider",
        "a_name_lights_up_where_it_is_given_and_used",
    ),
    (
        "/documentLinkProvider/resolveProvider",
        "links_lead_to_files_that_are_there_and_to_pages",
    ),
    (
        "/documentOnTypeFormattingProvider/firstTriggerCharacter",
        "lines_are_put_right_when_they_are_left",
    ),
    (
        "/documentOnTypeFormattingProvider/moreTriggerCharacter",
        "a_field_typed_among_rows_leaves_the_table",
    ),
    (
        "/documentRangeFormattingProvider/rangesSupport",
        "several_stretches_are_laid_out_at_once",
    ),
    ("/documentSymbolProvider", "outlines_and_folds"),
    (
        "/executeCommandProvider/commands",
        "every_command_does_what_it_says",
    ),
    ("/foldingRangeProvider", "outlines_and_folds"),
    ("/hoverProvider", "hover_says_what_a_word_means"),
    (
        "/inlayHintProvider/resolveProvider",
        "facts_stand_beside_the_words_they_follow_from",
    ),
    (
        "/linkedEditingRangeProvider",
        "names_that_pair_are_typed_together",
    ),
    ("/positionEncoding", "under_the_right_characters"),
    (
        "/referencesProvider/workDoneProgress",
        "the_clients_own_token_is_told_and_parts_are_sent",
    ),
    (
        "/renameProvider/prepareProvider",
        "a_name_changes_wherever_it_stands",
    ),
    (
        "/selectionRangeProvider",
        "a_selection_grows_from_the_word_to_the_file",
    ),
    (
        "/semanticTokensProvider/full/delta",
        "what_changed_makes_the_old_words_the_new_ones",
    ),
    (
        "/semanticTokensProvider/legend/tokenModifiers",
        "words_are_told_for_what_they_are",
    ),
    (
        "/semanticTokensProvider/legend/tokenTypes",
        "words_are_told_for_what_they_are",
    ),
    (
        "/semanticTokensProvider/range",
        "words_are_told_for_what_they_are",
    ),
    (
        "/signatureHelpProvider/retriggerCharacters",
        "the_shape_of_a_value_follows_the_cursor",
    ),
    (
        "/signatureHelpProvider/triggerCharacters",
        "the_shape_of_a_value_follows_the_cursor",
    ),
    (
        "/textDocumentSync/change",
        "changes_are_made_in_order_each_to_what_the_one_before_left",
    ),
    (
        "/textDocumentSync/openClose",
        "the_disk_says_what_a_closed_file_holds",
    ),
    (
        "/textDocumentSync/save",
        "a_finding_at_the_end_of_the_last_edit_waits",
    ),
    (
        "/textDocumentSync/willSave",
        "a_file_is_laid_out_before_saving_only_where_it_is_wanted",
    ),
    (
        "/textDocumentSync/willSaveWaitUntil",
        "a_file_is_laid_out_before_saving_only_where_it_is_wanted",
    ),
    (
        "/workspace/fileOperations/didRename/filters",
        "a_renamed_file_is_the_same_catalogue",
    ),
    (
        "/workspace/fileOperations/willRename/filters",
        "cards_follow_the_files_that_they_name",
    ),
    (
        "/workspace/textDocumentContent/schemes",
        "every_command_does_what_it_says",
    ),
    (
        "/workspace/workspaceFolders/changeNotifications",
        "folders_come_and_go",
    ),
    (
        "/workspace/workspaceFolders/supported",
        "two_folders_are_two_catalogues",
    ),
    (
        "/workspaceSymbolProvider/resolveProvider",
        "a_found_card_tells_its_place_when_it_is_needed",
    ),
    (
        "/workspaceSymbolProvider/workDoneProgress",
        "the_clients_own_token_is_told_and_parts_are_sent",
    ),
];

/// The places of all that is said, down to lists and plain values; an object in which nothing but `false` is said
/// stands for itself.
fn places(value: &Value, at: &str, found: &mut BTreeSet<String>) {
    match value {
        Value::Object(fields) => {
            let before = found.len();
            for (name, inner) in fields {
                places(inner, &format!("{at}/{name}"), found);
            }
            if found.len() == before {
                found.insert(at.to_owned());
            }
        }
        Value::Null | Value::Bool(false) => {}
        _ => {
            found.insert(at.to_owned());
        }
    }
}

/// What is wrong between what is advertised, the table, and the tests that there are.
fn faults(advertised: &BTreeSet<String>, table: &[(&str, &str)], sources: &str) -> Vec<String> {
    let mut faults = Vec::new();
    for place in advertised {
        if !table.iter().any(|(tested, _)| tested == place) {
            faults.push(format!("{place} is advertised and has no test"));
        }
    }
    for (tested, test) in table {
        if !advertised.contains(*tested) {
            faults.push(format!("{tested} has a test and is not advertised"));
        }
        if !sources.contains(&format!("#[test]\nfn {test}() {{")) {
            faults.push(format!("{tested} names {test}, and there is no such test"));
        }
    }
    faults
}

fn sources() -> String {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/desk");
    let mut text = String::new();
    for file in std::fs::read_dir(folder).unwrap() {
        text.push_str(&std::fs::read_to_string(file.unwrap().path()).unwrap());
    }
    text
}

#[test]
fn every_capability_has_a_test_and_every_test_its_capability() {
    let folder = year::folder();
    let mut advertised = BTreeSet::new();
    // An able editor is told of all there is; one that asks for diagnostics hears of that too.
    let mut client = year::able(&folder).pulls().start();
    places(&client.capabilities, "", &mut advertised);
    client.settle();
    let found = faults(&advertised, TESTED, &sources());
    assert!(found.is_empty(), "{found:#?}");

    // The check itself: one too many, one too few, one without its test.
    advertised.insert("/monikerProvider".to_owned());
    let mut table = TESTED.to_vec();
    table.retain(|(place, _)| *place != "/hoverProvider");
    table.push(("/inlineValueProvider", "hover_says_what_a_word_means"));
    table[0].1 = "no_such_test";
    let found = faults(&advertised, &table, &sources());
    assert_eq!(found.len(), 4, "{found:#?}");
}
