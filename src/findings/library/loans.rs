//! The loans of a set, put together from the words of the card.

use crate::catalogue::model::{Piece, Said};
use crate::notation::values::Day;
use crate::text::Span;

/// One loan.
pub(super) struct Loan {
    /// Where it begins.
    pub span: Span,
    /// When and to whom, as written.
    pub words: String,
    /// The day it was lent, where it is said.
    pub lent: Option<Day>,
    /// The day it is due, where it is said.
    pub due: Option<(Day, Span)>,
    /// Whether the card says that it came back.
    pub back: bool,
    /// Whether nothing in it is an open question.
    pub certain: bool,
}

/// All loans of a piece. Whatever is neither `due` nor `back` begins another one.
pub(super) fn loans(piece: &Piece) -> Vec<Loan> {
    let mut loans: Vec<Loan> = Vec::new();
    for said in &piece.library.lent {
        let words = said.value.as_str();
        let back = words.starts_with("back") || words.starts_with("returned");
        match (words.strip_prefix("due "), back) {
            (Some(due), _) => {
                let due = Day::read(due.strip_prefix("back ").unwrap_or(due));
                if let Some(loan) = loans.last_mut() {
                    loan.due = due.map(|day| (day, said.span)).or(loan.due);
                    loan.certain &= said.is_certain();
                }
            }
            (None, true) => {
                if let Some(loan) = loans.last_mut() {
                    loan.back = true;
                }
            }
            (None, false) => loans.push(begun(said)),
        }
    }
    loans
}

fn begun(said: &Said<String>) -> Loan {
    let first = said.value.split(" to ").next().unwrap_or("");
    Loan {
        span: said.span,
        words: said.value.clone(),
        lent: Day::read(first),
        due: None,
        back: false,
        certain: said.is_certain(),
    }
}
