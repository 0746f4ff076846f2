//! Planning: computations over what is known, exact where they say so.
//!
//! Nothing here reads a card; callers hand over small data of their own making.

pub mod assign;
pub mod winds;
