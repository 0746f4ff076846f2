//! A season to be read.

use crate::catalogue::{EntryId, Snapshot};
use crate::planning::buy::words::money;
use crate::planning::choose::bands_of;
use crate::planning::choose::season::{Evening, Season};
use crate::planning::teach::to_come;
use crate::text::said::{Answer, Table, Wide, column};
use crate::text::sentences::{agree, joined};

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
    for id in named.iter().filter(|id| !coming.contains(id)) {
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

/// Tells the programs of a season, or why there are none.
pub fn tell(snapshot: &Snapshot, found: &Season) -> Answer {
    let mut answer = Answer::default();
    let out = &mut answer;
    let (evenings, value, bound, purchase) = match found {
        Season::Programs {
            evenings,
            value,
            bound,
            purchase,
        } => (evenings, value, bound, purchase),
        Season::Alone(all) => {
            let names: Vec<String> = all
                .iter()
                .map(|id| format!("\"{}\"", name(snapshot, *id)))
                .collect();
            let asks = names
                .first()
                .map(|name| format!("levare choose {name}"))
                .unwrap_or_default();
            out.say(format!(
                "{} {} no program even by {}. \"{asks}\" says what clashes.",
                joined(&names),
                agree(names.len(), "has", "have"),
                agree(names.len(), "itself", "themselves"),
            ));
            return answer;
        }
        Season::Together => {
            out.say(
                "Each of these concerts can be filled by itself, but not all of them together: a piece would come twice, or the budget is too small. Take a concert out, or ask for less.",
            );
            return answer;
        }
        Season::NotFound => {
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
    answer
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
    let rows = program.picks.iter().map(|pick| {
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
    out.item(format!(
        "{} in all.",
        clock(program.music.saturating_add(program.gaps))
    ));
    if !evening.new_skills.is_empty() {
        out.item(format!(
            "New to the band by then: {}.",
            joined(&evening.new_skills)
        ));
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
    for pick in program.picks.iter().filter(|pick| !pick.unsure.is_empty()) {
        out.item(format!(
            "Find out before you settle on \"{}\": {}.",
            pick.name,
            pick.unsure.join("; ")
        ));
    }
}
