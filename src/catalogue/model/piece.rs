//! A piece: what it is, what it asks, what it teaches, what was learned.

use crate::music::{Center, Meter, SignatureSaid};
use crate::notation::facts::relation::joined;
use crate::notation::fields::fields_of;
use crate::notation::row::{Count, Fact, Order, Relation, RowFact, RowItem, RowName};
use crate::notation::values::{
    Bought, Copies, Day, Events, Grade, Lasts, License, Loan, Mark, Money, Needs, Performance, Person,
    Pickup, Pin, Place, Point, RoadStep, Skill, Stretch, TempoSaid, Titled, Track, Until, Value,
};
use crate::notation::{Body, FieldReading, Kind, TableRow};
use crate::text::Span;

use super::changes;
use super::said::{self, Said, Stage, StetSaid, take};
use super::unread::{Unread, is_unread, unread};

/// What a card says of a piece, or of one movement of it.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Piece {
    /// Who wrote, arranged, transcribed or edited it.
    pub by: Vec<Person>,
    /// Where that stands.
    pub by_span: Option<Span>,
    /// Who publishes it, the item number, the year.
    pub publisher: Vec<Said<String>>,
    /// Extended techniques.
    pub techniques: Vec<Said<String>>,
    /// Who is shown off.
    pub features: Vec<Said<String>>,
    /// Whom it suits.
    pub suits: Vec<Said<String>>,
    /// Who liked it.
    pub liked: Vec<Said<String>>,
    /// Grades, and who gives them.
    pub grades: Vec<Said<Grade>>,
    /// What sort of piece it is.
    pub styles: Vec<Said<String>>,
    /// The concert keys it is heard in. What a card tells from the stage before is worked out here.
    pub centers: Vec<Stage<Center>>,
    /// The concert key signatures.
    pub signatures: Vec<Stage<SignatureSaid>>,
    /// The meters.
    pub meters: Vec<Stage<Meter>>,
    /// The tempos.
    pub tempos: Vec<Stage<TempoSaid>>,
    /// How many measures are printed.
    pub measures: Option<Said<u32>>,
    /// What sounds before the first full measure.
    pub pickup: Option<Said<Pickup>>,
    /// The ensembles that play it, where it is not for everybody.
    pub bands: Vec<Said<Titled>>,
    /// Whether it is judged for a band at all; a warm-up may not be.
    pub judged: Option<Said<bool>>,
    /// Cued events, where there are no measures.
    pub events: Option<Said<Events>>,
    /// How long it lasts.
    pub lasts: Option<Said<Lasts>>,
    /// Rehearsal marks.
    pub marks: Vec<Said<Mark>>,
    /// The steps of the roadmap that were understood, with measures for the marks that the card places.
    pub road: Vec<Said<RoadStep>>,
    /// Whether the roadmap holds words that are no step, so that the road is not wholly known.
    pub road_in_words: bool,
    /// How it is built.
    pub form: Vec<Said<String>>,
    /// Its movements.
    pub movements: Vec<Movement>,
    /// Wind parts.
    pub parts: Vec<RowItem>,
    /// For flexible parts: the numbers of those that must be covered.
    pub complete_with: Option<Said<Vec<u32>>>,
    /// Percussion parts.
    pub percussion: Vec<RowItem>,
    /// How many percussion parts there are, where only that is said.
    pub percussion_count: Option<Count>,
    /// Printed pages.
    pub pages: Vec<RowItem>,
    /// What is said of a recorded track.
    pub track: Vec<Said<Track>>,
    /// Who is to play what in it.
    pub assigned: Vec<Said<Pin>>,
    /// What it needs.
    pub needs: Vec<Said<Needs>>,
    /// What it asks players to know.
    pub asks: Vec<Said<Skill>>,
    /// What it is good for teaching.
    pub teaches: Vec<Said<Skill>>,
    /// Lists and books it stands in.
    pub listed: Vec<Said<Titled>>,
    /// What it costs.
    pub price: Option<Said<Money>>,
    /// Why or when it is wanted.
    pub wanted: Vec<Said<String>>,
    /// The set and its parts.
    pub library: Library,
    /// Performances.
    pub performed: Vec<Said<Performance>>,
    /// Findings let stand.
    pub stets: Vec<StetSaid>,
    /// What was not understood.
    pub unread: Vec<Unread>,
}

/// Why or when a piece is wanted; a line that says no more than `wanted` says that it is.
fn wanted(all: &[FieldReading]) -> Vec<Said<String>> {
    let said = said::words(all, "wanted");
    let bare = || said::fields(all, "wanted").next();
    match (said.is_empty(), bare()) {
        (true, Some(line)) if line.items().is_empty() => vec![Said {
            value: String::new(),
            span: line.whole,
            about: false,
            open: false,
            partial: false,
        }],
        _ => said,
    }
}

/// The set of a piece in the library.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Library {
    /// Whether the card has the block at all.
    pub said: bool,
    /// Where the set is, in the director's own words.
    pub place: Option<Said<String>>,
    /// Copies of parts.
    pub copies: Vec<Said<Copies>>,
    /// Copies that the card says are wanted.
    pub short: Vec<Said<Copies>>,
    /// Missing parts.
    pub missing: Vec<Said<Copies>>,
    /// Loans, item by item.
    pub lent: Vec<Said<Loan>>,
    /// When and where it was bought.
    pub bought: Option<Said<Bought>>,
    /// When the copies were last counted.
    pub counted: Option<Said<Day>>,
    /// What its license allows.
    pub license: Vec<Said<License>>,
    /// What the set cost.
    pub price: Option<Said<Money>>,
    /// What one more copy of a part costs.
    pub part_price: Option<Said<Money>>,
}

impl Library {
    /// Whether it says where the set is, what is in it or what became of it.
    fn holds_something(&self) -> bool {
        self.place.is_some()
            || self.bought.is_some()
            || !self.copies.is_empty()
            || !self.missing.is_empty()
            || !self.lent.is_empty()
    }
}

/// One movement.
#[derive(Debug, Clone, PartialEq)]
pub struct Movement {
    /// Its number.
    pub number: u32,
    /// Its title; empty where it has none.
    pub title: String,
    /// Where its row stands.
    pub span: Span,
    /// What its own lines say.
    pub piece: Piece,
    /// Whether the next movement follows without a break.
    pub attacca: bool,
}

impl Piece {
    /// Who publishes it: the first of what the card says of the publisher.
    pub fn house(&self) -> Option<&Said<String>> {
        self.publisher.first().filter(|said| said.is_certain())
    }

    /// Whether the set is there by what the card says of the shelf; none where it says nothing. What is wanted is
    /// not there, unless the library says where it is or what is in it: a price alone is no set.
    pub fn has_set(&self) -> Option<bool> {
        match (self.library.holds_something(), self.wanted.is_empty()) {
            (true, _) => Some(true),
            (false, false) => Some(false),
            (false, true) => self.library.said.then_some(true),
        }
    }

    /// Whether something on a line of that name was not understood.
    pub fn is_unread(&self, field: &str) -> bool {
        is_unread(&self.unread, field)
    }

    /// Whether a measure lies past the last one, which is told by its own rule.
    pub fn is_past_the_end(&self, measure: u32) -> bool {
        let last = self.measures.as_ref().filter(|last| last.is_certain());
        last.is_some_and(|last| last.value < measure)
    }

    /// Whether it is judged at all; the card of a warm-up may say that it is not.
    pub fn is_judged(&self) -> bool {
        self.judged.as_ref().is_none_or(|judged| judged.value)
    }

    /// Whether the card, or a movement on it, has rows of percussion.
    pub fn has_percussion(&self) -> bool {
        let movements = self.movements.iter().map(|movement| &movement.piece);
        std::iter::once(self)
            .chain(movements)
            .any(|piece| !piece.percussion.is_empty())
    }

    /// Takes a piece's facts out of its fields.
    pub fn of(all: &[FieldReading], text: &str) -> Piece {
        let road_items = said::fields(all, "roadmap").flat_map(FieldReading::items);
        let by = said::fields(all, "by").next();
        let mut piece = Piece {
            by: said::list(all, "by", |value| match value {
                Value::People(people) => Some(people.clone()),
                _ => None,
            })
            .into_iter()
            .flat_map(|said| said.value)
            .collect(),
            by_span: by.map(|field| field.whole),
            grades: said::list(all, "grade", |value| match value {
                // What one part is graded at is no grade of the piece.
                Value::Grade(grade) if grade.part.is_none() => Some(grade.clone()),
                _ => None,
            }),
            publisher: said::words(all, "publisher"),
            techniques: said::words(all, "techniques"),
            features: said::words(all, "features"),
            suits: said::words(all, "suits"),
            liked: said::words(all, "liked"),
            styles: said::words(all, "style"),
            centers: changes::centers(said::stages(all, "tonal center", |value| match value {
                Value::Key(key) => Some(*key),
                _ => None,
            })),
            signatures: changes::signatures(said::stages(all, "key signature", |value| match value {
                Value::Signature(signature) => Some(*signature),
                _ => None,
            })),
            meters: changes::meters(said::stages(all, "meter", |value| match value {
                Value::Meter(meter) => Some(meter.clone()),
                _ => None,
            })),
            tempos: changes::tempos(said::stages(all, "tempo", |value| match value {
                Value::Tempo(tempo) => Some(tempo.clone()),
                _ => None,
            })),
            measures: said::first(all, "measures", |value| match value {
                Value::Number(number) => Some(*number),
                Value::Counted { printed, .. } => *printed,
                _ => None,
            }),
            pickup: said::first(all, "pickup", take!(Pickup)),
            bands: said::list(all, "for", take!(Titled)),
            judged: said::first(all, "judged", take!(YesNo)),
            events: said::first(all, "events", take!(Events)),
            lasts: said::first(all, "lasts", |value| match value {
                Value::Lasts(lasts) => Some(*lasts),
                _ => None,
            }),
            marks: said::list(all, "rehearsal marks", |value| match value {
                Value::Mark(mark) => Some(vec![mark.clone()]),
                Value::Marks(said) => Some(said.marks()),
                _ => None,
            })
            .into_iter()
            .flat_map(|said| {
                let marks = said.value.clone();
                marks.into_iter().map(move |mark| said.clone().map(|_| mark))
            })
            .collect(),
            road: said::list(all, "roadmap", |value| match value {
                Value::Road(step) => Some(step.clone()),
                _ => None,
            }),
            road_in_words: road_items
                .into_iter()
                .any(|item| !matches!(item.value, Some(Value::Road(_)))),
            form: said::words(all, "form"),
            movements: movements(all, text),
            parts: said::rows(all, "parts")
                .filter(|row| is_there(&row.row))
                .map(|row| row.row.clone())
                .collect(),
            complete_with: complete_with(all),
            percussion: said::rows(all, "percussion")
                .filter(|row| is_there(&row.row))
                .map(|row| row.row.clone())
                .collect(),
            percussion_count: said::rows(all, "percussion").find_map(|row| row.row.count),
            pages: said::rows(all, "pages").map(|row| row.row.clone()).collect(),
            track: said::list(all, "track", take!(Track)),
            assigned: said::list(all, "assigned", take!(Pin)),
            needs: said::list(all, "needs", |value| match value {
                Value::Needs(needs) => Some(needs.clone()),
                _ => None,
            }),
            asks: skills(all, "asks"),
            teaches: skills(all, "teaches"),
            listed: said::list(all, "listed", |value| match value {
                Value::Titled(titled) => Some(titled.clone()),
                _ => None,
            }),
            price: said::first(all, "price", money),
            wanted: wanted(all),
            library: Library::of(all),
            // A piece that was never performed has no performance.
            performed: said::list(all, "performed", performance)
                .into_iter()
                .flat_map(|said| {
                    let each = said.value.each();
                    each.into_iter().map(move |one| said.clone().map(|_| one))
                })
                .collect(),
            stets: said::stets(all),
            unread: unread(all, fields_of(Kind::Piece), text),
        };
        cue_both_ways(&mut piece.parts);
        piece.road_in_words |= piece.is_unread("roadmap");
        let road = std::mem::take(&mut piece.road);
        piece.road = road
            .into_iter()
            .flat_map(|said| {
                let steps = said.value.clone().each();
                steps.into_iter().map(move |step| said.clone().map(|_| step))
            })
            .map(|said| said.map(|step| step.resolved(|point| piece.measure_of(point))))
            .collect();
        to_the_coda(&mut piece.road);
        piece
    }

    /// Whether the card says of the piece that it is in this style.
    pub fn is_style(&self, style: &str) -> bool {
        self.styles.iter().any(|said| {
            said.value
                .to_lowercase()
                .split_whitespace()
                .any(|word| word == style)
        })
    }

    /// The measure a mark stands at, whatever its capitals.
    pub fn mark(&self, name: &str) -> Option<u32> {
        self.marks
            .iter()
            .find(|mark| mark.value.name.eq_ignore_ascii_case(name))
            .map(|mark| mark.value.measure)
    }

    /// The measure of a point.
    pub fn measure_of(&self, point: &Point) -> Option<u32> {
        let last = || self.measures.as_ref().map(|measures| measures.value);
        match point {
            Point::Measure(measure) => Some(*measure),
            Point::Mark(name) => self.mark(name),
            Point::Beside(name, away) => self.mark(name)?.checked_add_signed(*away),
            Point::Pickup(measure) => Some(measure.saturating_sub(1).max(1)),
            Point::FromEnd(away) => last()?.checked_sub(*away),
        }
    }

    /// The first and last measure of a place; a place that starts at a point runs to the last measure, where that is known.
    pub fn stretch_of(&self, place: &Place) -> Option<Stretch> {
        let end = self.measures.as_ref().map(|measures| measures.value);
        match place {
            Place::Movement(_) => None,
            Place::Throughout => Some(Stretch { first: 1, last: end? }),
            Place::At(point) => {
                let first = self.measure_of(point)?;
                Some(Stretch {
                    first,
                    last: end.unwrap_or(first).max(first),
                })
            }
            Place::Between(from, to) => Some(Stretch {
                first: self.measure_of(from)?,
                last: self.measure_of(to)?,
            }),
        }
    }
}

impl Library {
    fn of(all: &[FieldReading]) -> Library {
        let mut library = Library::default();
        for field in said::fields(all, "library") {
            let Body::Block(inside) = &field.body else {
                continue;
            };
            let copies = |name| {
                said::list(inside, name, |value| match value {
                    Value::Copies(copies) => Some(copies.clone()),
                    _ => None,
                })
            };
            library.said = true;
            let place = || said::words(inside, "place").into_iter().next();
            library.place = library.place.take().or_else(place);
            let counted = copies("copies")
                .into_iter()
                .filter(|said| !said.value.is_nothing());
            let (short, there): (Vec<_>, Vec<_>) = counted.partition(|said| said.value.short);
            library.copies.extend(there);
            library.short.extend(short);
            // `missing nothing` is a count, and no part is missing by it.
            let missing = copies("missing")
                .into_iter()
                .filter(|said| !said.value.is_nothing());
            library.missing.extend(missing);
            library.lent.extend(said::list(inside, "lent", take!(Loan)));
            library.counted = library.counted.take().or_else(|| {
                said::first(inside, "counted", |value| match value {
                    Value::Moment(moment) => Some(moment.day),
                    _ => None,
                })
            });
            library
                .license
                .extend(said::list(inside, "license", take!(License)));
            library.bought = library
                .bought
                .take()
                .or_else(|| said::first(inside, "bought", take!(Bought)))
                .or_else(|| {
                    said::first(inside, "price", |value| match value {
                        Value::Price(price) => price.bought.clone(),
                        _ => None,
                    })
                });
            library.part_price = library.part_price.take().or_else(|| {
                said::first(inside, "price", |value| match value {
                    Value::Price(price) => price.part.clone(),
                    _ => None,
                })
            });
            library.price = library
                .price
                .take()
                .or_else(|| said::first(inside, "price", money));
        }
        library
    }
}

/// Whether a row says of a part that the piece has it: `bassoon none` says that it has none.
fn is_there(row: &RowItem) -> bool {
    !row.names.is_empty() && row.facts.iter().all(|fact| fact.what != Fact::NoPart)
}

/// Said in a row of the parts, or on a line of its own.
fn complete_with(all: &[FieldReading]) -> Option<Said<Vec<u32>>> {
    let in_parts = said::rows(all, "parts")
        .flat_map(|row| &row.row.facts)
        .find_map(|fact| match &fact.what {
            Fact::CompleteWith(numbers) => Some(Said {
                value: numbers.clone(),
                span: fact.span,
                about: fact.about,
                open: fact.open,
                partial: false,
            }),
            _ => None,
        });
    in_parts.or_else(|| said::first(all, "complete with", take!(PartNumbers)))
}

fn performance(value: &Value) -> Option<Performance> {
    match value {
        Value::Performance(performance) if !performance.is_never() => Some(performance.clone()),
        _ => None,
    }
}

pub(super) fn money(value: &Value) -> Option<Money> {
    match value {
        Value::Price(price) => price.money.clone(),
        _ => None,
    }
}

pub(super) fn skills(all: &[FieldReading], name: &str) -> Vec<Said<Skill>> {
    said::list(all, name, |value| match value {
        // A skill that is said not to be asked or taught is none of those that are.
        Value::Skill(skill) if !skill.not => Some(skill.clone()),
        _ => None,
    })
}

/// `D.S. at 76, to coda at 32, coda at 77` tells the way as it is played: behind the jump and on to the coda.
fn to_the_coda(road: &mut [Said<RoadStep>]) {
    for at in 1..road.len() {
        let (before, behind) = road.split_at_mut(at);
        if let Some(RoadStep::Jump {
            until: until @ Until::End,
            ..
        }) = before.last_mut().map(|said| &mut said.value)
            && let Some(RoadStep::ToCoda(nth, _)) = behind.first().map(|said| &said.value)
            && let nth = *nth
            && behind
                .iter()
                .any(|said| matches!(&said.value, RoadStep::Coda(other, _) if *other == nth))
        {
            *until = Until::Coda(nth);
        }
    }
}

/// A part that has cues for another says of the other that it is cued there.
fn cue_both_ways(parts: &mut [RowItem]) {
    let mut cued: Vec<(RowName, RowFact)> = Vec::new();
    for row in parts.iter() {
        for fact in &row.facts {
            let Fact::Relation {
                relation: Relation::CuesFor,
                targets,
                place,
                ..
            } = &fact.what
            else {
                continue;
            };
            let what = Fact::Relation {
                relation: Relation::CuedIn,
                target: joined(&row.names),
                targets: row.names.clone(),
                target_span: fact.span,
                place: place.clone(),
            };
            let back = RowFact { what, ..fact.clone() };
            cued.extend(targets.iter().map(|target| (target.clone(), back.clone())));
        }
    }
    for (target, fact) in cued {
        let whose = |name: &RowName| {
            name.text.eq_ignore_ascii_case(&target.text)
                && (target.numbers.is_none() || name.numbers == target.numbers)
        };
        for row in parts.iter_mut().filter(|row| row.names.iter().any(whose)) {
            row.facts.push(fact.clone());
        }
    }
}

fn movements(all: &[FieldReading], text: &str) -> Vec<Movement> {
    let rows: Vec<_> = said::rows(all, "movements").collect();
    rows.iter()
        .enumerate()
        .filter_map(|(index, row)| {
            let name = row.row.names.first()?;
            Some(Movement {
                number: name.numbers.map_or(index as u32 + 1, |(number, _)| number),
                title: name.text.clone(),
                span: row.row.span,
                piece: of_movement(row, text),
                attacca: row
                    .row
                    .facts
                    .iter()
                    .any(|fact| fact.what == Fact::Order(Order::Attacca)),
            })
        })
        .collect()
}

/// A meter, key or tempo beside a movement's title, as the field that a line of its own would be.
fn line_beside_the_title(fact: &RowFact) -> Option<FieldReading> {
    let Fact::Line(field, stages) = &fact.what else {
        return None;
    };
    let (spec, _) = crate::notation::fields::find(crate::notation::fields::movement_fields(), field)?;
    Some(FieldReading {
        line: 0,
        word: Span::at(fact.span.start),
        spec: Some(spec),
        whole: fact.span,
        body: Body::Items(stages.clone()),
    })
}

/// What a movement's own lines say, and its row beside its title.
fn of_movement(row: &TableRow, text: &str) -> Piece {
    let mut fields = row.fields.clone();
    fields.extend(row.row.facts.iter().filter_map(line_beside_the_title));
    let mut piece = Piece::of(&fields, text);
    for fact in &row.row.facts {
        let said = Said {
            value: (),
            span: fact.span,
            about: fact.about,
            open: fact.open,
            partial: false,
        };
        match fact.what {
            Fact::Measures(measures) if piece.measures.is_none() => {
                piece.measures = Some(said.map(|()| measures));
            }
            Fact::Lasts(clock) if piece.lasts.is_none() => {
                piece.lasts = Some(said.map(|()| Lasts {
                    low: clock,
                    high: clock,
                    recorded: None,
                    shorter: None,
                }));
            }
            _ => {}
        }
    }
    piece
}
