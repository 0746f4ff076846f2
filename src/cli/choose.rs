//! `levare choose`: builds a concert.

mod json;

use std::io::{self, Write};

use super::args::{Choose, ChooseForm};
use super::assign::meant;
use super::color::Paint;
use super::find::{open_room, understood};
use super::room::Room;
use super::{Status, complain, say};
use crate::assist::answers::choose as answers;
use crate::assist::answers::limits::sum;
use crate::assist::programmed;
use crate::catalogue::{EntryId, Snapshot};
use crate::disk;
use crate::notation::Kind;
use crate::notation::values::Lasts;
use crate::planning::choose::{Choice, Outcome, Wish, budget_of, choose};
use crate::text::apply;
use crate::text::sentences::joined;

/// Runs the command.
pub fn run(asked: &Choose, paint: Paint, out: &mut dyn Write) -> io::Result<Status> {
    let Some(room) = open_room(&asked.at) else {
        return Ok(Status::CouldNot);
    };
    let snapshot = &room.snapshot;
    let Some((concert, bands)) = told(for_whom(snapshot, &asked.name.join(" "))) else {
        return Ok(Status::CouldNot);
    };
    if asked.write && concert.is_none() {
        complain(
            "There is no concert card to write to. Copy the card that is printed into your catalog, or name a concert that has one.",
        );
        return Ok(Status::CouldNot);
    }
    let Some(wish) = wish(snapshot, asked, concert, &bands) else {
        return Ok(Status::CouldNot);
    };
    let choice = choose(snapshot, &wish);
    match asked.form {
        ChooseForm::Table => say::tell(&answers::tell(snapshot, &wish, &choice), paint, out)?,
        ChooseForm::Json => json::tell(snapshot, &choice, out)?,
    }
    if let (true, Some(concert)) = (asked.write, concert) {
        return write(&room, concert, &choice);
    }
    Ok(match choice.outcome {
        Outcome::Program(_) => Status::Nothing,
        _ => Status::Found,
    })
}

/// What went wrong is told; the rest comes back.
fn told<T>(found: Result<T, String>) -> Option<T> {
    match found {
        Ok(found) => Some(found),
        Err(words) => {
            complain(&words);
            None
        }
    }
}

/// The concert, where there is one of that name, and the bands that play together.
fn for_whom(snapshot: &Snapshot, name: &str) -> Result<(Option<EntryId>, Vec<EntryId>), String> {
    let bare = meant::bare(name);
    let Some(concert) = snapshot.names().of(Kind::Concert, bare).next() else {
        if let Some(band) = snapshot.ensemble_named(bare) {
            return Ok((None, vec![band]));
        }
        return Err(format!(
            "There is no concert and no band called \"{bare}\" here.{}",
            meant::perhaps(snapshot, &[Kind::Concert, Kind::Ensemble], bare)
        ));
    };
    let card = snapshot.entry(concert).and_then(|entry| entry.concert());
    for band in card.iter().flat_map(|card| &card.bands) {
        meant::band(snapshot, &band.value.name)?;
    }
    Ok((Some(concert), answers::bands(snapshot, concert)?))
}

fn wish<'w>(
    snapshot: &Snapshot,
    asked: &Choose,
    concert: Option<EntryId>,
    bands: &'w [EntryId],
) -> Option<Wish<'w>> {
    let conditions = |said: &[String]| {
        let mut all = Vec::new();
        for words in said {
            all.extend(understood(snapshot, std::slice::from_ref(words))?);
        }
        Some(all)
    };
    let pieces = |said: &[String]| {
        let each = said.iter().map(|title| told(meant::piece(snapshot, title)));
        each.collect::<Option<Vec<EntryId>>>()
    };
    let seconds = |said: &Option<String>, what: &str| match said {
        None => Some(None),
        Some(words) => match Lasts::read(words) {
            Some(lasts) => Some(Some(lasts.high.seconds())),
            None => {
                complain(&format!(
                    "\"{words}\" is not a length of time. Type --{what} \"20 minutes\" or --{what} 18:30."
                ));
                None
            }
        },
    };
    let money = |said: &Option<String>, what: &str| match said {
        None => Some(None),
        Some(words) => told(sum(words, &format!("Type --{what}"))).map(Some),
    };
    let budget = money(&asked.budget, "budget")?.or_else(|| budget_of(snapshot, concert));
    let postage = money(&asked.postage, "postage")?;
    if let (Some(budget), Some(postage)) = (&budget, &postage)
        && budget.currency != postage.currency
    {
        complain(&format!(
            "The budget is in {} and the postage in {}. Levare does not exchange money: give both in one.",
            budget.currency, postage.currency
        ));
        return None;
    }
    let (own, all): (Vec<&String>, Vec<&String>) =
        asked.with.iter().partition(|words| of_one_band(words).is_some());
    let mut own_conditions = Vec::new();
    for (band, words) in own.into_iter().filter_map(|words| of_one_band(words)) {
        let id = one_of(snapshot, bands, band)?;
        let found = understood(snapshot, &[words.to_owned()])?;
        if let Some(counts) = found.iter().find(|one| one.counts()) {
            complain(&format!(
                "\"{counts}\" counts over the whole program. For one band only what each of its pieces must meet can be asked."
            ));
            return None;
        }
        own_conditions.extend(found.into_iter().map(|condition| (id, condition)));
    }
    let mut shares = Vec::new();
    for pair in asked.share.chunks(2) {
        let [band, time] = pair else { continue };
        let id = one_of(snapshot, bands, meant::bare(band))?;
        shares.push((id, seconds(&Some(time.clone()), "share \"the band\"")??));
    }
    let all: Vec<String> = all.into_iter().cloned().collect();
    Some(Wish {
        concert,
        bands,
        together: asked.together,
        uneven: asked.uneven,
        shares,
        own: own_conditions,
        others: asked.others as usize,
        conditions: conditions(&all)?,
        prefer: conditions(&asked.prefer)?,
        keep: pieces(&asked.keep)?,
        without: pieces(&asked.without)?,
        length: seconds(&asked.length, "length")?,
        between: seconds(&asked.between, "between")?,
        budget,
        postage: postage.map(|money| money.high),
        new_skills: asked.new_skills,
        rests: asked.rest,
        new_keys: asked.new_keys,
        borrow: asked.borrow,
        alike: asked.alike,
        steps: None,
        briefly: false,
    })
}

/// A condition for one band, `"Sixth Grade Band": up to grade 1`, as the band's name and the condition.
fn of_one_band(words: &str) -> Option<(&str, &str)> {
    let (name, rest) = words.split_once(':')?;
    let name = name.trim();
    let bare = meant::bare(name);
    (bare.len() < name.len()).then_some((bare, rest.trim()))
}

/// One of the bands of the evening, by its name.
fn one_of(snapshot: &Snapshot, bands: &[EntryId], name: &str) -> Option<EntryId> {
    let id = snapshot.ensemble_named(name).filter(|id| bands.contains(id));
    if id.is_none() || bands.len() < 2 {
        let names: Vec<String> = bands
            .iter()
            .filter_map(|id| Some(format!("\"{}\"", snapshot.entry(*id)?.name)))
            .collect();
        complain(&match bands.len() {
            0 | 1 => format!(
                "Only one band plays: {}. There is nothing to share.",
                joined(&names)
            ),
            _ => format!(
                "\"{name}\" is not one of the bands that play. They are {}.",
                joined(&names)
            ),
        });
        return None;
    }
    id
}

/// Puts the program on the concert's card.
fn write(room: &Room, concert: EntryId, choice: &Choice) -> io::Result<Status> {
    let Outcome::Program(program) = &choice.outcome else {
        complain("Nothing was written.");
        return Ok(Status::Found);
    };
    let pieces = programmed::played(program);
    let edits = match programmed::edit(&room.snapshot, concert, &pieces) {
        Ok(edits) => edits,
        Err(why) => {
            complain(&format!("Nothing was written. {}", why.says()));
            return Ok(Status::CouldNot);
        }
    };
    if edits.is_empty() {
        complain("The program is on the card already.");
        return Ok(Status::Nothing);
    }
    let sheet = room.sheets.get(concert.file as usize);
    let Some((sheet, read)) = sheet.and_then(|sheet| Some((sheet, sheet.read.as_ref()?))) else {
        complain(
            "Nothing was written: the demo is part of the program. \"levare start --demo\" writes it into a folder.",
        );
        return Ok(Status::CouldNot);
    };
    // While a part of the catalog cannot be read, nobody knows what else stands there.
    if !room.problems.is_empty() {
        complain("Nothing was written, because not everything in the catalog could be read.");
        return Ok(Status::CouldNot);
    }
    let Ok(text) = apply(&sheet.text, &edits) else {
        complain("Nothing was written.");
        return Ok(Status::CouldNot);
    };
    match disk::write_if_unchanged(&read.path, &read.bytes(&read.text), &read.bytes(&text)) {
        Ok(()) => {
            complain(&format!("The program was written into \"{}\".", sheet.shown));
            Ok(Status::Nothing)
        }
        Err(problem) => {
            complain(&problem.to_string());
            Ok(Status::CouldNot)
        }
    }
}
