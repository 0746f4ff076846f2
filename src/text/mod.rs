//! What a file is: bytes in UTF-8, places in it, its lines, its edits, and the row of entries it is cut into.
//!
//! Places inside the program are byte offsets ([`Span`]). Lines and columns ([`Position`]) exist only
//! where the outside world speaks of them, in one of the three units of the Language Server Protocol
//! 3.17 (`PositionEncodingKind`). Nothing here can fail on a place that is out of bounds or inside a
//! character: such a place is moved back to the nearest one that exists.

mod edit;
mod encoding;
mod ending;
mod lines;
mod over;
pub mod said;
pub mod sentences;
pub mod set;
mod shared;
mod sheet;
mod span;

pub use edit::{Edit, Overlap, apply, minimal};
pub use encoding::{Encoding, Position};
pub use ending::Ending;
pub use lines::{Lines, whole_lines};
pub use over::Over;
pub use shared::Shared;
pub use sheet::{Change, Chunk, Sheet, Splitter};
pub use span::{Span, floor};
