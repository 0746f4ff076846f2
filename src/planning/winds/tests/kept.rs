//! Whatever the cards say, players and parts are accounted for.

use proptest::prelude::*;

use super::*;

const INSTRUMENTS: [&str; 9] = [
    "flute",
    "oboe",
    "clarinet",
    "bassoon",
    "alto sax",
    "trumpet",
    "horn",
    "euphonium",
    "low reeds",
];
const CAN: [&str; 7] = [
    "",
    ", 2 over the break",
    ", 1 switch to oboe",
    ", 2 up to G5",
    ", all down to G3",
    ", 3 treble clef",
    ", 99 also bassoon",
];
const SAYS: [&str; 9] = [
    "",
    "  C4-D5",
    "  optional",
    "  with tuba",
    "  same as flute 1",
    "  over the break at 5",
    "  for alto sax, horn",
    "  tacet in movement 2",
    "  instead of flute 1",
];

fn rows<T: std::fmt::Debug>(
    of: &'static [&'static str],
    number: impl Strategy<Value = T> + Clone,
    tails: &'static [&'static str],
    row: fn(&str, T, &str) -> String,
) -> impl Strategy<Value = String> {
    let one = (
        proptest::sample::select(of),
        number,
        proptest::sample::select(tails),
    );
    let all = proptest::collection::vec(one, 0..9);
    all.prop_map(move |all| {
        let rows = all
            .into_iter()
            .map(|(name, number, tail)| row(name, number, tail));
        rows.collect::<Vec<_>>().join(" / ")
    })
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    #[test]
    fn nobody_is_lost_or_seated_twice(
        players in rows(&INSTRUMENTS, 0..14u32, &CAN, |name, n, tail| format!("{name} {n}{tail}")),
        parts in rows(&INSTRUMENTS, 0..4u32, &SAYS, |name, n, tail| match n {
            0 => format!("{name}{tail}"),
            n => format!("{name} {n}{tail}"),
        }),
    ) {
        let sharing = shared(&cards(&players, &parts, "handbook\n  players  at least 2 to a wind part\n"));
        for (at, group) in sharing.players.iter().enumerate() {
            let seated: usize = (0..sharing.parts.len()).map(|part| sharing.seated(part, at)).sum();
            let idle: usize = sharing.idle.iter().filter(|i| i.players == at).map(|i| i.count).sum();
            prop_assert_eq!(seated + idle, group.count);
        }
        // What is short is proven: the set wants more than can play any of it, and holds every part that lacks.
        for short in &sharing.short {
            prop_assert!(short.want > short.able);
        }
        for (at, part) in sharing.parts.iter().enumerate() {
            let told = sharing.short.iter().any(|short| short.parts.contains(&at));
            prop_assert!(part.lacks() == 0 || told, "{}", part.name);
            prop_assert!(part.unable <= part.players());
        }
        for words in [words::coarse(&sharing), words::short(&sharing), words::uncovered(&sharing), words::idle(&sharing)] {
            prop_assert!(words.iter().all(|words| words.ends_with('.')), "{:?}", words);
        }
    }

}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(40))]

    #[test]
    fn any_numbers(count in any::<u32>(), some in any::<u32>(), first in any::<u32>(), last in any::<u32>()) {
        let sharing = shared(&cards(
            &format!("flute {count}, {some} also oboe, {last} over the break"),
            &format!("flute {}-{} / oboe {first}", first % 1000, last % 1000),
            "handbook\n  players  at least 4294967295 to a wind part\n",
        ));
        prop_assert!(sharing.players.iter().map(|group| group.count).sum::<usize>() <= MOST_PLAYERS);
    }
}
