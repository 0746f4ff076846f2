//! `assign`: who plays what.

use std::fmt::Write;

use expect_test::expect;
use serde_json::Value;

use crate::bench::{Bench, Ended};

const CARDS: &str = "ensemble \"Band\"
  percussionists
    P1              mallets, timpani
    P2 P3           snare, bass drum, accessories

piece \"Rill\"
  meter           4/4
  tempo           quarter = 120
  measures        40
  percussion
    bells           1-10
    timpani         15-30
    snare           1-40
    triangle        5-8, optional

piece \"Weir\"
  meter           4/4
  tempo           quarter = 120
  measures        40
  percussion
    bells           1-40
    timpani         15-30

concert \"Evening\"
  on              2026-12-10
  program
    \"Rill\"
    \"Weir\"
";

const BOOK: &str = "handbook
  notation        1
  change          5 s to a neighboring instrument, 7.5 s to the timpani
";

fn bench() -> Bench {
    Bench::bare(&[("cards.levare", CARDS), ("handbook.levare", BOOK)])
}

fn assign(bench: &Bench, more: &[&str]) -> Ended {
    let arguments: Vec<&str> = [&["assign", "--today", "2026-10-20"], more].concat();
    bench.run(&arguments)
}

fn json(ended: &Ended) -> Vec<Value> {
    let lines = ended
        .out
        .lines()
        .map(|line| serde_json::from_str(line).expect("JSON"));
    lines.collect()
}

#[test]
fn a_piece() {
    let ended = assign(&bench(), &["Rill"]);
    assert_eq!((ended.status, ended.err.as_str()), (0, ""));
    expect![[r#"
        Rill
        No. 1 of "Evening", Thursday, December 10, 2026.
        Band, 3 percussionists

        It takes 3 players, because bells, snare and triangle play at once at measures
        5-8.
        It takes 2 players without what may be left out: triangle (optional), because
        timpani and snare play at once at measures 15-30.

        P1                         P2                         P3
        ─────────────────────────  ─────────────────────────  ─────────────────────────
        bells 1-10                 snare 1-40                 triangle 5-8
          hard mallets               snare sticks               triangle beater
        timpani 15-30
          timpani mallets
        → after 10 to timpani: 4
        measures, 8 s there,
        7.5 s needed

    "#]]
    .assert_eq(&ended.out);
}

#[test]
fn a_piece_with_somebody_absent() {
    let ended = assign(&bench(), &["Rill", "--without", "P2", "--without", "P3"]);
    assert_eq!(ended.status, 1, "a part that is needed has no player");
    expect![[r#"
        Rill
        No. 1 of "Evening", Thursday, December 10, 2026.
        Band, 3 percussionists

        It takes 3 players, because bells, snare and triangle play at once at measures
        5-8.
        It takes 2 players without what may be left out: triangle (optional), because
        timpani and snare play at once at measures 15-30.
        With these players it cannot be done, because nobody who is there plays snare.

        P1
        ────────────────────────────────────
        bells 1-10
          hard mallets
        timpani 15-30
          timpani mallets
        → after 10 to timpani: 4 measures,
        8 s there, 7.5 s needed

        Left out: snare and triangle, because nobody who is there plays them.
        Not there: P2 and P3.
    "#]]
    .assert_eq(&ended.out);
}

#[test]
fn a_concert() {
    let ended = assign(&bench(), &["Evening"]);
    assert_eq!((ended.status, ended.err.as_str()), (1, ""));
    expect![[r#"
        Evening
        2026-12-10
        The card does not say how long it is from piece to piece. Write it after
        "length", such as "1:30 between pieces".
        Set up before the concert, to stay where it stands: timpani, bells and snare.
        Lay ready: triangle.

        1. Rill
        Band, 3 percussionists
        It takes 3 players, because bells, snare and triangle play at once at measures
        5-8.

        P1                         P2                         P3
        ─────────────────────────  ─────────────────────────  ─────────────────────────
        bells 1-10                 snare 1-40                 triangle 5-8
          hard mallets               snare sticks               triangle beater
        timpani 15-30
          timpani mallets
        → after 10 to timpani: 4
        measures, 8 s there,
        7.5 s needed


        Moves: P1 from timpani to bells.

        2. Weir
        Band, 3 percussionists
        It takes 2 players, because bells and timpani play at once at measures 15-30.

        P1
        ────────────────────────────────────
        bells 1-40
          hard mallets

        Left out: timpani, because bells and timpani play at once at measures 15-30, and
        only P1 can play any of them.
        Free: P2 and P3.

        Duties
        P1: no. 1 bells and timpani, no. 2 bells. Stick bag: hard mallets, timpani
        mallets.
        P2: no. 1 snare, no. 2 free. Stick bag: snare sticks.
        P3: no. 1 triangle, no. 2 free. Stick bag: triangle beater.
        Playing time: P1 2:12, P2 1:20, P3 0:04. Shared to the second, nobody would have
        more than 1:12.
        In that, small instruments count half, other drums and cymbals three quarters.

        If somebody is missing
        Without P1, no. 1: bells and timpani are left out; no. 2: bells are left out.
        Without P2, no. 1: P3 takes snare, triangle (not needed) is left out.
        Without P3, no. 1: triangle (not needed) is left out.
    "#]]
    .assert_eq(&ended.out);
}

#[test]
fn a_piece_for_programs() {
    let ended = assign(&bench(), &["Rill", "--as", "json"]);
    let lines = json(&ended);
    assert_eq!(lines.len(), 1);
    let piece = &lines[0];
    assert_eq!(piece["about"], "piece");
    assert_eq!(piece["counted"], "tenths of a second");
    // Ten measures of two seconds, then four of rest.
    assert_eq!(piece["parts"][0]["entrances"][0]["end"], 200);
    assert_eq!(piece["parts"][1]["entrances"][0]["start"], 280);
    let mut counts = String::new();
    for (name, count) in piece["counts"].as_object().expect("counts") {
        let _ = write!(counts, "{name} {} {}; ", count["players"], count["proven"]);
        assert!(
            count["because"].as_str().is_some_and(|why| !why.is_empty()),
            "{name}"
        );
        assert!(count["at_least"].is_u64() && count["parts"].is_array(), "{name}");
    }
    assert_eq!(
        counts,
        "all 3 true; at_once 3 true; handing_over 3 true; roster 3 true; roster_handing_over 3 true; without_spares 2 true; "
    );
    let moves = piece["sharing"]["moves"].as_array().expect("moves");
    assert_eq!(moves.len(), 1);
    let way = &moves[0];
    let told = [
        &way["after"],
        &way["before"],
        &way["measures"],
        &way["there"],
        &way["needed"],
    ];
    assert_eq!(told.map(Value::as_i64), [10, 15, 4, 80, 75].map(Some));
    assert_eq!(way["from_memory"], false);
}

#[test]
fn a_concert_for_programs() {
    let ended = assign(&bench(), &["Evening", "--as", "json", "--without", "P3"]);
    let lines = json(&ended);
    let about: Vec<&str> = lines.iter().filter_map(|line| line["about"].as_str()).collect();
    assert_eq!(about, ["concert", "piece", "piece"]);
    let concert = &lines[0];
    assert_eq!(concert["players"].as_array().map(Vec::len), Some(3));
    assert_eq!(concert["players"][2]["absent"], true);
    assert_eq!(concert["program"][1]["left_out"][0]["name"], "timpani");
    assert_eq!(concert["gaps"].as_array().map(Vec::len), Some(1));
    assert_eq!(concert["program"][0]["cells"][0]["duties"][0]["first"], 1);
}

#[test]
fn what_is_not_there() {
    let bench = bench();
    let table: &[(&[&str], &str)] = &[
        (
            &["Ril"],
            "There is no piece and no concert called \"Ril\" here. Perhaps \"Rill\"?",
        ),
        (&["evning"], "Perhaps \"Evening\"?"),
        (&["Grand Finale of Spring"], "Check how the card spells it."),
        (
            &["Rill", "--for", "Bandd"],
            "There is no band called \"Bandd\". The catalog has \"Band\".",
        ),
        (&["Rill", "--in", "nowhere"], "There is no \"nowhere\" here."),
        (&[], "NAME is missing here."),
    ];
    for (arguments, says) in table {
        let ended = assign(&bench, arguments);
        let said = ended.err.replace('\n', " ");
        assert_eq!(
            (ended.status, ended.out.as_str()),
            (2, ""),
            "{arguments:?}: {said}"
        );
        assert!(said.contains(says), "{arguments:?}: {said}");
    }
    let ended = assign(&bench, &["Rill", "--without", "P9"]);
    assert!(
        ended
            .err
            .replace('\n', " ")
            .contains("No percussionist in the band is called \"P9\""),
        "{}",
        ended.err
    );
    assert_eq!(ended.status, 0);
    let empty = assign(&Bench::bare(&[]), &["Rill"]);
    assert_eq!(empty.status, 2);
    assert!(empty.err.contains("There are no cards here."), "{}", empty.err);
}

#[test]
fn names_as_they_are_written() {
    let bench = bench();
    let usual = assign(&bench, &["Rill"]).out;
    for arguments in [
        &["rill"][..],
        &["\"Rill\""],
        &["“Rill”"],
        &["Rill", "--for", "band"],
        &["Rill", "--in", "."],
    ] {
        assert_eq!(assign(&bench, arguments).out, usual, "{arguments:?}");
    }
    let twice = format!("{CARDS}\npiece \"Rill\"\n  by Tam Lindqvist\n  percussion\n    gong  1-4\n");
    let bench = Bench::bare(&[("cards.levare", &twice), ("handbook.levare", BOOK)]);
    let ended = assign(&bench, &["Rill"]);
    let said = ended.err.replace('\n', " ");
    assert!(said.contains("\"Rill by Tam Lindqvist\""), "{said}");
    let ended = assign(&bench, &["Rill", "by", "Lindqvist"]);
    assert!(ended.out.contains("gong"), "{}{}", ended.out, ended.err);
}

#[test]
fn no_time_to_look() {
    // What is not looked at to the end is never called the fewest.
    let ended = assign(&bench(), &["Rill", "--as", "json", "--seconds", "0"]);
    let piece = &json(&ended)[0];
    for (name, count) in piece["counts"].as_object().expect("counts") {
        let (players, least) = (count["players"].as_u64(), count["at_least"].as_u64());
        if count["proven"] == true {
            assert!(
                players.is_none() || least >= players || name == "at_once",
                "{name}: {count}"
            );
        }
    }
    let all = assign(&bench(), &["Rill", "--as", "json", "--seconds", "60"]);
    assert_eq!(json(&all)[0]["counts"]["all"]["players"], 3);
}

#[test]
fn the_whole_demo() {
    let bench = Bench::bare(&[]);
    for name in ["Winter evening", "Thrum Hollow festival", "Spring concert"] {
        let ended = bench.run(&["assign", "--demo", name]);
        assert_eq!(ended.err, "", "{name}");
        for heading in ["Duties", "If somebody is missing", "between pieces"] {
            assert!(ended.out.contains(heading), "{name}: {heading}");
        }
        let wide = ended.out.lines().find(|line| line.chars().count() > 80);
        assert_eq!(wide, None, "{name}");
        let json = bench.run(&["assign", "--demo", name, "--as", "json"]);
        assert!(json.out.lines().count() > 3, "{name}");
    }
    // What the band has not got is told, and nobody is to set it up.
    let winter = bench.run(&["assign", "--demo", "Winter evening"]).out;
    assert!(winter.contains("Not in the room: chimes"), "{winter}");
    let set_up = winter.split("\n\n").next().expect("a head");
    assert!(
        set_up.contains("Set up before the concert") && !set_up.contains("chimes"),
        "{winter}"
    );
    let drums = bench.run(&["assign", "--demo", "Drum Hill"]);
    assert_eq!(drums.status, 1);
    assert!(
        drums.out.contains("Left out: tambourine, for the reason above."),
        "{}",
        drums.out
    );
}

#[test]
fn the_manual_names_all_that_programs_read() {
    fn names(value: &Value, into: &mut Vec<String>) {
        match value {
            Value::Object(fields) => {
                for (name, inner) in fields {
                    into.push(name.clone());
                    names(inner, into);
                }
            }
            Value::Array(all) => all.iter().for_each(|inner| names(inner, into)),
            _ => {}
        }
    }
    let bench = Bench::bare(&[]);
    let mut all = Vec::new();
    for name in ["Winter evening", "Drum Hill"] {
        let ended = bench.run(&["assign", "--demo", name, "--as", "json"]);
        json(&ended).iter().for_each(|line| names(line, &mut all));
    }
    all.sort();
    all.dedup();
    assert!(all.len() > 60, "{all:?}");
    let page = include_str!("../../grammar/for-programs.md");
    let missing: Vec<&String> = all
        .iter()
        .filter(|name| !page.contains(&format!("`{name}`")))
        .collect();
    assert!(missing.is_empty(), "{missing:?}");
}

const WINDS: &str = "ensemble \"Winds\"
  players         flute 5, clarinet 8, alto sax 3, tuba 1
  percussionists  2
  rows
    flute, clarinet 1
    clarinet 2, alto sax, tuba

piece \"Sedge\"
  parts
    flute           C4-D6
    clarinet 1-2
    horn            A3-A4
    tuba
";

#[test]
fn winds_behind_the_percussion() {
    let bench = Bench::bare(&[("cards.levare", WINDS)]);
    let ended = assign(&bench, &["Sedge"]);
    let winds = ended.out.split("\nWinds\n").nth(1).unwrap_or_default();
    expect![[r#"
        flute       5 flutes
        clarinet 1  4 clarinets
        clarinet 2  4 clarinets
        horn        nobody
        tuba        1 tuba
        Horn has nobody. Alto sax (3) could play it, rewritten a major second higher,
        which is in the instrument's full range, Bb3-F#6 (from memory).
        There is no part on the card for 3 alto saxes.
    "#]]
    .assert_eq(winds);
    // The horn has nobody.
    assert_eq!(ended.status, 1);
    let away = assign(&bench, &["Sedge", "--without", "1 tuba", "--without", "3 flutes"]);
    assert_eq!(away.err, "");
    assert!(away.out.contains("flute       2 flutes\n"), "{}", away.out);
    assert!(away.out.contains("Tuba has nobody."), "{}", away.out);
    let line = &json(&assign(&bench, &["Sedge", "--as", "json"]))[0];
    assert_eq!(line["winds"]["depth"], "notes");
    assert_eq!(line["winds"]["parts"][2]["seated"][0]["count"], 4);
    assert_eq!(
        line["winds"]["uncovered"][0]["covers"][0]["rewrite"],
        "a major second higher"
    );
    assert_eq!(line["winds"]["covered"], false);
}

#[test]
fn a_set_up_to_print() {
    let bench = Bench::bare(&[("cards.levare", WINDS)]);
    for name in ["Sedge", "Winds"] {
        let page = assign(&bench, &[name, "--as", "seating"]);
        assert_eq!((page.status, page.err.as_str()), (0, ""));
        assert!(page.out.starts_with("<!DOCTYPE html>"));
        // A block a chair besides the podium, a stand a pair; nothing is fetched and nothing runs.
        assert!(page.out.contains(">Bring 17 chairs and ") && page.out.contains(">alto sax</text>"));
        let named = page.out.matches("xmlns=\"http://www.w3.org/").count();
        let addresses = page.out.matches("http").count();
        assert_eq!((addresses, page.out.matches("<script").count()), (named, 0));
    }
    let band = assign(&bench, &["Winds"]);
    assert_eq!((band.status, band.out.as_str()), (2, ""));
    assert!(band.err.contains("\"Winds\" is a band."), "{}", band.err);
}

#[test]
fn a_card_for_every_folder() {
    let bench = Bench::bare(&[]);
    let page = bench.run(&["assign", "--demo", "Winter evening", "--as", "cards"]);
    assert_eq!(page.err, "");
    for words in [">P1</text>", ">P6</text>", "Stick bag: "] {
        assert!(page.out.contains(words), "{words}");
    }
    let piece = bench.run(&["assign", "--demo", "Drum Hill", "--as", "cards"]);
    assert_eq!((piece.status, piece.out.as_str()), (2, ""));
    assert!(piece.err.contains("Cards are for an evening."), "{}", piece.err);
}

#[test]
fn an_evening_has_one_setup() {
    let bench = Bench::bare(&[]);
    let sheets = |name: &str| {
        let page = bench.run(&["assign", "--demo", name, "--as", "seating"]);
        assert_eq!(page.err, "", "{name}");
        page.out.matches("<svg").count()
    };
    // One band, one sheet, however many pieces.
    assert_eq!(sheets("Spring concert"), 1);
}

#[test]
fn words_that_cannot_all_hold_are_named() {
    let cards = "ensemble \"Band\"\n  percussionists\n    P1 P2 anything, at most 1 part\n\
                 piece \"Rill\"\n  meter 4/4\n  tempo 120\n  measures 40\n  percussion\n    snare 1-10\n    bells 21-30\n    triangle 1-40, for P2\n";
    let bench = Bench::bare(&[("cards.levare", cards)]);
    let told = assign(&bench, &["Rill"]);
    assert_eq!(told.status, 1);
    let plain = told.out.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        plain.contains("P1 has at most 1 part, by the band's card."),
        "{}",
        told.out
    );
    let clash = "These cannot all hold: P1 is to have at most 1 part (the band's card) and P2 is to have at most 1 part (the band's card).";
    assert!(plain.contains(clash), "{}", told.out);
    assert!(plain.contains("because every way was tried"), "{}", told.out);
}

#[test]
fn what_was_played_before_counts() {
    let cards = "ensemble \"Band\"\n  percussionists\n    P1 P2 snare, bass drum\n\
                 piece \"Rill\"\n  meter 4/4\n  tempo 120\n  measures 40\n  percussion\n    snare 1-40, for P1\n\
                 piece \"Weir\"\n  meter 4/4\n  tempo 120\n  measures 40\n  percussion\n    snare 1-40\n\
                 concert \"Fall\"\n  on 2026-10-30\n  for \"Band\"\n  program\n    \"Rill\"\n\
                 concert \"Winter\"\n  on 2026-12-10\n  for \"Band\"\n  program\n    \"Weir\"\n";
    let bench = Bench::bare(&[("cards.levare", cards)]);
    let alone = assign(&bench, &["Winter"]).out;
    assert!(alone.contains("P1: no. 1 snare."), "{alone}");
    let after = assign(&bench, &["Winter", "--after", "Fall"]).out;
    assert!(after.contains("P2: no. 1 snare."), "{after}");
    let wrong = assign(&bench, &["Winter", "--after", "Weir"]);
    assert_eq!((wrong.status, wrong.out.as_str()), (2, ""));
}

#[test]
fn how_it_ends() {
    let piece = "piece \"Rill\"\n  meter 4/4\n  tempo 120\n  measures 9\n  percussion\n    snare  1-9\n";
    let band = "ensemble \"Band\"\n  percussionists 1\n";
    let table: &[(String, i32, &str)] = &[
        (format!("{band}{piece}"), 0, "It takes 1 player"),
        (format!("{band}{piece}    bells\n"), 1, "Not counted"),
        (format!("{band}{piece}    bells  optional\n"), 0, "Not counted"),
        (format!("{band}{piece}    bells  1-9\n"), 1, "Left out"),
        (
            format!("{band}{piece}    bells  1-9, optional\n"),
            0,
            "Left out, as it may be: bells",
        ),
        (piece.to_owned(), 1, "no band: write"),
        (
            format!("{band}piece \"Rill\"\n  grade 1\n"),
            0,
            "names no percussion parts",
        ),
    ];
    for (text, status, says) in table {
        let bench = Bench::bare(&[
            ("cards.levare", text),
            ("handbook.levare", "handbook\n  notation 1\n"),
        ]);
        let ended = assign(&bench, &["Rill"]);
        assert!(ended.out.contains(says), "{text}{}", ended.out);
        assert_eq!(ended.status, *status, "{text}{}", ended.out);
    }
    let concert = format!("{band}{piece}concert \"Evening\"\n  program\n    \"Rill\"\n");
    for (more, status) in [("", 0), ("    \"Weir\"\n", 1)] {
        let bench = Bench::bare(&[("cards.levare", &format!("{concert}{more}"))]);
        assert_eq!(assign(&bench, &["Evening"]).status, status, "{more}");
    }
}

#[test]
fn a_piece_says_where_it_stands() {
    // The spring concert's card comes first and its day last; nobody knows the day of the assembly.
    let concert = |name: &str, on: &str, program: &str| {
        format!("concert \"{name}\"\n{on}  for \"Band\"\n  program\n{program}\n")
    };
    let [rill, weir] = ["    \"Rill\"\n", "    \"Weir\"\n"];
    let concerts = [
        concert("Assembly", "", weir),
        concert("Spring Concert", "  on 2027-05-10\n", &format!("{weir}{rill}")),
        concert(
            "Winter Evening",
            "  on 2026-12-10, 19:00\n",
            &format!("{rill}{weir}{rill}"),
        ),
        concert("Last Year", "  on 2025-12-10\n", weir),
    ];
    let (cards, _) = CARDS.split_once("concert").expect("a concert");
    let bench = Bench::bare(&[("cards.levare", &format!("{cards}{}", concerts.concat()))]);
    for (title, stands) in [
        (
            "Rill",
            "No. 1 of \"Winter Evening\", Thursday, December 10, 2026; also no. 3 there and in \"Spring Concert\".",
        ),
        (
            "Weir",
            "No. 2 of \"Winter Evening\", Thursday, December 10, 2026; also in \"Spring Concert\" and in \"Assembly\".",
        ),
    ] {
        let told = assign(&bench, &[title]).out.replace('\n', " ");
        assert!(told.contains(stands), "{told}");
        let page = assign(&bench, &[title, "--as", "counting"]).out;
        let words = page
            .split("<text")
            .filter_map(|text| text.split_once('>')?.1.split('<').next());
        let page = words.collect::<Vec<&str>>().join(" ").replace("&quot;", "\"");
        assert!(page.contains(stands), "{page}");
    }
    // On the page of a concert that concert comes first, be it the next or not.
    let spring = assign(&bench, &["Spring Concert", "--as", "counting"])
        .out
        .replace("&quot;", "\"");
    assert!(
        spring.contains("No. 2 of \"Spring Concert\", Monday, May 10, 2027; also"),
        "{spring}"
    );
    let nowhere = assign(&Bench::bare(&[("cards.levare", cards)]), &["Rill"]).out;
    assert!(!nowhere.contains("No. "), "{nowhere}");
}

#[test]
fn odd_evenings_read_well() {
    let piece = |name: &str, percussion: &str| {
        format!(
            "piece \"{name}\"\n  meter 4/4\n  tempo quarter = 120\n  measures 40\n  percussion{percussion}\n"
        )
    };
    let concert = |program: &str| format!("concert \"Night\"\n  on 2026-12-10\n  program\n{program}");
    let band = |name: &str, seats: &str| format!("ensemble \"{name}\"\n  percussionists{seats}\n");
    let long = "\n    snare 1-40\n    bass drum 1-40\n    crash cymbals 1-40\n    timpani 1-40";
    let apart = "    for \"Fifth\" and \"Sixth\"\n      \"Rill\"\n";
    for (what, cards, says, not) in [
        (
            "too few, and nobody for the timpani",
            [
                band("Band", "\n    P1 P2 snare, bass drum, cymbals") + "  owns snare, timpani\n",
                piece("Rill", long),
                concert("    \"Rill\"\n"),
            ],
            &[
                "Left out: timpani, because nobody who is there plays them.",
                ", because all who play it have other parts.",
                "Not in the room: bass drum and crash cymbals, neither owned nor borrowed.",
            ][..],
            &["has a player but"][..],
        ),
        (
            "two parts at once for one player",
            [
                band("Band", "\n    P1 snare\n    P2 snare"),
                piece(
                    "Rill",
                    "\n    snare 1-40, for P1\n    bass drum 1-40, for P1\n    bells 1-8",
                ),
                concert("    \"Rill\"\n"),
            ],
            &[
                "P1 is to have the snare by its own row.",
                "because whoever is to have it has other parts.",
            ],
            &["P1 has the snare"],
        ),
        (
            "at most one piece",
            [
                band("Band", "\n    P1 snare, at most 1 piece\n    P2"),
                piece("Rill", "\n    snare 1-40") + &piece("Weir", "\n    snare 1-40\n    bass drum 1-40"),
                concert("    \"Rill\"\n    \"Weir\"\n"),
            ],
            &["P1 sits out here, so as not to play in too many pieces."],
            &["Not there: P1", "P1 plays nothing"],
        ),
        (
            "nobody knows anything",
            [
                band("Band", " 3"),
                "piece \"Rill\"\n  percussion none\npiece \"Weir\"\n  percussion\n    snare\n    bells\n"
                    .to_owned(),
                concert("    \"Rill\"\n    \"Weir\"\n    \"Rill\"\n"),
            ],
            &[
                "The card says that there is no percussion.",
                "because snare and bells are counted as playing at once.",
                "Player 2: no. 2 ",
            ],
            &[
                "no. 1 free",
                "0 percussion parts",
                "nobody knows how long",
                "is free in",
            ],
        ),
        (
            "two bands as one",
            [
                band("Fifth", "\n    P1 P2") + &band("Sixth", "\n    P1"),
                piece("Rill", "\n    snare 1-40\n    bass drum 1-40\n    bells 1-40"),
                concert(apart),
            ],
            &["P1 (Fifth) ", "P1 (Sixth)\n", "P2 "],
            &[],
        ),
    ] {
        let bench = Bench::bare(&[("cards.levare", &cards.concat())]);
        let told = assign(&bench, &["Night"]).out;
        let flowing = told.replace('\n', " ");
        for says in says {
            assert!(
                told.contains(says) || flowing.contains(says),
                "{what}: {says}\n{told}"
            );
        }
        for not in not {
            assert!(!flowing.contains(not), "{what}: {not}\n{told}");
        }
    }
}
