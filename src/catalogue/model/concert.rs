//! A concert: when, for whom, what is played, what it calls for.

use jiff::civil::Date;

use crate::notation::fields::fields_of;
use crate::notation::row::{Fact, Relation, RowFact};
use crate::notation::values::{Absent, ConcertLength, Equipment, Lasts, Moment, Money, Pin, Titled, Value};
use crate::notation::{FieldReading, Kind};

use super::super::quotes::quoted_names;
use super::said::{self, Said, StetSaid, take};
use super::unread::{Unread, is_unread, unread};

/// What a card says of a concert.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Concert {
    /// The day and hour.
    pub on: Option<Said<Moment>>,
    /// The ensembles that play.
    pub bands: Vec<Said<Titled>>,
    /// How long it may be.
    pub length: Option<Said<Lasts>>,
    /// How long a band of several plays at most.
    pub shares: Vec<Said<(String, Lasts)>>,
    /// The gap between two pieces.
    pub between: Option<Said<Lasts>>,
    /// The pieces in order.
    pub program: Vec<ProgramPiece>,
    /// What it calls for, as written.
    pub calls_for: Vec<Said<String>>,
    /// How many new skills it may ask of a band in all.
    pub new_skills: Option<Said<u32>>,
    /// What may be spent on it.
    pub budget: Option<Said<Money>>,
    /// How long the intermission is.
    pub intermission: Option<Said<Lasts>>,
    /// How long what is no piece takes, row by row of the program, where that is said.
    pub interludes: Vec<Lasts>,
    /// How long the stage takes to set.
    pub set_up: Option<Said<Lasts>>,
    /// Who is absent.
    pub absent: Vec<Said<Absent>>,
    /// Who is to play what all evening.
    pub assigned: Vec<Said<Pin>>,
    /// Percussion instruments borrowed for it.
    pub borrowed: Vec<Said<Equipment>>,
    /// Whether it is shown over the net.
    pub streamed: Option<Said<bool>>,
    /// Whether a recording is made.
    pub recorded: Option<Said<bool>>,
    /// How many judges are to have a score of each piece.
    pub judges: Option<Said<u32>>,
    /// Findings let stand.
    pub stets: Vec<StetSaid>,
    /// What was not understood.
    pub unread: Vec<Unread>,
}

/// One piece of a program.
#[derive(Debug, Clone, PartialEq)]
pub struct ProgramPiece {
    /// Its title, and who wrote it where two share the title.
    pub title: Said<Titled>,
    /// The bands that play it, when the program says so; none means the concert's.
    pub bands: Vec<String>,
    /// The movements played; none means all.
    pub movements: Vec<u32>,
    /// Who is to play what in it, by the row of the program.
    pub assigned: Vec<Said<Pin>>,
}

/// The time from the hour of the concert to that at which all is over.
fn until_it_is_over(all: &[FieldReading]) -> Option<Said<Lasts>> {
    let starts = said::first(all, "on", |value| match value {
        Value::Moment(moment) => moment.time,
        _ => None,
    })?;
    let over = said::first(all, "length", |value| match value {
        Value::ConcertLength(ConcertLength::OverBy(hour)) => Some(*hour),
        _ => None,
    })?;
    let minutes = |(hours, minutes): (u8, u8)| u32::from(hours) * 60 + u32::from(minutes);
    let long = minutes(over.value)
        .checked_sub(minutes(starts.value))
        .filter(|long| *long > 0)?;
    let lasts = Lasts::read(&format!("{long} minutes"))?;
    Some(over.map(|_| lasts))
}

/// Twice the half, and the intermission between.
fn two_halves(all: &[FieldReading]) -> Option<Said<Lasts>> {
    let half = said::first(all, "length", |value| match value {
        Value::ConcertLength(ConcertLength::EachHalf(lasts)) => Some(*lasts),
        _ => None,
    })?;
    let between = said::first(all, "length", |value| match value {
        Value::ConcertLength(ConcertLength::Intermission(lasts)) => Some(*lasts),
        _ => None,
    });
    let more = between.map_or(0, |said| said.value.high.seconds());
    let seconds = half.value.high.seconds().checked_mul(2)?.checked_add(more)?;
    let lasts = Lasts::read(&format!("{}:{:02}", seconds / 60, seconds % 60))?;
    Some(half.map(|_| lasts))
}

impl Concert {
    /// Takes a concert's facts out of its fields.
    pub fn of(all: &[FieldReading], text: &str) -> Concert {
        let length = |wanted: fn(&ConcertLength) -> Option<Lasts>| {
            said::first(all, "length", |value| match value {
                Value::ConcertLength(length) => wanted(length),
                _ => None,
            })
        };
        Concert {
            on: said::first(all, "on", |value| match value {
                Value::Moment(moment) => Some(*moment),
                _ => None,
            }),
            bands: said::list(all, "for", titled),
            length: length(|said| match said {
                ConcertLength::Whole(lasts) => Some(*lasts),
                _ => None,
            })
            .or_else(|| until_it_is_over(all))
            .or_else(|| two_halves(all))
            .or_else(|| {
                length(|said| match said {
                    ConcertLength::Music(lasts) => Some(*lasts),
                    _ => None,
                })
            }),
            between: length(|said| match said {
                ConcertLength::Between(lasts) => Some(*lasts),
                _ => None,
            }),
            shares: said::list(all, "length", |value| match value {
                Value::ConcertLength(ConcertLength::Share(band, lasts)) => Some((band.clone(), *lasts)),
                _ => None,
            }),
            new_skills: said::first(all, "new skills", take!(Number)),
            budget: said::first(all, "budget", take!(Money)),
            intermission: length(|said| match said {
                ConcertLength::Intermission(lasts) => Some(*lasts),
                _ => None,
            }),
            interludes: interludes(all),
            set_up: said::first(all, "setup", take!(Lasts)),
            program: program(all),
            calls_for: said::words(all, "calls for"),
            absent: said::list(all, "absent", take!(Absent)),
            assigned: said::list(all, "assigned", take!(Pin)),
            borrowed: said::equipment(all, "borrowed"),
            streamed: said::first(all, "streamed", done),
            recorded: said::first(all, "recorded", done),
            judges: said::first(all, "judges", take!(Number)),
            stets: said::stets(all),
            unread: unread(all, fields_of(Kind::Concert), text),
        }
    }
}

impl Concert {
    /// Whether something on a line of that name was not understood.
    pub fn is_unread(&self, field: &str) -> bool {
        is_unread(&self.unread, field)
    }

    /// Its day, where that is certain.
    pub fn day(&self) -> Option<Date> {
        let on = self.on.as_ref().filter(|on| on.is_certain())?;
        on.value.day.day?;
        on.value.day.first()
    }

    /// Percussionists who are absent, by seat or initials.
    pub fn absent_seats(&self) -> Vec<String> {
        let seats = self.absent.iter().filter_map(|said| match &said.value {
            Absent::Seats(seats) => Some(seats.clone()),
            _ => None,
        });
        seats.flatten().collect()
    }

    /// Everybody who is absent, one by one, as the readers of a roster take them: `P3`, `1 tuba`.
    pub fn absent_words(&self) -> Vec<String> {
        let words = self.absent.iter().flat_map(|said| match &said.value {
            Absent::Seats(seats) => seats.clone(),
            other => vec![other.to_string()],
        });
        words.collect()
    }
}

pub(super) fn titled(value: &Value) -> Option<Titled> {
    match value {
        Value::Titled(titled) => Some(titled.clone()),
        _ => None,
    }
}

fn done(value: &Value) -> Option<bool> {
    match value {
        Value::Done(done) => Some(done.yes),
        _ => None,
    }
}

fn interludes(all: &[FieldReading]) -> Vec<Lasts> {
    let facts = said::rows(all, "program").flat_map(|row| &row.row.facts);
    let lasts = facts.filter_map(|fact| match &fact.what {
        Fact::Interlude(interlude) => interlude.lasts,
        _ => None,
    });
    lasts.collect()
}

fn program(all: &[FieldReading]) -> Vec<ProgramPiece> {
    let mut pieces = Vec::new();
    for field in said::fields(all, "program") {
        let rows = field.rows();
        for row in rows {
            let Some(first) = row.row.facts.first() else {
                continue;
            };
            let Fact::Title(title) = &first.what else { continue };
            let group = row.under.and_then(|index| rows.get(index));
            let bands = group
                .into_iter()
                .chain(std::iter::once(row))
                .flat_map(|row| &row.row.facts)
                .find_map(|fact| match &fact.what {
                    Fact::Relation {
                        relation: Relation::For,
                        target,
                        ..
                    } => Some(quoted_names(target)),
                    _ => None,
                })
                .unwrap_or_default();
            let mut movements = title.movements.clone();
            movements.extend(row.row.facts.iter().flat_map(|fact| match &fact.what {
                Fact::Movements(numbers) => numbers.as_slice(),
                _ => &[],
            }));
            pieces.push(ProgramPiece {
                title: Said {
                    value: title.clone(),
                    span: first.span,
                    about: first.about,
                    open: first.open,
                    partial: false,
                },
                bands,
                movements,
                assigned: pins(&row.row.facts),
            });
        }
    }
    pieces
}

/// Who is to play what, by the facts of a row.
pub(in super::super) fn pins(facts: &[RowFact]) -> Vec<Said<Pin>> {
    let pins = facts.iter().filter_map(|fact| match &fact.what {
        Fact::Pin(pin) => Some(Said {
            value: pin.clone(),
            span: fact.span,
            about: fact.about,
            open: fact.open,
            partial: false,
        }),
        _ => None,
    });
    pins.collect()
}
