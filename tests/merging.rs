//! Two people's edits of one catalogue: what is put together holds what both of them wrote.

#[path = "merging/compared.rs"]
mod compared;
#[path = "merging/draw.rs"]
mod draw;
#[path = "merging/edits.rs"]
mod edits;
#[path = "merging/git.rs"]
mod git;
#[path = "merging/moved.rs"]
mod moved;
#[path = "merging/pairs.rs"]
mod pairs;
#[path = "merging/year.rs"]
mod year;
