//! One card as the catalogue keeps it: its text, its facts, and the names it uses.

use xxhash_rust::xxh3::{xxh3_64, xxh3_64_with_seed};

use crate::notation::row::{Fact, Relation};
use crate::notation::values::{Value, Who};
use crate::notation::{self, Body, FieldReading, Kind, Reading};
use crate::text::{Shared, Span};

use super::model::Facts;
use super::names::key;
use super::quotes::quoted_spans;

/// One card. Its places count from the start of its own text, so it stays true wherever in a file it moves.
#[derive(Debug, PartialEq)]
pub struct Entry {
    /// What it is; none for lines above the first card of a file.
    pub kind: Option<Kind>,
    /// Its name as written.
    pub name: String,
    /// Where the name stands.
    pub name_span: Span,
    /// Its text.
    pub text: Shared,
    /// What it says.
    pub facts: Facts,
    /// Names of other cards that it uses.
    pub uses: Vec<NameUse>,
    /// The names on lines that were meant to start another card and do not: `peice "Fogbell"`.
    pub lost: Vec<String>,
    /// A digest of the text, the same for the same text on every machine.
    pub digest: u64,
    /// Skills that its rows ask, as names are compared.
    pub asked: Vec<String>,
    /// A digest of the names of bands, skills and other cards in it, whatever else it says.
    pub used: u64,
}

/// A name of another card where a card uses it.
#[derive(Debug, Clone, PartialEq)]
pub struct NameUse {
    /// What kind of card is meant.
    pub wants: Wants,
    /// The name as written.
    pub name: String,
    /// Who wrote the piece, where that is said to tell two titles apart.
    pub by: Option<String>,
    /// Where the name stands, without its quotes.
    pub span: Span,
    /// The field it stands in.
    pub field: &'static str,
}

/// What kind of card a name is meant to have.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Wants {
    /// A card of this kind, which must be there.
    Card(Kind),
    /// A list or book that may well have no card.
    ListOrBook,
    /// Criteria or a list.
    CriteriaOrList,
    /// A skill, by its bare name; it may well have no card.
    Skill,
    /// An ensemble of the past, which may well have no card any more.
    PastEnsemble,
}

impl Wants {
    /// Whether a card of this kind is what is meant.
    pub fn takes(self, kind: Kind) -> bool {
        match self {
            Wants::Card(wanted) => wanted == kind,
            Wants::ListOrBook => kind == Kind::List,
            Wants::CriteriaOrList => matches!(kind, Kind::Criteria | Kind::List),
            Wants::Skill => kind == Kind::Skill,
            Wants::PastEnsemble => kind == Kind::Ensemble,
        }
    }

    /// Whether something is wrong when there is no such card.
    pub fn must_be_there(self) -> bool {
        matches!(self, Wants::Card(_))
    }
}

/// The quoted names on lines that stand where only cards begin and begin none, and on those that begin one with
/// blanks in front.
fn lost(reading: &Reading, text: &str) -> Vec<String> {
    let strays = reading.tree.strays.iter().map(|stray| stray.body.slice(text));
    let unknown = reading.fields.iter().filter(|field| field.spec.is_none());
    let unknown = unknown
        .map(|field| field.whole.slice(text))
        .filter(|line| notation::starts_indented(line.lines().next().unwrap_or("")));
    strays
        .chain(unknown)
        .filter_map(|line| {
            let line = line.lines().next()?;
            let (_, name) = line.split_once(['"', '“', '”'])?;
            Some(name.trim_end_matches(['"', '“', '”', ' ']).to_owned())
        })
        .filter(|name| !name.is_empty())
        .collect()
}

impl Entry {
    /// Reads one card's text.
    pub fn read(text: Shared) -> Entry {
        let reading = notation::read(&text);
        let head = reading.tree.head.as_ref();
        let facts = Facts::of(&reading, &text);
        let uses = uses(&reading, &text);
        let asked = asked_in_rows(&facts);
        Entry {
            kind: reading.tree.kind(),
            name: head.map(|head| head.name.clone()).unwrap_or_default(),
            name_span: head.map_or(Span::new(0, 0), |head| head.name_span),
            lost: lost(&reading, &text),
            used: used(&uses, &asked),
            asked,
            facts,
            uses,
            digest: xxh3_64(text.as_bytes()),
            text,
        }
    }

    /// The card read anew, as deep as the notation reads.
    pub fn reading(&self) -> Reading {
        notation::read(&self.text)
    }

    /// The piece's facts, if it is a piece.
    pub fn piece(&self) -> Option<&super::model::Piece> {
        match &self.facts {
            Facts::Piece(piece) => Some(piece),
            _ => None,
        }
    }

    /// The ensemble's facts, if it is an ensemble.
    pub fn ensemble(&self) -> Option<&super::model::Ensemble> {
        match &self.facts {
            Facts::Ensemble(ensemble) => Some(ensemble),
            _ => None,
        }
    }

    /// The concert's facts, if it is a concert.
    pub fn concert(&self) -> Option<&super::model::Concert> {
        match &self.facts {
            Facts::Concert(concert) => Some(concert),
            _ => None,
        }
    }

    /// The handbook's facts, if it is the handbook.
    pub fn handbook(&self) -> Option<&super::model::Handbook> {
        match &self.facts {
            Facts::Handbook(handbook) => Some(handbook),
            _ => None,
        }
    }

    /// The findings it lets stand.
    pub fn stets(&self) -> &[super::model::StetSaid] {
        match &self.facts {
            Facts::Handbook(card) => &card.stets,
            Facts::Ensemble(card) => &card.stets,
            Facts::Piece(card) => &card.stets,
            Facts::Concert(card) => &card.stets,
            Facts::Criteria(card) => &card.stets,
            Facts::Bundle(card) => &card.stets,
            Facts::List(card) => &card.stets,
            Facts::Skill(card) => &card.stets,
            Facts::Instrument(card) => &card.stets,
            Facts::Nothing => &[],
        }
    }
}

/// A digest of names of other cards, those of skills that a row asks included.
fn used(uses: &[NameUse], asked: &[String]) -> u64 {
    let mut digest = 0;
    let mut add = |text: &str| digest = xxh3_64_with_seed(text.as_bytes(), digest);
    for name in uses {
        add(name.field);
        add(&name.name);
        add(name.by.as_deref().unwrap_or(""));
    }
    asked.iter().for_each(|skill| add(skill));
    digest
}

/// The skills that rows of a piece ask, as names are compared, each once.
fn asked_in_rows(facts: &Facts) -> Vec<String> {
    let Facts::Piece(piece) = facts else {
        return Vec::new();
    };
    let movements = piece.movements.iter();
    let movements = movements.flat_map(|movement| &movement.piece.percussion);
    let rows = piece.parts.iter().chain(&piece.percussion).chain(movements);
    let facts = rows.flat_map(|row| &row.facts);
    let mut asked: Vec<String> = facts
        .filter_map(|fact| match &fact.what {
            Fact::Asks(asked) => Some(key(asked)),
            _ => None,
        })
        .collect();
    asked.sort_unstable();
    asked.dedup();
    asked
}

/// All names of other cards in a card.
fn uses(reading: &Reading, text: &str) -> Vec<NameUse> {
    let mut found = Vec::new();
    let Some(kind) = reading.tree.kind() else {
        return found;
    };
    for field in &reading.fields {
        uses_of_field(kind, field, text, &mut found);
    }
    found
}

fn uses_of_field(kind: Kind, field: &FieldReading, text: &str, found: &mut Vec<NameUse>) {
    let Some(name) = field.name() else { return };
    let wants = match (kind, name) {
        (Kind::Handbook | Kind::Concert | Kind::Piece, "for") => Wants::Card(Kind::Ensemble),
        (_, "program" | "holds") => Wants::Card(Kind::Piece),
        (_, "performed") => Wants::PastEnsemble,
        (_, "grade" | "listed") => Wants::ListOrBook,
        (_, "calls for") => Wants::CriteriaOrList,
        (_, "asks" | "teaches" | "taught" | "introduced" | "after") => Wants::Skill,
        _ => return,
    };
    match &field.body {
        Body::Items(items) => {
            for item in items {
                item_uses(wants, name, item.core, item.value.as_ref(), text, found);
            }
        }
        Body::Rows(rows) => {
            for fact in rows.iter().flat_map(|row| &row.row.facts) {
                match &fact.what {
                    Fact::Title(titled) => {
                        if let Some(span) = quoted_spans(text, fact.span).into_iter().next() {
                            found.push(NameUse {
                                wants,
                                name: titled.name.clone(),
                                by: titled.by.clone(),
                                span,
                                field: name,
                            });
                        }
                    }
                    Fact::Relation {
                        relation: Relation::For,
                        target_span,
                        ..
                    } => quoted(Wants::Card(Kind::Ensemble), name, *target_span, text, found),
                    _ => {}
                }
            }
        }
        _ => {}
    }
}

fn item_uses(
    wants: Wants,
    field: &'static str,
    span: Span,
    value: Option<&Value>,
    text: &str,
    found: &mut Vec<NameUse>,
) {
    match value {
        Some(Value::Titled(titled)) => {
            if let Some(span) = quoted_spans(text, span).into_iter().next() {
                found.push(NameUse {
                    wants,
                    name: titled.name.clone(),
                    by: titled.by.clone(),
                    span,
                    field,
                });
            }
        }
        Some(Value::Skill(skill)) if !skill.name.starts_with('"') => found.push(NameUse {
            wants,
            name: skill.name.clone(),
            by: None,
            span: Span::long(span.start, skill_length(span.slice(text), &skill.name)),
            field,
        }),
        // A festival and a director's own words stand in quotation marks too, and are no bands.
        Some(Value::Performance(performance)) => {
            let mut all = Vec::new();
            quoted(wants, field, span, text, &mut all);
            found.extend(
                all.into_iter()
                    .filter(|name| performance.bands.contains(&name.name)),
            );
        }
        Some(Value::Grade(grade)) if !matches!(grade.who, Who::List(_)) => {}
        Some(_) => quoted(wants, field, span, text, found),
        None => {}
    }
}

/// The length of a skill's name as it stands, before its `by DATE`.
fn skill_length(written: &str, name: &str) -> u32 {
    let by = written.rfind(" by ").filter(|_| !name.contains(" by "));
    by.map_or(written, |at| written.get(..at).unwrap_or(written))
        .trim_end()
        .len() as u32
}

fn quoted(wants: Wants, field: &'static str, span: Span, text: &str, found: &mut Vec<NameUse>) {
    for span in quoted_spans(text, span) {
        found.push(NameUse {
            wants,
            name: span.slice(text).trim().to_owned(),
            by: None,
            span,
            field,
        });
    }
}
