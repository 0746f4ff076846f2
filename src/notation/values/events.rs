//! What happens on cue where there are no measures: `14 cued`.

use std::fmt;

use super::cursor::Cursor;

/// Cued events of a piece without measures.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Events {
    /// How many there are.
    pub count: u32,
}

impl Events {
    /// Reads `14 cued`, `14 cued events`, `14 events`, `14 cues`, `fourteen`.
    pub fn read(text: &str) -> Option<Events> {
        let mut words = Cursor::new(text);
        let count = words.number().filter(|count| (1..=999).contains(count))?;
        words.any(&[
            "cued events",
            "cued",
            "events",
            "event",
            "cues",
            "cue",
            "boxes",
            "sections",
        ]);
        words.done().then_some(Events { count })
    }
}

impl fmt::Display for Events {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} cued", self.count)
    }
}
