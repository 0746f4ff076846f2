//! Orders of measures against the repeats that music21 expands and partitura unfolds.

use levare::catalogue::CardFile;
use levare::catalogue::course::Course;
use serde_json::{Value, json};

use super::answers::{Row, agree, number, rows, word};

/// What a library answers and is not taken: the road, the library, why.
const NOT_TAKEN: [(&str, &str, &str); 3] = [
    (
        "segno at 2, to coda at 4, D.S. al Coda at 6, coda at 7",
        "partitura",
        "it takes no jump that ends at a coda",
    ),
    (
        "to coda at 4, D.C. al Coda at 8, coda at 9",
        "partitura",
        "it takes no jump that ends at a coda",
    ),
    (
        "repeat 2-3, 1st ending 3, 2nd ending 4, D.C. at 6",
        "music21",
        "after the jump it plays the first ending and then the second",
    ),
];

fn order(measures: i32, road: &str) -> Value {
    let card = format!("piece \"Road\"\n  measures  {measures}\n  roadmap   {road}\n");
    let card = if road.is_empty() {
        card.replace("  roadmap   \n", "")
    } else {
        card
    };
    let file = CardFile::read("road.levare", &card);
    let piece = file.entries.first().and_then(|entry| entry.piece());
    let course = piece.map(Course::of);
    match course.as_ref().map(|course| course.order()) {
        Some(Ok(order)) => json!(order),
        other => json!(format!("{other:?}")),
    }
}

/// Where a library's order is another one, apart from what is known.
pub fn orders(rows: &[Row]) -> Vec<String> {
    let mut found = Vec::new();
    for row in rows {
        let road = word(row, "road");
        let here = order(number(row, "measures"), road);
        for library in ["music21", "partitura"] {
            let known = NOT_TAKEN
                .iter()
                .find(|(about, by, _)| *about == road && *by == library);
            match (known, row[library] == here) {
                (None, false) => found.push(format!("{road}: {library} {}, here {here}", row[library])),
                (Some((_, _, why)), true) => {
                    found.push(format!(
                        "{road}: {library} has changed its mind ({why}) and agrees"
                    ));
                }
                _ => {}
            }
        }
    }
    found
}

#[test]
fn the_order_of_measures() {
    agree(&orders(&rows("roads")));
}
