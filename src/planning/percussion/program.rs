//! A whole concert shared out: each piece in program order, the players rotated over the program.

use crate::catalogue::model::Concert;
use crate::catalogue::{EntryId, Snapshot};
use crate::music::Family;
use crate::planning::assign::{Limits, Tenths};

use super::answer::{Answer, answer_with};
use super::ask::{Question, Seat};
use super::assigned::{Assigned, AssignedPiece, Wishes};
use super::backup::{Backup, backups};
use super::between::{Gap, gaps, not_there};
use super::duty::{Duty, Way, duties};
use super::rotate::{Evening, is_small};
use super::setting::Setting;

/// A concert shared out.
#[derive(Debug, Clone)]
pub struct ConcertPlan {
    /// The concert's card.
    pub concert: EntryId,
    /// Everybody in the percussion sections of its bands, band after band.
    pub players: Vec<ConcertPlayer>,
    /// The pieces in the order of the program.
    pub pieces: Vec<PiecePlan>,
    /// Between each piece and the next.
    pub gaps: Vec<Gap>,
    /// What happens if somebody who plays is missing.
    pub backups: Vec<Backup>,
    /// The instruments of all pieces, in the order they stand: see [`Standing`].
    pub standing: Vec<Standing>,
    /// What is known of the time between two pieces, in tenths of a second.
    pub between: Option<Tenths>,
    /// What the evening is like for the players.
    pub evening: Evening,
    /// Why the answer is not whole, in sentences.
    pub notes: Vec<String>,
}

/// A percussionist of one of the bands.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ConcertPlayer {
    /// The band.
    pub band: EntryId,
    /// The seat.
    pub seat: Seat,
}

/// One piece of the program.
#[derive(Debug, Clone)]
pub struct PiecePlan {
    /// The title as the program has it.
    pub title: String,
    /// The piece with its players; none where no card has that title.
    pub setting: Option<Setting>,
    /// The question, where there is a card.
    pub question: Option<Question>,
    /// The answer to it.
    pub answer: Option<Answer>,
    /// For every seat of the question, its place among the players of the concert.
    pub who: Vec<usize>,
    /// What each player of the concert plays, by player; empty for who is idle or in another band.
    pub duties: Vec<Vec<Duty>>,
    /// Each player's ways within the piece, by player.
    pub ways: Vec<Vec<Way>>,
    /// Players who are there, belong to the piece's bands, and play nothing.
    pub free: Vec<usize>,
    /// Parts that are not played, in the words of the card, and whether the music needs them.
    pub left_out: Vec<(String, bool)>,
}

/// An instrument of the percussion section.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Standing {
    /// Its name.
    pub name: String,
    /// Its family, where it is known.
    pub family: Option<Family>,
    /// The pieces that use it, by their places in the program.
    pub pieces: Vec<usize>,
    /// Whether it is held in the hand or lies on a table, so that players hand it on; everything else stays where it
    /// stands.
    pub is_small: bool,
    /// Whether it is neither owned nor borrowed, where the cards say what is.
    pub is_lacking: bool,
}

impl ConcertPlan {
    /// Shares a concert out, for one of its bands where one is named; none where the card is no concert.
    /// `without` names seats that are absent besides those on the card.
    pub fn of(
        snapshot: &Snapshot,
        concert: EntryId,
        band: Option<EntryId>,
        without: &[String],
        hand_over: bool,
        limits: Limits<'_>,
    ) -> Option<ConcertPlan> {
        ConcertPlan::after(snapshot, &[], concert, band, without, hand_over, limits)
    }

    /// The same, where what the players had in earlier concerts counts as well.
    pub fn after(
        snapshot: &Snapshot,
        earlier: &[EntryId],
        concert: EntryId,
        band: Option<EntryId>,
        without: &[String],
        hand_over: bool,
        limits: Limits<'_>,
    ) -> Option<ConcertPlan> {
        let card = snapshot.entry(concert)?.concert()?;
        let wishes = Wishes {
            band,
            without,
            hand_over,
            earlier,
        };
        let assigned = Assigned::of(snapshot, concert, wishes, limits)?;
        let told =
            |limits: Limits<'_>| ConcertPlan::told(snapshot, (concert, card), &assigned, hand_over, limits);
        let (mut plan, in_full) = limits.for_all(told);
        if assigned.cut || !in_full {
            plan.notes.push("This program is too large to try every way. There may be a better one, and not everybody's absence was worked out.".to_owned());
        }
        Some(plan)
    }

    /// All that is told of a concert whose players are known.
    fn told(
        snapshot: &Snapshot,
        (concert, card): (EntryId, &Concert),
        assigned: &Assigned,
        hand_over: bool,
        limits: Limits<'_>,
    ) -> ConcertPlan {
        let mut notes = assigned.notes.clone();
        let players = assigned.players.clone();
        let pieces: Vec<PiecePlan> = assigned
            .pieces
            .iter()
            .map(|one| piece_plan(snapshot, one.clone(), players.len(), limits))
            .collect();
        let between = card
            .between
            .as_ref()
            .map(|between| Tenths::from(between.value.low.seconds()).saturating_mul(10));
        if pieces.is_empty() {
            notes.push("The concert's card has no program yet, so nothing can be shared out. Write the titles under \"program\".".to_owned());
        }
        let mut plan = ConcertPlan {
            concert,
            standing: standing(snapshot, &pieces),
            gaps: Vec::new(),
            backups: Vec::new(),
            players,
            pieces,
            between,
            evening: assigned.evening.clone(),
            notes,
        };
        plan.gaps = gaps(&plan);
        plan.backups = backups(&plan, &assigned.pieces, hand_over, limits);
        plan
    }

    /// The initials or seat of a player, with the band's name where another band has the same seat.
    pub fn name(&self, snapshot: &Snapshot, player: usize) -> String {
        let Some(one) = self.players.get(player) else {
            return String::new();
        };
        let same = self
            .players
            .iter()
            .filter(|other| other.seat.name == one.seat.name);
        match (same.count(), snapshot.entry(one.band)) {
            (0 | 1, _) | (_, None) => one.seat.name.clone(),
            (_, Some(band)) => format!("{} ({})", one.seat.name, band.name),
        }
    }
}

impl PiecePlan {
    fn spans(&self, player: usize) -> Vec<((usize, usize), &str)> {
        let sharing = self.answer.as_ref().and_then(|answer| answer.sharing.as_ref());
        let seat = self.who.iter().position(|who| *who == player);
        let turns = sharing
            .zip(seat)
            .and_then(|(sharing, seat)| sharing.turns.get(seat));
        let mut spans = Vec::new();
        for turn in turns.into_iter().flatten() {
            let Some(part) = self
                .question
                .as_ref()
                .and_then(|question| question.parts.get(turn.part))
            else {
                continue;
            };
            let entrances = turn.entrances.iter().filter_map(|at| part.entrances.get(*at));
            spans.extend(entrances.map(|span| (*span, part.station.name.as_str())));
        }
        spans
    }

    /// The instrument at which a player begins.
    pub fn first_station(&self, player: usize) -> Option<&str> {
        self.spans(player).into_iter().min().map(|(_, name)| name)
    }

    /// The instrument at which a player ends.
    pub fn last_station(&self, player: usize) -> Option<&str> {
        let last = self.spans(player).into_iter().max_by_key(|(span, _)| span.1);
        last.map(|(_, name)| name)
    }
}

pub(super) fn piece_plan(
    snapshot: &Snapshot,
    one: AssignedPiece,
    players: usize,
    limits: Limits<'_>,
) -> PiecePlan {
    let AssignedPiece {
        title,
        setting,
        question,
        who,
        plan,
    } = one;
    let answer = question
        .as_ref()
        .map(|question| answer_with(question, plan.as_ref(), snapshot.instruments(), limits));
    let mut piece = PiecePlan {
        title,
        setting,
        who,
        duties: vec![Vec::new(); players],
        ways: vec![Vec::new(); players],
        free: Vec::new(),
        left_out: Vec::new(),
        question,
        answer,
    };
    let sharing = piece.answer.as_ref().and_then(|answer| answer.sharing.as_ref());
    let (Some(question), Some(sharing)) = (&piece.question, sharing) else {
        return piece;
    };
    for (seat, (duties, ways)) in duties(question, sharing).into_iter().enumerate() {
        let Some(&player) = piece.who.get(seat) else {
            continue;
        };
        let there = question.seats.get(seat).is_some_and(|seat| !seat.absent);
        if there && duties.is_empty() && !question.parts.is_empty() {
            piece.free.push(player);
        }
        if let Some(place) = piece.duties.get_mut(player) {
            *place = duties;
        }
        if let Some(place) = piece.ways.get_mut(player) {
            *place = ways;
        }
    }
    piece.left_out = sharing
        .left
        .iter()
        .map(|left| (super::words::part(question, left.part), left.vital))
        .collect();
    piece
}

/// All instruments that somebody plays, by family (timpani, mallets, drums, the small ones), then as they come.
fn standing(snapshot: &Snapshot, pieces: &[PiecePlan]) -> Vec<Standing> {
    let mut standing: Vec<Standing> = Vec::new();
    for (at, piece) in pieces.iter().enumerate() {
        let lacking = not_there(snapshot, piece);
        for duty in piece.duties.iter().flatten() {
            match standing.iter_mut().find(|known| known.name == duty.station) {
                Some(known) if known.pieces.contains(&at) => {}
                Some(known) => known.pieces.push(at),
                None => standing.push(Standing {
                    name: duty.station.clone(),
                    family: duty.family,
                    pieces: vec![at],
                    is_small: is_small(&duty.station, duty.family) || duty.station == "crash cymbals",
                    is_lacking: lacking.contains(&duty.station),
                }),
            }
        }
    }
    let rank = |family: Option<Family>| match family {
        Some(Family::Timpani) => 0,
        Some(Family::Mallets) => 1,
        Some(Family::Battery) => 2,
        Some(Family::Accessories) => 3,
        Some(Family::World) => 4,
        _ => 5,
    };
    standing.sort_by_key(|one| rank(one.family));
    standing
}
