//! A card that nothing uses.

use crate::catalogue::model::Facts;
use crate::findings::card::Card;
use crate::findings::finding::Saying;
use crate::findings::rule::{Notice, Noticed};
use crate::notation::Kind;
use crate::rule;

rule! {
    /// A skill that no piece asks and no band is taught, or one of several ensembles that no concert, performance
    /// or handbook names. An instrument's card may wait for its piece.
    ///
    /// # Why it matters
    ///
    /// It does no harm. It may be a card whose name is spelled differently everywhere else.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// skill "off-beats"
    ///        ^^^^^^^^^
    ///   takes           2 weeks
    ///
    /// piece "Gravel Road March"
    ///   asks            triplets
    /// ```
    ///
    /// # Does not
    ///
    /// The only band needs no concert, and a skill may be called by its other words.
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   taught          upbeats
    ///
    /// skill "off-beats"
    ///   also            upbeats
    ///   takes           2 weeks
    /// ```
    ///
    /// # What to do
    ///
    /// Look whether the name is written the same way on the other cards; leave it if it is for later.
    IdleCard: "card nobody uses", Names, Hint, reads Catalogue, looks at Skill | Ensemble
}

impl Notice for IdleCard {
    type What = Kind;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Kind>> {
        let Some(kind) = card.kind().filter(|_| !card.entry.name.is_empty()) else {
            return Vec::new();
        };
        let named = || !card.snapshot.uses_of(card.id).is_empty();
        let idle = match kind {
            Kind::Skill => !named() && !skill_by_other_words(card),
            Kind::Ensemble => card.snapshot.ensembles().len() > 1 && !named(),
            _ => false,
        };
        // A name that other cards write otherwise is told as such.
        match idle && !super::title_not_found::has_own_slip(card) {
            true => vec![Noticed::new(card.head_span(), kind)],
            false => Vec::new(),
        }
    }

    fn say(what: &Kind, card: &Card<'_>) -> Saying {
        let name = &card.entry.name;
        let says = match what {
            Kind::Skill => format!("No piece asks \"{name}\", and no band is taught it."),
            _ => format!("No concert, performance or handbook names \"{name}\"."),
        };
        Saying {
            place: String::new(),
            says,
            why: "It does no harm, but the name may be spelled differently on the other cards.".to_owned(),
            todo: "Compare the names; leave the card if it is for later.".to_owned(),
        }
    }

    const IDLE: bool = true;
}

/// Whether a skill is asked or taught by its other words, or asked in a row of parts.
fn skill_by_other_words(card: &Card<'_>) -> bool {
    let mut words: Vec<&str> = vec![&card.entry.name];
    if let Facts::Skill(skill) = card.facts {
        words.extend(skill.also.iter().map(|also| also.value.as_str()));
    }
    words.iter().any(|word| card.snapshot.others_ask(word, card.id))
}
