//! The arithmetic of `music` and `catalogue::course` against answers computed by music21 and partitura.
//!
//! `tests/outside/prepare` makes the answers. Where a library is known to be wrong, the table of its
//! module says what it answers and why that is not taken; when it changes its mind, the test says so.

#[path = "outside/answers.rs"]
mod answers;
#[path = "outside/instruments.rs"]
mod instruments;
#[path = "outside/planted.rs"]
mod planted;
#[path = "outside/roads.rs"]
mod roads;
#[path = "outside/theory.rs"]
mod theory;
#[path = "outside/times.rs"]
mod times;
