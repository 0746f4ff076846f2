//! `season`: several concerts built together.

use expect_test::expect;
use serde_json::Value;

use crate::bench::Bench;

const CARDS: &str = "handbook
  for             \"Band\"

ensemble \"Band\"
  players         flute 4
  taught          ties

concert \"Fall\"
  on              2026-11-05
  length          6 minutes
  calls for       2 pieces

concert \"Spring\"
  on              2027-05-06
  length          6 minutes
  calls for       2 pieces, a march
  program
    \"Pond\"

piece \"Kettle\"
  style           march
  lasts           3:00
  asks            triplets
  library
    copies          1 score

piece \"Pond\"
  style           lyrical
  lasts           2:50
  library
    copies          1 score

piece \"Nail\"
  style           dance
  lasts           2:40
  asks            triplets
  library
    copies          1 score

piece \"Shop\"
  style           waltz
  lasts           3:00
  price           50 USD
  wanted

piece \"Bell\"
  style           waltz
  lasts           2:30
  library
    copies          1 score
";

#[test]
fn concerts_are_built_together_and_written_together() {
    let bench = Bench::bare(&[("cards.levare", CARDS)]);
    let ended = bench.run(&[
        "season",
        "--budget",
        "$58",
        "--postage",
        "$8",
        "--today",
        "2026-10-20",
    ]);
    expect![[r#"
        Fall, 2026-11-05
          Shop   3:00
          Nail   2:40
          5:40 in all.
          New to the band by then: triplets.
          Find out before you settle on "Shop" and "Nail": the wind parts.

        Spring, 2027-05-06
          Kettle   3:00
          Pond     2:50  kept
          5:50 in all.
          Find out before you settle on "Kettle" and "Pond": the wind parts.

        To buy for all of them: "Shop", 58 USD.
        125 points in all; no other programs together are worth more. No piece comes in
        twice. Pieces of which something is not known that was asked were not chosen
        from; "levare choose" lists them for one concert.
    "#]]
    .assert_eq(&ended.out);
    assert_eq!((ended.status, ended.err.as_str()), (0, ""));
    assert_eq!(bench.read("cards.levare"), CARDS);
    let ended = bench.run(&["season", "--as", "json", "--write", "--today", "2026-10-20"]);
    let season: Value = serde_json::from_str(&ended.out).expect("one object");
    assert_eq!(
        (season["outcome"].as_str(), &season["value"]),
        (Some("programs"), &season["bound"])
    );
    let cards = bench.read("cards.levare");
    assert!(
        cards.contains("    \"Kettle\"\n") && cards.matches("  program\n").count() == 2,
        "{cards}"
    );
}

#[test]
fn what_cannot_be_is_told() {
    let bench = Bench::bare(&[("cards.levare", CARDS)]);
    let ended = bench.run(&["season", "Winter"]);
    assert_eq!(ended.status, 2);
    assert!(
        ended.err.contains("There is no concert called \"Winter\""),
        "{}",
        ended.err
    );
}

#[test]
fn an_impossible_concert_is_told_and_the_others_are_chosen() {
    let polka = CARDS.replace(
        "calls for       2 pieces\n",
        "calls for       2 pieces, a polka\n",
    );
    let bench = Bench::bare(&[("cards.levare", &polka)]);
    let ended = bench.run(&["season", "--today", "2026-10-20", "--write"]);
    assert_eq!(ended.status, 1);
    assert!(
        ended.out.starts_with(
            "\"Fall\" has no program: no piece meets this.\n\n  a polka\n\nType levare choose \"Fall\" to see"
        ),
        "{}",
        ended.out
    );
    let cards = bench.read("cards.levare");
    assert_eq!(cards.matches("  program\n").count(), 1, "{cards}");
    assert!(cards.contains("    \"Kettle\"\n"), "{cards}");
    let ended = bench.run(&["season", "--today", "2026-10-20", "--as", "json"]);
    let season: Value = serde_json::from_str(&ended.out).expect("one object");
    assert_eq!(season["impossible"], serde_json::json!([["Fall", ["a polka"]]]));
    assert_eq!(
        (&season["outcome"], &season["concerts"][0]["concert"]),
        (&"programs".into(), &"Spring".into())
    );
    // Where all are impossible, each is told.
    let none = polka.replace("2 pieces, a march", "2 pieces, a tango");
    bench.write("cards.levare", none);
    let ended = bench.run(&["season", "--today", "2026-10-20"]);
    assert_eq!(ended.status, 1);
    for said in [
        "\"Fall\" has no program",
        "  a polka",
        "\"Spring\" has no program",
        "  a tango",
    ] {
        assert!(ended.out.contains(said), "{}", ended.out);
    }
}

#[test]
fn what_one_concert_teaches_is_not_new_at_the_next() {
    let spring = CARDS.replace("a march\n", "a march\n  new skills      none\n");
    let known = spring.replace("2:50\n", "2:50\n  asks            ties\n");
    let bench = Bench::bare(&[("cards.levare", &known)]);
    let ended = bench.run(&["season", "--today", "2026-10-20", "--as", "json"]);
    let season: Value = serde_json::from_str(&ended.out).expect("one object");
    // The march asks triplets, which the fall teaches with another piece.
    let concerts = &season["concerts"];
    assert_eq!(
        concerts[0]["new_skills"],
        serde_json::json!(["triplets"]),
        "{season}"
    );
    assert_eq!(concerts[1]["new_skills"], serde_json::json!([]), "{season}");
    assert!(concerts[1]["pieces"].to_string().contains("Kettle"), "{season}");
    // By itself the spring has no such program.
    let ended = bench.run(&["choose", "Spring", "--today", "2026-10-20"]);
    assert_eq!(ended.status, 1, "{}", ended.out);
    // Once the fall's program is on its card, everybody counts what it teaches.
    bench.run(&["season", "--today", "2026-10-20", "--write"]);
    let ended = bench.run(&["choose", "Spring", "--today", "2026-10-20"]);
    assert_eq!(ended.status, 0, "{}", ended.out);
    let ended = bench.run(&["proofread", "--today", "2026-10-20", "--least", "hint"]);
    assert!(!ended.out.contains("new skill"), "{}", ended.out);
    let cards = bench.read("cards.levare").replace("2026-11-05", "2027-06-05");
    bench.write("cards.levare", cards);
    let ended = bench.run(&["proofread", "--today", "2026-10-20", "--least", "hint"]);
    assert!(ended.out.contains("no new skills"), "{}", ended.out);
}

#[test]
fn what_is_new_is_counted_over_the_season() {
    let all_say = CARDS.replace("2:50\n", "2:50\n  asks            ties\n");
    let all_say = all_say.replace("2:30\n", "2:30\n  asks            ties\n");
    let bench = Bench::bare(&[("cards.levare", &all_say)]);
    let of = |most: &str| {
        let asked = [
            "season",
            "--new-skills",
            most,
            "--today",
            "2026-10-20",
            "--as",
            "json",
        ];
        let ended = bench.run(&asked);
        serde_json::from_str::<Value>(&ended.out).expect("one object")
    };
    // Two pieces ask for the same skill, and it is new once.
    assert_eq!(of("1")["outcome"], "programs");
    // Without it no march is left for the spring.
    assert_eq!(
        of("0")["impossible"],
        serde_json::json!([["Spring", ["a march", "no new skills"]]])
    );
    // With too few pieces for both, the two that clash are named.
    let few = CARDS.replace(
        "piece \"Bell\"\n  style           waltz\n  lasts           2:30\n",
        "piece \"Bell\"\n",
    );
    bench.write(
        "cards.levare",
        few.replace(
            "piece \"Nail\"\n  style           dance\n  lasts           2:40\n",
            "piece \"Nail\"\n",
        ),
    );
    let ended = bench.run(&["season", "--today", "2026-10-20"]);
    assert_eq!(ended.status, 1);
    assert!(
        ended.out.replace('\n', " ").contains(
            "\"Fall\" and \"Spring\" can each be filled, but not together: there are too few pieces"
        ),
        "{}",
        ended.out
    );
}
