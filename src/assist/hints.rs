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

/// A fact shown at the end of a line, where it pushes nothing out of its column.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hint {
    /// The byte of the file that it stands behind: the end of a line's words.
    pub offset: u32,
    /// The end of the word that it follows from, in bytes of the file.
    pub word: u32,
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
        let here = here.into_iter().filter(|fact| shown(fact.about)).collect();
        found.extend(at_line_ends(&entry.text, here).into_iter().map(|hint| Hint {
            offset: cards.in_file(index, Span::at(hint.offset)).start,
            word: cards.in_file(index, Span::at(hint.word)).start,
            ..hint
        }));
    }
    found.retain(|hint| within.touches(hint.offset));
    found.sort_by_key(|hint| hint.offset);
    found
}

/// A fact that follows from a word.
struct Found {
    /// The word, in bytes from the start of the card.
    word: Span,
    text: String,
    /// Whether the word leads even where nothing else on its line has a fact.
    named: bool,
    about: About,
}

/// One hint a line. Several facts of a line each begin with the word that they follow from.
fn at_line_ends(text: &str, mut facts: Vec<Found>) -> Vec<Hint> {
    facts.sort_by_key(|fact| fact.word.start);
    let end_of = |word: Span| {
        let rest = text.get(word.end as usize..).unwrap_or("");
        let line = rest.split(['\n', '\r']).next().unwrap_or("");
        word.end.saturating_add(Span::whole(line.trim_end()).end)
    };
    let mut hints: Vec<Hint> = Vec::new();
    for (number, fact) in facts.iter().enumerate() {
        let offset = end_of(fact.word);
        let others = facts.iter().enumerate();
        let alone = !others
            .filter(|(other, _)| *other != number)
            .any(|(_, other)| end_of(other.word) == offset);
        let words = match alone && !fact.named {
            true => fact.text.clone(),
            false => format!("{} {}", fact.word.slice(text), fact.text),
        };
        match hints.last_mut().filter(|hint| hint.offset == offset) {
            Some(hint) if hint.text.split("; ").any(|told| told == words) => {}
            Some(hint) => hint.text.push_str(&format!("; {words}")),
            None => hints.push(Hint {
                offset,
                word: fact.word.end,
                text: words,
                about: fact.about,
            }),
        }
    }
    hints
}

fn players(snapshot: &Snapshot, file: usize, index: usize) -> Vec<Found> {
    let (Ok(file), Ok(entry)) = (u32::try_from(file), u32::try_from(index)) else {
        return Vec::new();
    };
    let Some(shared) = Shared::of_piece(snapshot, EntryId { file, entry }) else {
        return Vec::new();
    };
    shared
        .rows()
        .into_iter()
        .map(|beside| Found {
            word: beside.span,
            text: beside.who,
            named: false,
            about: About::Players,
        })
        .collect()
}

fn of_program(snapshot: &Snapshot, entry: &Entry) -> Vec<Found> {
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
            Some(Found {
                word: listed.title.span,
                text: format!("{} so far", Clock(end?)),
                named: false,
                about: About::Lengths,
            })
        })
        .collect()
}

fn of_piece(snapshot: &Snapshot, entry: &Entry) -> Vec<Found> {
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
            found.extend(used.into_iter().filter(|spot| !spot.sets).map(|spot| Found {
                word: spot.span,
                text: format!("is m. {}", mark.measure),
                named: true,
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
                found.push(Found {
                    word: item.core,
                    text,
                    named: false,
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
            || snapshot.part_names(piece).any(|part| {
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
