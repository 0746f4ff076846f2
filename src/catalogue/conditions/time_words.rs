//! Reading conditions on tempo and length: beats a minute, slow and fast, minutes, measures.

use crate::music::{Clock, terms};

use super::amount::{amount, count};
use super::cursor::Words;
use super::lexicon::Sort;
use super::term::Term;
use super::words::Took;

pub(super) const READERS: [fn(Words<'_>, usize, u8) -> Took; 5] = [contrast, pace, tempo, length, measures];

fn contrast(w: Words<'_>, at: usize, _: u8) -> Took {
    let end = w.one_of(
        at,
        &[
            "contrast",
            "contrasting tempos",
            "contrasting pieces",
            "contrasts",
            "a contrast",
            "slow and fast",
            "fast and slow",
            "both slow and fast",
        ],
    )?;
    Some((end, Term::Contrast))
}

fn pace(w: Words<'_>, at: usize, _: u8) -> Took {
    let here = w.maybe(at, &["tempo", "a", "at a"]);
    let tail = |end: usize| w.maybe(end, &["tempo", "tempos", "tempi", "section", "movement"]);
    if let Some(end) = w.one_of(here, &["slow", "slowly"]) {
        // `a slow piece` counts pieces, which is read elsewhere.
        let whole = tail(end);
        return (w.small(at) != "a" || whole > end).then_some((whole, Term::Slow));
    }
    if let Some(end) = w.one_of(here, &["fast", "quick", "up-tempo", "uptempo", "lively"]) {
        let whole = tail(end);
        return (w.small(at) != "a" || whole > end).then_some((whole, Term::Fast));
    }
    let (end, term) = w.longest(here, 2, Sort::Number, |words| {
        terms::find(words).map(|term| Term::TempoTerm(term.name.to_owned()))
    })?;
    // `adagio` alone is a style as well, which the cards tell.
    (w.small(at) == "tempo" || w.small(at) != "a" && !is_style(w.small(at))).then_some((end, term))
}

fn is_style(word: &str) -> bool {
    super::styles::STYLES.contains(&word)
}

fn tempo(w: Words<'_>, at: usize, _: u8) -> Took {
    let notes = [
        "quarter =",
        "quarter note =",
        "q =",
        "crotchet =",
        "♩ =",
        "quarter",
        "mm =",
        "m.m =",
    ];
    let mut here = w.maybe(at, &["tempo", "tempo of", "tempos", "speed"]);
    let said = here > at;
    here = w.maybe(here, &notes);
    let said = said || here > at;
    let (end, amount) = amount(w, here, count, |w, at| {
        match w.one_of(at, &["beats a minute", "beats per minute", "bpm"]) {
            Some(end) => Some(end),
            None if said => Some(at),
            None => None,
        }
    })?;
    Some((end, Term::Tempo(amount)))
}

/// A length of time in seconds; a bare number is in minutes.
fn seconds(w: Words<'_>, at: usize) -> Option<(usize, u64)> {
    let word = w.get(at).filter(|word| !word.quoted)?;
    let halves = ["½", "half"];
    let figures = word.small.strip_prefix('~').unwrap_or(&word.small);
    let is_figure = figures.starts_with(|c: char| c.is_ascii_digit())
        && figures
            .chars()
            .all(|c| c.is_ascii_digit() || matches!(c, ':' | '.' | '½'));
    if !is_figure {
        if let Some((end, minutes)) = count(w, at) {
            return Some((end, minutes.saturating_mul(60)));
        }
        w.expect(at, Sort::Length);
        return None;
    }
    let (figures, half) = match halves.iter().find_map(|half| figures.strip_suffix(half)) {
        Some(figures) => (figures, 30),
        None => (figures, 0),
    };
    if !figures.contains(':')
        && let Some(end) = w.one_of(at + 1, &["seconds", "second", "secs", "sec"])
    {
        let clock = Clock::read(&format!("{figures} seconds"))?;
        return Some((end, u64::from(clock.seconds())));
    }
    let words = match figures.contains(':') {
        true => figures.to_owned(),
        false => format!("{figures} minutes"),
    };
    let clock = Clock::read(&words)?;
    Some((at + 1, u64::from(clock.seconds()).saturating_add(half)))
}

fn length(w: Words<'_>, at: usize, _: u8) -> Took {
    let here = w.maybe(
        at,
        &[
            "lasts",
            "last",
            "lasting",
            "length",
            "duration",
            "total",
            "runs",
            "total length",
            "total time",
        ],
    );
    let whole_before = w.small(at) == "total";
    let timed = std::cell::Cell::new(here > at);
    let (end, amount) = amount(
        w,
        here,
        |w, at| {
            let (end, found) = seconds(w, at)?;
            let word = w.small(at);
            timed.set(timed.get() || word.contains(':') || end > at + 1);
            Some((end, found))
        },
        |w, at| match w.one_of(at, &["minutes", "minute", "mins", "min", "minutes'"]) {
            Some(end) => {
                timed.set(true);
                Some(w.maybe(end, &["long", "of music"]))
            }
            None if timed.get() => Some(w.maybe(at, &["long"])),
            None => None,
        },
    )?;
    // `at least 4` is no length; the unit or the clock's form must be there.
    if !timed.get() {
        return None;
    }
    let end = w.maybe(end, &["long", "each", "apiece"]);
    let whole = w.one_of(
        end,
        &[
            "in all",
            "altogether",
            "in total",
            "total",
            "all together",
            "overall",
            "of music",
        ],
    );
    Some(match whole {
        Some(end) => (end, Term::LengthInAll(amount)),
        None if whole_before => (end, Term::LengthInAll(amount)),
        None => (end, Term::Length(amount)),
    })
}

fn measures(w: Words<'_>, at: usize, _: u8) -> Took {
    let (end, amount) = amount(w, at, count, |w, at| {
        w.one_of(at, &["measures", "measure", "bars", "bar"])
    })?;
    Some((w.maybe(end, &["long"]), Term::Measures(amount)))
}
