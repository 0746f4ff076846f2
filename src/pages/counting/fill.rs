//! The counting page filled in from a piece that has been shared out.

use std::collections::BTreeSet;

use crate::catalogue::Snapshot;
use crate::catalogue::course;
use crate::catalogue::model::Piece;
use crate::catalogue::percussion;
use crate::notation::values::{Point, RoadStep};
use crate::planning::percussion::{Answer, ConcertPlan, Move, Question, Setting, Sharing, words};
use crate::text::sentences::capital;

use super::{Counting, Course, Line, Mark, Played, Walk, What};

/// The counting pages of a concert: of those pieces that there is something to count in, else of all that have a card.
pub fn of_concert(snapshot: &Snapshot, plan: &ConcertPlan) -> Vec<Counting> {
    let pieces = plan.pieces.iter().filter_map(|piece| {
        let (setting, question) = (piece.setting.as_ref()?, piece.question.as_ref()?);
        of_piece(snapshot, setting, question, piece.answer.as_ref()?)
    });
    let mut all: Vec<Counting> = pieces.collect();
    if all.iter().any(Counting::has_lines) {
        all.retain(Counting::has_lines);
    }
    all
}

/// The counting page of a piece; none where the card is no piece.
pub fn of_piece(
    snapshot: &Snapshot,
    setting: &Setting,
    question: &Question,
    answer: &Answer,
) -> Option<Counting> {
    let entry = snapshot.entry(setting.piece)?;
    let piece = entry.piece()?;
    let mut notes: Vec<String> = words::where_it_stands(snapshot, setting).into_iter().collect();
    notes.extend(words::coarse(question, piece));
    notes.extend(words::roster(question, answer, false));
    let mut counting = Counting {
        title: entry.name.clone(),
        beside: words::for_whom(snapshot, setting),
        notes,
        players: Vec::new(),
        courses: Vec::new(),
    };
    // Without measures there is nothing to count.
    let sharing = answer.sharing.as_ref().filter(|_| !question.all_at_once);
    let Some(sharing) = sharing else {
        let who = match answer.sharing {
            Some(_) => "",
            None => "the percussionists on the band's card, and ",
        };
        counting.notes.push(format!(
            "There is nothing to count yet. Write {who}the measures in which each percussion part plays."
        ));
        return Some(counting);
    };
    let busy: Vec<usize> = (0..question.seats.len())
        .filter(|seat| sharing.turns.get(*seat).is_some_and(|turns| !turns.is_empty()))
        .collect();
    counting.players = busy
        .iter()
        .filter_map(|seat| question.seats.get(*seat))
        .map(|seat| seat.name.clone())
        .collect();
    for (at, told) in played(snapshot, piece, &setting.movements)
        .into_iter()
        .enumerate()
    {
        for events in [false, true] {
            counting
                .courses
                .extend(counted(question, sharing, &told, at, events, &busy));
        }
    }
    Some(counting)
}

/// The courses that are played and have percussion, in the order the clock counts them.
fn played<'p>(snapshot: &Snapshot, piece: &'p Piece, movements: &[u32]) -> Vec<course::Course<'p>> {
    let mut all: Vec<Option<course::Course<'p>>> = course::Course::all(piece).into_iter().map(Some).collect();
    let mut played = Vec::new();
    for group in percussion::courses(piece, snapshot.instruments(), &[]) {
        let index = match group.movement {
            None => 0,
            Some(index) => {
                let number = piece.movements.get(index).map(|movement| movement.number);
                if !movements.is_empty() && !number.is_some_and(|number| movements.contains(&number)) {
                    continue;
                }
                index.saturating_add(1)
            }
        };
        played.extend(all.get_mut(index).and_then(Option::take));
    }
    played
}

/// One course as its players count it; none where it has no measures, or no cued events.
fn counted(
    question: &Question,
    sharing: &Sharing,
    told: &course::Course<'_>,
    at: usize,
    events: bool,
    busy: &[usize],
) -> Option<Course> {
    let here = question
        .clock
        .measures
        .iter()
        .filter(|one| one.course == at && one.event == events);
    let last = here.map(|one| one.measure).max()?;
    let printed = if events { None } else { told.total };
    let lines = busy
        .iter()
        .map(|seat| line(question, sharing, *seat, at, events))
        .collect();
    let mut name = match told.movement {
        None => String::new(),
        Some(movement) if movement.title.is_empty() => format!("Movement {}", movement.number),
        Some(movement) => format!("Movement {}, {}", movement.number, movement.title),
    };
    if events {
        name = match name.is_empty() {
            true => "Cued events".to_owned(),
            false => format!("{name}: cued events"),
        };
    }
    Some(Course {
        name,
        measures: printed.unwrap_or(last).min(course::MOST_PRINTED).max(last),
        marks: if events { Vec::new() } else { marks(told) },
        lines,
    })
}

fn line(question: &Question, sharing: &Sharing, seat: usize, course: usize, events: bool) -> Line {
    let mut plays: Vec<Played> = Vec::new();
    for turn in sharing.turns.get(seat).into_iter().flatten() {
        let Some(part) = question.parts.get(turn.part) else {
            continue;
        };
        let spans = turn.entrances.iter().filter_map(|at| part.entrances.get(*at));
        // Printed measures, each once, however often a repeat brings them.
        let measures: BTreeSet<u32> = spans
            .flat_map(|(first, last)| question.clock.measures.get(*first..=*last).unwrap_or(&[]))
            .filter(|one| one.course == course && one.event == events)
            .map(|one| one.measure)
            .collect();
        let mut own: Vec<Played> = Vec::new();
        for measure in measures {
            match own.last_mut() {
                Some(before) if before.last.checked_add(1) == Some(measure) => before.last = measure,
                _ => own.push(Played {
                    first: measure,
                    last: measure,
                    instrument: capital(&part.name),
                    sticks: part.held(),
                }),
            }
        }
        plays.extend(own);
    }
    let ways = sharing.moves.iter().filter(|way| way.player == seat);
    Line {
        plays,
        walks: ways
            .filter_map(|way| walk(question, way, course, events))
            .collect(),
    }
}

fn walk(question: &Question, way: &Move, course: usize, events: bool) -> Option<Walk> {
    let (after, before) = way.after.zip(way.before)?;
    // Between movements there is time for any way, and the next line begins with its instrument.
    if after.course != course || before.course != course || after.event != events {
        return None;
    }
    Some(Walk {
        after: after.measure,
        to: question.parts.get(way.to)?.name.clone(),
        measures: way.measures,
        seconds: way
            .there
            .zip(way.needed)
            .map(|(there, (needed, _))| (words::seconds(there), words::seconds(needed))),
        back: before.measure <= after.measure,
    })
}

/// What stands over the lines: rehearsal marks, tempos, repeats and signs.
fn marks(told: &course::Course<'_>) -> Vec<Mark> {
    let piece = told.piece;
    let mut marks: Vec<Mark> = Vec::new();
    let mut mark = |at: u32, what: What| {
        let mark = Mark { at, what };
        if !marks.contains(&mark) {
            marks.push(mark);
        }
    };
    let mut begin: Vec<(u32, &str)> = Vec::new();
    for step in piece.road.iter().map(|said| &said.value) {
        let measure = |point: &Point| piece.measure_of(point);
        let ends = |measure: u32| measure.saturating_add(1);
        match step {
            RoadStep::Repeat { stretch, times } => {
                mark(stretch.first, What::RepeatFrom);
                mark(ends(stretch.last), What::RepeatTo);
                if *times > 2 {
                    mark(stretch.first, What::Words(format!("{times} times")));
                }
            }
            RoadStep::Open(stretch) => {
                mark(stretch.first, What::RepeatFrom);
                mark(stretch.first, What::Words("open repeat".to_owned()));
                mark(ends(stretch.last), What::RepeatTo);
            }
            RoadStep::Ending { stretch, .. } | RoadStep::Only { stretch, .. } => {
                let words = step.to_string();
                let words = words.trim_end_matches(|c: char| c.is_ascii_digit() || c == '-' || c == ' ');
                mark(stretch.first, What::Words(words.to_owned()));
            }
            RoadStep::OpenAt(at) => begin.extend(measure(at).map(|at| (at, "open repeat"))),
            RoadStep::Segno(_, at) => begin.extend(measure(at).map(|at| (at, "segno"))),
            RoadStep::Coda(_, at) => begin.extend(measure(at).map(|at| (at, "coda"))),
            RoadStep::ToCoda(_, at) => {
                if let Some(at) = measure(at) {
                    mark(ends(at), What::Until("to coda".to_owned()));
                }
            }
            RoadStep::Fine(at) => {
                if let Some(at) = measure(at) {
                    mark(ends(at), What::Until("Fine".to_owned()));
                }
            }
            RoadStep::Jump { at, .. } => {
                let words = step.to_string();
                let words = words.split(" at ").next().unwrap_or_default().to_owned();
                if let Some(at) = at.as_ref().and_then(measure).or(told.total) {
                    mark(ends(at), What::Until(words));
                }
            }
            RoadStep::Cut(stretch) => mark(stretch.first, What::Words("cut".to_owned())),
            RoadStep::RepeatsAgain
            | RoadStep::Straight
            | RoadStep::OpenSomewhere
            | RoadStep::Marked { .. }
            | RoadStep::Skip(_)
            | RoadStep::NoJump
            | RoadStep::Several(_)
            | RoadStep::Somewhere(_) => {}
        }
    }
    let named: Vec<(u32, &str)> = piece
        .marks
        .iter()
        .map(|said| (said.value.measure, said.value.name.as_str()))
        .collect();
    for (at, name) in &named {
        mark(*at, What::Rehearsal((*name).to_owned()));
    }
    for (at, words) in begin {
        let there = named
            .iter()
            .any(|(known, name)| *known == at && name.eq_ignore_ascii_case(words));
        if !there {
            mark(at, What::Words(words.to_owned()));
        }
    }
    for leg in told.tempos.legs.iter().filter(|leg| leg.placed) {
        mark(leg.first, What::Words(leg.stage.said.value.to_string()));
    }
    marks
}
