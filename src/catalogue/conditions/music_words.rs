//! Reading conditions on the music: signatures, keys, meters.

use crate::music::{Key, Meter, Mode};

use super::amount::{Amount, amount, count};
use super::cursor::Words;
use super::lexicon::Sort;
use super::term::{MeterSort, Term};
use super::words::{Took, inner};

pub(super) const READERS: [fn(Words<'_>, usize, u8) -> Took; 4] = [signature, only, key, meter];

pub(super) fn signature(w: Words<'_>, at: usize, _: u8) -> Took {
    const FLATS: [&str; 4] = ["flats", "flat", "♭", "♭s"];
    const SHARPS: [&str; 4] = ["sharps", "sharp", "♯", "♯s"];
    const BOTH: [&str; 6] = [
        "flats and sharps",
        "sharps and flats",
        "flats or sharps",
        "sharps or flats",
        "accidentals in the key signature",
        "accidentals in the signature",
    ];
    let tail = |here: usize| w.maybe(here, &["in the key signature", "in the signature", "in it"]);
    let make = |flats, sharps| Term::Signature { flats, sharps };
    if let Some(here) = w.phrase(at, "no") {
        let none = Some(Amount::AtMost(0));
        if let Some(here) = w.one_of(here, &BOTH).or_else(|| w.phrase(here, "key signature")) {
            return Some((tail(here), make(none, none)));
        }
        if let Some(here) = w.one_of(here, &FLATS) {
            return Some((tail(here), make(none, None)));
        }
        if let Some(here) = w.one_of(here, &SHARPS) {
            return Some((tail(here), make(None, none)));
        }
    }
    let here = w.maybe(
        at,
        &[
            "key signature",
            "key signatures",
            "key signature of",
            "signature of",
            "has",
            "with",
            "keys with",
        ],
    );
    let read = |unit: &'static [&'static str]| amount(w, here, count, |w, at| w.one_of(at, unit));
    if let Some((end, both)) = read(&BOTH) {
        return Some((tail(end), make(Some(both), Some(both))));
    }
    if let Some((end, flats)) = read(&FLATS) {
        return Some((tail(end), make(Some(flats), None)));
    }
    let (end, sharps) = read(&SHARPS)?;
    Some((tail(end), make(None, Some(sharps))))
}

fn key(w: Words<'_>, at: usize, _: u8) -> Took {
    let leads = [
        "tonal center",
        "tonal centre",
        "in the key of",
        "the key of",
        "key of",
        "key",
        "in a",
        "in concert",
        "in",
    ];
    let here = w.maybe(at, &leads);
    // A letter is a key as soon as its mode follows.
    if w.get(here)
        .is_some_and(|word| word.text.len() <= 2 && Key::read(&word.text).is_some())
    {
        w.expect(here + 1, Sort::Key);
    }
    let (end, term) = w.longest(here, 4, Sort::Key, |words| {
        if let Some(mode) = Mode::read(words).filter(|_| words.len() > 2) {
            return Some(Term::Mode(mode));
        }
        // A bare `A` or `a march in F` is no key unless a mode or a lead says so.
        let last = words.rsplit(' ').next().unwrap_or("");
        let has_mode = words.contains(' ') && Mode::read(last).is_some();
        let key = Key::read(words)?;
        (has_mode || here > at && words.chars().count() <= 2).then_some(Term::Key(key))
    })?;
    Some((w.maybe(end, &["key", "keys", "mode", "modes"]), term))
}

fn meter(w: Words<'_>, at: usize, _: u8) -> Took {
    let here = w.maybe(at, &["in", "meter", "metre", "in a", "time signature"]);
    let sorts: [(MeterSort, &[&'static str]); 6] = [
        (MeterSort::Duple, &["duple"]),
        (MeterSort::Triple, &["triple"]),
        (MeterSort::Quadruple, &["quadruple"]),
        (MeterSort::Compound, &["compound"]),
        (MeterSort::Simple, &["simple"]),
        (
            MeterSort::Uneven,
            &[
                "uneven",
                "unequal",
                "odd",
                "asymmetric",
                "asymmetrical",
                "irregular",
            ],
        ),
    ];
    let tails = ["meter", "meters", "time", "metre", "metres"];
    for (sort, words) in sorts {
        if let Some(end) = w.one_of(here, words).and_then(|end| w.one_of(end, &tails)) {
            return Some((end, Term::MeterSort(sort)));
        }
    }
    let (end, meter) = w.longest(here, 1, Sort::Meter, |words| {
        let named = words.contains('/') || matches!(words.to_lowercase().as_str(), "cut" | "common");
        Meter::read(words).filter(|meter| named && (meter.numbers().is_some() || *meter == Meter::Free))
    })?;
    Some((w.maybe(end, &["meter", "time", "metre"]), Term::Meter(meter)))
}

/// `only 4/4`, `all in Bb major`, `4/4 throughout`.
fn only(w: Words<'_>, at: usize, depth: u8) -> Took {
    let lead = w.one_of(at, &["only in", "only", "all in", "nothing but"]);
    let from = lead.unwrap_or(at);
    let read = |from: usize| key(w, from, depth).or_else(|| meter(w, from, depth));
    // A bare letter behind `only in` is a key.
    let bare = || {
        let (end, key) = w.longest(from, 2, Sort::Key, Key::read)?;
        Some((end, Term::Key(key)))
    };
    let (end, of) = read(from).or_else(|| lead.and_then(|_| bare()))?;
    let after = w.one_of(end, &["throughout", "only", "all the way", "the whole time"]);
    let end = match (lead, after) {
        (_, Some(after)) => after,
        (Some(_), None) => end,
        (None, None) => return None,
    };
    Some((end, Term::Only(inner(w, from, end, of))))
}
