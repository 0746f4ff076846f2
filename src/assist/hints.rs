//! Small facts beside the words that they follow from: when a piece of a program ends, which measure a mark is,
//! what transposing parts read, who plays a percussion part.

use crate::catalogue::{Entry, EntryId, Snapshot};
use crate::music::{Clock, Key};
use crate::notation::Kind;
use crate::notation::values::Value;
use crate::text::Span;

use super::sharing::Shared;
use super::{lens, marks};

/// What a fact is about; each can be shown or not.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum About {
    /// When a piece of a program ends.
    Lengths,
    /// The measure of a mark.
    Measures,
    /// What transposing parts read.
    Keys,
    /// Who plays a percussion part.
    Players,
}

/// A fact shown behind a word.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hint {
    /// The byte of the file that it stands behind.
    pub offset: u32,
    /// What it says; a few words.
    pub text: String,
    /// What it is about.
    pub about: About,
}

/// The facts of a file's cards that `within` touches. `stop` is asked at each card.
pub fn of_file(
    snapshot: &Snapshot,
    file: usize,
    within: Span,
    shown: &dyn Fn(About) -> bool,
    stop: &dyn Fn() -> bool,
) -> Vec<Hint> {
    let Some(cards) = snapshot.files().get(file) else {
        return Vec::new();
    };
    let mut found = Vec::new();
    for (index, entry) in cards.entries.iter().enumerate() {
        if stop() {
            break;
        }
        let whole = cards.in_file(index, Span::whole(&entry.text));
        if !whole.overlaps(within) && !whole.touches(within.start) {
            continue;
        }
        let here = match entry.kind {
            Some(Kind::Concert) => of_program(snapshot, entry),
            Some(Kind::Piece) => {
                let mut here = of_piece(snapshot, entry);
                if shown(About::Players) {
                    here.extend(players(snapshot, file, index));
                }
                here
            }
            _ => Vec::new(),
        };
        found.extend(
            here.into_iter()
                .filter(|hint| shown(hint.about))
                .map(|hint| Hint {
                    offset: cards.in_file(index, Span::at(hint.offset)).start,
                    ..hint
                }),
        );
    }
    found.retain(|hint| within.touches(hint.offset));
    found.sort_by_key(|hint| hint.offset);
    found
}

fn players(snapshot: &Snapshot, file: usize, index: usize) -> Vec<Hint> {
    let (Ok(file), Ok(entry)) = (u32::try_from(file), u32::try_from(index)) else {
        return Vec::new();
    };
    let Some(shared) = Shared::of_piece(snapshot, EntryId { file, entry }) else {
        return Vec::new();
    };
    shared
        .rows()
        .into_iter()
        .map(|beside| Hint {
            offset: beside.span.end,
            text: beside.who,
            about: About::Players,
        })
        .collect()
}

fn of_program(snapshot: &Snapshot, entry: &Entry) -> Vec<Hint> {
    let Some(concert) = entry.concert() else {
        return Vec::new();
    };
    let ends = lens::ends(snapshot, concert);
    // Of a program with one piece, the piece's own length says it all.
    if ends.len() < 2 {
        return Vec::new();
    }
    concert
        .program
        .iter()
        .zip(ends)
        .filter_map(|(listed, end)| {
            Some(Hint {
                offset: listed.title.span.end,
                text: format!("ends at {}", Clock(end?)),
                about: About::Lengths,
            })
        })
        .collect()
}

fn of_piece(snapshot: &Snapshot, entry: &Entry) -> Vec<Hint> {
    let mut found = Vec::new();
    let reading = entry.reading();
    let mut levels = vec![&reading.fields];
    for row in reading.fields.iter().flat_map(|field| field.rows()) {
        levels.push(&row.fields);
    }
    for fields in levels {
        let set = fields
            .iter()
            .filter(|field| field.name() == Some("rehearsal marks"))
            .flat_map(|field| field.items());
        for item in set {
            let Some(Value::Mark(mark)) = &item.value else {
                continue;
            };
            if item.open || mark.name == mark.measure.to_string() {
                continue;
            }
            let used = marks::spots(fields, &entry.text, &mark.name);
            found.extend(used.into_iter().filter(|spot| !spot.sets).map(|spot| Hint {
                offset: spot.span.end,
                text: format!("m. {}", mark.measure),
                about: About::Measures,
            }));
        }
        for item in fields
            .iter()
            .filter(|field| field.name() == Some("tonal center"))
            .flat_map(|field| field.items())
        {
            if let Some(Value::Key(center)) = item.value
                && let Some(key) = center.key()
                && let Some(text) = written(snapshot, entry, key)
            {
                found.push(Hint {
                    offset: item.core.end,
                    text,
                    about: About::Keys,
                });
            }
        }
    }
    found
}

/// What the clarinets and the alto saxes read, of those that the piece has or does not count up.
fn written(snapshot: &Snapshot, entry: &Entry, key: Key) -> Option<String> {
    let piece = entry.piece()?;
    let has = |name: &str| {
        piece.parts.is_empty()
            || piece.parts.iter().flat_map(|row| &row.names).any(|part| {
                let found = snapshot.instruments().find(&part.text).exact();
                found.is_some_and(|instrument| instrument.name == name)
            })
    };
    let read: Vec<String> = ["clarinet", "alto sax"]
        .into_iter()
        .filter(|name| has(name))
        .filter_map(|name| {
            let instrument = snapshot.instruments().find(name).exact()?;
            Some(format!("{name} {}", key.written(instrument.transposition)))
        })
        .collect();
    (!read.is_empty()).then(|| read.join(", "))
}
