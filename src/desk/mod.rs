//! The desk: the language server that an editor talks to.
//!
//! Protocol types live here and in no other room. What a finding or a hover is belongs to the
//! pure rooms; the desk only carries it to the editor and back.

pub mod transport;
pub mod uri;
