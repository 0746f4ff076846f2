//! Two people's edits of one small file, one kind of edit after the other.

use super::merge;

const RAG: &str = "piece \"Cinder Rag\"
  style           rag
  grade           1 publisher, 2 ours
  meter           4/4, 3/4 at 20, 4/4 at 22
  measures        88
  percussion
    snare           1-8, 17-24
    claves          9-16
    bass drum       1-88
  asks            triplets, slurs
  notes           The low brass leads.
";

const WEIR: &str = "piece \"Lanterns on the Weir\"
  style           lyrical
  grade           1
";

fn file(rag: &str) -> String {
    format!("{rag}\n{WEIR}")
}

/// The file with words put for words.
fn with(changes: &[(&str, &str)]) -> String {
    let mut text = file(RAG);
    for (old, new) in changes {
        assert!(text.contains(old), "{old}");
        text = text.replacen(old, new, 1);
    }
    text
}

fn clean(ours: &str, theirs: &str, wanted: &str) {
    for (one, two) in [(ours, theirs), (theirs, ours)] {
        let merged = merge(&file(RAG), one, two);
        assert_eq!(merged.clashes, [], "{}", merged.text);
    }
    assert_eq!(merge(&file(RAG), ours, theirs).text, wanted);
}

fn clashes(ours: &str, theirs: &str, wanted: &str) {
    let merged = merge(&file(RAG), ours, theirs);
    assert!(merged.text.contains(wanted), "{}\n{wanted}", merged.text);
    assert_eq!(merged.clashes.len(), 1, "{:?}", merged.clashes);
    let line = merged.text.lines().nth(merged.clashes[0].line as usize - 1);
    assert!(
        line.is_some_and(|line| line.starts_with("<<<<<<< ours")),
        "{line:?}"
    );
}

#[test]
fn different_fields_next_to_each_other() {
    clean(
        &with(&[("style           rag", "style           march")]),
        &with(&[("2 ours", "3 ours")]),
        &with(&[
            ("style           rag", "style           march"),
            ("2 ours", "3 ours"),
        ]),
    );
}

#[test]
fn different_items_of_one_line() {
    clean(
        &with(&[
            ("1 publisher", "1.5 publisher"),
            ("triplets, slurs", "triplets, slurs, ties"),
        ]),
        &with(&[("2 ours", "3 ours"), ("triplets, slurs", "slurs, syncopation")]),
        &with(&[
            ("1 publisher, 2 ours", "1.5 publisher, 3 ours"),
            ("triplets, slurs", "slurs, ties, syncopation"),
        ]),
    );
}

#[test]
fn a_line_whose_items_are_all_taken_out_goes_too() {
    clean(
        &with(&[("triplets, slurs", "slurs")]),
        &with(&[("triplets, slurs", "triplets")]),
        &with(&[("  asks            triplets, slurs\n", "")]),
    );
}

#[test]
fn different_facts_of_one_row_and_a_new_name_for_it() {
    clean(
        &with(&[("snare           1-8", "snare           1-12")]),
        &with(&[("17-24", "17-32")]),
        &with(&[("snare           1-8, 17-24", "snare           1-12, 17-32")]),
    );
    clean(
        &with(&[("claves          9-16", "wood block      9-16")]),
        &with(&[("9-16", "9-16, one player")]),
        &with(&[("claves          9-16", "wood block      9-16, one player")]),
    );
}

#[test]
fn stages_come_in_the_order_of_measures() {
    clean(
        &with(&[("4/4 at 22", "4/4 at 22, 2/4 at 60")]),
        &with(&[("4/4 at 22", "4/4 at 22, 5/4 at 40")]),
        &with(&[("4/4 at 22", "4/4 at 22, 5/4 at 40, 2/4 at 60")]),
    );
}

#[test]
fn a_card_that_moved_takes_the_edits_along() {
    let moved = format!("{WEIR}\n{RAG}");
    let edited = with(&[("88\n", "90\n")]);
    clean(&moved, &edited, &moved.replacen("88\n", "90\n", 1));
    let renamed = with(&[("Cinder Rag", "Ember Rag")]);
    clean(&renamed, &edited, &renamed.replacen("88\n", "90\n", 1));
}

#[test]
fn layout_on_one_side_and_edits_on_the_other() {
    let laid_out = file(RAG)
        .replace("           ", " ")
        .replace("    snare", "\t\tsnare");
    let merged = merge(&file(RAG), &laid_out, &with(&[("88\n", "90\n")]));
    assert_eq!(merged.text, laid_out.replacen("        88", "        90", 1));
    assert_eq!(merged.clashes, []);
}

#[test]
fn the_same_fact_changed_in_two_ways() {
    clashes(
        &with(&[("88\n", "90\n")]),
        &with(&[("88\n", "92\n")]),
        "<<<<<<< ours\n  measures        90\n=======\n  measures        92\n>>>>>>> theirs\n  percussion\n",
    );
    clashes(
        &with(&[("17-24", "17-32"), ("1-8,", "1-9,")]),
        &with(&[("17-24", "18-24")]),
        "<<<<<<< ours\n    snare           1-9, 17-32\n=======\n    snare           1-9, 18-24\n>>>>>>> theirs\n    claves",
    );
    clashes(
        &with(&[("lead", "leads on, and lead")]),
        &with(&[("low brass", "high brass")]),
        "<<<<<<< ours\n  notes",
    );
}

#[test]
fn taken_out_by_one_and_changed_by_the_other() {
    clashes(
        &with(&[("  measures        88\n", "")]),
        &with(&[("88\n", "92\n")]),
        "<<<<<<< ours (taken out)\n=======\n  measures        92\n>>>>>>> theirs\n",
    );
    clashes(
        &with(&[("88\n", "92\n")]),
        WEIR,
        "piece \"Cinder Rag\"\n<<<<<<< ours\n  style",
    );
    // Nobody misses what nobody changed.
    let merged = merge(&file(RAG), &file(RAG).replace("           ", "  "), WEIR);
    assert_eq!(merged.text, WEIR.replace("           ", "  "));
}

#[test]
fn both_add_cards_and_lines() {
    let card = |name: &str| format!("\npiece \"{name}\"\n  grade           1\n");
    let (one, two) = (file(RAG) + &card("Barge Song"), file(RAG) + &card("Quarry Dance"));
    let merged = merge(&file(RAG), &one, &two);
    assert_eq!(merged.text, one + &card("Quarry Dance"));
    clean(
        &with(&[("  notes", "  performed       2024-05-12 \"Band\"\n  notes")]),
        &with(&[("  notes", "  performed       2025-05-12 \"Band\"\n  notes")]),
        &with(&[(
            "  notes",
            "  performed       2024-05-12 \"Band\"\n  performed       2025-05-12 \"Band\"\n  notes",
        )]),
    );
}

#[test]
fn a_program_in_two_orders_clashes_as_a_whole() {
    let program = |titles: [&str; 3]| {
        let rows: String = titles.iter().map(|title| format!("    \"{title}\"\n")).collect();
        format!("concert \"Winter\"\n  program\n{rows}")
    };
    let base = program(["A", "B", "C"]);
    let merged = merge(&base, &program(["B", "A", "C"]), &program(["A", "C", "B"]));
    assert_eq!(merged.clashes.len(), 1, "{}", merged.text);
    let merged = merge(
        &base,
        &program(["B", "A", "C"]),
        &program(["A", "B", "C"]).replace("\"C\"", "\"C\", opener"),
    );
    assert_eq!(
        merged.text,
        program(["B", "A", "C"]).replace("\"C\"", "\"C\", opener")
    );
}

#[test]
fn another_piece_at_the_same_place_is_no_renamed_one() {
    let card = |name: &str, lines: &str| {
        format!("piece \"{name}\"\n  grade           1\n  style           march\n{lines}\n")
    };
    let base = card("Lamplighters", "") + &card("Quarry Dance", "  measures        64\n");
    let ours = card("Coal Wharf", "") + &card("Quarry Dance", "  measures        64\n");
    let theirs =
        card("Lamplighters", "  measures        88\n") + &card("Quarry Dance", "  measures        64\n");
    let merged = merge(&base, &ours, &theirs);
    assert_eq!(merged.clashes.len(), 1, "{}", merged.text);
    assert!(merged.text.contains(&card("Coal Wharf", "")), "{}", merged.text);
    // A line that no other card has tells that it is the same piece.
    let own = |text: &str| text.replacen("grade           1", "grade           1.5", 1);
    let merged = merge(&own(&base), &own(&ours), &own(&theirs));
    assert_eq!(merged.clashes, [], "{}", merged.text);
    assert_eq!(merged.text, own(&theirs).replace("Lamplighters", "Coal Wharf"));
}
