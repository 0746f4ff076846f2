//! Whole concerts.

use std::sync::Arc;

use super::{catalogue, first};
use crate::catalogue::{CardFile, Snapshot};
use crate::notation::Kind;
use crate::planning::assign::Limits;
use crate::planning::percussion::{Assigned, ConcertPlan, Wishes, plan_words};

const BAND: &str = "handbook
  change 3 s to a neighboring instrument, 8 s to the timpani
ensemble \"Band\"
  percussionists
    P1 mallets, timpani
    P2 P3 P4 snare, bass drum, accessories
";

fn piece(title: &str, rows: &[&str]) -> String {
    let rows: String = rows.iter().map(|row| format!("    {row}\n")).collect();
    format!("piece \"{title}\"\n  meter 4/4\n  tempo quarter = 120\n  measures 40\n  percussion\n{rows}")
}

fn concert(more: &str, titles: &[&str]) -> String {
    let titles: String = titles.iter().map(|title| format!("    {title}\n")).collect();
    format!("concert \"Evening\"\n  on 2026-12-10\n  for \"Band\"\n{more}  program\n{titles}")
}

fn plan(text: &str, without: &[&str]) -> (Snapshot, ConcertPlan) {
    let snapshot = catalogue(text);
    let without: Vec<String> = without.iter().map(|name| (*name).to_owned()).collect();
    let id = first(&snapshot, Kind::Concert);
    let plan = ConcertPlan::of(&snapshot, id, None, &without, false, Limits::USUAL).expect("a concert");
    (snapshot, plan)
}

/// A line a piece: `P1 bells; P2 snare; free P3, P4; left out triangle`.
fn told(snapshot: &Snapshot, plan: &ConcertPlan) -> Vec<String> {
    let piece = |at: usize| {
        let piece = &plan.pieces[at];
        let mut told = Vec::new();
        for (player, duties) in piece.duties.iter().enumerate() {
            let names: Vec<&str> = duties.iter().map(|duty| duty.name.as_str()).collect();
            if !names.is_empty() {
                told.push(format!("{} {}", plan.name(snapshot, player), names.join(", ")));
            }
        }
        let free: Vec<String> = piece
            .free
            .iter()
            .map(|player| plan.name(snapshot, *player))
            .collect();
        if !free.is_empty() {
            told.push(format!("free {}", free.join(", ")));
        }
        let left: Vec<&str> = piece.left_out.iter().map(|(name, _)| name.as_str()).collect();
        if !left.is_empty() {
            told.push(format!("left out {}", left.join(", ")));
        }
        told.join("; ")
    };
    (0..plan.pieces.len()).map(piece).collect()
}

/// How long each player plays over the evening, in seconds.
fn playing(plan: &ConcertPlan) -> Vec<i64> {
    let of = |player: usize| {
        let duties = plan.pieces.iter().flat_map(|piece| &piece.duties[player]);
        duties.filter_map(|duty| duty.lasts).sum::<i64>() / 10
    };
    (0..plan.players.len()).map(of).collect()
}

#[test]
fn players_take_turns() {
    let rows = ["snare 1-40", "bass drum 1-40"];
    let text = format!(
        "{BAND}{}{}{}{}",
        piece("One", &rows),
        piece("Two", &rows),
        piece("Three", &rows),
        concert("", &["\"One\"", "\"Two\"", "\"Three\""])
    );
    let (snapshot, plan) = plan(&text, &[]);
    // Three players for two parts of three pieces: everybody rests once, nobody has one drum three times.
    assert_eq!(playing(&plan), [0, 160, 160, 160], "{:?}", told(&snapshot, &plan));
    for player in 1..4 {
        let mut names: Vec<&str> = plan
            .pieces
            .iter()
            .flat_map(|piece| &piece.duties[player])
            .map(|duty| duty.name.as_str())
            .collect();
        names.sort_unstable();
        assert_eq!(names, ["bass drum", "snare"], "{player}");
    }
}

#[test]
fn abilities_go_before_taking_turns() {
    let text = format!(
        "{BAND}{}{}{}",
        piece("One", &["bells 1-40", "snare 1-8"]),
        piece("Two", &["timpani 1-40", "snare 1-8"]),
        concert("", &["\"One\"", "\"Two\""])
    );
    let (snapshot, plan) = plan(&text, &[]);
    let told = told(&snapshot, &plan);
    assert!(
        told[0].starts_with("P1 bells; ") && told[1].starts_with("P1 timpani; "),
        "{told:?}"
    );
}

#[test]
fn the_absent_and_the_missing() {
    let text = format!(
        "{BAND}{}{}{}",
        piece(
            "One",
            &[
                "bells 1-40",
                "snare 1-40",
                "bass drum 1-40, optional",
                "triangle 1-40"
            ]
        ),
        piece("Two", &["timpani 1-40", "snare 1-8"]),
        concert("  absent P3\n", &["\"One\"", "\"Two\""])
    );
    let (snapshot, plan) = plan(&text, &[]);
    let told = told(&snapshot, &plan);
    assert!(told[0].ends_with("left out bass drum"), "{told:?}");
    assert!(!told.concat().contains("P3"), "{told:?}");
    let said = plan_words::backups(&snapshot, &plan).join("\n");
    assert!(
        said.contains("Without P1, no. 1: bells are left out; no. 2: timpani are left out."),
        "{said}"
    );
    // Nobody gives up a part for another that counts as much.
    assert!(
        said.contains("Without P2, no. 1: snare is left out")
            || said.contains("Without P2, no. 1: triangle is left out"),
        "{said}"
    );
    assert!(!said.contains(" takes triangle, snare is left out"), "{said}");
    // The spare part was left out already, so nothing new is lost with it.
    assert!(said.contains("Without P2, no. 1: "), "{said}");
    assert!(!said.contains("bass drum"), "{said}");
    assert!(plan_words::duty_list(&snapshot, &plan).contains(&"P3: not there.".to_owned()));
}

#[test]
fn a_backup_leaves_the_others_where_they_are() {
    let text = format!(
        "{BAND}{}{}",
        piece("One", &["snare 1-40", "bass drum 1-40"]),
        concert("", &["\"One\""])
    );
    let (snapshot, plan) = plan(&text, &[]);
    let name = |part: &str| {
        let player = (0..plan.players.len()).find(|player| {
            plan.pieces[0].duties[*player]
                .iter()
                .any(|duty| duty.name == part)
        });
        plan.name(&snapshot, player.expect("somebody"))
    };
    let free: Vec<usize> = plan.pieces[0]
        .free
        .iter()
        .copied()
        .filter(|player| *player > 0)
        .collect();
    let idle = plan.name(&snapshot, free[0]);
    let said = plan_words::backups(&snapshot, &plan).join("\n");
    for part in ["snare", "bass drum"] {
        let line = format!("Without {}, no. 1: {idle} takes {part}.", name(part));
        assert!(said.contains(&line), "{line}: {said}");
    }
}

#[test]
fn what_moves_between_pieces() {
    let text = format!(
        "{BAND}{}{}{}{}",
        piece("One", &["snare 1-40", "bells 1-40"]),
        piece("Two", &["snare 1-40", "timpani 1-40"]),
        piece("Three", &["snare 1-40"]),
        concert(
            "  length 20 minutes, 0:30 between pieces\n",
            &["\"One\"", "\"Two\"", "\"Three\""]
        )
    );
    let (snapshot, plan) = plan(&text, &[]);
    let said: Vec<String> = plan
        .gaps
        .iter()
        .map(|gap| plan_words::gap(&snapshot, &plan, gap).join(" "))
        .collect();
    assert_eq!(plan.between, Some(300));
    // What is large stands there from the beginning.
    assert_eq!(
        plan_words::set_up(&plan),
        ["Set up before the concert, to stay where it stands: timpani, bells and snare."]
    );
    assert!(said[0].contains("Moves: P1 from bells to timpani"), "{said:?}");
    assert_eq!(said[1], "0:30 between pieces.");
    assert_eq!(plan.standing.len(), 3);
    assert_eq!(plan.standing[2].pieces, [0, 1, 2]);
}

#[test]
fn small_instruments_go_from_hand_to_hand() {
    // Only P2 may have the triangle in the one, only P3 in the other.
    let text = format!(
        "{BAND}{}{}{}",
        piece("One", &["triangle 1-40, for P2", "bells 1-40"]),
        piece("Two", &["triangle 1-40, for P3", "bells 1-40"]),
        concert("", &["\"One\"", "\"Two\""])
    );
    let (snapshot, plan) = plan(&text, &[]);
    assert_eq!(
        plan_words::set_up(&plan),
        [
            "Set up before the concert, to stay where it stands: bells.",
            "Lay ready: triangle."
        ]
    );
    let said = plan_words::gap(&snapshot, &plan, &plan.gaps[0]).join(" ");
    assert!(said.contains("P2 lays the triangle ready for P3."), "{said}");
}

#[test]
fn a_concert_that_is_not_finished() {
    let (_, empty) = plan(&format!("{BAND}concert \"Evening\"\n  for \"Band\"\n"), &[]);
    assert!(
        empty.notes.concat().contains("has no program yet"),
        "{:?}",
        empty.notes
    );

    let text = format!(
        "{BAND}{}{}",
        piece("One", &["snare 1-40"]),
        concert("", &["\"One\"", "\"Onee\""])
    );
    let (snapshot, half) = plan(&text, &["P9"]);
    assert_eq!(half.pieces.len(), 2);
    assert!(half.pieces[1].setting.is_none());
    let notes = half.notes.concat();
    assert!(notes.contains("No card is called \"Onee\""), "{notes}");
    assert!(
        notes.contains("No percussionist in the bands of this concert is called \"P9\""),
        "{notes}"
    );
    let gap = plan_words::gap(&snapshot, &half, &half.gaps[0]).join(" ");
    assert!(gap.starts_with("Who has to move is not known"), "{gap}");

    // Nobody is known to play.
    let text = piece("One", &["snare 1-40"]) + &concert("", &["\"One\""]);
    let (_, nobody) = plan(&text, &[]);
    assert!(nobody.players.is_empty() && nobody.backups.is_empty());
    assert!(
        nobody.pieces[0]
            .answer
            .as_ref()
            .is_some_and(|answer| answer.sharing.is_none())
    );
}

#[test]
fn two_bands_with_the_same_seats() {
    let text = format!(
        "ensemble \"Old\"\n  percussionists\n    P1 snare\nensemble \"Young\"\n  percussionists\n    P1 snare\n{}{}concert \"Evening\"\n  program\n    for \"Old\"\n      \"One\"\n    for \"Young\"\n      \"Two\"\n",
        piece("One", &["snare 1-40"]),
        piece("Two", &["snare 1-40"]),
    );
    let (snapshot, plan) = plan(&text, &[]);
    assert_eq!(told(&snapshot, &plan), ["P1 (Old) snare", "P1 (Young) snare"]);
    assert!(plan.gaps[0].other_players);
}

#[test]
fn some_movements_of_a_piece() {
    let rooms = "piece \"Rooms\"
  movements
    1 \"Kitchen\"
      meter 2/4
      tempo 120
      measures 20
      percussion
        snare   1-20
    2 \"Attic\"
      meter 2/4
      tempo 120
      measures 20
      percussion
        bass drum   1-20
        triangle    1-20
";
    let text = format!("{BAND}{rooms}{}", concert("", &["\"Rooms\", movement 2"]));
    let (snapshot, plan) = plan(&text, &[]);
    let told = told(&snapshot, &plan);
    assert!(
        told[0].contains("bass drum") && told[0].contains("triangle") && !told[0].contains("snare"),
        "{told:?}"
    );
}

/// What is worked out of a concert is kept until something that it rests on changes.
#[test]
fn a_concert_is_shared_out_once() {
    let cards = |rows: &str, notes: &str| {
        format!(
            "{BAND}{}{}{}{}",
            piece("One", &["snare 1-40"]),
            piece("Two", &["snare 1-40", rows]),
            piece("Three", &["snare 1-40"]) + notes,
            concert("", &["\"One\"", "\"Two\""])
        )
    };
    let before = catalogue(&cards("triangle 1-20", ""));
    let id = first(&before, Kind::Concert);
    let assigned = |snapshot: &Snapshot| {
        Assigned::of(snapshot, id, Wishes::default(), Limits::USUAL).expect("a concert")
    };
    let known = assigned(&before);
    assert!(Arc::ptr_eq(&known, &assigned(&before)));
    let after = |text: &str| {
        let file = Arc::new(CardFile::read("cards.levare", text));
        before.after(vec![file], before.today)
    };
    for (what, text, same) in [
        (
            "a piece of no concert",
            cards("triangle 1-20", "  notes soft\n"),
            true,
        ),
        ("another piece of the concert", cards("triangle 1-24", ""), false),
        (
            "the band",
            cards("triangle 1-20", "").replace("P2 P3 P4 snare", "P2 P3 snare"),
            false,
        ),
    ] {
        let now = after(&text);
        assert_eq!(Arc::ptr_eq(&known, &assigned(&now)), same, "{what}");
    }
}
