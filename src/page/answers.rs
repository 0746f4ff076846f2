//! What the catalogue answers about the card under the cursor, as a page, with what can be written because of it.

use serde_json::Value;

use crate::assist::answers::{Asked, of_card};
use crate::pages::answer;

use super::answer::{amiss, answer};
use super::changing::files;
use super::question::At;
use super::sheets::paper_of;
use super::shelf::File;

/// The answer to the question `which`, or in words why there is none.
pub(super) fn of(file: &File<'_>, at: At, which: &str, size: &str) -> Value {
    let Some(asked) = Asked::of_word(which) else {
        return amiss(&format!("There is no question \"{which}\"."));
    };
    let card = file.place(at).map(|place| place.id);
    match of_card(file.page.snapshot(), card, asked) {
        Err(why) => amiss(&why),
        Ok(told) => {
            let write = told.write.as_ref().map(|(title, all)| {
                let edits = all.iter().map(|(number, edits)| (*number, &**edits));
                answer!("title": *title, "files": files(file, edits))
            });
            answer!(
                "html": answer::html(&told.about, &told.answer, paper_of(size)),
                "name": &told.about,
                "write": write,)
        }
    }
}
