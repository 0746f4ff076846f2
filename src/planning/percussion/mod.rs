//! Percussion of a piece shared out: from the card, the roster and the handbook to who plays what.
//!
//! [`Question::of`] turns measures into tenths of a second along the roadmap and the tempo map, [`answer`]
//! asks the solver, and what comes back is plain data in the words of the card. Where the tempo or the meter is
//! not known only what sounds at once is counted; where no measures are known, only parts. Both are called coarse.

mod answer;
mod ask;
mod assigned;
mod backup;
mod between;
mod change;
mod clash;
mod clock;
mod duty;
mod evening;
mod few;
mod gear;
mod matching;
mod part_told;
mod pins;
pub mod plan_words;
mod program;
mod rotate;
mod setting;
mod skill;
mod told;
pub mod words;
mod year;

pub use answer::{Answer, Because, Brief, Count, Left, Sharing, answer, brief, fewest_of};
pub use ask::{Asked, Question, Seat, seats};
pub use assigned::{Assigned, PieceAssigned, Wishes, next_listing, settings};
pub use backup::{Backup, BackupPiece};
pub use between::{Crossing, Gap, MOVING, Pass};
pub use change::{ChangeTimes, Ground, Station};
pub use clash::{clash, sentence as clash_words};
pub use clock::{Clock, Pace, Sounding};
pub use duty::{Duty, Way};
pub use gear::{Lacking, lacking, things};
pub use part_told::PartTold;
pub use pins::{Decided, Pins, Whose};
pub use program::{ConcertPlan, ConcertPlayer, PiecePlan, Standing};
pub use rotate::{Earlier, Evening, is_small};
pub use setting::{Setting, ensembles};
pub use skill::{Players, can_play, is_clear, is_strong};
pub use told::{Move, Turn};
pub use year::{YearPiece, YearPlayer, year};

#[cfg(test)]
mod tests;
