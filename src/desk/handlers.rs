//! What the desk answers, one file a method or a group of them. Each takes a view that nobody changes and
//! works on a thread of its own; protocol types go in and come out, and `assist` does the thinking.

pub(super) mod actions;
pub(super) mod asked;
pub(super) mod coloring;
pub(super) mod files;
pub(super) mod formatting;
pub(super) mod lenses;
pub(super) mod names;
pub(super) mod outline;
mod past;
mod refactoring;
pub(super) mod renaming;
pub(super) mod selecting;
pub(super) mod signature;
pub(super) mod writing;
