//! What a section's players reach, by the cards, and whether a player has what a part asks.

use crate::catalogue::model::{Ensemble, Handbook};
use crate::catalogue::{instrument_named, sections::same_chair};
use crate::music::{Instrument, Instruments, PitchRange, charts};
use crate::notation::names::cut_number;

use super::told::{Limit, LimitBy, Part, Players};

/// What is looked up for ranges.
#[derive(Clone, Copy)]
pub struct Reach<'a> {
    /// The bands that play.
    pub bands: &'a [&'a Ensemble],
    /// The handbook.
    pub handbook: Option<&'a Handbook>,
    /// The instruments of the catalogue.
    pub instruments: &'a Instruments,
}

impl Reach<'_> {
    /// The range that the players of an instrument are said to play: by a band's card, of the part's own number
    /// before that of the whole section; else by the chart that the handbook follows.
    pub fn usual(&self, instrument: &str, number: Option<u32>) -> Option<Limit> {
        let mut whole = None;
        for said in self.bands.iter().flat_map(|band| &band.ranges) {
            let cut = cut_number(&said.value.name, true);
            let same = said.is_certain()
                && instrument_named(self.instruments, cut.words).is_some_and(|one| one.name == instrument);
            let limit = || Limit {
                range: said.value.range.upright(),
                said_by: LimitBy::Band,
            };
            match (cut.numbers, number) {
                _ if !same => {}
                (None, _) => whole = whole.or_else(|| Some(limit())),
                (Some((first, last)), Some(number)) if first <= number && number <= last => {
                    return Some(limit());
                }
                _ => {}
            }
        }
        whole.or_else(|| {
            let (chart, tenths) = self.handbook?.chart()?;
            let part = number.and_then(|number| u8::try_from(number).ok());
            let comfort = charts::by_chart(chart, instrument, part, tenths)?;
            Some(Limit {
                range: comfort.range()?.upright(),
                said_by: LimitBy::Chart(chart.told()),
            })
        })
    }

    /// The same, and where nothing is said the full range of the table.
    pub fn limit(&self, instrument: &Instrument) -> Option<Limit> {
        self.usual(&instrument.name, None).or_else(|| {
            Some(Limit {
                range: instrument.full_range?.upright(),
                said_by: LimitBy::Table,
            })
        })
    }

    /// Whether players are said not to have what a part of their own instrument asks. What no card says is
    /// held against nobody.
    pub fn lacks(&self, players: &Players, part: &Part, number: Option<u32>) -> bool {
        let own = part
            .instruments
            .iter()
            .any(|one| same_chair(one, &players.instrument));
        if !own {
            return false;
        }
        if part.over_the_break && players.over_the_break == Some(false) {
            return true;
        }
        let Some(range) = part.range else { return false };
        // A range in another clef or key than the one they read says nothing about them.
        if !part.instruments.contains(&players.instrument) {
            return false;
        }
        let usual = self.usual(&players.instrument, number).map(|limit| limit.range);
        beyond(players, range, usual)
    }
}

fn beyond(players: &Players, range: PitchRange, usual: Option<PitchRange>) -> bool {
    let top = players
        .up_to
        .into_iter()
        .chain(usual.map(|usual| usual.high))
        .max_by_key(|pitch| pitch.midi());
    let bottom = players
        .down_to
        .into_iter()
        .chain(usual.map(|usual| usual.low))
        .min_by_key(|pitch| pitch.midi());
    top.is_some_and(|top| range.high.midi() > top.midi())
        || bottom.is_some_and(|bottom| range.low.midi() < bottom.midi())
}
