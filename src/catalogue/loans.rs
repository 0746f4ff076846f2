//! The loans of a set, put together from the items of the card.

use crate::notation::values::{Day, Loan as Said};
use crate::text::Span;

use super::model::Piece;

/// One loan.
pub struct Loan {
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
pub fn loans(piece: &Piece) -> Vec<Loan> {
    let mut loans: Vec<Loan> = Vec::new();
    for said in &piece.library.lent {
        match (&said.value, loans.last_mut()) {
            (Said::Due(due), Some(loan)) => {
                loan.due = Some((*due, said.span));
                loan.certain &= said.is_certain();
            }
            (Said::Back(_), Some(loan)) => loan.back = true,
            // `to the high school, 2026-05-01`: the day of the loan before it.
            (
                Said::Out {
                    day: Some(day),
                    to: None,
                    part: None,
                },
                Some(loan),
            ) if loan.lent.is_none() && loan.due.is_none() => loan.lent = Some(*day),
            (Said::Out { day, .. }, _) => loans.push(Loan {
                span: said.span,
                words: said.value.to_string(),
                lent: *day,
                due: None,
                back: false,
                certain: said.is_certain(),
            }),
            // A day that it is due, of a loan whose beginning nobody wrote.
            (Said::Due(due), None) => loans.push(Loan {
                span: said.span,
                words: said.value.to_string(),
                lent: None,
                due: Some((*due, said.span)),
                back: false,
                certain: said.is_certain(),
            }),
            (Said::StillOut, Some(loan)) => loan.back = false,
            (Said::Back(_) | Said::StillOut, None) | (Said::Nobody | Said::SignedBy(_), _) => {}
        }
    }
    loans
}
