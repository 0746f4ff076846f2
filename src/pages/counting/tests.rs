//! The counting page, counted and laid out.

use proptest::prelude::*;

use super::counted::Counted;
use super::*;
use crate::pages::checked::{faults, misplaced, plain, read, words as words_on};
use crate::pages::paper::Area;

/// A line from a picture: a letter plays an instrument of that name, a dot rests, a measure each.
fn line(picture: &str) -> Line {
    let mut plays: Vec<Played> = Vec::new();
    for (at, c) in (1..).zip(picture.chars()) {
        match plays.last_mut() {
            Some(last) if last.last + 1 == at && last.instrument == c.to_string() => last.last = at,
            _ if c != '.' => plays.push(Played {
                first: at,
                last: at,
                instrument: c.to_string(),
                sticks: None,
            }),
            _ => {}
        }
    }
    Line {
        plays,
        walks: Vec::new(),
    }
}

fn course(pictures: &[&str], marks: &[(u32, What)]) -> Course {
    Course {
        name: String::new(),
        measures: pictures.first().map_or(0, |picture| picture.len() as u32),
        marks: marks
            .iter()
            .map(|(at, what)| Mark {
                at: *at,
                what: what.clone(),
            })
            .collect(),
        lines: pictures.iter().map(|picture| line(picture)).collect(),
    }
}

#[test]
fn rests_are_counted_as_in_a_part() {
    let a = || What::Rehearsal("A".to_owned());
    // Pictures of the lines, the marks, and what the first player counts.
    let table: [(&[&str], &[(u32, What)], &str); 8] = [
        (&["........"], &[], "8"),
        (&["....ssss........"], &[], "4 s4 8"),
        // Another's entrance does not break a rest; a mark does.
        (&["........ssss", "..bb...bb..."], &[], "8 s4"),
        (&["........ssss"], &[(5, a())], "4 4 s4"),
        (&["ssssssss"], &[(5, What::RepeatTo)], "s4 s4"),
        // Straight from one instrument to another.
        (&["ssbb"], &[], "s2 b2"),
        (&["s"], &[], "s1"),
        (&[".s.s."], &[(5, What::RepeatFrom)], "1 s1 1 s1 1"),
    ];
    for (pictures, marks, expected) in table {
        let course = course(pictures, marks);
        let counted = Counted::of(&course);
        let runs = counted.runs(0, 0, counted.cuts.len() - 1);
        let told: Vec<String> = runs
            .iter()
            .map(|run| format!("{}{}", run.plays.as_deref().unwrap_or(""), run.measures))
            .collect();
        assert_eq!(told.join(" "), expected, "{pictures:?}");
    }
}

#[test]
fn two_at_once_are_told_together_and_a_player_stands_somewhere() {
    let mut course = course(&["..ss....bb"], &[(8, What::RepeatFrom)]);
    course.lines[0].plays.push(Played {
        first: 4,
        last: 5,
        instrument: "t".to_owned(),
        sticks: None,
    });
    course.lines[0].walks.push(Walk {
        after: 5,
        to: "b".to_owned(),
        measures: 3,
        seconds: None,
        back: false,
    });
    let counted = Counted::of(&course);
    assert_eq!(counted.cuts, [1, 3, 4, 5, 6, 8, 9, 11]);
    let plays: Vec<&str> = counted.plays[0]
        .iter()
        .map(|plays| plays.as_deref().unwrap_or("."))
        .collect();
    assert_eq!(plays, [".", "s", "s + t", "t", ".", ".", "b"]);
    let stands: Vec<(String, bool)> = (0..7).filter_map(|cut| counted.stands_at(0, cut)).collect();
    let told: Vec<&str> = stands.iter().map(|(name, _)| name.as_str()).collect();
    assert_eq!(told, ["s", "s", "s + t", "t", "t", "b", "b"]);
    assert!(stands[5].1 && !stands[4].1, "on the way");
}

#[test]
fn a_line_says_what_its_player_needs() {
    let mut course = course(
        &["....bbbb........ssss", "ssssssssssssssssssss"],
        &[(9, What::Rehearsal("A".to_owned()))],
    );
    course.lines[0].walks.push(Walk {
        after: 8,
        to: "s".to_owned(),
        measures: 8,
        seconds: Some(("12.5 s".to_owned(), "5 s".to_owned())),
        back: false,
    });
    course.lines[0].plays[0].sticks = Some("hard mallets".to_owned());
    let counting = Counting {
        title: "Reel & Air".to_owned(),
        players: vec!["P1".to_owned(), "P2".to_owned()],
        courses: vec![course],
        ..Counting::default()
    };
    let laid = sheets(&counting, Paper::Letter);
    assert_eq!(laid.len(), 1);
    let all: Vec<&str> = words_on(&laid[0].sheet)
        .into_iter()
        .map(|(_, words)| words)
        .collect();
    for wanted in [
        "P1",
        "P2",
        "4",
        "5",
        "play 4",
        "A",
        "9",
        "8",
        "17  s",
        "to s: 8 measures",
        "12.5 s, needs 5 s",
        "hard mallets",
        "1  s",
    ] {
        assert!(all.contains(&wanted), "{wanted:?} is not among {all:?}");
    }
    // In an ordinary piece nothing has to be set closer.
    for mark in &laid[0].sheet.marks {
        if let crate::pages::paper::Mark::Words {
            wide, face, words, ..
        } = mark
        {
            assert!(*wide + 0.01 >= face.width(words), "{words:?} is set in {wide}");
        }
    }
    assert!(html(&[counting], Paper::Letter).contains("Reel &amp; Air"));
}

/// All that must hold of a page.
fn check(counting: &Counting, paper: Paper) -> Vec<String> {
    let mut wrong = faults(&html(std::slice::from_ref(counting), paper));
    let laid = sheets(counting, paper);
    let mut measures = vec![vec![0_usize; counting.players.len()]; counting.courses.len()];
    for one in &laid {
        let places: Vec<Area> = one.places.iter().map(|(_, area)| *area).collect();
        wrong.extend(misplaced(&one.sheet, &places));
        for (place, area) in &one.places {
            let text = read(&one.sheet, area);
            let wanted = match place {
                Place::Title => &counting.title,
                Place::Course(course) => &counting.courses[*course].name,
                Place::Line { player, .. } => &counting.players[*player],
            };
            if !text.contains(&plain(wanted)) {
                wrong.push(format!("{place:?} says {text:?} and not {wanted:?}"));
            }
            if let Place::Line { course, player, .. } = place {
                measures[*course][*player] += 1;
            }
        }
    }
    for (course, players) in measures.iter().enumerate() {
        // A course without measures has nothing to count.
        if counting.courses[course].measures > 0 && players.contains(&0) {
            wrong.push(format!("course {course} is not there for every player"));
        }
    }
    wrong
}

fn words() -> impl Strategy<Value = String> {
    prop_oneof![
        4 => "[A-Za-z&<>\"' .-]{0,20}",
        1 => ".{0,20}",
        1 => "[A-Za-z ]{60,200}",
        1 => "(<b>|&amp;|'|\u{202e}|\u{0}|\u{301}|\u{1f941}|大){0,9}",
    ]
}

fn courses(players: usize) -> impl Strategy<Value = Course> {
    let measure = || prop_oneof![9 => 0..90_u32, 1 => any::<u32>()];
    let played = (measure(), measure(), words(), proptest::option::of(words())).prop_map(
        |(first, last, instrument, sticks)| Played {
            first,
            last,
            instrument,
            sticks,
        },
    );
    let seconds = proptest::option::of((words(), words()));
    let walk = (measure(), words(), 0..40_usize, seconds, any::<bool>()).prop_map(
        |(after, to, measures, seconds, back)| Walk {
            after,
            to,
            measures,
            seconds,
            back,
        },
    );
    let what = prop_oneof![
        words().prop_map(What::Rehearsal),
        words().prop_map(What::Words),
        words().prop_map(What::Until),
        Just(What::RepeatFrom),
        Just(What::RepeatTo),
    ];
    let line = (
        proptest::collection::vec(played, 0..5),
        proptest::collection::vec(walk, 0..4),
    )
        .prop_map(|(plays, walks)| Line { plays, walks });
    (
        words(),
        prop_oneof![4 => 0..90_u32, 1 => any::<u32>()],
        proptest::collection::vec((measure(), what).prop_map(|(at, what)| Mark { at, what }), 0..8),
        proptest::collection::vec(line, players),
    )
        .prop_map(|(name, measures, marks, lines)| Course {
            name,
            measures,
            marks,
            lines,
        })
}

fn countings() -> impl Strategy<Value = Counting> {
    prop_oneof![8 => 0..7_usize, 1 => 20..31_usize].prop_flat_map(|players| {
        (
            words(),
            words(),
            proptest::collection::vec(words(), 0..3),
            proptest::collection::vec(words(), players),
            proptest::collection::vec(courses(players), 0..3),
        )
            .prop_map(|(title, beside, notes, players, courses)| Counting {
                title,
                beside,
                notes,
                players,
                courses,
            })
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(48))]
    #[test]
    fn whatever_is_written_keeps_its_place(counting in countings()) {
        for paper in [Paper::Letter, Paper::A4] {
            let wrong = check(&counting, paper);
            prop_assert!(wrong.is_empty(), "{}", wrong.join("\n"));
        }
    }

    #[test]
    fn every_measure_is_counted_once(course in courses(3)) {
        let counted = Counted::of(&course);
        for player in 0..3 {
            let runs = counted.runs(player, 0, counted.cuts.len().saturating_sub(1));
            let sum: u64 = runs.iter().map(|run| u64::from(run.measures)).sum();
            prop_assert_eq!(sum, u64::from(course.measures.min(u32::MAX - 1)));
        }
    }
}
