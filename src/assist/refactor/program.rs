//! A concert's program chosen: a new one, or pieces for the time that is left.

use crate::planning::choose::{Outcome, Wish, bands_of, budget_of, choose, left_over};
use crate::text::Edit;

use super::super::{Place, programmed};

/// Steps of a choice that somebody waits for.
const STEPS: u64 = 300_000;
/// Less time than this is no room for another piece, in seconds.
const LEAST_ROOM: u32 = 90;

/// What is offered for a concert; none where its program is full, or nobody knows how long it may be.
pub(super) fn offer(place: &Place<'_>) -> Option<String> {
    let concert = place.entry.concert()?;
    if concert.program.is_empty() {
        let asks = !concert.calls_for.is_empty() || concert.length.is_some();
        return asks.then(|| "Draft the program from what the concert calls for".to_owned());
    }
    let left = left_over(place.snapshot, place.id).filter(|left| *left >= LEAST_ROOM)?;
    Some(format!(
        "Choose pieces for the {}:{:02} that are left",
        left / 60,
        left % 60
    ))
}

/// The edit that puts the best program on the card around what stands there.
pub(super) fn chosen(place: &Place<'_>) -> Option<Vec<Edit>> {
    let bands = bands_of(place.snapshot, place.id);
    let wish = Wish {
        concert: Some(place.id),
        steps: Some(STEPS),
        briefly: true,
        budget: budget_of(place.snapshot, Some(place.id)),
        ..Wish::usual(&bands)
    };
    let choice = choose(place.snapshot, &wish);
    let Outcome::Program(program) = choice.outcome else {
        return None;
    };
    let pieces = programmed::played(&program);
    let edits = programmed::edit(place.snapshot, place.id, &pieces).ok()?;
    (!edits.is_empty()).then_some(edits)
}
