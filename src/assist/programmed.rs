//! A program written onto its concert's card: new titles between those that stand there, every line kept.

use crate::catalogue::{EntryId, Snapshot};
use crate::notation::Body;
use crate::planning::choose::Program;
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

/// A piece with the band that plays it; none where all bands of the concert do.
pub type Played = (EntryId, Option<EntryId>);

/// A row of the program that is a title.
struct Standing<'t> {
    /// Its line, by its number.
    line: usize,
    /// The first line behind it and all that hangs under it, by its number.
    end: usize,
    /// The blanks before it.
    indent: &'t str,
    /// The pieces that it may mean.
    meant: Vec<EntryId>,
    /// The one band that plays it, where its row or the row above it says so.
    band: Option<EntryId>,
    /// The line that says so, where that is not its own, by its number.
    under: Option<usize>,
}

/// The edit of the concert's file that puts these pieces on its program, in their order. A new title stands beside
/// those of its band; a band that has none yet is given a row of its own.
pub fn edit(snapshot: &Snapshot, concert: EntryId, pieces: &[Played]) -> Result<Vec<Edit>, Why> {
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
    let Some(program) = program else {
        let lines = [vec!["  program".to_owned()], grouped(snapshot, pieces, "    ")].concat();
        let edit = super::refactor::line_in_order(snapshot, concert, "program", &lines.join(ending));
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
    let before = |at: usize| {
        let line = tree.lines.get(at)?;
        Some(Span::new(line.span.start, line.body.start).slice(&entry.text))
    };
    // The first line behind a row and the lines that hang under it.
    let end_of = |at: usize| {
        let indent = tree.lines.get(at).map_or(0, |line| line.indent);
        let deeper = |at: &usize| {
            tree.lines
                .get(*at)
                .is_some_and(|line| !line.body.is_empty() && line.indent > indent)
        };
        at + 1 + (at + 1..tree.lines.len()).take_while(deeper).count()
    };
    let mut standing = Vec::new();
    for listed in &card.program {
        let title = &listed.title;
        let line = tree.line_at(title.span.start).ok_or(Why::OtherRows)?;
        let row = rows.iter().find(|row| {
            let first = row.row.facts.first();
            first.is_some_and(|first| first.span == title.span)
        });
        let above = row.and_then(|row| rows.get(row.under?));
        standing.push(Standing {
            line,
            end: end_of(line),
            indent: before(line).unwrap_or("    "),
            meant: snapshot.pieces_titled(&title.value.name, title.value.by.as_deref()),
            band: match listed.bands.as_slice() {
                [only] => snapshot.ensemble_named(only),
                _ => None,
            },
            under: above.and_then(|above| tree.line_at(above.row.span.start)),
        });
    }
    let top = match standing.iter().find(|one| one.under.is_none()) {
        Some(one) => one.indent,
        None => standing
            .first()
            .and_then(|one| before(one.under?))
            .unwrap_or("    "),
    };
    // Lines that come behind a line, by its number.
    let mut behind: Vec<(usize, Vec<String>)> = Vec::new();
    let mut put = |line: usize, lines: Vec<String>| match behind.iter_mut().find(|(at, _)| *at == line) {
        Some((_, all)) => all.extend(lines),
        None => behind.push((line, lines)),
    };
    let mut last: Option<&Standing<'_>> = None;
    let mut left = standing.iter().peekable();
    let mut new: Vec<Played> = Vec::new();
    let beside = |new: &[Played], row: &Standing<'_>| -> Vec<String> {
        let inline = match (row.band, row.under) {
            (Some(band), None) => snapshot
                .entry(band)
                .map_or(String::new(), |band| format!("  for \"{}\"", band.name)),
            _ => String::new(),
        };
        let lines = new.iter();
        lines
            .map(|(id, _)| format!("{}{}{inline}", row.indent, title(snapshot, *id)))
            .collect()
    };
    let mut flush = |new: &mut Vec<Played>, last: Option<&Standing<'_>>, next: Option<&Standing<'_>>| {
        let at = last.map_or(program.line, |row| row.end.saturating_sub(1));
        let all = std::mem::take(new);
        for chunk in all.chunk_by(|one, other| one.1 == other.1) {
            let Some((_, band)) = chunk.first() else { continue };
            match (last, next) {
                (Some(row), _) if row.band == *band || band.is_none() && row.under.is_some() => {
                    put(at, beside(chunk, row));
                }
                (_, Some(row)) if row.band == *band => {
                    // The first of a band stand behind the line that names it.
                    let line = row
                        .under
                        .filter(|under| last.is_none_or(|last| last.line < *under));
                    put(line.unwrap_or(at), beside(chunk, row));
                }
                _ => put(at, grouped(snapshot, chunk, top)),
            }
        }
    };
    for piece in pieces {
        match left.peek() {
            Some(row) if row.meant.contains(&piece.0) => {
                flush(&mut new, last, Some(row));
                last = left.next();
            }
            _ => new.push(*piece),
        }
    }
    if left.next().is_some() {
        return Err(Why::OtherRows);
    }
    flush(&mut new, last, None);
    behind.sort_by_key(|(line, _)| *line);
    let edits = behind.into_iter().filter_map(|(line, lines)| {
        let at = tree.lines.get(line)?.body.end;
        let lines: String = lines.iter().map(|line| format!("{ending}{line}")).collect();
        Some(Edit::insert(in_file(at), lines))
    });
    Ok(edits.collect())
}

/// Titles as rows, under a row for each band that plays its own.
fn grouped(snapshot: &Snapshot, pieces: &[Played], indent: &str) -> Vec<String> {
    let mut lines = Vec::new();
    for chunk in pieces.chunk_by(|one, other| one.1 == other.1) {
        let band = chunk
            .first()
            .and_then(|(_, band)| snapshot.entry((*band)?))
            .map(|band| &band.name);
        if let Some(name) = band {
            lines.push(format!("{indent}for \"{name}\""));
        }
        let deeper = if band.is_some() { "  " } else { "" };
        let titles = chunk.iter().map(|(id, _)| title(snapshot, *id));
        lines.extend(titles.map(|title| format!("{indent}{deeper}{title}")));
    }
    lines
}

/// A chosen program as it is written: each piece with its band.
pub fn played(program: &Program) -> Vec<Played> {
    program.picks.iter().map(|pick| (pick.id, pick.band)).collect()
}

/// The rows of a program as they stand on a card that has none yet.
pub fn rows(snapshot: &Snapshot, program: &Program) -> Vec<String> {
    grouped(snapshot, &played(program), "    ")
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::catalogue::CardFile;
    use crate::notation::Kind;
    use crate::text::apply;

    const PIECES: &str = "ensemble \"Sixth\"\nensemble \"Seventh\"\npiece \"A\"\npiece \"B\"\npiece \"C\"\npiece \"Air\"\n  by Ida Quell\npiece \"Air\"\n  by Tam Lindqvist\n";

    fn written(concert: &str, titles: &[&str]) -> Result<String, Why> {
        let text = format!("{concert}{PIECES}");
        let file = Arc::new(CardFile::read("a.levare", &text));
        let snapshot = Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20));
        let id = snapshot
            .names()
            .of(Kind::Concert, "Evening")
            .next()
            .expect("it is there");
        // A title may have the band that plays it before it: `Band: A`.
        let pieces: Vec<Played> = titles
            .iter()
            .map(|words| {
                let (band, title) = match words.split_once(": ") {
                    Some((band, title)) => (snapshot.ensemble_named(band), title),
                    None => (None, *words),
                };
                (snapshot.pieces_titled(title, None)[0], band)
            })
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

    #[test]
    fn a_title_stands_with_those_of_its_band() {
        let concert = "concert \"Evening\"\n  for \"Sixth\", \"Seventh\"\n  program\n    for \"Sixth\"\n      \"A\"\n        P1 on snare\n    for \"Seventh\"\n      \"B\"\n";
        assert_eq!(
            written(concert, &["Sixth: A", "Sixth: C", "Seventh: Air", "Seventh: B"]).as_deref(),
            Ok(
                "concert \"Evening\"\n  for \"Sixth\", \"Seventh\"\n  program\n    for \"Sixth\"\n      \"A\"\n        P1 on snare\n      \"C\"\n    for \"Seventh\"\n      \"Air\" by Quell\n      \"B\"\n"
            )
        );
        // A band that has nothing yet is given a row.
        let one =
            "concert \"Evening\"\n  for \"Sixth\", \"Seventh\"\n  program\n    for \"Sixth\"\n      \"A\"\n";
        assert_eq!(
            written(one, &["Sixth: A", "Seventh: C"]).as_deref(),
            Ok(
                "concert \"Evening\"\n  for \"Sixth\", \"Seventh\"\n  program\n    for \"Sixth\"\n      \"A\"\n    for \"Seventh\"\n      \"C\"\n"
            )
        );
        assert_eq!(
            written(one, &["Seventh: C", "Sixth: A"]).as_deref(),
            Ok(
                "concert \"Evening\"\n  for \"Sixth\", \"Seventh\"\n  program\n    for \"Seventh\"\n      \"C\"\n    for \"Sixth\"\n      \"A\"\n"
            )
        );
        let inline =
            "concert \"Evening\"\n  for \"Sixth\", \"Seventh\"\n  program\n    \"A\"  for \"Sixth\"\n";
        let text = written(inline, &["Sixth: A", "Sixth: B"]).expect("it can be written");
        assert!(
            text.ends_with("    \"A\"  for \"Sixth\"\n    \"B\"  for \"Sixth\"\n"),
            "{text}"
        );
        let none = "concert \"Evening\"\n  for \"Sixth\", \"Seventh\"\n";
        let text = written(none, &["Sixth: A", "Seventh: B"]).expect("it can be written");
        assert!(
            text.ends_with("  program\n    for \"Sixth\"\n      \"A\"\n    for \"Seventh\"\n      \"B\"\n"),
            "{text}"
        );
    }
}
