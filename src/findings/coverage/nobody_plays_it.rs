//! A part for an instrument that nobody in the band plays.

use crate::catalogue::sections::{Sections, may_be_spared, part_rows, relates, same_chair};
use crate::findings::card::Card;
use crate::findings::finding::Saying;
use crate::findings::judging::{Judging, for_each_band};
use crate::findings::rule::{Notice, Noticed};
use crate::music::{Family, Instrument, Interval, substitutes};
use crate::notation::row::{Fact, Relation, RowItem, RowName};
use crate::rule;

use super::cues::{SAME_LINE, instruments_in, is_had_by_another, is_there, solo, targets};

rule! {
    /// A part for an instrument that nobody in the band plays, with no cue, doubling or alternative that
    /// somebody has. For a piece that is only on the shelf, a solo alone is worth a hint.
    ///
    /// # Why it matters
    ///
    /// The line is silent unless somebody else gets it in time.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   players         flute 7, clarinet 10, alto sax 5
    ///
    /// piece "The Cogwright's Attic"
    ///   parts
    ///     flute           Eb4-C6
    ///     English horn    solo 33-40
    ///     ^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// ensemble "Seventh Grade Band"
    ///   players         flute 7, clarinet 10, alto sax 5
    ///
    /// piece "The Cogwright's Attic"
    ///   parts
    ///     flute           Eb4-C6
    ///     English horn    solo 33-40, cued in alto sax
    ///     bassoon         optional
    ///     bass clarinet   with clarinet 2
    ///     oboe            Eb4-C6
    /// ```
    ///
    /// # What to do
    ///
    /// Give the line to an instrument that the band has, ask the publisher whether such a part may be made,
    /// or write `optional` after a part that can be left out.
    NobodyPlaysIt: "nobody plays it", Coverage, Warning, reads Catalogue, looks at Parts
}

/// More parts than a band has for one instrument.
const MOST_CHAIRS: usize = 1000;

/// A part without players, and who could have it.
pub struct Nobody {
    part: String,
    solo: Option<Option<String>>,
    band: String,
    instruments: Vec<String>,
    covers: Vec<String>,
    /// Parts that would have the line, were they there: `cued in bassoon`.
    absent: Option<String>,
}

impl Notice for NobodyPlaysIt {
    type What = Nobody;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Nobody>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        for_each_band(card, |judging| {
            let sections = judging.sections(card);
            if sections.is_empty() {
                return Vec::new();
            }
            let mut found: Vec<Noticed<Nobody>> = Vec::new();
            let mut done: Vec<String> = Vec::new();
            for row in part_rows(piece) {
                for name in &row.names {
                    let lacking = lacking(card, sections, row, name);
                    if lacking.is_empty() {
                        continue;
                    }
                    let key = lacking
                        .iter()
                        .map(|one| one.name.to_string())
                        .collect::<Vec<_>>()
                        .join(", ");
                    if done.contains(&key) {
                        continue;
                    }
                    let noticed = nobody(card, judging, sections, row, name, &lacking);
                    // The band's card says that it has none: only a solo is worth a word then.
                    let said = |one: &Instrument| {
                        judging.ensembles().iter().all(|band| {
                            let mut without = band.without.iter();
                            without.any(|name| {
                                card.instrument(&name.value)
                                    .is_some_and(|none| none.name == one.name)
                            })
                        })
                    };
                    let known = lacking.iter().all(|one| said(one));
                    if let Some(noticed) = noticed.filter(|noticed| !known || noticed.what.solo.is_some()) {
                        done.push(key);
                        found.push(noticed);
                    }
                }
            }
            found
        })
    }

    fn say(what: &Nobody, _card: &Card<'_>) -> Saying {
        let solo = match &what.solo {
            None => String::new(),
            Some(None) => ", and the part has a solo".to_owned(),
            Some(Some(place)) => format!(", and the part has a solo {place}"),
        };
        let cue = match &what.absent {
            Some(words) => format!("; it is {words}, which nobody plays either"),
            None => String::new(),
        };
        Saying {
            place: what.part.clone(),
            says: format!(
                "Nobody in {} plays the {}{solo}{cue}.",
                what.band,
                what.instruments.join(" or the ")
            ),
            why: "The line is silent unless somebody else gets it in time.".to_owned(),
            todo: match what.covers.as_slice() {
                [] => "Find a player, look in the score for a cue, or write \"optional\" after it if it can be left out.".to_owned(),
                covers => format!(
                    "It could be covered by the {}; ask the publisher whether such a part may be made.",
                    covers.join(", or by the ")
                ),
            },
        }
    }
}

/// The instruments a part is for, when nobody plays any of them; empty when somebody does or it is not known.
fn lacking<'s>(card: &Card<'s>, sections: &Sections, row: &RowItem, name: &RowName) -> Vec<&'s Instrument> {
    let wanted = match card.instrument(&name.text) {
        Some(instrument) => vec![instrument],
        // A flexible part is for any of the instruments it names.
        None => {
            let mut all = Vec::new();
            for target in targets(row, &[Relation::For]) {
                let (found, others) = instruments_in(card, target);
                if others {
                    return Vec::new();
                }
                all.extend(found);
            }
            all
        }
    };
    let is_wind = |instrument: &Instrument| {
        !instrument.family.is_percussion()
            && !matches!(
                instrument.family,
                Family::Voice | Family::Electronics | Family::Other
            )
    };
    match wanted
        .iter()
        .all(|wanted| is_wind(wanted) && !sections.has(wanted))
    {
        true => wanted,
        false => Vec::new(),
    }
}

fn nobody(
    card: &Card<'_>,
    judging: &Judging<'_>,
    sections: &Sections,
    row: &RowItem,
    name: &RowName,
    lacking: &[&Instrument],
) -> Option<Noticed<Nobody>> {
    let own: Vec<&RowItem> = match lacking {
        [one] => super::cues::rows_of(card, &one.name),
        _ => vec![row],
    };
    let rows = || own.iter().copied().chain(std::iter::once(row));
    let spared = rows().any(|row| may_be_spared(row) || relates(row, &[Relation::InsteadOf]));
    // A director who writes `we have none` knows it.
    let known = rows()
        .flat_map(|row| &row.facts)
        .any(|fact| matches!(&fact.what, Fact::Saying(saying, _) if saying.0 == "we have none"));
    let others = [
        Relation::SameAs,
        Relation::With,
        Relation::Doubles,
        Relation::CuedIn,
    ];
    let covered = rows().any(|row| targets(row, &others).any(|target| is_there(card, sections, target)));
    let alternative = card.instrument(&name.text).is_some()
        && rows().any(|row| {
            targets(row, &[Relation::For, Relation::Or]).any(|target| is_there(card, sections, target))
        });
    let had = lacking.iter().any(|one| is_had_by_another(card, sections, one));
    if spared || known || covered || alternative || had {
        return None;
    }
    let solo = rows().find_map(solo).map(|(_, place)| place);
    // "No oboe" on every card of the shelf is no news; a solo that nobody has may be.
    if !judging.earnest() && solo.is_none() {
        return None;
    }
    let absent = rows().find_map(|row| {
        let cue = targets(row, &[Relation::CuedIn]).next();
        let same = targets(row, &SAME_LINE).next();
        cue.map(|target| format!("cued in {target}"))
            .or_else(|| same.map(|target| format!("the same line as {target}")))
    });
    let what = Nobody {
        part: name.one_form(),
        solo,
        band: judging.name(),
        instruments: lacking.iter().map(|one| one.name.to_string()).collect(),
        covers: lacking
            .iter()
            .flat_map(|one| covers(card, sections, one))
            .take(3)
            .collect(),
        absent,
    };
    Some(Noticed::judged(name.span, judging.in_full(), what))
}

/// What is lost when a player of this instrument covers another part: the part of its own that has nobody then, with
/// its solo. None when there are more players than parts that are needed.
fn lost(card: &Card<'_>, sections: &Sections, name: &str) -> Option<String> {
    let own = card.instrument(name)?;
    let here = sections
        .all
        .iter()
        .filter(|section| same_chair(&section.instrument, name));
    let players = here.map(|section| section.players).sum::<Option<u32>>()?;
    let rows = super::cues::rows_of(card, &own.name);
    let needed = rows.into_iter().filter(|row| !may_be_spared(row));
    let parts = needed.flat_map(|row| row.names.iter().map(move |part| (row, part)));
    let mine = parts.filter(|(_, part)| {
        let found = card.instrument(&part.text);
        found.is_some_and(|found| found.name == own.name)
    });
    let mut chairs = mine.flat_map(|(row, part)| {
        let (first, last) = part.numbers.unwrap_or((0, 0));
        (first..=last).take(MOST_CHAIRS).map(move |number| (row, number))
    });
    // The lowest part that has somebody is given up; what comes after it has nobody anyway.
    let lowest = usize::try_from(players).ok()?.checked_sub(1)?;
    let (row, number) = chairs.nth(lowest)?;
    let part = match number {
        0 => format!("the part for {}", own.name),
        number => format!("{} {number}", own.name),
    };
    Some(match solo(row) {
        None => part,
        Some((_, None)) => format!("{part}, which has a solo,"),
        Some((_, Some(place))) => format!("{part} with its solo {place}"),
    })
}

/// Who could cover an instrument, with what happens to the written notes: `alto sax (a major second higher)`.
fn covers(card: &Card<'_>, sections: &Sections, lacking: &Instrument) -> Vec<String> {
    let standing_in = substitutes::covers(&lacking.name).into_iter().filter(|cover| {
        let name = cover.substitute.cover;
        sections
            .all
            .iter()
            .any(|section| same_chair(&section.instrument, name) && section.players != Some(0))
            && card.instrument(name).is_some_and(|own| sections.has(own))
    });
    let mut told: Vec<(bool, String)> = standing_in
        .map(|cover| {
            let moved = match cover.rewrite == Interval::UNISON {
                true => "as written".to_owned(),
                false => format!("written {}", cover.rewrite.sounds()),
            };
            let name = cover.substitute.cover;
            let lost = lost(card, sections, name);
            let costs = match &lost {
                Some(part) => format!(", but then {part} has nobody"),
                None => String::new(),
            };
            (lost.is_some(), format!("{name} ({moved}{costs})"))
        })
        .collect();
    // Whoever is free comes before whoever has a part.
    told.sort_by_key(|(costs, _)| *costs);
    told.into_iter().map(|(_, cover)| cover).collect()
}
