//! `grade`: where a piece stands, condition by condition.

use expect_test::expect;
use serde_json::Value;

use crate::bench::Bench;

const CARDS: &str = "piece \"Copper Kettle\"
  grade           1 publisher, 1 ours
  key signature   3 flats
  lasts           3:00
  percussion
    snare           1-40
    bass drum       1-40

list \"Shore list\"
  holds           \"Copper Kettle\" grade 1.5

criteria \"spring festival\"
  calls for       a march, up to 3 flats, asks nothing new

criteria \"our grade 2\"
  calls for       up to 3 flats, at most 5 minutes

criteria \"our grade 1\"
  calls for       up to 2 flats, no sharps, at most 4 minutes
";

#[test]
fn each_condition_is_answered() {
    let bench = Bench::bare(&[("cards.levare", CARDS)]);
    let ended = bench.run(&["grade", "Copper", "Kettle"]);
    expect![[r#"
        Copper Kettle
        Its card says: 1 publisher, 1 ours.
        "Shore list" has it at grade 1.5.
        By your own criteria it is a grade 2; its card says 1 for you.

        our grade 1: not met
          no   up to 2 flats: it has 3 flats in its key signature
          yes  no sharps: it has 3 flats in its key signature
          yes  at most 4 minutes: it lasts 3:00

        our grade 2: met
          yes  up to 3 flats: it has 3 flats in its key signature
          yes  at most 5 minutes: it lasts 3:00

        spring festival: not sure
          yes  up to 3 flats: it has 3 flats in its key signature
          ?    asks nothing new: not known (all that it asks)
          Of a whole program: a march.
    "#]]
    .assert_eq(&ended.out);
    assert_eq!((ended.status, ended.err.as_str()), (0, ""));
    let ended = bench.run(&["grade", "Copper Kettle", "--as", "json"]);
    let found: Value = serde_json::from_str(&ended.out).expect("one object");
    assert_eq!(found["by_criteria"], 200);
    assert_eq!(found["criteria"][0]["name"], "our grade 1");
    assert_eq!(found["criteria"][0]["conditions"][0]["answer"], "no");
}

#[test]
fn what_is_missing_is_told() {
    let bench = Bench::bare(&[("cards.levare", "piece \"Copper Kettle\"\n  lasts 3:00\n")]);
    let ended = bench.run(&["grade", "Copper Kettle"]);
    assert!(ended.out.contains("Its card gives no grade."), "{}", ended.out);
    assert!(ended.out.contains("There are no criteria"), "{}", ended.out);
    let ended = bench.run(&["grade", "Copper Pot"]);
    assert_eq!(ended.status, 2);
    assert!(ended.err.contains("Copper Pot"), "{}", ended.err);
}
