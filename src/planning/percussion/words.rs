//! What was found out, in sentences.

use crate::catalogue::Snapshot;
use crate::catalogue::model::Piece;
use crate::notation::values::Stretch;
use crate::planning::assign::Tenths;
use crate::text::sentences::{capital, counted, is_several, joined};

use super::answer::{Answer, Because, Count, Sharing};
use super::ask::Question;
use super::assigned::listings_by_day;
use super::change::Ground;
use super::clock::Sounding;
use super::gear::Lacking;
use super::part_told::PartTold;
use super::pins::{Decided, Whose};
use super::setting::Setting;
use super::told::{Move, Turn};

/// Tenths of a second: `5 s`, `4.5 s`.
pub fn seconds(tenths: Tenths) -> String {
    match (tenths / 10, tenths % 10) {
        (whole, 0) => format!("{whole} s"),
        (whole, tenth) => format!("{whole}.{tenth} s"),
    }
}

/// A part's name with its movement where there is one: `movement 2 snare`.
pub fn part(question: &Question, at: usize) -> String {
    question
        .parts
        .get(at)
        .map_or_else(String::new, |part| match part.movement {
            Some(number) => format!("{} (movement {number})", part.name),
            None => part.name.clone(),
        })
}

fn parts(question: &Question, all: &[usize]) -> String {
    let names: Vec<String> = all.iter().map(|&at| part(question, at)).collect();
    joined(&names)
}

fn stretch(Stretch { first, last }: Stretch) -> String {
    match (first == last, last == u32::MAX) {
        (true, _) => format!("{first}"),
        (_, true) => format!("{first} to the end"),
        _ => format!("{first}-{last}"),
    }
}

/// The measures of a turn: those of the card where the player has the whole part, else those of the entrances.
pub fn measures(question: &Question, turn: &Turn) -> String {
    let Some(part) = question.parts.get(turn.part) else {
        return String::new();
    };
    let written: Vec<Stretch> = match turn.whole {
        true => part.stretches.clone(),
        false => {
            let measure = |at: usize| question.clock.measures.get(at).map_or(0, |s| s.measure);
            let mut all: Vec<Stretch> = Vec::new();
            for entrance in turn.entrances.iter().filter_map(|at| part.entrances.get(*at)) {
                let one = Stretch {
                    first: measure(entrance.0),
                    last: measure(entrance.1),
                };
                if !all.contains(&one) {
                    all.push(one);
                }
            }
            all
        }
    };
    let told: Vec<String> = written.into_iter().map(stretch).collect();
    match part.events {
        true => format!("events {}", told.join(", ")),
        false => told.join(", "),
    }
}

/// `measures 41-56`, `measure 9`, `events 3-4`, with the movement where the part has one.
pub fn from_to(question: &Question, first: Sounding, last: Sounding, movement: Option<u32>) -> String {
    let word = match (first.event, first.measure == last.measure) {
        (false, true) => "measure",
        (false, false) => "measures",
        (true, true) => "event",
        (true, false) => "events",
    };
    let place = match first.measure == last.measure {
        true => first.measure.to_string(),
        false => format!("{}-{}", first.measure, last.measure),
    };
    let many = question.parts.iter().any(|part| part.movement != movement);
    match movement {
        Some(number) if many => format!("{word} {place} of movement {number}"),
        _ => format!("{word} {place}"),
    }
}

/// `snare (or advanced snare)`, where one is played in place of the other.
fn with_alternatives(question: &Question, at: usize) -> String {
    let name = |at: usize| question.parts.get(at).map(|part| part.name.clone());
    let group = question
        .music
        .instead
        .iter()
        .find(|group| group.iter().any(|set| set.contains(&at)));
    let others = group.into_iter().flatten().filter(|set| !set.contains(&at));
    let others: Vec<String> = others
        .map(|set| {
            set.iter()
                .filter_map(|other| name(*other))
                .collect::<Vec<_>>()
                .join(" and ")
        })
        .collect();
    match others.as_slice() {
        [] => name(at).unwrap_or_default(),
        others => format!("{} (or {})", name(at).unwrap_or_default(), others.join(" or ")),
    }
}

/// Why it takes so many, to stand behind "because".
pub fn because(question: &Question, because: &Because) -> String {
    let movement = |all: &[usize]| all.first().and_then(|at| question.parts.get(*at)?.movement);
    let plain = |all: &[usize]| -> String {
        let names: Vec<String> = all.iter().map(|at| with_alternatives(question, *at)).collect();
        joined(&names)
    };
    let counted_as_one = |all: &[usize]| match all {
        [_] => format!("{} is counted as playing all along", plain(all)),
        _ => format!("{} are counted as playing at once", plain(all)),
    };
    let at_once = |all: &[usize], first: Sounding, last: Sounding| {
        if question.all_at_once {
            return counted_as_one(all);
        }
        let place = from_to(question, first, last, movement(all));
        match all {
            [_] => format!("{} plays at {place}", plain(all)),
            _ => format!("{} play at once at {place}", plain(all)),
        }
    };
    match because {
        Because::Nothing => "there is nothing to play".to_owned(),
        Because::AtOnce(all, first, last) => at_once(all, *first, *last),
        Because::TooClose(all) if question.all_at_once => counted_as_one(all),
        Because::TooClose(all) if all.len() == 2 => format!(
            "{} overlap, or come too close together for one player to have both",
            parts(question, all)
        ),
        Because::TooClose(all) => format!(
            "{} overlap, or come too close together for one player to have any two of them",
            parts(question, all)
        ),
        Because::Tried => "every way with fewer was tried".to_owned(),
        Because::CutShort => "there are too many ways to try them all".to_owned(),
        Because::Nobody(at) => format!("nobody who is there plays {}", part(question, *at)),
        Because::TooFew(all, place, able) => {
            let names: Vec<String> = able
                .iter()
                .filter_map(|who| question.seats.get(*who))
                .map(|seat| seat.name.clone())
                .collect();
            let what = match place {
                Some((first, last)) => at_once(all, *first, *last),
                None if question.all_at_once => counted_as_one(all),
                None => format!(
                    "{} leave no time to change from one to another",
                    parts(question, all)
                ),
            };
            let there = question.seats.iter().filter(|seat| !seat.absent).count();
            match names.as_slice() {
                [] => format!("{what}, and nobody is there for them"),
                [_] if there == 1 => format!("{what}, and only one player is there"),
                names if names.len() == there => format!("{what}, and only {there} players are there"),
                [one] if all.iter().all(|at| is_decided(question, *at)) => {
                    format!("{what}, and all of them are given to {one}")
                }
                [one] => format!("{what}, and only {one} can play any of them"),
                _ => format!("{what}, and only {} can play any of them", joined(&names)),
            }
        }
    }
}

/// `It takes 4 players, because ...`.
fn count(question: &Question, count: &Count, lead: &str, so: &str) -> String {
    match count.players {
        None => {
            let why = match count.because {
                Because::Tried => "every way was tried".to_owned(),
                _ => because(question, &count.because),
            };
            format!("{lead} cannot be done, because {why}.")
        }
        Some(0) => format!("{lead} takes nobody: there is nothing to play."),
        Some(found) if count.at_least < found => format!(
            "{lead} takes between {1} and {0}{so}: {2}.",
            counted(found, "player"),
            count.at_least,
            because(question, &count.because)
        ),
        Some(found) => format!(
            "{lead} takes {}{so}, because {}.",
            counted(found, "player"),
            because(question, &count.because)
        ),
    }
}

/// What is coarse about the answer; nothing where it is as sure as the card.
pub fn coarse(question: &Question, piece: &Piece) -> Vec<String> {
    let mut told = Vec::new();
    if question.parts.is_empty() && question.no_time.is_empty() {
        told.push(match piece.percussion_count {
            Some(count) if count.number == 0 => "The card says that there is no percussion.".to_owned(),
            Some(count) => format!(
                "The card counts {} percussion parts and names none of them, so nobody can be given one. Write the instruments under \"percussion\".",
                count.number
            ),
            None => "The card names no percussion parts.".to_owned(),
        });
    } else if question.all_at_once {
        told.push("A rough count: the card does not say in which measures the parts play, so they are counted as if they all played at once. Some may well share a player; write their measures after them to find out.".to_owned());
    } else if let Some(missing) = question.clock.coarse {
        told.push(format!(
            "A rough count: the card does not say {missing}. So measures are counted and not seconds; a move may need more time than there is."
        ));
    }
    for taken in &question.clock.taken {
        told.push(format!("Not certain: {taken}."));
    }
    let names = |timed: bool| -> Vec<String> {
        let parts = question.no_time.iter().filter(|part| part.timed == timed);
        parts.map(|part| part.name.clone()).collect()
    };
    let (untimed, beyond) = (names(false), names(true));
    if !question.all_at_once && !untimed.is_empty() {
        told.push(format!(
            "Not counted, because the card does not say for certain when it plays: {}. It may take more players than this.",
            joined(&untimed)
        ));
    }
    if !beyond.is_empty() {
        told.push(format!(
            "Not counted, because the piece has no such measures: {}. It may take more players than this.",
            joined(&beyond)
        ));
    }
    if question.cut {
        told.push(
            "The card has more percussion rows than Levare can look at; the last ones are not counted."
                .to_owned(),
        );
    }
    let says: Vec<String> = piece
        .needs
        .iter()
        .filter(|needs| needs.value.is_percussion())
        .map(|needs| needs.value.to_string())
        .collect();
    if !says.is_empty() {
        told.push(format!("The card says it needs {}.", says.join(", ")));
    }
    told
}

/// How many it takes, with the proof.
pub fn how_many(question: &Question, answer: &Answer) -> Vec<String> {
    if question.parts.is_empty() {
        return Vec::new();
    }
    let mut told = vec![count(question, &answer.all, "It", "")];
    let same = |one: &Count, other: &Count| one.players == other.players;
    let spare: Vec<String> = question
        .parts
        .iter()
        .filter_map(|part| Some(format!("{} ({})", part.name, part.spare.as_ref()?)))
        .collect();
    if !spare.is_empty() {
        told.push(match same(&answer.without_spares, &answer.all) {
            true => format!(
                "May be left out, though that saves no player: {}.",
                joined(&spare)
            ),
            false => count(
                question,
                &answer.without_spares,
                "It",
                &format!(" without what may be left out: {}", joined(&spare)),
            ),
        });
    }
    if !same(&answer.handing_over, &answer.all) {
        told.push(count(
            question,
            &answer.handing_over,
            "It",
            " when instruments are handed over in the rests (--handing-over)",
        ));
    }
    // Where that is why it takes so many, it is told already.
    let told_counts = [
        Some(&answer.all),
        Some(&answer.without_spares).filter(|count| !spare.is_empty() && !same(count, &answer.all)),
        Some(&answer.handing_over).filter(|count| !same(count, &answer.all)),
    ];
    let is_told =
        |count: &Count| matches!(count.because, Because::AtOnce(..)) && same(count, &answer.at_once);
    if !told_counts.into_iter().flatten().any(is_told) {
        told.push(format!(
            "Never more than {} at once: {}.",
            counted(answer.at_once.players.unwrap_or(0), "player"),
            because(question, &answer.at_once.because)
        ));
    }
    told
}

/// For whom it is shared out: `Seventh Grade Band, 6 percussionists`.
pub fn for_whom(snapshot: &Snapshot, setting: &Setting) -> String {
    let names: Vec<String> = setting
        .bands
        .iter()
        .filter_map(|id| snapshot.entry(*id))
        .map(|entry| entry.name.clone())
        .collect();
    let movements: Vec<String> = setting.movements.iter().map(u32::to_string).collect();
    let movements = match movements.as_slice() {
        [] => String::new(),
        [one] => format!("movement {one}; "),
        all => format!("movements {}; ", joined(all)),
    };
    let there = match &setting.seats {
        _ if names.is_empty() => {
            return format!(
                "{movements}no band: write an ensemble card with its percussionists, or name the band with --for."
            );
        }
        None => "whose card does not say how many percussionists there are".to_owned(),
        Some(seats) => match seats.len() {
            0 => "no percussionist".to_owned(),
            1 => "1 percussionist".to_owned(),
            count => format!("{count} percussionists"),
        },
    };
    format!("{movements}{}, {there}", joined(&names))
}

/// Where a piece stands in the concert for which it is shared out: `No. 1 of "Winter evening", Thursday, December 10,
/// 2026; also no. 4 there and in "Spring concert".`; none where no concert to come lists it.
pub fn where_it_stands(snapshot: &Snapshot, setting: &Setting) -> Option<String> {
    let (concert, place) = (setting.concert?, setting.place?);
    let named = |id| snapshot.entry(id).map_or("", |entry| entry.name.as_str());
    let mut told = format!("No. {} of \"{}\"", place.saturating_add(1), named(concert));
    if let Some(on) = &snapshot.entry(concert)?.concert()?.on {
        told.push_str(&format!(", {}", on.value.day.spelled()));
    }
    let mut also: Vec<String> = Vec::new();
    for listing in listings_by_day(snapshot, setting.piece) {
        let words = match listing.concert == concert {
            true if listing.place == place => continue,
            true => format!("no. {} there", listing.place.saturating_add(1)),
            false => format!("in \"{}\"", named(listing.concert)),
        };
        if !also.contains(&words) {
            also.push(words);
        }
    }
    if !also.is_empty() {
        told.push_str(&format!("; also {}", joined(&also)));
    }
    Some(told + ".")
}

/// How many of these players it takes, where that is another number than of any players; and why more share it
/// than it takes.
pub fn of_these(question: &Question, answer: &Answer) -> Vec<String> {
    let mut told = Vec::new();
    if question.parts.is_empty() || question.seats.is_empty() {
        return told;
    }
    told.extend(shared_among(answer));
    if let Some(of_these) = &answer.of_these
        && of_these.players != answer.all.players
    {
        told.push(count(question, of_these, "With these players it", ""));
        if of_these.players.is_none()
            && let Some(handing) = &answer.of_these_handing_over
            && handing.players.is_some()
        {
            told.push(count(
                question,
                handing,
                "With these players it",
                " when instruments are handed over in the rests (--handing-over)",
            ));
        }
    }
    told
}

/// Why more players share the parts than it takes: `It takes 3 players` stands above a chart of four.
pub fn shared_among(answer: &Answer) -> Option<String> {
    let count = answer.of_these.as_ref().unwrap_or(&answer.all);
    let sharing = answer.sharing.as_ref()?;
    let playing = sharing.turns.iter().filter(|turns| !turns.is_empty()).count();
    let more = count.players.is_some_and(|fewest| fewest < playing);
    more.then(|| format!("Shared here among {playing} players, for fewer moves and a fairer share."))
}

/// Whether the reason why these players cannot do it is told above, as the reason why something is left out.
fn is_told_above(question: &Question, answer: &Answer, why: &Because) -> bool {
    let above = answer.of_these.as_ref();
    above.is_some_and(|count| {
        count.players.is_none()
            && answer.all.players.is_some()
            && because(question, &count.because) == because(question, why)
    })
}

/// What this roster leaves out, and why; and who is free. `above` says that [`of_these`] stands above.
pub fn roster(question: &Question, answer: &Answer, above: bool) -> Vec<String> {
    let Some(sharing) = &answer.sharing else {
        return Vec::new();
    };
    let mut told = Vec::new();
    let above = above
        && sharing
            .because
            .as_ref()
            .is_some_and(|why| is_told_above(question, answer, why));
    told.extend(left_out(question, sharing, above));
    let handed = parts(question, &sharing.handed_over);
    if !handed.is_empty() {
        told.push(format!("Handed over in the rests: {handed}."));
    }
    for at in &sharing.instead {
        let originals = question
            .parts
            .get(*at)
            .map_or(&[][..], |part| part.instead_of.as_slice());
        told.push(match originals.is_empty() {
            false => format!(
                "{} may be played in place of {}.",
                capital(&part(question, *at)),
                parts(question, originals)
            ),
            true => format!(
                "{} is not played: another part takes its place.",
                capital(&part(question, *at))
            ),
        });
    }
    if !sharing.proven {
        told.push("There were too many ways to try them all, so there may be a better one.".to_owned());
    }
    let free = free(question, sharing);
    if !free.is_empty() && !question.parts.is_empty() {
        told.push(match free.len() {
            // A row of so many names is read by nobody.
            13.. => format!("Free: {} players.", free.len()),
            _ => format!("Free: {}.", joined(&free)),
        });
    }
    let absent: Vec<String> = question
        .seats
        .iter()
        .enumerate()
        .filter(|(at, seat)| seat.absent && !question.out.iter().any(|(out, _)| out == at))
        .map(|(_, seat)| seat.name.clone())
        .collect();
    if !absent.is_empty() {
        told.push(format!("Not there: {}.", joined(&absent)));
    }
    told
}

/// The seats of those who are there and play nothing.
pub fn free(question: &Question, sharing: &Sharing) -> Vec<String> {
    let seats = question.seats.iter().zip(&sharing.turns);
    seats
        .filter(|(seat, turns)| !seat.absent && turns.is_empty())
        .map(|(seat, _)| seat.name.clone())
        .collect()
}

fn left_out(question: &Question, sharing: &Sharing, above: bool) -> Vec<String> {
    let there = question.seats.iter().filter(|seat| !seat.absent).count();
    let of = |vital: bool| -> Vec<usize> {
        let left = sharing
            .left
            .iter()
            .filter(|left| left.vital == vital && !left.nobody);
        left.map(|left| left.part).collect()
    };
    let mut told = Vec::new();
    if there == 0 && !sharing.left.is_empty() {
        return vec!["There is no percussionist to give a part to.".to_owned()];
    }
    let nobody: Vec<usize> = sharing
        .left
        .iter()
        .filter(|left| left.nobody)
        .map(|left| left.part)
        .collect();
    if !nobody.is_empty() {
        told.push(format!(
            "Left out: {}, because {}.",
            parts(question, &nobody),
            nobody_plays(question, &nobody)
        ));
    }
    let (vital, spare) = (of(true), of(false));
    let why = sharing
        .because
        .as_ref()
        .map(|why| match why {
            // Why the others are left out is not what was looked for then.
            Because::Nobody(_) => {
                let left = if vital.is_empty() { &spare } else { &vital };
                format!(", because {}", others_come_first(question, left))
            }
            Because::Tried => ", because every other way leaves out more".to_owned(),
            _ if above => ", for the reason above".to_owned(),
            why => format!(", because {}", because(question, why)),
        })
        .unwrap_or_default();
    if !vital.is_empty() {
        let lead = match question.all_at_once {
            true => "Left out, if they do all play at once",
            false => "Left out",
        };
        told.push(format!("{lead}: {}{why}.", parts(question, &vital)));
    }
    if !spare.is_empty() {
        let why = if vital.is_empty() { why.as_str() } else { "" };
        told.push(format!(
            "Left out, as it may be: {}{why}.",
            parts(question, &spare)
        ));
    }
    told
}

/// Why parts are left out that nobody can be given: `nobody who is there plays it`.
pub fn nobody_plays(question: &Question, left: &[usize]) -> String {
    // Somebody may play it of whom the director decided otherwise.
    let kept = |at: &usize| {
        let decided = question.decided.get(*at);
        decided.is_some_and(Decided::keeps_somebody_off)
    };
    let who = match question.out.is_empty() && !left.iter().any(kept) {
        true => "nobody who is there plays",
        false => "nobody is left who plays",
    };
    format!("{who} {}", it_them(left, &parts(question, left)))
}

/// Why parts are left out that somebody who is there plays: `all who play it have other parts`.
pub fn others_come_first(question: &Question, left: &[usize]) -> String {
    let it = it_them(left, &parts(question, left));
    match left.iter().all(|at| is_decided(question, *at)) {
        true => format!("whoever is to have {it} has other parts"),
        false => format!("all who play {it} have other parts"),
    }
}

/// `it`, or `them` of several parts and of one that goes by the name of several, such as the bells.
fn it_them(parts: &[usize], names: &str) -> &'static str {
    match parts.len() == 1 && !is_several(names) {
        true => "it",
        false => "them",
    }
}

/// What instruments there are too few of.
pub fn lacking(lacking: &[Lacking]) -> Vec<String> {
    let none: Vec<&str> = lacking
        .iter()
        .filter(|one| one.there == 0)
        .map(|one| one.name.as_str())
        .collect();
    let none = (!none.is_empty()).then(|| {
        format!(
            "Not in the room: {}, neither owned nor borrowed. Borrow what is missing, or leave it out.",
            joined(&none)
        )
    });
    let told = lacking.iter().filter(|one| one.there > 0).map(|one| {
        let at = one.at.map_or(String::new(), |at| match at.event {
            true => format!(" at event {}", at.measure),
            false => format!(" at measure {}", at.measure),
        });
        format!(
            "{} of {} are played at once{at}, and there {} {}.",
            one.asked,
            one.name,
            if one.there == 1 { "is" } else { "are" },
            one.there
        )
    });
    none.into_iter().chain(told).collect()
}

/// Whether the director decided who has a part.
fn is_decided(question: &Question, part: usize) -> bool {
    let decided = question.decided.get(part);
    decided.is_some_and(|decided| decided.only.is_some())
}

/// What the director decided beforehand about a piece by itself, a sentence each.
pub fn decided(question: &Question) -> Vec<String> {
    let mut said = decided_for(question, |_| true);
    said.extend(decided_here(question));
    said
}

/// Who is kept apart and who has at most so much, where it is said at a place that `wanted` wants.
pub(super) fn decided_for(question: &Question, wanted: impl Fn(Whose) -> bool) -> Vec<String> {
    let name = |at: &usize| question.seats.get(*at).map_or("", |seat| seat.name.as_str());
    let apart = question.apart.iter().filter(|(_, whose)| wanted(*whose));
    let apart = apart.map(|((one, other), whose)| {
        let names = (name(one), name(other));
        format!(
            "{} and {} are never at one instrument, by {}.",
            names.0,
            names.1,
            whose.words()
        )
    });
    let most = |said: &[(usize, u32, Whose)], noun: &str| -> Vec<String> {
        let said = said.iter().filter(|(.., whose)| wanted(*whose));
        said.map(|(at, most, whose)| {
            let much = counted(*most as usize, noun);
            format!("{} has at most {much}, by {}.", name(at), whose.words())
        })
        .collect()
    };
    let mut lines: Vec<String> = apart.collect();
    lines.extend(most(&question.most, "part"));
    lines.extend(most(&question.most_pieces, "piece"));
    lines
}

/// The same for a piece of a concert, without what the concert's plan says of the whole evening.
pub fn decided_in_a_concert(question: &Question) -> Vec<String> {
    let mut said = decided_for(question, |whose| whose < Whose::Concert);
    said.extend(decided_here(question));
    said
}

/// Who has which part, who has not, and who plays nothing.
fn decided_here(question: &Question) -> Vec<String> {
    let mut said: Vec<String> = Vec::new();
    for (at, whose) in &question.out {
        let name = question.seats.get(*at).map_or("", |seat| seat.name.as_str());
        let few = question
            .most_pieces
            .iter()
            .find(|(seat, _, by)| (seat, by) == (at, whose));
        said.push(match few {
            Some(_) => format!("{name} sits out here, so as not to play in too many pieces."),
            None => format!("{name} plays nothing here, by {}.", whose.words()),
        });
    }
    for (part, decided) in question.parts.iter().zip(&question.decided) {
        for sentence in decided.words(&part.name, &question.seats) {
            if !said.contains(&sentence) {
                said.push(sentence);
            }
        }
    }
    said
}

/// Which of those words cannot all hold, where something the music needs stays out because of them.
pub fn clashes(question: &Question, answer: &Answer) -> Option<String> {
    let sharing = answer.sharing.as_ref()?;
    let lost = sharing.left.iter().any(|left| left.vital);
    lost.then(|| super::clash::sentence(&super::clash::clash(question)))
        .flatten()
}

/// Where the times to change come from; nothing where the handbook says all of them or none is counted.
pub fn times(question: &Question, instruments: &crate::music::Instruments) -> Vec<String> {
    let mut told = Vec::new();
    let stations: Vec<&PartTold> = question.parts.iter().collect();
    let memory = stations.iter().any(|from| {
        stations.iter().any(|to| {
            let time = question
                .times
                .time(&from.station, &to.station, false, instruments);
            time.1 == Ground::Memory
        })
    });
    if memory && question.clock.coarse.is_none() && !question.all_at_once {
        let twice = match question.times.memory {
            2 => ", all doubled up to grade 1.5",
            _ => "",
        };
        told.push(format!(
            "Where the handbook gives no time to change instruments, these times are used (from memory): 3 s to the next instrument, 8 s to the timpani, 3 s for crash cymbals{twice}. Write your own in the handbook after \"change\"."
        ));
    }
    told
}

/// A move in a few words: `to timpani, 4 measures, 7.5 s (needs 5 s)`.
pub fn way(question: &Question, way: &Move) -> String {
    let to = question.parts.get(way.to).map_or("", |part| part.name.as_str());
    let rests = match way.measures {
        _ if way.in_break => "between the movements".to_owned(),
        0 => "no measure between".to_owned(),
        1 => "1 measure".to_owned(),
        count => format!("{count} measures"),
    };
    let often = match way.times {
        0 | 1 => String::new(),
        times => format!(", {times} times"),
    };
    let there = match (way.there, way.needed) {
        (Some(there), Some((needed, _))) => format!(", {} there, {} needed", seconds(there), seconds(needed)),
        _ => String::new(),
    };
    let after = way.after.map_or(String::new(), |after| match after.event {
        true => format!("after event {} ", after.measure),
        false => format!("after {} ", after.measure),
    });
    format!("{after}to {to}: {rests}{there}{often}")
}
