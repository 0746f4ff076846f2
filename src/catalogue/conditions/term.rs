//! What a condition says.

use crate::music::{Key, Meter, Mode, Pitch};
use crate::notation::values::{Day, Who};
use crate::text::Span;

use super::amount::Amount;
use super::near::Leftover;

/// One condition with its place.
#[derive(Debug, Clone, PartialEq)]
pub struct Condition {
    /// Where it stands, counted like the span it was read with.
    pub span: Span,
    /// What it says.
    pub term: Term,
}

/// What a condition says.
#[derive(Debug, Clone, PartialEq)]
pub enum Term {
    /// The opposite.
    Not(Box<Condition>),
    /// One of these is enough.
    Any(Vec<Condition>),
    /// So many pieces of a program; of one piece, that it is one of them. No condition counts all pieces.
    Count {
        /// How many.
        amount: Amount,
        /// Which pieces.
        of: Option<Box<Condition>>,
    },
    /// So many different values in a program, or on the way of one piece.
    Different {
        /// How many.
        amount: Amount,
        /// Values of what.
        what: Facet,
    },
    /// The value changes on the way.
    Changes(Facet),
    /// Concert key signatures; what is not said of sharps or flats is left open.
    Signature {
        /// How many flats.
        flats: Option<Amount>,
        /// How many sharps.
        sharps: Option<Amount>,
    },
    /// A tonal center.
    Key(Key),
    /// A mode, or all modes with a major or minor third.
    Mode(Mode),
    /// A meter.
    Meter(Meter),
    /// A sort of meter.
    MeterSort(MeterSort),
    /// The same throughout: a key or a meter.
    Only(Box<Condition>),
    /// A tempo in beats a minute.
    Tempo(Amount),
    /// Somewhere slow.
    Slow,
    /// Somewhere fast.
    Fast,
    /// A style.
    Style(String),
    /// A grade in hundredths, and who gives it.
    Grade {
        /// The bound.
        amount: Amount,
        /// Who gives it; anybody where that is not said.
        who: Who,
    },
    /// How long it lasts, in seconds.
    Length(Amount),
    /// How long all pieces of a program last together, in seconds.
    LengthInAll(Amount),
    /// How many measures are printed.
    Measures(Amount),
    /// How many percussionists it takes.
    Percussionists(Amount),
    /// The range of every wind part, or of the parts named, in letters crossed: an octave is 7.
    Range {
        /// The part; every one where none is named.
        part: Option<String>,
        /// The widest.
        steps: i32,
    },
    /// A clarinet part that goes over the break; all of them where none is named.
    OverTheBreak(Option<String>),
    /// How high or low a part goes, in written pitch.
    Reach {
        /// The part.
        part: String,
        /// The lowest note allowed.
        low: Option<Pitch>,
        /// The highest note allowed.
        high: Option<Pitch>,
    },
    /// A solo, of one instrument or of any.
    Solo(Option<String>),
    /// A part for an instrument.
    Part(String),
    /// What a field says in the cards' own words; empty where it is enough that it says anything.
    Says(Saying, String),
    /// It wants or suits a strong section or player of these.
    Strong(String),
    /// A director's way to ask for slow music beside fast.
    Contrast,
    /// A tempo by its word.
    TempoTerm(String),
    /// The year it was published in.
    Published(Amount),
    /// A performance went well.
    WentWell,
    /// Original scores in the library.
    Scores(Amount),
    /// It is played from memory.
    Memorized,
    /// It asks for no skill that the band has not been taught.
    NothingNew,
    /// What it asks players to know.
    Asks(String),
    /// What it is good for teaching.
    Teaches(String),
    /// It was performed.
    Performed(When),
    /// Who had a hand in it.
    By(String),
    /// The publisher, as written.
    Publisher(String),
    /// On a list; none for the list on whose card the condition stands.
    OnList(Option<String>),
    /// All conditions of the criteria or the list of that name.
    Named(String),
    /// The set is in the library.
    Owned,
    /// No part is missing.
    Complete,
    /// It is wanted.
    Wanted,
    /// What it costs, in hundredths of a currency.
    Costs {
        /// The bound.
        amount: Amount,
        /// The currency's three letters (ISO 4217).
        currency: String,
    },
    /// Key signatures as they stand in the parts: in every wind part, or in the one named.
    Written {
        /// The part; every one where none is named.
        part: Option<String>,
        /// How many flats.
        flats: Option<Amount>,
        /// How many sharps.
        sharps: Option<Amount>,
    },
    /// The lowest of the band's own grades whose criteria it meets, in hundredths.
    Criteria(Amount),
    /// How many skills it asks that the band has not been taught.
    NewSkills(Amount),
    /// The band has a player for every part that is needed.
    Covered(Coverage),
    /// How many movements it has.
    Movements(Amount),
    /// How many percussion parts it has.
    PercussionParts(Amount),
    /// How many weeks it took to learn.
    Took(Amount),
    /// It was given that rating, as written.
    Rated(String),
    /// How a performance went, in one of the usual words.
    Went(&'static str),
    /// Parts of the set, or all of it, are lent.
    Lent,
    /// What is written in a field of the card, or anywhere on it.
    Holds(Option<&'static str>, String),
    /// The card says something in that field.
    Known(&'static str),
    /// A condition with a word that was not understood.
    Unheard(Leftover),
}

/// A field whose words can be asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
#[allow(missing_docs)]
pub enum Saying {
    Features,
    Techniques,
    Suits,
    Liked,
    Texture,
}

impl Saying {
    /// The word before what it says.
    pub fn lead(self) -> &'static str {
        match self {
            Saying::Features => "features",
            Saying::Techniques => "techniques",
            Saying::Suits => "suits",
            Saying::Liked => "liked by",
            Saying::Texture => "texture",
        }
    }
}

/// What can differ from piece to piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Facet {
    /// Tonal centers.
    Key,
    /// Key signatures.
    Signature,
    /// Meters.
    Meter,
    /// Tempos.
    Tempo,
    /// Styles.
    Style,
    /// Who wrote it.
    Composer,
}

impl Facet {
    /// The word for one of its values.
    pub fn word(self) -> &'static str {
        match self {
            Facet::Key => "key",
            Facet::Signature => "key signature",
            Facet::Meter => "meter",
            Facet::Tempo => "tempo",
            Facet::Style => "style",
            Facet::Composer => "composer",
        }
    }
}

/// A sort of meter.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum MeterSort {
    /// Two beats to the measure.
    Duple,
    /// Three beats to the measure.
    Triple,
    /// Four beats to the measure.
    Quadruple,
    /// Beats that part in three.
    Compound,
    /// Beats that part in two.
    Simple,
    /// Beats of different lengths, or five or seven of them.
    Uneven,
}

impl MeterSort {
    /// The words of the one form.
    pub fn words(self) -> &'static str {
        match self {
            MeterSort::Duple => "duple meter",
            MeterSort::Triple => "triple meter",
            MeterSort::Quadruple => "quadruple meter",
            MeterSort::Compound => "compound meter",
            MeterSort::Simple => "simple meter",
            MeterSort::Uneven => "uneven meter",
        }
    }
}

/// Which parts a band has to cover.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Coverage {
    /// Winds and percussion.
    All,
    /// The wind parts.
    Winds,
    /// The percussion.
    Percussion,
}

/// When it was performed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum When {
    /// At any time.
    Ever,
    /// On or after that day.
    Since(Day),
    /// Before that day.
    Before(Day),
    /// In that year, month or on that day.
    In(Day),
    /// By that band.
    By(String),
    /// In the school year before this one.
    LastYear,
    /// In this school year.
    ThisYear,
    /// In so many years up to today.
    Years(u32),
    /// Last before that day.
    LastBefore(Day),
    /// Last in that year, month or on that day.
    LastIn(Day),
}

impl Condition {
    /// Whether it is about a program as a whole: a count, or made of one.
    pub fn counts(&self) -> bool {
        match &self.term {
            Term::Count { .. } | Term::Different { .. } | Term::LengthInAll(_) | Term::Contrast => true,
            Term::Not(inner) => inner.counts(),
            Term::Any(all) => all.iter().any(Condition::counts),
            _ => false,
        }
    }
}
