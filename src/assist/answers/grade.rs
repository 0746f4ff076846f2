//! Where a piece stands, to be read.

use crate::catalogue::conditions::Truth;
use crate::catalogue::{EntryId, Snapshot};
use crate::notation::values::grade::show_hundredths;
use crate::planning::standing::{Against, Standing, reason};
use crate::text::said::{Answer, Table, Wide, column};
use crate::text::sentences::joined;

/// Tells where a piece stands: its grades, the lists it is on, and each criteria card, condition by condition.
pub fn tell(snapshot: &Snapshot, piece: EntryId, found: &Standing) -> Answer {
    let mut answer = Answer::default();
    let out = &mut answer;
    let name = snapshot.entry(piece).map_or("", |entry| entry.name.as_str());
    out.head(name);
    match found.said.is_empty() {
        true => out.say("Its card gives no grade."),
        false => out.say(format!("Its card says: {}.", found.said.join(", "))),
    }
    let lists: Vec<String> = found
        .lists
        .iter()
        .map(|(list, grade)| match grade {
            Some(grade) => format!("\"{list}\" has it at grade {grade}"),
            None => format!("\"{list}\" has it without a grade"),
        })
        .collect();
    if !lists.is_empty() {
        out.say(format!("{}.", joined(&lists)));
    }
    if found.criteria.iter().any(|one| one.grade.is_some()) {
        out.say(by_criteria(found));
    }
    if found.criteria.is_empty() {
        out.say(
            "There are no criteria to hold it against. A card such as: criteria \"our grade 1\", with a line: calls for up to 3 flats, says what you mean by a grade.",
        );
    }
    for one in &found.criteria {
        out.gap();
        against(one, out);
    }
    answer
}

/// What the criteria of the band's own grades come to, beside the grade that its card gives.
fn by_criteria(found: &Standing) -> String {
    let graded = || found.criteria.iter().filter(|one| one.grade.is_some());
    match found.computed {
        Some(grade) => {
            let computed = show_hundredths(grade);
            let beside = match found.ours {
                Some(ours) if ours == grade => ", as its card says".to_owned(),
                Some(ours) => format!("; its card says {} for you", show_hundredths(ours)),
                None => String::new(),
            };
            format!("By your own criteria it is a grade {computed}{beside}.")
        }
        None if graded().all(|one| one.answer().is_no()) => {
            "It meets the criteria of none of your own grades.".to_owned()
        }
        None => "By your own criteria nobody can say yet: something is not known.".to_owned(),
    }
}

fn against(one: &Against, out: &mut Answer) {
    let answer = match one.answer() {
        Truth::No(_) => "not met",
        Truth::Unknown(_) => "not sure",
        Truth::Yes(_) if one.conditions.is_empty() => "only a whole program can meet it",
        Truth::Yes(_) => "met",
    };
    out.head(format!("{}: {answer}", one.name));
    let rows = one.conditions.iter().map(|(words, truth)| {
        let mark = match truth {
            Truth::Yes(_) => "yes",
            Truth::No(_) => "no",
            Truth::Unknown(_) => "?",
        };
        let reason = reason(truth);
        let behind = if reason.is_empty() { "" } else { ": " };
        vec![mark.to_owned(), format!("{words}{behind}{reason}")]
    });
    out.table(Table {
        columns: vec![column(Wide::Of(3), false), column(Wide::Rest, false)],
        rows: rows.collect(),
    });
    if !one.of_programs.is_empty() {
        out.item(format!("Of a whole program: {}.", one.of_programs.join(", ")));
    }
}
