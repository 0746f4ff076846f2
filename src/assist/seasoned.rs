//! The programs of all coming concerts, chosen together and written onto their cards.

use crate::catalogue::{EntryId, Snapshot};
use crate::planning::choose::season::{Others, SeasonWish, season};
use crate::planning::choose::{Wish, bands_of};
use crate::planning::teach::to_come;
use crate::text::Edit;

use super::{programmed, recorded};

/// Steps for each concert while somebody waits.
const STEPS: u64 = 100_000;
/// More concerts are no season.
const MOST: usize = 12;

/// The coming concerts that are chosen together: those that have a band, and say what they want or how long they may
/// be. None where there are fewer than two.
pub fn concerts(snapshot: &Snapshot) -> Option<Vec<EntryId>> {
    let asks = |id: &EntryId| {
        let concert = snapshot.entry(*id).and_then(|entry| entry.concert());
        concert.is_some_and(|concert| concert.length.is_some() || !concert.calls_for.is_empty())
            && !bands_of(snapshot, *id).is_empty()
    };
    let found: Vec<EntryId> = to_come(snapshot).into_iter().filter(asks).collect();
    (2..=MOST).contains(&found.len()).then_some(found)
}

/// The edits of each file, by its number; none where no programs were found, or all of them are there already.
pub fn edits(snapshot: &Snapshot) -> Option<Vec<(usize, Vec<Edit>)>> {
    let concerts = concerts(snapshot)?;
    let bands: Vec<Vec<EntryId>> = concerts.iter().map(|id| bands_of(snapshot, *id)).collect();
    let wishes: Vec<Wish<'_>> = concerts
        .iter()
        .zip(&bands)
        .map(|(id, bands)| Wish {
            concert: Some(*id),
            steps: Some(STEPS),
            ..Wish::usual(bands)
        })
        .collect();
    let Others::Programs { evenings, .. } = season(snapshot, &wishes, &SeasonWish::default()).others else {
        return None;
    };
    let mut files: Vec<(usize, Vec<Edit>)> = Vec::new();
    for evening in &evenings {
        let pieces = programmed::played(&evening.program);
        let edits = programmed::edit(snapshot, evening.concert, &pieces).ok()?;
        if !edits.is_empty() {
            recorded::add(&mut files, evening.concert.file as usize, edits);
        }
    }
    (!files.is_empty()).then_some(files)
}
