//! Counts of a sheet written onto the cards they are of.

use crate::catalogue::{EntryId, Snapshot};
use crate::notation::recopy::field_line;
use crate::notation::values::{Copies, Value};
use crate::notation::{Body, FieldReading};
use crate::planning::library::counted::Change;
use crate::text::{Edit, Ending, Span};

/// The edits of each file, by its number, and the titles of cards without a library to write to.
pub fn edits(snapshot: &Snapshot, changes: &[Change]) -> (Vec<(usize, Vec<Edit>)>, Vec<String>) {
    let mut ids: Vec<EntryId> = changes.iter().map(|change| change.id).collect();
    ids.sort_unstable();
    ids.dedup();
    let mut files: Vec<(usize, Vec<Edit>)> = Vec::new();
    let mut left = Vec::new();
    for id in ids {
        let own: Vec<&Change> = changes.iter().filter(|change| change.id == id).collect();
        let Some(edits) = of_card(snapshot, id, &own) else {
            left.extend(own.first().map(|change| change.piece.clone()));
            continue;
        };
        super::recorded::add(&mut files, id.file as usize, edits);
    }
    (files, left)
}

/// `8 flute 1`.
fn written(change: &Change) -> Copies {
    Copies {
        enough: false,
        count: Some(change.now),
        extra: false,
        short: false,
        part: change.part.clone(),
        page: None,
        as_of: None,
    }
}

fn of_card(snapshot: &Snapshot, id: EntryId, changes: &[&Change]) -> Option<Vec<Edit>> {
    let entry = snapshot.entry(id)?;
    let file = snapshot.file_of(id)?;
    let reading = entry.reading();
    let tree = &reading.tree;
    let in_file = |span: Span| file.in_file(id.entry as usize, span);
    let library = reading
        .fields
        .iter()
        .find(|field| field.name() == Some("library"))?;
    let Body::Block(inside) = &library.body else {
        return None;
    };
    let copies = |field: &&FieldReading| field.name() == Some("copies");
    let mut edits = Vec::new();
    let mut new: Vec<String> = Vec::new();
    for change in changes {
        let mut items = inside.iter().filter(copies).flat_map(|field| field.items());
        let item = items.find(|item| {
            matches!(&item.value, Some(Value::Copies(copies)) if copies.part == change.part && copies.page.is_none())
        });
        match item {
            Some(item) => edits.push(Edit {
                span: in_file(item.core),
                text: written(change).to_string(),
            }),
            None => new.push(written(change).to_string()),
        }
    }
    if !new.is_empty() {
        let words = new.join(", ");
        let last = inside
            .iter()
            .rfind(|field| copies(field) && !field.items().is_empty());
        let ending = Ending::of(&entry.text).as_str();
        let (line, text) = match last.and_then(|field| field.items().last()) {
            Some(item) => (tree.line_at(item.span.start)?, format!(", {words}")),
            None => {
                // Behind the place of the set, else behind the head of the block.
                let before = inside.iter().find(|field| field.name() == Some("place"));
                let indent = inside.first().map_or(4, |field| {
                    let line = tree.lines.get(field.line);
                    line.map_or(4, |line| {
                        field.word.start.saturating_sub(line.span.start) as usize
                    })
                });
                let at = before.map_or(library.line, |field| field.line);
                (at, format!("{ending}{}", field_line(indent, "copies", &words)))
            }
        };
        let end = tree.lines.get(line)?.body.end;
        edits.push(Edit::insert(in_file(Span::at(end)).start, text));
    }
    edits.sort_by_key(|edit| edit.span.start);
    Some(edits)
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::catalogue::CardFile;
    use crate::planning::library::counted::read;
    use crate::text::apply;

    fn counted(card: &str, rows: &str) -> String {
        let file = Arc::new(CardFile::read("a.levare", card));
        let snapshot = Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20));
        let back = read(&snapshot, &format!("piece,part,counted\n{rows}")).expect("the columns are there");
        let (files, left) = edits(&snapshot, &back.changes);
        assert_eq!(left, Vec::<String>::new());
        files.iter().fold(card.to_owned(), |text, (_, edits)| {
            apply(&text, edits).expect("no two overlap")
        })
    }

    #[test]
    fn counts_take_the_place_of_counts() {
        let card = "piece \"A\"\n  library\n    place box 4\n    copies 1 score, 5 flute (old), 5 clarinet 1  (torn)\n    price 5 USD\n";
        assert_eq!(
            counted(card, "A,flute,7\nA,score,1\nA,tuba,2\n"),
            "piece \"A\"\n  library\n    place box 4\n    copies 1 score, 7 flute (old), 5 clarinet 1  (torn), 2 tuba\n    price 5 USD\n"
        );
    }

    #[test]
    fn a_set_that_was_never_counted_is_given_a_line() {
        assert_eq!(
            counted(
                "piece \"A\"\n  library\n    place           box 4\n",
                "A,flute,7\nA,tuba,2\n"
            ),
            "piece \"A\"\n  library\n    place           box 4\n    copies          7 flute, 2 tuba\n"
        );
        assert_eq!(
            counted("piece \"A\"\n  library\n", "A,flute,7\n"),
            "piece \"A\"\n  library\n    copies          7 flute\n"
        );
    }
}
