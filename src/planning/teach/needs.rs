//! What the pieces of a band's concerts ask that the band does not know.

use std::collections::{BTreeMap, BTreeSet};

use crate::catalogue::conditions::{Evaluator, Subject};
use crate::catalogue::model::{Ensemble, Piece};
use crate::catalogue::names::key;
use crate::catalogue::{EntryId, Ladder, Snapshot};
use crate::notation::row::{Fact, Relation};
use crate::notation::values::{Day, Pace, Played};

use super::weeks::{Amount, Week};
use super::{Evening, For, TO_A_PIECE, UNKNOWN};

/// A row of a program with its piece and the bands that play it.
pub struct Row<'s> {
    /// The piece.
    pub subject: Subject<'s>,
    /// The bands.
    pub bands: Vec<EntryId>,
}

/// The rows of a concert's program, each with its title; none for a row that means no one card.
pub fn rows(snapshot: &Snapshot, id: EntryId) -> Vec<(Option<Row<'_>>, String)> {
    let Some(concert) = snapshot.entry(id).and_then(|entry| entry.concert()) else {
        return Vec::new();
    };
    let pieces = Evaluator::new(snapshot).pieces_of(concert);
    let rows = concert.program.iter().zip(pieces).enumerate();
    rows.map(|(place, (listed, subject))| {
        let row = subject
            .filter(|subject| subject.piece.is_judged())
            .map(|subject| Row {
                bands: snapshot
                    .listings_at(subject.id, id, place)
                    .iter()
                    .flat_map(|listing| listing.bands.iter().copied())
                    .collect(),
                subject,
            });
        (row, listed.title.value.name.clone())
    })
    .collect()
}

/// A skill to be taught.
pub struct Skill {
    /// Its one name.
    pub key: String,
    /// Its name as it is written.
    pub name: String,
    /// What it takes from now on.
    pub takes: Amount,
    /// What its card says that it takes.
    pub whole: Option<String>,
    /// Whether it is begun.
    pub begun: bool,
    /// For which pieces.
    pub pieces: Vec<For>,
    /// The skills that come before it, by their places.
    pub after: Vec<usize>,
    /// The pieces that teach it.
    pub taught_in: Vec<String>,
    /// The day by which the band's card says it will be taught.
    pub promised: Option<Day>,
}

impl Skill {
    /// The week before which it is due.
    pub fn due(&self, weeks: &[Week]) -> Option<u32> {
        let pieces = self.pieces.iter().map(|one| one.due).min()?;
        // The day on the band's card is the director's own, as long as it is early enough.
        let promised = self.promised.and_then(Day::last).map(|day| {
            let before = weeks
                .iter()
                .filter(|week| week.days.last().is_some_and(|last| *last <= day));
            u32::try_from(before.count()).unwrap_or(u32::MAX)
        });
        Some(promised.map_or(pieces, |promised| pieces.min(promised.max(1))))
    }
}

/// All that a band needs.
#[derive(Default)]
pub struct Needs {
    /// The skills to be taught.
    pub skills: Vec<Skill>,
    /// What is asked and is no skill.
    pub no_skills: Vec<String>,
    /// What is perhaps asked.
    pub perhaps: Vec<String>,
    /// What skills stand on and is taken as known.
    pub taken_as_known: Vec<String>,
    /// Titles that mean no one card.
    pub no_card: Vec<String>,
    /// Pieces that do not say what they ask.
    pub silent: Vec<String>,
    /// Whether some piece is given a number of weeks that is ours.
    pub ours: bool,
}

/// What a band knows.
struct Known {
    /// The skills it knows, with all that they stand on.
    known: BTreeSet<String>,
    /// Those it has met.
    begun: BTreeSet<String>,
    /// Those its card says it will be taught, with the day.
    promised: BTreeMap<String, Day>,
}

impl Known {
    fn of(snapshot: &Snapshot, band: &Ensemble) -> Known {
        let ladder = snapshot.ladder();
        let (mut known, mut begun, mut promised) = (BTreeSet::new(), BTreeSet::new(), BTreeMap::new());
        for said in &band.taught {
            let name = ladder.one_name(&said.value.name);
            match said
                .value
                .by
                .filter(|by| by.first().is_some_and(|by| by > snapshot.today))
            {
                Some(by) => {
                    promised.entry(name).or_insert(by);
                }
                None if said.value.not => {}
                None => {
                    known.extend(ladder.below(&name));
                    known.insert(name);
                }
            }
        }
        for said in &band.introduced {
            let name = ladder.one_name(&said.value.name);
            // Whoever has met a skill knows what it stands on.
            known.extend(ladder.below(&name));
            begun.insert(name);
        }
        begun.retain(|name| !known.contains(name));
        promised.retain(|name, _| !known.contains(name));
        Known {
            known,
            begun,
            promised,
        }
    }
}

fn push(list: &mut Vec<String>, words: &str) {
    if !list.iter().any(|known| known == words) {
        list.push(words.to_owned());
    }
}

impl Needs {
    /// What a band needs for its concerts.
    pub fn of(snapshot: &Snapshot, band: &Ensemble, id: EntryId, evenings: &[Evening]) -> Needs {
        let ladder = snapshot.ladder();
        let known = Known::of(snapshot, band);
        let mut needs = Needs::default();
        let mut asked: BTreeMap<String, Vec<For>> = BTreeMap::new();
        let mut teaches: BTreeMap<String, Vec<String>> = BTreeMap::new();
        for (concert, evening) in evenings.iter().enumerate() {
            for (row, title) in rows(snapshot, evening.id) {
                let Some(row) = row else {
                    push(&mut needs.no_card, &title);
                    continue;
                };
                if !row.bands.contains(&id) {
                    continue;
                }
                for said in row.subject.piece.teaches.iter().filter(|said| said.is_certain()) {
                    push(
                        teaches.entry(ladder.one_name(&said.value.name)).or_default(),
                        &title,
                    );
                }
                let all = asks(&row.subject);
                if all.is_empty() {
                    push(&mut needs.silent, &title);
                }
                let said = weeks_of(snapshot, row.subject.piece);
                let weeks = said.unwrap_or(TO_A_PIECE);
                for (words, certain) in all {
                    let skill = ladder.one_name(&words);
                    if known.known.contains(&skill) {
                        continue;
                    }
                    if !certain {
                        push(&mut needs.perhaps, &words);
                        continue;
                    }
                    if !ladder.knows(&skill) {
                        push(&mut needs.no_skills, &words);
                        continue;
                    }
                    let mut own = row.subject.piece.teaches.iter();
                    let itself = own.any(|said| ladder.one_name(&said.value.name) == skill);
                    needs.ours |= said.is_none() && !itself;
                    let due = match itself {
                        true => evening.weeks,
                        false => evening.weeks.saturating_sub(weeks),
                    };
                    let one = For {
                        piece: title.clone(),
                        concert,
                        due,
                        itself,
                        weeks,
                    };
                    let list = asked.entry(skill).or_default();
                    if !list.contains(&one) {
                        list.push(one);
                    }
                }
            }
        }
        needs.add(ladder, &known, asked, &teaches);
        needs
    }

    /// The skills that are asked, with those that come before them.
    fn add(
        &mut self,
        ladder: &Ladder,
        known: &Known,
        mut asked: BTreeMap<String, Vec<For>>,
        teaches: &BTreeMap<String, Vec<String>>,
    ) {
        let mut all: BTreeSet<String> = asked.keys().cloned().collect();
        for skill in asked.keys() {
            for below in ladder.below(skill) {
                if known.known.contains(&below) {
                    continue;
                }
                // A card says that it is taught by itself; what only the usual order has may have been left out.
                let has_card = ladder.card(&below).is_some() || known.begun.contains(&below);
                match has_card || known.promised.contains_key(&below) {
                    true => {
                        all.insert(below);
                    }
                    false if !asked.contains_key(&below) => {
                        push(&mut self.taken_as_known, &ladder.written(&below))
                    }
                    false => {}
                }
            }
        }
        let all: Vec<String> = all.into_iter().collect();
        for skill in &all {
            let said = ladder.takes(skill);
            let whole = said.map_or(Amount::Weeks(UNKNOWN), |said| Amount::of(said.value));
            let begun = known.begun.contains(skill);
            let below = ladder.below(skill);
            let after = all.iter().enumerate().filter(|(_, other)| {
                // Skills that wait for each other are told by their own rule; here they wait for nobody.
                *other != skill && below.contains(*other) && !ladder.below(other).contains(skill)
            });
            self.skills.push(Skill {
                name: ladder.written(skill),
                takes: if begun { whole.half() } else { whole },
                whole: said.map(|said| said.value.to_string()),
                begun,
                pieces: asked.remove(skill).unwrap_or_default(),
                after: after.map(|(at, _)| at).collect(),
                taught_in: teaches.get(skill).cloned().unwrap_or_default(),
                promised: known.promised.get(skill).copied(),
                key: skill.clone(),
            });
        }
    }
}

/// What a piece asks in its lines, in the lines of the movements that are played and in its rows, and whether that
/// is certain.
fn asks(subject: &Subject<'_>) -> Vec<(String, bool)> {
    let mut found: Vec<(String, bool)> = Vec::new();
    let mut add = |words: &str, certain: bool| {
        if !found.iter().any(|(known, _)| key(known) == key(words)) {
            found.push((words.to_owned(), certain));
        }
    };
    let own = std::iter::once(subject.piece);
    for piece in own.chain(subject.bodies()) {
        for said in piece.asks.iter().filter(|said| !said.value.not) {
            add(&said.value.name, said.is_certain());
        }
        for row in piece.parts.iter().chain(&piece.percussion) {
            // What an easier part asks is asked of nobody else.
            let instead = row.facts.iter().any(|fact| {
                matches!(
                    fact.what,
                    Fact::Relation {
                        relation: Relation::InsteadOf,
                        ..
                    }
                )
            });
            for fact in row.facts.iter().filter(|_| !instead) {
                if let Fact::Asks(words) = &fact.what {
                    add(words, fact.is_certain());
                }
            }
        }
    }
    found
}

/// How many weeks a piece is rehearsed: what it took when it was last performed, else what the handbook gives a
/// piece; none where neither is said.
pub fn weeks_of(snapshot: &Snapshot, piece: &Piece) -> Option<u32> {
    let took = piece
        .performed
        .iter()
        .filter(|said| said.is_certain())
        .filter_map(|said| {
            let took = said.value.said.iter().find_map(|played| match played {
                Played::Took(takes) => match Amount::of(*takes) {
                    Amount::Weeks(weeks) => Some(weeks),
                    Amount::Rehearsals(_) => None,
                },
                _ => None,
            })?;
            Some((said.value.day.and_then(Day::last), took))
        });
    if let Some((_, took)) = took.max_by_key(|(day, _)| *day) {
        return Some(took);
    }
    let said = snapshot
        .handbook()
        .into_iter()
        .flat_map(|handbook| &handbook.teaching);
    said.filter(|said| said.is_certain())
        .find_map(|said| match said.value {
            Pace::Weeks(weeks) => Some(weeks),
            Pace::Skills(_) => None,
        })
}
