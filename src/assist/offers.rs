//! What completion offers, before it is cut to what fits.

use crate::text::Span;

use super::drafts::Draft;

/// What an offer stands for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum OfferKind {
    /// A kind of card.
    Kind,
    /// A whole card, or all lines that one usually has.
    Card,
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
    /// What is written with blanks to fill in, for editors that can step from one to the next.
    pub draft: Option<Draft>,
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
            draft: None,
        }
    }

    /// An offer that has blanks to be filled in.
    pub(super) fn drafts(mut self, draft: Draft) -> Offer {
        self.text = draft.plain();
        self.draft = Some(draft);
        self
    }

    /// Whether what is typed so far can become this offer: it begins the offer, one of its words, or one of
    /// the other ways to write it.
    pub(super) fn fits(&self, typed: &str) -> bool {
        let typed = squeezed(typed);
        if typed.is_empty() {
            return true;
        }
        std::iter::once(self.label.as_str())
            .chain(std::iter::once(self.text.as_str()))
            .chain(self.also.iter().map(String::as_str))
            .any(|words| {
                let mut rest = words;
                loop {
                    if squeezed(rest).starts_with(&typed) {
                        return true;
                    }
                    match rest.find([' ', '-', '"']) {
                        Some(at) => rest = rest.get(at + 1..).unwrap_or(""),
                        None => return false,
                    }
                }
            })
    }

    /// Whether what is typed so far is all that the offer would write.
    pub(super) fn is_typed(&self, typed: &str) -> bool {
        self.text.trim().eq_ignore_ascii_case(typed.trim())
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

/// How words are compared while they are typed: capitals, blanks and points do not matter.
fn squeezed(words: &str) -> String {
    words
        .chars()
        .filter(|c| !c.is_whitespace() && !matches!(c, '.' | '"' | '“' | '”' | '„'))
        .flat_map(char::to_lowercase)
        .collect()
}
