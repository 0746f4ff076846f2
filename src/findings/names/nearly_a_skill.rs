//! A skill whose name is nearly that of another.

use crate::catalogue::names::{key, nearly_alike};
use crate::catalogue::{NameUse, Wants};
use crate::findings::card::Card;
use crate::findings::finding::{Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::findings::slips;
use crate::music::skills;
use crate::rule;
use crate::text::Edit;

rule! {
    /// Something asked or taught whose name is a letter or two away from a skill that is known: one with a card,
    /// or one of the usual vocabulary.
    ///
    /// # Why it matters
    ///
    /// Skills are compared by their names. A slip makes the piece ask for something that no band has ever been
    /// taught.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Chorale for the Last Day"
    ///   asks            ties, dotted quarter-eigth
    ///                         ^^^^^^^^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// Words that are no skill of the vocabulary are yours to choose.
    ///
    /// ```levare
    /// piece "Chorale for the Last Day"
    ///   asks            ties, balance to the low brass
    /// ```
    ///
    /// # What to do
    ///
    /// Write the skill's name as it is on the other cards.
    NearlyASkill: "nearly a skill", Names, Warning, reads Catalogue, looks at Any
}

/// A name and the skill it is nearly.
pub struct Nearly {
    field: &'static str,
    name: String,
    skill: String,
}

impl Notice for NearlyASkill {
    type What = Nearly;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Nearly>> {
        let uses = card.entry.uses.iter().filter(|name| name.wants == Wants::Skill);
        let strange: Vec<_> = uses
            .filter(|name| skills::find(&name.name).is_none() && card.snapshot.meant(name).is_empty())
            .collect();
        if strange.is_empty() {
            return Vec::new();
        }
        let known = card.snapshot.known_skills();
        let is_known = |name: &NameUse| {
            let name = key(&name.name);
            known.iter().any(|(key, _)| *key == name)
        };
        strange
            .into_iter()
            .filter(|name| !is_known(name))
            .filter_map(|name| {
                let near = |skill: &&String| {
                    skill.len().abs_diff(name.name.len()) < 4 && nearly_alike(skill, &name.name)
                };
                let skill = known
                    .iter()
                    .map(|(_, skill)| skill)
                    .filter(near)
                    .min_by_key(|skill| slips::slips(skill, &name.name))?;
                let what = Nearly {
                    field: name.field,
                    name: name.name.clone(),
                    skill: skill.clone(),
                };
                Some(Noticed::new(name.span, what))
            })
            .collect()
    }

    fn say(what: &Nearly, _card: &Card<'_>) -> Saying {
        Saying {
            place: what.field.to_owned(),
            says: format!("\"{}\" is nearly the skill \"{}\".", what.name, what.skill),
            why:
                "Skills are compared by their names, so this one is never found among those you have taught."
                    .to_owned(),
            todo: format!("Write {}, if that is meant.", what.skill),
        }
    }

    fn repairs(noticed: &Noticed<Nearly>, _card: &Card<'_>) -> Vec<Repair> {
        let what = &noticed.what;
        vec![Repair {
            title: format!("Write {}", what.skill),
            safe: slips::slips(&what.skill, &what.name) == 1 && what.name.chars().count() > 7,
            edits: vec![Edit::replace(noticed.span, what.skill.clone())],
        }]
    }
}
