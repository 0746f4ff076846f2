//! One part of a piece as it is told: its names, sticks, page and measures, and where it is played.

use crate::catalogue::model::Said;
use crate::notation::values::{Pin, Stretch};
use crate::text::Span;

use super::change::Station;

/// One part as it is told.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PartTold {
    /// The instruments in one phrase.
    pub name: String,
    /// The movement, by number.
    pub movement: Option<u32>,
    /// The row on the card.
    pub row: Span,
    /// The names in the row.
    pub name_span: Span,
    /// The sticks or mallets, where they are known.
    pub sticks: Option<String>,
    /// Other sticks or mallets, with the measures in which it is played with those.
    pub sticks_in: Vec<(Stretch, String)>,
    /// Measures from which drums are tuned otherwise, with how many drums that are.
    pub retunes: Vec<(u32, u32)>,
    /// The printed page it stands on.
    pub page: Option<String>,
    /// When it sounds in print, as the card says; empty where that is not known.
    pub stretches: Vec<Stretch>,
    /// Whether those are cued events.
    pub events: bool,
    /// Whether the card says for certain when it plays, be it nowhere.
    pub timed: bool,
    /// Why it may be spared, in the words of the card.
    pub spare: Option<String>,
    /// The parts whose place it takes, by their places among all.
    pub instead_of: Vec<usize>,
    /// Where it is played.
    pub station: Station,
    /// Whether the card asks for a strong player.
    pub strong: bool,
    /// Whether the card says that it rolls.
    pub rolls: bool,
    /// The group of parts in its movement that the card gives to one player.
    pub shared: Option<usize>,
    /// Who is to play it and who is not, by its row.
    pub assigned: Vec<Said<Pin>>,
    /// Its entrances as the first and the last of the clock's measures; as many as the part has for the solver.
    pub entrances: Vec<(usize, usize)>,
    pub(super) names: Vec<String>,
}

impl PartTold {
    /// The instruments as the row names them.
    pub(super) fn names(&self) -> &[String] {
        &self.names
    }

    /// The sticks or mallets in one phrase: `snare sticks, brushes from 33`.
    pub fn held(&self) -> Option<String> {
        let others = self.sticks_in.iter().map(|(stretch, words)| match stretch.last {
            u32::MAX => format!("{words} from {}", stretch.first),
            last if last == stretch.first => format!("{words} in {last}"),
            last => format!("{words} in {}-{last}", stretch.first),
        });
        let all: Vec<String> = self.sticks.iter().cloned().chain(others).collect();
        (!all.is_empty()).then(|| all.join(", "))
    }

    /// What it is struck with in a measure; empty where that is not known.
    pub(super) fn held_in(&self, measure: u32) -> &str {
        let here = self.sticks_in.iter();
        let here = here.filter(|(stretch, _)| stretch.first <= measure && measure <= stretch.last);
        // Of two changes the later holds.
        match here.max_by_key(|(stretch, _)| stretch.first) {
            Some((_, words)) => words,
            None => self.sticks.as_deref().unwrap_or(""),
        }
    }
}
