//! What the catalogue answers about the card under the cursor, as a page, with what can be written because of it.

use serde_json::Value;

use crate::assist::answers::limits::Limits;
use crate::assist::answers::{Asked, of_card};
use crate::pages::answer;

use super::answer::{amiss, answer};
use super::changing::files;
use super::question::Question;
use super::sheets::paper_of;
use super::shelf::File;

/// The answer to a question, or in words why there is none.
pub(super) fn of(file: &File<'_>, question: &Question) -> Value {
    let Question {
        which,
        size,
        words,
        budget,
        ..
    } = question;
    let Some(asked) = Asked::of_word(which) else {
        return amiss(&format!("There is no question \"{which}\"."));
    };
    let card = file.place(question.at).map(|place| place.id);
    let snapshot = file.page.snapshot();
    let limits = Limits::read(snapshot, words, budget);
    match limits.and_then(|limits| of_card(snapshot, card, asked, limits)) {
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
