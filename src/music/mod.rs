//! The trade's arithmetic: pitch, key, meter, tempo, roadmap, instruments, ranges. Knows no notation.
//!
//! Everything here is a pure function of one value or of a few: no place in a file, no wording of
//! findings, no reading of whole cards. A reader takes one bare value, is lenient in spacing and
//! case, answers `None` when the words mean nothing to it, and never panics.

pub mod center;
pub mod charts;
pub mod clock;
pub mod family_names;
pub mod fraction;
pub mod groups;
pub mod instrument_rows;
pub mod instruments;
pub mod interval;
pub mod key;
pub mod leap;
pub mod meter;
pub mod pitch;
pub mod ranges;
pub mod roadmap;
pub mod signature;
pub mod signature_said;
pub mod skills;
pub mod staff;
pub mod substitutes;
pub mod tempo;
pub mod tempo_vocabulary;
pub mod terms;
pub mod time;
pub mod timpani;
pub mod transposition;
mod words;

pub use center::Center;
pub use clock::Clock;
pub use instruments::{Family, Instrument, Instruments, Lookup};
pub use interval::Interval;
pub use key::{Key, Mode, Tonic};
pub use meter::Meter;
pub use pitch::{Pitch, Step};
pub use ranges::PitchRange;
pub use signature::Signature;
pub use signature_said::SignatureSaid;
pub use staff::Clef;
pub use tempo::{BeatUnit, Tempo};
pub use transposition::Transposition;
