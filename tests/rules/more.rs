//! Rules about voices, skills, the library, buying, privacy and records beyond their pages: what is open or
//! near enough is held against nobody, a piece on the shelf is left in peace, and odd cards draw what they
//! should.

use std::sync::Arc;

use levare::catalogue::{CardFile, Snapshot};
use levare::findings::{self, Finding, Severity};

fn found(text: &str) -> Vec<Finding> {
    let file = Arc::new(CardFile::read("a.levare", text));
    let snapshot = Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20));
    snapshot
        .entries()
        .flat_map(|(id, _)| findings::of_card(&snapshot, id))
        .collect()
}

const CONCERT: &str = "ensemble \"B\"\n  players\n    flute  9\n    clarinet  10\n    euphonium  2\n    tuba  1\n  taught  eighth pairs\n  owns  snare, 2 bass drums, drum set\nconcert \"C\"\n  on  2026-12-10\n  for  \"B\"\n  program\n    \"A\"\n";

/// A phrase, the card of piece A, and whether it is drawn when the band above plays it.
const PLAYED: [(&str, &str, bool); 30] = [
    ("not taught yet", "asks  triplets", true),
    ("not taught yet", "asks  triplets?", false),
    ("not taught yet", "asks  quarter notes", false),
    ("not taught yet", "asks  eighths", false),
    ("not taught yet", "asks  a good ear", false),
    ("fewer copies than players", "library\n    copies  8 flute", true),
    (
        "fewer copies than players",
        "library\n    copies  8 flute?",
        false,
    ),
    ("fewer copies than players", "library\n    copies  flute", false),
    (
        "fewer copies than players",
        "library\n    copies  5 flute, 4 flute",
        false,
    ),
    (
        "fewer copies than players",
        "library\n    copies  1 baritone T.C.",
        true,
    ),
    (
        "fewer copies than players",
        "library\n    copies  1 baritone T.C., 1 euphonium",
        false,
    ),
    (
        "fewer copies than players",
        "parts  clarinet 1-3\n  library\n    copies  2 clarinet 1, 2 clarinet 3",
        false,
    ),
    ("missing part in a program", "library\n    missing  tuba", true),
    ("missing part in a program", "library\n    missing  tuba?", false),
    (
        "missing part in a program",
        "parts\n    tuba  optional\n  library\n    missing  tuba",
        false,
    ),
    (
        "missing part in a program",
        "library\n    missing  bassoon",
        false,
    ),
    ("missing part in a program", "library\n    missing  snare", true),
    (
        "lent at the concert",
        "library\n    lent  2026-10-01 to them, due 2027-01-05",
        true,
    ),
    (
        "lent at the concert",
        "library\n    lent  2026-10-01 to them, due 2027-01-05, back 2026-10-09",
        false,
    ),
    (
        "lent at the concert",
        "library\n    lent  2027-01-01 to them, due 2027-02-05",
        false,
    ),
    (
        "lent at the concert",
        "library\n    lent  2026-10-01 to them, due 2026-10-05",
        false,
    ),
    (
        "license over at the concert",
        "library\n    license  until 2026-12-09",
        true,
    ),
    (
        "license over at the concert",
        "library\n    license  until 2026-12",
        false,
    ),
    (
        "one instrument for two",
        "percussion\n    snare 1  1-9\n    snare 2  9",
        false,
    ),
    (
        "one instrument for two",
        "percussion\n    bass drum 1  1-9\n    bass drum 2  9",
        false,
    ),
    ("one player cannot divide", "parts\n    tuba  div. at 9", true),
    ("one player cannot divide", "parts\n    tuba  non divisi", false),
    ("one player cannot divide", "parts\n    bassoon  divisi", false),
    (
        "low lines short of players",
        "parts\n    low voices  4 lines",
        true,
    ),
    (
        "low lines short of players",
        "parts\n    low voices  3 lines",
        false,
    ),
];

#[test]
fn a_piece_that_is_about_to_be_played() {
    let mut faults = Vec::new();
    for (phrase, card, drawn) in PLAYED {
        let text = format!("piece \"A\"\n  {card}\n{CONCERT}");
        let count = found(&text)
            .iter()
            .filter(|finding| finding.phrase == phrase)
            .count();
        if count != usize::from(drawn) {
            faults.push(format!("{phrase}: {count} findings for {card:?}"));
        }
    }
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
}

#[test]
fn a_piece_on_the_shelf_draws_hints_at_most() {
    let band = CONCERT.replace("\"A\"", "\"Another\"");
    for (phrase, card, _) in PLAYED {
        let text = format!("piece \"A\"\n  {card}\npiece \"Another\"\n{band}");
        for finding in found(&text).iter().filter(|finding| finding.phrase == phrase) {
            assert_eq!(finding.severity, Severity::Hint, "{phrase}: {card:?}");
        }
    }
}

/// A phrase, a catalogue, and how often it is drawn.
const ALONE: [(&str, &str, usize); 33] = [
    (
        "bundle costs more than its pieces",
        "piece \"A\"\n  price  50 USD\npiece \"Z\"\n  price  5 EUR\nbundle \"U\"\n  price  60 USD\n  holds  \"A\", \"Z\"\n",
        0,
    ),
    (
        "looks like a full name",
        "concert \"C\"\n  absent  Ida Rose Quell, P2\n",
        1,
    ),
    (
        "looks like a full name",
        "concert \"C\"\n  absent  Ms. Quell, Ms Quell, Second Clarinets\n",
        0,
    ),
    (
        "part number skipped",
        "piece \"A\"\n  parts\n    flute 2  C5-C6\n    flute 4  C5-C6\n",
        0,
    ),
    (
        "tempo out of reach",
        "piece \"A\"\n  tempo  241, eighth = 481, q = 20\n",
        2,
    ),
    (
        "off the instrument",
        "piece \"A\"\n  parts\n    tuba  F1-F#4\n",
        0,
    ),
    ("off the instrument", "piece \"A\"\n  parts\n    tuba  F1-A4\n", 1),
    (
        "same as itself",
        "piece \"A\"\n  parts\n    oboe  cued in oboe\n",
        0,
    ),
    (
        "same as itself",
        "piece \"A\"\n  parts\n    2nd cl.  same as clarinet 2\n",
        1,
    ),
    (
        "leans on a missing part",
        "piece \"A\"\n  parts\n    flute 1\n    oboe  cued in flute 2 or flute 1\n",
        1,
    ),
    (
        "leans on a missing part",
        "piece \"A\"\n  parts\n    flute 1\n    oboe  cued in flute 2?\n",
        0,
    ),
    (
        "leans on a missing part",
        "piece \"A\"\n  parts\n    flute\n    oboe  cued in flute 2\n",
        0,
    ),
    (
        "part number skipped",
        "piece \"A\"\n  parts\n    flute 1-2  C5-C6\n    flute 4-9  C5-C6\n",
        1,
    ),
    (
        "two ranges for one part",
        "piece \"A\"\n  parts\n    flute  C5-C6\n    flute  about C5-D6\n",
        0,
    ),
    (
        "silent and playing",
        "piece \"A\"\n  parts\n    oboe  tacet until 33, solo 41-44\n",
        0,
    ),
    (
        "silent and playing",
        "piece \"A\"\n  parts\n    oboe  tacet?, solo 41-44\n",
        0,
    ),
    ("skills in a circle", "skill \"x\"\n  after  x\n", 1),
    (
        "skills in a circle",
        "skill \"x\"\n  after  y\nskill \"y\"\n  after  z\nskill \"z\"\n  also  zed\n  after  x\n",
        1,
    ),
    (
        "skills in a circle",
        "skill \"x\"\n  after  y\nskill \"y\"\n  after  zed\nskill \"z\"\n  also  zed\n  after  y\n",
        1,
    ),
    (
        "taught in the wrong order",
        "ensemble \"B\"\n  taught  triplets by 2026-11-01\n  taught  eighth pairs by 2026-11\n",
        0,
    ),
    (
        "taught in the wrong order",
        "ensemble \"B\"\n  taught  slurs, triplets by 2026-10-01\n  taught  eighth pairs by 2026-11\n",
        1,
    ),
    (
        "tempo out of reach",
        "piece \"A\"\n  tempo  240, eighth = 480, q = 19\n",
        1,
    ),
    (
        "pickup as long as a measure",
        "piece \"A\"\n  meter  3/4\n  pickup  three quarters\n",
        1,
    ),
    (
        "pickup as long as a measure",
        "piece \"A\"\n  meter  3/4\n  pickup  three quarters?\n",
        0,
    ),
    (
        "row written twice",
        "piece \"A\"\n  percussion\n    snare  1-9, one player\n    snare  instead of snare, 1-9\n",
        0,
    ),
    (
        "bundle costs more than its pieces",
        "piece \"A\"\n  price  50 USD\nbundle \"U\"\n  price  60 EUR\n  holds  \"A\"\n",
        0,
    ),
    (
        "bundle costs more than its pieces",
        "bundle \"U\"\n  price  60 EUR\n",
        0,
    ),
    (
        "performance still to come",
        "piece \"A\"\n  performed  2026-12 \"B\"\n",
        1,
    ),
    (
        "performance still to come",
        "piece \"A\"\n  performed  2026-10 \"B\"\n",
        0,
    ),
    (
        "looks like a full name",
        "piece \"A\"\n  by  Ida Quell\n  publisher  Ida Quell\n  track  4:00, operator Ida Quell\n",
        1,
    ),
    (
        "looks like a full name",
        "ensemble \"B\"\n  percussionists\n    Snare Line  snare\n    IQ TL  bells\n",
        0,
    ),
    (
        "more than the section has",
        "ensemble \"B\"\n  players\n    clarinet  12?, 14 over the break\n",
        0,
    ),
    (
        "loan not back",
        "piece \"A\"\n  library\n    lent  2026-04-10 to them, due 2026-03-10\n",
        0,
    ),
];

#[test]
fn cards_that_stand_alone() {
    let mut faults = Vec::new();
    for (phrase, text, wanted) in ALONE {
        let count = found(text)
            .iter()
            .filter(|finding| finding.phrase == phrase)
            .count();
        if count != wanted {
            faults.push(format!("{phrase}: {count} findings, not {wanted}, for {text:?}"));
        }
    }
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
}

#[test]
fn a_table_row_that_lies_is_caught() {
    let text = format!("piece \"A\"\n  asks  eighth pairs\n{CONCERT}");
    let count = found(&text)
        .iter()
        .filter(|finding| finding.phrase == "not taught yet")
        .count();
    assert_eq!(count, 0, "what is taught is not told");
    let text = text.replace("taught  eighth pairs", "taught  slurs");
    let count = found(&text)
        .iter()
        .filter(|finding| finding.phrase == "not taught yet")
        .count();
    assert_eq!(count, 1, "the same card with another band");
}
