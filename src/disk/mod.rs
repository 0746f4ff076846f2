//! The only door to the file system: which files belong to a catalogue, reading, writing and watching them.
//!
//! One decision, [`belongs`], says which files are in a catalogue; walking ([`gather`], [`list`]) and
//! watching ([`watch`]) take the same steps, so the command line and an editor always agree. Nothing
//! here gives up on a whole catalogue because of one file: what cannot be read is told as a
//! [`DiskProblem`] and the others go on.

mod belongs;
mod gather;
mod git;
mod problem;
mod read;
mod root;
mod together;
mod watch;
mod write;

pub use belongs::{Belongs, Rules, belongs, lies_in, stays_inside};
pub use gather::{Gathered, Listed, Progress, gather, list};
pub use git::{
    GitProblem, Past, at_commit, below_the_top, file_at_commit, hook_before_commit, is_under_git, set,
    sides_of_merge,
};
pub use problem::{DiskProblem, Trouble};
pub use read::{FileRead, read_bytes, read_file};
pub use root::{HANDBOOK, catalogue_root, settled};
pub use together::put_together;
pub use watch::{Changes, Watch, watch};
pub use write::{make_folder, remove_if_unchanged, write_atomically, write_if_unchanged, write_program};
