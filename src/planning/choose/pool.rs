//! The pieces a concert is chosen from, with all that is asked of each.

use crate::catalogue::conditions::{
    Condition, Coverage, Evaluator, Facet, Subject, Term, Truth, When, different, lasts,
};
use crate::catalogue::keys::is_taught;
use crate::catalogue::{EntryId, Snapshot};
use crate::planning::find::{name_of, plainly};
use crate::planning::fitting::{asking_for, in_the_room};
use crate::planning::teach::Learned;
use crate::text::Span;

use super::demand::Demand;
use super::offers::Offers;

/// A piece that may be chosen.
#[derive(Debug, Clone)]
pub struct Candidate<'s> {
    /// The piece, with the movements that are played.
    pub subject: Subject<'s>,
    /// Its title, with who wrote it where several share it.
    pub name: String,
    /// Who plays it: one of the bands, or all of them.
    pub bands: &'s [EntryId],
    /// The band's place among those of the evening, where each plays its own pieces.
    pub band: Option<usize>,
    /// The concert that it is chosen for, where there is a card.
    pub concert: Option<EntryId>,
    /// Whether the director has put it on the program.
    pub pinned: bool,
    /// Whether the director keeps it, whichever band plays it.
    pub kept: bool,
    /// The longest it may last, in seconds; none where nobody knows.
    pub seconds: Option<u32>,
    /// Whether it would have to be bought; none where no card says whether the set is there.
    pub to_buy: Option<bool>,
    /// The skills it asks that the band has not been taught, as compared; what is not known where nobody can say.
    pub new_skills: Result<Vec<String>, &'static str>,
    /// What it is worth, with the reasons.
    pub points: Vec<(i64, String)>,
}

impl Candidate<'_> {
    /// What it is worth.
    pub fn value(&self) -> i64 {
        self.points.iter().map(|(points, _)| points).sum()
    }

    /// What each of its bands has to learn for it beside what it has learned.
    pub fn to_learn<'c>(&'c self, learned: &'c Learned) -> impl Iterator<Item = (EntryId, &'c String)> {
        let skills = self.new_skills.iter().flatten();
        skills.flat_map(move |skill| {
            let bands = self.bands.iter().filter(move |band| !learned.has(**band, skill));
            bands.map(move |band| (*band, skill))
        })
    }

    /// The skills that are new to its bands, unless all of them have learned them.
    pub fn still_new<'c>(&'c self, learned: &'c Learned) -> impl Iterator<Item = &'c String> {
        let is_known = |skill: &str| self.bands.iter().all(|band| learned.has(*band, skill));
        let skills = self.new_skills.iter().flatten();
        skills.filter(move |skill| self.bands.is_empty() || !is_known(skill))
    }

    /// The values by which it may be like others.
    pub fn alike(&self, facet: Facet) -> Vec<String> {
        let (all, _) = different(facet, &self.subject);
        match facet {
            // A piece that visits a second key is in the first.
            Facet::Key => self
                .subject
                .keys()
                .certain
                .first()
                .map(ToString::to_string)
                .into_iter()
                .collect(),
            _ => all.into_iter().collect(),
        }
    }
}

/// How many skills are new to the band that has most of them to learn for some pieces.
pub fn most_new(pieces: &[&Candidate<'_>], learned: &Learned) -> usize {
    let mut each: Vec<(Option<usize>, &String)> = Vec::new();
    for piece in pieces {
        for skill in piece.still_new(learned) {
            if !each.contains(&(piece.band, skill)) {
                each.push((piece.band, skill));
            }
        }
    }
    let of = |band: Option<usize>| each.iter().filter(|(one, _)| *one == band).count();
    pieces.iter().map(|piece| of(piece.band)).max().unwrap_or(0)
}

/// Points for a minute of music.
pub const A_MINUTE: i64 = 10;
/// Points for a condition that is preferred.
pub const PREFERRED: i64 = 20;
/// Points for what is wanted, and for what is liked or went well.
pub const WANTED: i64 = 10;

fn condition(term: Term) -> Condition {
    Condition {
        span: Span::new(0, 0),
        term,
    }
}

/// A piece with all that is asked of it but the demands, for those who play it.
pub fn candidate<'s>(
    snapshot: &'s Snapshot,
    bands: &'s [EntryId],
    subject: Subject<'s>,
    pinned: bool,
    prefer: &[Condition],
) -> Candidate<'s> {
    let asked = asking_for(snapshot, bands);
    let piece = subject.piece;
    let seconds = lasts(&subject).map(|(_, high)| u32::try_from(high).unwrap_or(u32::MAX));
    let mut points = vec![match seconds {
        Some(seconds) => (
            (i64::from(seconds) * A_MINUTE + 30) / 60,
            format!("{A_MINUTE} a minute"),
        ),
        None => (2 * A_MINUTE, "nobody knows how long it lasts".to_owned()),
    }];
    for one in prefer {
        if let Truth::Yes(why) = asked.piece(one, &subject) {
            points.push((PREFERRED, plainly(&why)));
        }
    }
    if !piece.wanted.is_empty() {
        points.push((WANTED, "wanted".to_owned()));
    }
    let went_well = || asked.piece(&condition(Term::WentWell), &subject).is_yes();
    if !piece.liked.is_empty() || went_well() {
        points.push((WANTED, "liked or went well".to_owned()));
    }
    let ladder = snapshot.ladder();
    let new_skills = asked
        .new_skills(&subject)
        .and_then(|found| match found.perhaps.is_empty() {
            true => Ok(found.new.iter().map(|name| ladder.one_name(name)).collect()),
            false => Err("all that it asks"),
        });
    Candidate {
        name: name_of(snapshot, &subject),
        subject,
        bands,
        band: None,
        concert: None,
        pinned,
        kept: false,
        seconds,
        to_buy: piece.has_set().map(|there| !there),
        new_skills,
        points,
    }
}

/// What one piece answers to a demand; none where the demand is on the whole program.
pub fn answer(
    asked: &Evaluator<'_>,
    demand: &Demand,
    candidate: &Candidate<'_>,
    offers: Option<&Offers>,
) -> Option<Truth> {
    let subject = &candidate.subject;
    let yes = || Truth::Yes(String::new());
    Some(match demand {
        Demand::Condition { condition, .. } if condition.counts() => return None,
        Demand::Condition { condition, .. } => asked.piece(condition, subject),
        Demand::Own { condition, band, .. } => match candidate.band == Some(*band) {
            true => asked.piece(condition, subject),
            false => yes(),
        },
        Demand::KeysTaught => keys_taught(asked.snapshot, candidate),
        Demand::InTheRoom => in_the_room(asked.snapshot, subject, candidate.bands, candidate.concert),
        Demand::Covered => asked.piece(&condition(Term::Covered(Coverage::All)), subject),
        Demand::Rested(years) => !asked.piece(&condition(Term::Performed(When::Years(*years))), subject),
        Demand::OnTheShelf => match candidate.to_buy {
            Some(false) => yes(),
            Some(true) => Truth::No("would have to be bought".to_owned()),
            None => Truth::Unknown("whether the set is in the library".to_owned()),
        },
        Demand::Length { allowed, .. } => match candidate.seconds {
            None => Truth::Unknown("how long it lasts".to_owned()),
            Some(seconds) => Truth::of(
                seconds <= *allowed,
                format!("lasts {}:{:02}", seconds / 60, seconds % 60),
            ),
        },
        Demand::Budget(money) => match (candidate.to_buy, offers) {
            (Some(true), Some(offers)) => match offers.sells(subject.id) {
                false => Truth::Unknown(format!("what it costs in {}", money.currency)),
                true => Truth::of(offers.share(subject.id) <= money.cents, "costs more"),
            },
            _ => yes(),
        },
        Demand::NewSkills { most, .. } => match &candidate.new_skills {
            Ok(new) => Truth::of(
                new.len() <= *most as usize,
                format!("asks {} that are new", new.len()),
            ),
            Err(missing) => Truth::Unknown((*missing).to_owned()),
        },
        Demand::Keep(_)
        | Demand::One(_)
        | Demand::Share { .. }
        | Demand::Alike { .. }
        | Demand::Pieces(_) => return None,
    })
}

/// Whether all keys that are known of a piece are among those that its bands know. Where nobody knows its keys, nothing
/// speaks against it.
fn keys_taught(snapshot: &Snapshot, candidate: &Candidate<'_>) -> Truth {
    let bands = candidate
        .bands
        .iter()
        .filter_map(|id| snapshot.entry(*id)?.ensemble());
    let bands: Vec<_> = bands.collect();
    let concert = candidate.concert.and_then(|id| snapshot.entry(id));
    let day = concert.and_then(|entry| entry.concert()?.day());
    let keys = candidate.subject.keys().certain;
    let new = keys
        .iter()
        .find(|key| bands.iter().any(|band| !is_taught(**key, band, day)));
    match new {
        Some(key) => Truth::No(format!("is in {key}")),
        None => Truth::Yes(String::new()),
    }
}
