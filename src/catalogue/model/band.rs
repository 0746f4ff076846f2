//! An ensemble: its players, its percussionists, what it owns and has been taught.

use crate::music::{Family, Instruments, Key};
use jiff::civil::Date;

use crate::notation::fields::fields_of;
use crate::notation::names::cut_number;
use crate::notation::row::{Can, Count, Fact, RowFact, RowItem, RowName};
use crate::notation::values::{
    Able, Absent, Away, Day, Days, Equipment, KeySoon, Meeting, Meets, NamedRange, Pin, Season, Signatures,
    Skill, Standing, There, Value,
};
use crate::notation::{FieldReading, Kind};
use crate::text::Span;

use super::concert::pins;
use super::piece::skills;
use super::said::{self, Said, StetSaid, take};
use super::unread::{Unread, is_unread, unread};

/// What a card says of an ensemble.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Ensemble {
    /// The school year.
    pub season: Option<Said<Season>>,
    /// When and how long it rehearses, item by item.
    pub meets: Vec<Said<Meets>>,
    /// Instruments that the band does not have, in full.
    pub without: Vec<Said<String>>,
    /// Head counts by instrument.
    pub players: Vec<PlayerRow>,
    /// Percussionists by seat or initials.
    pub percussionists: Vec<Percussionist>,
    /// Their number, where only that is said.
    pub percussionist_count: Option<Count>,
    /// Where the percussionists stand on the card.
    pub percussionists_span: Option<Span>,
    /// What the room holds, and can be played.
    pub owns: Vec<Said<Equipment>>,
    /// What the card says is not there, or out for repair.
    pub lacks: Vec<Said<Equipment>>,
    /// What can be had for a concert.
    pub borrowed: Vec<Said<Equipment>>,
    /// What each section plays with ease.
    pub ranges: Vec<Said<NamedRange>>,
    /// The concert keys taught.
    pub keys: Vec<Said<Key>>,
    /// The concert keys it is learning, and by when.
    pub keys_soon: Vec<Said<KeySoon>>,
    /// How many flats and sharps it reads.
    pub signatures: Option<Said<Signatures>>,
    /// Who is always to play what.
    pub assigned: Vec<Said<Pin>>,
    /// Skills taught.
    pub taught: Vec<Said<Skill>>,
    /// Skills met.
    pub introduced: Vec<Said<Skill>>,
    /// Rows of chairs.
    pub rows: Vec<RowItem>,
    /// Findings let stand.
    pub stets: Vec<StetSaid>,
    /// What was not understood.
    pub unread: Vec<Unread>,
}

/// The players of one instrument.
#[derive(Debug, Clone, PartialEq)]
pub struct PlayerRow {
    /// The instrument as written.
    pub name: String,
    /// Where the row stands.
    pub span: Span,
    /// Where the name stands.
    pub name_span: Span,
    /// How many there are, where that is said.
    pub count: Option<Count>,
    /// What some of them can do: how many (none for all), and what.
    pub some: Vec<(Option<u32>, Can)>,
}

impl PlayerRow {
    /// How many of them are not there on a day: they join later, or have left.
    pub fn not_there(&self, day: Date) -> u32 {
        let all = self.count.map_or(0, |count| count.number);
        let gone = self.some.iter().map(|(count, can)| {
            let there = match can {
                Can::Since(since) => since.first().is_none_or(|since| since <= day),
                Can::Until(until) => until.last().is_none_or(|until| day <= until),
                Can::Away(days) => !days.holds(day),
                _ => true,
            };
            if there { 0 } else { count.unwrap_or(all) }
        });
        gone.fold(0u32, u32::saturating_add).min(all)
    }
}

/// One percussionist.
#[derive(Debug, Clone, PartialEq)]
pub struct Percussionist {
    /// The seat or initials.
    pub seat: String,
    /// Where they stand.
    pub span: Span,
    /// What this player plays.
    pub can: Plays,
}

/// What a roster says that a percussionist plays, and how well.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Plays {
    /// What the player plays; nothing said means anything.
    pub plays: Vec<String>,
    /// What the player does not play.
    pub not: Vec<String>,
    /// Winds and other instruments that the player also plays.
    pub also: Vec<String>,
    /// Whether the player is called a strong one for everything.
    pub strong: bool,
    /// The instruments that the player is called strong on.
    pub strong_on: Vec<String>,
    /// What the player cannot do yet.
    pub cannot: Vec<Able>,
    /// The day since which the player is there.
    pub since: Option<Day>,
    /// The day until which the player is there.
    pub until: Option<Day>,
    /// When the player is away.
    pub away: Vec<Days>,
    /// What else is said of the player, such as `beginner`.
    pub standing: Vec<Standing>,
}

impl Plays {
    /// Takes what a roster's row says.
    pub fn of(facts: &[RowFact]) -> Plays {
        let mut found = Plays::default();
        for fact in facts.iter().filter(|fact| fact.is_certain()) {
            match &fact.what {
                Fact::Instruments { names, not: true } => {
                    found.not.extend(names.iter().map(RowName::one_form));
                }
                Fact::Instruments { names, not: false } => {
                    for name in names.iter().map(RowName::one_form) {
                        found.add(name);
                    }
                }
                Fact::Strong => found.strong = true,
                Fact::Standing(standing) => found.stands(standing),
                Fact::Some {
                    can: Can::Also(other),
                    ..
                } => found.also.push(other.clone()),
                _ => {}
            }
        }
        found
    }

    /// Whether the player is there on a day: not before joining, not after leaving, and not when away.
    pub fn is_there(&self, day: Date) -> bool {
        let joined = self.since.and_then(Day::first).is_none_or(|since| since <= day);
        let left = self.until.and_then(Day::last).is_some_and(|until| until < day);
        joined && !left && self.away.iter().all(|days| !days.holds(day))
    }

    /// What is said, in words.
    pub fn words(&self) -> Vec<String> {
        let not = self.not.iter().map(|name| format!("not {name}"));
        let also = self.also.iter().map(|name| format!("also {name}"));
        let strong = self.strong.then(|| "strong".to_owned());
        let standing = self.standing.iter().map(ToString::to_string);
        let plays = self.plays.iter().map(|name| match self.strong_on.contains(name) {
            true => format!("strong {name}"),
            false => name.clone(),
        });
        plays
            .chain(not)
            .chain(also)
            .chain(strong)
            .chain(standing)
            .collect()
    }

    fn stands(&mut self, standing: &Standing) {
        match standing {
            Standing::Strong => self.strong = true,
            Standing::Not { name, .. } | Standing::AllBut(name) => self.not.push(name.clone()),
            Standing::Only(name) => self.plays.push(name.clone()),
            Standing::Anything => self.plays.push("anything".to_owned()),
            Standing::Cannot(able) => self.cannot.push(*able),
            Standing::Since(day) => self.since = Some(*day),
            Standing::Until(day) => self.until = Some(*day),
            Standing::New
            | Standing::Prefers(_)
            | Standing::Beginner
            | Standing::Grade(_)
            | Standing::Can(..) => {}
        }
        let told = !matches!(
            standing,
            Standing::Strong
                | Standing::Not { .. }
                | Standing::AllBut(_)
                | Standing::Only(_)
                | Standing::Anything
        );
        if told {
            self.standing.push(standing.clone());
        }
    }

    fn add(&mut self, name: String) {
        if let Some(strong) = name.strip_prefix("strong ") {
            self.strong_on.push(strong.to_owned());
            self.plays.push(strong.to_owned());
            return;
        }
        let known = Instruments::standard().find(&name).exact();
        match known.is_some_and(|known| !known.family.is_percussion() && known.family != Family::Keyboard) {
            true => self.also.push(name),
            false => self.plays.push(name),
        }
    }
}

impl Ensemble {
    /// Takes an ensemble's facts out of its fields.
    pub fn of(all: &[FieldReading], text: &str) -> Ensemble {
        let season = said::first(all, "season", take!(Season));
        let (owns, lacks) = said::equipment(all, "owns")
            .into_iter()
            .partition(|said| matches!(said.value.there, There::Yes | There::Shared(_)));
        let mut borrowed = said::equipment(all, "borrowed");
        // A loan until December ends in the school year of the card.
        if let Some(season) = &season {
            for said in &mut borrowed {
                said.value.days = said.value.days.map(|days| days.in_season(season.value.first));
            }
        }
        let mut percussionists: Vec<Percussionist> = said::rows(all, "percussionists")
            .flat_map(|row| percussionists(&row.row))
            .collect();
        let mut players: Vec<PlayerRow> = said::rows(all, "players")
            .flat_map(|row| player_rows(&row.row))
            .collect();
        for (who, days) in away(all, season.as_ref().map(|season| season.value.first)) {
            send_away(&mut players, &mut percussionists, &who, days);
        }
        // `joined Oct 5` lies in the school year of the card too.
        if let Some(season) = &season {
            let first = season.value.first;
            for can in percussionists.iter_mut().map(|player| &mut player.can) {
                can.since = can.since.map(|day| day.in_season(first));
                can.until = can.until.map(|day| day.in_season(first));
            }
            for (_, can) in players.iter_mut().flat_map(|row| &mut row.some) {
                if let Can::Since(day) | Can::Until(day) = can {
                    *day = day.in_season(first);
                }
            }
        }
        // What is taught and not secure yet is met, and no more.
        let (shaky, taught): (Vec<_>, Vec<_>) = skills(all, "taught")
            .into_iter()
            .partition(|said| said.value.shaky);
        let introduced = skills(all, "introduced").into_iter().chain(shaky).collect();
        Ensemble {
            season,
            meets: said::list(all, "meets", take!(Meets))
                .into_iter()
                .chain(said::list(all, "season", take!(Meets)))
                .collect(),
            without: said::words(all, "without"),
            players,
            percussionists,
            percussionist_count: said::rows(all, "percussionists").find_map(|row| row.row.count),
            percussionists_span: said::fields(all, "percussionists")
                .next()
                .map(|field| field.whole),
            owns,
            lacks,
            borrowed,
            ranges: said::list(all, "ranges", |value| match value {
                Value::NamedRange(range) => Some(range.clone()),
                // The end that is not said is the instrument's own.
                Value::NamedBounds(bounds) => {
                    let known = Instruments::standard().find(cut_number(&bounds.name, true).words);
                    bounds.within(known.exact()?.full_range?)
                }
                _ => None,
            }),
            keys: said::list(all, "keys", |value| match value {
                Value::Key(center) => center.key(),
                _ => None,
            }),
            keys_soon: said::list(all, "keys", take!(KeySoon)),
            signatures: said::first(all, "keys", take!(Signatures)),
            assigned: said::list(all, "assigned", take!(Pin))
                .into_iter()
                .chain(said::rows(all, "percussionists").flat_map(|row| pins_of_players(&row.row)))
                .collect(),
            taught,
            introduced,
            rows: said::rows(all, "rows").map(|row| row.row.clone()).collect(),
            stets: said::stets(all),
            unread: unread(all, fields_of(Kind::Ensemble), text),
        }
    }

    /// Whether something on a line of that name was not understood.
    pub fn is_unread(&self, field: &str) -> bool {
        is_unread(&self.unread, field)
    }

    /// When it rehearses, all items of the card together.
    pub fn meeting(&self) -> Meeting {
        let certain = self.meets.iter().filter(|said| said.is_certain());
        let first_year = self.season.as_ref().map(|season| season.value.first);
        Meeting::of(certain.map(|said| &said.value), first_year)
    }

    /// The percussionists who are there on a day; all of them where no day is known.
    pub fn percussionists_on(&self, day: Option<Date>) -> impl Iterator<Item = &Percussionist> {
        let there = move |player: &&Percussionist| day.is_none_or(|day| player.can.is_there(day));
        self.percussionists.iter().filter(there)
    }

    /// How many percussionists there are on a day, where the card says so.
    pub fn percussion_players_on(&self, day: Option<Date>) -> Option<u32> {
        match self.percussionists.is_empty() {
            true => self.percussion_players(),
            false => u32::try_from(self.percussionists_on(day).count()).ok(),
        }
    }

    /// Wind players who are not there on a day, in words such as `1 horn`.
    pub fn winds_not_there(&self, day: Date) -> Vec<String> {
        let rows = self.players.iter();
        rows.map(|row| (row.not_there(day), &row.name))
            .filter(|(count, _)| *count > 0)
            .map(|(count, name)| format!("{count} {name}"))
            .collect()
    }

    /// How many percussionists there are, where the card says so.
    pub fn percussion_players(&self) -> Option<u32> {
        match self.percussionists.len() {
            0 => self.percussionist_count.map(|count| count.number),
            named => u32::try_from(named).ok(),
        }
    }
}

/// Who is away, and on which days; days without a year lie in the school year of the card.
fn away(all: &[FieldReading], first: Option<i16>) -> Vec<(Absent, Days)> {
    let said: Vec<Said<Away>> = said::list(all, "absent", take!(Away));
    let certain = said.into_iter().filter(|said| said.is_certain());
    certain
        .flat_map(|said| match said.value {
            Away::On(who, days) => {
                let days = first.map_or(days, |first| days.in_season(first));
                // A day whose year nobody knows is on no concert's.
                let dated = days.from.or(days.until).and_then(Day::first).is_some();
                let who = who.into_iter().filter(|_| dated);
                who.map(|who| (who, days)).collect()
            }
            Away::Why(_) => Vec::new(),
        })
        .collect()
}

/// Takes players out of their rows on some days.
fn send_away(players: &mut [PlayerRow], percussionists: &mut [Percussionist], who: &Absent, days: Days) {
    let known = |name: &str| {
        Instruments::standard()
            .find(cut_number(name, true).words)
            .exact()
            .map(|found| found.name.clone())
    };
    match who {
        Absent::Seats(seats) => {
            let seats = percussionists
                .iter_mut()
                .filter(|player| seats.contains(&player.seat));
            seats.for_each(|player| player.can.away.push(days));
        }
        Absent::Players { count, instrument } => {
            let name = known(instrument);
            let row = players
                .iter_mut()
                .find(|row| name.is_some() && known(&row.name) == name);
            if let Some(row) = row {
                row.some.push((Some(*count), Can::Away(days)));
            }
        }
        Absent::Group(_) | Absent::Somebody(_) => {}
    }
}

fn player_rows(row: &RowItem) -> Vec<PlayerRow> {
    // `1, with 1 more from January` makes two, one of whom joins then.
    let more = row.facts.iter().map(|fact| match &fact.what {
        Fact::Some {
            count: Some(count),
            can: Can::More(_),
        } => *count,
        _ => 0,
    });
    let more = more.fold(0u32, u32::saturating_add);
    let count = row.count.map(|count| Count {
        number: count.number.saturating_add(more),
        ..count
    });
    row.names
        .iter()
        .map(|name| PlayerRow {
            name: name.text.clone(),
            span: row.span,
            name_span: name.words,
            count,
            some: row
                .facts
                .iter()
                .filter_map(|fact| match &fact.what {
                    Fact::Some {
                        count,
                        can: Can::More(day),
                    } => Some((*count, Can::Since(*day))),
                    Fact::Some { count, can } => Some((*count, can.clone())),
                    _ => None,
                })
                .collect(),
        })
        .collect()
}

/// What the roster says of who is kept apart and who has at most so much: behind a seat, or in a row of its own.
fn pins_of_players(row: &RowItem) -> Vec<Said<Pin>> {
    let of_row = pins(&row.facts);
    if row.names.is_empty() {
        return of_row;
    }
    let each = of_row.into_iter().flat_map(|said| {
        row.names.iter().map(move |name| {
            let mut seats = vec![name.text.clone()];
            seats.extend(said.value.seats.iter().cloned());
            Said {
                value: Pin {
                    seats,
                    ..said.value.clone()
                },
                ..said.clone()
            }
        })
    });
    each.collect()
}

fn percussionists(row: &RowItem) -> Vec<Percussionist> {
    row.names
        .iter()
        .map(|name| Percussionist {
            seat: name.text.clone(),
            span: name.span,
            can: Plays::of(&row.facts),
        })
        .collect()
}
