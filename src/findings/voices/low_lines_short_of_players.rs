//! More independent low lines than the band has low players.

use crate::findings::card::Card;
use crate::findings::finding::Saying;
use crate::findings::judging::{Judging, for_each_band};
use crate::findings::rule::{Notice, Noticed};
use crate::music::groups::Group;
use crate::notation::row::{Fact, RowItem, Texture};
use crate::rule;

rule! {
    /// Low voices that go in independent lines, with fewer low players in the band than lines, or with fewer
    /// to a line than the handbook wants (`players at least 2 to a wind part`). Independent lines count as
    /// two unless a number is said.
    ///
    /// # Why it matters
    ///
    /// In easy music all low instruments share one bass line, so one tuba is enough (from memory: grading guides
    /// of publishers count all low winds as one voice up to about grade 1). Lines of their own need a player each,
    /// or the harmony loses its bottom.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   players         flute 9, trombone 1, tuba 1
    ///
    /// piece "Ravine"
    ///   parts
    ///     flute           D5-C6
    ///     low voices      three independent lines at 41-48
    ///                     ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   players         flute 9, trombone 2, euphonium 1, tuba 1
    ///
    /// piece "Ravine"
    ///   parts
    ///     low voices      independent lines at 41-48
    ///     low brass       one line in octaves
    /// ```
    ///
    /// # What to do
    ///
    /// See which line a cue or another section can take, or choose a piece with one bass line.
    LowLinesShortOfPlayers: "low lines short of players", Voices, Warning, reads Catalogue, looks at Parts
}

/// The lines and the players.
pub struct Low {
    group: &'static str,
    lines: u32,
    players: u32,
    fewest: u32,
    band: String,
}

impl Notice for LowLinesShortOfPlayers {
    type What = Low;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Low>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        for_each_band(card, |judging| {
            crate::catalogue::sections::part_rows(piece)
                .flat_map(|row| short(card, judging, row))
                .collect()
        })
    }

    fn say(what: &Low, _card: &Card<'_>) -> Saying {
        let players = match what.players {
            0 => "none of them".to_owned(),
            1 => "1 player".to_owned(),
            players => format!("{players} players"),
        };
        let wanted = match what.fewest {
            1 => String::new(),
            fewest => format!("; the handbook wants {fewest} to a part"),
        };
        Saying {
            place: what.group.to_owned(),
            says: format!(
                "By the card the {} go in {} lines of their own, and {} has {players} for them{wanted}.",
                what.group, what.lines, what.band
            ),
            why:
                "A low line that nobody holds is missed at once, and one young player alone on it gets lost."
                    .to_owned(),
            todo: "See which line a cue or another section can take, or choose a piece with one bass line."
                .to_owned(),
        }
    }
}

fn short(card: &Card<'_>, judging: &Judging<'_>, row: &RowItem) -> Option<Noticed<Low>> {
    let group = row.names.iter().find_map(|name| Group::read(&name.text))?;
    if !matches!(group, Group::LowVoices | Group::LowBrass | Group::LowReeds) {
        return None;
    }
    let (span, lines) = row.facts.iter().find_map(|fact| match &fact.what {
        Fact::Lines(lines) if fact.is_certain() && *lines > 1 => Some((fact.span, *lines)),
        // Lines of their own are at least two.
        Fact::Texture(Texture::Independent, _) if fact.is_certain() => Some((fact.span, 2)),
        _ => None,
    })?;
    let sections = judging.sections(card);
    if sections.is_empty() || sections.groups.iter().any(|counted| overlaps(*counted)) {
        return None;
    }
    let mut players: u32 = 0;
    for section in &sections.all {
        let low = card
            .instrument(&section.instrument)
            .is_some_and(|found| group.holds(found));
        if low {
            players = players.saturating_add(section.players?);
        }
    }
    let handbook = card.snapshot.handbook();
    let fewest = handbook
        .and_then(|handbook| handbook.fewest_to_a_part())
        .unwrap_or(1)
        .max(1);
    let what = Low {
        group: group.name(),
        lines,
        players,
        fewest,
        band: judging.name(),
    };
    (players < lines.saturating_mul(fewest)).then(|| Noticed::judged(span, judging.in_full(), what))
}

/// Whether a grouping that a band counts as one may hold low players.
fn overlaps(group: Group) -> bool {
    !matches!(
        group,
        Group::Flutes
            | Group::HighWoodwinds
            | Group::HighBrass
            | Group::Percussion
            | Group::Mallets
            | Group::Drums
            | Group::Accessories
    )
}
