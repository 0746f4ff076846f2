//! The desk's transport, and the framework's own loop beside it.
//!
//! Each row is a thing that clients do. The same bytes go to both loops, over the same handlers,
//! through pipes in memory. A row says that ours survives it and what the framework's does; where
//! that is "the same", it says so. Should a later version of the framework survive a row, that
//! half of the row fails, and the reason for a part of our transport is gone.

#![allow(clippy::unwrap_used, reason = "a test that fails may say so at once")]

#[path = "transport/client.rs"]
mod client;
#[path = "transport/desk.rs"]
mod desk;
#[path = "transport/ends.rs"]
mod ends;
#[path = "transport/frames.rs"]
mod frames;
#[path = "transport/handlers.rs"]
mod handlers;
#[path = "transport/many.rs"]
mod many;
#[path = "transport/order.rs"]
mod order;
#[path = "transport/process.rs"]
mod process;
