//! Whether bands can play a piece, found by sharing it out: what conditions ask of planning.

use xxhash_rust::xxh3::xxh3_64_with_seed;

use crate::catalogue::conditions::{Coverage, Evaluator, Planned, Subject, Truth};
use crate::catalogue::{EntryId, Snapshot};
use crate::planning::assign::{Answer, Fewest, Limits, fewest};
use crate::planning::percussion::{Question, Setting, brief, words};
use crate::planning::winds::{self, Depth};
use crate::text::sentences::joined;

/// A question that is too long to be answered while somebody types stays open, in every place alike.
const LIMITS: Limits<'static> = Limits::WHILE_SOMEBODY_TYPES;

/// Conditions, with all that sharing out parts can tell.
pub fn asking(snapshot: &Snapshot) -> Evaluator<'_> {
    let mut asked = Evaluator::new(snapshot);
    asked.planned = Some(&SharedOut);
    asked
}

/// The same for bands that are named.
pub fn asking_for<'s>(snapshot: &'s Snapshot, bands: &'s [EntryId]) -> Evaluator<'s> {
    let mut asked = asking(snapshot);
    asked.bands = bands;
    asked
}

/// Answers by sharing out the parts.
#[derive(Debug)]
struct SharedOut;

impl Planned for SharedOut {
    fn percussionists(&self, snapshot: &Snapshot, subject: &Subject<'_>) -> Option<u64> {
        let of = || {
            count(snapshot, subject).map_or_else(
                || Truth::Unknown(String::new()),
                |players| Truth::Yes(players.to_string()),
            )
        };
        match snapshot.shared_out().to(digest(subject, &[], 9), of) {
            Truth::Yes(players) => players.parse().ok(),
            _ => None,
        }
    }

    fn covers(
        &self,
        snapshot: &Snapshot,
        subject: &Subject<'_>,
        bands: &[EntryId],
        which: Coverage,
    ) -> Truth {
        let setting = setting(snapshot, subject, bands);
        let one = |which: Coverage, number: u64| {
            let question = digest(subject, &setting.bands, number);
            // Players who join or leave make the day of the concert count.
            let question = xxh3_64_with_seed(format!("{:?}", setting.concert).as_bytes(), question);
            snapshot.shared_out().to(question, || match which {
                Coverage::Percussion => percussion(snapshot, &setting),
                _ => wind(snapshot, &setting),
            })
        };
        match which {
            Coverage::Winds => one(Coverage::Winds, 1),
            Coverage::Percussion => one(Coverage::Percussion, 2),
            Coverage::All => match Truth::all([one(Coverage::Winds, 1), one(Coverage::Percussion, 2)]) {
                Truth::Yes(_) => Truth::Yes(": every part that is needed has a player".to_owned()),
                truth => truth,
            },
        }
    }
}

/// A digest of the card, of what is played of it and of who plays; the bands' own cards are what the kept
/// answers rest on anyway.
fn digest(subject: &Subject<'_>, bands: &[EntryId], what: u64) -> u64 {
    let mut digest = subject.entry.digest ^ what.wrapping_mul(0x9e37_79b9_7f4a_7c15);
    let mut add = |number: u64| digest = xxh3_64_with_seed(&number.to_le_bytes(), digest);
    for movement in subject.movements {
        add(u64::from(*movement));
    }
    for band in bands {
        add(u64::from(band.file));
        add(u64::from(band.entry));
    }
    digest
}

fn setting(snapshot: &Snapshot, subject: &Subject<'_>, bands: &[EntryId]) -> Setting {
    let setting = match bands.is_empty() {
        true => Setting::of_piece(snapshot, subject.id, None),
        false => Setting::new(snapshot, subject.id, bands.to_vec()),
    };
    Setting {
        movements: subject.movements.to_vec(),
        ..setting
    }
}

/// Whether the question rests on measures and tempos, so that its answer is no rough one.
fn is_exact(question: &Question) -> bool {
    question.clock.coarse.is_none() && !question.all_at_once && question.no_time.is_empty() && !question.cut
}

fn count(snapshot: &Snapshot, subject: &Subject<'_>) -> Option<usize> {
    // A count for any players rests on no band's card.
    let setting = Setting {
        movements: subject.movements.to_vec(),
        ..Setting::new(snapshot, subject.id, Vec::new())
    };
    let question = setting.question(snapshot)?;
    if question.parts.is_empty() || !is_exact(&question) {
        return None;
    }
    match fewest(&question.music, Fewest::default(), LIMITS) {
        Answer::Players {
            players, at_least, ..
        } if players == at_least => Some(players),
        _ => None,
    }
}

fn percussion(snapshot: &Snapshot, setting: &Setting) -> Truth {
    let piece = snapshot.entry(setting.piece).and_then(|entry| entry.piece());
    let Some(question) = setting.question(snapshot) else {
        return Truth::Unknown("its percussion parts".to_owned());
    };
    if question.parts.is_empty() && question.no_time.is_empty() {
        let none = piece.and_then(|piece| piece.percussion_count.as_ref());
        return match none.is_some_and(|count| count.number == 0) {
            true => Truth::Yes("has no percussion".to_owned()),
            false => Truth::Unknown("its percussion parts".to_owned()),
        };
    }
    if !question.knows_players {
        return Truth::Unknown("who the percussionists are".to_owned());
    }
    if question.cut || question.no_time.iter().any(|part| part.spare.is_none()) {
        return Truth::Unknown("when all its percussion plays".to_owned());
    }
    let Some(sharing) = brief(&question, snapshot.instruments(), LIMITS).sharing else {
        return Truth::Unknown("who the percussionists are".to_owned());
    };
    let left: Vec<String> = sharing
        .left
        .iter()
        .filter(|left| left.vital)
        .map(|left| words::part(&question, left.part))
        .collect();
    // Whom nobody's abilities fit has no player, whenever it plays.
    let nobodys: Vec<String> = sharing
        .left
        .iter()
        .filter(|left| left.vital && is_nobodys(&question, left.part))
        .map(|left| words::part(&question, left.part))
        .collect();
    if !nobodys.is_empty() && !left.is_empty() {
        return Truth::No(format!(": no percussionist plays {}", joined(&nobodys)));
    }
    match left.is_empty() {
        true => Truth::Yes(": every percussion part has a player".to_owned()),
        // Where measures or tempos are not known, everything was taken as sounding at once.
        false if !sharing.proven || !is_exact(&question) => {
            Truth::Unknown("when all its percussion plays".to_owned())
        }
        false => Truth::No(format!(": no percussionist is free for {}", joined(&left))),
    }
}

/// Whether no percussionist who is there can play a part.
fn is_nobodys(question: &Question, part: usize) -> bool {
    let needs = question.music.parts.get(part).map(|part| part.needs);
    let there = question.players.iter().filter(|player| !player.absent);
    needs.is_some_and(|needs| !there.into_iter().any(|player| player.can.cover(needs)))
}

/// Whether the percussion instruments of a piece are there for the bands that play it; what no card says is taken as
/// there.
pub fn in_the_room(
    snapshot: &Snapshot,
    subject: &Subject<'_>,
    bands: &[EntryId],
    concert: Option<EntryId>,
) -> Truth {
    // What the concert borrows is there too.
    let setting = Setting {
        concert,
        ..setting(snapshot, subject, bands)
    };
    let question = digest(subject, &setting.bands, 3);
    let question = xxh3_64_with_seed(format!("{concert:?}").as_bytes(), question);
    snapshot.shared_out().to(question, || {
        let question = setting.question(snapshot);
        let lacking = question.map_or(Vec::new(), |question| setting.lacking(snapshot, &question));
        let none: Vec<String> = lacking
            .into_iter()
            .filter(|one| one.there == 0)
            .map(|one| one.name)
            .collect();
        match none.is_empty() {
            true => Truth::Yes(": every percussion instrument is there".to_owned()),
            false => Truth::No(format!(": not in the room: {}", joined(&none))),
        }
    })
}

fn wind(snapshot: &Snapshot, setting: &Setting) -> Truth {
    let found = winds::of_piece(snapshot, setting.piece, &setting.bands, &setting.movements, &[]);
    let Some(sharing) = found else {
        return Truth::Unknown("the wind parts".to_owned());
    };
    match sharing.depth {
        Depth::Nobody => return Truth::Unknown("who is in the band".to_owned()),
        Depth::SectionsOnly => return Truth::Unknown("the wind parts".to_owned()),
        Depth::PartsOnly | Depth::Parts => {}
    }
    let nobody: Vec<&str> = sharing
        .parts
        .iter()
        .filter(|part| part.least > 0 && !part.open && part.players() == 0)
        .map(|part| part.name.as_str())
        .collect();
    if !nobody.is_empty() {
        return Truth::No(format!(": nobody is there to play {}", joined(&nobody)));
    }
    match sharing.cut || sharing.parts.iter().any(|part| part.open && part.players() == 0) {
        true => Truth::Unknown("how many of some instruments there are".to_owned()),
        false => Truth::Yes(": every wind part has a player".to_owned()),
    }
}

#[cfg(test)]
mod tests;
