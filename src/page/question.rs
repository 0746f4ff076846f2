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

/// A question: what is asked, and what that needs. What is not given is empty, and whoever needs it finds nothing
/// there. One plain struct, since a reader for each kind of question would be a tenth of the whole page.
#[derive(Debug, Default, Deserialize)]
#[serde(default)]
pub(super) struct Question {
    /// `begin`: an empty catalogue, read on the day `today` (`2026-10-20`).
    ///
    /// `ready`: the texts of `which` catalogue of the program: `demo` or `starter`.
    ///
    /// `put`: `files` that are new, or have other texts now. `gone`: `file` is gone. `edit`: `edits` of `file`.
    /// `text`: its text, as it would be saved.
    ///
    /// `found`: the findings of `file`; `written` is where the last edit ended, while that line is still being
    /// written. `everywhere`: the findings of all files. `lines`: all findings from `least` on as
    /// `levare proofread --as json` writes them, known ones only where `all` are asked for.
    ///
    /// `hover`: what there is to say about the place `at`. `offers`: what could be written there; `blank` when a
    /// blank was typed and nothing was asked for. `offer`: more about the one called `words`. `example`: what the
    /// value there looks like. `tidied`: what is put right after `words` was typed in front of it.
    ///
    /// `card`: where the card stands that is named at the place; `uses`: where it is used; `alike`: where the name
    /// stands in the file. `find`: the cards whose names are like `words`, or that meet them.
    ///
    /// `outline`, `folds`, `lenses`, `links` of a file; `colors` and `hints` of what is `within` a stretch.
    ///
    /// `fixes` of what is found `within` a stretch; `fix_all` that need no decision; `works`: what else can be done
    /// at the place; `work`: one of those, by its title in `words`. `name`: what can be renamed there; `rename`: its new
    /// name in `words`. `recopy`: the file in the one form. `reason`: why the finding called `words` is one.
    ///
    /// `answer`: what the catalogue answers to the question `which` (`choose`, `teach`, `buy`, `library`, `season`)
    /// about the card at the place, as a page on paper of a `size`, with what can be written because of it. Every
    /// piece meets the conditions in `words`, and no more than the `budget` is spent.
    ///
    /// `sheet`: the page `which` (`door`, `seating`, `counting`) of the card at the place on paper of a `size`
    /// (`letter`, `tabloid`, `a4`, `a3`).
    pub(super) ask: String,
    pub(super) file: String,
    pub(super) at: At,
    pub(super) within: Range,
    pub(super) written: Option<At>,
    pub(super) files: Vec<NewFile>,
    pub(super) edits: Vec<Typed>,
    /// One of the words above.
    pub(super) which: String,
    pub(super) size: String,
    pub(super) today: String,
    pub(super) budget: String,
    pub(super) least: String,
    pub(super) all: bool,
    pub(super) blank: bool,
    /// A label, words, a title, a new name, a phrase, what was typed, conditions.
    pub(super) words: String,
}
