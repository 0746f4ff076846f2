//! Lines that stand above all cards of a file.

use crate::findings::card::Card;
use crate::findings::finding::{Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::Kind;
use crate::notation::tree::StrayWhy;
use crate::rule;
use crate::text::{Edit, Span};

use super::line_at_the_margin::kind_meant;
use crate::findings::slips;

rule! {
    /// A line above the first card of a file that is not a remark.
    ///
    /// # Why it matters
    ///
    /// It belongs to no piece and no band, so nobody will ever be told what it says.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// Winter pieces
    /// ^^^^^^^^^^^^^
    /// piece "Sleds"
    ///   style           holiday
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// (Winter pieces)
    /// piece "Sleds"
    ///   style           holiday
    /// ```
    ///
    /// # What to do
    ///
    /// Put it in parentheses, move it to a card, or start a card above it.
    LineAboveTheFirstCard: "line above the first card", Notation, Warning, reads Card, looks at Any
}

/// The first of the lines.
pub struct Above {
    lines: usize,
    kind: Option<(Kind, Span)>,
    words: String,
}

impl Notice for LineAboveTheFirstCard {
    type What = Above;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Above>> {
        let strays = card.reading.tree.strays.iter();
        let above: Vec<_> = strays.filter(|stray| stray.why == StrayWhy::AboveFirst).collect();
        let first = above.first().into_iter();
        first
            .map(|stray| {
                Noticed::new(
                    stray.body,
                    Above {
                        lines: above.len(),
                        kind: kind_meant(card, stray.body),
                        words: card.words(stray.body).to_owned(),
                    },
                )
            })
            .collect()
    }

    fn say(what: &Above, _card: &Card<'_>) -> Saying {
        let (lines, belong) = match what.lines {
            1 => ("This line is".to_owned(), "belongs"),
            lines => (format!("These {lines} lines are"), "belong"),
        };
        let says = match what.kind {
            Some((kind, _)) => format!("{lines} above the first card of the file; was {kind} meant?"),
            None => format!("{lines} above the first card of the file and {belong} to none."),
        };
        Saying {
            place: String::new(),
            says,
            why: "Nothing above the first card is read, so what it says is lost.".to_owned(),
            todo: match what.kind {
                Some((kind, _)) => format!("Write {kind} at the start of the line."),
                None => "Put it in parentheses as a remark, or move it to a card.".to_owned(),
            },
        }
    }

    fn repairs(noticed: &Noticed<Above>, card: &Card<'_>) -> Vec<Repair> {
        let what = &noticed.what;
        if let Some((kind, span)) = what.kind {
            return vec![Repair {
                title: format!("Write {kind}"),
                safe: slips::slips(card.words(span), kind.word()) == 1,
                edits: vec![Edit::replace(span, kind.word())],
            }];
        }
        if what.lines > 1 || what.words.contains(['(', ')']) {
            return Vec::new();
        }
        vec![Repair::to_decide(
            "Make it a remark",
            vec![
                Edit::insert(noticed.span.start, "("),
                Edit::insert(noticed.span.end, ")"),
            ],
        )]
    }
}
