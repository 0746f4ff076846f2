//! Answers from keys, meters, tempos, lengths and measures.

use std::collections::BTreeSet;

use crate::catalogue::course::Course;
use crate::catalogue::model::Piece;
use crate::music::meter::MeterKind;
use crate::music::tempo_vocabulary::Speed;
use crate::music::{BeatUnit, Key, Meter, Signature, Tempo};
use crate::notation::values::Role;
use crate::text::sentences::{counted, joined};

use super::amount::Amount;
use super::judge::Evaluator;
use super::styles;
use super::subject::{Subject, Values};
use super::term::{Condition, Facet, MeterSort, Term};
use super::truth::Truth;

/// From this many beats a minute down music is slow; faster than [`NOT_SLOW`] it is not. Between the two
/// directors differ. Common practice, no source.
const SLOW: u64 = 76;
const NOT_SLOW: u64 = 96;
/// The same for fast music. Common practice, no source.
const FAST: u64 = 120;
const NOT_FAST: u64 = 100;

impl Evaluator<'_> {
    /// Answers conditions on keys, meters, tempos and lengths; none for others.
    pub(super) fn music(&self, term: &Term, subject: &Subject<'_>) -> Option<Truth> {
        Some(match term {
            Term::Signature { flats, sharps } => signature(*flats, *sharps, subject),
            Term::Key(key) => somewhere(&keys(subject), |found| found.same_as(*key), "its tonal center"),
            Term::Mode(mode) => {
                let fits = |key: &Key| match *mode {
                    crate::music::Mode::Major | crate::music::Mode::Minor => {
                        key.mode == *mode
                            || key.mode.is_bright() == mode.is_bright() && key.mode.fifths() == mode.fifths()
                    }
                    _ => key.mode == *mode,
                };
                somewhere(&keys(subject), fits, "its tonal center")
            }
            Term::Meter(meter) => somewhere(
                &subject.meters(),
                |found| found.numbers() == meter.numbers(),
                "its meter",
            ),
            Term::MeterSort(sort) => somewhere(&subject.meters(), |meter| is_sort(meter, *sort), "its meter"),
            // A new signature is a change of key, whether or not the card tells the centers.
            Term::Changes(Facet::Key) if changes_signature(subject) => {
                Truth::Yes("changes its key signature".to_owned())
            }
            Term::Changes(facet) => {
                let (mut found, mut complete) = different(*facet, subject);
                // A new signature is a new key, even where no tonal center is named.
                if *facet == Facet::Key && found.len() < 2 {
                    let (signatures, all) = different(Facet::Signature, subject);
                    if signatures.len() > 1 {
                        (found, complete) = (signatures, all);
                    } else if found.is_empty() {
                        complete = false;
                    }
                }
                let low = found.len() as u64;
                let high = complete.then_some(low);
                Truth::within(
                    Amount::AtLeast(2).holds_in(low, high, true),
                    format!("has {}", counted(low as usize, facet.word())),
                    missing(*facet),
                )
            }
            Term::Different { amount, what } => {
                let (found, complete) = different(*what, subject);
                let low = found.len() as u64;
                Truth::within(
                    amount.holds_in(low, complete.then_some(low), true),
                    format!("has {}", counted(low as usize, what.word())),
                    missing(*what),
                )
            }
            Term::Tempo(amount) => tempo(*amount, subject),
            Term::Slow => pace(subject, Speed::Slow, |bpm| bpm <= SLOW, |bpm| bpm > NOT_SLOW),
            Term::Fast => pace(subject, Speed::Fast, |bpm| bpm >= FAST, |bpm| bpm < NOT_FAST),
            Term::Contrast => Truth::all([
                pace(subject, Speed::Slow, |bpm| bpm <= SLOW, |bpm| bpm > NOT_SLOW),
                pace(subject, Speed::Fast, |bpm| bpm >= FAST, |bpm| bpm < NOT_FAST),
            ]),
            Term::TempoTerm(word) => somewhere(
                &subject.values(|piece| &piece.tempos),
                |tempo| tempo.to_string().to_lowercase().contains(&word.to_lowercase()),
                "all its tempos",
            ),
            Term::Length(amount) => self.length(*amount, subject),
            Term::Measures(amount) => match subject.piece.measures.as_ref().filter(|m| m.is_certain()) {
                Some(measures) if subject.is_whole() => Truth::of(
                    amount.holds(u64::from(measures.value)),
                    format!("has {} measures", measures.value),
                ),
                _ => Truth::Unknown("how many measures there are".to_owned()),
            },
            _ => return None,
        })
    }

    /// The same key or meter throughout.
    pub(super) fn only(&self, condition: &Condition, subject: &Subject<'_>) -> Truth {
        match &condition.term {
            Term::Key(key) => everywhere(&keys(subject), |found| found.same_as(*key), "its tonal center"),
            Term::Meter(meter) => everywhere(
                &subject.meters(),
                |found| found.numbers() == meter.numbers(),
                "its meter",
            ),
            Term::MeterSort(sort) => {
                everywhere(&subject.meters(), |meter| is_sort(meter, *sort), "its meter")
            }
            _ => self.piece(condition, subject),
        }
    }

    /// How long it lasts: what the card says, else what its measures come to.
    pub(super) fn length(&self, amount: Amount, subject: &Subject<'_>) -> Truth {
        match seconds(subject) {
            Some((low, high)) => Truth::within(
                amount.holds_in(low, Some(high), false),
                format!("lasts {}:{:02}", low / 60, low % 60),
                "how long it lasts, to the minute",
            ),
            None => Truth::Unknown("how long it lasts".to_owned()),
        }
    }
}

/// The shortest and the longest that a piece may last, in seconds; none where that is not known for certain.
pub fn seconds(subject: &Subject<'_>) -> Option<(u64, u64)> {
    if subject.is_whole() {
        if let Some(lasts) = &subject.piece.lasts {
            // A card that says two lengths is in doubt; one that says `about` may be a tenth off.
            let (low, high) = (
                u64::from(lasts.value.low.seconds()),
                u64::from(lasts.value.high.seconds()),
            );
            let off = if lasts.about { high / 10 } else { 0 };
            return (!lasts.open).then(|| (low.saturating_sub(off), high.saturating_add(off)));
        }
        return reckoned(subject.piece);
    }
    let mut sum = (0u64, 0u64);
    for number in subject.movements {
        let movement = subject
            .piece
            .movements
            .iter()
            .find(|movement| movement.number == *number)?;
        let (low, high) = match &movement.piece.lasts {
            Some(lasts) if lasts.is_certain() => (
                u64::from(lasts.value.low.seconds()),
                u64::from(lasts.value.high.seconds()),
            ),
            Some(_) => return None,
            None => reckoned(&movement.piece)?,
        };
        sum = (sum.0.saturating_add(low), sum.1.saturating_add(high));
    }
    Some(sum)
}

fn reckoned(piece: &Piece) -> Option<(u64, u64)> {
    let course = Course::of(piece);
    let length = course.lasting().ok()?;
    let (low, high) = length.lasting.clocks();
    let (low, high) = (u64::from(low.seconds()), u64::from(high.seconds()));
    // One part in twenty either way, since no performance is that exact.
    Some((low.saturating_sub(low / 20), high.saturating_add(high / 20)))
}

fn keys(subject: &Subject<'_>) -> Values<Key> {
    subject.keys()
}

/// `has a G minor` would be no sentence, so the values that are there are told.
fn told<T: ToString>(values: &Values<T>) -> String {
    let mut words: Vec<String> = values.certain.iter().map(ToString::to_string).collect();
    words.dedup();
    match words.as_slice() {
        [] if values.complete => "is in no key".to_owned(),
        [] => "says nothing about it".to_owned(),
        several => format!("is in {}", joined(several)),
    }
}

fn somewhere<T: ToString>(values: &Values<T>, fits: impl Fn(&T) -> bool, missing: &str) -> Truth {
    match (values.certain.iter().any(fits), values.complete) {
        (true, _) => Truth::Yes(told(values)),
        (false, true) => Truth::No(told(values)),
        (false, false) => Truth::Unknown(missing.to_owned()),
    }
}

fn everywhere<T: ToString>(values: &Values<T>, fits: impl Fn(&T) -> bool, missing: &str) -> Truth {
    match (values.certain.iter().all(fits), values.complete) {
        (false, _) => Truth::No(told(values)),
        (true, true) => Truth::Yes(told(values)),
        (true, false) => Truth::Unknown(missing.to_owned()),
    }
}

fn is_sort(meter: &Meter, sort: MeterSort) -> bool {
    // `3/4 in one` is triple meter all the same.
    let meter = meter.printed();
    let beats = meter.beats();
    match sort {
        MeterSort::Duple => beats == Some(2),
        MeterSort::Triple => beats == Some(3),
        MeterSort::Quadruple => beats == Some(4),
        MeterSort::Compound => meter.kind() == MeterKind::Compound,
        MeterSort::Simple => meter.kind() == MeterKind::Simple,
        MeterSort::Uneven => meter.kind() == MeterKind::Unequal || matches!(beats, Some(5 | 7)),
    }
}

/// Whether the signature surely changes on the way.
fn changes_signature(subject: &Subject<'_>) -> bool {
    let all = subject.values(|piece| &piece.signatures).certain;
    let signs: BTreeSet<i32> = all
        .iter()
        .filter_map(|said| Some(said.signs()?.fifths()))
        .collect();
    signs.len() > 1 || all.contains(&crate::music::SignatureSaid::Changes)
}

/// The concert key signatures, and whether these are surely all of them.
pub(super) fn known_signatures(subject: &Subject<'_>) -> (Vec<Signature>, bool) {
    let said = subject.signatures();
    let unsaid = subject
        .piece
        .signatures
        .iter()
        .all(|stage| stage.said.value.signs().is_some());
    match said.certain.is_empty() && !said.complete && unsaid {
        false => (said.certain, said.complete),
        // A card without a signature may tell it by its keys.
        true => {
            let keys = keys(subject);
            let found: Vec<_> = keys.certain.iter().filter_map(|key| key.signature()).collect();
            // The music may visit a key without a new signature, so only a single key tells it.
            match found.as_slice() {
                [_] => (found, keys.complete),
                _ => (Vec::new(), false),
            }
        }
    }
}

/// A signature in words: `2 flats`, `no flats or sharps`.
fn signs(signature: Signature) -> String {
    match (signature.flats(), signature.sharps()) {
        (0, 0) => "no flats or sharps".to_owned(),
        (1, _) => "1 flat".to_owned(),
        (0, 1) => "1 sharp".to_owned(),
        (0, sharps) => format!("{sharps} sharps"),
        (flats, _) => format!("{flats} flats"),
    }
}

/// Whether a bound lets nothing at all be.
fn is_none(bound: Option<Amount>) -> bool {
    bound.is_some_and(|bound| bound.holds(0) && !bound.holds(1))
}

/// Whether one signature keeps to bounds; `why` makes a reason of its words.
pub(super) fn keeps(
    flats: Option<Amount>,
    sharps: Option<Amount>,
    signature: Signature,
    why: impl Fn(&str) -> String,
) -> Truth {
    let (has_flats, has_sharps) = (u64::from(signature.flats()), u64::from(signature.sharps()));
    let why = why(&signs(signature));
    let keeps = |bound: Option<Amount>, found: u64| bound.map(|bound| bound.holds(found));
    match (keeps(flats, has_flats), keeps(sharps, has_sharps)) {
        (Some(false), _) | (_, Some(false)) => Truth::No(why),
        // Who says how many flats at the most has said nothing yet of sharps; who says `no sharps` has said all.
        (None, Some(_)) if has_flats > 0 && is_none(sharps) => Truth::Yes(why),
        (Some(_), None) if has_sharps > 0 && is_none(flats) => Truth::Yes(why),
        (None, _) if has_flats > 0 => Truth::Unknown("whether flats are meant as well".to_owned()),
        (_, None) if has_sharps > 0 => Truth::Unknown("whether sharps are meant as well".to_owned()),
        _ => Truth::Yes(why),
    }
}

fn signature(flats: Option<Amount>, sharps: Option<Amount>, subject: &Subject<'_>) -> Truth {
    let (certain, complete) = known_signatures(subject);
    let truth = |signature: &Signature| {
        keeps(flats, sharps, *signature, |signs| {
            format!("has {signs} in its key signature")
        })
    };
    let all = Truth::all(certain.iter().map(truth));
    match (&all, complete) {
        (Truth::No(_), _) => all,
        // A signature that comes back is said once.
        (Truth::Yes(_), true) => {
            let mut has: Vec<String> = Vec::new();
            for signs in certain.iter().map(|signature| signs(*signature)) {
                if !has.contains(&signs) {
                    has.push(signs);
                }
            }
            Truth::Yes(format!("has {} in its key signature", joined(&has)))
        }
        (_, true) => all,
        _ => Truth::Unknown("its key signature".to_owned()),
    }
}

/// Beats a minute, the lowest and the highest, of a metronome figure.
fn figures(tempo: &Tempo) -> Option<(u64, u64)> {
    match tempo {
        // A figure for eighths tells nothing of the beat that is felt.
        Tempo::Mark { unit: Some(unit), .. } if unit.length() < BeatUnit::QUARTER.length() => None,
        Tempo::Mark { low, high, .. } => Some((u64::from(*low), u64::from(*high))),
        _ => None,
    }
}

/// All metronome figures, and whether these are surely all tempos.
pub(super) fn all_figures(subject: &Subject<'_>) -> (Vec<(u64, u64)>, bool) {
    let said = subject.values(|piece| &piece.tempos);
    let found: Vec<(u64, u64)> = said
        .certain
        .iter()
        .filter_map(|tempo| figures(tempo.tempo.as_ref()?))
        .collect();
    // Words such as `slower` or `Andante` tell of tempos without a figure.
    let complete = said.complete && found.len() == said.certain.len() && !found.is_empty();
    (found, complete)
}

/// Whether a piece is slow from beginning to end; no where its tempos are not all known.
pub fn slow_throughout(subject: &Subject<'_>) -> bool {
    let (found, complete) = all_figures(subject);
    complete && found.iter().all(|(_, high)| *high <= SLOW)
}

fn tempo(amount: Amount, subject: &Subject<'_>) -> Truth {
    let (found, complete) = all_figures(subject);
    let why = |bpm: u64| format!("has a tempo of {bpm}");
    let all = Truth::all(found.iter().map(|(low, high)| {
        Truth::within(
            amount.holds_in(*low, Some(*high), false),
            why(*high),
            "its exact tempo",
        )
    }));
    match (&all, complete) {
        (Truth::No(_), _) | (_, true) => all,
        _ => Truth::Unknown("its tempo".to_owned()),
    }
}

fn pace(
    subject: &Subject<'_>,
    wanted: Speed,
    is: impl Fn(u64) -> bool,
    is_not: impl Fn(u64) -> bool,
) -> Truth {
    let said = subject.values(|piece| &piece.tempos);
    // Of each tempo whether it surely is so and surely is not so; a figure counts before words.
    let judged: Vec<(bool, bool)> = said
        .certain
        .iter()
        .map(|tempo| match tempo.tempo.as_ref().and_then(figures) {
            Some((low, high)) => (is(low) && is(high), is_not(low) && is_not(high)),
            None => {
                let says = tempo.speed();
                (says == Some(wanted), says.is_some_and(|says| says != wanted))
            }
        })
        .collect();
    let why = || {
        let told: Vec<String> = said.certain.iter().map(ToString::to_string).collect();
        format!("goes at {}", told.join(", "))
    };
    if judged.iter().any(|(is, _)| *is) {
        return Truth::Yes(why());
    }
    match said.complete && judged.iter().all(|(_, is_not)| *is_not) {
        true => Truth::No(why()),
        false => Truth::Unknown("its tempo".to_owned()),
    }
}

fn missing(facet: Facet) -> &'static str {
    match facet {
        Facet::Key => "all its tonal centers",
        Facet::Signature => "all its key signatures",
        Facet::Meter => "all its meters",
        Facet::Tempo => "all its tempos",
        Facet::Style => "all its styles",
        Facet::Composer => "who wrote it",
    }
}

/// The different values of a piece that are certain, and whether these are surely all.
pub fn different(facet: Facet, subject: &Subject<'_>) -> (BTreeSet<String>, bool) {
    fn set<T: ToString>(values: &Values<T>) -> (BTreeSet<String>, bool) {
        (
            values.certain.iter().map(ToString::to_string).collect(),
            values.complete,
        )
    }
    match facet {
        Facet::Key => set(&keys(subject)),
        Facet::Signature => set(&subject.values(|piece| &piece.signatures)),
        Facet::Meter => set(&subject.meters()),
        Facet::Tempo => set(&subject.values(|piece| &piece.tempos)),
        Facet::Style => {
            let all = &subject.piece.styles;
            let certain = all.iter().filter(|style| style.is_certain());
            let found: BTreeSet<String> = certain.map(|style| styles::singular(&style.value)).collect();
            let complete = !all.is_empty() && all.iter().all(|style| style.is_certain());
            (found, complete)
        }
        Facet::Composer => {
            let composers = subject
                .piece
                .by
                .iter()
                .filter(|person| person.role == Role::Composer);
            let found: BTreeSet<String> = composers.map(|person| person.name.to_lowercase()).collect();
            let complete = !found.is_empty();
            (found, complete)
        }
    }
}
