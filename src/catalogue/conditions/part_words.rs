//! Reading conditions on parts and players: percussionists, ranges, the break, solos, instruments.

use crate::catalogue::Snapshot;
use crate::music::Pitch;
use crate::music::PitchRange;
use crate::music::groups::Group;
use crate::music::instruments::split_part;
use crate::music::interval::read_size;

use super::amount::{amount, count};
use super::cursor::Words;
use super::lexicon::Sort;
use super::styles::singular;
use super::term::Term;
use super::words::{Took, inner};

pub(super) const READERS: [fn(Words<'_>, usize, u8) -> Took; 9] = [
    percussionists,
    strong,
    range,
    no_part_above,
    over_the_break,
    reach,
    solo,
    nobody_solos,
    part_there,
];

/// Whether these words are one instrument's name, or several of it, with a part's number or without.
pub(super) fn is_instrument(words: &str, snapshot: &Snapshot) -> bool {
    let words = words.strip_suffix("'s").unwrap_or(words);
    let (name, _) = split_part(words);
    let all = snapshot.instruments();
    Group::read(name).is_none()
        && (all.find(name).exact().is_some() || all.find(&singular(name)).exact().is_some())
}

/// A part's name.
pub(super) fn part(w: Words<'_>, at: usize) -> Option<(usize, String)> {
    let here = w.maybe(at, &["the", "every", "all", "any"]);
    let named = w.longest(here, 6, Sort::Instrument, |words| {
        // Small letters are no initials: `a` is no instrument.
        is_instrument(words, w.snapshot).then(|| words.strip_suffix("'s").unwrap_or(words).to_owned())
    });
    let Some((end, name)) = named else {
        begun(w, here);
        return None;
    };
    Some((w.maybe(end, &["part", "parts", "section"]), name))
}

/// Where a name of several words is begun and breaks off, the rest belongs after its beginning.
fn begun(w: Words<'_>, at: usize) {
    for end in at + 1..w.end().min(at + 3) {
        let start = format!("{} ", w.joined(at, end).to_lowercase());
        let all = w.snapshot.instruments().all();
        if all
            .iter()
            .any(|instrument| instrument.name.to_lowercase().starts_with(&start))
        {
            w.expect(end, Sort::Instrument);
        }
    }
}

fn percussionists(w: Words<'_>, at: usize, _: u8) -> Took {
    let here = w.maybe(
        at,
        &[
            "needs",
            "need",
            "takes",
            "for",
            "uses",
            "playable with",
            "playable by",
        ],
    );
    let (end, amount) = amount(w, here, count, |w, at| {
        w.one_of(
            at,
            &[
                "percussionists",
                "percussionist",
                "percussion players",
                "percussion player",
                "players in the percussion",
                "players on percussion",
                "percussion",
                "perc",
                "perc players",
                "drummers",
            ],
        )
    })?;
    Some((end, Term::Percussionists(amount)))
}

fn section(w: Words<'_>, at: usize) -> Option<(usize, String)> {
    let read = |words: &str| {
        let group = Group::read(words).map(|_| words.to_lowercase());
        group.or_else(|| is_instrument(words, w.snapshot).then(|| singular(words)))
    };
    w.longest(at, 4, Sort::Instrument, read)
}

/// `strong horn section`, `a strong trumpet`, `strong low brass`.
fn strong(w: Words<'_>, at: usize, _: u8) -> Took {
    let here = w.maybe(at, &["a", "needs a", "needs", "for a", "suits a", "has a"]);
    let here = w.phrase(here, "strong")?;
    let (end, section) = section(w, here)?;
    let end = w.maybe(end, &["section", "player", "players", "sections"]);
    Some((end, Term::Strong(section)))
}

/// `every range at most an octave and a third`, `clarinet 2 range within an octave`.
fn range(w: Words<'_>, at: usize, _: u8) -> Took {
    let every = [
        "every range",
        "every part's range",
        "each range",
        "all ranges",
        "ranges",
        "no range wider than",
        "no range over",
        "range of every part",
    ];
    let (here, part) = match w.one_of(at, &every) {
        Some(here) => (here, None),
        None => {
            let (here, name) = part(w, at)?;
            (w.one_of(here, &["range", "'s range", "spans"])?, Some(name))
        }
    };
    let bound = [
        "at most",
        "up to",
        "no more than",
        "not more than",
        "within",
        "no wider than",
        "not over",
        "under",
        "is at most",
        "max",
    ];
    let said = matches!(w.small(here.saturating_sub(1)), "than" | "over");
    let here = match w.one_of(here, &bound) {
        Some(here) => here,
        None if said => here,
        None => return None,
    };
    let expect_after = |here: usize| w.expect(w.maybe(here, &["a", "an", "one", "two"]), Sort::Size);
    let Some((end, steps)) = w.longest(here, 8, Sort::Size, read_size) else {
        expect_after(here);
        return None;
    };
    if let Some(here) = w.phrase(end, "and") {
        expect_after(here);
    }
    Some((end, Term::Range { part, steps }))
}

fn pitch(w: Words<'_>, at: usize) -> Option<(usize, Pitch)> {
    w.longest(at, 1, Sort::Pitch, Pitch::read)
}

/// `no trumpet above D5`, `nothing above D5 for trumpet`.
fn no_part_above(w: Words<'_>, at: usize, _: u8) -> Took {
    let here = w.phrase(at, "no")?;
    let (here, part) = part(w, here)?;
    if let Some(here) = w.one_of(here, &["above", "over", "higher than", "goes above"])
        && let Some((end, high)) = pitch(w, here)
    {
        let (low, high) = (None, Some(high));
        return Some((end, Term::Reach { part, low, high }));
    }
    let here = w.one_of(here, &["below", "under", "lower than", "goes below"])?;
    let (end, low) = pitch(w, here)?;
    let (low, high) = (Some(low), None);
    Some((end, Term::Reach { part, low, high }))
}

fn over_the_break(w: Words<'_>, at: usize, _: u8) -> Took {
    let over = [
        "over the break",
        "crosses the break",
        "cross the break",
        "crossing the break",
        "above the break",
        "goes over the break",
        "go over the break",
        "over break",
    ];
    let never_over = [
        "never over the break",
        "never goes over the break",
        "never go over the break",
        "not over the break",
        "does not go over the break",
        "do not go over the break",
        "doesn't go over the break",
        "don't go over the break",
        "doesn't cross the break",
        "don't cross the break",
        "never crosses the break",
        "never cross the break",
        "never above the break",
        "below the break",
        "under the break",
        "stays below the break",
        "stay below the break",
        "stays under the break",
        "stay under the break",
        "all below the break",
        "all under the break",
        "keep below the break",
        "keep under the break",
        "never over break",
    ];
    let no = w.one_of(at, &["no", "nobody", "no one"]);
    let from = no.unwrap_or(at);
    let (here, named) = match part(w, from) {
        Some((here, name)) => {
            let all = matches!(name.to_lowercase().as_str(), "clarinet" | "clarinets");
            (here, Some(name).filter(|_| !all))
        }
        None => (from, None),
    };
    let (end, never) = match w.one_of(here, &never_over) {
        Some(end) => (end, true),
        None => (w.one_of(here, &over)?, no.is_some()),
    };
    let over = Term::OverTheBreak(named);
    Some(match never {
        true => (end, Term::Not(inner(w, at, end, over))),
        false => (end, over),
    })
}

/// `trumpet up to D5`, `trumpets no higher than D5`, `flute down to D4`, `trumpet Bb3-D5`.
fn reach(w: Words<'_>, at: usize, _: u8) -> Took {
    const UP: [&str; 14] = [
        "up to",
        "no higher than",
        "not above",
        "never above",
        "at most",
        "not over",
        "never over",
        "never higher than",
        "goes no higher than",
        "never goes above",
        "not higher than",
        "max",
        "to",
        "tops out at",
    ];
    const DOWN: [&str; 8] = [
        "down to",
        "no lower than",
        "not below",
        "never below",
        "at least",
        "not under",
        "never lower than",
        "never goes below",
    ];
    let (here, part) = part(w, at)?;
    if let Some((end, high)) = w.one_of(here, &UP).and_then(|here| pitch(w, here)) {
        let (low, high) = (None, Some(high));
        return Some((end, Term::Reach { part, low, high }));
    }
    if let Some((end, low)) = w.one_of(here, &DOWN).and_then(|here| pitch(w, here)) {
        let (low, high) = (Some(low), None);
        return Some((end, Term::Reach { part, low, high }));
    }
    let here = w.maybe(here, &["within", "range", "from", "between"]);
    if let Some((end, range)) = w.longest(here, 1, Sort::Pitch, PitchRange::read) {
        let range = range.upright();
        let (low, high) = (Some(range.low), Some(range.high));
        return Some((end, Term::Reach { part, low, high }));
    }
    let (here, low) = pitch(w, here)?;
    let here = w.one_of(here, &["to", "-", "–", "and"])?;
    let (end, high) = pitch(w, here)?;
    let (low, high) = (Some(low), Some(high));
    Some((end, Term::Reach { part, low, high }))
}

const HAS: [&str; 17] = [
    "with",
    "has",
    "have",
    "having",
    "uses",
    "use",
    "needs",
    "need",
    "includes",
    "calls for",
    "there is",
    "has a",
    "has an",
    "has any",
    "needs a",
    "needs an",
    "uses a",
];

/// `has oboe solo`, `oboe solo`, `solos`, `a solo for oboe`. An article alone counts pieces, elsewhere.
fn solo(w: Words<'_>, at: usize, _: u8) -> Took {
    let here = w.maybe(at, &HAS);
    if let Some(end) = w.one_of(here, &["solo", "solos"]) {
        let of = w.maybe(end, &["for", "for the", "for a", "by", "in", "in the", "on"]);
        return match part(w, of).filter(|_| of < w.end()) {
            Some((end, name)) => Some((end, Term::Solo(Some(name)))),
            None => Some((end, Term::Solo(None))),
        };
    }
    let (here, name) = part(w, here)?;
    let end = w.one_of(here, &["solo", "solos"])?;
    Some((end, Term::Solo(Some(name))))
}

fn nobody_solos(w: Words<'_>, at: usize, _: u8) -> Took {
    let end = w.one_of(at, &["nobody solos", "nobody has a solo"])?;
    let solo = Term::Solo(None);
    Some((end, Term::Not(inner(w, at, end, solo))))
}

/// `has timpani`, `timpani`, `needs mallets`, `a part for oboe`.
fn part_there(w: Words<'_>, at: usize, _: u8) -> Took {
    let here = w.maybe(at, &HAS);
    let here = w.maybe(here, &["a part for", "parts for", "part for"]);
    const MALLETS: [&str; 5] = [
        "mallets",
        "mallet percussion",
        "mallet parts",
        "a mallet part",
        "keyboard percussion",
    ];
    if let Some(end) = w.one_of(here, &MALLETS) {
        return Some((end, Term::Part("mallets".to_owned())));
    }
    if let Some((end, name)) = w.quoted(here).filter(|_| here > at) {
        return Some((end, Term::Part(format!("\"{name}\""))));
    }
    let (end, name) = part(w, here)?;
    Some((end, Term::Part(name)))
}
