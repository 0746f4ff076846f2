//! What completion offers, before it is cut to what fits.

use crate::text::Span;

/// What an offer stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OfferKind {
    /// A kind of card.
    Kind,
    /// A field's word.
    Field,
    /// The name of a card.
    Name,
    /// An instrument or part.
    Instrument,
    /// A value such as a key or a meter.
    Value,
    /// A rule's phrase.
    Phrase,
    /// Words that tie two parts together, or other words of a row.
    Words,
}

/// One thing that could stand at the cursor.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Offer {
    /// What is shown.
    pub label: String,
    /// What is written.
    pub text: String,
    /// What stands there now and is replaced, in bytes of the file.
    pub replaces: Span,
    /// What it stands for.
    pub kind: OfferKind,
    /// A few words beside it.
    pub detail: String,
    /// A sentence about it.
    pub says: String,
    /// Other ways of writing by which it is found, such as abbreviations.
    pub also: Vec<String>,
    /// Lower comes first.
    pub rank: u8,
}

impl Offer {
    pub(super) fn new(label: impl Into<String>, replaces: Span, kind: OfferKind) -> Offer {
        let label = label.into();
        Offer {
            text: label.clone(),
            label,
            replaces,
            kind,
            detail: String::new(),
            says: String::new(),
            also: Vec::new(),
            rank: 5,
        }
    }

    pub(super) fn writes(mut self, text: impl Into<String>) -> Offer {
        self.text = text.into();
        self
    }

    pub(super) fn detail(mut self, detail: impl Into<String>) -> Offer {
        self.detail = detail.into();
        self
    }

    pub(super) fn says(mut self, says: impl Into<String>) -> Offer {
        self.says = says.into();
        self
    }

    pub(super) fn also(mut self, also: Vec<String>) -> Offer {
        self.also = also;
        self
    }

    pub(super) fn rank(mut self, rank: u8) -> Offer {
        self.rank = rank;
        self
    }
}
