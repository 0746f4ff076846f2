//! The page filled in from a concert that has been shared out.

use std::collections::BTreeSet;

use crate::catalogue::model::Piece;
use crate::catalogue::{EntryId, Snapshot};
use crate::music::Family;
use crate::notation::values::Moment;
use crate::planning::percussion::{
    Answer, Because, ConcertPlan, Gap, Left, Move, PiecePlan, Question, Setting, Sharing, Turn, plan_words,
    words,
};
use crate::text::sentences::{capital, joined};

use super::wind_rows::wind_table;
use super::{Change, Does, DoorPage, Goes, LeftOut, Note, PieceRow, Player, Plays, Shape, Stand};

/// More ways than this in one cell are told once for each pair of instruments.
const MANY_WAYS: usize = 3;

/// The pages of a concert: one for each band, or for bands that play together.
///
/// `without` are away besides those whom the cards name, in words such as `1 tuba`.
pub fn of_concert(snapshot: &Snapshot, plan: &ConcertPlan, without: &[String]) -> Vec<DoorPage> {
    let mut groups: Vec<(Vec<EntryId>, Vec<usize>)> = Vec::new();
    for (at, piece) in plan.pieces.iter().enumerate() {
        // A title without a card stands with the piece before it.
        let bands = match &piece.setting {
            Some(setting) => setting.bands.clone(),
            None => groups.last().map(|(bands, _)| bands.clone()).unwrap_or_default(),
        };
        match groups.iter_mut().find(|(known, _)| *known == bands) {
            Some((_, pieces)) => pieces.push(at),
            None => groups.push((bands, vec![at])),
        }
    }
    if groups.is_empty() {
        groups.push((Vec::new(), Vec::new()));
    }
    groups
        .iter()
        .map(|(bands, pieces)| page(snapshot, plan, bands, pieces, without))
        .collect()
}

/// The page of one piece by itself.
pub fn of_piece(
    snapshot: &Snapshot,
    setting: &Setting,
    question: &Question,
    answer: &Answer,
    without: &[String],
) -> DoorPage {
    let title = snapshot
        .entry(setting.piece)
        .map_or_else(String::new, |entry| entry.name.clone());
    let plan = PiecePlan {
        title: title.clone(),
        setting: Some(setting.clone()),
        who: (0..question.seats.len()).collect(),
        duties: Vec::new(),
        ways: Vec::new(),
        free: Vec::new(),
        left_out: Vec::new(),
        question: Some(question.clone()),
        answer: Some(answer.clone()),
    };
    // A piece by itself has no column for its title, so what stands there goes elsewhere.
    let mut row = row(snapshot, 0, &plan, &plan.who);
    row.number = String::new();
    let says = row.coarse.take().map(|coarse| format!("{}.", capital(&coarse)));
    let notes = says.into_iter().map(|says| Note {
        about: String::new(),
        says,
    });
    let mut place = named(snapshot, &setting.bands);
    if !row.under.is_empty() {
        let under = std::mem::take(&mut row.under);
        place = match place.is_empty() {
            true => under,
            false => format!("{place}, {under}"),
        };
    }
    let mut stations: Vec<Stand> = Vec::new();
    let played = answer
        .sharing
        .iter()
        .flat_map(|sharing| sharing.turns.iter().flatten());
    for part in played.filter_map(|turn| question.parts.get(turn.part)) {
        if !stations.iter().any(|known| known.name == part.station.name) {
            stations.push(Stand {
                name: part.station.name.clone(),
                shape: shape(&part.station.name, part.station.family),
                pieces: Vec::new(),
            });
        }
    }
    away(DoorPage {
        concert: title,
        date: String::new(),
        place,
        players: question
            .seats
            .iter()
            .map(|seat| Player {
                seat: seat.name.clone(),
                band: String::new(),
                absent: seat.absent,
            })
            .collect(),
        pieces: vec![row],
        changes: Vec::new(),
        stations,
        winds: wind_table(snapshot, &[(String::new(), Some(setting))], without),
        notes: notes.collect(),
    })
}

/// Players who are away are so whatever is known of the piece.
fn away(mut page: DoorPage) -> DoorPage {
    for piece in &mut page.pieces {
        for (cell, player) in piece.cells.iter_mut().zip(&page.players) {
            if player.absent {
                cell.clear();
            }
        }
    }
    page
}

/// The names of bands.
fn named(snapshot: &Snapshot, bands: &[EntryId]) -> String {
    let entries = bands.iter().filter_map(|id| snapshot.entry(*id));
    entries
        .map(|entry| entry.name.as_str())
        .collect::<Vec<&str>>()
        .join(" and ")
}

fn page(
    snapshot: &Snapshot,
    plan: &ConcertPlan,
    bands: &[EntryId],
    pieces: &[usize],
    without: &[String],
) -> DoorPage {
    let own: Vec<(usize, &PiecePlan)> = pieces
        .iter()
        .filter_map(|at| Some((*at, plan.pieces.get(*at)?)))
        .collect();
    let players: BTreeSet<usize> = own
        .iter()
        .flat_map(|(_, piece)| piece.who.iter().copied())
        .filter(|player| *player < plan.players.len())
        .collect();
    let players: Vec<usize> = players.into_iter().collect();
    let on = snapshot
        .entry(plan.concert)
        .and_then(|entry| entry.concert()?.on.as_ref());
    away(DoorPage {
        concert: snapshot
            .entry(plan.concert)
            .map_or_else(String::new, |entry| entry.name.clone()),
        date: on.map_or_else(String::new, |on| day(&on.value)),
        place: named(snapshot, bands),
        players: players
            .iter()
            .filter_map(|at| {
                let seat = &plan.players.get(*at)?.seat;
                let others = players.iter().filter_map(|other| plan.players.get(*other));
                let alike = others.filter(|other| other.seat.name == seat.name).count();
                // Bands that play together may have a seat of the same name.
                let band = plan.players.get(*at).filter(|_| alike > 1);
                let band = band.and_then(|player| snapshot.entry(player.band));
                Some(Player {
                    seat: seat.name.clone(),
                    band: band.map_or_else(String::new, |band| band.name.clone()),
                    absent: seat.absent,
                })
            })
            .collect(),
        pieces: own
            .iter()
            .map(|(at, piece)| row(snapshot, *at, piece, &players))
            .collect(),
        changes: changes(plan, pieces, &players),
        stations: stands(plan, pieces),
        winds: wind_table(
            snapshot,
            &own.iter()
                .map(|(at, piece)| (at.saturating_add(1).to_string(), piece.setting.as_ref()))
                .collect::<Vec<_>>(),
            without,
        ),
        notes: notes(snapshot, plan, &players, pieces),
    })
}

/// `Thursday, December 10, 2026, 7:00 pm`; a day that is not in the calendar as it is written.
pub fn day(on: &Moment) -> String {
    let mut words = on.day.spelled();
    if let Some((hours, minutes)) = on.time {
        let (half, shown) = if hours < 12 {
            ("am", hours)
        } else {
            ("pm", hours.saturating_sub(12))
        };
        let shown = if shown == 0 { 12 } else { shown };
        words.push_str(&format!(", {shown}:{minutes:02} {half}"));
    }
    words
}

fn row(snapshot: &Snapshot, at: usize, plan: &PiecePlan, players: &[usize]) -> PieceRow {
    let card = plan
        .setting
        .as_ref()
        .and_then(|setting| snapshot.entry(setting.piece)?.piece());
    let movements = plan
        .setting
        .as_ref()
        .map_or(&[][..], |setting| &setting.movements);
    let mut under: Vec<String> = Vec::new();
    if !movements.is_empty() {
        let numbers: Vec<String> = movements.iter().map(u32::to_string).collect();
        let word = if numbers.len() == 1 {
            "movement"
        } else {
            "movements"
        };
        under.push(format!("{word} {}", joined(&numbers)));
    }
    under.extend(
        card.and_then(|card| card.lasts.as_ref())
            .map(|lasts| lasts.value.to_string()),
    );
    let coarse = coarse(plan, card);
    let sharing = plan.answer.as_ref().and_then(|answer| answer.sharing.as_ref());
    let cells = players
        .iter()
        .map(|player| {
            let seat = plan.who.iter().position(|who| who == player);
            match (&plan.question, sharing, seat) {
                (Some(question), Some(sharing), Some(seat)) if !question.parts.is_empty() => {
                    cell(question, sharing, seat)
                }
                // Nothing is known of who plays, so nobody is called tacet.
                _ => vec![Does::NotKnown],
            }
        })
        .collect();
    PieceRow {
        number: at.saturating_add(1).to_string(),
        title: plan.title.clone(),
        under: under.join(", "),
        cells,
        left_out: left_out(plan),
        coarse,
    }
}

/// What is not certain, in a few words for the cell at the left.
fn coarse(plan: &PiecePlan, card: Option<&Piece>) -> Option<String> {
    let (Some(question), Some(card)) = (&plan.question, card) else {
        return Some("no card of this title".to_owned());
    };
    if question.parts.is_empty() && question.no_time.is_empty() {
        return Some(match &card.percussion_count {
            Some(count) if count.number == 0 => "no percussion".to_owned(),
            Some(count) => format!("{} percussion parts, not named", count.number),
            None => "no percussion on the card".to_owned(),
        });
    }
    if !question.knows_players {
        return Some("the band's card names no percussionists".to_owned());
    }
    if question.all_at_once {
        return Some("measures not known".to_owned());
    }
    if question.clock.coarse.is_some() {
        return Some("seconds not known".to_owned());
    }
    let proven = plan
        .answer
        .as_ref()
        .and_then(|answer| answer.sharing.as_ref())
        .is_none_or(|sharing| sharing.proven);
    if !proven {
        return Some("not every way was tried".to_owned());
    }
    (!question.clock.taken.is_empty()).then(|| "seconds approximate".to_owned())
}

/// A player's cell: turns and ways in the order of the music.
fn cell(question: &Question, sharing: &Sharing, seat: usize) -> Vec<Does> {
    let measures = &question.clock.measures;
    let turns = sharing.turns.get(seat).map_or(&[][..], Vec::as_slice);
    let mut all: Vec<((i64, u8), Does)> = Vec::new();
    for turn in turns {
        let Some(part) = question.parts.get(turn.part) else {
            continue;
        };
        let first = turn
            .entrances
            .iter()
            .filter_map(|at| part.entrances.get(*at))
            .min();
        let start = first
            .and_then(|span| measures.get(span.0))
            .map_or(0, |sounding| sounding.start);
        all.extend(plays(question, turn).map(|plays| ((start, 1), Does::Plays(plays))));
    }
    let ways: Vec<&Move> = sharing.moves.iter().filter(|way| way.player == seat).collect();
    for (way, goes) in goes(question, &ways) {
        let after = way.after.map_or(0, |sounding| sounding.end);
        all.push(((after, 0), Does::Goes(goes)));
    }
    all.sort_by_key(|(when, _)| *when);
    all.into_iter().map(|(_, does)| does).collect()
}

fn plays(question: &Question, turn: &Turn) -> Option<Plays> {
    let part = question.parts.get(turn.part)?;
    let first = turn
        .entrances
        .iter()
        .filter_map(|at| part.entrances.get(*at))
        .min();
    let first = first.and_then(|span| question.clock.measures.get(span.0));
    let movement = many_movements(question).then_some(part.movement).flatten();
    let enters = first.filter(|_| !question.all_at_once).map(|sounding| {
        let word = if sounding.event { "event" } else { "m." };
        match movement {
            Some(number) => format!("mvt. {number}, {word} {}", sounding.measure),
            None => format!("{word} {}", sounding.measure),
        }
    });
    let measures = words::measures(question, turn);
    let other = !part
        .name
        .to_lowercase()
        .contains(&part.station.name.to_lowercase());
    Some(Plays {
        instrument: capital(&part.name),
        sticks: part.held(),
        station: other.then(|| format!("at the {}", part.station.name)),
        page: part.page.as_deref().map(short),
        measures: match measures.is_empty() || part.events {
            true => measures,
            false => format!("mm. {measures}"),
        },
        enters,
    })
}

fn many_movements(question: &Question) -> bool {
    let first = question.parts.first().map(|part| part.movement);
    question.parts.iter().any(|part| Some(part.movement) != first)
}

/// `percussion 1` as it is printed in a corner: `perc. 1`.
fn short(page: &str) -> String {
    match page.strip_prefix("percussion") {
        Some(rest) => format!("perc.{rest}"),
        None => page.to_owned(),
    }
}

/// A player's ways; where there are many, one for each pair of instruments.
fn goes<'m>(question: &Question, ways: &[&'m Move]) -> Vec<(&'m Move, Goes)> {
    let mut told: Vec<(&Move, Goes)> = Vec::new();
    for way in ways.iter().copied() {
        let same = told
            .iter_mut()
            .find(|(known, _)| (known.from, known.to) == (way.from, way.to));
        if let Some((_, goes)) = same.filter(|_| ways.len() > MANY_WAYS) {
            goes.times = goes.times.saturating_add(way.times);
            goes.measures = goes.measures.min(Some(way.measures));
            // The shortest time would need its own measure, so only the measures are told.
            goes.seconds = None;
            if let (Some(after), Some(sounding)) = (&mut goes.after, way.after) {
                after.push_str(&format!(", {}", sounding.measure));
            }
            continue;
        }
        let to = question
            .parts
            .get(way.to)
            .map_or_else(String::new, |part| part.name.clone());
        let movement = way
            .before
            .zip(way.after)
            .is_some_and(|(before, after)| before.course != after.course);
        told.push((
            way,
            Goes {
                to,
                measures: (!movement).then_some(way.measures),
                after: way.after.map(|after| match (movement, after.event) {
                    (true, _) => "between the movements".to_owned(),
                    (_, true) => format!("after event {}", after.measure),
                    (_, false) => format!("after m. {}", after.measure),
                }),
                seconds: way.there.filter(|_| !movement).map(words::seconds),
                times: way.times,
            },
        ));
    }
    told
}

fn left_out(plan: &PiecePlan) -> Vec<LeftOut> {
    let Some(question) = &plan.question else {
        return Vec::new();
    };
    let sharing = plan.answer.as_ref().and_then(|answer| answer.sharing.as_ref());
    let mut out: Vec<LeftOut> = Vec::new();
    for left in sharing.iter().flat_map(|sharing| &sharing.left) {
        out.push(LeftOut {
            part: capital(&words::part(question, left.part)),
            why: why(question, sharing, left),
        });
    }
    if !question.all_at_once {
        out.extend(question.no_time.iter().map(|part| LeftOut {
            part: capital(&part.name),
            why: "not given out: the card does not say when it plays".to_owned(),
        }));
    }
    out
}

fn why(question: &Question, sharing: Option<&Sharing>, left: &Left) -> String {
    if left.nobody {
        return words::nobody_plays(question, &[left.part]);
    }
    let spare = question
        .parts
        .get(left.part)
        .and_then(|part| part.spare.as_deref());
    if let Some(spare) = spare.filter(|_| !left.vital) {
        return match spare {
            "optional" => "optional".to_owned(),
            spare => format!("may be left out: {spare}"),
        };
    }
    match sharing.and_then(|sharing| sharing.because.as_ref()) {
        // A part that is no part of the reason is left out so that the others need not be.
        Some(Because::AtOnce(all, first, last) | Because::TooFew(all, Some((first, last)), _))
            if all.contains(&left.part) =>
        {
            let place = words::from_to(
                question,
                *first,
                *last,
                question.parts.get(left.part).and_then(|part| part.movement),
            );
            format!("too few hands at {place}")
        }
        Some(Because::TooClose(all) | Because::TooFew(all, None, _)) if all.contains(&left.part) => {
            match question.all_at_once {
                true => "too few hands, if all play at once".to_owned(),
                false => "too few hands, no time to change".to_owned(),
            }
        }
        Some(Because::AtOnce(..) | Because::TooClose(_) | Because::TooFew(..)) => "too few hands".to_owned(),
        Some(Because::Nobody(_)) => words::others_come_first(question, &[left.part]),
        Some(Because::CutShort) => "too few hands; not every way was tried".to_owned(),
        None | Some(Because::Tried | Because::Nothing) => "no way leaves out less".to_owned(),
    }
}

fn changes(plan: &ConcertPlan, pieces: &[usize], players: &[usize]) -> Vec<Change> {
    let mut changes = Vec::new();
    for gap in &plan.gaps {
        // The page counts its own pieces.
        let after = pieces.iter().filter(|piece| **piece <= gap.after).count();
        let here = pieces.contains(&gap.after) || pieces.contains(&gap.after.saturating_add(1));
        if here {
            changes.push(Change {
                after,
                time: plan.between.map(|between| {
                    let short = if gap.short { ", tight" } else { "" };
                    format!("{}:{:02}{short}", between / 600, between / 10 % 60)
                }),
                duties: players.iter().map(|player| duties(plan, gap, *player)).collect(),
            });
        }
    }
    changes
}

fn duties(plan: &ConcertPlan, gap: &Gap, player: usize) -> Vec<String> {
    let mine = gap.passes.iter().filter(|pass| pass.from == player);
    mine.map(|pass| {
        let to = plan
            .players
            .get(pass.to)
            .map_or("", |player| player.seat.name.as_str());
        format!("{} to {to}", pass.name)
    })
    .collect()
}

fn stands(plan: &ConcertPlan, pieces: &[usize]) -> Vec<Stand> {
    let mut stands = Vec::new();
    for standing in &plan.standing {
        let needed: Vec<usize> = pieces
            .iter()
            .copied()
            .filter(|piece| standing.pieces.contains(piece))
            .collect();
        if needed.is_empty() {
            continue;
        }
        let numbers = needed.iter().map(|piece| piece.saturating_add(1).to_string());
        stands.push(Stand {
            name: standing.name.clone(),
            shape: shape(&standing.name, standing.family),
            pieces: if needed.len() == pieces.len() {
                Vec::new()
            } else {
                numbers.collect()
            },
        });
    }
    stands
}

/// What an instrument looks like from above, by its name and family.
fn shape(name: &str, family: Option<Family>) -> Shape {
    let name = name.to_lowercase();
    let has = |words: &[&str]| words.iter().any(|word| name.contains(word));
    match family {
        Some(Family::Timpani) => Shape::Timpani,
        Some(Family::Mallets) => Shape::Mallets,
        _ if has(&["timpani"]) => Shape::Timpani,
        _ if has(&["cymbal", "gong", "tam-tam"]) => Shape::Cymbals,
        _ if has(&["bass drum"]) => Shape::BassDrum,
        _ if has(&["toms", "tom-tom", "bongo", "conga", "timbales", "drum set"]) => Shape::Drums,
        _ if has(&["snare", "drum"]) => Shape::Drum,
        _ => Shape::Table,
    }
}

fn notes(snapshot: &Snapshot, plan: &ConcertPlan, players: &[usize], pieces: &[usize]) -> Vec<Note> {
    let mut notes: Vec<Note> = Vec::new();
    let names: Vec<String> = plan
        .standing
        .iter()
        .filter(|one| !one.is_lacking && one.pieces.iter().any(|piece| pieces.contains(piece)))
        .map(|one| one.name.clone())
        .collect();
    if !names.is_empty() {
        notes.push(Note {
            about: "On stage before we start:".to_owned(),
            says: format!("{}.", joined(&names)),
        });
    }
    for backup in plan
        .backups
        .iter()
        .filter(|backup| players.contains(&backup.player))
    {
        let own: Vec<_> = backup
            .pieces
            .iter()
            .filter(|one| pieces.contains(&one.piece))
            .collect();
        if own.is_empty() {
            continue;
        }
        let says: Vec<String> = own
            .into_iter()
            .map(|one| plan_words::without(snapshot, plan, one))
            .collect();
        let seat = plan.name(snapshot, backup.player);
        notes.push(Note {
            about: format!("Without {seat}:"),
            says: format!("{}.", says.join("; ")),
        });
    }
    notes.extend(plan.notes.iter().map(|says| Note {
        about: String::new(),
        says: says.clone(),
    }));
    notes
}
