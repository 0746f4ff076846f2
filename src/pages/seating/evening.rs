//! The setups of an evening's pieces put together on one sheet.

use crate::catalogue::{EntryId, Snapshot};
use crate::planning::percussion::ConcertPlan;

use super::{Plan, StationKind, of_settings};

/// The setups of an evening, a sheet for each set of bands that play together: where a chair's part changes from piece
/// to piece it is left open, and the percussion of all pieces stands there with the numbers of its pieces.
pub fn of_evening(snapshot: &Snapshot, concert: &ConcertPlan, without: &[String]) -> Vec<Plan> {
    let name = snapshot.entry(concert.concert).map(|entry| entry.name.clone());
    let mut sheets: Vec<(&[EntryId], Plan, usize)> = Vec::new();
    for (number, piece) in (1..).zip(&concert.pieces) {
        let Some(setting) = &piece.setting else { continue };
        let Some(mut next) = of_settings(snapshot, &[setting], without).pop() else {
            continue;
        };
        next.stations
            .iter_mut()
            .for_each(|station| station.pieces = vec![number]);
        match sheets.iter_mut().find(|(bands, ..)| *bands == setting.bands) {
            Some((_, plan, count)) => {
                join(plan, next, number);
                *count += 1;
            }
            None => {
                next.piece.clone_from(&name);
                sheets.push((&setting.bands, next, 1));
            }
        }
    }
    let finished = sheets.into_iter().map(|(_, mut plan, count)| {
        // What stands there all evening needs no numbers.
        for station in plan
            .stations
            .iter_mut()
            .filter(|station| station.pieces.len() == count)
        {
            station.pieces.clear();
        }
        // What came later stands where its kind stands.
        plan.stations.sort_by_key(|station| match station.kind {
            StationKind::Mallets => 0,
            StationKind::Drum => 1,
            StationKind::Table => 2,
            StationKind::Timpani(_) => 3,
        });
        plan
    });
    finished.collect()
}

/// Puts the setup of another piece into one.
fn join(plan: &mut Plan, next: Plan, number: usize) {
    let shape = |plan: &Plan| -> Vec<Vec<usize>> {
        let rows = plan.rows.iter();
        rows.map(|row| row.iter().map(|block| block.chairs.len()).collect())
            .collect()
    };
    if shape(plan) == shape(&next) {
        let (now, then) = (plan.rows.iter_mut().flatten(), next.rows.iter().flatten());
        for (now, then) in now.zip(then) {
            if now.name != then.name {
                // `clarinet 1` in one piece and `clarinet 2` in another: the section alone.
                let same = now
                    .name
                    .chars()
                    .zip(then.name.chars())
                    .take_while(|(a, b)| a == b);
                let same: String = same.map(|(a, _)| a).collect();
                now.name = same.trim_end().to_owned();
                now.short.clone_from(&now.name);
            }
            for (now, then) in now.chairs.iter_mut().zip(&then.chairs) {
                if now != then {
                    now.clear();
                }
            }
        }
    } else {
        let words = format!("No. {number} is set up otherwise: see its own page.");
        plan.notes.push(words);
    }
    for mut station in next.stations {
        match plan.stations.iter_mut().find(|known| known.name == station.name) {
            Some(known) => {
                known.pieces.push(number);
                for thing in station.things {
                    if !known.things.contains(&thing) {
                        known.things.push(thing);
                    }
                }
                if let (StationKind::Timpani(here), StationKind::Timpani(there)) =
                    (&mut known.kind, station.kind)
                {
                    *here = there.max(*here);
                }
            }
            None => {
                station.pieces = vec![number];
                plan.stations.push(station);
            }
        }
    }
    for note in next.notes {
        if !plan.notes.contains(&note) {
            plan.notes.push(note);
        }
    }
}
