//! A season to be read.

use crate::catalogue::{EntryId, Snapshot};
use crate::planning::assign::Limits;
use crate::planning::buy::words::money;
use crate::planning::choose::bands_of;
use crate::planning::choose::season::{Because, Evening, Others, Season};
use crate::planning::percussion::{YearPiece, YearPlayer, year};
use crate::planning::teach::to_come;
use crate::text::said::{Answer, Table, Wide, column};
use crate::text::sentences::{agree, joined};

use super::choose;

fn name(snapshot: &Snapshot, id: EntryId) -> String {
    snapshot
        .entry(id)
        .map_or_else(String::new, |entry| entry.name.clone())
}

fn clock(seconds: u32) -> String {
    format!("{}:{:02}", seconds / 60, seconds % 60)
}

/// The concerts in the order of their days, all that are to come where none is named; or in words what one lacks.
pub fn concerts(snapshot: &Snapshot, named: &[EntryId]) -> Result<Vec<EntryId>, String> {
    let coming = to_come(snapshot);
    if let Some(id) = named.iter().find(|id| !coming.contains(id)) {
        return Err(format!(
            "\"{}\" has no day, or it is over. Write its day on its card, as in: on 2027-05-13.",
            name(snapshot, *id)
        ));
    }
    let is_asked = |id: &EntryId| named.is_empty() || named.contains(id);
    let found: Vec<EntryId> = coming.into_iter().filter(is_asked).collect();
    if found.is_empty() {
        return Err("No coming concert has a day. Write a concert card first.".to_owned());
    }
    for id in &found {
        if bands_of(snapshot, *id).is_empty() {
            let name = name(snapshot, *id);
            return Err(format!(
                "The concert card \"{name}\" does not say which band plays. Write a line on it: for \"the name of the band\"."
            ));
        }
    }
    Ok(found)
}

/// Tells which concerts were left out, because their cards do not say when they are.
pub fn left_out(snapshot: &Snapshot, out: &mut Answer) {
    let cards = snapshot.entries();
    let names: Vec<String> = cards
        .filter(|(_, entry)| entry.concert().is_some_and(|card| card.day().is_none()))
        .map(|(_, entry)| format!("\"{}\"", entry.name))
        .collect();
    if !names.is_empty() {
        out.say(format!(
            "{} {} left out, because no day can be read on {}. Write it there, as in: on 2027-05-13.",
            joined(&names),
            agree(names.len(), "was", "were"),
            agree(names.len(), "its card", "their cards"),
        ));
    }
}

/// Tells the programs of a season, or why there are none.
pub fn tell(snapshot: &Snapshot, found: &Season, players: Option<&(Vec<YearPlayer>, bool)>) -> Answer {
    let mut answer = Answer::default();
    let out = &mut answer;
    for one in &found.alone {
        let name = name(snapshot, one.concert);
        match &one.clash {
            Some((demands, smallest)) => {
                choose::clash(&format!("\"{name}\" has no program"), demands, *smallest, out);
            }
            None => out.head(format!(
                "\"{name}\" has no program, and there are too many ways to try them all. Ask less of it."
            )),
        }
        out.gap();
        out.say(format!(
            "Type levare choose \"{name}\" to see which pieces were ruled out or left aside for it, and why."
        ));
        out.gap();
    }
    let (evenings, value, bound, purchase) = match &found.others {
        Others::Programs { evenings, .. } if evenings.is_empty() => return answer,
        Others::Programs {
            evenings,
            value,
            bound,
            purchase,
        } => (evenings, value, bound, purchase),
        Others::Clash(clash, because) => {
            let names: Vec<String> = clash
                .iter()
                .map(|id| format!("\"{}\"", name(snapshot, *id)))
                .collect();
            let why = match because {
                Because::Pieces => {
                    "there are too few pieces to play none of them twice. Ask less of one of them, or leave it out"
                }
                Because::Money => {
                    "the budget does not hold for all of them. Raise it, or leave one of them out"
                }
                Because::Skills => {
                    "there would be more that is new to a band than you allow. Allow more, or exchange a piece that is on a program"
                }
                Because::Several => {
                    "the budget is too small, and there would be more that is new to a band than you allow"
                }
            };
            out.say(format!(
                "{} can each be filled, but not together: {why}.",
                joined(&names)
            ));
            return answer;
        }
        Others::NotFound => {
            out.say("There are too many ways to try them all, and none so far works. Name fewer concerts.");
            return answer;
        }
    };
    for evening in evenings {
        one(snapshot, evening, out);
        out.gap();
    }
    if let Some((offers, purchase)) = purchase {
        let names: Vec<String> = offers.iter().map(|offer| format!("\"{}\"", offer.name)).collect();
        let currency = offers_currency(snapshot, evenings);
        out.say(format!(
            "To buy for all of them: {}, {}.",
            joined(&names),
            money(purchase.cents, &currency)
        ));
    }
    let proof = match bound <= value {
        true => "no other programs together are worth more".to_owned(),
        false => format!("there were too many ways to try; others could have {bound}"),
    };
    out.say(
        format!(
            "{value} points in all; {proof}. No piece comes in twice. Pieces of which something is not known that was asked were not chosen from; \"levare choose\" lists them for one concert."
        ),
    );
    if let Some((players, in_full)) = players {
        percussion(snapshot, players, *in_full, out);
    }
    answer
}

/// Who has which percussion by these programs, and whether all trades were looked at; none where there are no
/// programs.
pub fn players(snapshot: &Snapshot, found: &Season) -> Option<(Vec<YearPlayer>, bool)> {
    let Others::Programs { evenings, .. } = &found.others else {
        return None;
    };
    let pieces: Vec<YearPiece> = evenings
        .iter()
        .flat_map(|evening| {
            let bands = bands_of(snapshot, evening.concert);
            evening.program.picks.iter().map(move |pick| YearPiece {
                concert: evening.concert,
                piece: pick.id,
                title: pick.name.clone(),
                movements: pick.movements.clone(),
                bands: pick.band.map_or_else(|| bands.clone(), |band| vec![band]),
            })
        })
        .collect();
    Some(year(snapshot, &pieces, Limits::USUAL))
}

/// Who has what, band by band; nothing where no percussion is known.
fn percussion(snapshot: &Snapshot, players: &[YearPlayer], in_full: bool, out: &mut Answer) {
    let plays = |player: &YearPlayer| player.had.iter().any(|(_, had)| !had.is_empty());
    if !players.iter().any(plays) {
        return;
    }
    out.gap();
    out.head("Percussion over all of them");
    for band in players.chunk_by(|one, other| one.band == other.band) {
        if let Some(first) = band.first() {
            out.say(name(snapshot, first.band));
        }
        for player in band {
            let mut said: Vec<String> = Vec::new();
            for (concert, had) in player.had.iter().filter(|(_, had)| !had.is_empty()) {
                let all: Vec<String> = had
                    .iter()
                    .map(|(name, count)| match count {
                        1 => name.clone(),
                        count => format!("{name} in {count} pieces"),
                    })
                    .collect();
                said.push(format!("\"{}\": {}", name(snapshot, *concert), all.join(", ")));
            }
            let said = match said.is_empty() {
                true => "nothing".to_owned(),
                false => said.join("; "),
            };
            let minutes = match player.plays {
                Some(tenths) if tenths > 0 => format!(" ({} min in all)", (tenths + 300) / 600),
                _ => String::new(),
            };
            out.item(format!("{}  {said}{minutes}", player.seat));
        }
    }
    let traded = match in_full {
        true => {
            "Players trade whole sets of parts as long as that shares the playing more fairly, or spares somebody the same instrument again."
        }
        false => "There were too many trades to look at all of them.",
    };
    out.say(format!(
        "{traded} \"levare assign\" shares out each concert by itself; to keep it this way, write who plays what beside the titles."
    ));
}

/// The currency of what is bought.
fn offers_currency(snapshot: &Snapshot, evenings: &[Evening]) -> String {
    let mut pieces = evenings.iter().flat_map(|evening| &evening.program.picks);
    let price = pieces.find_map(|pick| snapshot.entry(pick.id)?.piece()?.price.clone());
    price.map_or_else(|| "USD".to_owned(), |said| said.value.currency)
}

fn one(snapshot: &Snapshot, evening: &Evening, out: &mut Answer) {
    let concert = snapshot.entry(evening.concert);
    let day = concert.and_then(|entry| entry.concert()?.day());
    let day = day.map_or_else(String::new, |day| format!(", {day}"));
    let head = format!("{}{day}", name(snapshot, evening.concert));
    out.head(head);
    let program = &evening.program;
    for own in program.picks.chunk_by(|one, next| one.band == next.band) {
        if program.picks.iter().any(|pick| pick.band.is_some()) {
            let band = own.first().and_then(|pick| pick.band);
            out.say(band.map_or_else(|| "All bands together".to_owned(), |id| name(snapshot, id)));
        }
        let rows = own.iter().map(|pick| {
            let kept = if pick.kept { "kept" } else { "" };
            let lasts = pick.seconds.map_or_else(|| "?".to_owned(), clock);
            vec![pick.name.clone(), lasts, kept.to_owned()]
        });
        out.table(Table {
            columns: vec![
                column(Wide::AsCells, false),
                column(Wide::Of(5), true),
                column(Wide::AsCells, false),
            ],
            rows: rows.collect(),
        });
    }
    out.item(format!(
        "{} in all.",
        clock(program.music.saturating_add(program.gaps))
    ));
    if !program.new_skills.is_empty() {
        out.item(format!(
            "New to the band by then: {}.",
            joined(&program.new_skills)
        ));
    }
    for pick in program.picks.iter().filter(|pick| !pick.remembered.is_empty()) {
        out.item(format!("\"{}\": {}", pick.name, pick.remembered.join(" ")));
    }
    for pick in program.picks.iter().filter(|pick| !pick.misses.is_empty()) {
        let misses: Vec<String> = pick
            .misses
            .iter()
            .map(|(demand, why)| format!("{demand} ({why})"))
            .collect();
        out.item(format!(
            "\"{}\" is kept, though: {}.",
            pick.name,
            misses.join("; ")
        ));
    }
    // What is not known of several pieces is said once.
    let mut open: Vec<(&str, Vec<String>)> = Vec::new();
    for pick in &program.picks {
        for what in &pick.unsure {
            let title = format!("\"{}\"", pick.name);
            match open.iter_mut().find(|(known, _)| known == what) {
                Some((_, titles)) => titles.push(title),
                None => open.push((what, vec![title])),
            }
        }
    }
    for (what, titles) in open {
        out.item(format!(
            "Find out before you settle on {}: {what}.",
            joined(&titles)
        ));
    }
}
