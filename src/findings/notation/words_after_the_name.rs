//! Words behind a card's name.

use crate::findings::card::Card;
use crate::findings::finding::{Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::fields;
use crate::rule;
use crate::text::{Edit, Span};

use super::walk::{ending_of, indent_of};

rule! {
    /// Words after a card's name on the same line that are not a remark.
    ///
    /// # Why it matters
    ///
    /// Only the name is read there. A composer or a grade after the title looks as if it counted, and does not.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Air" by Tam Lindqvist
    ///             ^^^^^^^^^^^^^^^^
    ///   style           lyrical
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Air" (the one with the horn solo)
    ///   style           lyrical
    /// ```
    ///
    /// # What to do
    ///
    /// Move the words to a line of their own.
    WordsAfterTheName: "words after the name", Notation, Warning, reads Card, looks at Any
}

impl Notice for WordsAfterTheName {
    type What = Span;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Span>> {
        let head = card.reading.tree.head.iter();
        head.filter_map(|head| {
            Some(Noticed::new(
                head.rest?,
                Span::new(head.name_span.end, head.rest?.end),
            ))
        })
        .collect()
    }

    fn say(what: &Span, card: &Card<'_>) -> Saying {
        let words = card
            .words(*what)
            .trim_start_matches(super::name_without_quotes::is_quote)
            .trim();
        Saying {
            place: String::new(),
            says: format!("\"{words}\" comes after the name, where nothing else is read."),
            why: "It looks as if it counted, but nothing reads it.".to_owned(),
            todo: "Move it to a line of its own below the name.".to_owned(),
        }
    }

    fn repairs(noticed: &Noticed<Span>, card: &Card<'_>) -> Vec<Repair> {
        let written = card.words(noticed.span);
        let words = written.trim_start_matches([',', ';', ':', '-', '–', '—', ' ']);
        let specs = card.kind().map_or(&[][..], fields::fields_of);
        // What starts like a line of the card can only have been meant as that line.
        let field = fields::find(specs, words).map(|(spec, _)| spec);
        let twice = field.is_some_and(|spec| card.fields(spec.name).next().is_some());
        let lead = match field {
            Some(_) => "",
            None => "notes ",
        };
        let gap = gap_before(card, noticed.span);
        let line = format!("{}{}{lead}{words}", ending_of(card.text()), indent_of(card));
        vec![Repair {
            title: "Move it to a line of its own".to_owned(),
            safe: field.is_some() && !twice,
            edits: vec![Edit::replace(Span::new(gap, noticed.span.end), line)],
        }]
    }
}

/// Where the blanks in front of a place start.
fn gap_before(card: &Card<'_>, span: Span) -> u32 {
    let head = card.text().get(..span.start as usize).unwrap_or("");
    head.trim_end_matches([' ', '\t', '\u{a0}']).len() as u32
}
