//! A line whose first words are no field of the card.

use crate::findings::card::Card;
use crate::findings::finding::{Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::fields::{self, FieldSpec, Shape};
use crate::notation::starts_indented;
use crate::notation::{FieldReading, Kind, takers};
use crate::rule;
use crate::text::{Edit, Span};

use super::walk::Level;
use crate::findings::slips::{self, Near};
use crate::text::sentences::article;

rule! {
    /// A line that starts with a word its card does not have.
    ///
    /// # Why it matters
    ///
    /// A line that is not known is not read. A slip in `percussion` would leave the piece with no percussion at
    /// all, and nothing would be said about your six players.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Ferry Street March"
    ///   publsher        Rivermark Editions
    ///   ^^^^^^^^
    /// ```
    ///
    /// ```levare
    /// piece "Ferry Street March"
    ///   library
    ///     shelff          cabinet 3
    ///     ^^^^^^
    /// ```
    ///
    /// ```levare
    /// piece "Ferry Street March"
    ///   percussionists  6
    ///   ^^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// Other words that directors use for a line are known too.
    ///
    /// ```levare
    /// piece "Ferry Street March"
    ///   composer        Tam Lindqvist
    ///   bars            88
    /// ```
    ///
    /// # What to do
    ///
    /// Fix the word, or write `notes` in front of the line.
    WordNotOnTheCard: "word not on the card", Notation, Error, reads Card, looks at Any
}

/// A word and what may have been meant.
pub struct Unknown {
    word: String,
    place: String,
    near: Option<Near>,
    /// The lines that a director may mean by such a word.
    meant: Vec<&'static str>,
    /// The lines that would understand all of it, where it only lacks their word.
    takers: Vec<&'static str>,
    /// Whether the line that was probably meant is on the card already.
    there: bool,
    kind: Option<Kind>,
    /// The kind of card that has such a line; this card's own when only the place is wrong.
    elsewhere: Option<Kind>,
    may_be_note: bool,
}

impl Notice for WordNotOnTheCard {
    type What = Unknown;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Unknown>> {
        let mut found = Vec::new();
        for level in card.levels() {
            for field in level.fields.iter().filter(|field| field.spec.is_none()) {
                // The start of a card that slipped from the margin is told as that.
                let whole = field.whole.slice(card.text());
                if starts_indented(whole.lines().next().unwrap_or("")) {
                    continue;
                }
                found.push(unknown(card, level, field));
            }
        }
        found
    }

    fn say(what: &Unknown, _card: &Card<'_>) -> Saying {
        let on = match (what.place.as_str(), what.kind) {
            ("", Some(kind)) => format!("{} {kind} card", article(kind.word())),
            ("", None) => "this card".to_owned(),
            (place, _) => place.to_owned(),
        };
        let meant = match (&what.near, what.elsewhere) {
            _ if what.meant == ["notes"] => " Such words go under \"notes\".".to_owned(),
            _ if !what.meant.is_empty() => {
                format!(" What you mean goes under \"{}\".", what.meant.join("\" or \""))
            }
            _ if !what.takers.is_empty() => {
                format!(" It reads like \"{}\".", what.takers.join("\" or \""))
            }
            (Some(near), _) => format!(" Perhaps \"{}\"?", near.word),
            (None, Some(kind)) if Some(kind) == what.kind => {
                " It belongs further out, among the lines of the card itself.".to_owned()
            }
            (None, Some(kind)) => format!(" It belongs on {} {kind} card.", article(kind.word())),
            (None, None) => String::new(),
        };
        Saying {
            place: what.place.clone(),
            says: format!("\"{}\" is not a line of {on}.{meant}", what.word),
            why: "A line that is not known is not read, so nothing on it is checked for your band."
                .to_owned(),
            todo: match &what.near {
                _ if what.meant == ["notes"] => "Put notes in front of the line.".to_owned(),
                _ if what.meant == ["library"] => {
                    "Write a library line, and this one below it, farther in.".to_owned()
                }
                _ if !what.meant.is_empty() => format!(
                    "Write {} and say it in that line's words, or put notes in front of the line.",
                    what.meant.join(" or ")
                ),
                _ if !what.takers.is_empty() => {
                    format!("Put {} in front of the line, or notes.", what.takers.join(" or "))
                }
                Some(near) => format!("Write {}, or put notes in front of the line.", near.word),
                None => "Use one of the card's own words, or put notes in front of the line.".to_owned(),
            },
        }
    }

    fn repairs(noticed: &Noticed<Unknown>, _card: &Card<'_>) -> Vec<Repair> {
        let what = &noticed.what;
        let mut repairs = Vec::new();
        // Whether the words fit the other line is for the director to see.
        let others = what
            .meant
            .iter()
            .filter(|field| !matches!(**field, "notes" | "library"));
        for field in others {
            repairs.push(Repair::to_decide(
                format!("Write \"{field}\""),
                vec![Edit::replace(noticed.span, *field)],
            ));
        }
        for field in &what.takers {
            repairs.push(Repair::to_decide(
                format!("Put \"{field}\" in front of the line"),
                vec![Edit::insert(noticed.span.start, format!("{field} "))],
            ));
        }
        if let Some(near) = &what.near {
            repairs.push(Repair {
                title: format!("Write \"{}\"", near.word),
                // `from` and `form` are both words: a short one may be meant as it stands.
                safe: near.certain && !what.there && what.word.chars().count() > 4,
                edits: vec![Edit::replace(noticed.span, near.word.clone())],
            });
        }
        if what.may_be_note {
            repairs.push(Repair::to_decide(
                "Keep the line as a note",
                vec![Edit::insert(noticed.span.start, "notes ")],
            ));
        }
        repairs
    }
}

fn unknown(card: &Card<'_>, level: &Level<'_>, field: &FieldReading) -> Noticed<Unknown> {
    let line = card.reading.tree.lines.get(field.line);
    let end = line.map_or(field.word.end, |line| line.body.end);
    let rest = Span::new(field.word.start, end.max(field.word.end));
    let kind = card.kind().filter(|_| level.movement.is_none());
    let meant = kind.map(|kind| fields::meant::meant(kind, level.place == "library", card.words(rest)));
    let meant = meant.unwrap_or_default();
    let (span, near) = match meant.first() {
        Some(meant) => {
            let length = fields::starts_with_words(card.words(rest), meant.word);
            (Span::long(rest.start, length.unwrap_or(0) as u32), None)
        }
        None => nearest(card, level.specs, field),
    };
    let word = card.words(span).to_owned();
    let there = near
        .as_ref()
        .and_then(|near| fields::named(level.specs, &near.word))
        .is_some_and(|spec| {
            let written = level.fields.iter().any(|other| other.name() == Some(spec.name));
            written && matches!(spec.shape, Shape::Value(_))
        });
    let takers = match kind.filter(|_| meant.is_empty() && near.is_none() && level.place.is_empty()) {
        Some(kind) => takers(kind, card.words(rest)),
        None => Vec::new(),
    };
    let written = word.to_lowercase();
    let has = |kind: &Kind| fields::named(fields::fields_of(*kind), &written).is_some();
    let elsewhere = match near {
        _ if !meant.is_empty() => None,
        Some(_) => None,
        None => card.kind().into_iter().chain(Kind::ALL).find(has),
    };
    Noticed::new(
        span,
        Unknown {
            word,
            place: level.place.clone(),
            near,
            takers,
            meant: meant.iter().map(|meant| meant.field).collect(),
            there,
            kind: card.kind(),
            elsewhere,
            may_be_note: fields::named(level.specs, "notes").is_some(),
        },
    )
}

/// The words that were probably meant for a field's name, one or two of them, and that name.
fn nearest(card: &Card<'_>, specs: &'static [FieldSpec], field: &FieldReading) -> (Span, Option<Near>) {
    let names = specs
        .iter()
        .flat_map(|spec| std::iter::once(spec.name).chain(spec.also.iter().copied()));
    let line = card.reading.tree.lines.get(field.line);
    let end = line.map_or(field.word.end, |line| line.body.end);
    let text = Span::new(field.word.start, end.max(field.word.end)).slice(card.text());
    let mut spans = vec![field.word];
    let mut words = 0;
    for (at, _) in text.match_indices([' ', '\t']).take(8) {
        if text.get(..at).is_some_and(|head| !head.ends_with([' ', '\t'])) {
            words += 1;
            if words <= 2 {
                spans.push(Span::long(field.word.start, at as u32));
            }
        }
    }
    spans
        .into_iter()
        .filter_map(|span| {
            let written = span.slice(card.text());
            let written = written.trim_end_matches([':', '=']);
            let near = slips::near(written, names.clone())?;
            let away = slips::slips(written, &near.word);
            // Words of the value are no slip: two words stand for a name of two words only.
            let fits = near.word.split(' ').count() == written.split_whitespace().count();
            fits.then_some((away, Span::long(span.start, written.len() as u32), near))
        })
        .min_by_key(|(away, span, _)| (*away, std::cmp::Reverse(span.len())))
        .map_or((field.word, None), |(_, span, near)| (span, Some(near)))
}
