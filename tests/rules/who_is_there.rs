//! What a card says of who is there, of days off, of licenses and of pieces that are not judged is used.

use std::sync::Arc;

use levare::catalogue::{CardFile, Snapshot};
use levare::findings;

fn phrases(text: &str) -> Vec<String> {
    let file = Arc::new(CardFile::read("a.levare", text));
    let snapshot = Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20));
    snapshot
        .entries()
        .flat_map(|(id, _)| findings::of_card(&snapshot, id))
        .map(|finding| finding.phrase.to_owned())
        .collect()
}

const CONCERT: &str = "concert \"C\"\n  on  2026-12-10\n  for  \"B\"\n  program\n    \"A\"\n";

/// A percussionist who joins later, or has left, is not counted on the day of the concert.
#[test]
fn a_percussionist_since_or_until_a_day() {
    let piece = "piece \"A\"\n  percussion\n    snare  1-8\n    bass drum  1-8\n";
    for (said, short) in [
        ("", false),
        (", since 2026-12-01", false),
        (", since 2027-01-04", true),
        (", until 2026-11-30", true),
        (", until 2027-01-15", false),
    ] {
        let band = format!(
            "ensemble \"B\"\n  percussionists\n    P1  snare, bass drum\n    P2  snare, bass drum{said}\n"
        );
        let drawn = phrases(&format!("{band}{piece}{CONCERT}"));
        let found = drawn.iter().any(|phrase| phrase == "short of percussionists");
        assert_eq!(found, short, "{said}: {drawn:?}");
    }
}

/// A wind player who joins later is not there either.
#[test]
fn a_wind_player_who_joins_later() {
    let piece = "piece \"A\"\n  parts  flute, horn\n";
    for (said, silent) in [
        ("", false),
        (", 1 joined 2026-10-12", false),
        (", 1 joined 2027-02-01", true),
    ] {
        let band = format!("ensemble \"B\"\n  players\n    flute 4\n    horn 1{said}\n");
        let drawn = phrases(&format!("{band}{piece}{CONCERT}"));
        let found = drawn.iter().any(|phrase| phrase == "nobody plays it");
        assert_eq!(found, silent, "{said}: {drawn:?}");
    }
}

/// Who is away by the band's card is missed at its concert of that day, and at no other.
#[test]
fn players_who_are_away_on_a_day() {
    let piece = "piece \"A\"\n  parts  flute, horn\n  percussion\n    snare  1-8\n    bass drum  1-8\n";
    let roster = "  players\n    flute 4\n    horn 1\n  percussionists\n    P1  snare, bass drum\n    P2  snare, bass drum\n";
    for (absent, told) in [
        ("the horn on 2026-12-10", Some("nobody plays it")),
        (
            "the horn on Dec 10, for the science trip",
            Some("nobody plays it"),
        ),
        ("the horn on 2026-12-11", None),
        (
            "2 flutes and P2 on December 10, 2026",
            Some("short of percussionists"),
        ),
        ("P2 on 2026-12-01 to 2026-12-09", None),
        ("P9 on 2026-12-10", Some("player not on the roster")),
    ] {
        let band = format!("ensemble \"B\"\n  season 2026-27\n{roster}  absent {absent}\n");
        let drawn = phrases(&format!("{band}{piece}{CONCERT}"));
        let all = [
            "nobody plays it",
            "short of percussionists",
            "player not on the roster",
        ];
        for phrase in all {
            let found = drawn.iter().any(|drawn| drawn == phrase);
            assert_eq!(found, told == Some(phrase), "{absent}: {drawn:?}");
        }
    }
}

/// `without oboe` is news to nobody; a solo of it is.
#[test]
fn a_band_without_an_oboe() {
    for (without, part, told) in [
        ("", "oboe  C4-C5", true),
        ("\n  without  oboe", "oboe  C4-C5", false),
        ("\n  without  oboe", "oboe  solo 5-8", true),
    ] {
        let text = format!(
            "ensemble \"B\"\n  players  flute 4{without}\npiece \"A\"\n  parts\n    flute  C4-C5\n    {part}\n{CONCERT}"
        );
        let drawn = phrases(&text);
        let found = drawn.iter().any(|phrase| phrase == "nobody plays it");
        assert_eq!(found, told, "{without} {part}: {drawn:?}");
    }
}

/// A piece that is not judged counts for no condition, and one for another band is not judged for this one.
#[test]
fn what_is_not_judged() {
    let program = |judged: &str| {
        format!(
            "ensemble \"B\"\npiece \"A\"\n  style  march\n  tempo  quarter = 120\n  needs  3 percussionists\npiece \"Scales\"\n  needs  5 percussionists{judged}\nconcert \"C\"\n  on  2026-12-10\n  for  \"B\"\n  calls for  at most 3 percussionists\n  program\n    \"A\"\n    \"Scales\"\n"
        )
    };
    assert!(phrases(&program("")).contains(&"program lacks".to_owned()));
    assert!(!phrases(&program("\n  judged  no")).contains(&"program lacks".to_owned()));
    let short = |band: &str| {
        format!(
            "handbook\n  for  \"B\"\nensemble \"B\"\n  percussionists  1\nensemble \"J\"\n  percussionists  4\npiece \"A\"{band}\n  percussion\n    snare  1-8\n    gong  1-8\n"
        )
    };
    assert!(phrases(&short("")).contains(&"short of percussionists".to_owned()));
    assert!(!phrases(&short("\n  for  \"J\"")).contains(&"short of percussionists".to_owned()));
}

/// A drum out for repair is said to be so.
#[test]
fn a_drum_out_for_repair() {
    let text = "ensemble \"B\"\n  owns  bass drum, snare out for repair\npiece \"A\"\n  percussion\n    snare  1-8\n";
    let file = Arc::new(CardFile::read("a.levare", text));
    let snapshot = Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20));
    let all = snapshot
        .entries()
        .flat_map(|(id, _)| findings::of_card(&snapshot, id));
    let says: Vec<String> = all.map(|finding| finding.saying.says).collect();
    assert_eq!(
        says,
        ["The snare of the B is out for repair, and no other is owned or borrowed."]
    );
}

/// Whoever could cover a part is named also when needed elsewhere, with what is lost there, and after those who are free.
#[test]
fn a_cover_that_is_needed_elsewhere_is_told_with_what_it_costs() {
    let told = |players: &str, parts: &str| {
        let text = format!(
            "ensemble \"B\"\n  players  {players}\n\npiece \"A\"\n  parts\n    euphonium\n{parts}\n{CONCERT}"
        );
        let file = Arc::new(CardFile::read("a.levare", &text));
        let snapshot = Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20));
        let mut found = snapshot
            .entries()
            .flat_map(|(id, _)| findings::of_card(&snapshot, id))
            .filter(|finding| finding.phrase == "nobody plays it");
        found
            .next()
            .map(|finding| finding.saying.todo)
            .unwrap_or_default()
    };
    let free = told("flute 4, tenor sax 3, tuba 1", "    tenor sax 1-2\n");
    assert!(
        free.contains("tenor sax (") && !free.contains("but then tenor sax"),
        "{free}"
    );
    let needed = told("flute 4, tenor sax 2, tuba 1", "    tenor sax 1-2\n");
    assert!(needed.contains(", but then tenor sax 2 has nobody)"), "{needed}");
    let short = told("flute 4, tenor sax 1, tuba 1", "    tenor sax 1-2\n");
    assert!(short.contains(", but then tenor sax 1 has nobody)"), "{short}");
    let solo = told("flute 4, tenor sax 1", "    tenor sax  solo 9-16\n");
    assert!(
        solo.contains(", but then the part for tenor sax with its solo at 9-16 has nobody)"),
        "{solo}"
    );
    let optional = told("flute 4, tenor sax 1", "    tenor sax  optional\n");
    assert!(
        optional.contains("tenor sax (") && !optional.contains("but then"),
        "{optional}"
    );
}
