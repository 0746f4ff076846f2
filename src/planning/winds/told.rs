//! What is told of the winds: plain data, counted from the card's own words.

use crate::music::{Interval, Pitch, PitchRange};

/// How deep the answer goes: as deep as the cards do.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Depth {
    /// No band's card counts wind players.
    Nobody,
    /// The piece's card lists no wind parts, so only the sections are counted.
    SectionsOnly,
    /// Players are put to parts; no part has a range or says what it asks, so nothing is said of notes.
    PartsOnly,
    /// Players are put to parts by what the parts ask.
    Parts,
}

/// Players who are alike: one instrument, the same abilities.
#[derive(Debug, Clone, PartialEq)]
pub struct Players {
    /// The instrument in the one form, or the grouping that the band's card counts as one.
    pub instrument: String,
    /// How many; at least one.
    pub count: usize,
    /// Over the break: yes, no, or the card does not say.
    pub over_the_break: Option<bool>,
    /// The highest written note they play, where a card says so.
    pub up_to: Option<Pitch>,
    /// The lowest written note they play, where a card says so.
    pub down_to: Option<Pitch>,
    /// Whether they read treble clef where others of the section read bass clef.
    pub treble_clef: bool,
    /// The instruments they switch to.
    pub switch_to: Vec<String>,
}

/// A wind part of the piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// The name in the one form: `clarinet 2`, `part 1`.
    pub name: String,
    /// The instruments it is for; several for a flexible part.
    pub instruments: Vec<String>,
    /// How many players it should have; 0 where it may be left out.
    pub least: usize,
    /// Why it may be left out.
    pub spare: Option<Spare>,
    /// Whether it goes over the clarinets' break.
    pub over_the_break: bool,
    /// Its written range, where the card gives one for certain.
    pub range: Option<PitchRange>,
    /// Who plays it: the players by their place among all, and how many of them.
    pub seated: Vec<(usize, usize)>,
    /// How many of those seated are said not to play what it asks.
    pub unable: usize,
    /// Whether a card leaves open how many there are who could play it.
    pub open: bool,
}

impl Part {
    /// How many players it has.
    pub fn players(&self) -> usize {
        self.seated.iter().map(|(_, count)| count).sum()
    }

    /// How many players it lacks.
    pub fn lacks(&self) -> usize {
        self.least.saturating_sub(self.players())
    }
}

/// Why a part may be left out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Spare {
    /// The card says that it is optional.
    Optional,
    /// Another part has its line: the words of the card, such as `same as flute 1`.
    Doubled(String),
    /// It is the same line in another clef.
    OtherClef(String),
    /// The piece is complete without it.
    NotNeeded,
    /// It stands for a group of instruments that have no part of their own.
    Group,
}

/// What may cover a part that nobody has, the best first.
#[derive(Debug, Clone, PartialEq)]
pub enum Cover {
    /// Another part has the same line.
    SameLine {
        /// That part.
        part: String,
        /// The words of the card: `same as`, `with`, `doubles`.
        how: &'static str,
        /// How many play that part.
        players: usize,
    },
    /// Its exposed lines are printed small in another part.
    Cue {
        /// The other part.
        part: String,
        /// How many play that part.
        players: usize,
        /// Where, if not throughout: `5-12`.
        place: Option<String>,
    },
    /// The card has another part to be played instead.
    Instead {
        /// That part.
        part: String,
    },
    /// The card says that this instrument may play it.
    Allowed {
        /// The instrument.
        instrument: String,
        /// How many there are.
        players: usize,
        /// How many of them could leave the parts they have.
        could: usize,
    },
    /// An instrument that usually covers it.
    Usual {
        /// The instrument.
        instrument: String,
        /// How many there are in the band.
        players: usize,
        /// How many of them could leave the parts they have.
        could: usize,
        /// What to add to the part's written notes.
        rewrite: Interval,
        /// Whether the clef changes, and to which.
        clef: Option<&'static str>,
        /// Whether the notes are there.
        fits: Fits,
        /// Where the cover is said to be usual.
        source: &'static str,
    },
}

impl Cover {
    /// The instrument whose players would leave their part for it.
    pub fn instrument(&self) -> Option<&str> {
        match self {
            Cover::Allowed { instrument, .. } | Cover::Usual { instrument, .. } => Some(instrument),
            Cover::SameLine { .. } | Cover::Cue { .. } | Cover::Instead { .. } => None,
        }
    }

    /// Whether the instrument is known not to have all the notes.
    pub fn lacks_notes(&self) -> bool {
        matches!(
            self,
            Cover::Usual {
                fits: Fits::No(..),
                ..
            }
        )
    }

    /// Whether the notes are heard though nobody leaves a part.
    pub fn stays(&self) -> bool {
        matches!(self, Cover::SameLine { .. } | Cover::Instead { .. })
    }
}

/// Whether a covering instrument has the notes.
#[derive(Debug, Clone, PartialEq)]
pub enum Fits {
    /// The part's card gives no range, or nothing is known of the instrument's.
    NotKnown,
    /// All notes lie in the range.
    Yes(Limit),
    /// They do so with an octave more: up for a positive number of octaves, else down.
    Octaves(i32, Limit),
    /// They reach beyond it; the rewritten range, and the limit.
    No(PitchRange, Limit),
}

/// A range that notes are held against.
#[derive(Debug, Clone, PartialEq)]
pub struct Limit {
    /// The range, in written pitch.
    pub range: PitchRange,
    /// Who says so.
    pub said_by: LimitBy,
}

/// Who says what an instrument's players reach.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LimitBy {
    /// A band's card.
    Band,
    /// The published chart that the handbook follows.
    Chart(&'static str),
    /// The table of full ranges, from memory.
    Table,
}

/// A part that nobody plays.
#[derive(Debug, Clone, PartialEq)]
pub struct Uncovered {
    /// The part, by its place among all.
    pub part: usize,
    /// Who or what may cover it, the best first.
    pub covers: Vec<Cover>,
    /// Which of them it is when all such parts are shared out together; none where somebody else's part is needed more,
    /// or nobody has to move.
    pub by: Option<usize>,
}

/// Parts that together want more players than there are who can play any of them.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Short {
    /// The parts, by their place among all.
    pub parts: Vec<usize>,
    /// How many players they want together.
    pub want: usize,
    /// How many there are who can play any of them.
    pub able: usize,
}

/// Players for whom the card lists no part.
#[derive(Debug, Clone, PartialEq)]
pub struct Idle {
    /// The players, by their place among all.
    pub players: usize,
    /// How many of them.
    pub count: usize,
    /// Parts that their instrument usually covers, with what to add to the written notes.
    pub could: Vec<(usize, Interval)>,
}

/// Which parts of a divided section get the extra players.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Balance {
    /// The lower parts.
    #[default]
    Lower,
    /// The upper parts.
    Upper,
}

/// Who plays which wind part.
#[derive(Debug, Clone, PartialEq)]
pub struct WindSharing {
    /// The title of the piece.
    pub piece: String,
    /// The bands that play it.
    pub bands: Vec<String>,
    /// How deep the answer goes.
    pub depth: Depth,
    /// The parts in the order of the card.
    pub parts: Vec<Part>,
    /// The players in the order of the card, the ablest of a section first.
    pub players: Vec<Players>,
    /// Parts that nobody plays, and what may cover them.
    pub uncovered: Vec<Uncovered>,
    /// Why not all parts have enough players.
    pub short: Vec<Short>,
    /// Players without a part.
    pub idle: Vec<Idle>,
    /// Which parts get the extra players.
    pub balance: Balance,
    /// How many players a part of a divided section should have, where the handbook says so.
    pub fewest: Option<u32>,
    /// Instruments whose number the band's card leaves out or leaves open.
    pub open_counts: Vec<String>,
    /// Whether more players or parts are written than are looked at.
    pub cut: bool,
}

impl WindSharing {
    /// How many players of a group have this part.
    pub fn seated(&self, part: usize, players: usize) -> usize {
        let seated = self.parts.get(part).into_iter().flat_map(|part| &part.seated);
        seated
            .filter(|(who, _)| *who == players)
            .map(|(_, count)| count)
            .sum()
    }

    /// Whether every part that is needed has a player.
    pub fn all_covered(&self) -> bool {
        self.parts
            .iter()
            .all(|part| part.least == 0 || part.open || part.players() > 0)
    }
}
