//! A program that lasts longer than the concert may.

use crate::catalogue::Snapshot;
use crate::catalogue::course::Course;
use crate::catalogue::model::{Concert, Piece, ProgramPiece};
use crate::findings::card::Card;
use crate::findings::finding::Saying;
use crate::findings::rule::{Notice, Noticed};
use crate::music::Clock;
use crate::rule;

rule! {
    /// A program whose pieces, with what lies between them, last longer than the concert's `length` allows.
    /// Up to one part in twenty over is allowed, since no performance is that exact. The same for what one band of
    /// several plays, where `length` says how much of the evening it has.
    ///
    /// # Why it matters
    ///
    /// A festival stops the clock, and a hall has a janitor. It is better to choose now than to cut in the
    /// wings.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Harbor Parade"
    ///   lasts           3:10
    /// piece "Lanterns on the Weir"
    ///   lasts           5:05
    /// concert "Winter evening"
    ///   length          8 minutes, 1:30 between pieces
    ///                   ^^^^^^^^^
    ///   program
    ///     "Harbor Parade"
    ///     "Lanterns on the Weir"
    /// ```
    ///
    /// A piece that one band plays counts for the share of that band.
    ///
    /// ```levare
    /// piece "Harbor Parade"
    ///   lasts           3:10
    /// ensemble "Sixth Grade Band"
    /// ensemble "Seventh Grade Band"
    /// concert "Winter evening"
    ///   for             "Sixth Grade Band", "Seventh Grade Band"
    ///   length          20 minutes, 2 minutes for "Sixth Grade Band"
    ///                               ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^
    ///   program
    ///     "Harbor Parade"  for "Sixth Grade Band"
    /// ```
    ///
    /// # Does not
    ///
    /// A piece whose length is neither said nor comes out of its measures is not guessed at.
    ///
    /// ```levare
    /// piece "Harbor Parade"
    ///   lasts           3:10
    /// piece "Lanterns on the Weir"
    /// concert "Winter evening"
    ///   length          8 minutes, 1:30 between pieces
    ///   program
    ///     "Harbor Parade"
    ///     "Lanterns on the Weir"
    /// ```
    ///
    /// # What to do
    ///
    /// Take a piece out, choose a shorter one, or play some of the movements only.
    OverLength: "over length", Concert, Warning, reads Catalogue, looks at Concert
}

/// A program that is too long.
pub struct Long {
    /// Seconds of music, as far as they are known.
    pub(super) music: u32,
    /// Seconds between the pieces.
    pub(super) gaps: u32,
    /// Seconds that the concert may last.
    pub(super) allowed: u32,
    /// How many pieces nobody knows the length of.
    pub(super) unknown: usize,
    /// The band whose share of the evening that is; none for all of it.
    band: Option<String>,
}

impl Notice for OverLength {
    type What = Long;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Long>> {
        let Some(concert) = card.entry.concert() else {
            return Vec::new();
        };
        let whole = concert.length.as_ref().filter(|length| !length.open);
        let whole = whole.map(|length| (length.value, length.span, None));
        let shares = concert.shares.iter().filter(|share| !share.open);
        let shares = shares.map(|share| (share.value.1, share.span, Some(share.value.0.as_str())));
        let over = whole.into_iter().chain(shares).filter_map(|(lasts, span, band)| {
            let allowed = lasts.high.seconds();
            let long = add_up(card.snapshot, concert, allowed, band);
            let over = long.music.saturating_add(long.gaps) > allowed.saturating_add(allowed / 20);
            over.then(|| Noticed::new(span, long))
        });
        over.collect()
    }

    fn say(what: &Long, _card: &Card<'_>) -> Saying {
        let total = clock(what.music.saturating_add(what.gaps));
        let least = if what.unknown > 0 { "at least " } else { "" };
        let sum = match what.gaps {
            0 => " of music".to_owned(),
            gaps => format!(
                ": {} of music and {} between the pieces",
                clock(what.music),
                clock(gaps)
            ),
        };
        Saying {
            place: "length".to_owned(),
            says: format!(
                "{} takes {least}{total}{sum}; {} may last {}.",
                what.band
                    .as_ref()
                    .map_or("The program".to_owned(), |band| format!("What \"{band}\" plays")),
                what.band.as_ref().map_or("the concert", |_| "its share"),
                clock(what.allowed)
            ),
            why: "Festivals stop the clock, and an evening that runs over gets cut where nobody wants it."
                .to_owned(),
            todo: "Take a piece out, choose a shorter one, or play some of the movements only.".to_owned(),
        }
    }
}

/// Seconds as a clock shows them.
pub(super) fn clock(seconds: u32) -> Clock {
    Clock::from_seconds(f64::from(seconds))
}

/// How long a program takes, or what one band of several plays of it.
pub(super) fn add_up(snapshot: &Snapshot, concert: &Concert, allowed: u32, band: Option<&str>) -> Long {
    let id = band.and_then(|name| snapshot.ensemble_named(name));
    let plays = |listed: &&ProgramPiece| {
        band.is_none()
            || listed
                .bands
                .iter()
                .any(|one| id.is_some() && snapshot.ensemble_named(one) == id)
    };
    let lengths: Vec<Option<u32>> = concert
        .program
        .iter()
        .filter(plays)
        .map(|listed| seconds(snapshot, listed))
        .collect();
    let gaps = u32::try_from(lengths.len().saturating_sub(1)).unwrap_or(0);
    let between = concert
        .between
        .as_ref()
        .map_or(0, |between| between.value.low.seconds());
    let interludes = if band.is_none() {
        concert.interludes.as_slice()
    } else {
        &[]
    };
    Long {
        music: lengths
            .iter()
            .flatten()
            .fold(0, |sum, seconds| sum.saturating_add(*seconds)),
        // A warm-up or an intermission in the program takes what its row says.
        gaps: interludes
            .iter()
            .fold(gaps.saturating_mul(between), |sum, lasts| {
                sum.saturating_add(lasts.low.seconds())
            }),
        allowed,
        unknown: lengths.iter().filter(|length| length.is_none()).count(),
        band: band.map(str::to_owned),
    }
}

/// How long a piece of the program takes: what its card says, else what its measures come to; or the movements
/// that are played.
fn seconds(snapshot: &Snapshot, listed: &ProgramPiece) -> Option<u32> {
    let title = &listed.title.value;
    let id = snapshot
        .pieces_titled(&title.name, title.by.as_deref())
        .into_iter()
        .next()?;
    let piece = snapshot.entry(id)?.piece()?;
    if listed.movements.is_empty() {
        return length_of(piece);
    }
    let played = |number: &u32| piece.movements.iter().find(|movement| movement.number == *number);
    listed
        .movements
        .iter()
        .map(|number| length_of(&played(number)?.piece))
        .sum()
}

fn length_of(piece: &Piece) -> Option<u32> {
    let course = Course::of(piece);
    let counted = course
        .lasting()
        .ok()
        .map(|length| length.lasting.clocks().0.seconds());
    let Some(said) = piece.lasts.as_ref().map(|lasts| lasts.value.low.seconds()) else {
        return counted;
    };
    // A length that its own measures belie is a slip, which is told on the piece's card.
    let slip = |counted: u32| said > counted.saturating_mul(2) || counted > said.saturating_mul(2);
    (!counted.is_some_and(slip)).then_some(said)
}
