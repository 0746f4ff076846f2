//! The notes of timpani, as directors write them without octaves.

use crate::notation::build::trim_span;
use crate::notation::facts::{self, notes};
use crate::notation::fields::RowsOf;
use crate::notation::heard::Ear;
use crate::notation::row::{Fact, RowFact, RowItem};
use crate::notation::scan;
use crate::notation::values::Place;
use crate::text::Span;

/// Whether a text begins with a note that has no octave and nothing before it.
pub fn starts_with_note(text: &str) -> bool {
    notes::tuned(text, true).is_some_and(|(_, taken)| taken > 0)
}

/// Reads what is said of timpani in a segment, where notes or changes stand in it; false where none do, and nothing
/// is read then.
pub fn facts(ear: &mut Ear, masked: &str, segment: Span, next: bool, row: &mut RowItem, of: RowsOf) -> bool {
    let text = segment.slice(masked);
    if segment.len() > scan::LONGEST {
        return false;
    }
    let beside = next || matches!(row.facts.last().map(|fact| &fact.what), Some(Fact::Notes(..)));
    let last = row.facts.iter().rev().find_map(|fact| match &fact.what {
        Fact::Change(from, to, _) => Some((*from, *to)),
        _ => None,
    });
    let starts = std::iter::once(0).chain(
        text.char_indices()
            .filter(|(_, c)| scan::is_blank(*c))
            .map(|(at, c)| at + c.len_utf8()),
    );
    let found = starts.into_iter().take(24).find_map(|at| {
        let (before, here) = text.split_at_checked(at)?;
        if notes::leads_to_a_mark(before) || here.starts_with(scan::is_blank) {
            return None;
        }
        let (what, taken) = notes::changed(here, last).or_else(|| notes::tuned(here, beside))?;
        let ends = here
            .get(taken..)?
            .chars()
            .next()
            .is_none_or(|c| scan::is_blank(c) || c == '?');
        ends.then_some((at, what, taken))
    });
    let Some((at, what, taken)) = found else {
        return false;
    };
    // `g, c, the whole piece` says where they play as well.
    let (what, plays) = match what {
        Fact::Notes(notes, Some(Place::Throughout)) => (Fact::Notes(notes, None), true),
        what => (what, false),
    };
    let span = Span::long(segment.start + at as u32, taken as u32);
    let before = trim_span(masked, Span::new(segment.start, span.start));
    let open = text.get(at + taken..).is_some_and(|rest| rest.starts_with('?'));
    let behind = Span::new(span.end + u32::from(open), segment.end);
    ear.hear(Span::new(span.start, behind.start));
    row.facts.extend(facts::read(ear, masked, before, of));
    // `g, c`: notes on both sides of a comma are tuned together.
    if before.is_empty()
        && let Some(last) = row.facts.last_mut()
        && let (Fact::Notes(notes, there @ None), Fact::Notes(more, place)) = (&mut last.what, &what)
    {
        notes.extend(more);
        there.clone_from(place);
        last.span = Span::new(last.span.start, span.end);
    } else {
        row.facts.push(RowFact {
            span,
            about: false,
            open,
            what,
        });
    }
    if plays {
        row.facts.push(RowFact {
            span,
            about: false,
            open: false,
            what: Fact::Plays(Place::Throughout, Vec::new()),
        });
    }
    row.facts
        .extend(facts::read(ear, masked, trim_span(masked, behind), of));
    true
}
