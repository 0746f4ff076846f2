//! Levare: a notation for a band director's catalogue, and a proofreader for it.

pub mod assist;
pub mod catalogue;
#[cfg(not(target_arch = "wasm32"))]
pub mod cli;
pub mod comparing;
#[cfg(not(target_arch = "wasm32"))]
pub mod cores;
#[cfg(not(target_arch = "wasm32"))]
pub mod desk;
#[cfg(not(target_arch = "wasm32"))]
pub mod disk;
pub mod findings;
pub mod music;
pub mod notation;
pub mod page;
pub mod pages;
pub mod planning;
pub mod text;
