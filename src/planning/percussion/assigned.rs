//! Who plays what in the pieces of a concert, worked out once: the command, hints, lenses and pages all ask here, of a
//! concert and of each of its pieces.

use std::sync::Arc;

use crate::catalogue::model::Concert;
use crate::catalogue::names::key;
use crate::catalogue::{EntryId, Listing, Snapshot};
use crate::music::Instruments;
use crate::planning::assign::{Limits, Plan};

use super::answer::{Answer, Brief, answer_with, brief_with, plan};
use super::ask::Question;
use super::evening::{Before, Given, Turn, digest, share};
use super::few;
use super::program::ConcertPlayer;
use super::rotate::{Earlier, Evening, lasts, rotate};
use super::setting::{Setting, absent_percussionists};

/// What is asked besides what stands on the cards.
#[derive(Debug, Clone, Copy, Default)]
pub struct Wishes<'a> {
    /// The only band that is asked about.
    pub band: Option<EntryId>,
    /// Seats that are absent besides those on the card.
    pub without: &'a [String],
    /// Whether parts may be handed over in the rests.
    pub hand_over: bool,
    /// Concerts whose playing counts as well.
    pub earlier: &'a [EntryId],
}

impl Wishes<'_> {
    fn are_none(&self) -> bool {
        self.band.is_none() && self.without.is_empty() && !self.hand_over && self.earlier.is_empty()
    }
}

/// The pieces of a concert with their players.
#[derive(Debug, Clone, Default)]
pub struct Assigned {
    /// Everybody in the percussion sections of its bands, band after band.
    pub(super) players: Vec<ConcertPlayer>,
    /// The pieces in the order of the program.
    pub(super) pieces: Vec<AssignedPiece>,
    /// What the evening is like for the players.
    pub(super) evening: Evening,
    /// Why the answer is not whole, in sentences.
    pub(super) notes: Vec<String>,
    /// Whether there was too much to try.
    pub(super) cut: bool,
}

/// A piece of a concert with its players.
#[derive(Debug, Clone)]
pub struct AssignedPiece {
    /// The title as the program has it.
    pub(super) title: String,
    /// The piece with its players; none where no card has that title.
    pub(super) setting: Option<Setting>,
    /// The question, where there is a card.
    pub(super) question: Option<Question>,
    /// For every seat of the question, its place among the players of the concert.
    pub(super) who: Vec<usize>,
    /// Who plays what; none where nobody is known.
    pub(super) plan: Option<Plan>,
}

impl Assigned {
    /// Shares the pieces of a concert out; none where the card is no concert. Without wishes it is worked out once for
    /// as long as neither the bands nor the cards of its pieces change.
    pub fn of(
        snapshot: &Snapshot,
        concert: EntryId,
        wishes: Wishes<'_>,
        limits: Limits<'_>,
    ) -> Option<Arc<Assigned>> {
        let card = snapshot.entry(concert)?.concert()?;
        let work = || Arc::new(Assigned::work(snapshot, (concert, card), wishes, limits));
        if !wishes.are_none() || limits.steps != Limits::USUAL.steps {
            return Some(work());
        }
        let pieces = snapshot.digests_of_program(concert);
        let kept = snapshot.kept_of_concert((concert, "assigned"), pieces, &|| work());
        kept.downcast().ok()
    }

    fn work(
        snapshot: &Snapshot,
        (concert, card): (EntryId, &Concert),
        wishes: Wishes<'_>,
        limits: Limits<'_>,
    ) -> Assigned {
        let work = |limits: Limits<'_>| Assigned::within(snapshot, (concert, card), wishes, limits);
        let (assigned, in_full) = limits.for_all(work);
        Assigned {
            cut: !in_full,
            ..assigned
        }
    }

    fn within(
        snapshot: &Snapshot,
        (concert, card): (EntryId, &Concert),
        wishes: Wishes<'_>,
        limits: Limits<'_>,
    ) -> Assigned {
        let mut notes = Vec::new();
        let mut absent = absent_percussionists(card, snapshot);
        absent.extend(wishes.without.iter().cloned());
        let settings = program(snapshot, (concert, card), wishes.band, &absent, &mut notes);
        let players = players(snapshot, &settings);
        for words in wishes.without {
            let known = players.iter().any(|player| key(&player.seat.name) == key(words));
            if !known {
                notes.push(format!(
                    "No percussionist in the bands of this concert is called \"{words}\", so nobody was left out for that."
                ));
            }
        }
        let mut questions: Vec<Option<Question>> = settings
            .iter()
            .map(|(_, setting)| setting.as_ref()?.question(snapshot))
            .collect();
        let who: Vec<Vec<usize>> = settings
            .iter()
            .map(|(_, setting)| setting.as_ref().map_or(Vec::new(), |one| places(one, &players)))
            .collect();
        let own = Wishes {
            hand_over: wishes.hand_over,
            ..Wishes::default()
        };
        let before = wishes
            .earlier
            .iter()
            .filter_map(|id| Assigned::of(snapshot, *id, own, limits));
        let earlier = had(&players, before);
        few::leave_out(&mut questions, &who, players.len(), limits);
        // Who has which hand takes by far the longest, and most edits of a card leave the hands as they are.
        let given = |turns: &[Turn], before: &[Before]| {
            let share = || share(turns, before, limits);
            if !wishes.are_none() || limits.steps != Limits::USUAL.steps {
                return share();
            }
            let rests_on = vec![digest(turns, before)];
            let kept = snapshot.kept_of_concert((concert, "hands"), rests_on, &|| Arc::new(share()));
            kept.downcast_ref::<Given>().cloned().unwrap_or_else(share)
        };
        let (plans, evening) = rotate(
            &mut questions,
            (&who, players.len()),
            wishes.hand_over,
            &earlier,
            &given,
            limits,
        );
        let parts = settings
            .into_iter()
            .zip(questions)
            .zip(who.into_iter().zip(plans));
        let pieces = parts.map(|(((title, setting), mut question), (who, plan))| {
            if let (Some(setting), Some(question)) = (&setting, &mut question) {
                tell_apart(snapshot, setting, question);
            }
            AssignedPiece {
                title,
                setting,
                question,
                who,
                plan,
            }
        });
        Assigned {
            pieces: pieces.collect(),
            players,
            evening,
            notes,
            cut: false,
        }
    }
}

/// The pieces of a concert to come as they are played, with their titles, in the order of the program.
pub fn settings(snapshot: &Snapshot, concert: EntryId) -> Vec<(String, Setting)> {
    let Some(card) = snapshot.entry(concert).and_then(|entry| entry.concert()) else {
        return Vec::new();
    };
    let absent = absent_percussionists(card, snapshot);
    let all = program(snapshot, (concert, card), None, &absent, &mut Vec::new());
    let to_come = |one: &Setting| {
        let mut listings = snapshot.listings_of(one.piece).iter();
        listings.any(|listing| listing.concert == concert)
    };
    let known = all.into_iter().filter_map(|(title, one)| Some((title, one?)));
    known.filter(|(_, one)| to_come(one)).collect()
}

/// A piece that is asked about by itself, with the players it has in the next concert that lists it.
#[derive(Debug, Clone)]
pub struct PieceAssigned {
    /// The piece with its players.
    pub setting: Setting,
    /// The question.
    pub question: Question,
    /// What could not be done as it was asked, a sentence each.
    pub amiss: Vec<String>,
    plan: Option<Plan>,
}

impl PieceAssigned {
    /// The piece in the next concert that lists it, else by itself: for the band that is asked about, else for the
    /// handbook's, else for the only one there is. None where the card is no piece.
    pub fn of(
        snapshot: &Snapshot,
        piece: EntryId,
        wishes: Wishes<'_>,
        limits: Limits<'_>,
    ) -> Option<PieceAssigned> {
        let mut listings = listings_by_day(snapshot, piece).into_iter();
        let listing = listings.find(|one| wishes.band.is_none_or(|band| one.bands == [band]));
        let in_concert = listing.and_then(|listing| {
            let all = Wishes { band: None, ..wishes };
            let assigned = Assigned::of(snapshot, listing.concert, all, limits)?;
            let one = assigned.pieces.get(listing.place)?;
            let setting = one.setting.as_ref().filter(|setting| setting.piece == piece)?;
            Some((setting.clone(), one.question.clone()?, one.plan.clone()))
        });
        if let Some((mut setting, question, plan)) = in_concert {
            return Some(PieceAssigned {
                amiss: setting.leave_at_home(wishes.without),
                setting,
                question,
                plan,
            });
        }
        let mut setting = Setting::of_piece(snapshot, piece, wishes.band);
        let amiss = setting.leave_at_home(wishes.without);
        let question = setting.question(snapshot)?;
        Some(PieceAssigned {
            plan: plan(&question, wishes.hand_over, limits),
            setting,
            question,
            amiss,
        })
    }

    /// All that is found out about it.
    pub fn answer(&self, instruments: &Instruments, limits: Limits<'_>) -> Answer {
        answer_with(&self.question, self.plan.as_ref(), instruments, limits)
    }

    /// How many it takes and who plays what, which is much less work.
    pub fn brief(&self, instruments: &Instruments, limits: Limits<'_>) -> Brief {
        brief_with(&self.question, self.plan.as_ref(), instruments, limits)
    }
}

/// The place where the next concert lists a piece.
pub fn next_listing(snapshot: &Snapshot, piece: EntryId) -> Option<&Listing> {
    listings_by_day(snapshot, piece).into_iter().next()
}

/// The places where concerts to come list a piece, the next by its day first; who says no day comes last.
pub(super) fn listings_by_day(snapshot: &Snapshot, piece: EntryId) -> Vec<&Listing> {
    let mut all: Vec<&Listing> = snapshot.listings_of(piece).iter().collect();
    all.sort_by_key(|listing| {
        let concert = snapshot.entry(listing.concert);
        let day = concert.and_then(|entry| entry.concert()?.day());
        (day.is_none(), day)
    });
    all
}

/// The titles with their pieces and players, as the program has them.
fn program(
    snapshot: &Snapshot,
    (concert, card): (EntryId, &Concert),
    band: Option<EntryId>,
    absent: &[String],
    notes: &mut Vec<String>,
) -> Vec<(String, Option<Setting>)> {
    let named = |names: &mut dyn Iterator<Item = &str>| -> Vec<EntryId> {
        names.filter_map(|name| snapshot.ensemble_named(name)).collect()
    };
    let all = named(&mut card.bands.iter().map(|band| band.value.name.as_str()));
    let mut settings = Vec::new();
    for (place, listed) in card.program.iter().enumerate() {
        let own = named(&mut listed.bands.iter().map(String::as_str));
        let bands = [own, all.clone()].into_iter().find(|bands| !bands.is_empty());
        // Bands of a handbook do not play together.
        let bands = bands.unwrap_or_else(|| snapshot.usual_bands().into_iter().take(1).collect());
        if band.is_some_and(|band| !bands.contains(&band)) {
            continue;
        }
        let title = &listed.title.value;
        let found = snapshot.pieces_titled(&title.name, title.by.as_deref());
        match found.as_slice() {
            [] => notes.push(format!(
                "No card is called \"{}\", so it is not known who plays in it.",
                title.name
            )),
            [_] => {}
            _ => notes.push(format!(
                "Several cards are called \"{0}\", and the first of them is taken. Write after the title on the program who it is by: \"{0}\" by somebody.",
                title.name
            )),
        }
        let setting = found.first().map(|piece| {
            let mut setting = Setting::new(snapshot, *piece, bands);
            setting.concert = Some(concert);
            setting.place = Some(place);
            setting.movements = listed.movements.clone();
            setting.leave_at_home(absent);
            setting.without_those_not_there(card.day());
            setting
        });
        settings.push((title.name.clone(), setting));
    }
    settings
}

/// Everybody who plays in some piece's band, once.
pub(super) fn players(snapshot: &Snapshot, settings: &[(String, Option<Setting>)]) -> Vec<ConcertPlayer> {
    let mut players: Vec<ConcertPlayer> = Vec::new();
    for setting in settings.iter().filter_map(|(_, setting)| setting.as_ref()) {
        for (band, seat) in setting.by_band(snapshot) {
            if !players
                .iter()
                .any(|known| known.band == band && known.seat.name == seat.name)
            {
                players.push(ConcertPlayer { band, seat });
            }
        }
    }
    players
}

/// Where bands play together and have a seat of the same name, their names tell the players apart.
fn tell_apart(snapshot: &Snapshot, setting: &Setting, question: &mut Question) {
    if setting.bands.len() < 2 {
        return;
    }
    let names: Vec<String> = question.seats.iter().map(|seat| seat.name.clone()).collect();
    for (seat, (band, _)) in question.seats.iter_mut().zip(setting.by_band(snapshot)) {
        let same = names.iter().filter(|name| **name == seat.name).count();
        if let Some(band) = snapshot.entry(band).filter(|_| same > 1) {
            seat.name = format!("{} ({})", seat.name, band.name);
        }
    }
}

/// What these players had in earlier concerts, by their seats.
fn had(players: &[ConcertPlayer], before: impl Iterator<Item = Arc<Assigned>>) -> Earlier {
    let mut had = Earlier::default();
    for assigned in before {
        for (player, now) in players.iter().enumerate() {
            let same = |then: &ConcertPlayer| then.band == now.band && then.seat.name == now.seat.name;
            let Some(then) = assigned.players.iter().position(same) else {
                continue;
            };
            for piece in &assigned.pieces {
                let (Some(question), Some(plan)) = (&piece.question, &piece.plan) else {
                    continue;
                };
                let seat = piece.who.iter().position(|who| *who == then);
                let own = plan.plays.iter().filter(|play| Some(play.player) == seat);
                let parts = own.filter_map(|play| {
                    let lasts = lasts(question, play.part, play.entrance);
                    Some((question.parts.get(play.part)?, lasts))
                });
                had.add(player, parts);
            }
        }
    }
    had
}

/// For every seat of a piece, its place among the players of the concert.
pub(super) fn places(setting: &Setting, players: &[ConcertPlayer]) -> Vec<usize> {
    let mut from: Vec<usize> = Vec::new();
    for seat in setting.seats.iter().flatten() {
        let mine =
            |player: &ConcertPlayer| player.seat.name == seat.name && setting.bands.contains(&player.band);
        // Two bands that play together may both have a P1: the first one that is not taken yet.
        let place = players
            .iter()
            .enumerate()
            .find(|(at, player)| mine(player) && !from.contains(at));
        from.push(place.map_or(usize::MAX, |(at, _)| at));
    }
    from
}
