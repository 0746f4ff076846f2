//! Orders for catalogues written by hand.

use std::sync::Arc;

use super::*;
use crate::catalogue::CardFile;
use crate::notation::Kind;

const SHELF: &str = "handbook
  postage         8 USD, 5 USD free over 100 USD from North Pier Music

ensemble \"Band\"
  meets           Tuesday
  players         flute 8, clarinet 10, tuba 2

concert \"Evening\"
  on              2026-12-10
  for             \"Band\"
  program
    \"Old Rope\"
    \"Blue Ladder\"
    \"Green Ladder\"
    \"Who Knows\"
    \"Lost Title\"

piece \"Old Rope\"
  publisher       North Pier Music
  library
    copies          1 score, 5 flute, 10 clarinet
    missing         1 tuba
    price           50 USD, extra parts 3 USD each

piece \"Blue Ladder\"
  publisher       Ash Hill Press
  price           60 USD
  wanted

piece \"Green Ladder\"
  publisher       Ash Hill Press
  price           70 USD

piece \"Who Knows\"

piece \"Tall Order\"
  publisher       North Pier Music
  price           95 USD
  style           march
  wanted          some day

piece \"Small Wish\"
  publisher       North Pier Music
  price           45 USD
  wanted

piece \"Second Wish\"
  publisher       North Pier Music
  price           44 USD
  wanted

piece \"Free Wish\"
  wanted

bundle \"Ladders\"
  from            Ash Hill Press
  price           100 USD
  holds           \"Blue Ladder\", \"Green Ladder\"
";

fn shelf(text: &str) -> Snapshot {
    let file = Arc::new(CardFile::read("a.levare", text));
    Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20))
}

fn bought(order: &Order) -> Vec<(String, u64)> {
    let all = order.lines.iter();
    all.map(|line| (words::line(&line.what), line.cents / 100))
        .collect()
}

fn dollars(sum: u64) -> Wish {
    Wish {
        budget: Some(Money::sum(sum * 100, "USD")),
        ..Wish::default()
    }
}

#[test]
fn a_concert_is_bought_for_the_least_money() {
    let snapshot = shelf(SHELF);
    let evening = snapshot
        .names()
        .of(Kind::Concert, "Evening")
        .next()
        .expect("it is there");
    let lacking = wanting(&snapshot, &Scope::Concert(evening));
    assert_eq!(lacking.not_known, ["Who Knows"]);
    assert_eq!(lacking.no_card, ["Lost Title"]);
    let found = order(&snapshot, &lacking, &Wish::default()).expect("an order");
    let wanted = [
        (
            "bundle \"Ladders\" with \"Blue Ladder\" and \"Green Ladder\"",
            100,
        ),
        ("1 tuba part for \"Old Rope\" (it is missing)", 3),
        ("3 flute parts for \"Old Rope\" (5 copies for 8 players)", 9),
    ];
    assert_eq!(bought(&found), wanted.map(|(words, sum)| (words.to_owned(), sum)));
    let postage = [
        ("Ash Hill Press".to_owned(), 800),
        ("North Pier Music".to_owned(), 500),
    ];
    assert_eq!(found.postage, postage);
    assert_eq!(
        (found.cents, found.singly, found.proven),
        (12_500, Some(15_500), true)
    );
}

#[test]
fn wishes_fill_the_budget_after_what_is_needed() {
    let snapshot = shelf(SHELF);
    let lacking = wanting(&snapshot, &Scope::Everything);
    // 125 for the concert; over 100 at one seller the postage falls.
    let found = order(&snapshot, &lacking, &dollars(210)).expect("an order");
    assert_eq!(
        (found.cents, found.left_out.as_slice()),
        (20_900, ["Tall Order".to_owned()].as_slice())
    );
    let march = crate::catalogue::conditions::read(&snapshot, "a march");
    let prefer = Wish {
        prefer: march,
        ..dollars(220)
    };
    let found = order(&snapshot, &lacking, &prefer).expect("an order");
    assert_eq!(found.left_out, ["Small Wish", "Second Wish"]);
    assert_eq!(found.cents, 21_500);
    assert_eq!(found.no_price, ["\"Free Wish\""]);
    assert!(matches!(
        order(&snapshot, &lacking, &dollars(124)),
        Err(NoOrder::OverBudget { .. })
    ));
}

#[test]
fn money_is_not_changed() {
    let snapshot = shelf(&SHELF.replace("70 USD", "70 EUR"));
    let lacking = wanting(&snapshot, &Scope::Everything);
    let both = Err(NoOrder::Currencies(vec!["USD".to_owned(), "EUR".to_owned()]));
    assert_eq!(order(&snapshot, &lacking, &Wish::default()), both);
}

#[test]
fn a_bare_line_is_a_wish_and_a_set_that_was_played_is_there() {
    let text = "piece \"A\"\n  wanted\n  price 20 USD\npiece \"B\"\n  wanted\n  performed 2020-05-01\n";
    let snapshot = shelf(text);
    let names: Vec<String> = wanting(&snapshot, &Scope::Everything)
        .sets
        .into_iter()
        .map(|set| set.name)
        .collect();
    assert_eq!(names, ["A"]);
    // A library that holds no more than a price is no set.
    let text = "piece \"A\"\n  wanted\n  library\n    price 20 USD\npiece \"B\"\n  wanted\n  library\n    place shelf 2\n";
    let snapshot = shelf(text);
    let sets = wanting(&snapshot, &Scope::Everything).sets;
    assert_eq!(sets.len(), 1);
    assert_eq!(sets[0].name, "A");
    let there = crate::planning::library::shelf(&snapshot, &[]).sets;
    assert_eq!(
        there.iter().map(|set| set.name.as_str()).collect::<Vec<_>>(),
        ["B"]
    );
}

#[test]
fn copies_are_bought_for_the_larger_of_two_bands() {
    for (first, second) in [(8, 6), (6, 8)] {
        let text = format!(
            "ensemble \"Reds\"\n  players flute {first}\nensemble \"Blues\"\n  players flute {second}\nconcert \"Evening\"\n  on 2026-12-10\n  program\n    for \"Reds\"\n      \"A\"\n    for \"Blues\"\n      \"A\"\nconcert \"Later\"\n  on 2027-01-10\n  for \"Reds\", \"Blues\"\n  program\n    \"A\"\npiece \"A\"\n  library\n    copies 1 score, 5 flute\n    price 9 USD, extra parts 2 USD each\n"
        );
        let snapshot = shelf(&text);
        let later = snapshot
            .names()
            .of(Kind::Concert, "Later")
            .next()
            .expect("it is there");
        let parts = wanting(&snapshot, &Scope::Concert(later)).parts;
        let counts: Vec<u32> = parts.iter().map(|part| part.count).collect();
        assert_eq!(counts, [3], "{first} and {second}");
    }
}
