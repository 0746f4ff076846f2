//! The catalogue behind a page of a browser: files and edits go in, questions are answered, all of it JSON.
//!
//! What is answered is worked out in `assist`, `findings` and `pages`, by the functions that the desk and the command
//! line ask too; here it is only put into JSON. A place is `[line, column]`, a stretch `[line, column, line, column]`,
//! both from 0, columns in UTF-16 units: so a place is the same however lines end. Edits of one answer are meant for
//! the text as it is, and do not overlap.

mod answer;
mod answers;
mod changing;
mod found;
mod looks;
mod moving;
mod places;
mod question;
mod sheets;
mod shelf;
mod writing;

#[cfg(test)]
mod tests;

pub use shelf::Page;
