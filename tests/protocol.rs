//! The protocol itself: what is offered to which client, what is sent to it, and what it survives.
//!
//! `protocol/check` holds the recorded messages of these and all other sessions against the protocol's own
//! descriptions.

#![allow(clippy::unwrap_used, reason = "a test that fails may say so at once")]

#[path = "desk/client.rs"]
mod client;
#[path = "protocol/clients.rs"]
mod clients;
#[path = "protocol/fits_planted.rs"]
mod fits_planted;
#[path = "protocol/questions.rs"]
mod questions;
#[path = "protocol/soak.rs"]
mod soak;
#[path = "protocol/table.rs"]
mod table;
