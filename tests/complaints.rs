//! What people complain of again and again in programs that serve editors, each complaint a test.
//!
//! `complaints/list.rs` has all eighteen, with the names of the tests that hold them; those that belong to
//! another subject stay there and are pointed to.

#![allow(clippy::unwrap_used, reason = "a test that fails may say so at once")]

#[path = "complaints/catalogue.rs"]
mod catalogue;
#[path = "desk/client.rs"]
mod client;
#[path = "complaints/files.rs"]
mod files;
#[path = "complaints/homes.rs"]
mod homes;
#[path = "complaints/layout.rs"]
mod layout;
#[path = "complaints/list.rs"]
mod list;
#[path = "complaints/much.rs"]
mod much;
#[path = "desk/places.rs"]
#[allow(dead_code, reason = "several tests share it, and not each uses all of it")]
mod places;
#[path = "complaints/shared.rs"]
mod shared;
#[path = "complaints/typed.rs"]
mod typed;
