//! What bands have learned by a concert.

use crate::catalogue::{EntryId, Snapshot};

use super::needs::rows;
use super::to_come;

/// Bands with skills that they have learned, each by its one name.
#[derive(Debug, Clone, Default)]
pub struct Learned(Vec<(EntryId, String)>);

impl Learned {
    /// Whether a band has learned a skill.
    pub fn has(&self, band: EntryId, skill: &str) -> bool {
        self.place(band, skill).is_ok()
    }

    /// A band learns a skill.
    pub fn add(&mut self, band: EntryId, skill: &str) {
        if let Err(at) = self.place(band, skill) {
            self.0.insert(at, (band, skill.to_owned()));
        }
    }

    fn place(&self, band: EntryId, skill: &str) -> Result<usize, usize> {
        self.0
            .binary_search_by(|(known, name)| known.cmp(&band).then_with(|| name.as_str().cmp(skill)))
    }
}

/// What bands have learned by a concert, because programs of concerts to come before it ask for it; `but` for some
/// concerts, of which that is not asked.
pub fn taught_before(snapshot: &Snapshot, concert: EntryId, but: &[EntryId]) -> Learned {
    let day_of = |id: EntryId| snapshot.entry(id)?.concert()?.day();
    let day = day_of(concert);
    let ladder = snapshot.ladder();
    let mut learned = Learned::default();
    let coming = to_come(snapshot).into_iter();
    for earlier in coming.filter(|id| day_of(*id) < day && !but.contains(id)) {
        for row in rows(snapshot, earlier).into_iter().filter_map(|(row, _)| row) {
            for said in row.subject.piece.asks.iter().filter(|said| said.is_certain()) {
                let skill = ladder.one_name(&said.value.name);
                row.bands.iter().for_each(|band| learned.add(*band, &skill));
            }
        }
    }
    learned
}
