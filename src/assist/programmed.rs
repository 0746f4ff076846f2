//! A program written onto its concert's card: new titles between those that stand there, every line kept.

use crate::catalogue::{EntryId, Snapshot};
use crate::notation::Body;
use crate::text::{Edit, Ending, Span};

/// Why a program cannot be written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Why {
    /// Titles stand on the line that says `program`.
    OneLine,
    /// A row of the program names a piece that is not among the titles, or the order of the rows is another.
    OtherRows,
    /// There is no such card.
    NoCard,
}

impl Why {
    /// What is wrong and what to do, in words.
    pub fn says(self) -> &'static str {
        match self {
            Why::OneLine => {
                "The titles are on the line that says \"program\". Put each on a line of its own (\"levare recopy\" does), then ask again."
            }
            Why::OtherRows => {
                "A title on the program is none of the pieces that were chosen. See what \"levare proofread\" says of the concert, then ask again."
            }
            Why::NoCard => "There is no card for that concert.",
        }
    }
}

/// A title as a program has it: `"Air" by Lindqvist` where several pieces share it.
pub fn title(snapshot: &Snapshot, id: EntryId) -> String {
    let Some(entry) = snapshot.entry(id) else {
        return String::new();
    };
    let twins = snapshot.pieces_titled(&entry.name, None).len();
    let by = entry.piece().and_then(|piece| piece.by.first());
    let last = by.and_then(|person| person.name.split_whitespace().last());
    match last {
        Some(last) if twins > 1 => format!("\"{}\" by {last}", entry.name),
        _ => format!("\"{}\"", entry.name),
    }
}

/// The edit of the concert's file that puts these pieces on its program, in their order.
pub fn edit(snapshot: &Snapshot, concert: EntryId, pieces: &[EntryId]) -> Result<Vec<Edit>, Why> {
    let entry = snapshot.entry(concert).ok_or(Why::NoCard)?;
    let card = entry.concert().ok_or(Why::NoCard)?;
    let file = snapshot.file_of(concert).ok_or(Why::NoCard)?;
    let reading = entry.reading();
    let tree = &reading.tree;
    let ending = Ending::of(&entry.text).as_str();
    let in_file = |at: u32| file.in_file(concert.entry as usize, Span::at(at)).start;
    let program = reading
        .fields
        .iter()
        .find(|field| field.name() == Some("program"));
    let row_line = |span: Span| tree.line_at(span.start).and_then(|at| tree.lines.get(at));
    let written = |new: &[EntryId], indent: &str| {
        let lines = new.iter().map(|id| format!("{indent}{}", title(snapshot, *id)));
        lines.collect::<Vec<String>>().join(ending)
    };
    let Some(program) = program else {
        let lines = format!("  program{ending}{}", written(pieces, "    "));
        let edit = super::refactor::line_in_order(snapshot, concert, "program", &lines);
        return edit.map(|edit| vec![edit]).ok_or(Why::NoCard);
    };
    let head = tree.lines.get(program.line).ok_or(Why::NoCard)?;
    let rows = match &program.body {
        Body::Rows(rows) => rows.as_slice(),
        _ => &[],
    };
    if rows
        .iter()
        .any(|row| head.span.start <= row.row.span.start && row.row.span.start < head.span.end)
    {
        return Err(Why::OneLine);
    }
    let indent = rows.first().and_then(|row| {
        let line = row_line(row.row.span)?;
        let before = Span::new(line.span.start, row.row.span.start).slice(&entry.text);
        before.trim().is_empty().then(|| before.to_owned())
    });
    let indent = indent.unwrap_or_else(|| "    ".to_owned());
    // The rows that are titles, each with the piece it means.
    let mut standing = card.program.iter().map(|listed| {
        let title = &listed.title;
        let meant = snapshot.pieces_titled(&title.value.name, title.value.by.as_deref());
        (title.span, meant)
    });
    let mut edits = Vec::new();
    let mut new: Vec<EntryId> = Vec::new();
    let mut last_line = head;
    let mut next = standing.next();
    for id in pieces {
        match &next {
            Some((span, meant)) if meant.contains(id) => {
                if !new.is_empty() {
                    edits.push(Edit::insert(
                        in_file(last_line.body.end),
                        format!("{ending}{}", written(&new, &indent)),
                    ));
                    new.clear();
                }
                last_line = row_line(*span).ok_or(Why::OtherRows)?;
                next = standing.next();
            }
            _ => new.push(*id),
        }
    }
    if next.is_some() {
        return Err(Why::OtherRows);
    }
    if !new.is_empty() {
        edits.push(Edit::insert(
            in_file(last_line.body.end),
            format!("{ending}{}", written(&new, &indent)),
        ));
    }
    Ok(edits)
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::catalogue::CardFile;
    use crate::notation::Kind;
    use crate::text::apply;

    const PIECES: &str = "piece \"A\"\npiece \"B\"\npiece \"C\"\npiece \"Air\"\n  by Ida Quell\npiece \"Air\"\n  by Tam Lindqvist\n";

    fn written(concert: &str, titles: &[&str]) -> Result<String, Why> {
        let text = format!("{concert}{PIECES}");
        let file = Arc::new(CardFile::read("a.levare", &text));
        let snapshot = Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20));
        let id = snapshot
            .names()
            .of(Kind::Concert, "Evening")
            .next()
            .expect("it is there");
        let pieces: Vec<EntryId> = titles
            .iter()
            .map(|title| snapshot.pieces_titled(title, None)[0])
            .collect();
        let edits = edit(&snapshot, id, &pieces)?;
        let text = apply(&text, &edits).expect("no two overlap");
        Ok(text.replace(PIECES, ""))
    }

    #[test]
    fn new_titles_stand_between_those_that_are_there() {
        let concert = "concert \"Evening\"\n  on 2026-12-10\n  program\n    \"B\"  (the parents like it)\n    intermission 10 minutes\n  notes Nothing else.\n";
        assert_eq!(
            written(concert, &["A", "B", "Air"]).as_deref(),
            Ok(
                "concert \"Evening\"\n  on 2026-12-10\n  program\n    \"A\"\n    \"B\"  (the parents like it)\n    \"Air\" by Quell\n    intermission 10 minutes\n  notes Nothing else.\n"
            )
        );
        assert_eq!(written(concert, &["A", "C"]), Err(Why::OtherRows));
        let one_line = "concert \"Evening\"\n  program \"B\"\n";
        assert_eq!(written(one_line, &["B", "A"]), Err(Why::OneLine));
    }

    #[test]
    fn a_card_without_a_program_is_given_one() {
        let concert = "concert \"Evening\"\n  on 2026-12-10\n  calls for a march\n";
        let text = written(concert, &["C", "A"]).expect("it can be written");
        assert!(text.contains("  program\n    \"C\"\n    \"A\"\n"), "{text}");
        let empty = "concert \"Evening\"\n  program\n  calls for a march\n";
        assert_eq!(
            written(empty, &["C"]).as_deref(),
            Ok("concert \"Evening\"\n  program\n    \"C\"\n  calls for a march\n")
        );
    }
}
