//! `teach`: what to teach, and in which week.

use expect_test::expect;
use serde_json::Value;

use crate::bench::Bench;

const CARDS: &str = "handbook
  teaching        at most 2 new skills a week, 5 weeks to a piece

ensemble \"Cedar Fork Band\"
  season          2026-27
  meets           Mon Wed Fri, 45 minutes, not 2026-11-23 to 2026-11-27
  taught          quarter notes, eighth pairs, slurs
  introduced      syncopation

skill \"syncopation\"
  after           eighth pairs
  takes           3 weeks

skill \"6/8 in two\"
  takes           4 weeks

piece \"Plow Horse Rag\"
  asks            syncopation, mutes?

piece \"Tin Roof March\"
  asks            6/8 in two, staccato, sounds of rain
  performed       2024-12-05 \"Cedar Fork Band\", took 6 weeks

piece \"Quiet Barn\"
  asks            legato
  teaches         legato

concert \"Winter night\"
  on              2026-12-15, 19:00
  for             \"Cedar Fork Band\"
  program
    \"Tin Roof March\"
    \"Quiet Barn\"
    \"Plow Horse Rag\"
    \"Never Written\"
";

#[test]
fn what_is_late_is_told_with_by_how_much() {
    let bench = Bench::bare(&[("cards.levare", CARDS)]);
    let ended = bench.run(&["teach", "Winter night", "--today", "2026-10-20"]);
    expect![[r#"
        Cedar Fork Band
        For "Winter night" on 2026-12-15. 4 skills to teach, and 1 of them cannot be
        ready in time.

          week of     rehearsals  in hand
          2026-10-19  2           staccato, 6/8 in two (1 of 4)
          2026-10-26  3           6/8 in two (2 of 4), syncopation (1 of 2)
          2026-11-02  3           6/8 in two (3 of 4), syncopation (2 of 2); begin
                                    "Tin Roof March"
          2026-11-09  3           6/8 in two (4 of 4), legato; begin "Plow Horse Rag"

          Staccato: 1 week, because no card says how long it takes. For "Tin Roof
            March", first rehearsed on 2026-11-02. Ready by 2026-10-23.
          6/8 in two: 4 weeks, by its card. For "Tin Roof March", first rehearsed on
            2026-11-02. Late: it is done by 2026-11-13, 2 weeks after the first
            rehearsal of "Tin Roof March" and 4 weeks of rehearsal before "Winter
            night".
          Syncopation: 2 weeks: half of the 3 weeks on its card, because it was
            introduced. For "Plow Horse Rag", first rehearsed on 2026-11-09. Ready by
            2026-11-06.
          Legato: 1 week, because no card says how long it takes. For "Quiet Barn",
            which teaches it on the way to "Winter night". Can be taught with "Quiet
            Barn". Ready by 2026-11-13.

        From the last time:
          Tin Roof March: Last time (2024-12-05): took 6 weeks.

        No card says how long staccato and legato take, so 1 week was counted. Write it
        on a card: skill "staccato", and below it: takes 2 weeks.
        Taken as known, though the band's card does not name them: 6/8 in six, dotted
        quarter-eighth, half notes, single eighths and ties. The skills above stand on
        them; write a skill card for what is not known.
        Left out, because no skill card and no usual name says what it is: sounds of
        rain.
        Left out, because a card is not sure of it: mutes.
        "Never Written" has no card to read, so nothing is known of what it asks.
    "#]]
    .assert_eq(&ended.out);
    assert_eq!((ended.status, ended.err.as_str()), (1, ""));
    let earlier = bench.run(&["teach", "Cedar Fork Band", "--today", "2026-09-01"]);
    assert_eq!(earlier.status, 0, "{}", earlier.out);
    assert!(earlier.out.contains("all are ready in time"), "{}", earlier.out);
}

#[test]
fn programs_read_the_same_plan() {
    let bench = Bench::bare(&[("cards.levare", CARDS)]);
    let ended = bench.run(&["teach", "--as", "json", "--today", "2026-10-20"]);
    let plan: Value = serde_json::from_str(&ended.out).expect("one object");
    assert_eq!(plan["band"], "Cedar Fork Band");
    assert_eq!(plan["late"], 1);
    let skills = plan["skills"].as_array().expect("a list");
    let late = skills
        .iter()
        .find(|skill| skill["late"] != 0)
        .expect("one is late");
    assert_eq!(
        (late["skill"].as_str(), late["late"].as_u64()),
        (Some("6/8 in two"), Some(2))
    );
}

#[test]
fn what_cannot_be_planned_is_told() {
    let bench = Bench::bare(&[(
        "cards.levare",
        "ensemble \"Band\"\npiece \"A\"\n  asks ties\nconcert \"Fall\"\n  on 2026-11-05\n  for \"Band\"\n  program\n    \"A\"\nconcert \"Past\"\n  on 2026-05-01\n",
    )]);
    for (name, words) in [
        ("Fall", "does not say what it has been taught"),
        ("Past", "was on 2026-05-01"),
        ("Nobody", "There is no concert and no band called \"Nobody\""),
    ] {
        let ended = bench.run(&["teach", name, "--today", "2026-10-20"]);
        assert_eq!(ended.status, 2, "{name}");
        assert!(ended.err.replace('\n', " ").contains(words), "{}", ended.err);
    }
}
