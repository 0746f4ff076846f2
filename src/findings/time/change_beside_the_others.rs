//! A change that stands one measure beside where everything else changes.

use crate::catalogue::course::{Course, Line, is_certain};
use crate::catalogue::model::Stage;
use crate::findings::card::Card;
use crate::findings::finding::{Related, Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::notation::values::{Place, Point};
use crate::rule;
use crate::text::{Edit, Span};

rule! {
    /// A meter, a key signature or a tonal center that changes one measure before or after the measure where at
    /// least two others of meter, key, tempo and rehearsal mark change together.
    ///
    /// # Why it matters
    ///
    /// A new section begins in one measure. One of the numbers slipped, and a measure is counted or fingered
    /// wrong.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// piece "Bridge Street"
    ///   key signature   2 flats, 3 flats at 33
    ///   meter           4/4, 3/4 at 34
    ///                        ^^^^^^^^^
    ///   tempo           quarter = 120, quarter = 96 at 33
    ///   measures        80
    /// ```
    ///
    /// # Does not
    ///
    /// A measure with a meter of its own may lead into the new section, and so may a slower one.
    ///
    /// ```levare
    /// piece "Bridge Street"
    ///   key signature   2 flats, 3 flats at 33
    ///   meter           4/4, 2/4 at 32, 3/4 at 33
    ///   tempo           quarter = 120, quarter = 96 at 33
    ///   measures        80
    /// ```
    ///
    /// # What to do
    ///
    /// Look in the score at which measure each of them changes.
    ChangeBesideTheOthers: "change beside the others", Time, Information, reads Card, looks at Piece
}

/// What changes beside the others.
pub struct Beside {
    place: String,
    what: &'static str,
    at: u32,
    others: Vec<(&'static str, Span)>,
    others_at: u32,
}

/// A change with its measure, the words it stands in, and whether its place is a measure's number.
struct Change {
    of: &'static str,
    at: u32,
    span: Option<Span>,
    can_be_beside: bool,
}

impl Notice for ChangeBesideTheOthers {
    type What = Beside;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Beside>> {
        let mut found: Vec<Noticed<Beside>> = Vec::new();
        for course in card.courses() {
            for (span, what) in beside(course) {
                if !found
                    .iter()
                    .any(|noticed| noticed.what.at == what.at && noticed.what.place == what.place)
                {
                    found.push(Noticed::new(span, what));
                }
            }
        }
        found
    }

    fn say(what: &Beside, _card: &Card<'_>) -> Saying {
        let others: Vec<String> = what.others.iter().map(|(of, _)| format!("the {of}")).collect();
        Saying {
            place: what.place.clone(),
            says: format!(
                "The {} changes at measure {}, while {} change at measure {}.",
                what.what,
                what.at,
                crate::text::sentences::joined(&others),
                what.others_at
            ),
            why: "A new section begins in one measure, so one of the numbers probably slipped.".to_owned(),
            todo: "Look in the score at which measure each of them changes.".to_owned(),
        }
    }

    fn related(what: &Beside, card: &Card<'_>) -> Vec<Related> {
        what.others
            .iter()
            .map(|(of, span)| card.beside(card.entry, *span, format!("the {of} changes here")))
            .collect()
    }

    fn repairs(noticed: &Noticed<Beside>, card: &Card<'_>) -> Vec<Repair> {
        let what = &noticed.what;
        let (from, to) = (what.at.to_string(), what.others_at.to_string());
        let words = card.words(noticed.span);
        if !words.ends_with(&from) {
            return Vec::new();
        }
        let length = u32::try_from(from.len()).unwrap_or(0);
        let span = Span::long(noticed.span.end.saturating_sub(length), length);
        vec![Repair::to_decide(
            format!("Write at {to}"),
            vec![Edit::replace(span, to)],
        )]
    }
}

fn changes<T>(of: &'static str, line: &Line<'_, T>, can_be_beside: bool) -> Vec<Change> {
    let whole =
        |stage: &Stage<T>| (matches!(stage.place, Some(Place::At(Point::Measure(_))))).then_some(stage.whole);
    line.legs
        .iter()
        .filter(|leg| leg.first > 1 && leg.placed)
        .map(|leg| Change {
            of,
            at: leg.first,
            span: whole(leg.stage),
            can_be_beside: can_be_beside && is_certain(leg.stage) && !leg.returns,
        })
        .collect()
}

fn beside(course: &Course<'_>) -> Vec<(Span, Beside)> {
    let mut all = changes("key signature", &course.signatures, true);
    all.extend(changes("tonal center", &course.centers, true));
    all.extend(changes("meter", &course.meters, true));
    all.extend(changes("tempo", &course.tempos, false));
    let marks = course.piece.marks.iter().filter(|mark| mark.is_certain());
    all.extend(marks.map(|mark| Change {
        of: "rehearsal mark",
        at: mark.value.measure,
        span: Some(mark.span),
        can_be_beside: false,
    }));
    if all.len() > 300 {
        return Vec::new();
    }
    let mut found = Vec::new();
    for change in all.iter().filter(|change| change.can_be_beside) {
        let Some(span) = change.span else { continue };
        // What changes together with something else has its own section, and what also changes at the
        // neighboring measure leads into it.
        if all
            .iter()
            .any(|other| other.at == change.at && other.of != change.of)
        {
            continue;
        }
        for near in [change.at.saturating_sub(1), change.at.saturating_add(1)] {
            let here = |other: &&Change| other.at == near;
            if all.iter().filter(here).any(|other| other.of == change.of) {
                continue;
            }
            let mut others: Vec<(&'static str, Span)> = Vec::new();
            for other in all.iter().filter(here) {
                if !others.iter().any(|(of, _)| *of == other.of) {
                    others.extend(other.span.map(|span| (other.of, span)));
                }
            }
            if others.len() > 1 {
                found.push((
                    span,
                    Beside {
                        place: course.place(change.of),
                        what: change.of,
                        at: change.at,
                        others,
                        others_at: near,
                    },
                ));
                break;
            }
        }
    }
    found
}
