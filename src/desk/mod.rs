//! The desk: the language server that an editor talks to.
//!
//! Protocol types live here and in no other room. What a finding or a hover is belongs to the
//! pure rooms; the desk only carries it to the editor and back.
//!
//! One message's journey: `transport` reads it and keeps the order; `server` names its handler; a
//! notification changes the `session` (which files are open, which shelf each stands on); a request takes
//! a `moment` of its shelf before its first await and works on that, on a thread of its own; `publisher`
//! tells what was found.

mod capabilities;
mod checks;
mod commands;
mod diagnostics;
mod from_protocol;
mod handlers;
mod home;
mod keeper;
mod moment;
mod pages;
mod progress;
mod publisher;
mod refresher;
mod run;
mod server;
mod session;
mod settings;
mod shelf;
mod to_protocol;
pub mod transport;
pub mod uri;
mod watching;

pub use run::serve;
