//! A performance written onto the cards of its pieces: when, by whom, and what was learned from it.

use crate::catalogue::{EntryId, Snapshot};
use crate::notation::recopy::field_line;
use crate::notation::values::{Day, Performance, Played};
use crate::text::Edit;

use super::refactor::line_in_order;

/// What is recorded beside the day and the band.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Told {
    /// How long it took, what it was rated, how it went.
    pub said: Vec<Played>,
    /// What was learned, in the director's own words; empty for nothing.
    pub learned: String,
    /// Skills that the bands know now.
    pub taught: Vec<String>,
}

/// A piece of a concert with the bands that played it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PieceOf {
    /// The piece.
    pub id: EntryId,
    /// The bands, by name.
    pub bands: Vec<String>,
}

/// The pieces of a concert's program that have one card, each once.
pub fn played(snapshot: &Snapshot, concert: EntryId) -> Vec<PieceOf> {
    let Some(card) = snapshot.entry(concert).and_then(|entry| entry.concert()) else {
        return Vec::new();
    };
    let mut found: Vec<PieceOf> = Vec::new();
    for listed in &card.program {
        let title = &listed.title.value;
        let [id] = snapshot.pieces_titled(&title.name, title.by.as_deref())[..] else {
            continue;
        };
        let own: Vec<String> = match listed.bands.is_empty() {
            true => card.bands.iter().map(|said| said.value.name.clone()).collect(),
            false => listed.bands.clone(),
        };
        match found.iter_mut().find(|known| known.id == id) {
            Some(known) => known.bands.extend(own),
            None => found.push(PieceOf { id, bands: own }),
        }
    }
    found
}

/// The titles of a concert's program on which nothing can be recorded, since no card or more than one has them.
pub fn without_a_card(snapshot: &Snapshot, concert: EntryId) -> Vec<String> {
    let card = snapshot.entry(concert).and_then(|entry| entry.concert());
    let titles = card.into_iter().flat_map(|card| &card.program);
    titles
        .map(|listed| &listed.title.value)
        .filter(|title| snapshot.pieces_titled(&title.name, title.by.as_deref()).len() != 1)
        .map(|title| format!("\"{}\"", title.name))
        .collect()
}

/// Adds edits to those of a file, in the order of their places.
pub fn add(files: &mut Vec<(usize, Vec<Edit>)>, file: usize, edits: Vec<Edit>) {
    let edits = edits.into_iter();
    match files.iter_mut().find(|(known, _)| *known == file) {
        Some((_, all)) => all.extend(edits),
        None => files.push((file, edits.collect())),
    }
    if let Some((_, all)) = files.iter_mut().find(|(known, _)| *known == file) {
        all.sort_by_key(|edit| edit.span.start);
    }
}

/// The edits of each file, by its number, that record a performance; what stands on a card already is not written
/// again.
pub fn edits(
    snapshot: &Snapshot,
    concert: EntryId,
    pieces: &[PieceOf],
    told: &Told,
) -> Option<Vec<(usize, Vec<Edit>)>> {
    let day = snapshot.entry(concert)?.concert()?.on.as_ref()?.value.day;
    let mut files: Vec<(usize, Vec<Edit>)> = Vec::new();
    let mut bands: Vec<&String> = Vec::new();
    for piece in pieces {
        bands.extend(&piece.bands);
        if let Some(edit) = performance(snapshot, piece, day, &told.said) {
            add(&mut files, piece.id.file as usize, vec![edit]);
        }
        let entry = snapshot.entry(piece.id)?;
        if !told.learned.is_empty() && !entry.text.contains(&told.learned) {
            let line = field_line(2, "learned", &told.learned);
            let edit = line_in_order(snapshot, piece.id, "learned", &line)?;
            add(&mut files, piece.id.file as usize, vec![edit]);
        }
    }
    bands.sort_unstable();
    bands.dedup();
    for band in bands {
        let Some(id) = snapshot.ensemble_named(band) else {
            continue;
        };
        let card = snapshot.entry(id)?.ensemble()?;
        let ladder = snapshot.ladder();
        let known = |skill: &&String| {
            let taught = card.taught.iter().filter(|said| !said.value.not);
            taught
                .into_iter()
                .any(|said| ladder.one_name(&said.value.name) == ladder.one_name(skill))
        };
        let new: Vec<&str> = told
            .taught
            .iter()
            .filter(|skill| !known(skill))
            .map(String::as_str)
            .collect();
        if new.is_empty() {
            continue;
        }
        let all = if new.len() > 1 { ", all" } else { "" };
        let line = field_line(2, "taught", &format!("{}{all} by {day}", new.join(", ")));
        let edit = line_in_order(snapshot, id, "taught", &line)?;
        add(&mut files, id.file as usize, vec![edit]);
    }
    Some(files)
}

/// The edit that puts a performance on its card, or adds to one that stands there.
fn performance(snapshot: &Snapshot, piece: &PieceOf, day: Day, said: &[Played]) -> Option<Edit> {
    let entry = snapshot.entry(piece.id)?;
    let same = |performance: &Performance| {
        let same_day = performance.day == Some(day);
        let own = &performance.bands;
        same_day
            && (own.is_empty() || piece.bands.is_empty() || own.iter().any(|band| piece.bands.contains(band)))
    };
    let standing = entry.piece()?.performed.iter().find(|said| same(&said.value));
    if let Some(standing) = standing {
        let sort = std::mem::discriminant::<Played>;
        let missing = said
            .iter()
            .filter(|one| !standing.value.said.iter().any(|known| sort(known) == sort(one)));
        let words: String = missing.map(|one| format!(", {one}")).collect();
        let file = snapshot.file_of(piece.id)?;
        let end = file.in_file(piece.id.entry as usize, standing.span).end;
        return (!words.is_empty()).then(|| Edit::insert(end, words));
    }
    let value = Performance {
        day: Some(day),
        bands: piece.bands.clone(),
        said: said.to_vec(),
    };
    line_in_order(
        snapshot,
        piece.id,
        "performed",
        &field_line(2, "performed", &value.to_string()),
    )
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::catalogue::CardFile;
    use crate::notation::Kind;
    use crate::text::apply;

    const CARDS: &str = "concert \"Evening\"\n  on 2026-12-10\n  for \"Band\"\n  program\n    \"A\"\n    \"B\"\n    \"Lost\"\nensemble \"Band\"\n  taught ties\npiece \"A\"\n  style march\npiece \"B\"\n  performed 2026-12-10 \"Band\", went well\n  learned Less drum.\n";

    fn read(text: &str) -> Snapshot {
        let file = Arc::new(CardFile::read("a.levare", text));
        Snapshot::new(vec![file], jiff::civil::date(2026, 12, 11))
    }

    fn concert(snapshot: &Snapshot) -> EntryId {
        let found = snapshot.names().of(Kind::Concert, "Evening").next();
        found.expect("it is there")
    }

    fn recorded(told: &Told) -> String {
        let snapshot = read(CARDS);
        let concert = concert(&snapshot);
        let pieces = played(&snapshot, concert);
        assert_eq!(pieces.len(), 2);
        let files = edits(&snapshot, concert, &pieces, told).expect("edits");
        files.iter().fold(CARDS.to_owned(), |text, (_, edits)| {
            apply(&text, edits).expect("no two overlap")
        })
    }

    #[test]
    fn a_performance_is_written_once() {
        let plain = CARDS.replace(
            "style march\n",
            "style march\n  performed       2026-12-10 \"Band\"\n",
        );
        assert_eq!(recorded(&Told::default()), plain);
        let performance = Performance::read("2026-12-10, took 5 weeks, result I II").expect("it is read");
        let told = Told {
            said: performance.said,
            learned: "More clarinet.".to_owned(),
            taught: vec!["ties".to_owned(), "triplets".to_owned(), "6/8 in two".to_owned()],
        };
        let full = CARDS
            .replace(
                "style march\n",
                "style march\n  performed       2026-12-10 \"Band\", took 5 weeks, result I II\n  learned         More clarinet.\n",
            )
            .replace("went well\n", "went well, took 5 weeks, result I II\n")
            .replace("Less drum.\n", "Less drum.\n  learned         More clarinet.\n")
            .replace("  taught ties\n", "  taught ties\n  taught          triplets, 6/8 in two, all by 2026-12-10\n");
        assert_eq!(recorded(&told), full);
        // What is said of it already is not said twice.
        let snapshot = read(&full);
        let concert = concert(&snapshot);
        let again = edits(&snapshot, concert, &played(&snapshot, concert), &told);
        assert_eq!(again, Some(Vec::new()));
    }
}
