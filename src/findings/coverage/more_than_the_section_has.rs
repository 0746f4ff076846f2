//! Some of a section, and more of them than the section has.

use crate::findings::card::Card;
use crate::findings::finding::{Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::row::{Can, Count, Fact};
use crate::rule;
use crate::text::{Edit, Span};

rule! {
    /// A band's section of which more players can do something than it has players.
    ///
    /// # Why it matters
    ///
    /// Whether the seconds must cross the break, or who reaches the high note, is judged by these two numbers.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   players
    ///     flute           9
    ///     clarinet        12, 14 over the break
    ///                         ^^^^^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   players
    ///     flute           9, 1 also piccolo
    ///     clarinet        12, 12 over the break
    ///     trumpet         about 7, 8 up to G5
    /// ```
    ///
    /// # What to do
    ///
    /// Fix one of the two numbers.
    MoreThanTheSectionHas: "more than the section has", Coverage, Warning, reads Card, looks at Ensemble
}

/// The two numbers.
pub struct More {
    section: String,
    some: u32,
    all: Count,
    /// Where the smaller number stands.
    some_span: Span,
}

impl Notice for MoreThanTheSectionHas {
    type What = More;

    fn notice(card: &Card<'_>) -> Vec<Noticed<More>> {
        if card.ensemble().is_none() {
            return Vec::new();
        }
        let rows = card.fields("players").flat_map(|field| field.rows());
        let mut found = Vec::new();
        for row in rows {
            let Some(all) = row.row.count.filter(|count| !count.about && !count.open) else {
                continue;
            };
            let names: Vec<String> = row.row.names.iter().map(|name| name.one_form()).collect();
            for fact in row.row.facts.iter().filter(|fact| fact.is_certain()) {
                let Fact::Some {
                    count: Some(some),
                    can,
                } = &fact.what
                else {
                    continue;
                };
                // These come on top of the number, or are only hoped for.
                if matches!(can, Can::More(_) | Can::Maybe) {
                    continue;
                }
                if *some > all.number {
                    let what = More {
                        section: names.join(", "),
                        some: *some,
                        all,
                        some_span: Span::long(fact.span.start, some.to_string().len() as u32),
                    };
                    found.push(Noticed::new(fact.span, what));
                }
            }
        }
        found
    }

    fn say(what: &More, _card: &Card<'_>) -> Saying {
        let of = match what.all.number {
            1 => "1 player".to_owned(),
            number => format!("{number} players"),
        };
        Saying {
            place: what.section.clone(),
            says: format!(
                "The section has {of}, and {} of them are counted here.",
                what.some
            ),
            why: "What a part asks of the section is judged by these two numbers.".to_owned(),
            todo: "Fix one of the two numbers.".to_owned(),
        }
    }

    fn repairs(noticed: &Noticed<More>, card: &Card<'_>) -> Vec<Repair> {
        let what = &noticed.what;
        let mut repairs = Vec::new();
        if card.words(what.some_span) == what.some.to_string() {
            repairs.push(Repair::to_decide(
                format!("Write {} for those", what.all.number),
                vec![Edit::replace(what.some_span, what.all.number.to_string())],
            ));
        }
        repairs.push(Repair::to_decide(
            format!("Write {} for the section", what.some),
            vec![Edit::replace(what.all.span, what.some.to_string())],
        ));
        repairs
    }
}
