//! `buy`: what to order, for the least money.

use expect_test::expect;
use serde_json::Value;

use crate::bench::Bench;

const CARDS: &str = "handbook
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

piece \"Small Wish\"
  publisher       North Pier Music
  price           45 USD
  wanted

bundle \"Ladders\"
  from            Ash Hill Press
  price           100 USD
  holds           \"Blue Ladder\", \"Green Ladder\"
";

#[test]
fn an_order_is_told_by_seller() {
    let bench = Bench::bare(&[("cards.levare", CARDS)]);
    let ended = bench.run(&["buy", "Evening", "--today", "2026-10-20"]);
    expect![[r#"
        Ash Hill Press
          bundle "Ladders" with "Blue Ladder" and "Green Ladder"               100 USD
          postage                                                                8 USD
        North Pier Music
          1 tuba part for "Old Rope" (it is missing)                             3 USD
          3 flute parts for "Old Rope" (5 copies for 8 players)                  9 USD
          postage                                                                5 USD

        125 USD in all; no order costs less. Bought one by one it would be 30 USD more.
        "Blue Ladder" and "Green Ladder" are first rehearsed on 2026-11-03 for
        "Evening", so order now: sets take weeks to come.
        No card says whether the set of "Who Knows" is there. Write "library" on the
        card where it is, "wanted" where it is not.
    "#]]
    .assert_eq(&ended.out);
    assert_eq!((ended.status, ended.err.as_str()), (0, ""));
}

#[test]
fn a_budget_is_kept_or_the_least_is_told() {
    let bench = Bench::bare(&[("cards.levare", CARDS)]);
    let buy = |budget: &str| bench.run(&["buy", "--budget", budget, "--as", "json", "--today", "2026-10-20"]);
    let order: Value = serde_json::from_str(&buy("$180").out).expect("one object");
    assert_eq!(
        (
            order["hundredths"].as_u64(),
            order["left_out"].as_array().map(Vec::len)
        ),
        (Some(17_000), Some(0))
    );
    let order: Value = serde_json::from_str(&buy("$169").out).expect("one object");
    assert_eq!(
        (order["hundredths"].as_u64(), order["left_out"][0].as_str()),
        (Some(12_500), Some("Small Wish"))
    );
    let ended = buy("$120");
    assert_eq!(ended.status, 1);
    assert!(
        ended
            .err
            .replace('\n', " ")
            .contains("at least 125 USD, and 120 USD may be spent"),
        "{}",
        ended.err
    );
    let ended = buy("120 EUR");
    assert_eq!(ended.status, 2);
    assert!(ended.err.contains("does not change money"), "{}", ended.err);
}
