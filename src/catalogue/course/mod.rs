//! A piece's course: what is in force at each of its measures, the order they sound in, and how long they last.

mod length;
mod line;
mod road;

use std::cell::OnceCell;

use crate::catalogue::model::{Movement, Piece, Stage, Unread};
use crate::music::roadmap::RoadProblem;
use crate::music::{Center, Meter, SignatureSaid, Tempo};
use crate::notation::values::TempoSaid;

pub use length::{Length, Part};
pub use line::{Leg, Line, is_certain};
pub use road::{JumpSaid, MOST_PRINTED, Road, has_place};

/// The course of a piece, or of one of its movements.
#[derive(Debug, Clone)]
pub struct Course<'p> {
    /// What is said of it.
    pub piece: &'p Piece,
    /// The movement, where it is one.
    pub movement: Option<&'p Movement>,
    /// How many measures are printed.
    pub total: Option<u32>,
    /// The concert keys it is heard in.
    pub centers: Line<'p, Center>,
    /// The concert key signatures.
    pub signatures: Line<'p, SignatureSaid>,
    /// The meters.
    pub meters: Line<'p, Meter>,
    /// The tempos.
    pub tempos: Line<'p, TempoSaid>,
    /// The roadmap.
    pub road: Road,
    /// The order, once somebody has asked.
    order: OnceCell<Result<Vec<u32>, Missing>>,
    /// The length, once somebody has asked.
    lasts: OnceCell<Result<Length, Missing>>,
}

/// What keeps a length or an order from being worked out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Missing {
    /// How many measures there are.
    Measures,
    /// The meter of some measures.
    Meter,
    /// The tempo of some measures.
    Tempo,
    /// Figures for tempos that are only told in words.
    Figures,
    /// The measure of a change.
    Place,
    /// The answer to an open question.
    Answer,
    /// A step of the road.
    Road,
    /// How often an open repeat is played.
    OpenRepeat,
    /// The roadmap breaks off.
    Broken(RoadProblem),
}

impl Missing {
    /// What is missing, to stand behind "not known:".
    pub fn words(&self) -> &'static str {
        match self {
            Missing::Measures => "how many measures there are",
            Missing::Meter => "the meter of some measures",
            Missing::Tempo => "the tempo of some measures",
            Missing::Figures => "figures for the tempos told in words",
            Missing::Place => "the measure of a change",
            Missing::Answer => "the answer to an open question",
            Missing::Road => "a step of the roadmap",
            Missing::OpenRepeat => "how often an open repeat is played",
            Missing::Broken(_) => "the way after a jump",
        }
    }
}

impl<'p> Course<'p> {
    /// The course of a piece whose facts stand outside movements.
    pub fn of(piece: &'p Piece) -> Course<'p> {
        let total = piece.measures.as_ref().map(|measures| measures.value);
        let end = total.unwrap_or(u32::MAX);
        // What was not understood, or cannot be, may hold at any measure.
        fn line<'p, T>(piece: &Piece, field: &str, line: Line<'p, T>) -> Line<'p, T> {
            let lost = |unread: &Unread| unread.wholly && unread.field == field;
            match piece.unread.iter().any(lost) {
                true => line.unknown(),
                false => line,
            }
        }
        let line_of_tempos = Line::of(piece, &piece.tempos, end, TempoSaid::describes);
        let absurd = |stage: &Stage<TempoSaid>| {
            let tempo = stage.said.value.tempo.as_ref();
            tempo.is_some_and(Tempo::is_out_of_reach)
        };
        let tempos = match piece.tempos.iter().any(absurd) {
            true => line_of_tempos.unknown(),
            false => line(piece, "tempo", line_of_tempos),
        };
        Course {
            piece,
            movement: None,
            total,
            centers: line(
                piece,
                "tonal center",
                Line::of(piece, &piece.centers, end, |_| false),
            ),
            signatures: line(
                piece,
                "key signature",
                Line::of(piece, &piece.signatures, end, |_| false),
            ),
            meters: line(piece, "meter", Line::of(piece, &piece.meters, end, |_| false)),
            tempos,
            road: Road::of(piece),
            order: OnceCell::new(),
            lasts: OnceCell::new(),
        }
    }

    /// The piece's own course, then those of its movements.
    pub fn all(piece: &'p Piece) -> Vec<Course<'p>> {
        let movements = piece.movements.iter().map(|movement| Course {
            movement: Some(movement),
            ..Course::of(&movement.piece)
        });
        std::iter::once(Course::of(piece)).chain(movements).collect()
    }

    /// The same course where so many measures are printed.
    pub fn of_measures(&self, total: u32) -> Course<'p> {
        Course {
            total: Some(total),
            order: OnceCell::new(),
            lasts: OnceCell::new(),
            ..self.clone()
        }
    }

    /// The order in which the measures sound, walked once.
    ///
    /// # Errors
    /// What is missing or keeps the order from being certain.
    pub fn order(&self) -> Result<&[u32], Missing> {
        let order = self.order.get_or_init(|| self.walked());
        order.as_deref().map_err(Clone::clone)
    }

    fn walked(&self) -> Result<Vec<u32>, Missing> {
        let total = self.total.ok_or(Missing::Measures)?;
        if self.road.open {
            return Err(Missing::OpenRepeat);
        }
        if !self.road.known {
            return Err(Missing::Road);
        }
        self.road.order(total).map_err(Missing::Broken)
    }

    /// A place for a finding: the movement's name before the words, where it is one.
    pub fn place(&self, words: &str) -> String {
        match self.movement {
            None => words.to_owned(),
            Some(movement) => format!("movement {}, {words}", movement.number),
        }
    }
}

#[cfg(test)]
mod tests;
