//! A section that drowns another.

use crate::catalogue::doubt::Doubts;
use crate::findings::card::Card;
use crate::findings::finding::Saying;
use crate::findings::rule::{Notice, Noticed};
use crate::music::Family;
use crate::rule;
use crate::text::Span;

rule! {
    /// A band with at least three times as many trumpets, saxes or flutes as clarinets, or four times as many
    /// trumpets as low brass, and six of the louder ones or more (common practice, no source).
    ///
    /// # Why it matters
    ///
    /// Two clarinets are not heard beside fourteen trumpets, whatever they play. The choice of pieces, and who is
    /// asked to change instruments, begins here.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   players
    ///     flute           6
    ///     clarinet        2
    ///     trumpet         14
    ///     ^^^^^^^
    ///     trombone        5
    ///     tuba            1
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   players
    ///     flute           8
    ///     clarinet        10
    ///     trumpet         9
    ///     trombone        5
    ///     tuba            1
    /// ```
    ///
    /// ```levare
    /// ensemble "Jazz Lab"
    ///   players         alto sax 4, tenor sax 4, trumpet 8, trombone 4, string bass 1
    /// ```
    ///
    /// # What to do
    ///
    /// Look for pieces that give the small section its cues, and ask a player or two to change.
    SectionOutOfBalance: "section out of balance", Coverage, Hint, reads Catalogue, looks at Ensemble
}

/// Who may outnumber whom, how often, and from how many players on.
const PAIRS: [(Family, Family, u32, u32); 4] = [
    (Family::Trumpets, Family::Clarinets, 3, 6),
    (Family::Saxes, Family::Clarinets, 3, 6),
    (Family::Flutes, Family::Clarinets, 3, 6),
    (Family::Trumpets, Family::LowBrass, 4, 8),
];

/// Two sections.
pub struct Balance {
    many: (&'static str, u32),
    few: (&'static str, u32),
}

impl Notice for SectionOutOfBalance {
    type What = Balance;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Balance>> {
        let Some(band) = card.ensemble() else {
            return Vec::new();
        };
        let names = band.players.iter().map(|row| row.name.as_str());
        if band.is_unread("players") || !Doubts::of(names, card.instruments()).is_empty() {
            return Vec::new();
        }
        let mut counted: Vec<(Family, u32, Span, u32)> = Vec::new();
        for row in &band.players {
            let Some(instrument) = card.instrument(&row.name) else {
                continue;
            };
            let Some(count) = row.count.filter(|count| !count.about && !count.open) else {
                return Vec::new();
            };
            match counted
                .iter_mut()
                .find(|(family, ..)| *family == instrument.family)
            {
                Some((_, sum, span, most)) => {
                    *sum = sum.saturating_add(count.number);
                    if count.number > *most {
                        (*span, *most) = (row.name_span, count.number);
                    }
                }
                None => counted.push((instrument.family, count.number, row.name_span, count.number)),
            }
        }
        let of = |wanted: Family| counted.iter().find(|(family, ..)| *family == wanted);
        let found = PAIRS.iter().find_map(|(many, few, times, from)| {
            let (_, players, span, _) = of(*many)?;
            let (_, others, ..) = of(*few)?;
            (*players >= *from && *players >= others.saturating_mul(*times)).then(|| {
                let what = Balance {
                    many: (many.name(), *players),
                    few: (few.name(), *others),
                };
                Noticed::new(*span, what)
            })
        });
        found.into_iter().collect()
    }

    fn say(what: &Balance, _card: &Card<'_>) -> Saying {
        let (many, players) = what.many;
        let (few, others) = what.few;
        let them = match others {
            1 => format!("one player in the {few}"),
            others => format!("{others} in the {few}"),
        };
        Saying {
            place: "players".to_owned(),
            says: format!("There are {players} players in the {many} and {them}."),
            why: "The small section is not heard beside the large one, whatever it plays.".to_owned(),
            todo: "Look for pieces that cue the small section elsewhere, and ask a player or two to change."
                .to_owned(),
        }
    }
}
