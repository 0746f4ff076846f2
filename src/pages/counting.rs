//! A piece as its percussionists count it: a line a player, with rests of several measures, measure numbers
//! where something begins, the instrument at each change, and the walks with the measures and seconds there
//! are. It breaks into systems and reads like a part.
//!
//! [`sheets`] lays a [`Counting`] out, [`html`] writes it.

mod counted;
mod draw;
mod fill;
mod layout;
mod signs;
mod spacing;

#[cfg(test)]
mod tests;

pub use fill::{of_concert, of_piece};
pub use layout::{Laid, Place, sheets};

use super::paper::{self, Paper};

/// All that the page says.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Counting {
    /// The piece's title.
    pub title: String,
    /// A line beside the title: for whom it is shared out.
    pub beside: String,
    /// Short lines under the title: the concert and its day, who is tacet, what is left out, what is not certain.
    pub notes: Vec<String>,
    /// The players who have a line, by seat or initials.
    pub players: Vec<String>,
    /// The piece, or its movements.
    pub courses: Vec<Course>,
}

impl Counting {
    /// Whether anybody counts anything.
    fn has_lines(&self) -> bool {
        !self.players.is_empty() && !self.courses.is_empty()
    }
}

/// A run of measures counted from 1: a piece or a movement.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Course {
    /// Its name; empty where the piece is not divided.
    pub name: String,
    /// How many printed measures it has.
    pub measures: u32,
    /// What stands over the lines.
    pub marks: Vec<Mark>,
    /// Each player's line, in the players' order.
    pub lines: Vec<Line>,
}

/// Something over the lines, at the beginning of a measure.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Mark {
    /// The measure; one more than there are is the end.
    pub at: u32,
    /// What it is.
    pub what: What,
}

/// What a mark is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum What {
    /// A rehearsal mark, in a box.
    Rehearsal(String),
    /// A repeat begins here.
    RepeatFrom,
    /// A repeat ends before this measure.
    RepeatTo,
    /// Words that begin here: a tempo, `segno`.
    Words(String),
    /// Words that end before this measure: `to coda`, `D.S. al Coda`.
    Until(String),
}

/// A player's line.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Line {
    /// What is played, in any order; two at once are told together.
    pub plays: Vec<Played>,
    /// The walks.
    pub walks: Vec<Walk>,
}

/// Measures in which an instrument is played.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Played {
    /// The first measure.
    pub first: u32,
    /// The last.
    pub last: u32,
    /// The instrument.
    pub instrument: String,
    /// The sticks or mallets, told where the instrument comes first.
    pub sticks: Option<String>,
}

/// A way to another instrument.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Walk {
    /// The measure after which it begins.
    pub after: u32,
    /// The instrument that comes.
    pub to: String,
    /// How many measures there are, as they sound.
    pub measures: usize,
    /// The time there is, and the time it needs: `7.5 s`.
    pub seconds: Option<(String, String)>,
    /// Whether it is gone only where the music jumps back.
    pub back: bool,
}

/// Writes pages, one after another.
pub fn html(countings: &[Counting], paper: Paper) -> String {
    let laid = countings.iter().flat_map(|counting| sheets(counting, paper));
    let sheets: Vec<paper::Sheet> = laid.map(|laid| laid.sheet).collect();
    paper::page(countings.first().map_or("", |one| &one.title), paper, &sheets)
}
