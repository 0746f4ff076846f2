//! What the page can be asked. Each question is a JSON object whose `ask` names it.

use serde::Deserialize;

/// A place: line and column.
pub(super) type At = [u32; 2];
/// A stretch: from line and column to line and column.
pub(super) type Range = [u32; 4];

/// One edit of a text. Several are made one after another, each on what the one before left.
#[derive(Debug, Deserialize)]
pub(super) struct Typed {
    /// The stretch that is replaced.
    pub(super) at: Range,
    /// What stands there afterwards.
    pub(super) text: String,
}

/// A file with its text.
#[derive(Debug, Deserialize)]
pub(super) struct NewFile {
    pub(super) file: String,
    pub(super) text: String,
}

/// A sheet of paper.
#[derive(Debug, Clone, Copy, Deserialize, PartialEq, Eq)]
#[serde(rename_all = "lowercase")]
pub(super) enum Size {
    Letter,
    Tabloid,
    A4,
    A3,
}

/// A page to print.
#[derive(Debug, Clone, Copy, Deserialize, PartialEq, Eq)]
#[serde(rename_all = "lowercase")]
pub(super) enum Which {
    Door,
    Seating,
    Counting,
}

/// A question.
#[derive(Debug, Deserialize)]
#[serde(tag = "ask", rename_all = "snake_case")]
pub(super) enum Question {
    /// An empty catalogue, read on this day (`2026-10-20`).
    Begin { today: String },
    /// The texts of a catalogue that is part of the program: `demo` or `starter`.
    Ready { which: String },
    /// Files that are new, or have other texts now.
    Put { files: Vec<NewFile> },
    /// A file that is gone.
    Gone { file: String },
    /// Edits of a file.
    Edit { file: String, edits: Vec<Typed> },
    /// A file's text, as it would be saved.
    Text { file: String },
    /// The findings of a file; `written` is where the last edit ended, while that line is still being written.
    Found { file: String, written: Option<At> },
    /// The findings of all files.
    Everywhere,
    /// All findings as `levare proofread --as json` writes them, from `least` on.
    Lines { least: String, all: bool },
    /// What there is to say about a place.
    Hover { file: String, at: At },
    /// What could be written at a place; `blank` when a blank was typed there and nothing was asked for.
    Offers { file: String, at: At, blank: bool },
    /// More about the offer of a label.
    Offer { file: String, at: At, label: String },
    /// What the value at a place looks like.
    Example { file: String, at: At },
    /// What is put right after something was typed.
    Tidied { file: String, at: At, typed: String },
    /// Where the card stands that is named at a place.
    Card { file: String, at: At },
    /// Where the card at a place is used.
    Uses { file: String, at: At },
    /// Where the name at a place stands in the file.
    Alike { file: String, at: At },
    /// The cards whose names are like some letters, or that meet conditions.
    Find { words: String },
    /// The outline of a file.
    Outline { file: String },
    /// What can be folded: pairs of lines.
    Folds { file: String },
    /// What each word of some lines is.
    Colors { file: String, within: Range },
    /// The lines above cards.
    Lenses { file: String },
    /// The facts at the ends of lines.
    Hints { file: String, within: Range },
    /// Addresses that lead out of the catalogue.
    Links { file: String },
    /// The fixes of what is found in a stretch.
    Fixes { file: String, within: Range },
    /// All fixes of a file that need no decision.
    FixAll { file: String },
    /// What else can be done at a place.
    Works { file: String, at: At },
    /// One of those, by its title.
    Work { file: String, at: At, title: String },
    /// What can be renamed at a place.
    Name { file: String, at: At },
    /// A new name for it.
    Rename { file: String, at: At, new: String },
    /// A file in the one form.
    Recopy { file: String },
    /// Why a finding is one.
    Reason { phrase: String },
    /// A page to print of the card at a place.
    Sheet {
        file: String,
        at: At,
        which: Which,
        size: Size,
    },
}
