//! What a card, a roster and a handbook say, and what comes of it. A measure of 1/16 at quarter = 150 lasts a
//! tenth of a second, so measures can be read as tenths.

use super::share;

/// A card with these percussion rows, a tenth of a second a measure.
fn piece(rows: &str) -> String {
    let rows: String = rows.lines().map(|row| format!("    {}\n", row.trim())).collect();
    format!("piece \"Rill\"\n  meter 1/16\n  tempo quarter = 150\n  measures 400\n  percussion\n{rows}")
}

fn roster(rows: &str) -> String {
    let rows: String = rows.lines().map(|row| format!("    {}\n", row.trim())).collect();
    format!("ensemble \"Band\"\n  percussionists\n{rows}")
}

fn handbook(lines: &str) -> String {
    let lines: String = lines.lines().map(|line| format!("  {}\n", line.trim())).collect();
    format!("handbook\n  notation 1\n{lines}")
}

#[test]
fn times_to_change_decide_to_the_tenth() {
    // One player has both as soon as the rest between is as long as the change.
    let table: &[(&str, &str, &str, usize)] = &[
        ("change 2.5 s from bells to snare", "bells 1-10", "snare 36-50", 1),
        ("change 2.5 s from bells to snare", "bells 1-10", "snare 35-50", 2),
        // The same time back where only one direction is said.
        ("change 2.5 s from bells to snare", "snare 1-10", "bells 36-50", 1),
        ("change 2.5 s from bells to snare", "snare 1-10", "bells 35-50", 2),
        // Both directions said: each has its own.
        (
            "change 2.5 s from bells to snare, 4 s from snare to bells",
            "bells 1-10",
            "snare 36-50",
            1,
        ),
        (
            "change 2.5 s from bells to snare, 4 s from snare to bells",
            "snare 1-10",
            "bells 36-50",
            2,
        ),
        (
            "change 2.5 s from bells to snare, 4 s from snare to bells",
            "snare 1-10",
            "bells 51-60",
            1,
        ),
        // A pair goes before what holds for neighbors and for the timpani.
        (
            "change 5 s to a neighboring percussion instrument, 3 s from bells to snare",
            "bells 1-10",
            "snare 41-50",
            1,
        ),
        (
            "change 5 s to a neighboring percussion instrument, 3 s from bells to snare",
            "bells 1-10",
            "triangle 60-70",
            2,
        ),
        (
            "change 5 s to a neighboring percussion instrument, 3 s from bells to snare",
            "bells 1-10",
            "triangle 61-70",
            1,
        ),
        ("change 10 s to the timpani", "snare 1-10", "timpani 111-120", 1),
        ("change 10 s to the timpani", "snare 1-10", "timpani 110-120", 2),
        ("change 10 s to the timpani", "timpani 1-10", "snare 110-120", 2),
        // From memory: 3 s beside, 8 s to the timpani.
        ("", "bells 1-10", "snare 41-50", 1),
        ("", "bells 1-10", "snare 40-50", 2),
        ("", "bells 1-10", "timpani 91-99", 1),
        ("", "bells 1-10", "timpani 90-99", 2),
        // Sticks that change within a part are those the player leaves with.
        ("", "snare 1 1-20", "snare 2 41-60", 1),
        ("", "snare 1 1-20, brushes at 15", "snare 2 41-60", 2),
        ("", "snare 1 1-20, brushes 5-10", "snare 2 41-60", 1),
        ("", "snare 1 1-20, brushes at 15", "snare 2 51-60", 1),
        // A drum to be tuned otherwise wants its player there four seconds before.
        (
            "change 10 s to the timpani",
            "snare 1-10",
            "timpani 151-160, retune F2 to G2 at 151",
            1,
        ),
        (
            "change 10 s to the timpani",
            "snare 1-10",
            "timpani 150-160, retune F2 to G2 at 150",
            2,
        ),
        (
            "change 10 s to the timpani",
            "snare 1-10",
            "timpani 151-160, retune F2 to G2 at 151, retune C3 to D3 at 151",
            2,
        ),
        // At once is at once, whatever the times.
        ("change 0 s from bells to snare", "bells 1-10", "snare 10-20", 2),
        ("change 0 s from bells to snare", "bells 1-10", "snare 11-20", 1),
    ];
    for (change, one, other, players) in table {
        let text = handbook(change) + &piece(&format!("{one}\n{other}"));
        let shared = share(&text, &[], false);
        assert_eq!(
            shared.answer.all.players,
            Some(*players),
            "{change}: {one}, {other}"
        );
    }
}

#[test]
fn every_fewest_says_why() {
    let table: &[(&str, &str)] = &[
        (
            "bells 1-20\nsnare 10-30\ntriangle 15-16",
            "It takes 3 players, because bells, snare and triangle play at once at measures 15-16.",
        ),
        (
            "bells 1-20\nsnare 21-40\ntriangle 41-60",
            "It takes 2 players, because snare and triangle overlap, or come too close together for one player to have both.",
        ),
        (
            "bells 1-20\nsnare 21-40\ntriangle 25-27, 41-60\nchimes 10-11, 44-50",
            "It takes 4 players, because bells, snare, triangle and chimes overlap, or come too close together",
        ),
        (
            "snare 1-20",
            "It takes 1 player, because snare plays at measures 1-20.",
        ),
        (
            "bells 1-20\nsnare 1-20\nadvanced snare 5-30, instead of snare",
            "It takes 2 players, because bells and snare (or advanced snare) play at once at measures 5-20.",
        ),
        // Five in a ring, each beside the next: no three meet, and yet two players do not do.
        (
            "bells 1-10, 201-210\nsnare 5-50\ntriangle 45-100\ntom-toms 95-150\nchimes 145-205",
            "It takes 3 players, because every way with fewer was tried.",
        ),
    ];
    for (rows, says) in table {
        let said = share(
            &(handbook("change 1 s to a neighboring instrument") + &piece(rows)),
            &[],
            false,
        )
        .says();
        assert!(said.contains(says), "{rows}: {said}");
    }
}

#[test]
fn figures_from_memory_are_called_so() {
    let said = |change: &str| {
        share(
            &(handbook(change) + &piece("bells 1-10\nsnare 41-50")),
            &[],
            false,
        )
        .says()
    };
    assert!(said("").contains("from memory"), "{}", said(""));
    let all = said("change 5 s to a neighboring percussion instrument, 10 s to the timpani");
    assert!(!all.contains("from memory"), "{all}");
    // What is not understood is no time, so the figures are from memory still.
    let unread = said("change as fast as they can");
    assert!(unread.contains("from memory"), "{unread}");
}

#[test]
fn how_many_it_takes() {
    // What is said, then all/without spares/at once/handing over.
    let table: &[(&str, &str, &str, &str)] = &[
        (
            "at once",
            "",
            "bells 1-20\nsnare 10-30\ntriangle 15-16",
            "3/3/3/3",
        ),
        (
            "one player in the piece",
            "",
            "triangle, claves  one player\nsnare 1-400",
            "1/1/1/1",
        ),
        (
            "one player in the piece, with measures",
            "",
            "triangle, claves  1-400, one player\nsnare 1-400",
            "2/2/2/2",
        ),
        (
            "one player in the handbook",
            "one player triangle and wood block",
            "triangle 1-20\nwood block 5-30\nsnare 1-400",
            "2/2/2/2",
        ),
        (
            "the same without it",
            "",
            "triangle 1-20\nwood block 5-30\nsnare 1-400",
            "3/3/3/3",
        ),
        (
            "the same as another may be spared",
            "",
            "bells 1-20, same as flute 1\nsnare 1-20",
            "2/1/2/2",
        ),
        (
            "optional may be spared",
            "",
            "bells 1-20, optional\nsnare 1-20",
            "2/1/2/2",
        ),
        (
            "one is played in place of the other",
            "",
            "snare 1-20\nadvanced snare 1-40, instead of snare\nbells 60-70",
            "1/1/1/1",
        ),
        (
            "players counted in a row",
            "",
            "crash cymbals  1-20, 2 players\nsnare 1-20",
            "3/3/3/3",
        ),
        (
            "handing over in a rest saves one",
            "change 2 s to a neighboring instrument",
            "snare 1-10, 100-110\nbells 5-60\ntriangle 65-130",
            "3/3/2/2",
        ),
        ("silent throughout", "", "snare 1-20\nbells tacet", "1/1/1/1"),
    ];
    for (what, lines, rows, counts) in table {
        let shared = share(&(handbook(lines) + &piece(rows)), &[], false);
        assert_eq!(shared.counts(), *counts, "{what}: {}", shared.says());
    }
}

#[test]
fn who_plays_what() {
    let table: &[(&str, &str, &str, &[&str], &str)] = &[
        (
            "by what they play",
            "P1 mallets, timpani\nP2 snare, accessories",
            "bells 1-20\nsnare 1-20",
            &[],
            "P1 bells; P2 snare",
        ),
        (
            "an instrument by its name",
            "P1 snare\nP2 triangle",
            "triangle 1-20\nsnare 1-20",
            &[],
            "P1 snare; P2 triangle",
        ),
        (
            "everything but",
            "P1 everything but snare\nP2 everything",
            "triangle 1-20\nsnare 1-20",
            &[],
            "P1 triangle; P2 snare",
        ),
        (
            "the strong player has the strong part",
            "P1 snare, bass drum\nP2 strong snare, bass drum",
            "snare 1-20, strong player\nbass drum 1-20",
            &[],
            "P1 bass drum; P2 snare",
        ),
        (
            "nobody is called strong: anybody who plays it",
            "P1 snare\nP2 bass drum",
            "snare 1-20, strong player\nbass drum 1-20",
            &[],
            "P1 snare; P2 bass drum",
        ),
        (
            "the spare part goes before the others",
            "P1 snare, bass drum",
            "bass drum 1-20, optional\nsnare 1-20",
            &[],
            "P1 snare; left out bass drum",
        ),
        (
            "the fewest walks",
            "P1 everything\nP2 everything",
            "snare 1-10, 200-210\nbells 100-110, 300-310",
            &[],
            "P1 bells; P2 snare",
        ),
        (
            "somebody is not there",
            "P1 snare\nP2 snare\nP3 bells",
            "snare 1-10\nbells 1-10",
            &["P1"],
            "P2 snare; P3 bells",
        ),
        (
            "in place of it where nobody plays the first",
            "P1 bells",
            "vibraphone 1-10, strong player\nbells 1-10, instead of vibraphone",
            &[],
            "P1 bells; left out vibraphone",
        ),
    ];
    for (what, seats, rows, absent, sharing) in table.iter().take(8) {
        let shared = share(&(roster(seats) + &piece(rows)), absent, false);
        assert_eq!(shared.sharing(), *sharing, "{what}: {}", shared.says());
    }
    let (what, seats, rows, absent, _) = table[8];
    let shared = share(&(roster(seats) + &piece(rows)), absent, false);
    assert_eq!(shared.sharing(), "P1 bells", "{what}: {}", shared.says());
}

#[test]
fn ways_within_a_piece() {
    let suite = |attacca: &str| {
        format!(
            "{}piece \"Rooms\"
  movements
    1 \"Kitchen\"
      meter 1/16
      tempo quarter = 150
      measures 100
      percussion
        snare   1-90
    2 \"Attic\"{attacca}
      meter 1/16
      tempo quarter = 150
      measures 100
      percussion
        bells   51-100
",
            roster("P1")
        )
    };
    let table: &[(String, &[&str])] = &[
        (
            roster("P1") + &piece("snare 1-10, 201-210\nbells 101-110"),
            &[
                "after 10 to bells: 90 measures, 9 s there, 3 s needed",
                "after 110 to snare: 90 measures, 9 s there, 3 s needed",
            ],
        ),
        (
            roster("P1")
                + &piece("snare 1-10\nbells 101-110")
                    .replace("  percussion", "  roadmap repeat 1-200\n  percussion"),
            &[
                "after 10 to bells: 90 measures, 9 s there, 3 s needed, 2 times",
                "after 110 to snare: 90 measures, 9 s there, 3 s needed",
            ],
        ),
        (suite(""), &["after 90 to bells: between the movements"]),
        // The second follows without a break.
        (suite("   attacca"), &["after 90 to bells: between the movements"]),
        (
            suite("").replace("\"Kitchen\"", "\"Kitchen\"   attacca"),
            &["after 90 to bells: 60 measures, 6 s there, 3 s needed"],
        ),
    ];
    for (text, ways) in table {
        let shared = share(text, &[], false);
        let sharing = shared.answer.sharing.as_ref().expect("somebody is there");
        let told: Vec<String> = sharing
            .moves
            .iter()
            .map(|way| crate::planning::percussion::words::way(&shared.question, way))
            .collect();
        assert_eq!(told, *ways, "{text}");
    }
}

#[test]
fn what_is_not_there() {
    let table: &[(&str, &str, &str, &str)] = &[
        (
            "bells, snare",
            "bells 1-10\nchimes 5-20",
            "Not in the room: chimes",
            "",
        ),
        ("mallets, snare", "bells 1-10\nchimes 5-20", "", "Not in the room"),
        (
            "snare",
            "snare 1 1-10\nsnare 2 5-20",
            "2 of snare are played at once at measure 5, and there is 1",
            "",
        ),
        (
            "2 snares",
            "snare 1 1-10\nsnare 2 5-20",
            "",
            "at once at measure 5, and",
        ),
        ("snare", "snare 1 1-10\nsnare 2 11-20", "", "and there is"),
        (
            "snare\n  borrowed chimes from the high school",
            "chimes 1-10",
            "",
            "Not in the room",
        ),
    ];
    for (owns, rows, says, not) in table {
        let text = format!(
            "{}  owns {owns}\n{}",
            roster("P1 everything\nP2 everything"),
            piece(rows)
        );
        let said = share(&text, &[], false).says();
        assert!(said.contains(says), "{owns}: {said}");
        assert!(not.is_empty() || !said.contains(not), "{owns}: {said}");
    }
}
