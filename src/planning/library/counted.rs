//! A sheet that was filled in, read back: what differs from the cards.

use crate::catalogue::names::key;
use crate::catalogue::{EntryId, Snapshot};
use crate::notation::values::Copies;

use super::sheet::numbered;

/// A count that differs from the card, or that no card has.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Change {
    /// The piece.
    pub id: EntryId,
    /// Its title.
    pub piece: String,
    /// The part.
    pub part: String,
    /// What the card counts; none where it does not.
    pub was: Option<u32>,
    /// What was counted.
    pub now: u32,
}

/// What came of reading a sheet.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct ReadBack {
    /// What differs.
    pub changes: Vec<Change>,
    /// How many counts are as the card says.
    pub same: usize,
    /// Rows that nothing was counted in.
    pub blank: usize,
    /// Rows that are not understood: the row's number in the file, and why.
    pub not_understood: Vec<(usize, String)>,
}

/// Reads a table between commas (RFC 4180; semicolons and tabs are taken where the first line has no comma). Each
/// row with the line it begins on, counted from 1.
pub fn table(text: &str) -> Vec<(usize, Vec<String>)> {
    let text = text.strip_prefix('\u{feff}').unwrap_or(text);
    let first = text.lines().next().unwrap_or("");
    let by = [',', ';', '\t']
        .into_iter()
        .max_by_key(|by| (first.matches(*by).count(), *by == ','))
        .unwrap_or(',');
    let mut rows: Vec<(usize, Vec<String>)> = Vec::new();
    let (mut row, mut cell) = (Vec::new(), String::new());
    let (mut line, mut begun) = (1usize, 1usize);
    let mut quoted = false;
    let mut letters = text.chars().peekable();
    while let Some(letter) = letters.next() {
        match letter {
            '"' if quoted && letters.peek() == Some(&'"') => {
                letters.next();
                cell.push('"');
            }
            '"' if quoted => quoted = false,
            '"' if cell.is_empty() => quoted = true,
            '\r' if !quoted => {}
            '\n' if !quoted => {
                row.push(std::mem::take(&mut cell));
                rows.push((begun, std::mem::take(&mut row)));
                line += 1;
                begun = line;
            }
            letter if letter == by && !quoted => row.push(std::mem::take(&mut cell)),
            letter => {
                line += usize::from(letter == '\n');
                cell.push(letter);
            }
        }
    }
    if !cell.is_empty() || !row.is_empty() {
        row.push(cell);
        rows.push((begun, row));
    }
    rows.retain(|(_, row)| row.iter().any(|cell| !cell.trim().is_empty()));
    rows
}

/// Reads a filled sheet; none where its first row does not name the columns `piece`, `part` and `counted`.
pub fn read(snapshot: &Snapshot, text: &str) -> Option<ReadBack> {
    let rows = table(text);
    let (_, heads) = rows.first()?;
    let column = |name: &str| {
        heads
            .iter()
            .position(|head| head.trim().eq_ignore_ascii_case(name))
    };
    let (piece, part, counted) = (column("piece")?, column("part")?, column("counted")?);
    let by = column("by");
    let mut back = ReadBack::default();
    for (line, row) in rows.iter().skip(1) {
        let cell = |at: usize| row.get(at).map_or("", |cell| cell.trim());
        let count = cell(counted);
        if count.is_empty() {
            back.blank += 1;
            continue;
        }
        match change(snapshot, cell(piece), by.map_or("", cell), cell(part), count) {
            Ok(change) if change.was == Some(change.now) => back.same += 1,
            Ok(change) => match back
                .changes
                .iter()
                .any(|known| known.id == change.id && known.part == change.part)
            {
                true => back.not_understood.push((
                    *line,
                    format!("{} of \"{}\" is counted twice", change.part, change.piece),
                )),
                false => back.changes.push(change),
            },
            Err(why) => back.not_understood.push((*line, why)),
        }
    }
    Some(back)
}

fn change(snapshot: &Snapshot, title: &str, by: &str, part: &str, count: &str) -> Result<Change, String> {
    let now: u32 = count
        .parse()
        .ok()
        .filter(|now| *now <= 999)
        .ok_or_else(|| format!("\"{count}\" is no count"))?;
    let mut found = snapshot.pieces_titled(title, None);
    if found.len() > 1 {
        let wrote = |id: &EntryId| {
            let piece = snapshot.entry(*id).and_then(|entry| entry.piece());
            let names = piece.map(|piece| {
                let names: Vec<&str> = piece.by.iter().map(|person| person.name.as_str()).collect();
                names.join("; ")
            });
            names.is_some_and(|names| key(&names) == key(by))
        };
        found.retain(wrote);
    }
    let [id] = found[..] else {
        return Err(match found.is_empty() {
            true => format!("no card is called \"{title}\""),
            false => format!("several cards are called \"{title}\""),
        });
    };
    let read = Copies::read(part).filter(|read| read.count.is_none() && read.page.is_none());
    let part = read.ok_or_else(|| format!("\"{part}\" is no part"))?.part;
    let piece = snapshot.entry(id).and_then(|entry| entry.piece());
    let same = |known: &str| known.eq_ignore_ascii_case(&part);
    let mut said = piece.into_iter().flat_map(|piece| &piece.library.copies);
    let was = said.find(|said| same(&said.value.part) && said.value.page.is_none());
    // A spreadsheet may have begun the name with a capital.
    let named = piece.into_iter().flat_map(|piece| snapshot.part_names(piece));
    let mut named = named.flat_map(numbered);
    let known = was
        .map(|said| said.value.part.clone())
        .or_else(|| named.find(|name| same(name)));
    let part = known.unwrap_or(part);
    Ok(Change {
        id,
        piece: title.to_owned(),
        was: was.and_then(|said| said.value.count),
        part,
        now,
    })
}
