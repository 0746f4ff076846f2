//! Drawn seasons of two bands, with limits on new skills, against every way of dealing the pieces out.

use std::collections::BTreeSet;
use std::sync::Arc;

use proptest::prelude::*;

use super::season::{Others, SeasonWish, season};
use super::*;
use crate::catalogue::CardFile;
use crate::planning::teach::to_come;

/// What each band has been taught.
const BANDS: &str = "\
ensemble \"Sixth\"
  taught slurs
  players
    flute  6
ensemble \"Seventh\"
  taught slurs, ties
  players
    flute  6
";
const SKILLS: [&str; 5] = ["slurs", "ties", "triplets", "swing", "growl"];
const TAUGHT: [&[usize]; 2] = [&[0], &[0, 1]];

/// A concert: how long it may be in minutes, how many pieces it calls for, which of the bands play (as one, where both
/// do), and how many new skills it allows.
type Evening = (u32, usize, usize, Option<u32>);
/// A piece: its minutes, and the skills it asks.
type Shelved = (u32, usize, usize);

const WHO: [&[usize]; 3] = [&[0], &[1], &[0, 1]];

fn cards(evenings: &[Evening], shelf: &[Shelved]) -> String {
    let mut text = BANDS.to_owned();
    for (at, (minutes, pieces, who, most)) in evenings.iter().enumerate() {
        let most = most.map_or(String::new(), |most| format!("  new skills at most {most}\n"));
        let bands: Vec<&str> = WHO[*who]
            .iter()
            .map(|band| ["\"Sixth\"", "\"Seventh\""][*band])
            .collect();
        text.push_str(&format!(
            "concert \"C{at}\"\n  on 2027-0{}-10\n  for {}\n  length {minutes} minutes\n  calls for {pieces} pieces\n{most}",
            at + 1,
            bands.join(", "),
        ));
    }
    for (at, (minutes, one, other)) in shelf.iter().enumerate() {
        text.push_str(&format!(
            "piece \"P{at}\"\n  lasts {minutes}:00\n  asks {}, {}\n  library\n    copies 1 score\n",
            SKILLS[*one], SKILLS[*other]
        ));
    }
    text
}

/// What a way of dealing the pieces out is worth, where it holds: for each piece its concert, or none.
fn worth(evenings: &[Evening], shelf: &[Shelved], all: Option<u32>, way: &[Option<usize>]) -> Option<i64> {
    let mut known: [BTreeSet<usize>; 2] = TAUGHT.map(|taught| taught.iter().copied().collect());
    let mut value = 0;
    for (at, (minutes, pieces, who, most)) in evenings.iter().enumerate() {
        let own: Vec<&Shelved> = shelf
            .iter()
            .zip(way)
            .filter(|(_, to)| **to == Some(at))
            .map(|(piece, _)| piece)
            .collect();
        let takes: u32 = own.iter().map(|piece| piece.0).sum();
        let asked: BTreeSet<usize> = own.iter().flat_map(|piece| [piece.1, piece.2]).collect();
        let new = asked
            .iter()
            .filter(|skill| WHO[*who].iter().any(|band| !known[*band].contains(skill)));
        let fits =
            own.len() >= *pieces && takes <= *minutes && most.is_none_or(|most| new.count() <= most as usize);
        if !fits {
            return None;
        }
        for band in WHO[*who] {
            known[*band].extend(&asked);
        }
        value += i64::from(takes) * 10;
    }
    let learned = |band: usize| known[band].len() - TAUGHT[band].len();
    all.is_none_or(|all| (0..2).all(|band| learned(band) <= all as usize))
        .then_some(value)
}

fn every_way(pieces: usize, evenings: usize) -> Vec<Vec<Option<usize>>> {
    let mut ways = vec![Vec::new()];
    for _ in 0..pieces {
        let to = || (0..=evenings).map(|to| (to < evenings).then_some(to));
        ways = ways
            .iter()
            .flat_map(|way: &Vec<Option<usize>>| to().map(|to| [way.as_slice(), &[to]].concat()))
            .collect();
    }
    ways
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn what_one_concert_taught_is_not_new_at_the_next(
        evenings in prop::collection::vec((3u32..9, 1usize..3, 0usize..3, prop::option::of(0u32..3)), 2..4),
        shelf in prop::collection::vec((1u32..6, 0usize..5, 0usize..5), 3..6),
        all in prop::option::of(0u32..4),
    ) {
        let file = Arc::new(CardFile::read("a.levare", &cards(&evenings, &shelf)));
        let snapshot = Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20));
        let ids = to_come(&snapshot);
        prop_assert_eq!(ids.len(), evenings.len());
        let bands: Vec<Vec<EntryId>> = ids.iter().map(|id| bands_of(&snapshot, *id)).collect();
        let wishes: Vec<Wish<'_>> = ids
            .iter()
            .zip(&bands)
            .map(|(id, bands)| Wish { concert: Some(*id), together: true, alike: true, ..Wish::usual(bands) })
            .collect();
        let wish = SeasonWish { new_skills: all, ..SeasonWish::default() };
        let best = every_way(shelf.len(), evenings.len())
            .iter()
            .filter_map(|way| worth(&evenings, &shelf, all, way))
            .max();
        let found = season(&snapshot, &wishes, &wish);
        let all_have_one = found.alone.is_empty();
        match (&found.others, best) {
            (Others::Programs { value, bound, .. }, Some(best)) if all_have_one => {
                prop_assert_eq!((*value, *bound), (best, best));
            }
            (Others::Clash(..), None) => {}
            (Others::Programs { .. }, None) if !all_have_one => {}
            (_, best) => prop_assert!(false, "{:?} and {:?}", found, best),
        }
    }
}
