//! What the director decided goes first, the nearest word before the farther.

use super::{catalogue, first};
use crate::catalogue::Snapshot;
use crate::notation::Kind;
use crate::planning::assign::Limits;
use crate::planning::percussion::{ConcertPlan, Setting, answer, words};

/// Cards with these lines on the handbook, the band, the piece (after its percussion), and the concert.
fn cards(handbook: &str, band: &str, rows: &str, piece: &str, concert: &str, title: &str) -> String {
    let lines = |indent: &str, text: &str| -> String {
        let all = text.split(" / ").filter(|line| !line.is_empty());
        all.map(|line| format!("{indent}{line}\n")).collect()
    };
    format!(
        "handbook\n  for \"Band\"\n{}ensemble \"Band\"\n  percussionists\n    P1 P2 snare, bass drum\n    P3 bells\n    P4 anything\n{}\
         piece \"Rill\"\n  meter 4/4\n  tempo quarter = 120\n  measures 40\n  percussion\n{}{}\
         concert \"Evening\"\n  on 2026-12-10\n  for \"Band\"\n{}  program\n    \"Rill\"{title}\n",
        lines("  ", handbook),
        lines("  ", band),
        lines("    ", rows),
        lines("  ", piece),
        lines("  ", concert),
    )
}

/// `P1 snare; P4 bells`, as the concert's plan has it.
fn by_concert(snapshot: &Snapshot) -> String {
    let id = first(snapshot, Kind::Concert);
    let plan = ConcertPlan::of(snapshot, id, None, &[], false, Limits::USUAL).expect("a concert");
    let duties = plan.pieces[0].duties.iter().enumerate();
    let told = duties
        .filter(|(_, duties)| !duties.is_empty())
        .map(|(who, duties)| {
            let names: Vec<&str> = duties.iter().map(|duty| duty.name.as_str()).collect();
            format!("{} {}", plan.name(snapshot, who), names.join(", "))
        });
    told.collect::<Vec<_>>().join("; ")
}

/// The same, as the piece by itself has it.
fn by_piece(snapshot: &Snapshot) -> String {
    let setting = Setting::of_piece(snapshot, first(snapshot, Kind::Piece), None);
    let question = setting.question(snapshot).expect("a piece");
    let answer = answer(&question, snapshot.instruments(), false, Limits::USUAL);
    let sharing = answer.sharing.expect("players");
    let turns = sharing.turns.iter().enumerate();
    let told = turns.filter(|(_, turns)| !turns.is_empty()).map(|(who, turns)| {
        let mut names: Vec<String> = turns
            .iter()
            .map(|turn| words::part(&question, turn.part))
            .collect();
        names.dedup();
        format!("{} {}", question.seats[who].name, names.join(", "))
    });
    told.collect::<Vec<_>>().join("; ")
}

#[test]
fn the_nearest_word_goes_first_and_piece_and_concert_agree() {
    // Handbook, band, rows, piece, concert, behind the title; who plays.
    let table = [
        (
            [
                "",
                "",
                "snare 1-40 / bass drum 1-40",
                "assigned P2 on snare, P1 on bass drum",
                "",
                "",
            ],
            "P1 bass drum; P2 snare",
        ),
        (["", "", "snare 1-40, for P3", "", "", ""], "P3 snare"),
        (
            ["", "", "snare 1-40, not P1", "assigned P4 not on snare", "", ""],
            "P2 snare",
        ),
        (["assigned P3 on snare", "", "snare 1-40", "", "", ""], "P3 snare"),
        (
            [
                "assigned P3 on snare",
                "assigned P4 on snare",
                "snare 1-40",
                "",
                "",
                "",
            ],
            "P4 snare",
        ),
        (
            [
                "assigned P3 on snare",
                "assigned P4 on snare",
                "snare 1-40",
                "",
                "assigned P1 on snare",
                "",
            ],
            "P1 snare",
        ),
        (
            [
                "",
                "",
                "snare 1-40",
                "assigned P2 on snare",
                "assigned P1 on snare",
                "",
            ],
            "P2 snare",
        ),
        (
            ["", "", "snare 1-40", "assigned P2 on snare", "", ", P4 on snare"],
            "P4 snare",
        ),
        (
            [
                "",
                "",
                "snare 1-40, for P1",
                "assigned P2 on snare",
                "",
                ", P4 on snare",
            ],
            "P1 snare",
        ),
        (["", "", "snare 1-40", "", "", ", without P1 and P2"], "P4 snare"),
        (
            [
                "",
                "assigned P4 never on bells",
                "bells 1-40 / snare 1-40",
                "",
                "absent P3",
                "",
            ],
            "P1 snare",
        ),
        // Whoever is to have it and is not there leaves it to others.
        (
            ["", "", "snare 1-40, for P3", "", "absent P3, P1, P4", ""],
            "P2 snare",
        ),
        (
            [
                "",
                "",
                "snare 1 1-40 / snare 2 1-40",
                "assigned P4 on snare 1, P3 on snare 2",
                "",
                "",
            ],
            "P3 snare 2; P4 snare 1",
        ),
        (
            [
                "assigned P4 on mallets",
                "",
                "bells 1-40 / xylophone 1-40, optional",
                "",
                "",
                "",
            ],
            "P4 bells",
        ),
        // A question settles nothing.
        (
            ["", "", "snare 1-40", "assigned P3 on snare?", "absent P1, P4", ""],
            "P2 snare",
        ),
    ];
    for ([handbook, band, rows, piece, concert, title], wanted) in table {
        let text = cards(handbook, band, rows, piece, concert, title);
        let snapshot = catalogue(&text);
        assert_eq!(by_concert(&snapshot), wanted, "\n{text}");
        assert_eq!(by_piece(&snapshot), wanted, "\n{text}");
    }
}

#[test]
fn without_whoever_it_is_for_others_take_it() {
    let text = cards("", "", "snare 1-40, for P3", "", "", "");
    let snapshot = catalogue(&text);
    let id = first(&snapshot, Kind::Concert);
    let plan = ConcertPlan::of(&snapshot, id, None, &[], false, Limits::USUAL).expect("a concert");
    let [backup] = plan.backups.as_slice() else {
        panic!("{:?}", plan.backups)
    };
    let piece = &backup.pieces[0];
    assert!(piece.lost.is_empty() && piece.taken.len() == 1, "{piece:?}");
}

#[test]
fn what_was_decided_is_said_with_whose_word_it_is() {
    let text = cards(
        "assigned P4 not on snare",
        "",
        "snare 1-40 / bass drum 1-40, for P3",
        "",
        "absent P3",
        ", without P1",
    );
    let snapshot = catalogue(&text);
    let setting = Setting::of_piece(&snapshot, first(&snapshot, Kind::Piece), None);
    let question = setting.question(&snapshot).expect("a piece");
    assert_eq!(
        words::decided(&question),
        [
            "P1 plays nothing here, by the program.",
            "P4 is not to have the snare by the handbook.",
            "P3 is to have the bass drum by its own row and is not there, so others have it.",
        ]
    );
}

#[test]
fn who_is_kept_apart_and_who_has_at_most_so_much() {
    // Handbook, band, rows, piece, concert, behind the title; who plays.
    let table = [
        // Two at one drum, and P1 and P2 are the only two who play it besides P4.
        (
            [
                "",
                "",
                "snare 1 1-40, for P1 / snare 2 1-40",
                "assigned P4 not on snare",
                "",
                "",
            ],
            "P1 snare 1; P2 snare 2",
        ),
        (
            [
                "",
                "",
                "snare 1 1-40, for P1 / snare 2 1-40",
                "assigned P1 and P2 never together",
                "",
                "",
            ],
            "P1 snare 1; P4 snare 2",
        ),
        (
            [
                "assigned P1 and P2 never together in \"Rill\"",
                "",
                "snare 1 1-40, for P1 / snare 2 1-40",
                "",
                "",
                "",
            ],
            "P1 snare 1; P4 snare 2",
        ),
        (
            [
                "assigned P1 and P2 never together in \"Weir\"",
                "",
                "snare 1 1-40, for P1 / snare 2 1-40",
                "",
                "absent P4",
                "",
            ],
            "P1 snare 1; P2 snare 2",
        ),
        // One player would have both drums in turn.
        (
            ["", "", "snare 1-20 / bass drum 25-40", "", "absent P2, P4", ""],
            "P1 snare, bass drum",
        ),
        (
            [
                "",
                "assigned P1 at most 1 part",
                "snare 1-20 / bass drum 25-40",
                "",
                "absent P2, P4",
                "",
            ],
            "P1 snare",
        ),
        // The nearest word counts.
        (
            [
                "",
                "assigned P1 at most 1 part",
                "snare 1-20 / bass drum 25-40",
                "",
                "absent P2, P4",
                ", P1 at most 2 parts",
            ],
            "P1 snare, bass drum",
        ),
        (
            ["", "assigned P3 not in \"Rill\"", "bells 1-40", "", "", ""],
            "P4 bells",
        ),
        (
            [
                "",
                "assigned P3 not in \"Weir\"",
                "bells 1-40",
                "",
                "absent P4",
                "",
            ],
            "P3 bells",
        ),
        (
            ["", "assigned P4 on bells in \"Rill\"", "bells 1-40", "", "", ""],
            "P4 bells",
        ),
    ];
    for ([handbook, band, rows, piece, concert, title], wanted) in table {
        let text = cards(handbook, band, rows, piece, concert, title);
        let snapshot = catalogue(&text);
        assert_eq!(by_concert(&snapshot), wanted, "\n{text}");
        assert_eq!(by_piece(&snapshot), wanted, "\n{text}");
    }
}

#[test]
fn the_roster_says_it_too() {
    let band = |more: &str| {
        format!(
            "ensemble \"Band\"\n  percussionists\n    P1 snare{more}\n    P2 snare\n    P3 anything\n\
             piece \"Rill\"\n  meter 4/4\n  tempo quarter = 120\n  measures 40\n  percussion\n    snare 1 1-40\n    snare 2 1-40\n\
             concert \"Evening\"\n  on 2026-12-10\n  for \"Band\"\n  program\n    \"Rill\"\n"
        )
    };
    for more in [
        ", not with P2",
        "\n    P1 and P2 never together",
        ", never next to P2",
    ] {
        let snapshot = catalogue(&band(more));
        let said = by_concert(&snapshot);
        assert!(said.contains("P3 snare"), "{more}: {said}");
        assert_eq!(said.matches("snare").count(), 2, "{more}: {said}");
    }
}

#[test]
fn at_most_so_many_pieces_of_an_evening() {
    let piece = |title: &str, part: &str| {
        format!(
            "piece \"{title}\"\n  meter 4/4\n  tempo quarter = 120\n  measures 40\n  percussion\n    {part} 1-40\n"
        )
    };
    let text = format!(
        "ensemble \"Band\"\n  percussionists\n    P1 anything, at most 1 piece\n    P2 snare\n\
         {}{}{}concert \"Evening\"\n  on 2026-12-10\n  for \"Band\"\n  program\n    \"A\"\n    \"B\"\n    \"C\"\n",
        piece("A", "snare"),
        piece("B", "bells"),
        piece("C", "snare")
    );
    let snapshot = catalogue(&text);
    let id = first(&snapshot, Kind::Concert);
    let plan = ConcertPlan::of(&snapshot, id, None, &[], false, Limits::USUAL).expect("a concert");
    let of = |piece: usize, player: usize| !plan.pieces[piece].duties[player].is_empty();
    // Nobody else plays the bells, so P1's one piece is that one.
    assert_eq!([of(0, 0), of(1, 0), of(2, 0)], [false, true, false]);
    assert!(of(0, 1) && of(2, 1));
}

#[test]
fn what_cannot_all_hold_is_the_smallest_set() {
    let table = [
        // P3 has both at once; that P4 is not to have the snare takes nothing away from anybody.
        (
            [
                "assigned P4 not on snare",
                "",
                "snare 1-40, for P3 / bass drum 1-40",
                "assigned P3 on bass drum",
                "",
                "",
            ],
            &[
                "P3 is to have the snare (its own row)",
                "P3 is to have the bass drum (the piece's card)",
            ][..],
        ),
        (
            [
                "",
                "",
                "snare 1 1-40 / snare 2 1-40",
                "assigned P1 and P2 never together",
                "absent P4",
                "",
            ],
            &["P1 and P2 are never to be at one instrument (the piece's card)"],
        ),
        (
            [
                "",
                "assigned P2 not on snare",
                "snare 1 1-40 / snare 2 1-40",
                "",
                "",
                ", without P4",
            ],
            &[
                "P2 is not to have the snare 1 and snare 2 (the band's card)",
                "P4 is to play nothing (the program)",
            ],
        ),
        (
            [
                "",
                "assigned P1 at most 1 part",
                "snare 1-20 / bass drum 25-40",
                "",
                "absent P2, P4",
                "",
            ],
            &["P1 is to have at most 1 part (the band's card)"],
        ),
        (["", "", "snare 1-40, for P3", "", "", ""], &[]),
        // Nobody plays the timpani, whatever was decided.
        (
            ["", "", "timpani 1-40 / snare 1-40, for P3", "", "absent P4", ""],
            &[],
        ),
    ];
    for ([handbook, band, rows, piece, concert, title], wanted) in table {
        let text = cards(handbook, band, rows, piece, concert, title);
        let snapshot = catalogue(&text);
        let setting = Setting::of_piece(&snapshot, first(&snapshot, Kind::Piece), None);
        let question = setting.question(&snapshot).expect("a piece");
        let said = crate::planning::percussion::clash(&question);
        assert_eq!(said, wanted, "\n{text}");
    }
}
