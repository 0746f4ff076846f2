//! Cards before and after recopying.

use levare::notation::recopy::{How, Kept, recopy, recopy_file};

#[track_caller]
fn recopies(before: &str, after: &str) {
    let recopied = recopy_file(before, How::default());
    assert_eq!(recopied.text, after);
    assert_eq!(recopied.kept_as_is, Vec::<Kept>::new());
}

#[test]
fn the_demo_is_in_the_one_form() {
    for (path, text) in crate::cards::files() {
        if path.components().any(|part| part.as_os_str() == "demo") {
            let recopied = recopy_file(&text, How::default()).text;
            for (new, old) in recopied.lines().zip(text.lines()) {
                assert_eq!(new, old, "{}", path.display());
            }
            assert_eq!(
                recopied.lines().count(),
                text.lines().count(),
                "{}",
                path.display()
            );
        }
    }
}

#[test]
fn fields_come_in_columns_and_under_their_own_names() {
    recopies(
        "Piece “Bugle Lane March”\n\tby A. Penrose\n\tkey B♭\n\tkey sig 2♭\n\ttempo q = 120\n\tbars: 64\n\tprice $48\n",
        "piece \"Bugle Lane March\"\n  by              A. Penrose\n  tonal center    Bb major\n  \
         key signature   2 flats\n  tempo           quarter = 120\n  measures        64\n  price           48 USD\n",
    );
}

#[test]
fn lines_that_need_no_word_get_theirs() {
    recopies(
        "piece \"X\"\n  4/4 (mostly)\n  q=72\n  3:15\n  flute D4-Bb5\n  oboe same as flute\n  SD 1-40\n  grade 2 ours\n",
        "piece \"X\"\n  meter           4/4  (mostly)\n  tempo           quarter = 72\n  lasts           3:15\n  \
         parts\n    flute           D4-Bb5\n    oboe            same as flute\n  \
         percussion\n    snare           1-40\n  grade           2 ours\n",
    );
    recopies(
        "ensemble \"Y\"\n  flutes 8\n  1 tuba\n  Mon Wed, 45 minutes\nconcert \"Z\"\n  Dec 12 2026, 7pm\n  1. Air\n  2. \"Rag\"\n",
        "ensemble \"Y\"\n  players\n    flutes          8\n    tuba            1\n  meets           Monday and Wednesday, 45 minutes\n\
         concert \"Z\"\n  on              2026-12-12, 19:00\n  program\n    Air\n    \"Rag\"\n",
    );
}

#[test]
fn rows_come_in_columns() {
    recopies(
        "piece \"X\"\n parts\n   1st clarinet A3–C5, over the break mm. 41-44\n   Fl. Bb4 - C6\n percussion\n     SD mm. 1-64\n     \
         advanced concert snare drum  1-4\n     Tri. m. 1\n",
        "piece \"X\"\n  parts\n    clarinet 1      A3-C5, over the break at 41-44\n    flute           Bb4-C6\n  \
         percussion\n    snare           1-64\n    advanced concert snare drum  1-4\n    triangle        at 1\n",
    );
}

#[test]
fn a_number_of_players_behind_a_name_is_no_number_of_parts() {
    recopies(
        "piece \"X\"\n percussion  9 parts\n   bass drum 1-8, 2 players, optional\n   bells 5-9\n",
        "piece \"X\"\n  percussion      9 parts\n    bass drum       1-8, 2 players, optional\n    bells           5-9\n",
    );
}

#[test]
fn remarks_stay_where_they_stand() {
    recopies(
        "piece \"X\"  (mine)\n(at the margin)\n      (above)\n grade 1 (old), 2 ours (mine) (really)\n    (below)\n tempo q=76 (ask) at 9\n",
        "piece \"X\"  (mine)\n(at the margin)\n  (above)\n  grade           1 (old), 2 ours  (mine) (really)\n    (below)\n  \
         tempo           q=76 (ask) at 9\n",
    );
}

#[test]
fn running_text_keeps_its_lines() {
    recopies(
        "piece \"X\"\n notes  One (line),\n       another?  Yes.\n\n\n       A paragraph.\n stet over the break because they, (all)\n    are eighth graders\n",
        "piece \"X\"\n  notes           One (line),\n    another? Yes.\n\n    A paragraph.\n  \
         stet            over the break because they, (all)\n    are eighth graders\n",
    );
}

#[test]
fn what_is_not_understood_stays_as_it_is() {
    recopies(
        "piece \"X\"\n\tcolour  of   it\n\t\tdeep  one\n\tmeter 4/4, four\ttime\nwords  at the margin\n<<<<<<< ours\n\tprice $4O\n",
        "piece \"X\"\n  colour  of   it\n    deep  one\n  meter           4/4, four time\nwords  at the margin\n<<<<<<< ours\n  \
         price           $4O\n",
    );
}

#[test]
fn line_endings_the_mark_at_the_start_and_the_last_line() {
    recopies(
        "\u{feff}piece \"X\"\r\n by Y\n style march\r\n\r\n\r\n\r\n",
        "\u{feff}piece \"X\"\r\n  by              Y\r\n  style           march\r\n",
    );
    recopies("piece \"X\"\r by Y", "piece \"X\"\r  by              Y\r");
    recopies("", "");
    recopies("\n\n\npiece \"X\"", "piece \"X\"\n");
}

#[test]
fn a_program_by_bands_and_movements_with_fields() {
    recopies(
        "concert \"X\"\n\tprogram\n\t\tfor \"A\"\n\t\t\t“One”,  attacca\n\t\t\"Two\"   by Roe\n",
        "concert \"X\"\n  program\n    for \"A\"\n      \"One\", attacca\n    \"Two\" by Roe\n",
    );
    recopies(
        "piece \"X\"\n movements\n  I. “The Door”, attacca\n     bars 40\n     percussion\n       snare 1-40\n",
        "piece \"X\"\n  movements\n    1 \"The Door\"    attacca\n      measures        40\n      percussion\n        snare           1-40\n",
    );
}

#[test]
fn fields_keep_their_order_unless_asked() {
    let card =
        "piece \"X\"\n  notes           Last.\n  (of the grade)\n  grade           1\n  by              Y\n";
    recopies(card, card);
    let ordered = recopy_file(card, How { order: true }).text;
    assert_eq!(
        ordered,
        "piece \"X\"\n  by              Y\n  (of the grade)\n  grade           1\n  notes           Last.\n"
    );
}

#[test]
fn a_date_for_a_line_of_skills_is_not_repeated() {
    let card = "ensemble \"X\"\n  taught          slurs, ties by 2026-10-01\n";
    recopies(card, card);
    recopies("ensemble \"X\"\n  knows slurs,ties by Oct 1, 2026\n", card);
}

#[test]
fn one_card_alone() {
    assert_eq!(
        recopy("skill \"Ties\"\n takes 2 weeks").text,
        "skill \"Ties\"\n  takes           2 weeks\n"
    );
}

#[test]
fn single_measures_never_pass_for_the_number_of_a_part() {
    recopies(
        "piece \"X\"\n  percussion\n    whip  112, 120\n    chimes m. 1\n  parts  flute 1-2, trumpet 1-3, occasional divisi\n",
        "piece \"X\"\n  percussion\n    whip            at 112, 120\n    chimes          at 1\n  parts           flute 1-2, trumpet 1-3, occasional divisi\n",
    );
}
