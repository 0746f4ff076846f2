//! A finding that is let stand, and why.

use std::fmt;

use crate::notation::scan;

/// A finding that is let stand, and why.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Stet {
    /// The finding's phrase.
    pub phrase: String,
    /// The reason after `because`, where one is given.
    pub reason: Option<String>,
}

impl Stet {
    /// Reads `over the break because the seconds are eighth graders`; a phrase may also stand alone.
    pub fn read(text: &str) -> Option<Stet> {
        let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
        let (phrase, reason) = match scan::find_word(&text, "because ") {
            Some(at) => (
                text.get(..at)?.trim(),
                text.get(at + 8..).map(|reason| reason.trim().to_owned()),
            ),
            None => (text.strip_suffix(" because").unwrap_or(&text), None),
        };
        let phrase = phrase.trim_end_matches(',').trim_end();
        (!phrase.is_empty()).then(|| Stet {
            phrase: phrase.to_lowercase(),
            reason: reason.filter(|reason| !reason.is_empty()),
        })
    }
}

impl fmt::Display for Stet {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.phrase)?;
        match &self.reason {
            Some(reason) => write!(f, " because {reason}"),
            None => Ok(()),
        }
    }
}
