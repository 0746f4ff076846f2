//! A length that the measures, meters and tempos do not make.

use crate::catalogue::course::{Course, Length};
use crate::catalogue::model::{Piece, Said};
use crate::findings::card::Card;
use crate::findings::finding::{Related, Repair, Saying};
use crate::findings::notation::measure_past_the_end;
use crate::findings::rule::{Notice, Noticed};
use crate::notation::values::Lasts;
use crate::rule;
use crate::text::sentences::joined;
use crate::text::{Edit, Span};

use super::near::{apart, far, spoken};

rule! {
    /// A length that is far from what measures, meter, tempo and roadmap come to. Nothing is said within 15
    /// seconds or 15 percent (30 where one of the two is only approximate), since fermatas and slowing down
    /// are not counted, and nothing where the sum is not wholly known. From 10 seconds and 8 percent on it is a
    /// hint. All four figures are a choice, no source. A wrong count of measures is reported by its own rule
    /// alone.
    ///
    /// # Why it matters
    ///
    /// The evening is planned with the length on the card; festivals stop the clock on it. When the two are
    /// far apart, the length, the number of measures, the tempo or a repeat was copied wrong.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Overture for a Small Hall"
    ///   meter           4/4
    ///   tempo           quarter = 112, quarter = 76 at 41, quarter = 112 at 65
    ///   measures        96
    ///   lasts           6:40
    ///                   ^^^^
    /// ```
    ///
    /// Movements are added up.
    ///
    /// ```levare
    /// piece "Two Sketches"
    ///   lasts           9:00
    ///                   ^^^^
    ///   movements
    ///     1 "Gulls"
    ///       meter           2/4
    ///       tempo           quarter = 120
    ///       measures        96
    ///     2 "Fog"
    ///       lasts           2:10
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// piece "Harbor Parade"
    ///   meter           4/4
    ///   tempo           quarter = 120
    ///   measures        72
    ///   roadmap         repeat 5-20, repeat 21-36
    ///   lasts           3:28
    ///
    /// piece "Evening at Pell Landing"
    ///   meter           3/4
    ///   tempo           quarter = 84
    ///   measures        60
    ///   lasts           about 2:30
    ///
    /// piece "Cavern of the Glass Fish"
    ///   meter           4/4, none at 25-28, 4/4 at 29
    ///   tempo           quarter = 60
    ///   measures        68
    ///   lasts           9:00
    /// ```
    ///
    /// # What to do
    ///
    /// Time a recording, and look at the number of measures, the tempo and the repeats.
    LengthAgainstMeasures: "length against measures", Time, Warning, reads Card, looks at Piece
}

/// A length and what the measures come to.
pub struct Apart {
    place: String,
    said: Lasts,
    said_about: bool,
    low: f64,
    high: f64,
    sum: String,
    beside: Vec<(Span, &'static str)>,
}

impl Notice for LengthAgainstMeasures {
    type What = Apart;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Apart>> {
        let Some(piece) = card.piece() else {
            return Vec::new();
        };
        let wrong = measure_past_the_end::wrong_counts(card);
        let counted = |course: &&Course<'_>| {
            let measures = course.piece.measures.as_ref();
            !measures.is_some_and(|said| wrong.contains(&said.span))
        };
        let courses = card.courses();
        let found: Vec<Noticed<Apart>> = courses.iter().filter(counted).filter_map(own).collect();
        match found.is_empty() {
            true => movements_together(piece).into_iter().collect(),
            false => found,
        }
    }

    fn say(what: &Apart, _card: &Card<'_>) -> Saying {
        let about = if what.said_about { "about " } else { "" };
        Saying {
            place: what.place.clone(),
            says: format!("{}, but the card says {about}{}.", what.sum, what.said),
            why: "You plan the evening with the length on the card, and a festival stops the clock on it.".to_owned(),
            todo: "Time a recording, and look at the number of measures, the tempo and the repeats; fermatas and slowing down are not counted here.".to_owned(),
        }
    }

    fn related(what: &Apart, card: &Card<'_>) -> Vec<Related> {
        what.beside
            .iter()
            .map(|(span, says)| card.beside(card.entry, *span, *says))
            .collect()
    }

    fn repairs(noticed: &Noticed<Apart>, _card: &Card<'_>) -> Vec<Repair> {
        let length = spoken(noticed.what.low, noticed.what.high);
        vec![Repair::to_decide(
            format!("Write the length that the measures come to: {length}"),
            vec![Edit::replace(noticed.span, length)],
        )]
    }
}

/// The length of one course against its own measures.
fn own(course: &Course<'_>) -> Option<Noticed<Apart>> {
    let said = the_length(course.piece)?;
    let length = course.lasting().ok()?;
    let (low, high) = (length.lasting.low, length.lasting.high);
    let far = far(said, low, high, length.about);
    if !far && !apart(said, low, high, length.about) {
        return None;
    }
    let mut beside: Vec<(Span, &'static str)> = Vec::new();
    beside.extend(
        course
            .piece
            .measures
            .as_ref()
            .map(|said| (said.span, "the measures")),
    );
    let meter = course.piece.meters.first();
    beside.extend(meter.map(|stage| (stage.said.span, "the meter")));
    let tempo = course.piece.tempos.first();
    beside.extend(tempo.map(|stage| (stage.said.span, "the tempo")));
    let road = course.piece.road.first();
    beside.extend(road.map(|said| (said.span, "the roadmap")));
    Some(Noticed::judged(
        said.span,
        far,
        Apart {
            place: course.place("length"),
            said: said.value,
            said_about: said.about,
            low,
            high,
            sum: sum(course, length),
            beside,
        },
    ))
}

/// The length of the whole piece against its movements: what their measures come to, else what they say.
fn movements_together(piece: &Piece) -> Option<Noticed<Apart>> {
    let said = the_length(piece)?;
    if piece.movements.is_empty() || piece.measures.is_some() {
        return None;
    }
    let (mut low, mut high, mut about) = (0.0, 0.0, false);
    let mut told: Vec<String> = Vec::new();
    let mut beside = Vec::new();
    for movement in &piece.movements {
        let course = Course::of(&movement.piece);
        let own = course.lasting().ok();
        let (least, most, near) = match (own, the_length(&movement.piece)) {
            (Some(length), _) => (length.lasting.low, length.lasting.high, length.about),
            (None, Some(said)) => (
                f64::from(said.value.low.seconds()),
                f64::from(said.value.high.seconds()),
                said.about,
            ),
            (None, None) => return None,
        };
        low += least;
        high += most;
        about |= near;
        told.push(spoken(least, most));
        beside.push((movement.span, "a movement"));
    }
    if !far(said, low, high, about) {
        return None;
    }
    let sum = match told.len() {
        1 => format!("The movement comes to {}", spoken(low, high)),
        2..=6 => format!(
            "The movements come to {}, together {}",
            joined(&told),
            spoken(low, high)
        ),
        count => format!("The {count} movements come to {}", spoken(low, high)),
    };
    Some(Noticed::new(
        said.span,
        Apart {
            place: "length".to_owned(),
            said: said.value,
            said_about: said.about,
            low,
            high,
            sum,
            beside,
        },
    ))
}

/// The length a card says, unless it is an open question or said twice.
fn the_length(piece: &Piece) -> Option<&Said<Lasts>> {
    piece.lasts.as_ref().filter(|said| !said.open)
}

/// `40 measures of 4/4 at quarter = 112 and 24 at quarter = 76 come to 3:50`.
fn sum(course: &Course<'_>, length: &Length) -> String {
    let total = spoken(length.lasting.low, length.lasting.high);
    let about = if length.about { "about " } else { "" };
    if length.parts.is_empty() {
        return format!(
            "The {} measures that sound come to {about}{total}",
            length.sounding
        );
    }
    let mut meter = "";
    let parts: Vec<String> = length
        .parts
        .iter()
        .enumerate()
        .map(|(index, part)| {
            let word = match (index, part.count) {
                (0, 1) => " measure",
                (0, _) => " measures",
                _ => "",
            };
            let of = match part.meter == meter {
                true => String::new(),
                false => format!(" of {}", part.meter),
            };
            meter = &part.meter;
            format!("{}{word}{of} at {}", part.count, part.tempo)
        })
        .collect();
    let repeats = match course.total {
        Some(total) if length.sounding > total as usize => "With the repeats, ",
        _ => "",
    };
    let come = match length.sounding {
        1 => "comes",
        _ => "come",
    };
    format!("{repeats}{} {come} to {about}{total}", joined(&parts))
}
