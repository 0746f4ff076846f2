//! Percussion rows as directors write them, and the most that sound at once.

use super::*;
use crate::catalogue::Entry;
use crate::music::Instruments;
use proptest::prelude::*;

fn courses_of(rows: &str) -> Vec<Course> {
    let indented: String = rows.lines().map(|row| format!("    {row}\n")).collect();
    let text = format!("piece \"A\"\n  measures  80\n  rehearsal marks A 9, B 33\n  percussion\n{indented}");
    let entry = Entry::read(crate::text::Shared::from(text.as_str()));
    let together = vec![vec!["triangle".to_owned(), "wood block".to_owned()]];
    entry
        .piece()
        .map(|piece| courses(piece, Instruments::standard(), &together))
        .unwrap_or_default()
}

/// `3 at 9-16: snare, bass drum, ...`
fn shown(rows: &str) -> String {
    let found = courses_of(rows);
    let Some(course) = found.first() else {
        return "no rows".to_owned();
    };
    let Some(most) = at_once(course, Part::is_needed) else {
        return "unknown".to_owned();
    };
    let places: Vec<String> = most
        .places
        .iter()
        .map(|(stretch, parts)| {
            let names: Vec<String> = parts
                .iter()
                .filter_map(|at| Some(course.parts.get(*at)?.name()))
                .collect();
            format!("{stretch}: {}", names.join(", "))
        })
        .collect();
    let what = if most.events { " events" } else { "" };
    format!("{}{what} at {}", most.players, places.join("; "))
}

#[test]
fn the_most_at_once() {
    let table = [
        ("snare  1-8\nbass drum  5-12", "2 at 5-8: snare, bass drum"),
        ("snare  1-8\nbass drum  9-12", "1 at 1-8: snare; 9-12: bass drum"),
        ("snare  1-8, 9-16\nbass drum  1-16", "2 at 1-16: snare, bass drum"),
        ("snare  throughout\ngong  80", "2 at 80: snare, gong"),
        (
            "snare  1-8\nadvanced snare  1-8, instead of snare",
            "1 at 1-8: snare",
        ),
        ("snare  1-8\nbells  1-8, same as flute 1", "1 at 1-8: snare"),
        ("snare  1-8\nbells  1-8, optional", "1 at 1-8: snare"),
        ("triangle  1-8\nwood block  1-8", "1 at 1-8: triangle, wood block"),
        (
            "triangle, claves  1-8, one player\nsnare  8",
            "2 at 8: triangle and claves, snare",
        ),
        ("triangle, claves  1-8", "2 at 1-8: triangle, claves"),
        ("bass drum  1-8, 2 players", "2 at 1-8: bass drum"),
        ("snare  at A\nbass drum  32", "2 at 32: snare, bass drum"),
        ("snare  at A\nbass drum  33", "1 at 9-32: snare; 33: bass drum"),
        ("snare  1-8?\nbass drum  5-12", "1 at 5-12: bass drum"),
        ("snare  9-1", "unknown"),
        ("snare", "unknown"),
        (
            "gong  events 1-3\nbells  events 3-4",
            "2 events at 3: gong, bells",
        ),
        (
            "bells  1-8, same as xylophone\nxylophone  1-8, same as bells",
            "1 at 1-8: bells",
        ),
        (
            "snare  1-4294967295\nbass drum  4294967295",
            "2 at 4294967295: snare, bass drum",
        ),
    ];
    for (rows, wanted) in table {
        assert_eq!(shown(rows), wanted, "{rows}");
    }
}

#[test]
fn a_movement_is_its_own_stretch_of_time() {
    let text = "piece \"A\"\n  movements\n    1 \"One\"\n      percussion\n        snare  1-8\n        gong  1-8\n    2 \"Two\"\n      percussion\n        bells  1-8\n";
    let entry = Entry::read(crate::text::Shared::from(text));
    let found = entry
        .piece()
        .map(|piece| courses(piece, Instruments::standard(), &[]))
        .unwrap_or_default();
    let most: Vec<(Option<usize>, u32)> = found
        .iter()
        .map(|course| {
            (
                course.movement,
                at_once(course, |_| true).map_or(0, |most| most.players),
            )
        })
        .collect();
    assert_eq!(most, [(Some(0), 2), (Some(1), 1)]);
}

proptest! {
    /// The sweep finds what counting every measure by itself finds.
    #[test]
    fn as_counted_by_hand(stretches in proptest::collection::vec((1u32..20, 0u32..10), 1..8)) {
        let names = ["snare", "bass drum", "gong", "bells", "chimes", "claves", "guiro", "maracas"];
        let rows: Vec<String> = stretches
            .iter()
            .zip(names)
            .map(|((first, more), name)| format!("{name}  {first}-{}", first + more))
            .collect();
        let by_hand = (1..40)
            .map(|measure| stretches.iter().filter(|(first, more)| (*first..=first + more).contains(&measure)).count())
            .max();
        let found = courses_of(&rows.join("\n"));
        let most = found.first().and_then(|course| at_once(course, Part::is_needed));
        prop_assert_eq!(most.map(|most| most.players as usize), by_hand);
    }
}

#[test]
fn an_alternative_takes_the_place_of_all_it_names() {
    // Rows, and the fewest players at the fullest place: with the alternatives taken as they save most.
    for (rows, fewest) in [
        (
            "snare 1-9 / bass drum 1-9 / crash cymbals 1-9 / drum set 1-9, instead of snare, bass drum and crash cymbals",
            1,
        ),
        ("snare 1-9 / bass drum 1-9 / drum set 1-9, instead of snare", 2),
        (
            "snare 1-9 / bass drum 1-9 / drum set 1-9, instead of snare / cajon 1-9, instead of snare and bass drum",
            1,
        ),
        ("snare 1-9 / 3 drums 1-9, instead of snare / bells 1-9", 2),
        ("snare 1-4 / bass drum 5-9 / drum set 1-9, instead of snare", 1),
    ] {
        let courses = courses_of(&rows.replace(" / ", "\n"));
        let most = fewest_at_once(courses.first().expect("a course"));
        assert_eq!(most.map_or(0, |most| most.players), fewest, "{rows}");
    }
}
