//! Rows of tables: instruments first, then what can be said of them.

use crate::notation::Kind;
use crate::notation::fields::RowsOf;
use crate::notation::row::Relation;
use crate::text::Span;

use super::super::Place;
use super::super::offers::{Offer, OfferKind};
use super::{names, sayings};

const RELATIONS: [(Relation, &str); 9] = [
    (
        Relation::SameAs,
        "The same notes as another part, so that one of them can be left out.",
    ),
    (
        Relation::With,
        "The same line as another part, perhaps in another octave.",
    ),
    (Relation::InsteadOf, "Replaces another part."),
    (
        Relation::CuesFor,
        "Cues of another part are printed small in this one.",
    ),
    (Relation::Or, "Where nobody plays it, another instrument does."),
    (
        Relation::CuedIn,
        "Its exposed lines are printed small in another part.",
    ),
    (Relation::Doubles, "Doubles another part."),
    (Relation::Follows, "Follows another part's rhythm."),
    (
        Relation::For,
        "A flexible part that any of these instruments can play.",
    ),
];

const WORDS: [(&str, &str); 7] = [
    ("solo", "A solo, perhaps with its measures: solo 5-12."),
    (
        "over the break",
        "Notes above the clarinets' break, perhaps with the place: over the break at 41-44.",
    ),
    ("below the break", "No notes above the clarinets' break."),
    ("one player", "One player covers all the names of the row."),
    ("optional", "The part may be left out."),
    ("tacet", "Silent, perhaps only somewhere: tacet in movement 2."),
    ("throughout", "Plays all the way through."),
];

/// What is said of wind parts besides.
const ON_WINDS: [(&str, &str); 14] = [
    (
        "divisi",
        "The players divide, perhaps only somewhere: divisi at 12.",
    ),
    ("no divisi", "The players never divide."),
    ("strong player", "It needs a strong player."),
    ("written in", "You wrote the part in; it is not printed."),
    ("melody", "Has the tune, perhaps with the place: melody at trio."),
    ("countermelody", "Has a second tune."),
    ("off-beats", "Plays the off-beats."),
    ("bass line", "Plays the bass line."),
    ("drone", "Holds a note below the rest."),
    ("octaves", "The names of the row play in octaves."),
    ("unison", "The names of the row play the same pitches."),
    ("same rhythm", "Different pitches in one rhythm."),
    ("muted", "With a mute, perhaps only somewhere."),
    ("octave options", "Some notes may be taken an octave away."),
];

/// What is said of percussion parts besides.
const ON_PERCUSSION: [(&str, &str); 9] = [
    ("strong player", "It needs a strong player."),
    ("written in", "You wrote the part in; it is not printed."),
    ("rolls", "It has rolls, perhaps with the place: rolls at 33."),
    ("no rolls", "It has no rolls."),
    ("yarn mallets", "Its mallets, perhaps with the place."),
    ("hard mallets", "Its mallets, perhaps with the place."),
    ("snares off", "Played with the snares off."),
    ("on the rim", "Played on the rim."),
    ("let ring", "Not damped."),
];

/// How far a percussionist is.
const STANDING: [(&str, &str); 7] = [
    ("anything", "Plays whatever there is."),
    ("beginner", "In the first year."),
    ("strong", "Takes the hard parts."),
    ("cannot roll yet", "Gets no part with rolls."),
    ("cannot read pitches yet", "Gets no mallet part."),
    (
        "not yet ",
        "An instrument that is not taught yet: not yet timpani.",
    ),
    ("since ", "The day the player joined: since 2026-10-01."),
];

/// What stands between the titles of a program.
const BETWEEN: [(&str, &str); 2] = [
    ("intermission", "A break in the concert."),
    ("warm-up", "Scales or a chorale before the first piece."),
];

/// What is said of a title in a program.
const IN_PROGRAM: [(&str, &str); 4] = [
    ("attacca", "The next one follows without a break."),
    ("opener", "It opens the concert."),
    ("closer", "It closes the concert."),
    ("encore", "It is kept for an encore."),
];

fn words_of(all: &[(&str, &str)], written: Span) -> Vec<Offer> {
    all.iter()
        .map(|(words, says)| Offer::new(*words, written, OfferKind::Words).says(*says))
        .collect()
}

/// Whether words end with a relation and one blank, so that a part is to follow.
pub(super) fn ends_with_relation(words: &str) -> bool {
    words.strip_suffix(' ').is_some_and(|words| {
        RELATIONS
            .iter()
            .any(|(relation, _)| words.ends_with(relation.words()))
    })
}

/// What stands since the last comma or wide gap, up to the cursor.
pub(super) fn segment(text: &str, written: Span) -> Span {
    let words = written.slice(text);
    let comma = words.rfind(',').map(|at| at + 1);
    let gap = words.rfind("  ").map(|at| at + 2);
    let from = comma.max(gap).unwrap_or(0);
    let rest = words.get(from..).unwrap_or("");
    let blanks = rest.len() - rest.trim_start().len();
    let skip = u32::try_from(from.saturating_add(blanks)).unwrap_or(0);
    Span::new(written.start.saturating_add(skip).min(written.end), written.end)
}

pub(super) fn of(place: &Place<'_>, of: RowsOf, written: Span) -> Vec<Offer> {
    let text = place.text();
    let words = written.slice(text);
    match of {
        RowsOf::Program if words.starts_with("for ") => {
            let name = Span::new(written.start.saturating_add(4), written.end);
            names::of(place, &[Kind::Ensemble], name)
        }
        RowsOf::Program => {
            let here = segment(text, written);
            let mut offers = names::of(place, &[Kind::Piece], here);
            let lone = here.start == written.start;
            offers.extend(words_of(if lone { &BETWEEN } else { &IN_PROGRAM }, here));
            offers
        }
        RowsOf::Movements => match segment(text, written) {
            here if here.start == written.start => Vec::new(),
            here => words_of(&[("attacca", "The next one follows without a break.")], here),
        },
        RowsOf::Seats => instruments(place, segment(text, written), false),
        _ => {
            let here = segment(text, written);
            let names_it = here.start == written.start && !words.contains("  ");
            match (of, names_it) {
                (RowsOf::Pages, true) => sayings::words(
                    here,
                    [
                        "percussion 1",
                        "percussion 2",
                        "percussion 3",
                        "mallets",
                        "timpani",
                    ],
                ),
                (RowsOf::Pages, false) => own_percussion(place, here),
                (RowsOf::Percussionists, true) => Vec::new(),
                (RowsOf::Percussionists, false) => {
                    let mut offers = sayings::words(here, ["mallets", "accessories"]);
                    offers.extend(instruments(place, here, true));
                    offers.extend(words_of(&STANDING, here));
                    offers
                }
                (RowsOf::Players, false) => sayings::words(
                    here,
                    [
                        "over the break",
                        "up to ",
                        "treble clef",
                        "2 beginners",
                        "2 strong",
                    ],
                ),
                (_, true) => instruments(place, here, matches!(of, RowsOf::Percussion)),
                (_, false) => {
                    let mut offers = facts(place, here);
                    if offers.iter().any(|offer| offer.label == "optional") {
                        offers.extend(words_of(
                            match of {
                                RowsOf::Percussion => &ON_PERCUSSION,
                                _ => &ON_WINDS,
                            },
                            here,
                        ));
                    }
                    offers
                }
            }
        }
    }
}

/// Instruments, those of the band first; found by their abbreviations too.
pub(super) fn instruments(place: &Place<'_>, written: Span, percussion_only: bool) -> Vec<Offer> {
    let mut own: Vec<String> = Vec::new();
    for band in place
        .snapshot
        .usual_bands()
        .into_iter()
        .filter_map(|id| place.snapshot.entry(id))
    {
        let Some(facts) = band.ensemble() else { continue };
        own.extend(facts.players.iter().map(|row| row.name.clone()));
        own.extend(facts.owns.iter().map(|said| said.value.name.clone()));
    }
    let own: Vec<&str> = own
        .iter()
        .filter_map(|name| place.snapshot.instruments().find(name).exact())
        .map(|instrument| instrument.name.as_ref())
        .collect();
    place
        .snapshot
        .instruments()
        .all()
        .iter()
        .filter(|instrument| !percussion_only || instrument.family.is_percussion())
        .map(|instrument| {
            let is_own = own.contains(&instrument.name.as_ref());
            let also = instrument.abbreviations.iter().chain(&instrument.aliases);
            Offer::new(instrument.name.to_string(), written, OfferKind::Instrument)
                .detail(instrument.abbreviations.join(", "))
                .says(match (is_own, instrument.full_range) {
                    (true, Some(range)) => format!("In your band. Written range {range}."),
                    (true, None) => "In your band.".to_owned(),
                    (false, Some(range)) => format!("Written range {range}."),
                    (false, None) => String::new(),
                })
                .also(also.map(|also| also.to_string()).collect())
                .rank(if is_own { 1 } else { 5 })
        })
        .collect()
}

/// What can be said in a row; behind a relation's words, the piece's other parts.
pub(super) fn facts(place: &Place<'_>, written: Span) -> Vec<Offer> {
    let words = written.slice(place.text());
    for (relation, _) in RELATIONS {
        let lead = format!("{} ", relation.words());
        if let Some(rest) = words.strip_prefix(&lead) {
            let blanks = rest.len() - rest.trim_start().len();
            let skip = u32::try_from(lead.len().saturating_add(blanks)).unwrap_or(0);
            let target = Span::new(written.start.saturating_add(skip).min(written.end), written.end);
            return parts(place, target);
        }
    }
    if let Some(place_span) = super::values::behind_at(place.text(), written) {
        return super::values::marks(place, place_span);
    }
    let relations = RELATIONS
        .into_iter()
        .map(|(relation, says)| (relation.words(), says));
    relations
        .chain(WORDS)
        .map(|(words, says)| Offer::new(words, written, OfferKind::Words).says(says))
        .collect()
}

/// The names of the piece's own percussion.
fn own_percussion(place: &Place<'_>, written: Span) -> Vec<Offer> {
    let rows = place.entry.piece().map_or(&[][..], |piece| &piece.percussion);
    let mut names: Vec<String> = Vec::new();
    for name in rows.iter().flat_map(|row| &row.names).map(|name| name.one_form()) {
        if !names.contains(&name) {
            names.push(name);
        }
    }
    names
        .into_iter()
        .map(|name| Offer::new(name, written, OfferKind::Instrument).detail("in this piece"))
        .collect()
}

/// The names of the piece's own parts.
fn parts(place: &Place<'_>, written: Span) -> Vec<Offer> {
    let Some(piece) = place.entry.piece() else {
        return instruments(place, written, false);
    };
    let mut names: Vec<String> = Vec::new();
    for row in piece.parts.iter().chain(&piece.percussion) {
        // The row that the cursor is on is no partner of its own.
        if Some(row.line) == place.reading.tree.line_at(place.offset) {
            continue;
        }
        for name in row.names.iter().map(|name| name.one_form()) {
            if !names.contains(&name) {
                names.push(name);
            }
        }
    }
    names
        .into_iter()
        .map(|name| Offer::new(name, written, OfferKind::Instrument).detail("a part of this piece"))
        .collect()
}
