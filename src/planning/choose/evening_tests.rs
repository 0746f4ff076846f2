//! An evening of two bands, and what stands beside the best program, against every way of choosing.

use std::sync::Arc;

use proptest::prelude::*;

use super::*;
use crate::catalogue::CardFile;
use crate::catalogue::conditions::read;
use crate::notation::Kind;

const BANDS: &str = "\
ensemble \"Sixth\"
  taught slurs
  players
    flute  6
ensemble \"Seventh\"
  taught slurs, ties
  players
    flute  6
";

fn piece(title: &str, minutes: u32, lines: &str) -> String {
    format!("piece \"{title}\"\n  lasts {minutes}:00\n  library\n    copies 1 score\n{lines}")
}

fn snapshot(cards: &str) -> Snapshot {
    let file = Arc::new(CardFile::read("a.levare", &format!("{BANDS}{cards}")));
    Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20))
}

/// Asks for the concert "Evening", or for both bands without a card.
fn asked(snapshot: &Snapshot, turn: impl Fn(&mut Wish<'_>)) -> Choice {
    let bands = ["Sixth", "Seventh"].map(|name| snapshot.ensemble_named(name).expect("it is there"));
    let mut wish = Wish {
        concert: snapshot.names().of(Kind::Concert, "Evening").next(),
        bands: &bands,
        alike: true,
        ..Wish::default()
    };
    turn(&mut wish);
    choose(snapshot, &wish)
}

fn program(choice: &Choice) -> &Program {
    match &choice.outcome {
        Outcome::Program(program) => program,
        other => panic!("{other:?}"),
    }
}

#[test]
fn the_card_says_how_many_new_skills() {
    let of = |most: &str| {
        let cards = [
            piece("A", 3, "  asks slurs, growl\n"),
            piece("B", 4, "  asks ties, flutter\n"),
            piece("C", 5, "  asks slurs\n"),
            format!("concert \"Evening\"\n  for \"Seventh\"\n  length 20 minutes\n{most}"),
        ]
        .concat();
        let cards = snapshot(&cards);
        let band = [cards.ensemble_named("Seventh").expect("it is there")];
        let wish = Wish {
            concert: cards.names().of(Kind::Concert, "Evening").next(),
            alike: true,
            ..Wish::usual(&band)
        };
        let choice = choose(&cards, &wish);
        let mut names: Vec<String> = program(&choice)
            .picks
            .iter()
            .map(|pick| pick.name.clone())
            .collect();
        names.sort();
        names.join(" ")
    };
    assert_eq!(of(""), "A B C");
    assert_eq!(of("  new skills at most 1\n"), "B C");
    assert_eq!(of("  new skills none\n"), "C");
    // What is only asked about counts for nothing yet.
    assert_eq!(of("  new skills 1?\n"), "A B C");
}

/// Each band with what it plays, in order.
fn evening(snapshot: &Snapshot, choice: &Choice) -> Vec<String> {
    let name = |id: EntryId| snapshot.entry(id).map_or("", |entry| entry.name.as_str());
    let picks = program(choice).picks.iter();
    picks
        .map(|pick| format!("{}: {}", pick.band.map_or("all", name), pick.name))
        .collect()
}

#[test]
fn each_band_has_pieces_of_its_own() {
    let cards = [
        piece("A", 3, "  for \"Sixth\"\n  grade 0.5\n"),
        piece("B", 4, "  grade 1\n"),
        piece("C", 5, "  grade 2\n"),
        piece("D", 6, "  for \"Seventh\"\n  grade 2\n"),
    ]
    .concat();
    let cards = snapshot(&cards);
    let choice = asked(&cards, |wish| {
        wish.length = Some(15 * 60);
        let sixth = wish.bands[0];
        let easy = read(&cards, "up to grade 1").into_iter();
        wish.own = easy.map(|one| (sixth, one)).collect();
    });
    // Nothing is played twice, what is too hard for the sixth grade is left to the seventh.
    assert_eq!(program(&choice).value, 150);
    let all = evening(&cards, &choice);
    assert!(!all.contains(&"Sixth: C".to_owned()), "{all:?}");
    assert!(all.iter().any(|one| one.starts_with("Sixth")), "{all:?}");
    // A share holds.
    let choice = asked(&cards, |wish| {
        wish.length = Some(15 * 60);
        wish.shares = vec![(wish.bands[0], 3 * 60)];
    });
    assert_eq!(
        evening(&cards, &choice),
        ["Sixth: A", "Seventh: D", "Seventh: C"],
        "{choice:?}"
    );
    // The other band could have the piece that does not fit for this one, in place of another.
    let left = &program(&choice).left_out;
    assert_eq!(
        (left[0].name.as_str(), left[0].points),
        ("B", Some(10)),
        "{left:?}"
    );
    // The card can say the same, and the wish goes before it.
    let card =
        "concert \"Evening\"\n  for \"Sixth\", \"Seventh\"\n  length 15 minutes, 3 minutes for \"Sixth\"\n";
    let pieces: Vec<String> = cards
        .entries()
        .filter(|(_, entry)| entry.kind == Some(Kind::Piece))
        .map(|(_, entry)| entry.text.to_string())
        .collect();
    let on_card = snapshot(&format!("{}{card}", pieces.concat()));
    let choice = asked(&on_card, |_| {});
    assert_eq!(
        evening(&on_card, &choice),
        ["Sixth: A", "Seventh: D", "Seventh: C"],
        "{choice:?}"
    );
    let choice = asked(&on_card, |wish| wish.shares = vec![(wish.bands[0], 5 * 60)]);
    assert_ne!(evening(&on_card, &choice)[0], "Sixth: A", "{choice:?}");
    // What is impossible names the band.
    let choice = asked(&cards, |wish| {
        wish.length = Some(15 * 60);
        wish.shares = vec![(wish.bands[0], 60)];
    });
    let Outcome::Clash(demands, true) = &choice.outcome else {
        panic!("{choice:?}");
    };
    assert_eq!(demands, &["at most 1:00 for the Sixth"]);
}

#[test]
fn what_stands_on_the_program_stays_with_its_band() {
    let cards = [
        piece("A", 3, ""),
        piece("B", 4, ""),
        piece("C", 5, ""),
        piece("D", 6, ""),
        "concert \"Evening\"\n  length 14 minutes\n  for \"Sixth\", \"Seventh\"\n  program\n    for \"Seventh\"\n      \"A\"\n    \"B\"\n".to_owned(),
    ]
    .concat();
    let cards = snapshot(&cards);
    let choice = asked(&cards, |_| {});
    let all = evening(&cards, &choice);
    assert!(
        all.contains(&"Seventh: A".to_owned()) && all.contains(&"all: B".to_owned()),
        "{all:?}"
    );
    assert!(all.iter().any(|one| one.starts_with("Sixth: ")), "{all:?}");
    // A program that names no band is everybody's.
    let together = snapshot(
        &[
            piece("A", 3, ""),
            piece("B", 4, ""),
            "concert \"Evening\"\n  length 14 minutes\n  for \"Sixth\", \"Seventh\"\n  program\n    \"A\"\n"
                .to_owned(),
        ]
        .concat(),
    );
    let choice = asked(&together, |_| {});
    assert!(
        evening(&together, &choice)
            .iter()
            .all(|one| one.starts_with("all"))
    );
}

/// Which band plays each of the pieces: none, the sixth, the seventh.
fn every_way(count: usize) -> Vec<Vec<usize>> {
    let mut ways = vec![Vec::new()];
    for _ in 0..count {
        let longer = ways
            .iter()
            .flat_map(|way: &Vec<usize>| (0..3).map(|who| [way.as_slice(), &[who]].concat()));
        ways = longer.collect();
    }
    ways
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(60))]

    #[test]
    fn no_evening_is_worth_more(
        shelf in prop::collection::vec((1u32..7, 0u32..3, any::<bool>()), 2..6),
        length in 5u32..18,
        share in prop::option::of(1u32..8),
        skills in prop::option::of(0u32..3),
    ) {
        let text: Vec<String> = shelf
            .iter()
            .enumerate()
            .map(|(at, (minutes, skill, wanted))| {
                let asks = match skill {
                    0 => "  asks slurs\n",
                    1 => "  asks ties\n",
                    _ => "  asks triplets\n",
                };
                let liked = if *wanted { "  liked everybody\n" } else { "" };
                piece(&format!("P{at}"), *minutes, &format!("{asks}{liked}"))
            })
            .collect();
        let cards = snapshot(&text.concat());
        let choice = asked(&cards, |wish| {
            wish.length = Some(length * 60);
            wish.between = Some(60);
            wish.new_skills = skills;
            wish.shares = share.map(|minutes| (wish.bands[0], minutes * 60)).into_iter().collect();
        });
        let worth = |at: usize| i64::from(shelf[at].0) * 10 + if shelf[at].2 { 10 } else { 0 };
        let new = |way: &[usize], who: usize| {
            let mut asked: Vec<u32> = (0..way.len()).filter(|at| way[*at] == who).map(|at| shelf[at].1).collect();
            asked.sort_unstable();
            asked.dedup();
            // The sixth grade knows slurs, the seventh ties too.
            asked.into_iter().filter(|skill| *skill >= if who == 1 { 1 } else { 2 }).count()
        };
        let takes = |way: &[usize], who: &[usize]| {
            let own: Vec<u32> = (0..way.len()).filter(|at| who.contains(&way[*at])).map(|at| shelf[at].0).collect();
            own.iter().sum::<u32>() + u32::try_from(own.len().saturating_sub(1)).unwrap_or(0)
        };
        // Half of an even share, in seconds, where no share is given.
        let least = length * 60 / 4;
        let fits = |way: &Vec<usize>| {
            takes(way, &[1, 2]) <= length
                && [1, 2].iter().all(|who| way.contains(who))
                && match share {
                    Some(most) => takes(way, &[1]) <= most,
                    None => [1, 2].iter().all(|who| takes(way, &[*who]) * 60 >= least),
                }
                && skills.is_none_or(|most| [1, 2].iter().all(|who| new(way, *who) <= most as usize))
        };
        let best = every_way(shelf.len())
            .into_iter()
            .filter(fits)
            .map(|way| (0..way.len()).filter(|at| way[*at] > 0).map(worth).sum::<i64>())
            .max();
        match (&choice.outcome, best) {
            (Outcome::Program(program), Some(best)) => {
                prop_assert_eq!(program.value, best);
                prop_assert_eq!(program.bound, best);
            }
            (Outcome::Clash(..), None) => {}
            (outcome, best) => prop_assert!(false, "{:?} and {:?}", outcome, best),
        }
    }

    #[test]
    fn the_next_best_are_the_best_that_differ(
        shelf in prop::collection::vec((1u32..7, any::<bool>()), 3..8),
        length in 6u32..20,
    ) {
        let text: Vec<String> = shelf
            .iter()
            .enumerate()
            .map(|(at, (minutes, liked))| {
                let liked = if *liked { "  liked everybody\n" } else { "" };
                piece(&format!("P{at}"), *minutes, liked)
            })
            .collect();
        let cards = snapshot(&text.concat());
        let band = [cards.ensemble_named("Sixth").expect("it is there")];
        let wish = Wish {
            bands: &band,
            length: Some(length * 60),
            alike: true,
            others: 3,
            ..Wish::default()
        };
        let choice = choose(&cards, &wish);
        let Outcome::Program(program) = &choice.outcome else { return Ok(()) };
        let worth = |set: u32| (0..shelf.len()).filter(|at| set >> at & 1 == 1).map(|at| i64::from(shelf[at].0) * 10 + if shelf[at].1 { 10 } else { 0 }).sum::<i64>();
        let lasts = |set: u32| (0..shelf.len()).filter(|at| set >> at & 1 == 1).map(|at| shelf[at].0).sum::<u32>();
        let number = |name: &String| name.trim_start_matches('P').parse::<u32>().expect("a number");
        let of = |names: &[String]| names.iter().map(number).fold(0u32, |set, at| set | 1 << at);
        let all: Vec<String> = program.picks.iter().map(|pick| pick.name.clone()).collect();
        let best = of(&all);
        let mut seen = vec![best];
        for other in &program.others {
            let set = (best & !of(&other.goes)) | of(&other.comes);
            prop_assert!(other.proven);
            prop_assert_eq!(worth(set), other.value);
            let differs = |set: u32| seen.iter().all(|known: &u32| (set & known).count_ones() <= known.count_ones() / 2 && set & !known != 0);
            prop_assert!(differs(set));
            let most = (1u32..1 << shelf.len()).filter(|set| lasts(*set) <= length && differs(*set)).map(worth).max();
            prop_assert_eq!(Some(other.value), most);
            seen.push(set);
        }
        // Where fewer are told there are no more.
        if program.others.len() < 3 {
            let differs = |set: u32| seen.iter().all(|known: &u32| (set & known).count_ones() <= known.count_ones() / 2 && set & !known != 0);
            prop_assert!(!(1u32..1 << shelf.len()).any(|set| lasts(set) <= length && differs(set)));
        }
        // What is left out costs what the best program with it says.
        for one in &program.left_out {
            let at = number(&one.name);
            let most = (1u32..1 << shelf.len()).filter(|set| set >> at & 1 == 1 && lasts(*set) <= length).map(worth).max();
            prop_assert_eq!(one.points, most.map(|most| program.value - most));
        }
    }
}
