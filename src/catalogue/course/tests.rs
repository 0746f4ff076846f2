//! Courses of cards as directors write them.

use super::*;
use crate::catalogue::Entry;
use crate::music::Clock;

fn entry(lines: &str) -> Entry {
    let body: String = lines.lines().map(|line| format!("  {}\n", line)).collect();
    Entry::read(format!("piece \"A\"\n{body}").into())
}

fn laid<T: std::fmt::Display>(line: &Line<'_, T>) -> String {
    let legs: Vec<String> = line
        .legs
        .iter()
        .map(|leg| {
            let last = match leg.last {
                u32::MAX => String::new(),
                last => last.to_string(),
            };
            let sure = if leg.is_certain() { "" } else { "?" };
            format!("{}-{last} {}{sure}", leg.first, leg.stage.said.value)
        })
        .collect();
    legs.join(", ")
}

#[test]
fn stages_are_laid_over_the_measures() {
    for (lines, expected) in [
        ("key signature 2 flats", "1- 2 flats"),
        ("key signature 2 flats\nmeasures 40", "1-40 2 flats"),
        (
            "key signature 2 flats, 3 flats at 33",
            "1-32 2 flats, 33- 3 flats",
        ),
        (
            "key signature 1 flat, 2 flats at 49-80\nmeasures 112",
            "1-48 1 flat, 49-80 2 flats, 81-112 1 flat",
        ),
        (
            "key signature 2 flats, 3 flats at B, 2 flats at 41\nrehearsal marks A 9, B 17\nmeasures 48",
            "1-16 2 flats, 17-40 3 flats, 41-48 2 flats",
        ),
        (
            "key signature 2 flats, 3 flats at trio, 2 flats at 41",
            "1-1 2 flats, 2-40 2 flats?, 41- 2 flats",
        ),
        ("key signature 2 flats, then 3 flats", "1-1 2 flats, 2- 2 flats?"),
        ("key signature 2 flats, some 3 flats", "1-1 2 flats?, 2- 2 flats?"),
        ("key signature 2 flats, 3 flats", "1-1 2 flats?, 2- 2 flats?"),
        (
            "key signature about 2 flats, 3 flats? at 9",
            "1-8 2 flats?, 9- 3 flats?",
        ),
        ("key signature 2 flats at 9-5", ""),
        ("key signature 2 flats at 4294967295", "4294967295- 2 flats"),
        (
            "key signature 2 flats, 1 flat in movement 2",
            "1-1 2 flats, 2- 2 flats?",
        ),
        ("key signature 2 flats throughout\nmeasures 8", "1-8 2 flats"),
    ] {
        let entry = entry(lines);
        let piece = entry.piece().expect("a piece");
        assert_eq!(laid(&Course::of(piece).signatures), expected, "{lines}");
    }
}

#[test]
fn roads_give_the_order() {
    for (measures, road, sounds) in [
        (8, "", Ok("1-8")),
        (8, "straight through", Ok("1-8")),
        (8, "repeat 3-4", Ok("1-4 3-8")),
        (
            22,
            "repeat 5-20, 1st ending 20, 2nd ending 21",
            Ok("1-20 5-19 21-22"),
        ),
        (
            24,
            "repeat 5-20, 1st ending 21-22, 2nd ending 23-24",
            Ok("1-22 5-20 23-24"),
        ),
        (22, "repeat 5-20, 2nd ending 21", Ok("1-20 5-22")),
        (22, "repeat 5-20, 1st ending 20", Ok("1-20 5-19 21-22")),
        (
            12,
            "repeat 5-8, 1st and 2nd ending 8, 3rd ending 9",
            Ok("1-8 5-8 5-7 9-12"),
        ),
        (48, "fine at 24, D.C. al Fine at 48", Ok("1-48 1-24")),
        (48, "Fine at 24, D.C. al Fine", Ok("1-48 1-24")),
        (
            40,
            "segno at 9, to coda at 16, D.S. al Coda, coda at 33",
            Ok("1-32 9-16 33-40"),
        ),
        // One "to coda" serves both codas.
        (
            11,
            "segno at 3, to coda at 4, D.S. al Coda at 6, coda at 7, D.S. al Coda 2 at 9, 2nd coda at 10",
            Ok("1-6 3-4 7-9 3-4 10-11"),
        ),
        (
            18,
            "segno at 2, to coda at 4, 2nd segno at 9, 2nd to coda at 10, D.S. al Coda at 11, coda at 13, \
             D.S. 2 al Coda 2 at 15, 2nd coda at 16",
            Ok("1-11 2-4 13-15 9-10 16-18"),
        ),
        (
            12,
            "repeat 1-4, with repeats, Fine at 4, D.C. al Fine at 12",
            Ok("1-4 1-12 1-4 1-4"),
        ),
        (8, "open repeat 1-4", Err(Missing::OpenRepeat)),
        (8, "open repeat at G on cue", Err(Missing::OpenRepeat)),
        (
            8,
            "repeat at the end as often as wanted",
            Err(Missing::OpenRepeat),
        ),
        (8, "\"order by dice\"", Err(Missing::Road)),
        (8, "repeat both strains", Err(Missing::Road)),
        (40, "Fine at 24, D.C. al Fine at end", Ok("1-40 1-24")),
        (40, "cut 17-32", Ok("1-16 33-40")),
        (40, "repeat 9-32, cut 17-24", Ok("1-16 25-32 9-16 25-40")),
        (40, "repeat 17-24, cut 9-32", Ok("1-8 33-40")),
        (40, "repeat 9-20, cut 17-32", Err(Missing::Road)),
        (40, "repeat 9-16, skip the repeat", Ok("1-40")),
        (
            24,
            "repeat 5-12, 1st ending 11-12, 2nd ending 13-14, skip the repeat at 5",
            Ok("1-10 13-24"),
        ),
        (40, "repeat 33 to the end", Ok("1-40 33-40")),
        (40, "repeat last 8 measures", Ok("1-40 33-40")),
        (40, "repeat A to B", Err(Missing::Road)),
        (
            40,
            "coda at the end, to coda at 8, D.C. al Coda at 16",
            Err(Missing::Road),
        ),
        (40, "no D.C.", Ok("1-40")),
        (40, "open repeat", Err(Missing::OpenRepeat)),
        (8, "segno at trio, D.S.", Err(Missing::Road)),
        (8, "1st ending 4", Err(Missing::Road)),
        (
            8,
            "D.S. at 8",
            Err(Missing::Broken(RoadProblem::NoSegno {
                jump: 8,
                number: None,
            })),
        ),
        (4_000_000_000u32, "", Err(Missing::Broken(RoadProblem::TooLong))),
    ] {
        let entry = entry(&format!("measures {measures}\nroadmap {road}"));
        let course = Course::of(entry.piece().expect("a piece"));
        let order = course.order();
        assert_eq!(order.map(runs), sounds.map(str::to_owned), "{road}");
    }
}

/// Marks of the card give the measures that a step leaves out.
#[test]
fn roads_are_followed_by_the_marks() {
    for (road, sounds) in [
        ("repeat A to 16", "1-16 9-24"),
        (
            "repeat 1-8, to coda before B, coda at trio, D.C. al Coda at 18",
            "1-8 1-18 1-16 21-24",
        ),
        ("cut B to the end", "1-16"),
        ("cut 2 after A to 1 before B", "1-10 17-24"),
    ] {
        let entry = entry(&format!(
            "measures 24\nrehearsal marks A 9, B 17, trio 21\nroadmap {road}"
        ));
        let course = Course::of(entry.piece().expect("a piece"));
        let order = course.order();
        assert_eq!(order.map(runs), Ok(sounds.to_owned()), "{road}");
    }
}

/// An order as runs of measures: `1-8 5-12`.
fn runs(order: &[u32]) -> String {
    let mut runs: Vec<(u32, u32)> = Vec::new();
    for measure in order {
        match runs.last_mut() {
            Some((_, last)) if *last + 1 == *measure => *last = *measure,
            _ => runs.push((*measure, *measure)),
        }
    }
    let shown: Vec<String> = runs.iter().map(|(a, b)| format!("{a}-{b}")).collect();
    shown.join(" ")
}

/// Worked by hand: measures x beats x 60 / beats a minute.
#[test]
fn lengths_are_summed() {
    for (lines, expected) in [
        ("meter 4/4\ntempo quarter = 80\nmeasures 32", Ok("1:36")),
        ("meter 6/8\ntempo 96\nmeasures 48", Ok("1:00")),
        ("meter cut\ntempo h = 104\nmeasures 88", Ok("1:42")),
        ("meter 4/4\ntempo Allegro, q = 60\nmeasures 15", Ok("1:00")),
        ("meter 4/4\ntempo q = 60, swing\nmeasures 15", Ok("1:00")),
        ("meter 4/4\ntempo q = 60\nmeasures 14\npickup 4 beats", Ok("1:00")),
        ("meter 4/4\ntempo about 60\nmeasures 15", Ok("about 1:00")),
        (
            "meter 4/4\ntempo q = 144, q = 72 at 41-64\nmeasures 104",
            Ok("3:33"),
        ),
        (
            "meter 4/4\ntempo q = 80, accelerando at 41-48, q = 132 at 49\nmeasures 92",
            Ok("3:38"),
        ),
        // A ritardando that no figure ends is only near enough.
        (
            "meter 4/4\ntempo q = 60, rit. at 14-15\nmeasures 30",
            Ok("about 2:00"),
        ),
        (
            "meter 4/4\ntempo q = 60, slower at 10\nmeasures 30",
            Err(Missing::Figures),
        ),
        (
            "meter 4/4\ntempo q = 60, slower\nmeasures 30",
            Err(Missing::Place),
        ),
        ("meter 4/4\ntempo q = 60\n", Err(Missing::Measures)),
        ("meter 4/4\nmeasures 30", Err(Missing::Tempo)),
        ("tempo q = 60\nmeasures 30", Err(Missing::Meter)),
        (
            "meter 2/4, some 3/4\ntempo q = 60\nmeasures 30",
            Err(Missing::Place),
        ),
        (
            "meter 4/4, none at 3-4\ntempo q = 60\nmeasures 30",
            Err(Missing::Meter),
        ),
        ("meter 4/4\ntempo q = 60?\nmeasures 30", Err(Missing::Answer)),
    ] {
        let entry = entry(lines);
        let course = Course::of(entry.piece().expect("a piece"));
        let length = course.lasting();
        let told = length.map(|length| {
            let about = if length.about { "about " } else { "" };
            format!("{about}{}", Clock::from_seconds(length.lasting.high))
        });
        assert_eq!(told, expected.map(str::to_owned), "{lines}");
    }
}

#[test]
fn movements_have_their_own_course() {
    let entry = entry(
        "movements\n  1 \"Gulls\"\n    meter 2/4\n    tempo quarter = 120\n    measures 96\n  2 \"Fog\"\n    meter 4/4\n    tempo quarter = 60\n    measures 32",
    );
    let courses = Course::all(entry.piece().expect("a piece"));
    let told: Vec<Option<Clock>> = courses
        .iter()
        .map(|course| Some(course.lasting().ok()?.lasting.clocks().0))
        .collect();
    assert_eq!(told, [None, Some(Clock(96)), Some(Clock(128))]);
}

proptest::proptest! {
    #[test]
    fn any_card_has_a_course(
        stages in "(, |then |some |about |2 flats|4/4|q = 60| at |9-3|trio|\\?|[0-9]{1,10}){0,12}",
        road in "(repeat |1st ending |D\\.S\\. al Coda|coda at |, | at |segno at |[0-9]{1,10}|-){0,14}",
        measures in "[0-9]{0,10}",
    ) {
        let entry = entry(&format!("meter {stages}\ntempo {stages}\nmeasures {measures}\nroadmap {road}"));
        if let Some(piece) = entry.piece() {
            for course in Course::all(piece) {
                let _ = course.lasting();
                for pair in course.meters.legs.windows(2) {
                    proptest::prop_assert!(pair[0].last < pair[1].first);
                }
            }
        }
    }
}
