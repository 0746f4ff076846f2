//! How far a long run is, on standard error of a terminal.

use std::io::{IsTerminal, Write};
use std::time::{Duration, Instant};

/// Nothing is said of shorter runs.
const PATIENCE: Duration = Duration::from_millis(400);
/// How often it is said anew.
const BEAT: Duration = Duration::from_millis(100);

/// One line that is written over and over and wiped at the end.
pub struct Progress {
    terminal: bool,
    begun: Instant,
    said: Option<Instant>,
}

impl Progress {
    /// Starts to wait; says nothing unless standard error is a terminal.
    pub fn new() -> Progress {
        Progress {
            terminal: std::io::stderr().is_terminal(),
            begun: Instant::now(),
            said: None,
        }
    }

    /// So many of so many are done.
    pub fn tell(&mut self, doing: &str, done: usize, all: usize) {
        if !self.terminal || self.begun.elapsed() < PATIENCE {
            return;
        }
        if self.said.is_some_and(|said| said.elapsed() < BEAT) {
            return;
        }
        self.said = Some(Instant::now());
        // What cannot be said does not matter.
        let _ = write!(std::io::stderr(), "\r\x1b[K{doing}: {done} of {all}");
    }
}

impl Default for Progress {
    fn default() -> Self {
        Progress::new()
    }
}

impl Drop for Progress {
    fn drop(&mut self) {
        if self.said.is_some() {
            let _ = write!(std::io::stderr(), "\r\x1b[K");
        }
    }
}
