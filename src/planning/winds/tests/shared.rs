//! Players to parts.

use super::*;

#[test]
fn who_has_which_part() {
    // Players, parts, the rest of the catalogue, and who has what.
    let table: [(&str, &str, &str, &[&str]); 16] = [
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
                "clarinet 1: 4 clarinets, all over the break",
                "clarinet 2: 8 clarinets",
            ],
        ),
        (
            "clarinet 12, 1 over the break",
            "clarinet 1  A3-C5 / clarinet 2  G3-A4",
            "handbook\n  players  at least 2 to a wind part",
            &[
                "clarinet 1: 2 clarinets, 1 of them over the break",
                "clarinet 2: 10 clarinets",
            ],
        ),
        (
            "clarinet 11, none over the break",
            "clarinet 1  over the break at 9 / clarinet 2  G3-A4",
            "",
            &[
                "clarinet 1: 5 clarinets, none of them over the break yet",
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
            &["part 1: 4 players", "part 2: 3 players", "part 3: 1 tuba"],
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
            &["bassoon: 1 low reed", "bass clarinet: 2 low reeds"],
        ),
        ("flute", "flute 1-2", "", &["flute 1: open", "flute 2: open"]),
        (
            "oboe 1",
            "oboe  optional / bassoon  optional",
            "",
            &["oboe: 1 oboe", "bassoon: nobody (may be left out)"],
        ),
        ("horn 1", "horn 1-2", "", &["horn 1: nobody", "horn 2: 1 horn"]),
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
