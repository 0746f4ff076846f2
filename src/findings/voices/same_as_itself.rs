//! A part that is said to be the same as itself.

use crate::findings::card::Card;
use crate::findings::finding::{Repair, Saying};
use crate::findings::mend;
use crate::findings::pieces::{levels, place};
use crate::findings::rule::{Notice, Noticed};
use crate::music::instruments::key;
use crate::notation::row::{Fact, Relation};
use crate::rule;

rule! {
    /// A part that is the same as itself, goes with itself, or takes its own place. A cue in its own part
    /// is reported by the rule about solos.
    ///
    /// # Why it matters
    ///
    /// The part counts as one that can be left out, since another has the same notes. None has.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Two Lamps"
    ///   parts
    ///     flute           D5-C6
    ///     clarinet 2      same as clarinet 2
    ///                     ^^^^^^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Two Lamps"
    ///   parts
    ///     clarinet 2      same as clarinet 1
    ///   percussion
    ///     snare           1-16
    ///     easy snare      instead of snare
    /// ```
    ///
    /// # What to do
    ///
    /// Look in the score which part has the same notes, and write that one.
    SameAsItself: "same as itself", Voices, Warning, reads Card, looks at Parts | Percussion
}

/// A part that leans on itself.
pub struct Itself {
    place: String,
    part: String,
    relation: Relation,
}

impl Notice for SameAsItself {
    type What = Itself;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Itself>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let mut found = Vec::new();
        for (movement, level) in levels(piece) {
            for (table, rows) in [("parts", &level.parts), ("percussion", &level.percussion)] {
                for row in rows.iter() {
                    let [name] = row.names.as_slice() else { continue };
                    let part = name.one_form();
                    for fact in row.facts.iter().filter(|fact| fact.is_certain()) {
                        let Fact::Relation { relation, target, .. } = &fact.what else {
                            continue;
                        };
                        let spares =
                            !matches!(relation, Relation::CuedIn | Relation::CuesFor | Relation::For);
                        if spares && key(target) == key(&part) {
                            let what = Itself {
                                place: place(movement, table),
                                part: part.clone(),
                                relation: *relation,
                            };
                            found.push(Noticed::new(fact.span, what));
                        }
                    }
                }
            }
        }
        found
    }

    fn say(what: &Itself, _card: &Card<'_>) -> Saying {
        let says = match what.relation {
            Relation::SameAs => format!("{} is said to be the same as itself.", what.part),
            Relation::InsteadOf => format!("{} is said to take its own place.", what.part),
            Relation::Follows => format!("{} is said to follow itself.", what.part),
            _ => format!("{} is said to double itself.", what.part),
        };
        Saying {
            place: what.place.clone(),
            says,
            why: "The part counts as one that can be left out, and nobody else has its notes.".to_owned(),
            todo: "Look in the score which other part has these notes, and write that one.".to_owned(),
        }
    }

    fn repairs(noticed: &Noticed<Itself>, card: &Card<'_>) -> Vec<Repair> {
        let edit = mend::take_fact_out(card.text(), noticed.span);
        vec![Repair::to_decide("Take the words out", vec![edit])]
    }
}
