//! What conditions are asked about: a piece, or some of its movements.

use crate::catalogue::model::{Piece, Stage};
use crate::catalogue::{Entry, EntryId};
use crate::music::{Center, Key, Meter, Signature, SignatureSaid};

/// A piece with its card.
#[derive(Debug, Clone, Copy)]
pub struct Subject<'s> {
    /// Where the card stands.
    pub id: EntryId,
    /// The card.
    pub entry: &'s Entry,
    /// What it says.
    pub piece: &'s Piece,
    /// The movements that are played; empty for all.
    pub movements: &'s [u32],
}

/// Values that change on the way, as far as they are known.
#[derive(Debug, Clone, PartialEq)]
pub struct Values<T> {
    /// The certain ones, in the order of the card.
    pub certain: Vec<T>,
    /// Whether these are surely all there are.
    pub complete: bool,
}

impl<'s> Subject<'s> {
    /// A piece, if the card is one.
    pub fn of(id: EntryId, entry: &'s Entry) -> Option<Subject<'s>> {
        Some(Subject {
            id,
            entry,
            piece: entry.piece()?,
            movements: &[],
        })
    }

    /// Whether all of the piece is played.
    pub fn is_whole(&self) -> bool {
        self.movements.is_empty()
    }

    /// The piece's own lines, then those of its movements; only the movements' where just some are played.
    pub fn bodies(&self) -> Vec<&'s Piece> {
        let movements = self
            .piece
            .movements
            .iter()
            .filter(|movement| self.is_whole() || self.movements.contains(&movement.number))
            .map(|movement| &movement.piece);
        let own = self.is_whole().then_some(self.piece);
        own.into_iter().chain(movements).collect()
    }

    /// The keys it is heard in. What surely is no key leaves the others complete; what is unclear does not.
    pub fn keys(&self) -> Values<Key> {
        let all = self.values(|piece| &piece.centers);
        let known = all
            .certain
            .iter()
            .all(|center| center.key().is_some() || center.is_no_key());
        Values {
            complete: all.complete && known,
            certain: all.certain.into_iter().filter_map(Center::key).collect(),
        }
    }

    /// The key signatures. Parts in an open key show none, and tell nothing of the others.
    pub fn signatures(&self) -> Values<Signature> {
        let all = self.values(|piece| &piece.signatures);
        let known = all.certain.iter().all(|said| said.signs().is_some());
        Values {
            complete: all.complete && known,
            certain: all.certain.into_iter().filter_map(SignatureSaid::signs).collect(),
        }
    }

    /// The meters; `mixed` says that there are others.
    pub fn meters(&self) -> Values<Meter> {
        let mut all = self.values(|piece| &piece.meters);
        let before = all.certain.len();
        all.certain
            .retain(|meter| !matches!(meter, Meter::Mixed | Meter::In(_)));
        all.complete &= all.certain.len() == before;
        all
    }

    /// A value that changes on the way. It is complete where the piece's own lines tell it, or each of the
    /// movements that are played, and nothing about it is open or near enough.
    pub fn values<T: Clone + 's>(&self, stages: impl Fn(&'s Piece) -> &'s [Stage<T>]) -> Values<T> {
        let mut certain = Vec::new();
        let mut complete = true;
        let mut silent = 0usize;
        let bodies = self.bodies();
        let own_tells = self.is_whole() && !stages(self.piece).is_empty();
        for body in &bodies {
            let all = stages(body);
            silent += usize::from(all.is_empty());
            for stage in all {
                match stage.said.is_certain() {
                    true => certain.push(stage.said.value.clone()),
                    false => complete = false,
                }
            }
        }
        // The piece's own lines may be silent where every movement speaks.
        let allowed = match (self.is_whole(), self.piece.movements.is_empty()) {
            (true, false) if own_tells => bodies.len(),
            (true, false) => 1,
            _ => 0,
        };
        Values {
            complete: complete && !certain.is_empty() && silent <= allowed,
            certain,
        }
    }
}
