//! Values of fields.

use crate::findings::{RULES, Severity};
use crate::music::{Key, Signature};
use crate::notation::fields::{FieldSpec, RowsOf, Shape};
use crate::notation::{Kind, Of};
use crate::text::Span;

use super::super::Place;
use super::super::offers::{Offer, OfferKind};
use super::{names, rows, sayings};

/// What could stand in a field's value, which runs from its start to the cursor.
pub(super) fn of(place: &Place<'_>, spec: &'static FieldSpec, value: Span) -> Vec<Offer> {
    let of = match spec.shape {
        Shape::List(of) | Shape::Value(of) => of,
        Shape::Rows(RowsOf::Program) => Of::Title,
        Shape::Rows(_) | Shape::Block(_) | Shape::Running => return Vec::new(),
    };
    let text = place.text();
    let here = rows::segment(text, value);
    if let Some(behind) = behind_at(text, here) {
        return marks(place, behind);
    }
    match of {
        Of::Key | Of::KeyTaught => keys(place, here),
        Of::Signature => (-7..=7).filter_map(|fifths| signature(fifths, here)).collect(),
        Of::Meter => words(
            here,
            &[
                "4/4", "3/4", "2/4", "cut", "6/8", "5/4", "3/8", "9/8", "12/8", "7/8", "2/2", "none",
            ],
        ),
        Of::Tempo => tempos(here),
        Of::Title => names::of(place, titled(spec.name), here),
        Of::Held => names::of(place, &[Kind::Piece], here),
        Of::Listed => names::of(place, &[Kind::List], here),
        Of::Performance if !here.slice(text).contains(' ') => sayings::performances(place, here),
        Of::Performance => names::of(place, &[Kind::Ensemble], quoted(text, here)),
        // The number comes first, and nobody but the director knows it.
        Of::Grade if !here.slice(text).contains(|c: char| c.is_ascii_digit()) => Vec::new(),
        Of::Grade => {
            let mut offers = words(quoted_or_last(text, here), &["publisher", "ours"]);
            offers.extend(names::of(place, &[Kind::List], quoted_or_last(text, here)));
            offers
        }
        Of::Skill => skills(place, here),
        Of::Equipment | Of::InstrumentRange => rows::instruments(place, here, of == Of::Equipment),
        Of::Copies => rows::instruments(place, quoted_or_last(text, here), false),
        Of::Stet | Of::Phrase => phrases(here, of == Of::Stet),
        Of::Road => road(here),
        Of::Condition => conditions(place, here),
        Of::Mark => sayings::marks(place, here),
        Of::Needs => sayings::needs(place, here),
        Of::People => sayings::of(place, spec.name, here),
        Of::Words if spec.name == "style" => styles(place, here),
        Of::Together | Of::PartName => rows::instruments(place, here, true),
        Of::Words
        | Of::Season
        | Of::Meets
        | Of::Pickup
        | Of::Takes
        | Of::Loan
        | Of::License
        | Of::Bought
        | Of::Track
        | Of::Events
        | Of::Change
        | Of::Staffing
        | Of::Pace
        | Of::Postage
        | Of::Absent
        | Of::Away
        | Of::Pin
        | Of::ConcertLength
        | Of::NewSkills
        | Of::PartNumbers
        | Of::Size
        | Of::YesNo
        | Of::Done
        | Of::Year
        | Of::Family
        | Of::Clef
        | Of::Sounds => sayings::of(place, spec.name, here),
        _ => Vec::new(),
    }
}

fn titled(field: &str) -> &'static [Kind] {
    match field {
        "for" => &[Kind::Ensemble],
        _ => &[Kind::Piece],
    }
}

fn words(written: Span, all: &[&str]) -> Vec<Offer> {
    all.iter()
        .map(|word| Offer::new(*word, written, OfferKind::Value))
        .collect()
}

/// What stands behind the last ` at ` of a stretch, up to the cursor.
pub(super) fn behind_at(text: &str, written: Span) -> Option<Span> {
    let words = written.slice(text);
    let at = words.rfind(" at ")?.saturating_add(4);
    let skip = u32::try_from(at).ok()?;
    Some(Span::new(
        written.start.saturating_add(skip).min(written.end),
        written.end,
    ))
}

/// From the last opening quotation mark on, else from the cursor.
fn quoted(text: &str, written: Span) -> Span {
    let words = written.slice(text);
    let at = words.rfind(['"', '“']).unwrap_or(words.len());
    let skip = u32::try_from(at).unwrap_or(0);
    Span::new(written.start.saturating_add(skip).min(written.end), written.end)
}

/// From the last opening quotation mark on, else from the last word on.
fn quoted_or_last(text: &str, written: Span) -> Span {
    let words = written.slice(text);
    let at = words
        .find(['"', '“'])
        .or_else(|| words.rfind(' ').map(|at| at + 1))
        .unwrap_or(0);
    let skip = u32::try_from(at).unwrap_or(0);
    Span::new(written.start.saturating_add(skip).min(written.end), written.end)
}

/// The marks of the piece, and the conventional places.
pub(super) fn marks(place: &Place<'_>, written: Span) -> Vec<Offer> {
    let piece = place.entry.piece();
    let own = piece.map_or(&[][..], |piece| &piece.marks);
    let mut offers: Vec<Offer> = own
        .iter()
        .map(|said| {
            Offer::new(said.value.name.clone(), written, OfferKind::Value)
                .detail(format!("measure {}", said.value.measure))
                .rank(1)
        })
        .collect();
    for conventional in ["trio", "coda", "middle section"] {
        let known = offers
            .iter()
            .any(|offer| offer.label.eq_ignore_ascii_case(conventional));
        if !known {
            offers.push(Offer::new(conventional, written, OfferKind::Value).detail("a usual place"));
        }
    }
    offers
}

fn keys(place: &Place<'_>, written: Span) -> Vec<Offer> {
    let mut taught: Vec<(Key, String)> = Vec::new();
    for band in place
        .snapshot
        .usual_bands()
        .into_iter()
        .filter_map(|id| place.snapshot.entry(id))
    {
        let facts = band.ensemble().map_or(&[][..], |facts| &facts.keys);
        taught.extend(facts.iter().map(|said| (said.value, band.name.clone())));
    }
    let mut all: Vec<Key> = Vec::new();
    // The keys of a school band's shelf: from five flats to three sharps.
    for fifths in [-2, -3, -1, -4, 0, 1, -5, 2, 3] {
        if let Some(signature) = Signature::new(fifths) {
            let (major, minor) = signature.keys();
            all.extend([major, minor]);
        }
    }
    all.extend(
        ["D dorian", "G dorian", "G mixolydian"]
            .into_iter()
            .filter_map(Key::read),
    );
    for (key, _) in &taught {
        if !all.contains(key) {
            all.push(*key);
        }
    }
    all.into_iter()
        .map(|key| {
            let band = taught.iter().find(|(known, _)| *known == key);
            let signature = key
                .signature()
                .map_or_else(String::new, |signature| signature.to_string());
            Offer::new(key.to_string(), written, OfferKind::Value)
                .detail(signature)
                .says(band.map_or_else(
                    || "A concert key.".to_owned(),
                    |(_, band)| format!("A concert key, taught to the {band}."),
                ))
                .rank(if band.is_some() { 1 } else { 5 })
        })
        .collect()
}

fn signature(fifths: i32, written: Span) -> Option<Offer> {
    let signature = Signature::new(fifths)?;
    let (major, minor) = signature.keys();
    let rank = u8::try_from(fifths.unsigned_abs()).unwrap_or(9);
    Some(
        Offer::new(signature.to_string(), written, OfferKind::Value)
            .detail(format!("{major}, {minor}"))
            .says("A concert key signature.")
            .rank(rank),
    )
}

fn tempos(written: Span) -> Vec<Offer> {
    let beats = ["quarter = ", "dotted quarter = ", "half = ", "eighth = "]
        .into_iter()
        .map(|beat| Offer::new(beat, written, OfferKind::Value).says("A beat and its speed."));
    let terms = crate::music::terms::TERMS
        .iter()
        .map(|term| Offer::new(term.name, written, OfferKind::Value).says("A tempo term."));
    let more = ["slower", "faster", "swing"]
        .into_iter()
        .map(|word| Offer::new(word, written, OfferKind::Value));
    beats.chain(terms).chain(more).collect()
}

fn skills(place: &Place<'_>, written: Span) -> Vec<Offer> {
    let mut names: Vec<(String, String, u8)> = Vec::new();
    for (_, entry) in place.snapshot.entries() {
        if entry.kind == Some(Kind::Skill) && !entry.name.is_empty() {
            names.push((
                entry.name.clone(),
                "A skill with a card of its own.".to_owned(),
                1,
            ));
        }
    }
    for skill in &crate::music::skills::SKILLS {
        names.push((
            skill.name.to_owned(),
            format!("Usually taught: {}.", skill.when),
            5,
        ));
    }
    let mut offers: Vec<Offer> = Vec::new();
    for (name, says, rank) in names {
        if !offers.iter().any(|offer| offer.label.eq_ignore_ascii_case(&name)) {
            offers.push(Offer::new(name, written, OfferKind::Value).says(says).rank(rank));
        }
    }
    offers
}

fn phrases(written: Span, reason: bool) -> Vec<Offer> {
    RULES
        .iter()
        .map(|rule| {
            let page = crate::findings::page::parse(rule.page);
            let text = if reason {
                format!("{} because ", rule.phrase)
            } else {
                rule.phrase.to_owned()
            };
            let severity: Severity = rule.severity;
            Offer::new(rule.phrase, written, OfferKind::Phrase)
                .writes(text)
                .detail(severity.word())
                .says(page.notices.trim())
        })
        .collect()
}

fn road(written: Span) -> Vec<Offer> {
    [
        ("repeat ", "Measures played twice, such as repeat 33-40."),
        ("first ending ", "Measures of the first ending."),
        ("second ending ", "Measures of the second ending."),
        ("segno at ", "Where the sign is."),
        ("to coda at ", "Where to leave for the coda."),
        ("coda at ", "Where the coda starts."),
        ("fine at ", "Where it ends after the repeat."),
        ("D.C. at ", "From the beginning."),
        ("D.C. al Fine at ", "From the beginning to the fine."),
        ("D.C. al Coda at ", "From the beginning, then to the coda."),
        ("D.S. at ", "From the sign."),
        ("D.S. al Fine at ", "From the sign to the fine."),
        ("D.S. al Coda at ", "From the sign, then to the coda."),
    ]
    .into_iter()
    .map(|(words, says)| {
        Offer::new(words.trim_end(), written, OfferKind::Value)
            .writes(words)
            .says(says)
    })
    .collect()
}

fn conditions(place: &Place<'_>, written: Span) -> Vec<Offer> {
    let mut offers = sayings::conditions(place, written);
    offers.extend(names::of(place, &[Kind::Criteria, Kind::List], written));
    offers
}

/// The styles that the catalogue uses already, the commonest first.
fn styles(place: &Place<'_>, written: Span) -> Vec<Offer> {
    let mut counts: std::collections::BTreeMap<&str, usize> = std::collections::BTreeMap::new();
    for (_, entry) in place.snapshot.entries() {
        if !std::ptr::eq(&**entry, &**place.entry) {
            entry
                .face
                .words("style")
                .for_each(|style| *counts.entry(style).or_default() += 1);
            continue;
        }
        // What is being written here is no style that is used already.
        for said in entry.piece().map_or(&[][..], |piece| &piece.styles) {
            if !said.span.touches(place.offset) {
                *counts.entry(said.value.as_str()).or_default() += 1;
            }
        }
    }
    let mut styles: Vec<(&str, usize)> = counts.into_iter().collect();
    styles.sort_by_key(|(_, count)| std::cmp::Reverse(*count));
    styles
        .into_iter()
        .map(|(style, count)| {
            let detail = match count {
                1 => "1 piece".to_owned(),
                _ => format!("{count} pieces"),
            };
            Offer::new(style, written, OfferKind::Value).detail(detail)
        })
        .collect()
}
