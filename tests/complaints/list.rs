//! The eighteen complaints, and where each is held.

use std::path::Path;

/// A complaint, and the tests that hold it: a file below `tests`, and the function in it.
const COMPLAINTS: [(&str, &[(&str, &str)]); 18] = [
    (
        "What was found in a file stays on the screen after the file is deleted, renamed or left out.",
        &[
            ("desk/found.rs", "nothing_is_told_of_files_that_are_gone"),
            (
                "complaints/files.rs",
                "a_client_that_asks_hears_that_a_file_is_gone_renamed_or_left_out",
            ),
        ],
    ),
    (
        "Nothing is refreshed, because the editor watches no files.",
        &[
            ("desk/found.rs", "our_own_eyes_when_the_client_has_none"),
            (
                "complaints/files.rs",
                "without_the_editors_eyes_another_file_still_counts",
            ),
        ],
    ),
    (
        "The settings are not found for a file outside the folder that the editor was started in.",
        &[
            (
                "desk/roots.rs",
                "the_nearest_handbook_counts_wherever_the_editor_was_opened",
            ),
            (
                "complaints/homes.rs",
                "a_handbook_is_found_from_the_file_even_when_no_folder_is_open",
            ),
            ("complaints/homes.rs", "an_editor_that_names_one_root_only"),
        ],
    ),
    (
        "Of several folders, the wrong one is taken for a file's own.",
        &[(
            "complaints/homes.rs",
            "of_folders_in_folders_the_longest_is_taken",
        )],
    ),
    (
        "The whole home folder is read.",
        &[(
            "complaints/homes.rs",
            "a_home_folder_is_not_searched_beyond_a_measure",
        )],
    ),
    (
        "The command line and the editor disagree about what is left out and what is found.",
        &[("complaints/homes.rs", "both_doors_say_the_same")],
    ),
    (
        "Big inputs keep the processor busy and flood the editor.",
        &[
            ("desk/found.rs", "at_most_two_hundred_and_then_how_many_more"),
            (
                "complaints/much.rs",
                "a_keystroke_in_a_big_catalogue_is_a_small_thing",
            ),
        ],
    ),
    (
        "Memory grows by the hour.",
        &[("protocol/soak.rs", "ten_thousand_edits_leave_memory_flat")],
    ),
    (
        "Accents and other long characters give wrong ranges.",
        &[("desk/found.rs", "under_the_right_characters")],
    ),
    (
        "The editor's text and the server's drift apart.",
        &[
            ("desk/random.rs", "five_hundred_edits"),
            ("desk/hostile.rs", "places_that_do_not_exist"),
            ("protocol/soak.rs", "sense_and_nonsense_in_any_order"),
        ],
    ),
    (
        "One file whose address is written in two ways is two documents, on Windows above all.",
        &[
            ("desk/roots.rs", "one_file_written_in_two_ways_is_one_file"),
            (
                "complaints/files.rs",
                "a_drive_letter_is_one_letter_however_it_is_written",
            ),
            (
                "complaints/files.rs",
                "an_address_that_is_no_file_never_reads_one",
            ),
        ],
    ),
    (
        "Files with the line ends of Windows get empty lines, or are never laid out well enough.",
        &[("complaints/layout.rs", "line_ends_of_windows_are_line_ends")],
    ),
    (
        "Laying out moves things about, and settings that nobody knows are passed over in silence.",
        &[
            ("complaints/layout.rs", "laying_out_keeps_every_word_in_its_order"),
            ("complaints/layout.rs", "a_setting_that_nobody_knows_is_told"),
        ],
    ),
    (
        "A doubtful repair is made by itself on saving, or cannot be taken by hand.",
        &[
            ("desk/found.rs", "mended_by_hand_without_what_the_client_drops"),
            ("complaints/layout.rs", "on_saving_only_what_is_safe"),
        ],
    ),
    (
        "The server lives on when its editor is gone.",
        &[
            ("desk/hostile.rs", "the_end_comes_with_the_editor"),
            ("desk/hostile.rs", "a_dead_editor_leaves_no_orphan"),
        ],
    ),
    (
        "The server goes deaf under load.",
        &[
            ("desk/hostile.rs", "four_hundred_edits_while_requests_wait"),
            (
                "transport/order.rs",
                "e_hundreds_of_requests_wait_and_each_can_be_cancelled",
            ),
        ],
    ),
    (
        "After another branch is checked out, what was true before is still told.",
        &[("complaints/files.rs", "another_branch_is_another_catalogue")],
    ),
    (
        "Laying out replaces the whole file, and the cursor and the marks are lost.",
        &[(
            "complaints/layout.rs",
            "laying_out_touches_only_what_is_laid_out_wrong",
        )],
    ),
];

#[test]
fn every_complaint_has_its_tests() {
    let tests = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests");
    let mut faults = Vec::new();
    for (complaint, held) in COMPLAINTS {
        assert!(!held.is_empty(), "nothing holds: {complaint}");
        for (file, name) in held {
            let text = std::fs::read_to_string(tests.join(file)).unwrap_or_default();
            let is_there = text
                .split("#[test]")
                .skip(1)
                .any(|after| after.trim_start().starts_with(&format!("fn {name}()")));
            if !is_there {
                faults.push(format!("{file} has no test {name}, which holds: {complaint}"));
            }
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}
