//! Keys, signatures, meters, ranges and instruments in words.

use crate::music::{Instrument, Key, Lookup, Meter, PitchRange, Signature, Transposition};

use super::super::markdown::words;
use super::super::{Place, drafts};
use super::staff_picture;
use crate::music::meter::MeterKind;
use crate::music::staff::{self, Clef};
use crate::text::sentences::joined;

/// What each section reads in a concert key.
pub(in super::super) fn key(place: &Place<'_>, key: Key) -> String {
    let mut text = format!("**{key}**, concert");
    if let Some(signature) = key.signature() {
        text.push_str(&format!(": {}", signs(signature)));
    }
    for (part, names) in sections(place) {
        let written = key.written(part);
        let signature = written
            .signature()
            .map_or_else(String::new, |signature| format!(", {}", signs(signature)));
        text.push_str(&format!("  \n{} {written}{signature}", read(&names)));
    }
    text
}

/// What each section reads under a concert key signature.
pub(in super::super) fn signature(place: &Place<'_>, signature: Signature) -> String {
    let (major, minor) = signature.keys();
    let mut text = format!("**{}**, concert: {major} or {minor}", signs(signature));
    for (part, names) in sections(place) {
        text.push_str(&format!(
            "  \n{} {}",
            read(&names),
            signs(signature.written(part))
        ));
    }
    text
}

/// A signature in words; an empty one says so.
fn signs(signature: Signature) -> String {
    match signature.fifths() {
        0 => "no sharps or flats".to_owned(),
        _ => signature.to_string(),
    }
}

/// `clarinet, trumpet read`, `alto sax reads`.
fn read(names: &[String]) -> String {
    let all = words(&names.join(", "));
    format!("{all} {}", if names.len() == 1 { "reads" } else { "read" })
}

/// The instruments of the piece, or of the band, by how they transpose; the usual four where neither says.
fn sections(place: &Place<'_>) -> Vec<(Transposition, Vec<String>)> {
    let instruments = place.snapshot.instruments();
    let mut names: Vec<String> = Vec::new();
    if let Some(piece) = place.entry.piece() {
        names.extend(place.snapshot.part_names(piece).map(|name| name.text.clone()));
    }
    if names.is_empty() {
        let bands = drafts::bands(place.snapshot, Some(place.id));
        for band in bands.into_iter().filter_map(|id| place.snapshot.entry(id)) {
            let players = band.ensemble().map_or(&[][..], |band| &band.players);
            names.extend(players.iter().map(|row| row.name.clone()));
        }
    }
    if names.is_empty() {
        names.extend(["flute", "clarinet", "alto sax", "horn"].map(str::to_owned));
    }
    let mut groups: Vec<(Transposition, Vec<String>)> = Vec::new();
    for name in names {
        let Lookup::Exact(instrument) = instruments.find(&name) else {
            continue;
        };
        if !instrument.is_pitched || instrument.family.is_percussion() {
            continue;
        }
        // An octave changes nothing about the key.
        let part = Transposition {
            octave_change: 0,
            ..instrument.transposition
        };
        let name = instrument.name.to_string();
        match groups.iter_mut().find(|(known, _)| same_key(*known, part)) {
            Some((_, group)) if group.contains(&name) => {}
            Some((_, group)) => group.push(name),
            None => groups.push((part, vec![name])),
        }
    }
    groups
}

fn same_key(one: Transposition, other: Transposition) -> bool {
    one.sharps_added() == other.sharps_added()
}

/// A meter's kind and beat.
pub(super) fn meter(meter: &Meter) -> String {
    let kind = match meter.kind() {
        MeterKind::Simple => "simple",
        MeterKind::Compound => "compound",
        _ => "no steady beat",
    };
    let beat = match (meter.beats(), meter.beat()) {
        (Some(beats), Some(beat)) => format!(": {beats} beats of a {beat}"),
        _ => String::new(),
    };
    format!("**{meter}**, {kind}{beat}")
}

/// A range in words, and what it is on the instrument named.
pub(super) fn range(
    place: &Place<'_>,
    name: &str,
    range: PitchRange,
    concert: bool,
    pictures: bool,
) -> String {
    let said = if concert { "concert" } else { "written" };
    let mut text = format!("**{range}**, {said}: {}", range.span_in_words());
    let Some(instrument) = exact(place, name) else {
        return text;
    };
    if !concert {
        text.push_str(&on_staff(range, instrument.clef, pictures));
    }
    let part = instrument.transposition;
    if concert {
        if let (Some(low), Some(high)) = (part.written(range.low), part.written(range.high)) {
            text.push_str(&format!(
                "  \n{} reads {}",
                words(&instrument.name),
                PitchRange::new(low, high)
            ));
        }
    } else if part != Transposition::NONE
        && let (Some(low), Some(high)) = (part.sounding(range.low), part.sounding(range.high))
    {
        text.push_str(&format!("  \nsounds {}", PitchRange::new(low, high)));
    }
    if let Some(full) = instrument.full_range {
        text.push_str(&format!(
            "  \nthe {} has {full}, {}",
            words(&instrument.name),
            full.span_in_words()
        ));
    }
    for band in drafts::bands(place.snapshot, Some(place.id))
        .into_iter()
        .filter_map(|id| place.snapshot.entry(id))
    {
        let own = band.ensemble().and_then(|facts| {
            facts
                .ranges
                .iter()
                .find(|said| exact(place, &said.value.name).is_some_and(|own| own.name == instrument.name))
        });
        if let Some(own) = own {
            text.push_str(&format!(
                "  \n{} plays {} with ease",
                words(&band.name),
                own.value.ends.words(own.value.range)
            ));
        }
    }
    text
}

/// A range on its staff: where the two notes stand in words, and drawn where a picture can be shown.
fn on_staff(range: PitchRange, clef: Clef, pictures: bool) -> String {
    let low = staff::place(range.low, clef);
    let high = staff::place(range.high, clef);
    let mut text = format!("  \nfrom {low} to {high}, {}", clef.name());
    if pictures && let Some(picture) = staff_picture::of(range, clef) {
        let address = staff_picture::address(&picture);
        text.push_str(&format!("\n\n![{low} and {high} on a staff]({address})\n\n"));
    }
    text
}

/// What an instrument is, and how many of the band play it.
pub(in super::super) fn instrument(place: &Place<'_>, name: &str) -> Option<String> {
    instrument_with(place, name, &[])
}

/// What an instrument is, where its row names the sticks itself.
pub(in super::super) fn instrument_with(place: &Place<'_>, name: &str, own: &[&str]) -> Option<String> {
    let instrument = exact(place, name)?;
    let mut text = format!("**{}**", words(&instrument.name));
    if !instrument.abbreviations.is_empty() {
        text.push_str(&format!(" ({})", words(&instrument.abbreviations.join(", "))));
    }
    if instrument.is_pitched {
        let interval = instrument.transposition.interval();
        if instrument.transposition == Transposition::NONE {
            text.push_str("  \nsounds as written");
        } else {
            text.push_str(&format!("  \nsounds {}", interval.sounds()));
        }
    }
    if let Some(full) = instrument.full_range {
        text.push_str(&format!("  \nwritten range {full}"));
    }
    match &instrument.sticks {
        _ if !own.is_empty() => text.push_str(&format!("  \nplayed with {} here", words(&joined(own)))),
        Some(sticks) => text.push_str(&format!("  \nplayed with {}", words(sticks.as_ref()))),
        None => {}
    }
    for id in drafts::bands(place.snapshot, Some(place.id)) {
        let Some(band) = place.snapshot.entry(id) else {
            continue;
        };
        let players = band.ensemble().map_or(&[][..], |facts| &facts.players);
        let row = players
            .iter()
            .find(|row| exact(place, &row.name).is_some_and(|own| own.name == instrument.name));
        if let Some(count) = row.and_then(|row| row.count) {
            text.push_str(&format!("  \n{} has {}", words(&band.name), count.number));
        }
    }
    Some(text)
}

fn exact<'s>(place: &Place<'s>, name: &str) -> Option<&'s Instrument> {
    let mut name = name.trim();
    loop {
        // `clarinet 2` is a clarinet, `advanced snare` a snare.
        let bare = name.trim_end_matches(|c: char| c.is_ascii_digit() || c == '-' || c == ' ');
        if let Lookup::Exact(instrument) = place.snapshot.instruments().find(bare) {
            return Some(instrument);
        }
        name = name.split_once(' ')?.1.trim_start();
    }
}
