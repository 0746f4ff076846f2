//! Planning: computations over what is known, exact where they say so.
//!
//! [`assign`] knows no cards: it is handed small data by the modules that do.

pub mod assign;
pub mod buy;
pub mod choose;
pub mod find;
pub mod fitting;
pub mod library;
pub mod percussion;
pub mod remembered;
pub mod standing;
pub mod teach;
pub mod winds;
