//! What the world does to a program: it is killed, the drive is full, others write at the same time, files are not
//! what they should be. Each row of `grammar/limits.md` names the test that holds it.

#![cfg(unix)]

#[allow(dead_code, reason = "several tests share it, and not each uses all of it")]
#[path = "cli/bench.rs"]
mod bench;
#[path = "faults/files.rs"]
mod files;
#[path = "faults/hostile.rs"]
mod hostile;
#[path = "faults/kills.rs"]
mod kills;
#[path = "faults/others.rs"]
mod others;
#[path = "faults/refused.rs"]
mod refused;
#[path = "faults/table.rs"]
mod table;
#[path = "faults/writers.rs"]
mod writers;
