//! What may cover a part that nobody has, and what players without a part could play.

use crate::catalogue::sections::same_chair;
use crate::music::instruments::key;
use crate::music::substitutes::SUBSTITUTES;
use crate::music::{Instrument, Interval, PitchRange};
use crate::notation::row::Relation;

use super::parts::{SAME_LINE, Written, named_in};
use super::reach::Reach;
use super::told::{Cover, Fits, Part, Players};

/// All that covers are looked for in.
pub struct Covers<'a, 'p> {
    /// The parts as written.
    pub written: &'a [Written<'p>],
    /// Alternatives to parts.
    pub instead: &'a [Written<'p>],
    /// The parts, filled.
    pub parts: &'a [Part],
    /// The players.
    pub players: &'a [Players],
    /// What they reach.
    pub reach: Reach<'a>,
}

impl Covers<'_, '_> {
    /// What may cover a part, the best first.
    pub fn of(&self, at: usize) -> Vec<Cover> {
        let (Some(written), Some(part)) = (self.written.get(at), self.parts.get(at)) else {
            return Vec::new();
        };
        let mut covers = Vec::new();
        for (relation, target, _) in written.targets(&SAME_LINE) {
            for (name, players) in self.played(target, at) {
                push(
                    &mut covers,
                    Cover::SameLine {
                        part: name,
                        how: relation.words(),
                        players,
                    },
                );
            }
        }
        for (other, told) in self.written.iter().zip(self.parts) {
            let of_this = |(_, target, _): &(Relation, &str, Option<String>)| self.means(target, written);
            if let Some((relation, ..)) = other.targets(&SAME_LINE).find(of_this)
                && told.players() > 0
            {
                let (part, players) = (told.name.clone(), told.players());
                push(
                    &mut covers,
                    Cover::SameLine {
                        part,
                        how: relation.words(),
                        players,
                    },
                );
            }
        }
        for (_, target, place) in written.targets(&[Relation::CuedIn]) {
            for (name, players) in self.played(target, at) {
                push(
                    &mut covers,
                    Cover::Cue {
                        part: name,
                        players,
                        place: place.clone(),
                    },
                );
            }
        }
        for other in self.instead {
            if other
                .targets(&[Relation::InsteadOf])
                .any(|(_, target, _)| self.means(target, written))
                && other.instruments.iter().any(|one| self.count(one) > 0)
            {
                push(
                    &mut covers,
                    Cover::Instead {
                        part: other.name.clone(),
                    },
                );
            }
        }
        for instrument in &written.also_for {
            let players = self.count(instrument);
            if players > 0 {
                push(
                    &mut covers,
                    Cover::Allowed {
                        instrument: instrument.clone(),
                        players,
                        could: 0,
                    },
                );
            }
        }
        // Who has the line already needs no part rewritten; cues are only the exposed measures.
        let named: Vec<&Part> = covers
            .iter()
            .filter_map(|cover| match cover {
                Cover::SameLine { part, .. } => Some(part),
                _ => None,
            })
            .filter_map(|name| self.parts.iter().find(|part| part.name == *name))
            .collect();
        let mut usual = self.usual(part);
        usual.retain(|cover| match cover {
            Cover::Usual { instrument, .. } => {
                !named.iter().any(|part| part.instruments.contains(instrument))
            }
            _ => true,
        });
        usual.sort_by_key(|cover| match cover {
            Cover::Usual {
                fits: Fits::No(..), ..
            } => 2,
            Cover::Usual {
                fits: Fits::Octaves(..),
                ..
            } => 1,
            _ => 0,
        });
        covers.extend(usual);
        covers
    }

    /// The parts with players that words name, and how many play each.
    fn played(&self, target: &str, not: usize) -> Vec<(String, usize)> {
        let parts = self.written.iter().zip(self.parts).enumerate();
        parts
            .filter(|(at, (written, told))| *at != not && told.players() > 0 && self.means(target, written))
            .map(|(_, (_, told))| (told.name.clone(), told.players()))
            .collect()
    }

    /// Whether words name this part: `flute 1`, `flute` for both flutes, `flute and oboe`.
    fn means(&self, words: &str, written: &Written<'_>) -> bool {
        let pieces = words.split(',').flat_map(|piece| piece.split(" and "));
        let by_name = pieces.into_iter().any(|piece| {
            let piece = piece.trim();
            let piece = piece.strip_prefix("the ").unwrap_or(piece);
            key(piece) == key(&written.name) || key(piece) == key(&written.own)
        });
        // `tuba` may stand on the card as another word for the same instrument.
        let numbered = words.chars().any(|c| c.is_ascii_digit());
        by_name
            || (!numbered
                && !written.is_flexible()
                && named_in(words, self.reach.instruments)
                    .iter()
                    .any(|one| written.instruments.contains(one)))
    }

    /// How many players of an instrument there are.
    fn count(&self, instrument: &str) -> usize {
        let of_it = self.players.iter().filter(|players| {
            same_chair(&players.instrument, instrument)
                || players
                    .switch_to
                    .iter()
                    .any(|other| same_chair(other, instrument))
        });
        of_it.map(|players| players.count).sum()
    }

    fn usual(&self, part: &Part) -> Vec<Cover> {
        let instruments = self.reach.instruments;
        let [missing] = part.instruments.as_slice() else {
            return Vec::new();
        };
        let Some(missing) = instruments.find(missing).exact() else {
            return Vec::new();
        };
        let usual = SUBSTITUTES.iter().filter(|usual| missing.name == usual.missing);
        usual
            .filter_map(|usual| {
                let cover = instruments.find(usual.cover).exact()?;
                let players = self.count(&cover.name);
                let rewrite = rewrite(missing, cover);
                (players > 0).then(|| Cover::Usual {
                    instrument: cover.name.to_string(),
                    players,
                    could: 0,
                    rewrite,
                    clef: (missing.clef != cover.clef).then(|| cover.clef.name()),
                    fits: self.fits(part.range, rewrite, cover),
                    source: usual.source,
                })
            })
            .collect()
    }

    fn fits(&self, range: Option<PitchRange>, rewrite: Interval, cover: &Instrument) -> Fits {
        let (Some(range), Some(limit)) = (range, self.reach.limit(cover)) else {
            return Fits::NotKnown;
        };
        let Some(plain) = range.transposed(rewrite) else {
            return Fits::NotKnown;
        };
        if limit.range.holds_all(plain) {
            return Fits::Yes(limit);
        }
        for octaves in [-1, 1] {
            let moved = plain.transposed(Interval::new(7 * octaves, 12 * octaves));
            if moved.is_some_and(|moved| limit.range.holds_all(moved)) {
                return Fits::Octaves(octaves, limit);
            }
        }
        Fits::No(plain, limit)
    }

    /// The parts that players of an instrument usually cover, with what to add to the written notes.
    pub fn could(&self, instrument: &str) -> Vec<(usize, Interval)> {
        let instruments = self.reach.instruments;
        let Some(own) = instruments.find(instrument).exact() else {
            return Vec::new();
        };
        let mut found = Vec::new();
        for (at, part) in self.parts.iter().enumerate() {
            let [of] = part.instruments.as_slice() else {
                continue;
            };
            let usual = SUBSTITUTES
                .iter()
                .any(|usual| of.as_str() == usual.missing && own.name == usual.cover);
            if let Some(of) = instruments.find(of).exact().filter(|_| usual) {
                found.push((at, rewrite(of, own)));
            }
        }
        found
    }
}

fn push(covers: &mut Vec<Cover>, cover: Cover) {
    let names = |cover: &Cover| match cover {
        Cover::SameLine { part, .. } => Some((0, part.clone())),
        Cover::Cue { part, .. } => Some((1, part.clone())),
        Cover::Instead { part } => Some((2, part.clone())),
        Cover::Allowed { instrument, .. } => Some((3, instrument.clone())),
        Cover::Usual { .. } => None,
    };
    if !covers
        .iter()
        .any(|known| names(known).is_some() && names(known) == names(&cover))
    {
        covers.push(cover);
    }
}

/// What to add to one instrument's written note to get another's for the same sound.
pub fn rewrite(from: &Instrument, to: &Instrument) -> Interval {
    from.transposition
        .interval()
        .plus(to.transposition.interval().reversed())
}
