//! Who plays what: percussion parts to percussionists, and players to wind parts.
//!
//! A percussion part is a row of [`Entrance`]s at a station. Two parts collide when one player
//! cannot play both: they sound together, or the time between them is too short to change over.
//! So "how many players" is a coloring of a graph of collisions: of whole parts when a part stays
//! with one player, of single entrances when it may be handed over in a rest. All questions run
//! through one search ([`seats`]), and every "fewest" carries a [`Proof`]: a set that collides all
//! with all, or a search that left nothing untried.
//!
//! The searches are our own. A graph crate would give a matching and a flow, but neither finds the
//! largest set that collides, colors with lists, nor breaks the symmetry between players, and the
//! one flow needed here (with costs) is a page of code.

mod apart;
mod bits;
mod changes;
mod clique;
mod collide;
mod fewest;
mod flow;
mod greedy;
mod hands;
mod least;
mod leave_out;
mod limits;
mod piece;
mod plan;
mod prices;
mod roster;
mod seats;
mod sets;
mod settle;
mod share;
mod why;
mod winds;

#[cfg(test)]
mod tests;

pub use apart::keeps_apart;
pub use changes::Changes;
pub use fewest::{Answer, Fewest, Floor, fewest, floor, surely_too_few};
pub use leave_out::{LeftOut, leave_out};
pub use limits::Limits;
pub use piece::{Abilities, Entrance, Handing, Music, Part, Player, Tenths, choices};
pub use plan::{Plan, Play};
pub use roster::assign;
pub use why::{Place, Proof, Why};
pub use winds::{Seat, Section, WindPart, WindPlayer, seat_winds};
