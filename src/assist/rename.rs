//! Giving a card or a mark another name, wherever that name stands.

use std::collections::BTreeMap;

use crate::catalogue::{Entry, EntryId, Wants, names};
use crate::notation::Kind;
use crate::text::sentences::article;
use crate::text::{Edit, Span};

use super::spots::{self, Spot, Thing};
use super::{Place, marks};

/// What can be renamed at a place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Renamable {
    /// The name under the cursor, in bytes of the file.
    pub span: Span,
    /// The name as it is now.
    pub name: String,
}

/// The cards that change, each with its edits in bytes of the card.
pub type Edits = Vec<(EntryId, Vec<Edit>)>;

/// What is at the place to be renamed; none where there is no name.
///
/// # Errors
/// Why the name there cannot be changed, in words for the director.
pub fn prepare(place: &Place<'_>) -> Result<Option<Renamable>, String> {
    let Some((thing, span)) = spots::thing(place) else {
        return Ok(None);
    };
    may(place, &thing)?;
    Ok(Some(Renamable {
        span: place.in_file(span),
        name: span.slice(place.text()).to_owned(),
    }))
}

/// The edits that give what is at the place a new name: the files that change, by their numbers, each with its
/// edits in bytes of the file; none where there is no name.
///
/// # Errors
/// Why it cannot be renamed so, in words for the director.
pub fn in_files(place: &Place<'_>, new: &str) -> Result<Option<BTreeMap<usize, Vec<Edit>>>, String> {
    let Some(cards) = edits(place, new)? else {
        return Ok(None);
    };
    let mut files: BTreeMap<usize, Vec<Edit>> = BTreeMap::new();
    for (id, edits) in cards {
        let Some(file) = place.snapshot.file_of(id) else {
            continue;
        };
        let made = files.entry(id.file as usize).or_default();
        for edit in edits {
            made.push(Edit::replace(
                file.in_file(id.entry as usize, edit.span),
                edit.text,
            ));
        }
    }
    Ok(Some(files))
}

/// The edits that give what is at the place a new name: the cards that change, each with its edits in bytes of
/// the card; none where there is no name.
///
/// # Errors
/// Why it cannot be renamed so, in words for the director.
pub fn edits(place: &Place<'_>, new: &str) -> Result<Option<Edits>, String> {
    let Some((thing, _)) = spots::thing(place) else {
        return Ok(None);
    };
    may(place, &thing)?;
    let new = new.split_whitespace().collect::<Vec<_>>().join(" ");
    let new = strip_quotes(&new);
    if new.is_empty() {
        return Err("A name needs at least one letter.".to_owned());
    }
    if new.contains(crate::notation::scan::is_quote) {
        return Err(
            "A name cannot hold a quotation mark, because quotation marks show where a name begins and ends."
                .to_owned(),
        );
    }
    collides(place, &thing, new)?;
    let found = spots::of(place, &thing);
    let mut cards: Edits = Vec::new();
    for spot in &found {
        let edit = Edit::replace(spot.target.span, new.to_owned());
        match cards.last_mut() {
            Some((id, edits)) if *id == spot.target.id => edits.push(edit),
            _ => cards.push((spot.target.id, vec![edit])),
        }
    }
    still_read(place, &thing, new, &cards, &found)?;
    Ok(Some(cards))
}

/// A name typed with its quotation marks is meant without them.
fn strip_quotes(new: &str) -> &str {
    let mut inner = new.chars();
    match (inner.next(), inner.next_back()) {
        (Some(first), Some(last))
            if crate::notation::scan::is_quote(first) && crate::notation::scan::is_quote(last) =>
        {
            inner.as_str().trim()
        }
        _ => new,
    }
}

fn may(place: &Place<'_>, thing: &Thing) -> Result<(), String> {
    match thing {
        Thing::Card(_) | Thing::Mark(_) => Ok(()),
        Thing::Several(_) => Err(
            "Several cards have this name, so it is not clear which one you mean. Rename it on the card itself."
                .to_owned(),
        ),
        Thing::Missing(Wants::Skill, name) if crate::music::skills::find(name).is_some() => Err(format!(
            "\"{name}\" is a word of the trade that Levare knows, not a name of yours. To call it something else, \
             write a skill card with your own name."
        )),
        Thing::Missing(..) => Ok(()),
        Thing::Part(_) => {
            let name = place.row().map_or_else(String::new, |row| {
                row.row
                    .names
                    .iter()
                    .map(|name| name.one_form())
                    .collect::<Vec<_>>()
                    .join(", ")
            });
            Err(format!(
                "{name} is named after its instrument, which has no card of its own here, so there is nothing to \
                 rename. Write the part's other name on its line."
            ))
        }
    }
}

/// Refuses a name that something else bears already.
fn collides(place: &Place<'_>, thing: &Thing, new: &str) -> Result<(), String> {
    let snapshot = place.snapshot;
    match thing {
        Thing::Card(id) => {
            let Some(kind) = snapshot.entry(*id).and_then(|entry| entry.kind) else {
                return Ok(());
            };
            if snapshot.names().of(kind, new).any(|other| other != *id) {
                return Err(format!(
                    "There is already {} {kind} named \"{new}\". With one name for two cards, nobody could tell \
                     which is meant; choose another.",
                    article(kind.word())
                ));
            }
            if kind == Kind::Instrument
                && let Some(known) = snapshot.instruments().find(new).exact()
                && snapshot.names().of(kind, &known.name).next() != Some(*id)
            {
                return Err(format!(
                    "\"{new}\" already means the {}. Choose a name that no other instrument has.",
                    known.name
                ));
            }
            Ok(())
        }
        Thing::Missing(wants, old) => {
            let taken = snapshot.entries().any(|(_, entry)| {
                entry.kind.is_some_and(|kind| wants.takes(kind)) && names::key(&entry.name) == names::key(new)
            });
            if taken && names::key(old) != names::key(new) {
                return Err(format!(
                    "There is already a card named \"{new}\", and \"{old}\" would become one with it. If that is \
                     what you want, change it line by line."
                ));
            }
            Ok(())
        }
        Thing::Mark(old) => {
            let found = marks::names(&place.reading.fields);
            let taken = found
                .iter()
                .any(|mark| mark.eq_ignore_ascii_case(new) && !mark.eq_ignore_ascii_case(old));
            if taken {
                return Err(format!(
                    "The piece already has a mark {new}. Two places with one mark would send players to both; \
                     choose another."
                ));
            }
            Ok(())
        }
        Thing::Several(_) | Thing::Part(_) => Ok(()),
    }
}

/// Makes the edits on a copy and reads it: each place must still be read as the same kind of name.
fn still_read(
    place: &Place<'_>,
    thing: &Thing,
    new: &str,
    cards: &[(EntryId, Vec<Edit>)],
    found: &[Spot],
) -> Result<(), String> {
    let key = names::key(new);
    for (id, edits) in cards {
        let Some(before) = place.snapshot.entry(*id) else {
            continue;
        };
        let after = Entry::read(made(&before.text, edits).into());
        let reading = after.reading();
        let well = match thing {
            Thing::Mark(_) => {
                let all = marks::names(&reading.fields);
                let rows = reading.fields.iter().flat_map(|field| field.rows());
                let mut inner = rows.flat_map(|row| marks::names(&row.fields));
                all.iter().any(|mark| mark == new) || inner.any(|mark| mark == new)
            }
            _ => {
                let counted = |entry: &Entry, key: &str| {
                    entry
                        .uses
                        .iter()
                        .filter(|used| names::key(&used.name) == key)
                        .count()
                };
                let head = found.iter().any(|spot| spot.target.id == *id && spot.gives);
                let head_reads = !head || (after.name == new && after.kind == before.kind);
                let touched = before
                    .uses
                    .iter()
                    .filter(|used| edits.iter().any(|edit| used.span.encloses(edit.span)))
                    .count();
                head_reads && before.uses.len() == after.uses.len() && counted(&after, &key) >= touched
            }
        };
        if !well {
            return Err(format!(
                "\"{new}\" has a comma, or a word with a meaning of its own, so it could not be read where the \
                 name is on a line with others. Choose a name without it."
            ));
        }
    }
    Ok(())
}

/// The text with the edits made.
fn made(text: &str, edits: &[Edit]) -> String {
    let mut sorted: Vec<&Edit> = edits.iter().collect();
    sorted.sort_by_key(|edit| edit.span);
    let mut out = String::with_capacity(text.len());
    let mut at = 0u32;
    for edit in sorted {
        out.push_str(Span::new(at, edit.span.start.max(at)).slice(text));
        out.push_str(&edit.text);
        at = at.max(edit.span.end);
    }
    out.push_str(Span::new(at, Span::whole(text).end.max(at)).slice(text));
    out
}
