//! Rows of tables as they were understood: names, and facts about them.

use crate::music::{Clock, Pitch, PitchRange};
use crate::text::Span;

pub use super::facts::notes::Note;
pub use super::facts::sayings::{Saying, Texture};
use super::values::{Day, Days, Interlude, Pin, Place, Standing, Stet, Stretch, Titled};

/// One row of a table.
#[derive(Debug, Clone, PartialEq)]
pub struct RowItem {
    /// All of it, deeper lines not included.
    pub span: Span,
    /// The line it stands on.
    pub line: usize,
    /// The names at its start; several share its facts.
    pub names: Vec<RowName>,
    /// A head count, where the table has one.
    pub count: Option<Count>,
    /// What is said of them.
    pub facts: Vec<RowFact>,
    /// Whether it holds words that were not understood.
    pub partial: bool,
}

impl RowItem {
    /// The names that the row stands in a relation to, one by one.
    pub fn partners(&self) -> impl Iterator<Item = &RowName> {
        self.facts.iter().flat_map(|fact| match &fact.what {
            Fact::Relation { targets, .. } => targets.as_slice(),
            _ => &[],
        })
    }

    /// Every name that was read as one: the row's own, those it stands in a relation to, those its player plays.
    pub fn all_names(&self) -> impl Iterator<Item = &RowName> {
        let said = self.facts.iter().flat_map(|fact| match &fact.what {
            Fact::Relation { targets: names, .. } | Fact::Instruments { names, .. } => names.as_slice(),
            _ => &[],
        });
        self.names.iter().chain(said)
    }
}

/// A name in a row.
#[derive(Debug, Clone, PartialEq)]
pub struct RowName {
    /// Name and number.
    pub span: Span,
    /// The name's own words.
    pub words: Span,
    /// The name with single blanks, without a number.
    pub text: String,
    /// The first and the last part number, where there are any.
    pub numbers: Option<(u32, u32)>,
    /// Whether it is marked as an open question.
    pub open: bool,
}

impl RowName {
    /// The name with its number in the one form: `flute 1`, `clarinet 1-2`.
    pub fn one_form(&self) -> String {
        let open = if self.open { "?" } else { "" };
        format!("{}{open}", self.said())
    }

    /// The name with its number, whether it is an open question or not.
    pub fn said(&self) -> String {
        match self.numbers {
            None => self.text.clone(),
            Some((first, last)) if first == last => format!("{} {first}", self.text),
            Some((first, last)) => format!("{} {first}-{last}", self.text),
        }
    }
}

/// A head count.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Count {
    /// How many.
    pub number: u32,
    /// Where the number stands.
    pub span: Span,
    /// Whether it is marked as near enough.
    pub about: bool,
    /// Whether it is marked as an open question.
    pub open: bool,
}

/// One fact about the names of a row.
#[derive(Debug, Clone, PartialEq)]
pub struct RowFact {
    /// Where it stands.
    pub span: Span,
    /// Whether it is marked as near enough.
    pub about: bool,
    /// Whether it is marked as an open question.
    pub open: bool,
    /// What it says.
    pub what: Fact,
}

impl RowFact {
    /// Whether a rule may treat the fact as certain.
    pub fn is_certain(&self) -> bool {
        !self.about && !self.open
    }
}

/// How one part stands to another.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Relation {
    /// The same notes, so that one of them can be spared.
    SameAs,
    /// The same line, perhaps in another octave.
    With,
    /// A replacement for the other.
    InsteadOf,
    /// Its exposed lines are printed small in the other part.
    CuedIn,
    /// The other's exposed lines are printed small in it.
    CuesFor,
    /// Where nobody has it, the other can play it.
    Or,
    /// It doubles the other.
    Doubles,
    /// It follows the other's rhythm.
    Follows,
    /// A flexible part that any of these instruments can play.
    For,
    /// One player covers it together with the other.
    SharedWith,
    /// The usual parts, but not the other.
    Without,
}

impl Relation {
    /// The words of the one form.
    pub fn words(self) -> &'static str {
        match self {
            Relation::SameAs => "same as",
            Relation::With => "with",
            Relation::InsteadOf => "instead of",
            Relation::CuedIn => "cued in",
            Relation::CuesFor => "cues for",
            Relation::Or => "or",
            Relation::Doubles => "doubles",
            Relation::Follows => "follows",
            Relation::For => "for",
            Relation::SharedWith => "one player with",
            Relation::Without => "without",
        }
    }
}

/// What a fact says.
#[derive(Debug, Clone, PartialEq)]
pub enum Fact {
    /// A range of pitches.
    Range {
        /// The range.
        range: PitchRange,
        /// Whether it is given in concert pitch; written pitch otherwise.
        concert: bool,
        /// Where it holds, if not throughout.
        place: Option<Place>,
    },
    /// Where the part plays, and in which passes of a repeat; no passes are all of them.
    Plays(Place, Vec<u32>),
    /// The cued events at which it plays, where there are no measures.
    Events(Stretch),
    /// How it stands to another part.
    Relation {
        /// In which way.
        relation: Relation,
        /// The other part or parts, in the one form.
        target: String,
        /// The same, one by one.
        targets: Vec<RowName>,
        /// Where those words stand.
        target_span: Span,
        /// Where it holds, if not throughout.
        place: Option<Place>,
    },
    /// A solo.
    Solo(Option<Place>),
    /// Notes above the clarinets' break.
    OverTheBreak(Option<Place>),
    /// No notes above the break.
    BelowTheBreak,
    /// One player covers all the names of the row.
    OnePlayer,
    /// So many players, from–to.
    Players(u32, u32),
    /// The piece has no such part.
    NoPart,
    /// The part may be left out.
    Optional,
    /// There the part may be left out; elsewhere it may not.
    OptionalAt(Place),
    /// Silent there, or in the whole piece.
    Tacet(Option<Place>),
    /// Pitches, as the notes of timpani.
    Pitches(Vec<Pitch>, Option<Place>),
    /// A drum tuned from one pitch to another.
    Retune(Pitch, Pitch, Option<Place>),
    /// The highest note of a part, or its lowest.
    Bound {
        /// Whether it is the highest.
        up: bool,
        /// The note.
        note: Note,
        /// Where it holds, if not throughout.
        place: Option<Place>,
    },
    /// What timpani are tuned to, where no octave is said.
    Notes(Vec<Note>, Option<Place>),
    /// A drum tuned from one note to another, where no octave is said.
    Change(Note, Note, Option<Place>),
    /// A trombone part that goes no further than this position.
    Positions(u32),
    /// How many measures a movement has.
    Measures(u32),
    /// How long a movement lasts.
    Lasts(Clock),
    /// Something that was meant as a range of pitches and is none, as written.
    NoRange(String),
    /// The parts of a flexible piece that must be covered.
    CompleteWith(Vec<u32>),
    /// What it asks its player to know.
    Asks(String),
    /// Instruments: those a percussionist plays, or those on a page.
    Instruments {
        /// Their names.
        names: Vec<RowName>,
        /// Whether these are the ones that are not played.
        not: bool,
    },
    /// How far a percussionist is, such as `beginner` or `cannot roll yet`.
    Standing(Standing),
    /// What it is played with, such as `yarn mallets`.
    Sticks(String, Option<Place>),
    /// Who is to play it, or not; in a program, who is to play what in the piece.
    Pin(Pin),
    /// It needs a strong player.
    Strong,
    /// The director wrote the part in; it is not printed.
    WrittenIn,
    /// The players of the part divide, always or at a place.
    Divided(Option<Place>),
    /// They divide here and there.
    DividedAtTimes,
    /// They never divide.
    Undivided,
    /// So many lines of their own.
    Lines(u32),
    /// How the names of the row go together, such as `octaves`.
    Texture(Texture, Option<Place>),
    /// Something else that the trade says of a part, such as `rolls` or `muted`.
    Saying(Saying, Option<Place>),
    /// The player also plays another instrument in this piece.
    Switches(String),
    /// Something true of some of the players.
    Some {
        /// How many; none for all of them.
        count: Option<u32>,
        /// What they can do.
        can: Can,
    },
    /// What a row of a program names.
    Title(Titled),
    /// What a row of a program is that is no piece, with its length.
    Interlude(Interlude),
    /// The meter, key or tempo of a movement, said beside its title: the field and its stages.
    Line(&'static str, Vec<super::items::Item>),
    /// A finding let stand for this row.
    Stet(Stet),
    /// What a movement or a piece of a program is besides, such as `attacca` or `opener`.
    Order(Order),
    /// The movements that are played.
    Movements(Vec<u32>),
}

/// What stands in a program or among movements besides titles.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Order {
    /// The next one follows without a break.
    Attacca,
    /// It opens the concert.
    Opener,
    /// It closes the concert.
    Closer,
    /// It is played again, or kept for it.
    Encore,
    /// A break in the concert.
    Intermission,
    /// Scales or a chorale before the first piece.
    WarmUp,
    /// It is played with a choir, an orchestra or another band.
    Together,
    /// It stands before the intermission.
    BeforeIntermission,
    /// It stands after the intermission.
    AfterIntermission,
    /// It comes after a speech.
    AfterSpeech,
    /// It is so many pieces into the program, from 1.
    Nth(u8),
    /// It is played with a recording.
    WithTrack,
    /// A loudspeaker is wanted for it.
    Speaker,
    /// It is left out where time is short.
    IfTime,
}

impl Fact {
    /// The place at which it holds or happens, where one is said. Measures that a part plays are no place.
    pub fn place(&self) -> Option<&Place> {
        match self {
            Fact::OptionalAt(place) => Some(place),
            Fact::Range { place, .. }
            | Fact::Relation { place, .. }
            | Fact::Solo(place)
            | Fact::OverTheBreak(place)
            | Fact::Tacet(place)
            | Fact::Pitches(_, place)
            | Fact::Retune(_, _, place)
            | Fact::Bound { place, .. }
            | Fact::Notes(_, place)
            | Fact::Change(_, _, place)
            | Fact::Sticks(_, place)
            | Fact::Divided(place)
            | Fact::Texture(_, place)
            | Fact::Saying(_, place) => place.as_ref(),
            _ => None,
        }
    }
}

/// What some of an instrument's players can do.
#[derive(Debug, Clone, PartialEq)]
pub enum Can {
    /// Play above the break.
    OverTheBreak,
    /// Play up to a written pitch.
    UpTo(Pitch),
    /// Play down to a written pitch.
    DownTo(Pitch),
    /// Play up to a note whose octave is not written.
    Reach(super::facts::notes::Note),
    /// Read treble clef where others read bass clef.
    TrebleClef,
    /// Also play another instrument.
    Also(String),
    /// How far they are, such as `beginner`.
    Standing(&'static str),
    /// Be there since a day.
    Since(Day),
    /// Be there until a day.
    Until(Day),
    /// Be away on these days.
    Away(Days),
    /// Come on top of the number from a day.
    More(Day),
    /// Be so many, perhaps.
    Maybe,
    /// Share a stand, an instrument, or both.
    Share {
        /// Whether they share a stand.
        stand: bool,
        /// Whether they share an instrument.
        instrument: bool,
    },
}
