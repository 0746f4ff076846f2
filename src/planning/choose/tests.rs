//! Choosing from a shelf of a few cards.

use std::sync::Arc;

use super::*;
use crate::catalogue::CardFile;
use crate::catalogue::conditions::read;
use crate::notation::Kind;

const BAND: &str = "\
handbook
  for \"Band\"
ensemble \"Band\"
  taught slurs
  players
    flute  6
    clarinet  6
";

fn piece(title: &str, lines: &str) -> String {
    format!("piece \"{title}\"\n{lines}")
}

/// Asks for a concert; `wish` turns what is asked.
fn asked(cards: &str, conditions: &str, turn: impl Fn(&Snapshot, &mut Wish<'_>)) -> Choice {
    let file = Arc::new(CardFile::read("a.levare", &format!("{BAND}{cards}")));
    let snapshot = Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20));
    let bands = [snapshot.ensemble_named("Band").expect("it is there")];
    let mut wish = Wish {
        concert: snapshot.names().of(Kind::Concert, "Evening").next(),
        bands: &bands,
        conditions: read(&snapshot, conditions),
        rests: 2,
        alike: true,
        ..Wish::default()
    };
    turn(&snapshot, &mut wish);
    choose(&snapshot, &wish)
}

fn program(choice: &Choice) -> &Program {
    match &choice.outcome {
        Outcome::Program(program) => program,
        other => panic!("{other:?}"),
    }
}

fn titles(choice: &Choice) -> Vec<&str> {
    let mut titles: Vec<&str> = program(choice)
        .picks
        .iter()
        .map(|pick| pick.name.as_str())
        .collect();
    titles.sort_unstable();
    titles
}

fn shelf() -> String {
    [
        piece("March", "  style march\n  key signature 2 flats\n  lasts 3:00\n  library\n    copies 1 score\n"),
        piece("Waltz", "  style waltz\n  key signature 1 flat\n  lasts 5:00\n  library\n    copies 1 score\n"),
        piece("Ballad", "  style ballad\n  key signature 4 flats\n  lasts 4:00\n  library\n    copies 1 score\n"),
        piece("Riddle", "  style dance\n  lasts 2:00\n  library\n    copies 1 score\n"),
        piece("Old Hat", "  style dance\n  key signature none\n  lasts 6:00\n  performed 2026-05-01\n  library\n    copies 1 score\n"),
        piece("Dream", "  style dance\n  key signature none\n  lasts 5:50\n  wanted for the spring\n  price 60 USD\n  publisher Rivermark\n"),
    ]
    .concat()
}

#[test]
fn the_length_the_conditions_and_the_shelf_are_kept() {
    let choice = asked(&shelf(), "up to 3 flats", |_, wish| {
        wish.length = Some(10 * 60);
        wish.between = Some(60);
    });
    assert_eq!(titles(&choice), ["March", "Waltz"]);
    let found = program(&choice);
    assert_eq!((found.music, found.gaps), (480, 60));
    assert_eq!((found.value, found.bound), (80, 80));
    // Nobody knows the signature of one; it is told apart and not ruled out.
    assert_eq!(
        choice.apart,
        [("Riddle".to_owned(), vec!["its key signature".to_owned()])]
    );
    let why = |title: &str| {
        let all = choice.ruled_out.iter();
        all.flat_map(|(demand, pieces)| {
            pieces
                .iter()
                .map(move |(name, _)| (demand.as_str(), name.as_str()))
        })
        .find(|(_, name)| *name == title)
        .map(|(demand, _)| demand)
    };
    assert_eq!(why("Ballad"), Some("up to 3 flats"));
    assert_eq!(why("Old Hat"), Some("not performed in the last 2 years"));
    assert_eq!(why("Dream"), Some("nothing to buy"));
    // With money there would be a longer piece beside the march.
    let most = &found.given_up[0];
    assert_eq!(
        (most.how.as_str(), most.points),
        ("Without \"nothing to buy\"", 18)
    );
    assert_eq!(most.pieces, ["Dream"]);
    assert!(found.given_up_in_full);
}

#[test]
fn what_the_director_put_there_stays() {
    let concert = "concert \"Evening\"\n  length 9 minutes\n  program\n    \"Ballad\"\n";
    let choice = asked(&format!("{}{concert}", shelf()), "up to 3 flats", |_, _| {});
    assert_eq!(titles(&choice), ["Ballad", "Waltz"]);
    let ballad = program(&choice)
        .picks
        .iter()
        .find(|pick| pick.name == "Ballad")
        .expect("it stays");
    assert!(ballad.kept);
    assert_eq!(ballad.misses[0].0, "up to 3 flats");
}

#[test]
fn a_budget_buys_by_the_bundle_with_postage() {
    let bundle = "bundle \"Pack\"\n  from Rivermark\n  price 70 USD\n  holds \"Dream\", \"Fancy\"\n";
    let fancy = piece(
        "Fancy",
        "  style dance\n  key signature none\n  lasts 6:00\n  wanted for the spring\n  price 50 USD\n  publisher Rivermark\n",
    );
    let cards = format!("{}{fancy}{bundle}", shelf());
    let with = |dollars: u64, postage: u64| {
        asked(&cards, "up to 3 flats, at most 3 pieces", |_, wish| {
            wish.budget = Some(Money::sum(dollars * 100, "USD"));
            wish.postage = Some(postage);
        })
    };
    // Singly the two cost 110.
    let choice = with(75, 500);
    assert_eq!(titles(&choice), ["Dream", "Fancy", "Waltz"]);
    let (offers, purchase) = program(&choice).purchase.clone().expect("something is bought");
    assert_eq!((offers.len(), offers[0].bundle), (1, true));
    assert_eq!((purchase.cents, purchase.postage), (7500, 500));
    assert_eq!(titles(&with(74, 500)), ["Fancy", "March", "Waltz"]);
    assert_eq!(titles(&with(54, 500)), ["March", "Waltz"]);
}

#[test]
fn new_skills_are_counted_over_the_whole_program() {
    let cards = [
        piece("One", "  asks slurs, ties\n  lasts 3:00\n"),
        piece("Two", "  asks triplets\n  lasts 4:00\n"),
        piece("Three", "  asks ties\n  lasts 2:00\n"),
        piece("Four", "  lasts 9:00\n"),
    ]
    .concat();
    let with = |most: u32| asked(&cards, "at most 4 pieces", |_, wish| wish.new_skills = Some(most));
    assert_eq!(
        titles(&with(1)),
        ["One", "Three"],
        "together they ask one new skill"
    );
    assert_eq!(titles(&with(2)), ["One", "Three", "Two"]);
    assert_eq!(program(&with(2)).new_skills, ["ties", "triplets"]);
    assert_eq!(with(2).apart[0].0, "Four");
}

#[test]
fn an_impossible_wish_is_answered_with_the_smallest_clash() {
    let clash =
        |conditions: &str, turn: &dyn Fn(&Snapshot, &mut Wish<'_>)| match asked(&shelf(), conditions, turn)
            .outcome
        {
            Outcome::Clash(demands, true) => demands,
            other => panic!("{conditions}: {other:?}"),
        };
    assert_eq!(clash("5 sharps, a march", &|_, _| {}), ["5 sharps"]);
    assert_eq!(
        clash("up to 3 flats, a ballad", &|_, _| {}),
        ["up to 3 flats", "a ballad"]
    );
    let short: &dyn Fn(&Snapshot, &mut Wish<'_>) = &|_, wish| wish.length = Some(7 * 60);
    assert_eq!(
        clash("a waltz, a march, up to 3 flats", short),
        ["a waltz", "a march", "at most 7:00 in all"]
    );
    // Two that the director keeps are too long together.
    let kept = clash("a piece", &|snapshot, wish| {
        wish.keep = ["Waltz", "Ballad"]
            .iter()
            .flat_map(|title| snapshot.pieces_titled(title, None))
            .collect();
        wish.length = Some(8 * 60);
    });
    assert_eq!(kept, ["keep \"Waltz\", \"Ballad\"", "at most 8:00 in all"]);
}

#[test]
fn counts_differences_and_preferences() {
    let cards = [
        piece(
            "A",
            "  style march\n  tonal center F major\n  lasts 3:00\n  tempo 120\n",
        ),
        piece(
            "B",
            "  style march\n  tonal center F major\n  lasts 3:10\n  tempo 120\n",
        ),
        piece(
            "C",
            "  style march\n  tonal center Bb major\n  lasts 2:00\n  tempo 120\n",
        ),
        piece(
            "D",
            "  style lyrical\n  tonal center F major\n  lasts 1:10\n  tempo 60\n",
        ),
    ]
    .concat();
    assert_eq!(titles(&asked(&cards, "exactly 2 pieces", |_, _| {})), ["A", "B"]);
    assert_eq!(
        titles(&asked(&cards, "exactly 2 pieces, at least 2 keys", |_, _| {})),
        ["B", "C"]
    );
    assert_eq!(
        titles(&asked(&cards, "exactly 2 pieces, slow and fast", |_, _| {})),
        ["B", "D"]
    );
    assert_eq!(
        titles(&asked(&cards, "exactly 2 pieces, at most 1 march", |_, _| {})),
        ["B", "D"]
    );
    let preferred = asked(&cards, "exactly 2 pieces", |snapshot, wish| {
        wish.prefer = read(snapshot, "lyrical")
    });
    assert_eq!(titles(&preferred), ["B", "D"]);
    let contrast = asked(&cards, "exactly 3 pieces", |_, wish| wish.alike = false);
    assert_eq!(titles(&contrast), ["B", "C", "D"], "{contrast:?}");
}

mod several {
    use super::*;
    use crate::planning::choose::season::{Others, Season, SeasonWish, season};

    const YEAR: &str = "handbook
  for \"Band\"
ensemble \"Band\"
  players flute 4
  taught ties
concert \"Fall\"
  on 2026-11-05
  length 6 minutes
  calls for 2 pieces
concert \"Spring\"
  on 2027-05-06
  length 6 minutes
  calls for 2 pieces, a march
piece \"Kettle\"
  style march
  lasts 3:00
  asks triplets
  library
    copies 1 score
piece \"Pond\"
  style lyrical
  lasts 2:50
  asks triplets
  library
    copies 1 score
piece \"Nail\"
  style dance
  lasts 2:40
  asks ties
  library
    copies 1 score
piece \"Bell\"
  style waltz
  lasts 2:30
  asks swing
  library
    copies 1 score
piece \"Shop\"
  style march
  lasts 3:00
  asks ties
  price 50 USD
  wanted
piece \"Store\"
  style waltz
  lasts 3:00
  asks ties
  price 60 USD
  wanted
";

    /// The programs of both concerts, or what came instead.
    fn drawn(text: &str, wish: &SeasonWish) -> Result<Vec<Vec<String>>, Box<Season>> {
        let file = Arc::new(CardFile::read("a.levare", text));
        let snapshot = Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20));
        let ids: Vec<EntryId> = crate::planning::teach::to_come(&snapshot);
        let bands: Vec<Vec<EntryId>> = ids.iter().map(|id| bands_of(&snapshot, *id)).collect();
        let wishes: Vec<Wish<'_>> = ids
            .iter()
            .zip(&bands)
            .map(|(id, bands)| Wish {
                concert: Some(*id),
                ..Wish::usual(bands)
            })
            .collect();
        let found = season(&snapshot, &wishes, wish);
        match &found.others {
            Others::Programs {
                evenings,
                value,
                bound,
                ..
            } if found.alone.is_empty() => {
                assert_eq!(value, bound);
                let names = |evening: &crate::planning::choose::season::Evening| {
                    let mut names: Vec<String> = evening
                        .program
                        .picks
                        .iter()
                        .map(|pick| pick.name.clone())
                        .collect();
                    names.sort();
                    names
                };
                Ok(evenings.iter().map(names).collect())
            }
            _ => Err(Box::new(found)),
        }
    }

    #[test]
    fn no_piece_comes_twice_and_one_budget_holds() {
        // The one march on the shelf goes where it is called for.
        let found = drawn(YEAR, &SeasonWish::default()).expect("programs");
        assert!(
            found[1].contains(&"Kettle".to_owned()) && !found[0].contains(&"Kettle".to_owned()),
            "{found:?}"
        );
        let mut all: Vec<&String> = found.iter().flatten().collect();
        all.sort();
        assert_eq!(all, ["Bell", "Kettle", "Nail", "Pond"]);
        // Enough for one of the two that are wanted.
        let some = SeasonWish {
            budget: Some(Money::sum(6000, "USD")),
            ..SeasonWish::default()
        };
        let found = drawn(YEAR, &some).expect("programs");
        let bought = found
            .iter()
            .flatten()
            .filter(|name| ["Shop", "Store"].contains(&name.as_str()));
        assert_eq!(bought.count(), 1, "{found:?}");
        // With both of them the shelf's poorest stays at home.
        let both = SeasonWish {
            budget: Some(Money::sum(11_000, "USD")),
            ..SeasonWish::default()
        };
        let found = drawn(YEAR, &both).expect("programs");
        assert!(!found.iter().flatten().any(|name| name == "Bell"), "{found:?}");
    }

    /// What the best of all ways to deal the pieces out is worth: none, the fall or the spring for each.
    fn every_way(budget: u64, new_skills: Option<u32>) -> i64 {
        // Seconds, price where it must be bought, whether it is a march, the style's number, the skill that is new.
        let pieces: [(i64, u64, bool, usize, u32); 6] = [
            (180, 0, true, 0, 1),
            (170, 0, false, 1, 1),
            (160, 0, false, 2, 0),
            (150, 0, false, 3, 2),
            (180, 50, true, 0, 0),
            (180, 60, false, 3, 0),
        ];
        let worth = |piece: &(i64, u64, bool, usize, u32)| {
            (piece.0 * 10 + 30) / 60 + if piece.1 > 0 { 10 } else { 0 }
        };
        let mut best = -1;
        for way in 0..3u32.pow(6) {
            let place = |at: usize| way / 3u32.pow(at as u32) % 3;
            let of = |concert: u32| -> Vec<usize> { (0..6).filter(|at| place(*at) == concert).collect() };
            let fits = [1, 2].iter().all(|concert| {
                let own = of(*concert);
                let styles = |style: usize| own.iter().filter(|at| pieces[**at].3 == style).count();
                own.len() >= 2
                    && own.iter().map(|at| pieces[*at].0).sum::<i64>() <= 360
                    && (0..4).all(|style| styles(style) <= 2)
            });
            let march = of(2).iter().any(|at| pieces[*at].2);
            let spent: u64 = (0..6).filter(|at| place(*at) > 0).map(|at| pieces[at].1).sum();
            let mut new: Vec<u32> = (0..6)
                .filter(|at| place(*at) > 0)
                .map(|at| pieces[at].4)
                .filter(|skill| *skill > 0)
                .collect();
            new.sort_unstable();
            new.dedup();
            let learned = new_skills.is_none_or(|most| new.len() <= most as usize);
            if fits && march && learned && spent <= budget {
                best = best.max(
                    (0..6)
                        .filter(|at| place(*at) > 0)
                        .map(|at| worth(&pieces[at]))
                        .sum(),
                );
            }
        }
        best
    }

    #[test]
    fn no_season_is_worth_more() {
        let skills = [None, Some(0), Some(1), Some(2)];
        let asked = [0, 49, 50, 60, 109, 110].map(|budget| skills.map(|most| (budget, most)));
        for (budget, most) in asked.into_iter().flatten() {
            let file = Arc::new(CardFile::read("a.levare", YEAR));
            let snapshot = Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20));
            let ids: Vec<EntryId> = crate::planning::teach::to_come(&snapshot);
            let bands: Vec<Vec<EntryId>> = ids.iter().map(|id| bands_of(&snapshot, *id)).collect();
            let wishes: Vec<Wish<'_>> = ids
                .iter()
                .zip(&bands)
                .map(|(id, bands)| Wish {
                    concert: Some(*id),
                    ..Wish::usual(bands)
                })
                .collect();
            let wish = SeasonWish {
                budget: Some(Money::sum(budget * 100, "USD")),
                new_skills: most,
                ..SeasonWish::default()
            };
            let best = every_way(budget, most);
            let found = season(&snapshot, &wishes, &wish);
            match &found.others {
                Others::Programs { value, bound, .. } if found.alone.is_empty() => {
                    assert_eq!((*value, *bound), (best, best), "{budget} {most:?}")
                }
                Others::Programs { .. } | Others::Clash(..) => assert_eq!(best, -1, "{budget} {most:?}"),
                Others::NotFound => panic!("{budget} {most:?}: {found:?}"),
            }
        }
    }

    #[test]
    fn what_is_asked_twice_is_new_once() {
        let file = Arc::new(CardFile::read("a.levare", YEAR));
        let snapshot = Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20));
        let ids: Vec<EntryId> = crate::planning::teach::to_come(&snapshot);
        let bands: Vec<Vec<EntryId>> = ids.iter().map(|id| bands_of(&snapshot, *id)).collect();
        let wishes: Vec<Wish<'_>> = ids
            .iter()
            .zip(&bands)
            .map(|(id, bands)| Wish {
                concert: Some(*id),
                ..Wish::usual(bands)
            })
            .collect();
        let found = season(&snapshot, &wishes, &SeasonWish::default());
        let Others::Programs { evenings, .. } = found.others else {
            panic!("programs");
        };
        let times = evenings.iter().flat_map(|evening| &evening.program.new_skills);
        assert_eq!(times.filter(|skill| *skill == "triplets").count(), 1);
    }

    #[test]
    fn a_concert_without_a_program_is_told_and_the_others_are_chosen() {
        let text = YEAR.replace("calls for 2 pieces\n", "calls for 2 pieces, a polka\n");
        let found = drawn(&text, &SeasonWish::default()).expect_err("one has none");
        let clashes: Vec<_> = found.alone.iter().map(|one| one.clash.clone()).collect();
        assert_eq!(clashes, [Some((vec!["a polka".to_owned()], true))]);
        let Others::Programs {
            evenings,
            value,
            bound,
            ..
        } = &found.others
        else {
            panic!("{found:?}");
        };
        let names: Vec<&str> = evenings[0]
            .program
            .picks
            .iter()
            .map(|pick| pick.name.as_str())
            .collect();
        assert_eq!((evenings.len(), value), (1, bound));
        assert!(names.contains(&"Kettle"), "{names:?}");
    }
}
