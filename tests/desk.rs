//! The desk from end to end: a small client drives the real program, as an editor would.

#![allow(clippy::unwrap_used, reason = "a test that fails may say so at once")]

#[path = "desk/client.rs"]
mod client;
#[path = "desk/features.rs"]
mod features;
#[path = "desk/found.rs"]
mod found;
#[path = "desk/hostile.rs"]
mod hostile;
#[path = "desk/places.rs"]
mod places;
#[path = "desk/random.rs"]
mod random;
#[path = "desk/roots.rs"]
mod roots;
