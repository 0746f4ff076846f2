//! `library` and `record`: what is there, and what was played.

use expect_test::expect;

use crate::bench::Bench;

const CARDS: &str = "ensemble \"Band\"
  players         flute 8, clarinet 10
  taught          ties

piece \"Old Rope\"
  by              Ida Quell
  parts           flute, clarinet 1-2, tuba
  library
    place           closet, box 4
    copies          1 score, 5 flute, 5 clarinet 1, 5 clarinet 2
    missing         tuba
    lent            2026-05-01 to the high school, due 2026-09-01
    price           50 USD

piece \"Loose Leaves\"
  library
    copies          9 flute
";

const CONCERT: &str = "concert \"Evening\"
  on              2026-12-10
  for             \"Band\"
  program
    \"Old Rope\"
    \"Loose Leaves\"
";

fn bench() -> Bench {
    Bench::bare(&[("cards.levare", CARDS), ("concerts.levare", CONCERT)])
}

#[test]
fn a_shelf_is_told() {
    let ended = bench().run(&["library", "--today", "2026-10-20"]);
    expect![[r#"
        2 sets, worth 50 USD; 1 without a price. Among them: 1 with missing parts, 1
        with fewer copies than players, 1 without a score, 1 lent and 1 overdue.

        "Loose Leaves"
          9 copies counted.
          No score among them.
          Not played yet.

        "Old Rope", closet, box 4, 50 USD
          16 copies counted.
          Missing: tuba.
          5 copies for flute and 8 players: 3 short.
          Lent 2026-05-01 to the high school, due 2026-09-01 and not back.
          Not played yet.
    "#]]
    .assert_eq(&ended.out);
    assert_eq!(ended.status, 1);
}

#[test]
fn a_count_goes_out_and_comes_back() {
    let bench = bench();
    let sheet = bench
        .run(&["library", "--as", "csv", "--today", "2026-10-20"])
        .out;
    let filled = sheet
        .replace(",flute,5,", ",flute,5,7")
        .replace(",tuba,,", ",tuba,,2")
        .replace(",clarinet 1,5,", ",clarinet 1,5,5");
    bench.write("count.csv", filled);
    let told = bench.run(&["library", "--counted", "count.csv"]);
    assert_eq!(told.status, 1);
    assert!(
        told.out.contains("3 parts counted: 1 as the card says, 2 not."),
        "{}",
        told.out
    );
    assert_eq!(bench.read("cards.levare"), CARDS);
    let ended = bench.run(&["library", "--counted", "count.csv", "--write"]);
    assert_eq!(ended.status, 0, "{}", ended.err);
    let wanted = "copies          1 score, 7 flute, 5 clarinet 1, 5 clarinet 2, 2 tuba\n";
    assert!(
        bench.read("cards.levare").contains(wanted),
        "{}",
        bench.read("cards.levare")
    );
}

#[test]
fn a_concert_is_recorded_once_it_was() {
    let bench = bench();
    let early = bench.run(&["record", "Evening", "--today", "2026-12-09"]);
    assert_eq!(early.status, 2);
    assert!(early.err.contains("still to come"), "{}", early.err);
    let ended = bench.run(&[
        "record",
        "Evening",
        "--today",
        "2026-12-11",
        "--result",
        "I I II",
        "--taught",
        "triplets",
    ]);
    assert_eq!(ended.status, 0, "{}", ended.err);
    let cards = bench.read("cards.levare");
    assert_eq!(
        cards
            .matches("  performed       2026-12-10 \"Band\", result I I II\n")
            .count(),
        2,
        "{cards}"
    );
    assert!(
        cards.contains("  taught          triplets by 2026-12-10\n"),
        "{cards}"
    );
    let more = [
        "record",
        "Evening",
        "--today",
        "2026-12-11",
        "--piece",
        "Old Rope",
        "--took",
        "5 weeks",
        "--learned",
        "Less rope.",
    ];
    assert_eq!(bench.run(&more).status, 0);
    let cards = bench.read("cards.levare");
    assert!(cards.contains("  performed       2026-12-10 \"Band\", result I I II, took 5 weeks\n  learned         Less rope.\n"), "{cards}");
    let again = bench.run(&more);
    assert!(again.out.contains("is on the cards already"), "{}", again.out);
    assert_eq!(bench.read("cards.levare"), cards);
    let odd = bench.run(&[
        "record",
        "Evening",
        "--today",
        "2026-12-11",
        "--result",
        "purple monkey",
    ]);
    assert_eq!(odd.status, 2, "{}", odd.out);
}
