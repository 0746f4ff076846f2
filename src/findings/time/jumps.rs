//! Jumps of a roadmap, and the signs they need.

use crate::catalogue::course::Course;
use crate::music::roadmap::{self, JumpTo, Until};
use crate::notation::values::{RoadStep, road};

/// The signs that a jump needs and that stand nowhere on the card, each with an example.
pub(super) fn lacking(course: &Course<'_>, jump: &RoadStep) -> Vec<(&'static str, &'static str)> {
    let RoadStep::Jump { segno, until, .. } = jump else {
        return Vec::new();
    };
    let steps = &course.road.map.steps;
    let said = |of: fn(&RoadStep) -> bool| course.piece.road.iter().any(|said| of(&said.value));
    let marked = |of: fn(&roadmap::RoadStep) -> bool| steps.iter().any(of);
    let mut lacks = Vec::new();
    if segno.is_some()
        && !said(|step| matches!(step, RoadStep::Segno(..)))
        && !marked(|step| matches!(step, roadmap::RoadStep::Segno { .. }))
    {
        lacks.push(("where the segno is", "segno at 9 (or its measure)"));
    }
    match until {
        road::Until::Coda(_) => {
            if !said(|step| matches!(step, RoadStep::ToCoda(..))) {
                lacks.push(("where to leave for the coda", "to coda at 32 (or its measure)"));
            }
            if !said(|step| matches!(step, RoadStep::Coda(..)))
                && !marked(|step| matches!(step, roadmap::RoadStep::Coda { .. }))
            {
                lacks.push(("where the coda begins", "coda at 81 (or its measure)"));
            }
        }
        road::Until::Fine => {
            if !said(|step| matches!(step, RoadStep::Fine(..)))
                && !marked(|step| matches!(step, roadmap::RoadStep::Fine { .. }))
            {
                lacks.push(("where the Fine is", "Fine at 24 (or its measure)"));
            }
        }
        road::Until::End => {}
    }
    lacks
}

/// The jump without its measure: `D.S. al Coda`.
pub(super) fn jump_words(step: &RoadStep) -> String {
    let RoadStep::Jump { segno, until, .. } = step else {
        return step.to_string();
    };
    let jump = roadmap::Jump {
        at: 0,
        to: match segno {
            None => JumpTo::Start,
            Some(_) => JumpTo::Segno(None),
        },
        until: match until {
            road::Until::End => Until::End,
            road::Until::Fine => Until::Fine,
            road::Until::Coda(_) => Until::Coda(None),
        },
        with_repeats: false,
    };
    jump.to_string()
}
