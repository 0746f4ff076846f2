//! Players to parts.

use super::*;

#[test]
fn who_has_which_part() {
    // Players, parts, the rest of the catalogue, and who has what.
    let table: [(&str, &str, &str, &[&str]); 18] = [
        (
            "flute 7",
            "flute 1-2",
            "",
            &["flute 1: 3 flutes", "flute 2: 4 flutes"],
        ),
        (
            "flute 7",
            "flute 1-2",
            "handbook\n  players  extra players on the upper parts",
            &["flute 1: 4 flutes", "flute 2: 3 flutes"],
        ),
        (
            "flute 3, horn 2, clarinet 2",
            "standard instrumentation plus bass clarinet, no oboe",
            "handbook\n  usual parts  flute, oboe, cl 1, cl 2, horn",
            &[
                "flute: 3 flutes",
                "clarinet 1: 1 clarinet",
                "clarinet 2: 1 clarinet",
                "horn: 2 horns",
                "bass clarinet: nobody",
            ],
        ),
        (
            "flute 3, clarinet 2",
            "the usual, but without clarinet 2",
            "handbook\n  parts  flute, clarinet 1, clarinet 2",
            &["flute: 3 flutes", "clarinet 1: 2 clarinets"],
        ),
        (
            "oboe 1",
            "oboe",
            "handbook\n  players  at least 2 to a wind part",
            &["oboe: 1 oboe"],
        ),
        (
            "clarinet 12, 4 over the break",
            "clarinet 1  over the break / clarinet 2  below the break",
            "",
            &[
                "clarinet 1: 4 clarinets, all able to cross the break",
                "clarinet 2: 8 clarinets",
            ],
        ),
        (
            "clarinet 12, 1 over the break",
            "clarinet 1  A3-C5 / clarinet 2  G3-A4",
            "handbook\n  players  at least 2 to a wind part",
            &[
                "clarinet 1: 2 clarinets, 1 of whom can cross the break",
                "clarinet 2: 10 clarinets",
            ],
        ),
        (
            "clarinet 11, none over the break",
            "clarinet 1  over the break at 9 / clarinet 2  G3-A4",
            "",
            &[
                "clarinet 1: 5 clarinets, none of whom can cross the break yet",
                "clarinet 2: 6 clarinets",
            ],
        ),
        (
            "flute 5, 2 switch to oboe",
            "flute / oboe",
            "",
            &["flute: 4 flutes", "oboe: 1 flute who switches"],
        ),
        (
            "euphonium 2, 1 treble clef",
            "euphonium / euphonium T.C.",
            "",
            &["euphonium: 1 euphonium", "euphonium T.C.: 1 euphonium"],
        ),
        (
            "euphonium 2",
            "euphonium / euphonium T.C.",
            "",
            &[
                "euphonium: 2 euphoniums",
                "euphonium T.C.: nobody (euphonium in another clef)",
            ],
        ),
        (
            "flute 2 / clarinet 3 / trumpet 2 / tuba 1",
            "part 1  for flute, clarinet / part 2  for clarinet, trumpet / part 3  for tuba / complete with parts 1 and 3",
            "",
            &["part 1: 3 players", "part 2: 4 players", "part 3: 1 tuba"],
        ),
        (
            "trumpet 4 / bass clarinet 1 / tuba 1",
            "trumpet / low voices  in octaves",
            "",
            &["trumpet: 4 trumpets", "low voices: 1 bass clarinet and 1 tuba"],
        ),
        (
            "low reeds 3",
            "bassoon / bass clarinet",
            "",
            &["bassoon: 2 low reeds", "bass clarinet: 1 low reed"],
        ),
        ("flute", "flute 1-2", "", &["flute 1: open", "flute 2: open"]),
        (
            "oboe 1",
            "oboe  optional / bassoon  optional",
            "",
            &["oboe: 1 oboe", "bassoon: nobody (may be left out)"],
        ),
        ("horn 1", "horn 1-2", "", &["horn 1: 1 horn", "horn 2: nobody"]),
        (
            "trumpet 8, 2 up to G5",
            "trumpet 1  C4-F5 / trumpet 2  C4-D5",
            "",
            &["trumpet 1: 4 trumpets", "trumpet 2: 4 trumpets"],
        ),
    ];
    for (players, parts, more, wanted) in table {
        let sharing = shared(&cards(players, parts, more));
        let mut found = told(&sharing);
        // A flexible part is held by whoever: only how many is fixed.
        for (line, part) in found.iter_mut().zip(&sharing.parts) {
            if part.instruments.len() > 1 && part.spare != Some(Spare::Group) {
                *line = format!("{}: {} players", part.name, part.players());
            }
        }
        assert_eq!(found, wanted, "{players} on {parts}");
    }
}

#[test]
fn what_is_said() {
    type Row = (&'static str, &'static str, &'static str, &'static [&'static str]);
    let table: [Row; 17] = [
        // Too few, with the proof.
        (
            "flute 4, 1 also oboe, 1 also bassoon",
            "flute / oboe / bassoon / bass clarinet",
            "",
            &["Bass clarinet wants 1 player; nobody can play it."],
        ),
        (
            "low reeds 2",
            "bassoon / bass clarinet / baritone sax / contra-alto clarinet",
            "",
            &[
                "Bassoon, bass clarinet, baritone sax and contra-alto clarinet want 4 players; 2 can play any of them.",
            ],
        ),
        (
            "horn 3",
            "horn 1 / horn 2",
            "handbook\n  players  at least 2 to a wind part",
            &["Horn 1 and horn 2 want 4 players (the handbook says 2 to a part); 3 can play any of them."],
        ),
        // One player covers one part, and nobody is taken from a part that needs him or her.
        (
            "euphonium 2 / flute 2 / tuba 1",
            "flute / euphonium / trombone / horn / bassoon",
            "",
            &["Trombone has nobody. Euphonium (2) could play it, from the part as it is."],
        ),
        (
            "euphonium 1 / flute 2",
            "flute / euphonium / trombone",
            "",
            &[
                "Trombone has nobody. Euphonium (1) could play it, from the part as it is, but then euphonium has too few.",
            ],
        ),
        // Covers, the best first. Horn to alto sax a major second higher: src/music/substitutes.rs.
        (
            "alto sax 4 / flute 2",
            "flute / alto sax / horn  A3-A4, cued in alto sax at 5-12",
            "",
            &[
                "Horn has nobody. It is cued at 5-12 in alto sax, with 4 players; or alto sax (4) could play it, rewritten a major second higher, which is in the instrument's full range, Bb3-F#6 (from memory).",
            ],
        ),
        (
            "trombone 3 / euphonium 1 / tenor sax 1",
            "euphonium / tenor sax / trombone / tuba  same as euphonium",
            "",
            &["Tuba has nobody and may be left out: euphonium has its line (same as euphonium)."],
        ),
        (
            "clarinet 6",
            "clarinet / oboe  D4-D6",
            "",
            &[
                "Oboe has nobody. Clarinet (6) could play it, rewritten a major second higher, which is in the instrument's full range, E3-C7 (from memory).",
            ],
        ),
        (
            "flute 6",
            "flute / oboe  Bb3-D5",
            "",
            &[
                "Oboe has nobody. Flute (6) could play it, from the part as it is and an octave up from there, to lie in the instrument's full range, C4-D7 (from memory).",
            ],
        ),
        (
            "tenor sax 1 / flute 1",
            "flute / tenor sax / bassoon  C1-C5",
            "",
            &[
                "Bassoon has nobody. Tenor sax (1) could play it, rewritten a major ninth higher in treble clef, but that comes to D2-D6 and goes beyond the instrument's full range, Bb3-F#6 (from memory).",
            ],
        ),
        (
            "flute 2",
            "flute / English horn",
            "",
            &[
                "English horn has nobody. No other part on the card has its line, and nobody in the band usually covers it. Look in the score for a cue, or leave it out.",
            ],
        ),
        (
            "flute 2 / alto sax 1",
            "flute / horn  for alto sax / trombone  optional",
            "",
            &["Trombone has nobody and may be left out (optional)."],
        ),
        // Nobody has the line, so it is needed after all.
        (
            "flute 2",
            "flute / bassoon  with tuba / tuba",
            "",
            &[
                "Bassoon wants 1 player; nobody can play it.",
                "Tuba wants 1 player; nobody can play it.",
            ],
        ),
        (
            "flute 2",
            "",
            "",
            &["The card lists no wind parts, so this is only a count of the sections: 2 flutes."],
        ),
        ("", "flute", "", &["The band's card counts no wind players"]),
        (
            "trumpet about 8",
            "trumpet 1-2",
            "",
            &["The band's card does not say for certain how many trumpets there are"],
        ),
        (
            "flute 2 / tenor sax 2 / trombone 1 / harp 1",
            "flute C4-C5 / trombone",
            "",
            &[
                "2 tenor saxes have no part on the card; they could be given the trombone part (rewritten a major ninth higher).",
                "There is no part on the card for 1 harp.",
            ],
        ),
    ];
    for (players, parts, more, wanted) in table {
        let sharing = shared(&cards(players, parts, more));
        let said: Vec<String> = [
            words::coarse(&sharing),
            words::short(&sharing),
            words::uncovered(&sharing),
            words::idle(&sharing),
        ]
        .concat();
        for wanted in wanted {
            assert!(
                said.iter().any(|said| said.starts_with(wanted)),
                "{wanted}\n{said:#?}"
            );
        }
    }
}

#[test]
fn who_is_away() {
    let snapshot = snapshot(&cards("flute 3 / tuba 1", "flute / tuba", ""));
    let piece = snapshot
        .entries()
        .find(|(_, entry)| entry.piece().is_some())
        .map(|(id, _)| id);
    let away = ["1 tuba".to_owned(), "P3".to_owned(), "2 flutes".to_owned()];
    let sharing = of_piece(
        &snapshot,
        piece.expect("it has one"),
        snapshot.ensembles(),
        &[],
        &away,
    );
    let found = told(&sharing.expect("it is a piece"));
    assert_eq!(found, ["flute: 1 flute", "tuba: nobody"]);
}
