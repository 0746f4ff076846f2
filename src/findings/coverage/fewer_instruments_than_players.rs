//! Instruments that the school lends, fewer than their players.

use crate::findings::card::Card;
use crate::findings::finding::Saying;
use crate::findings::rule::{Notice, Noticed};
use crate::rule;
use crate::text::Span;
use crate::text::sentences::{agree, counted};

/// Instruments that a school lends, since few families own one (common practice, no source).
const LENT_BY_SCHOOLS: [&str; 12] = [
    "horn",
    "mellophone",
    "euphonium",
    "baritone",
    "tuba",
    "oboe",
    "bassoon",
    "contrabassoon",
    "bass clarinet",
    "contrabass clarinet",
    "baritone sax",
    "string bass",
];

rule! {
    /// Fewer of an instrument that schools lend (horn, tuba, euphonium, bassoon and the like; common practice, no
    /// source) under `owns` than the band has players on it. Only where `owns` counts it.
    ///
    /// # Why it matters
    ///
    /// Whoever has no instrument of their own and gets none from the school sits in rehearsal with empty hands.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   players         flute 9, horn 5
    ///   owns            snare, bass drum, 3 horns
    ///                                     ^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   players         flute 9, horn 3, tuba 2
    ///   owns            snare, 2 flutes, 3 horns
    /// ```
    ///
    /// # What to do
    ///
    /// Rent or borrow what is short, or let the finding stand and write who brings one from home.
    FewerInstrumentsThanPlayers: "fewer instruments than players", Coverage, Information, reads Catalogue,
        looks at Ensemble
}

/// The instrument, how many there are, and how many play it.
pub struct Short {
    instrument: String,
    there: u32,
    players: u32,
}

impl Notice for FewerInstrumentsThanPlayers {
    type What = Short;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Short>> {
        let Some(band) = card.ensemble() else {
            return Vec::new();
        };
        let mut owned: Vec<(&str, u32, Span)> = Vec::new();
        for said in band
            .owns
            .iter()
            .chain(&band.borrowed)
            .filter(|said| said.is_certain())
        {
            let Some(instrument) = card.instrument(&said.value.name) else {
                continue;
            };
            let name: &str = &instrument.name;
            match owned.iter_mut().find(|(known, ..)| *known == name) {
                Some((_, count, _)) => *count = count.saturating_add(said.value.count),
                None => owned.push((name, said.value.count, said.span)),
            }
        }
        if !owned.iter().any(|(name, ..)| LENT_BY_SCHOOLS.contains(name)) {
            return Vec::new();
        }
        let sections = card.snapshot.sections(&[card.id], None);
        owned
            .into_iter()
            .filter(|(name, ..)| LENT_BY_SCHOOLS.contains(name))
            .filter_map(|(name, there, span)| {
                let players = sections
                    .named(name)
                    .map(|section| section.players)
                    .try_fold(0u32, |sum, players| {
                        players.map(|players| sum.saturating_add(players))
                    })?;
                (there < players).then(|| {
                    let what = Short {
                        instrument: name.to_owned(),
                        there,
                        players,
                    };
                    Noticed::new(span, what)
                })
            })
            .collect()
    }

    fn say(what: &Short, _card: &Card<'_>) -> Saying {
        Saying {
            place: "owns".to_owned(),
            says: format!(
                "The school has {}, and the band has {} on {}.",
                counted(what.there as usize, &what.instrument),
                counted(what.players as usize, "player"),
                agree(what.there as usize, "it", "them"),
            ),
            why: "Whoever has no instrument of their own and gets none from the school sits in rehearsal with empty hands."
                .to_owned(),
            todo: "Rent or borrow what is short, or let the finding stand and write who brings one from home."
                .to_owned(),
        }
    }
}
