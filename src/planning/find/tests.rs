//! Finding on a shelf of a few cards.

use std::sync::Arc;

use super::*;
use crate::catalogue::CardFile;
use crate::catalogue::conditions::read;

const SHELF: &str = "\
piece \"Copper Kettle\"
  by Ida Quell
  style march
  key signature 2 flats
  grade 2
  lasts 3:10
  price 60 USD
piece \"Attic Waltz\"
  style waltz
  key signature 1 flat
piece \"Bent Nail March\"
  style march
  key signature 4 flats
piece \"Dusty Road\"
  key signature 1 flat
  grade 1
  performed 2021-05-01
piece \"Air\"
  by Tam Lindqvist
  style march
  key signature 1 flat
  grade 1.5
piece \"Air\"
  by Ida Quell
  style air
";

fn found(words: &str, order: Order) -> (Vec<String>, Vec<String>) {
    let file = Arc::new(CardFile::read("a.levare", SHELF));
    let snapshot = Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20));
    let conditions = read(&snapshot, words);
    let all = pieces(&snapshot);
    let hits = all
        .iter()
        .filter_map(|id| hit(&snapshot, &conditions, &[], *id))
        .collect();
    let found = sorted(all.len(), hits, order);
    assert_eq!(found.asked, 6);
    let met = found
        .met
        .iter()
        .map(|hit| format!("{}: {}", hit.row.name, hit.why.join("; ")));
    let open = found
        .open
        .iter()
        .map(|hit| format!("{}: {}", hit.row.name, hit.missing.join("; ")));
    (met.collect(), open.collect())
}

#[test]
fn why_each_matched_and_what_is_not_known() {
    let (met, open) = found("a march, up to 3 flats", Order::Title);
    assert_eq!(
        met,
        [
            "Air by Tam Lindqvist: is a march; has 1 flat in its key signature",
            "Copper Kettle: is a march; has 2 flats in its key signature"
        ]
    );
    // No style is no march for certain; a waltz is none.
    assert_eq!(open, ["Dusty Road: all its styles"]);
    let (met, open) = found("not a march", Order::Title);
    assert_eq!(met, ["Air by Ida Quell: is an air", "Attic Waltz: is a waltz"]);
    assert_eq!(
        open,
        ["Dusty Road: all its styles"],
        "not of an unknown is unknown"
    );
}

#[test]
fn in_order_and_what_is_not_known_comes_last() {
    let names = |order| {
        let (met, _) = found("a piece", order);
        let names = met
            .iter()
            .map(|line| line.split(':').next().unwrap_or("").to_owned());
        names.collect::<Vec<String>>()
    };
    assert_eq!(
        names(Order::Grade),
        [
            "Dusty Road",
            "Air by Tam Lindqvist",
            "Copper Kettle",
            "Air by Ida Quell",
            "Attic Waltz",
            "Bent Nail March"
        ]
    );
    assert_eq!(names(Order::Length)[0], "Copper Kettle");
    assert_eq!(names(Order::Performed)[5], "Dusty Road");
}
