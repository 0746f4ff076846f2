//! Facts that look back at the one before: `then tacet to G`, `on the head after that`, `just once, m. 70`.

use crate::notation::build::trim_span;
use crate::notation::facts::{self, relation};
use crate::notation::fields::RowsOf;
use crate::notation::heard::Ear;
use crate::notation::row::{Fact, Relation, RowFact, RowItem, RowName};
use crate::notation::values::{Place, Point};
use crate::text::Span;

/// Takes `after that` from the end of what is said, where the row tells the measure that it looks back at; gives
/// what stands before it, and the measure it means.
pub fn after_that(ear: &mut Ear, masked: &str, segment: Span, row: &RowItem) -> (Span, Option<u32>) {
    let text = segment.slice(masked);
    let Some(last) = last_measure(row) else {
        return (segment, None);
    };
    let found = [
        " after that",
        " thereafter",
        " after",
        " from there on",
        " from then on",
        " from there",
        " afterwards",
        " afterward",
        " the rest of the way",
    ]
    .iter()
    .find_map(|words| text.strip_suffix(words));
    match found {
        Some(head) => {
            let head = trim_span(masked, Span::long(segment.start, head.len() as u32));
            ear.hear(Span::new(head.end, segment.end));
            (head, last.checked_add(1))
        }
        None => (segment, None),
    }
}

/// `same as 2` of a third trumpet: the other part of the row's own instrument, by its number alone.
pub fn of_another_number(text: &str, start: u32, row: &RowItem) -> Option<(Fact, usize)> {
    let (rest, relation) = relation::relation(text).ok()?;
    let fits = matches!(relation, Relation::SameAs | Relation::Doubles | Relation::CuedIn);
    let name = row.names.last().filter(|_| fits)?;
    let digits = rest.bytes().take_while(u8::is_ascii_digit).count();
    let number: u32 = rest.get(..digits)?.parse().ok()?;
    let behind = rest.get(digits..)?;
    // `doubles 5-12` is said of measures, and no part has a number above 4 (common practice, no source).
    let ends = behind.is_empty()
        || behind.starts_with(' ') && !behind.trim_start().starts_with(['-', '–', '+', '&']);
    let own = name
        .numbers
        .is_some_and(|(first, last)| (first..=last).contains(&number));
    let more = ["and ", "to "]
        .iter()
        .any(|joint| behind.trim_start().starts_with(joint));
    (ends && !more && !own && name.numbers.is_some() && (1..=4).contains(&number)).then_some(())?;
    let span = Span::long(start + (text.len() - rest.len()) as u32, digits as u32);
    let target = RowName {
        span,
        words: span,
        text: name.text.clone(),
        numbers: Some((number, number)),
        open: false,
    };
    let fact = Fact::Relation {
        relation,
        target: target.one_form(),
        target_span: span,
        targets: vec![target],
        place: None,
    };
    Some((fact, text.len() - behind.len()))
}

/// Adds what was read in a segment, its places told from what stands before it.
///
/// In a wind part `solo, mm. 45-48` says where the solo is, and not all that the part plays.
pub fn extend(row: &mut RowItem, mut read: Vec<RowFact>, then: bool, after: Option<u32>, of: RowsOf) {
    if of == RowsOf::Parts
        && let Some(RowFact {
            what: Fact::Solo(solo @ None),
            ..
        }) = row.facts.last_mut()
        && let [
            RowFact {
                what: Fact::Plays(place, passes),
                ..
            },
        ] = read.as_slice()
        && passes.is_empty()
    {
        *solo = Some(place.clone());
        return;
    }
    // `just once, m. 70`, `twice, bars 59 and 140`: the measures are where that happens, and not all that the part plays.
    let places: Vec<Place> = read
        .iter()
        .filter_map(|fact| match &fact.what {
            Fact::Plays(place, passes) if passes.is_empty() => Some(place.clone()),
            _ => None,
        })
        .collect();
    if places.len() == read.len()
        && let Some((first, others)) = places.split_first()
        && let Some(RowFact {
            what: Fact::Saying(saying, once @ None),
            ..
        }) = row.facts.last_mut()
        && matches!(saying.0, "once" | "twice")
    {
        *once = Some(first.clone());
        let saying = *saying;
        for (other, fact) in others.iter().zip(read.iter().skip(1)) {
            row.facts.push(RowFact {
                what: Fact::Saying(saying, Some(other.clone())),
                ..fact.clone()
            });
        }
        return;
    }
    // `rolls into 33, 49 and 73`: all of them are what it rolls into.
    if places.len() == read.len()
        && !places.is_empty()
        && let Some(RowFact {
            what: Fact::Saying(saying, Some(Place::At(Point::Pickup(_)))),
            ..
        }) = row.facts.last()
        && places.iter().all(crate::notation::rows::is_one_measure)
    {
        let saying = *saying;
        for (place, fact) in places.iter().zip(&read) {
            if let Place::Between(Point::Measure(measure), _) = place {
                row.facts.push(RowFact {
                    what: Fact::Saying(saying, Some(Place::At(Point::Pickup(*measure)))),
                    ..fact.clone()
                });
            }
        }
        return;
    }
    // `17-72, may be left out at 29-36`: measures that it plays already are where it may be left out.
    if let [
        RowFact {
            what: Fact::Optional, ..
        },
        there @ ..,
    ] = read.as_slice()
        && !there.is_empty()
        && there.iter().all(|fact| plays_already(row, fact))
    {
        row.facts.extend(there.iter().filter_map(|fact| match &fact.what {
            Fact::Plays(place, _) => Some(RowFact {
                what: Fact::OptionalAt(place.clone()),
                ..fact.clone()
            }),
            _ => None,
        }));
        return;
    }
    let last = last_measure(row).and_then(|last| last.checked_add(1));
    for fact in &mut read {
        if let Some(first) = after {
            place_of(&mut fact.what, |place| {
                if place.is_none() {
                    *place = Some(Place::Between(Point::Measure(first), Point::END));
                }
            });
        }
        if let Some(first) = last.filter(|_| then) {
            place_of(&mut fact.what, |place| {
                if let Some(Place::Between(from @ Point::Measure(1), _)) = place {
                    *from = Point::Measure(first);
                }
            });
        }
    }
    for fact in read {
        // What is nice to have may be left out.
        let nice = matches!(&fact.what, Fact::Saying(saying, None) if saying.0 == "nice to have");
        if nice && row.facts.iter().all(|fact| fact.what != Fact::Optional) {
            row.facts.push(RowFact {
                what: Fact::Optional,
                ..fact.clone()
            });
        }
        row.facts.push(fact);
    }
}

/// Whether words say in which pass something is played, and not where.
pub fn says_only_passes(text: &str, of: RowsOf) -> bool {
    // All of these words name a pass.
    if !["time", "repeat", "pass"].iter().any(|word| text.contains(word)) {
        return false;
    }
    let read = facts::read(&mut Ear::default(), text, Span::whole(text), of);
    matches!(read.as_slice(), [RowFact { what: Fact::Plays(Place::Throughout, passes), .. }] if !passes.is_empty())
}

/// Whether a row tells measures in which it plays, whatever the pass.
pub fn plays_somewhere(row: &RowItem) -> bool {
    let somewhere = |fact: &RowFact| matches!(&fact.what, Fact::Plays(place, passes) if *place != Place::Throughout && passes.is_empty());
    row.facts.iter().any(somewhere)
}

/// Whether measures in which a row plays lie within some that it said before.
fn plays_already(row: &RowItem, fact: &RowFact) -> bool {
    let measures = |fact: &RowFact| match &fact.what {
        Fact::Plays(place, _) => place.measures(),
        _ => None,
    };
    let said = || row.facts.iter().filter_map(measures);
    measures(fact).is_some_and(|there| {
        said().any(|all| all.first <= there.first && there.last <= all.last && all != there)
    })
}

fn place_of(fact: &mut Fact, change: impl FnOnce(&mut Option<Place>)) {
    if let Fact::Tacet(place)
    | Fact::Saying(_, place)
    | Fact::Texture(_, place)
    | Fact::Solo(place)
    | Fact::Divided(place)
    | Fact::Sticks(_, place) = fact
    {
        change(place);
    }
}

/// The last measure that the facts of a row name.
fn last_measure(row: &RowItem) -> Option<u32> {
    row.facts.iter().rev().find_map(|fact| {
        let place = match &fact.what {
            Fact::Plays(place, _) => Some(place),
            other => other.place(),
        };
        match place {
            Some(Place::Between(_, Point::Measure(last))) => Some(*last),
            _ => None,
        }
    })
}
