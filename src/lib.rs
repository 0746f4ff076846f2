//! Levare: a notation for a band director's catalogue, and a proofreader for it.

pub mod assist;
pub mod catalogue;
pub mod cli;
pub mod comparing;
pub mod cores;
pub mod desk;
pub mod disk;
pub mod findings;
pub mod music;
pub mod notation;
pub mod pages;
pub mod planning;
pub mod text;
