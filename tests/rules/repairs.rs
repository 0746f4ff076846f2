//! Every repair that is offered on a page takes its finding away, and brings no other.

use levare::findings::{self, page};
use levare::text;

use super::notation_and_names::all;

/// What is wrong with the repairs of an example, and how many there are.
fn tried(example: &str) -> (usize, String) {
    let (file, found) = all(example);
    let mut tried = 0;
    let mut faults = String::new();
    for (card, finding) in &found {
        for repair in &finding.repairs {
            tried += 1;
            let edits: Vec<text::Edit> = repair
                .edits
                .iter()
                .map(|edit| text::Edit::replace(file.in_file(*card, edit.span), edit.text.clone()))
                .collect();
            let Ok(mended) = text::apply(example, &edits) else {
                faults.push_str(&format!("{}: its edits overlap in\n{example}\n", repair.title));
                continue;
            };
            let left: Vec<&str> = all(&mended).1.iter().map(|(_, left)| left.phrase).collect();
            let was: Vec<&str> = found.iter().map(|(_, was)| was.phrase).collect();
            if left.len() + 1 != was.len() {
                faults.push_str(&format!(
                    "{}: {was:?} became {left:?} in\n{mended}\n",
                    repair.title
                ));
            }
        }
    }
    (tried, faults)
}

#[test]
fn every_repair_on_a_page_mends_and_harms_nothing() {
    let mut count = 0;
    let mut faults = String::new();
    for rule in findings::RULES {
        for example in page::parse(rule.page).draws {
            let (repairs, wrong) = tried(&example.text);
            count += repairs;
            faults.push_str(&wrong);
        }
    }
    assert!(faults.is_empty(), "\n{faults}");
    assert!(count > 60, "only {count} repairs were tried");
}
