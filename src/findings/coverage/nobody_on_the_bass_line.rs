//! A band without a bass voice.

use crate::findings::card::Card;
use crate::findings::finding::Saying;
use crate::findings::rule::{Notice, Noticed};
use crate::music::groups::Group;
use crate::rule;

rule! {
    /// A band of at least four families of winds, none of which has a bass voice: no tuba, string bass, bass
    /// guitar, baritone sax, bassoon, bass clarinet or lower (which instruments are meant is common practice, no
    /// source).
    ///
    /// # Why it matters
    ///
    /// The whole band tunes to the bass line and balances over it. Without one every chord hangs in the air.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Sixth Grade Band"
    ///           ^^^^^^^^^^^^^^^^
    ///   players         flute 8, clarinet 11, alto sax 6, trumpet 9, trombone 5
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// ensemble "Sixth Grade Band"
    ///   players         flute 8, clarinet 11, alto sax 6, trumpet 9, trombone 5, baritone sax 1
    /// ```
    ///
    /// ```levare
    /// ensemble "Brass Choir"
    ///   players         trumpet 8, horn 4, trombone 6
    /// ```
    ///
    /// # What to do
    ///
    /// Let somebody take up tuba, bass clarinet or baritone sax, or look for pieces whose bass line the trombones
    /// have.
    NobodyOnTheBassLine: "nobody on the bass line", Coverage, Hint, reads Catalogue, looks at Ensemble
}

/// Voices that carry a bass line.
const BASS: [&str; 16] = [
    "tuba",
    "Eb bass T.C.",
    "BBb bass T.C.",
    "string bass",
    "bass guitar",
    "cello",
    "baritone sax",
    "bass sax",
    "bassoon",
    "contrabassoon",
    "bass clarinet",
    "bass clarinet B.C.",
    "contra-alto clarinet",
    "contrabass clarinet",
    "bass trombone",
    "synthesizer",
];

impl Notice for NobodyOnTheBassLine {
    type What = ();

    fn notice(card: &Card<'_>) -> Vec<Noticed<()>> {
        let Some(band) = card.ensemble() else {
            return Vec::new();
        };
        let sections = card.snapshot.sections(&[card.id], None);
        let mut families = Vec::new();
        for section in &sections.all {
            let found = card.instrument(&section.instrument).map(|found| found.family);
            families.extend(found.filter(|family| family.is_woodwind() || family.is_brass()));
        }
        families.sort_unstable();
        families.dedup();
        let low = |group: &Group| {
            !matches!(
                group,
                Group::Flutes | Group::HighWoodwinds | Group::HighBrass | Group::Percussion | Group::Mallets
            )
        };
        let has = sections
            .all
            .iter()
            .map(|section| section.instrument.as_str())
            .chain(sections.switchers.iter().map(|(name, _)| name.as_str()))
            .any(|name| BASS.contains(&name));
        // A row that is no known instrument may be the bass.
        let unknown = band
            .players
            .iter()
            .any(|row| card.instrument(&row.name).is_none());
        match families.len() > 3 && !has && !unknown && !sections.groups.iter().any(low) {
            true => vec![Noticed::new(card.head_span(), ())],
            false => Vec::new(),
        }
    }

    fn say(_what: &(), card: &Card<'_>) -> Saying {
        Saying {
            place: "players".to_owned(),
            says: format!("Nobody in {} plays a bass line.", crate::text::sentences::the(&card.entry.name)),
            why: "The whole band tunes to the bass and balances over it.".to_owned(),
            todo: "Let somebody take up tuba, bass clarinet or baritone sax, or look for pieces whose bass line the trombones have.".to_owned(),
        }
    }
}
