//! A part that leans on another which is not among the parts.

use crate::catalogue::model::Piece;
use crate::findings::card::Card;
use crate::findings::finding::{Repair, Saying};
use crate::findings::pieces::{levels, place};
use crate::findings::rule::{Notice, Noticed};
use crate::music::instruments::split_part;
use crate::notation::row::{Fact, Relation, RowItem, RowName};
use crate::rule;
use crate::text::sentences::joined;
use crate::text::{Edit, Span};

rule! {
    /// A part that is the same as another, cued in it or takes its place, where the other has a number that
    /// the card's parts do not go up to. Only an instrument whose parts are listed with numbers from 1 is
    /// looked at: a card that names a few parts says nothing about the others.
    ///
    /// # Why it matters
    ///
    /// The doubling is counted on when somebody is away, and the cue is looked for in the wrong folder.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Two Lamps"
    ///   parts
    ///     flute 1         D5-C6
    ///     flute 2         D5-G5
    ///     oboe            same as flute 3
    ///                             ^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Two Lamps"
    ///   parts
    ///     flute 1-2
    ///     clarinet 2      G3-A4
    ///     oboe            same as flute 2
    ///     bassoon         with tuba
    ///     alto sax        cued in clarinet 1
    /// ```
    ///
    /// # What to do
    ///
    /// Write the part that is meant, or add its row.
    LeansOnAMissingPart: "leans on a missing part", Voices, Warning, reads Catalogue,
        looks at Parts | Percussion
}

/// A relation to a part that is not there.
pub struct Leaning {
    place: String,
    part: String,
    relation: Relation,
    target: String,
    there: Vec<String>,
    /// The part that may be meant, where the words name one part only.
    nearest: Option<String>,
}

const LEANING: [Relation; 6] = [
    Relation::SameAs,
    Relation::With,
    Relation::InsteadOf,
    Relation::CuedIn,
    Relation::Doubles,
    Relation::Follows,
];

impl Notice for LeansOnAMissingPart {
    type What = Leaning;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Leaning>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let mut found = Vec::new();
        for (movement, level) in levels(piece) {
            let tables = [("parts", &level.parts), ("percussion", &level.percussion)];
            for (table, rows) in tables {
                for row in rows.iter() {
                    let at = place(movement, table);
                    found.extend(leaning(card, piece, level, row, &at));
                }
            }
        }
        found
    }

    fn say(what: &Leaning, _card: &Card<'_>) -> Saying {
        Saying {
            place: what.place.clone(),
            says: format!(
                "{} is {} {}, and the card lists only {}.",
                what.part,
                match what.relation {
                    Relation::Doubles => "said to double",
                    Relation::Follows => "said to follow",
                    relation => relation.words(),
                },
                what.target,
                joined(&what.there)
            ),
            why: "You count on that doubling or cue when somebody is away, and it is not there.".to_owned(),
            todo: "Write the part that is meant, or add its row to the parts.".to_owned(),
        }
    }

    fn repairs(noticed: &Noticed<Leaning>, _card: &Card<'_>) -> Vec<Repair> {
        let nearest = noticed.what.nearest.iter();
        nearest
            .map(|part| {
                Repair::to_decide(
                    format!("Write {part}"),
                    vec![Edit::replace(noticed.span, part.clone())],
                )
            })
            .collect()
    }
}

fn leaning(card: &Card<'_>, piece: &Piece, level: &Piece, row: &RowItem, at: &str) -> Vec<Noticed<Leaning>> {
    let relations = row.facts.iter().filter(|fact| fact.is_certain());
    let relations = relations.filter_map(|fact| match &fact.what {
        Fact::Relation {
            relation,
            target,
            target_span,
            ..
        } if LEANING.contains(relation) => Some((*relation, target, *target_span)),
        _ => None,
    });
    let mut found = Vec::new();
    for (relation, target, span) in relations {
        let others: Vec<&str> = target
            .split(',')
            .flat_map(|piece| piece.split(" and "))
            .flat_map(|piece| piece.split(" or "))
            .map(str::trim)
            .collect();
        let missing = others.iter().find_map(|other| {
            let (name, number) = split_part(other);
            Some((
                *other,
                name,
                listed(card, piece, level, name, u32::from(number?))?,
            ))
        });
        let Some((other, name, there)) = missing else {
            continue;
        };
        let nearest = there
            .iter()
            .filter_map(|part| part.numbers)
            .map(|(_, last)| last)
            .max();
        found.push(Noticed::new(
            trimmed(card, span),
            Leaning {
                place: at.to_owned(),
                part: row
                    .names
                    .iter()
                    .map(RowName::one_form)
                    .collect::<Vec<_>>()
                    .join(", "),
                relation,
                target: other.to_owned(),
                there: there.iter().map(|part| part.one_form()).collect(),
                nearest: nearest
                    .filter(|_| others.len() == 1)
                    .map(|number| format!("{name} {number}")),
            },
        ));
    }
    found
}

/// The place without blanks at its end.
fn trimmed(card: &Card<'_>, span: Span) -> Span {
    Span::long(span.start, card.words(span).trim_end().len() as u32)
}

/// The numbered parts of an instrument, where they go from 1 and this number is not among them.
fn listed<'p>(
    card: &Card<'_>,
    piece: &'p Piece,
    level: &'p Piece,
    instrument: &str,
    number: u32,
) -> Option<Vec<&'p RowName>> {
    let wanted = &card.instrument(instrument)?.name;
    let same_level = std::ptr::eq(piece, level);
    let rows = level
        .parts
        .iter()
        .chain(piece.parts.iter().filter(|_| !same_level));
    let there: Vec<&RowName> = rows
        .flat_map(|row| &row.names)
        .filter(|name| {
            card.instrument(&name.text)
                .is_some_and(|found| found.name == *wanted)
        })
        .collect();
    let numbers: Option<Vec<(u32, u32)>> = there.iter().map(|name| name.numbers).collect();
    let numbers = numbers?;
    let holds = |wanted: u32| {
        numbers
            .iter()
            .any(|(first, last)| (*first..=*last).contains(&wanted))
    };
    let open = there.iter().any(|name| name.open);
    (holds(1) && !holds(number) && !open).then_some(there)
}
