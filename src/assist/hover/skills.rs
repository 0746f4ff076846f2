//! A skill: when it is usually taught, what it stands on, and whether the band at hand has it.

use crate::catalogue::names::key;
use crate::catalogue::{EntryId, Snapshot};
use crate::findings::skills::taught;
use crate::notation::Kind;

use super::super::markdown::words as plainly;
use super::super::{Place, drafts};

/// What there is to say about a skill by its name; none where nothing is known of it.
pub(in super::super) fn words(place: &Place<'_>, name: &str) -> Option<String> {
    let usual = crate::music::skills::find(name);
    let bands = bands(place, &also(place.snapshot, name));
    if usual.is_none() && bands.is_empty() {
        return None;
    }
    let mut text = match usual {
        Some(skill) => format!("**{}**, usually taught: {}", skill.name, skill.when),
        None => format!("**{}**", plainly(name)),
    };
    if let Some(skill) = usual.filter(|skill| !skill.after.is_empty()) {
        text.push_str(&format!("  \nafter {}", skill.after.join(", ")));
    }
    for line in bands {
        text.push_str(&format!("  \n{line}"));
    }
    Some(text)
}

/// The same for a skill's own card; only what the card itself does not say.
pub(super) fn of_card(place: &Place<'_>, id: EntryId) -> Option<String> {
    let entry = place
        .snapshot
        .entry(id)
        .filter(|entry| entry.kind == Some(Kind::Skill))?;
    let lines = bands(place, &also(place.snapshot, &entry.name));
    (!lines.is_empty()).then(|| lines.join("  \n"))
}

/// All names of a skill, as they are compared.
fn also(snapshot: &Snapshot, name: &str) -> Vec<String> {
    let mut names = vec![key(name)];
    if let Some(skill) = crate::music::skills::find(name) {
        names.push(key(skill.name));
        names.extend(skill.also.iter().map(|also| key(also)));
    }
    let own: Vec<EntryId> = snapshot.names().of(Kind::Skill, name).collect();
    for entry in own.into_iter().filter_map(|id| snapshot.entry(id)) {
        if let crate::catalogue::model::Facts::Skill(skill) = entry.facts() {
            names.extend(skill.also.iter().map(|also| key(&also.value)));
        }
        names.push(key(&entry.name));
    }
    names
}

/// One line for each band at hand: taught, taught by a day, introduced, or not taught.
fn bands(place: &Place<'_>, names: &[String]) -> Vec<String> {
    let mut lines = Vec::new();
    for entry in drafts::bands(place.snapshot, Some(place.id))
        .into_iter()
        .filter_map(|id| place.snapshot.entry(id))
    {
        let Some(band) = entry.ensemble() else { continue };
        let is_it = |name: &str| names.contains(&key(name));
        let found = taught(band).find(|(said, _)| is_it(&said.value.name));
        let introduced = band.introduced.iter().any(|said| is_it(&said.value.name));
        let words = match found {
            Some((_, Some(day))) => format!("taught by {day}"),
            Some((_, None)) => "taught".to_owned(),
            None if introduced => "introduced".to_owned(),
            // A band whose card says nothing of skills is not said to lack one.
            None if band.taught.is_empty() && band.introduced.is_empty() => continue,
            None => "not taught yet".to_owned(),
        };
        lines.push(format!("{}: {words}", plainly(&entry.name)));
    }
    lines
}
