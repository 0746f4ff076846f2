//! What a finding is: where, what is said, and how it can be mended.

use std::fmt;

use crate::catalogue::EntryId;
use crate::text::{Edit, Span};

/// How strongly a finding is shown, in the words of the Language Server Protocol.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Severity {
    /// Something is wrong for certain.
    Error,
    /// Something does not fit.
    Warning,
    /// Something worth knowing.
    Information,
    /// Something to look at one day.
    Hint,
}

impl Severity {
    /// All severities, the strongest first.
    pub const ALL: [Severity; 4] = [
        Severity::Error,
        Severity::Warning,
        Severity::Information,
        Severity::Hint,
    ];

    /// The word, as the handbook uses it.
    pub fn word(self) -> &'static str {
        match self {
            Severity::Error => "error",
            Severity::Warning => "warning",
            Severity::Information => "information",
            Severity::Hint => "hint",
        }
    }

    /// The severity that a word names.
    pub fn of_word(word: &str) -> Option<Severity> {
        Severity::ALL.into_iter().find(|severity| severity.word() == word)
    }
}

impl fmt::Display for Severity {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.word())
    }
}

/// One thing that a rule noticed on a card.
#[derive(Debug, Clone, PartialEq)]
pub struct Finding {
    /// The rule's phrase, which also silences it.
    pub phrase: &'static str,
    /// How strongly it is shown.
    pub severity: Severity,
    /// Where it stands, in bytes from the start of the card's text.
    pub span: Span,
    /// What is said.
    pub saying: Saying,
    /// Other places that explain it.
    pub related: Vec<Related>,
    /// Ways to mend it, the likeliest first.
    pub repairs: Vec<Repair>,
    /// Whether the words it marks do nothing anymore, so that an editor may show them faded.
    pub idle: bool,
}

/// What a finding says, in a director's words.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Saying {
    /// The place in the music or on the card, such as `percussion, measure 41`; empty for the whole card.
    pub place: String,
    /// What is wrong: one sentence with its full stop.
    pub says: String,
    /// Why it matters in the band room: one sentence.
    pub why: String,
    /// What to do: one sentence.
    pub todo: String,
}

impl Saying {
    /// All of it in one paragraph, for places that show one text.
    pub fn whole(&self) -> String {
        [self.says.as_str(), self.why.as_str(), self.todo.as_str()]
            .into_iter()
            .filter(|part| !part.is_empty())
            .collect::<Vec<_>>()
            .join(" ")
    }
}

/// Another place that explains a finding: a roster's line, the other card, the other list.
#[derive(Debug, Clone, PartialEq)]
pub struct Related {
    /// The card it stands on; none where it is the finding's own card.
    pub card: Option<EntryId>,
    /// Where on that card.
    pub span: Span,
    /// What it says there.
    pub says: String,
}

/// A way to mend a finding.
#[derive(Debug, Clone, PartialEq)]
pub struct Repair {
    /// What it does, as an order: `Write "publisher"`.
    pub title: String,
    /// Whether it can be applied without looking: it changes no meaning, or there is only one thing that can
    /// have been meant.
    pub safe: bool,
    /// Edits of the card's own text.
    pub edits: Vec<Edit>,
}

impl Repair {
    /// A repair that can be applied without looking.
    pub fn safe(title: impl Into<String>, edits: Vec<Edit>) -> Repair {
        Repair {
            title: title.into(),
            safe: true,
            edits,
        }
    }

    /// A repair that somebody has to decide on.
    pub fn to_decide(title: impl Into<String>, edits: Vec<Edit>) -> Repair {
        Repair {
            title: title.into(),
            safe: false,
            edits,
        }
    }
}
