//! What the last time taught, told when a piece comes up again.

use crate::catalogue::Snapshot;
use crate::catalogue::conditions::{Subject, lines_of};
use crate::notation::values::{Day, Played};

/// What a card remembers of a piece, in sentences: how the last performance went and how long it took, what was
/// learned, whether it was rehearsed and never played. Empty where it was never tried.
pub fn remembered(snapshot: &Snapshot, subject: &Subject<'_>) -> Vec<String> {
    let mut said = Vec::new();
    let over = |day: Option<Day>| day.and_then(Day::first).is_none_or(|day| day <= snapshot.today);
    let performed = subject.piece.performed.iter();
    let last = performed
        .filter(|one| one.is_certain() && over(one.value.day))
        .max_by_key(|one| one.value.day.and_then(Day::last));
    if let Some(last) = last {
        let mut words = Vec::new();
        let mut never = false;
        for one in &last.value.said {
            match one {
                Played::Took(takes) => words.push(format!("took {takes}")),
                Played::Result(ratings) => words.push(format!("result {}", ratings.join(" "))),
                Played::Went(_) | Played::Story(_) => words.push(one.to_string()),
                Played::Never => never = true,
                _ => {}
            }
        }
        let when = last.value.day.map_or(String::new(), |day| format!(" ({day})"));
        match (never, words.is_empty()) {
            (true, _) => said.push(format!("It was prepared once and never performed{when}.")),
            (false, false) => said.push(format!("Last time{when}: {}.", words.join(", "))),
            (false, true) => {}
        }
    }
    let text = |field: &str| {
        let lines = lines_of(field, subject).into_iter();
        lines
            .map(|line| line.split_whitespace().collect::<Vec<_>>().join(" "))
            .filter(|line| !line.is_empty())
            .collect::<Vec<String>>()
    };
    said.extend(
        text("learned")
            .iter()
            .map(|line| format!("Learned: {}", ended(line))),
    );
    said.extend(
        text("rehearsed")
            .iter()
            .map(|line| format!("Rehearsed: {}", ended(line))),
    );
    said
}

/// A line with a full stop at its end.
fn ended(line: &str) -> String {
    match line.ends_with(['.', '!', '?', '"', '”']) {
        true => line.to_owned(),
        false => format!("{line}."),
    }
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::catalogue::CardFile;

    #[test]
    fn the_card_is_quoted_and_nothing_made_up() {
        let of = |lines: &str| {
            let file = Arc::new(CardFile::read("a.levare", &format!("piece \"A\"\n{lines}")));
            let snapshot = Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20));
            let id = snapshot.pieces_titled("A", None)[0];
            let subject = Subject::of(id, snapshot.entry(id).expect("a card")).expect("a piece");
            remembered(&snapshot, &subject)
        };
        assert_eq!(
            of(
                "  performed 2023-05-01 \"Band\"\n  performed 2025-05-12 \"Band\", took 8 weeks, result I I II\n  learned Begin with the last page,\n    then the trio\n"
            ),
            [
                "Last time (2025-05-12): took 8 weeks, result I I II.",
                "Learned: Begin with the last page, then the trio."
            ]
        );
        assert_eq!(of("  performed 2025-05-12\n  lasts 3:00\n"), Vec::<String>::new());
        // What is still to come is no past.
        assert_eq!(of("  performed 2026-12-10, took 5 weeks\n"), Vec::<String>::new());
        assert_eq!(
            of("  rehearsed 2024-02, snow days\n"),
            ["Rehearsed: 2024-02, snow days."]
        );
    }
}
