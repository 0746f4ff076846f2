//! How wide words are set on the terminal; how they are set is [`crate::text::set`].

pub use crate::text::set::{columns, head, lines, plain};

/// How wide words are set when nothing is known of the terminal.
const USUAL: usize = 80;
/// Longer lines are hard to read.
const WIDEST: usize = 100;
/// Narrower than this, lines run over the edge.
const NARROWEST: usize = 40;

/// How wide to set words on standard output: the terminal's width within reason, 80 into a file.
pub fn width() -> usize {
    terminal_size::terminal_size_of(std::io::stdout())
        .map_or(USUAL, |(columns, _)| usize::from(columns.0))
        .clamp(NARROWEST, WIDEST)
}
