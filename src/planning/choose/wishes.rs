//! From what is asked to demands, and to the pieces that may be chosen with those who play them.

use crate::catalogue::conditions::{Condition, Facet, Subject, Term, of_field};
use crate::catalogue::model::Concert;
use crate::catalogue::{EntryId, Snapshot};
use crate::planning::find::{name_of, pieces};
use crate::planning::fitting::asking_for;

use super::demand::Demand;
use super::pool::{Candidate, candidate};
use super::{FEW, Wish};

/// A piece that the director has put on the program.
pub struct Kept<'s> {
    /// The piece.
    pub id: EntryId,
    /// The movements that are played; empty for all.
    pub movements: &'s [u32],
    /// The band that plays it, by its place in the wish; none where all do.
    pub band: Option<usize>,
}

/// Whether the bands of an evening play one after another, each its own pieces. A program whose titles stand under
/// no band is played by all of them together.
pub fn plays_apart(snapshot: &Snapshot, wish: &Wish<'_>) -> bool {
    if wish.bands.len() < 2 {
        return false;
    }
    let concert = wish
        .concert
        .and_then(|id| snapshot.entry(id))
        .and_then(|entry| entry.concert());
    let program = concert.map_or(&[][..], |concert| &concert.program);
    match program.iter().any(|listed| !listed.bands.is_empty()) {
        true => true,
        false => program.is_empty() && !wish.together,
    }
}

/// All that is asked, each demand by itself.
pub fn demands(snapshot: &Snapshot, wish: &Wish<'_>) -> Vec<Demand> {
    let mut demands = Vec::new();
    let apart = plays_apart(snapshot, wish);
    let card = wish.concert.and_then(|id| snapshot.entry(id));
    let concert = card.and_then(|entry| entry.concert());
    let asked = asking_for(snapshot, wish.bands);
    let kept = kept(snapshot, wish);
    let titles: Vec<String> = kept
        .iter()
        .filter_map(|one| snapshot.entry(one.id))
        .map(|entry| entry.name.clone())
        .collect();
    if !titles.is_empty() {
        demands.push(Demand::Keep(titles));
    }
    if apart {
        let named = wish.keep.iter().filter_map(|id| name(snapshot, *id));
        demands.extend(named.map(Demand::One));
    }
    let own = match (card, concert) {
        (Some(entry), Some(concert)) => of_field(snapshot, &entry.text, &concert.calls_for),
        _ => Vec::new(),
    };
    let all: Vec<Condition> = own.into_iter().chain(wish.conditions.iter().cloned()).collect();
    for (_, condition, under) in asked.opened(&all) {
        // What is not understood is told elsewhere, and holds nobody back.
        if condition.is_heard() {
            demands.push(Demand::Condition { condition, under });
        }
    }
    let says = |wanted: fn(&Term) -> bool| {
        demands.iter().any(|demand| match demand {
            Demand::Condition { condition, .. } => holds_term(condition, wanted),
            _ => false,
        })
    };
    let performed = says(|term| matches!(term, Term::Performed(_)));
    let sized = demands.iter().any(|demand| demand.pieces().is_some());
    let all_lasts = says(|term| matches!(term, Term::LengthInAll(_)));
    if wish.rests > 0 && !performed {
        demands.push(Demand::Rested(wish.rests));
    }
    match &wish.budget {
        Some(money) => demands.push(Demand::Budget(money.clone())),
        None => demands.push(Demand::OnTheShelf),
    }
    let between = wish
        .between
        .or_else(|| Some(concert?.between.as_ref()?.value.high.seconds()));
    let allowed = wish.length.or_else(|| {
        let concert = concert?;
        let whole = concert
            .length
            .as_ref()
            .filter(|said| !said.open)?
            .value
            .high
            .seconds();
        // A warm-up or an intermission in the program takes what its row says.
        let taken = concert.interludes.iter().map(|lasts| lasts.high.seconds()).sum();
        Some(whole.saturating_sub(taken))
    });
    match allowed {
        Some(allowed) => demands.push(Demand::Length {
            allowed,
            between: between.unwrap_or(0),
        }),
        None if !sized && !all_lasts => {
            let few = if apart { FEW * wish.bands.len() } else { FEW };
            demands.push(Demand::Pieces(few.max(kept.len())));
        }
        None => {}
    }
    if apart {
        demands.extend(shares(snapshot, wish, concert, &kept, allowed));
    }
    if let Some(most) = wish.new_skills.or_else(|| new_skills_on_card(snapshot, wish)) {
        demands.push(Demand::NewSkills { most, each: apart });
    }
    if !wish.alike {
        let most_alike = [Facet::Style, Facet::Key, Facet::Composer].map(|facet| Demand::Alike {
            facet,
            most: 2,
            each: apart,
        });
        demands.extend(most_alike);
    }
    if !wish.new_keys {
        demands.push(Demand::KeysTaught);
    }
    if !wish.borrow {
        demands.push(Demand::InTheRoom);
    }
    // It takes by far the most work, so that it is asked last, of those that nothing else rules out.
    demands.push(Demand::Covered);
    demands
}

/// How many new skills the concert's card says at most.
pub fn new_skills_on_card(snapshot: &Snapshot, wish: &Wish<'_>) -> Option<u32> {
    let concert = snapshot.entry(wish.concert?)?.concert()?;
    let most = concert.new_skills.as_ref().filter(|most| !most.open)?;
    Some(most.value)
}

/// What each band of several is given: the time that was asked for; else half of an even share at least, unless the
/// director has put something on the program for it (ours, no source). Then its own conditions.
fn shares(
    snapshot: &Snapshot,
    wish: &Wish<'_>,
    concert: Option<&Concert>,
    kept: &[Kept<'_>],
    allowed: Option<u32>,
) -> Vec<Demand> {
    let mut found = Vec::new();
    let mut given = wish.shares.clone();
    let on_card = concert.into_iter().flat_map(|concert| &concert.shares);
    for (name, lasts) in on_card.filter(|said| !said.open).map(|said| &said.value) {
        let id = snapshot.ensemble_named(name);
        if let Some(id) = id.filter(|id| !wish.shares.iter().any(|(one, _)| one == id)) {
            given.push((id, lasts.high.seconds()));
        }
    }
    let bands = u32::try_from(wish.bands.len()).unwrap_or(u32::MAX).max(1);
    for (band, id) in wish.bands.iter().enumerate() {
        let Some(name) = snapshot.entry(*id).map(|entry| entry.name.clone()) else {
            continue;
        };
        let asked = given.iter().find(|(one, _)| one == id);
        let has = kept.iter().any(|one| one.band == Some(band));
        let some_share = given.iter().any(|(one, _)| one != id);
        if asked.is_some() || !has {
            found.push(Demand::Share {
                band,
                name: name.clone(),
                least: allowed
                    .filter(|_| asked.is_none() && !some_share && !wish.uneven)
                    .map(|allowed| allowed / bands / 2),
                most: asked.map(|(_, most)| *most),
            });
        }
        let asked = asking_for(snapshot, std::slice::from_ref(id));
        for (_, own) in wish.own.iter().filter(|(one, _)| one == id) {
            for (_, condition, _) in asked.opened(std::slice::from_ref(own)) {
                if condition.is_heard() && !condition.counts() {
                    found.push(Demand::Own {
                        band,
                        name: name.clone(),
                        condition,
                    });
                }
            }
        }
    }
    found
}

fn holds_term(condition: &Condition, wanted: fn(&Term) -> bool) -> bool {
    match &condition.term {
        Term::Not(inner) | Term::Only(inner) => holds_term(inner, wanted),
        Term::Any(all) => all.iter().any(|one| holds_term(one, wanted)),
        term => wanted(term),
    }
}

fn name(snapshot: &Snapshot, id: EntryId) -> Option<String> {
    let subject = Subject::of(id, snapshot.entry(id)?)?;
    Some(name_of(snapshot, &subject))
}

/// The pieces of the program and, where all bands play together, those to keep; with the movements that are played.
pub fn kept<'s>(snapshot: &'s Snapshot, wish: &Wish<'_>) -> Vec<Kept<'s>> {
    let concert = wish
        .concert
        .and_then(|id| snapshot.entry(id))
        .and_then(|entry| entry.concert());
    let apart = plays_apart(snapshot, wish);
    let mut kept: Vec<Kept<'_>> = Vec::new();
    let rows = concert.into_iter().flat_map(|concert| {
        let pieces = asking_for(snapshot, &[]).pieces_of(concert);
        concert.program.iter().zip(pieces)
    });
    for (listed, subject) in rows {
        let Some(subject) = subject else { continue };
        let band = match listed.bands.as_slice() {
            [only] if apart => {
                let id = snapshot.ensemble_named(only);
                wish.bands.iter().position(|band| Some(*band) == id)
            }
            _ => None,
        };
        if !kept.iter().any(|known| known.id == subject.id) {
            kept.push(Kept {
                id: subject.id,
                movements: subject.movements,
                band,
            });
        }
    }
    for id in wish.keep.iter().filter(|_| !apart) {
        if !kept.iter().any(|known| known.id == *id) {
            kept.push(Kept {
                id: *id,
                movements: &[],
                band: None,
            });
        }
    }
    kept
}

/// The pieces that may be chosen, those of the program first; where bands play one after another, once for each.
pub fn candidates<'s>(snapshot: &'s Snapshot, wish: &Wish<'s>) -> Vec<Candidate<'s>> {
    let apart = plays_apart(snapshot, wish);
    let kept = kept(snapshot, wish);
    let subject = |id: EntryId| Subject::of(id, snapshot.entry(id)?);
    let bands_at = |band: Option<usize>| match band {
        Some(at) => wish.bands.get(at..=at).unwrap_or(wish.bands),
        None => wish.bands,
    };
    let of = |subject: Subject<'s>, band: Option<usize>, pinned: bool| Candidate {
        band,
        concert: wish.concert,
        ..candidate(snapshot, bands_at(band), subject, pinned, &wish.prefer)
    };
    let mut all: Vec<Candidate<'s>> = Vec::new();
    for one in &kept {
        let whole = subject(one.id).map(|subject| Subject {
            movements: one.movements,
            ..subject
        });
        all.extend(whole.map(|subject| of(subject, one.band, true)));
    }
    let each: Vec<Option<usize>> = match apart {
        true => (0..wish.bands.len()).map(Some).collect(),
        false => vec![None],
    };
    for id in pieces(snapshot) {
        let asked_for = wish.keep.contains(&id);
        if kept.iter().any(|one| one.id == id)
            || wish.without.contains(&id)
            || !asked_for && !snapshot.is_judged(id)
        {
            continue;
        }
        let Some(subject) = subject(id) else { continue };
        for band in &each {
            // A piece that its own card gives to other bands is not for these.
            if is_for(snapshot, id, bands_at(*band)) {
                let mut one = of(subject, *band, false);
                one.kept = asked_for;
                all.push(one);
            }
        }
    }
    all
}

fn is_for(snapshot: &Snapshot, id: EntryId, bands: &[EntryId]) -> bool {
    let piece = snapshot.entry(id).and_then(|entry| entry.piece());
    let own: Vec<EntryId> = piece
        .into_iter()
        .flat_map(|piece| &piece.bands)
        .filter_map(|said| snapshot.ensemble_named(&said.value.name))
        .collect();
    own.is_empty() || bands.iter().any(|band| own.contains(band))
}
