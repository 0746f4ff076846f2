//! Reading conditions on how a piece fits the band: written signatures, new skills, parts covered.

use super::amount::{amount, count};
use super::cursor::Words;
use super::music_words::signature;
use super::part_words::part;
use super::term::{Coverage, Term};
use super::words::Took;

pub(super) const READERS: [fn(Words<'_>, usize, u8) -> Took; 3] = [written, new_skills, covered];

/// `every part up to 3 sharps`, `alto sax up to 3 sharps`, `written signatures up to 3 sharps`.
fn written(w: Words<'_>, at: usize, depth: u8) -> Took {
    let every = [
        "every part",
        "each part",
        "all parts",
        "every wind part",
        "written signatures",
        "every written signature",
        "written key signatures",
        "written signature",
    ];
    let (here, part) = match w.one_of(at, &every) {
        Some(here) => (here, None),
        None => {
            let (here, name) = part(w, at)?;
            (here, Some(name))
        }
    };
    let here = w.maybe(here, &["has", "have", "reads", "read", "in", "with", "is"]);
    match signature(w, here, depth)? {
        (end, Term::Signature { flats, sharps }) => Some((end, Term::Written { part, flats, sharps })),
        _ => None,
    }
}

fn new_skills(w: Words<'_>, at: usize, _: u8) -> Took {
    let here = w.maybe(at, &["asks", "asks for", "needs", "with", "has"]);
    let (end, amount) = amount(w, here, count, |w, at| {
        w.one_of(
            at,
            &[
                "new skills",
                "new skill",
                "new things",
                "skills not yet taught",
                "skill not yet taught",
                "skills not taught",
                "skills we have not taught",
                "skills to teach",
                "skill to teach",
            ],
        )
    })?;
    Some((end, Term::NewSkills(amount)))
}

fn covered(w: Words<'_>, at: usize, _: u8) -> Took {
    const ALL: [&str; 17] = [
        "covered",
        "covered by the band",
        "covered by our band",
        "covered by the ensemble",
        "all covered",
        "every part covered",
        "all parts covered",
        "every part is covered",
        "all parts are covered",
        "we can cover",
        "we can cover it",
        "we can play",
        "we can play it",
        "playable",
        "playable by us",
        "playable by our band",
        "fully covered",
    ];
    const WINDS: [&str; 5] = [
        "winds covered",
        "winds are covered",
        "wind parts covered",
        "every wind part covered",
        "all wind parts covered",
    ];
    const PERCUSSION: [&str; 6] = [
        "percussion covered",
        "percussion is covered",
        "percussion parts covered",
        "every percussion part covered",
        "enough percussionists",
        "all percussion parts covered",
    ];
    [
        (Coverage::All, ALL.as_slice()),
        (Coverage::Winds, WINDS.as_slice()),
        (Coverage::Percussion, PERCUSSION.as_slice()),
    ]
    .into_iter()
    .find_map(|(which, words)| Some((w.one_of(at, words)?, Term::Covered(which))))
}
