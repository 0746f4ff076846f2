//! A way from one percussion instrument to another for which there is no time.

use crate::catalogue::model::Piece;
use crate::findings::card::Card;
use crate::findings::finding::{Related, Saying};
use crate::findings::judging::{Judging, for_each_band};
use crate::findings::rule::{Notice, Noticed};
use crate::planning::assign::{Fewest, Limits, Music, Tenths, surely_too_few};
use crate::planning::percussion::words::seconds;
use crate::planning::percussion::{Asked, Ground, Pace, PartTold, Pins, Players, Question, seats};
use crate::rule;
use crate::text::Span;

rule! {
    /// A band with percussionists enough for what plays at once, and too few for the ways between the
    /// instruments: whoever plays what, one of them would have to be at the next instrument sooner than the
    /// change takes. Every way to share the parts out is tried. What may be left out is left out first, and a
    /// part may be handed over in its rests. The handbook's `change` says how long a change takes; a figure
    /// from memory is used where it says nothing, and then it is a hint.
    ///
    /// # Why it matters
    ///
    /// On paper there are players enough. In the first rehearsal one of them is still walking when the
    /// measure comes.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// handbook
    ///   change          10 s from bells to bass drum
    ///
    /// ensemble "Seventh Grade Band"
    ///   percussionists  1
    ///
    /// piece "Drum Hill"
    ///   meter           4/4
    ///   tempo           quarter = 120
    ///   measures        40
    ///   percussion
    ///     bells           5-12
    ///     bass drum       14-40
    ///     ^^^^^^^^^
    ///
    /// concert "Winter evening"
    ///   program
    ///     "Drum Hill"
    /// ```
    ///
    /// # Does not
    ///
    /// Two seconds are enough where the handbook says that the change takes no longer.
    ///
    /// ```levare
    /// handbook
    ///   change          2 s from bells to bass drum
    ///
    /// ensemble "Seventh Grade Band"
    ///   percussionists  1
    ///
    /// piece "Drum Hill"
    ///   meter           4/4
    ///   tempo           quarter = 120
    ///   measures        40
    ///   percussion
    ///     bells           5-12
    ///     bass drum       14-40
    ///
    /// concert "Winter evening"
    ///   program
    ///     "Drum Hill"
    /// ```
    ///
    /// # What to do
    ///
    /// Let a wind player help, put the two side by side and say in the handbook how long the change takes
    /// then, or write "optional" after what may be left out.
    MoveTooQuick: "move too quick", Percussion, Warning, reads Catalogue, looks at Percussion
}

/// The longest change that is looked for; more is no change within a piece.
const LONGEST: Tenths = 3_000;

/// A way and the time there is for it.
pub struct Quick {
    place: String,
    from: String,
    to: String,
    after: u32,
    before: u32,
    there: Tenths,
    needed: Tenths,
    from_memory: bool,
    players: usize,
    other: Span,
}

impl Notice for MoveTooQuick {
    type What = Quick;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Quick>> {
        let Some(piece) = card.piece().filter(|piece| piece.has_percussion()) else {
            return Vec::new();
        };
        for_each_band(card, |judging| quick(card, piece, judging).into_iter().collect())
    }

    fn say(what: &Quick, _card: &Card<'_>) -> Saying {
        let takes = match what.from_memory {
            true => format!("about {} (from memory)", seconds(what.needed)),
            false => seconds(what.needed),
        };
        let players = match what.players {
            1 => "1 percussionist".to_owned(),
            players => format!("{players} percussionists"),
        };
        Saying {
            place: format!("{}, measure {}", what.place, what.before),
            says: format!(
                "With {players} somebody has too little time, however the parts are shared out: the {} part ends in measure {} and the {} part begins in measure {}, {} later, and the change takes {takes}.",
                what.from,
                what.after,
                what.to,
                what.before,
                seconds(what.there),
            ),
            why: "On paper there are players enough, and one of them is still walking when the measure comes."
                .to_owned(),
            todo: "Let a wind player help, put the two side by side and say so under \"change\" in the handbook, or write \"optional\" after what may be left out.".to_owned(),
        }
    }

    fn related(what: &Quick, card: &Card<'_>) -> Vec<Related> {
        vec![card.beside(card.entry, what.other, "where the player comes from")]
    }
}

fn quick(card: &Card<'_>, piece: &Piece, judging: &Judging<'_>) -> Option<Noticed<Quick>> {
    let seats = seats(&judging.ensembles())?;
    if seats.is_empty() {
        return None;
    }
    let asked = Asked {
        piece,
        movements: &judging.movements,
        seats: Some(&seats),
        handbook: card.snapshot.handbook(),
        instruments: card.instruments(),
        who: Players::of(card.snapshot),
        pins: Pins::of(
            (&card.entry.name, piece),
            judging.concert,
            &judging.ensembles(),
            card.snapshot.handbook(),
        ),
        pace: Pace::Fastest,
        memory: true,
    };
    let question = Question::timed(&asked, card.courses(), card.rows_of_percussion())?;
    let vague = question.all_at_once || question.cut || question.clock.coarse.is_some();
    if vague || !too_few(&question.music, &question) {
        return None;
    }
    // Where nobody has to walk and they are still too few, another rule speaks.
    let standing = Music {
        changes: crate::planning::assign::Changes::default(),
        ..question.music.clone()
    };
    if too_few(&standing, &question) {
        return None;
    }
    let way = tightest(card, &question)?;
    let noticed = Noticed::judged(
        way.1,
        judging.in_full() && !way.0.from_memory,
        Quick {
            players: seats.len(),
            ..way.0
        },
    );
    Some(noticed)
}

/// Whether the players surely cannot cover what has to be played.
fn too_few(music: &Music, question: &Question) -> bool {
    let ask = Fewest {
        hand_over: true,
        without_spares: true,
        players: Some(&question.players),
    };
    surely_too_few(music, ask, Limits::WHILE_SOMEBODY_TYPES)
}

/// Of all ways for which there is too little time, the one that lacks most, with the row it leads to.
fn tightest(card: &Card<'_>, question: &Question) -> Option<(Quick, Span)> {
    let measures = &question.clock.measures;
    let mut plays: Vec<Played> = Vec::new();
    for (at, part) in question
        .parts
        .iter()
        .enumerate()
        .filter(|(_, part)| part.spare.is_none())
    {
        plays.extend(
            part.entrances
                .iter()
                .enumerate()
                .filter_map(|(nth, &(first, last))| {
                    Some(Played {
                        start: measures.get(first)?.start,
                        end: measures.get(last)?.end,
                        part: at,
                        nth,
                        first,
                        last,
                    })
                }),
        );
    }
    plays.sort_unstable();
    let mut worst: Option<(Tenths, usize, usize)> = None;
    for (nth, early) in plays.iter().enumerate() {
        for (later, late) in plays.iter().enumerate().skip(nth + 1) {
            let (from, to) = (early.part, late.part);
            let there = late.start.saturating_sub(early.end);
            if there > LONGEST {
                break;
            }
            let together = question.music.mounted.contains(&(from.min(to), from.max(to)));
            if there < 0 || from == to || together {
                continue;
            }
            let Some((needed, _)) = time(card, question, early, late) else {
                continue;
            };
            let lacks = needed.saturating_sub(there);
            if lacks > 0 && worst.is_none_or(|(most, ..)| most < lacks) {
                worst = Some((lacks, nth, later));
            }
        }
    }
    let (_, early, late) = worst?;
    let (early, late) = (plays.get(early)?, plays.get(late)?);
    let (one, other) = (question.parts.get(early.part)?, question.parts.get(late.part)?);
    let (needed, ground) = time(card, question, early, late)?;
    let quick = Quick {
        place: place(other),
        from: one.name.clone(),
        to: other.name.clone(),
        after: measures.get(early.last)?.measure,
        before: measures.get(late.first)?.measure,
        there: late.start.saturating_sub(early.end),
        needed,
        from_memory: ground == Ground::Memory,
        players: 0,
        other: one.name_span,
    };
    Some((quick, other.name_span))
}

/// An entrance: when, which part's, which of its entrances, and between which of the clock's measures.
#[derive(PartialEq, Eq, PartialOrd, Ord)]
struct Played {
    start: Tenths,
    end: Tenths,
    part: usize,
    nth: usize,
    first: usize,
    last: usize,
}

fn time(card: &Card<'_>, question: &Question, from: &Played, to: &Played) -> Option<(Tenths, Ground)> {
    let (one, other) = (question.parts.get(from.part)?, question.parts.get(to.part)?);
    let sticks = question.other_sticks((from.part, from.nth), (to.part, to.nth));
    let way = question
        .times
        .time(&one.station, &other.station, sticks, card.instruments());
    let ready = question.ready_before(to.part, to.nth);
    Some((way.0.saturating_add(ready), way.1))
}

fn place(part: &PartTold) -> String {
    match part.movement {
        Some(number) => format!("movement {number}, percussion"),
        None => "percussion".to_owned(),
    }
}
