//! The library in short, for a line above a card.

use crate::catalogue::{EntryId, Snapshot};
use crate::text::sentences::{counted, joined};

use super::{Set, shelf};

/// What wants doing about the set of a piece, and until when the piece rests; none where nothing does.
pub fn of_piece(snapshot: &Snapshot, piece: EntryId) -> Option<String> {
    let has_set = snapshot.entry(piece)?.piece()?.has_set() == Some(true);
    let found = shelf(snapshot, &[piece]);
    let set = found.sets.first()?;
    let mut said = Vec::new();
    if has_set {
        said.extend(amiss(set));
    }
    said.extend(
        set.rests_until(snapshot.today)
            .map(|day| format!("rests until {day}")),
    );
    (!said.is_empty()).then(|| said.join(", "))
}

/// What is not in order about a set, in a few words each.
fn amiss(set: &Set) -> Vec<String> {
    let mut said = Vec::new();
    if !set.missing.is_empty() {
        said.push(format!("missing {}", joined(&set.missing)));
    }
    let short = set.fewer.iter().map(|few| {
        let parts = counted(few.short() as usize, &format!("{} part", few.instrument));
        format!("{parts} short")
    });
    said.extend(short);
    if set.score == Some(false) {
        said.push("no score".to_owned());
    }
    if set.lent.iter().any(|lent| lent.over) {
        said.push("overdue".to_owned());
    } else if !set.lent.is_empty() {
        said.push("lent".to_owned());
    }
    said
}

/// How many sets of a concert's program are not in order; none where all are, or nothing is known of them.
pub fn of_concert(snapshot: &Snapshot, concert: EntryId) -> Option<String> {
    let card = snapshot.entry(concert)?.concert()?;
    let mut ids: Vec<EntryId> = card
        .program
        .iter()
        .filter_map(|listed| {
            let title = &listed.title.value;
            match snapshot.pieces_titled(&title.name, title.by.as_deref())[..] {
                [only] => Some(only),
                _ => None,
            }
        })
        .filter(|id| {
            let piece = snapshot.entry(*id).and_then(|entry| entry.piece());
            piece.is_some_and(|piece| piece.has_set() == Some(true))
        })
        .collect();
    ids.sort_unstable();
    ids.dedup();
    if ids.is_empty() {
        return None;
    }
    let sets = shelf(snapshot, &ids).sets;
    let lent = sets.iter().filter(|set| !set.lent.is_empty()).count();
    let gaps = sets
        .iter()
        .filter(|set| set.lent.is_empty() && !amiss(set).is_empty())
        .count();
    let mut said = Vec::new();
    for (count, words) in [(gaps, "with gaps"), (lent, "lent")] {
        if count > 0 {
            said.push(format!("{count} {words}"));
        }
    }
    (!said.is_empty()).then(|| format!("sets: {}", said.join(", ")))
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::catalogue::CardFile;
    use crate::notation::Kind;

    #[test]
    fn only_what_wants_doing_is_told() {
        let cards = "piece \"A\"\n  library\n    place shelf 2\n    copies 1 score, 4 flute\npiece \"B\"\n  performed 2026-05-12\n  library\n    copies 2 flute\n    missing tuba, 2 oboe\n    lent 2026-03-01 to the high school, due 2026-06-01\npiece \"C\"\n  wanted\n  library\n    price 60 USD\npiece \"D\"\n  library\n    missing tuba\nconcert \"Evening\"\n  on 2026-12-10\n  program\n    \"A\"\n    \"B\"\n    \"C\"\n    \"D\"\n";
        let file = Arc::new(CardFile::read("a.levare", cards));
        let snapshot = Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20));
        let of = |title: &str| of_piece(&snapshot, snapshot.pieces_titled(title, None)[0]);
        assert_eq!(of("A"), None);
        assert_eq!(
            of("B").as_deref(),
            Some("missing tuba and 2 oboe, no score, overdue, rests until 2028-05-13")
        );
        assert_eq!(of("C"), None);
        let concert = snapshot
            .names()
            .of(Kind::Concert, "Evening")
            .next()
            .expect("it is there");
        assert_eq!(
            of_concert(&snapshot, concert).as_deref(),
            Some("sets: 1 with gaps, 1 lent")
        );
    }
}
