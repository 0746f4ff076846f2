//! What the director decided before anything is shared out: who is to play what, who is not, who plays nothing.
//!
//! The nearest word goes first: that of a part's own row, then the program's, the piece's, the concert's, the band's,
//! the handbook's.

use crate::catalogue::model::{Concert, Ensemble, Handbook, Piece, Plays, Said};
use crate::catalogue::names::key as title_key;
use crate::music::instruments::{key, split_part};
use crate::notation::values::{Bound, Pin};
use crate::text::sentences::joined;

use super::ask::Seat;
use super::part_told::PartTold;
use super::skill::{Players, instrument_of};

/// Where a word stands, the nearest to a part first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Whose {
    /// The part's own row.
    Row,
    /// The row of a program.
    Program,
    /// The piece's card.
    Piece,
    /// The concert's card.
    Concert,
    /// The band's card.
    Band,
    /// The handbook.
    Handbook,
}

impl Whose {
    /// `the piece's card`.
    pub fn words(self) -> &'static str {
        match self {
            Whose::Row => "its own row",
            Whose::Program => "the program",
            Whose::Piece => "the piece's card",
            Whose::Concert => "the concert's card",
            Whose::Band => "the band's card",
            Whose::Handbook => "the handbook",
        }
    }
}

/// All that is decided about a piece besides the rows of its parts, the nearest first.
#[derive(Debug, Clone, Default)]
pub struct Pins<'a>(Vec<(Whose, &'a Said<Pin>)>);

impl<'a> Pins<'a> {
    /// What these cards decide; a piece is found in a concert's program by its title.
    pub fn of(
        piece: (&str, &'a Piece),
        concert: Option<&'a Concert>,
        bands: &[&'a Ensemble],
        handbook: Option<&'a Handbook>,
    ) -> Pins<'a> {
        let title = title_key(piece.0);
        let mut all: Vec<(Whose, &'a Said<Pin>)> = Vec::new();
        let mut add = |whose, pins: &'a [Said<Pin>]| {
            let certain = pins.iter().filter(|said| said.is_certain());
            // What is said of other pieces does not count here.
            let here = certain.filter(|said| {
                let pieces = &said.value.pieces;
                pieces.is_empty() || pieces.iter().any(|one| title_key(one) == title)
            });
            all.extend(here.map(|said| (whose, said)));
        };
        if let Some(concert) = concert {
            let rows = concert.program.iter();
            for row in rows.filter(|row| title_key(&row.title.value.name) == title) {
                add(Whose::Program, &row.assigned);
            }
        }
        add(Whose::Piece, &piece.1.assigned);
        if let Some(concert) = concert {
            add(Whose::Concert, &concert.assigned);
        }
        for band in bands {
            add(Whose::Band, &band.assigned);
        }
        if let Some(handbook) = handbook {
            add(Whose::Handbook, &handbook.assigned);
        }
        Pins(all)
    }

    /// Whether nothing is decided.
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// Those who play nothing, among these seats, with whose word it is.
    pub(super) fn out(&self, seats: &[Seat]) -> Vec<(usize, Whose)> {
        let mut found: Vec<(usize, Whose)> = Vec::new();
        for (whose, said) in self
            .0
            .iter()
            .filter(|(_, said)| said.value.parts.is_empty() && said.value.not)
        {
            for at in places(&said.value.seats, seats) {
                if !found.iter().any(|(known, _)| *known == at) {
                    found.push((at, *whose));
                }
            }
        }
        found
    }

    /// Pairs of players, by seat, who are never at one instrument, and whose word that is.
    pub(super) fn apart(&self, seats: &[Seat]) -> Vec<((usize, usize), Whose)> {
        let mut found: Vec<((usize, usize), Whose)> = Vec::new();
        for (whose, said) in &self.0 {
            if said.value.bound != Some(Bound::Apart) {
                continue;
            }
            let who = places(&said.value.seats, seats);
            for (nth, &one) in who.iter().enumerate() {
                for &other in who.iter().skip(nth + 1) {
                    if one != other && !found.iter().any(|(pair, _)| *pair == (one, other)) {
                        found.push(((one, other), *whose));
                    }
                }
            }
        }
        found
    }

    /// The most parts that players may have here, by seat, and whose word that is.
    pub(super) fn most_parts(&self, seats: &[Seat]) -> Vec<(usize, u32, Whose)> {
        self.most(seats, |bound| match bound {
            Bound::Parts(most) => Some(most),
            _ => None,
        })
    }

    /// The most pieces of a concert that players may play in, by seat, and whose word that is.
    pub(super) fn most_pieces(&self, seats: &[Seat]) -> Vec<(usize, u32, Whose)> {
        self.most(seats, |bound| match bound {
            Bound::Pieces(most) => Some(most),
            _ => None,
        })
    }

    /// The nearest word about how much a player has.
    fn most(&self, seats: &[Seat], number: impl Fn(Bound) -> Option<u32>) -> Vec<(usize, u32, Whose)> {
        let mut found: Vec<(usize, u32, Whose)> = Vec::new();
        for (whose, said) in &self.0 {
            let Some(most) = said.value.bound.and_then(&number) else {
                continue;
            };
            for at in places(&said.value.seats, seats) {
                if !found.iter().any(|(known, ..)| *known == at) {
                    found.push((at, most, *whose));
                }
            }
        }
        found
    }

    /// What is decided about a part.
    pub(super) fn about(&self, part: &PartTold, seats: &[Seat], who: Players<'_>) -> Decided {
        let row = part.assigned.iter().filter(|said| said.is_certain());
        let row = row.map(|said| (Whose::Row, said));
        let others = self.0.iter().copied();
        let others =
            others.filter(|(_, said)| said.value.parts.iter().any(|words| is_meant(words, part, who)));
        let mut decided = Decided::default();
        for (whose, said) in row.chain(others) {
            let pin = &said.value;
            let there = places(&pin.seats, seats);
            if pin.not {
                // A nearer word that gives the part to somebody stands against a farther one that takes it away.
                let open = |at: &usize| !decided.only.as_ref().is_some_and(|(only, _)| only.contains(at));
                let new: Vec<usize> = there.into_iter().filter(open).collect();
                decided.never.extend(new.into_iter().map(|at| (at, whose)));
                continue;
            }
            if decided.only.is_some() {
                continue;
            }
            let never = |at: &usize| decided.never.iter().any(|(never, _)| never == at);
            let able: Vec<usize> = there.iter().copied().filter(|at| !never(at)).collect();
            let present: Vec<usize> = able
                .into_iter()
                .filter(|at| seats.get(*at).is_some_and(|seat| !seat.absent))
                .collect();
            match present.is_empty() {
                true => decided.not_there.push((pin.seats.clone(), whose)),
                false => decided.only = Some((present, whose)),
            }
        }
        decided
    }
}

/// What is decided about one part.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Decided {
    /// The only players who may have it, by seat, and whose word that is.
    pub only: Option<(Vec<usize>, Whose)>,
    /// The players who may not.
    pub never: Vec<(usize, Whose)>,
    /// Players who were to have it and are not there, or are not in the band.
    pub not_there: Vec<(Vec<String>, Whose)>,
}

impl Decided {
    /// Whether a player may have the part, as if another were missing; none where nothing is decided about it.
    pub(super) fn allows(&self, seat: usize, missing: Option<usize>) -> Option<bool> {
        let only = self.only.as_ref().map(|(only, _)| only);
        match only.filter(|only| only.iter().any(|at| Some(*at) != missing)) {
            Some(only) => Some(only.contains(&seat)),
            None => self
                .never
                .iter()
                .any(|(never, _)| *never == seat)
                .then_some(false),
        }
    }

    /// Whether nobody but this player is to have the part.
    pub(super) fn is_only_for(&self, seat: usize) -> bool {
        self.only
            .as_ref()
            .is_some_and(|(only, _)| only.as_slice() == [seat])
    }

    /// Whether somebody is not to have the part who might.
    pub(super) fn keeps_somebody_off(&self) -> bool {
        self.only.is_some() || !self.never.is_empty()
    }

    /// What is decided, in sentences about a part.
    pub(super) fn words(&self, part: &str, seats: &[Seat]) -> Vec<String> {
        let name = |at: &usize| seats.get(*at).map_or(String::new(), |seat| seat.name.clone());
        let mut said = Vec::new();
        for (gone, whose) in &self.not_there {
            let are = if gone.len() == 1 { "is" } else { "are" };
            said.push(format!(
                "{} {are} to have the {part} by {} and {are} not there, so others have it.",
                joined(gone),
                whose.words()
            ));
        }
        if let Some((only, whose)) = &self.only {
            let names: Vec<String> = only.iter().map(name).collect();
            let are = if names.len() == 1 { "is" } else { "are" };
            said.push(format!(
                "{} {are} to have the {part} by {}.",
                joined(&names),
                whose.words()
            ));
        } else {
            for (at, whose) in &self.never {
                said.push(format!(
                    "{} is not to have the {part} by {}.",
                    name(at),
                    whose.words()
                ));
            }
        }
        said
    }
}

/// The places of seats by their names.
fn places(names: &[String], seats: &[Seat]) -> Vec<usize> {
    let wanted: Vec<String> = names.iter().map(|name| key(name)).collect();
    let there = seats.iter().enumerate();
    there
        .filter(|(_, seat)| wanted.contains(&key(&seat.name)))
        .map(|(at, _)| at)
        .collect()
}

/// Whether words such as `snare`, `snare 2` or `mallets` mean a part.
fn is_meant(words: &str, part: &PartTold, who: Players<'_>) -> bool {
    part.names().iter().any(|name| {
        if key(words) == key(name) {
            return true;
        }
        let (_, wanted) = split_part(words);
        let (_, number) = split_part(name);
        let plays = Plays {
            plays: vec![words.to_owned()],
            ..Plays::default()
        };
        (wanted.is_none() || wanted == number)
            && instrument_of(who.instruments, name).is_some()
            && who.can_play(&plays, name)
    })
}
