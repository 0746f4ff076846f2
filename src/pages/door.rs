//! The page for the door of the band room: who plays what in a concert, a column a player, read from six feet.
//!
//! A student looks down one column. It says, from top to bottom in the order things happen, what to play, when
//! it comes in, the way to the next instrument with the measures there are, and what to carry after the piece.
//! [`sheets`] lays a [`DoorPage`] out, [`html`] writes it.

mod cell;
mod fill;
mod floor;
mod foot;
mod grid;
mod layout;
mod wind_rows;
mod winds;

#[cfg(test)]
mod tests;

pub use fill::{day, of_concert, of_piece};
pub use floor::Shape;
pub use layout::{Laid, Place, sheets};
pub use winds::{WindCell, WindRow, Winds};

use super::paper::{self, Paper};

/// All that the page says.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct DoorPage {
    /// The concert's name.
    pub concert: String,
    /// The day and the hour, in words.
    pub date: String,
    /// The band, and where it plays, in words.
    pub place: String,
    /// The players, in the order of their columns.
    pub players: Vec<Player>,
    /// The pieces in the order of the program.
    pub pieces: Vec<PieceRow>,
    /// What is carried between the pieces.
    pub changes: Vec<Change>,
    /// The stations of the floor plan.
    pub stations: Vec<Stand>,
    /// Who plays the wind parts.
    pub winds: Winds,
    /// Short lines for the foot: who covers when one is absent, who is free, what is not certain.
    pub notes: Vec<Note>,
}

/// A player's column.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Player {
    /// The seat or the initials.
    pub seat: String,
    /// The band, where players of two bands have one name.
    pub band: String,
    /// Whether the player is away.
    pub absent: bool,
}

/// A piece's row.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct PieceRow {
    /// Its place in the program, as printed: `1`, `4a`.
    pub number: String,
    /// Its title.
    pub title: String,
    /// A line under the title: movements, how long it lasts.
    pub under: String,
    /// What each player does, as many as there are players; a cell with nothing in it is tacet.
    pub cells: Vec<Vec<Does>>,
    /// The parts that are not played.
    pub left_out: Vec<LeftOut>,
    /// What is not certain about the row, in a few words; nothing where all is.
    pub coarse: Option<String>,
}

/// One thing in a player's cell, in the order of the music.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Does {
    /// Plays an instrument; told once for each, at its first entrance.
    Plays(Plays),
    /// Goes to another.
    Goes(Goes),
    /// It is not known.
    NotKnown,
}

/// What is played.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Plays {
    /// The instrument.
    pub instrument: String,
    /// The sticks or mallets.
    pub sticks: Option<String>,
    /// Where it stands, when its name does not say so.
    pub station: Option<String>,
    /// The printed page: `perc. 2`.
    pub page: Option<String>,
    /// The measures in which it is played: `mm. 9-16, 25-40`; nothing where they are not known.
    pub measures: String,
    /// The first entrance: `m. 9`; nothing where it is not known.
    pub enters: Option<String>,
}

/// A way to another instrument.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Goes {
    /// The instrument that comes.
    pub to: String,
    /// How many measures there are for it; nothing where they are not known.
    pub measures: Option<usize>,
    /// When the way begins: `after m. 16`.
    pub after: Option<String>,
    /// The time there is: `7.5 s`.
    pub seconds: Option<String>,
    /// How often this way is gone.
    pub times: usize,
}

/// A part that nobody plays.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct LeftOut {
    /// The part.
    pub part: String,
    /// Why.
    pub why: String,
}

/// What is carried after a piece (or before the first).
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Change {
    /// How many pieces have been played by then; 0 is the setup before the concert.
    pub after: usize,
    /// The time there is, in words; nothing where it is not known.
    pub time: Option<String>,
    /// For each player, what to carry: `bells on`, `bass drum off`.
    pub duties: Vec<Vec<String>>,
}

/// A station on the floor plan.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Stand {
    /// Its name.
    pub name: String,
    /// What it looks like from above.
    pub shape: Shape,
    /// The numbers of the pieces that need it; empty when all do.
    pub pieces: Vec<String>,
}

/// A note at the foot.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Note {
    /// What it is about: `If P3 is absent`.
    pub about: String,
    /// What it says.
    pub says: String,
}

/// Writes pages, one after another.
pub fn html(doors: &[DoorPage], paper: Paper) -> String {
    let laid = doors.iter().flat_map(|door| sheets(door, paper));
    let sheets: Vec<paper::Sheet> = laid.map(|laid| laid.sheet).collect();
    paper::page(doors.first().map_or("", |door| &door.concert), paper, &sheets)
}
