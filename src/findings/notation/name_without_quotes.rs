//! A card whose name is not between quotation marks.

use crate::findings::card::Card;
use crate::findings::finding::{Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::Kind;
use crate::notation::tree::StrayWhy;
use crate::rule;
use crate::text::{Edit, Span};

rule! {
    /// A card whose name lacks its quotation marks, or one of the two.
    ///
    /// # Why it matters
    ///
    /// A title without quotation marks starts no card, so the piece is on no list and its lines are lost.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece Harbor Parade
    ///       ^^^^^^^^^^^^^
    ///   grade 1.5
    /// ```
    ///
    /// ```levare
    /// piece "Tin Roof Tango
    ///        ^^^^^^^^^^^^^^
    ///   grade 2
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece “Tin Roof Tango”
    ///   grade 2
    /// ```
    ///
    /// # What to do
    ///
    /// Put the name between quotation marks.
    NameWithoutQuotes: "name without quotes", Notation, Error, reads Card, looks at Any
}

/// A name without one or both of its quotation marks.
pub struct Bare {
    kind: Kind,
    name: String,
    /// Whether the first quotation mark is there.
    opened: bool,
}

impl Notice for NameWithoutQuotes {
    type What = Bare;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Bare>> {
        let head = card.reading.tree.head.iter().filter(|head| !head.closed);
        let opened = head.map(|head| (head.kind, head.name_span, true));
        let strays = card
            .reading
            .tree
            .strays
            .iter()
            .filter_map(|stray| match stray.why {
                StrayWhy::NameNotQuoted(kind) => Some((kind, name_of(card, stray.body, kind)?, false)),
                _ => None,
            });
        opened
            .chain(strays)
            .map(|(kind, span, opened)| {
                let name = card.words(span).to_owned();
                Noticed::new(span, Bare { kind, name, opened })
            })
            .collect()
    }

    fn say(what: &Bare, _card: &Card<'_>) -> Saying {
        Saying {
            place: String::new(),
            says: match what.opened {
                true => format!("The quotation mark at the end of \"{}\" is missing.", what.name),
                false => format!("The name {} has no quotation marks.", what.name),
            },
            why: format!(
                "Only a name between quotation marks makes a {} card that programs and lists can find.",
                what.kind
            ),
            todo: format!("Write {} \"{}\".", what.kind, what.name),
        }
    }

    fn repairs(noticed: &Noticed<Bare>, card: &Card<'_>) -> Vec<Repair> {
        let name = &noticed.what.name;
        if name.is_empty() || name.contains(is_quote) {
            return Vec::new();
        }
        if noticed.what.opened {
            let before = Span::new(noticed.span.start.saturating_sub(4), noticed.span.start);
            let quote = match card.words(before).contains(['“', '„']) {
                true => "”",
                false => "\"",
            };
            return vec![Repair::safe(
                "Close the quotation marks",
                vec![Edit::insert(noticed.span.end, quote)],
            )];
        }
        vec![Repair::safe(
            format!("Write {} \"{name}\"", noticed.what.kind),
            vec![
                Edit::insert(noticed.span.start, "\""),
                Edit::insert(noticed.span.end, "\""),
            ],
        )]
    }
}

/// Whether a character is one of the quotation marks that people type.
pub(in crate::findings) fn is_quote(c: char) -> bool {
    matches!(c, '"' | '“' | '”' | '„' | '«' | '»')
}

/// The name behind a kind's word, without a remark after it.
fn name_of(card: &Card<'_>, body: Span, kind: Kind) -> Option<Span> {
    let text = card.words(body);
    let rest = text.get(kind.word().len()..)?;
    let lead = rest.len() - rest.trim_start().len();
    let name = rest.trim_start();
    let end = name.find(" (").unwrap_or(name.len());
    let name = name.get(..end)?.trim_end();
    let start = body.start + (kind.word().len() + lead) as u32;
    (!name.is_empty()).then(|| Span::long(start, name.len() as u32))
}
