//! The desk from end to end: a small client drives the real program, as an editor would.

#![allow(clippy::unwrap_used, reason = "a test that fails may say so at once")]

#[path = "desk/client.rs"]
mod client;
#[path = "desk/coloring.rs"]
mod coloring;
#[path = "desk/commands.rs"]
mod commands;
#[path = "desk/features.rs"]
mod features;
#[path = "desk/found.rs"]
mod found;
#[path = "desk/hostile.rs"]
mod hostile;
#[path = "desk/kept.rs"]
mod kept;
#[path = "desk/known.rs"]
mod known;
#[path = "desk/lenses.rs"]
mod lenses;
#[path = "desk/links_out.rs"]
mod links_out;
#[path = "desk/long_work.rs"]
mod long_work;
#[path = "desk/past.rs"]
mod past;
#[path = "desk/places.rs"]
mod places;
#[path = "desk/random.rs"]
mod random;
#[path = "desk/refactoring.rs"]
mod refactoring;
#[path = "desk/renaming.rs"]
mod renaming;
#[path = "desk/roots.rs"]
mod roots;
#[path = "desk/searching.rs"]
mod searching;
#[path = "desk/selecting.rs"]
mod selecting;
#[path = "desk/settings.rs"]
mod settings;
#[path = "desk/step.rs"]
mod step;
#[path = "desk/table.rs"]
mod table;
#[path = "desk/typing.rs"]
mod typing;
#[path = "desk/watched.rs"]
mod watched;
#[path = "desk/writing.rs"]
mod writing;
#[path = "desk/year.rs"]
mod year;
