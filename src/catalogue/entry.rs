//! One card as the catalogue keeps it: its text, its facts, and the names it uses.

use std::sync::OnceLock;

use xxhash_rust::xxh3::{xxh3_64, xxh3_64_with_seed};

use crate::notation::fields::FieldSpec;
use crate::notation::row::{Fact, Relation};
use crate::notation::values::{Person, Value, Who};
use crate::notation::{self, Body, FieldReading, Kind, Reading, TableRow};
use crate::text::{Shared, Span};

use super::model::{Facts, Piece};
use super::names::key;
use super::quotes::quoted_spans;

/// One card. Its places count from the start of its own text, so it stays true wherever in a file it moves.
#[derive(Debug)]
pub struct Entry {
    /// What it is; none for lines above the first card of a file.
    pub kind: Option<Kind>,
    /// Its name as written.
    pub name: String,
    /// Where the name stands.
    pub name_span: Span,
    /// Its text.
    pub text: Shared,
    /// What it shows to all other cards.
    pub face: Face,
    /// What it says. A piece's facts are taken out of its text when somebody asks.
    facts: OnceLock<Facts>,
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

/// What a piece's card shows to all others.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Face {
    /// Who wrote, arranged, transcribed or edited it.
    pub by: Vec<Person>,
    /// Who publishes it, where the card says so for certain.
    pub house: Option<String>,
    /// The ensembles that play it, where it is not for everybody.
    pub bands: Vec<String>,
    /// Whether the card says that it is judged for no band.
    pub unjudged: bool,
    /// The words of lines that other cards may ask for, each with the name of its line.
    words: Box<[(&'static str, Box<str>)]>,
}

impl Face {
    fn of(piece: &Piece) -> Face {
        Face {
            by: piece.by.clone(),
            house: piece.house().map(|house| house.value.clone()),
            bands: piece.bands.iter().map(|band| band.value.name.clone()).collect(),
            unjudged: !piece.is_judged(),
            words: words(piece).collect(),
        }
    }

    /// The words that stand on the lines of a name, one item after another: `style`, `techniques`, `features`,
    /// `suits`, `liked`, `publisher`, `asks` or `teaches`.
    pub fn words<'f>(&'f self, line: &'f str) -> impl Iterator<Item = &'f str> {
        let words = self.words.iter().filter(move |(name, _)| *name == line);
        words.map(|(_, words)| &**words)
    }
}

fn words(piece: &Piece) -> impl Iterator<Item = (&'static str, Box<str>)> {
    let plain = [
        ("style", &piece.styles),
        ("techniques", &piece.techniques),
        ("features", &piece.features),
        ("suits", &piece.suits),
        ("liked", &piece.liked),
        ("publisher", &piece.publisher),
    ];
    let skills = [("asks", &piece.asks), ("teaches", &piece.teaches)];
    let plain = plain
        .into_iter()
        .flat_map(|(name, all)| all.iter().map(move |said| (name, said.value.as_str())));
    let skills = skills
        .into_iter()
        .flat_map(|(name, all)| all.iter().map(move |said| (name, said.value.name.as_str())));
    plain.chain(skills).map(|(name, words)| (name, words.into()))
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

impl PartialEq for Entry {
    /// All that is kept follows from the text.
    fn eq(&self, other: &Entry) -> bool {
        self.text == other.text
    }
}

impl Entry {
    /// Reads one card's text: all of it, but of a piece only what other cards must know.
    pub fn read(text: Shared) -> Entry {
        let is_piece = notation::kind_of(&text) == Some(Kind::Piece);
        let reading = match is_piece {
            true => notation::read_some(&text, others_must_know),
            false => notation::read(&text),
        };
        let facts = match is_piece {
            true => OnceLock::new(),
            false => OnceLock::from(Facts::of(&reading, &text)),
        };
        let head = reading.tree.head.as_ref();
        let uses = uses(&reading, &text);
        let face = match reading.tree.kind() {
            Some(Kind::Piece) => Face::of(&Piece::of(&reading.fields, &text)),
            _ => Face::default(),
        };
        let asked = asked_in_rows(&reading);
        Entry {
            kind: reading.tree.kind(),
            name: head.map(|head| head.name.clone()).unwrap_or_default(),
            name_span: head.map_or(Span::new(0, 0), |head| head.name_span),
            lost: lost(&reading, &text),
            used: used(&uses, &asked),
            asked,
            face,
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

    /// What the card says.
    pub fn facts(&self) -> &Facts {
        self.facts
            .get_or_init(|| Facts::of(&notation::read(&self.text), &self.text))
    }

    /// What the card says, by a reading of it that is there already.
    pub fn facts_of(&self, reading: &Reading) -> &Facts {
        self.facts.get_or_init(|| Facts::of(reading, &self.text))
    }

    /// What the card says, where somebody has asked before.
    pub fn known_facts(&self) -> Option<&Facts> {
        self.facts.get()
    }

    /// The piece's facts, if it is a piece.
    pub fn piece(&self) -> Option<&Piece> {
        match self.kind {
            Some(Kind::Piece) => self.facts().piece(),
            _ => None,
        }
    }

    /// What the card says, if it is of this kind.
    fn knows(&self, kind: Kind) -> Option<&Facts> {
        (self.kind == Some(kind)).then(|| self.facts())
    }

    /// The ensemble's facts, if it is an ensemble.
    pub fn ensemble(&self) -> Option<&super::model::Ensemble> {
        match self.knows(Kind::Ensemble)? {
            Facts::Ensemble(ensemble) => Some(ensemble),
            _ => None,
        }
    }

    /// The concert's facts, if it is a concert.
    pub fn concert(&self) -> Option<&super::model::Concert> {
        match self.knows(Kind::Concert)? {
            Facts::Concert(concert) => Some(concert),
            _ => None,
        }
    }

    /// The handbook's facts, if it is the handbook.
    pub fn handbook(&self) -> Option<&super::model::Handbook> {
        match self.knows(Kind::Handbook)? {
            Facts::Handbook(handbook) => Some(handbook),
            _ => None,
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
fn asked_in_rows(reading: &Reading) -> Vec<String> {
    if reading.tree.kind() != Some(Kind::Piece) {
        return Vec::new();
    }
    let mut asked: Vec<String> = Vec::new();
    let own = rows_named(&reading.fields, &["parts", "percussion"]);
    let movements = rows_named(&reading.fields, &["movements"])
        .filter(|row| !row.row.names.is_empty())
        .flat_map(|row| rows_named(&row.fields, &["percussion"]));
    for row in own.chain(movements).filter(|row| !row.row.names.is_empty()) {
        asked.extend(row.row.facts.iter().filter_map(|fact| match &fact.what {
            Fact::Asks(asked) => Some(key(asked)),
            _ => None,
        }));
    }
    asked.sort_unstable();
    asked.dedup();
    asked
}

/// The rows of the tables of these names.
fn rows_named<'f>(fields: &'f [FieldReading], names: &'f [&'f str]) -> impl Iterator<Item = &'f TableRow> {
    let named = move |field: &&FieldReading| field.name().is_some_and(|name| names.contains(&name));
    fields.iter().filter(named).flat_map(FieldReading::rows)
}

/// Whether a field of a piece holds what other cards must know; for a table, whether a row in it may ask a skill.
fn others_must_know(spec: Option<&FieldSpec>, whole: &str) -> bool {
    let Some(spec) = spec else { return true };
    match spec.name {
        "by" | "publisher" | "judged" | "style" | "techniques" | "features" | "suits" | "liked" => true,
        "parts" | "percussion" | "movements" => {
            let bytes = whole.as_bytes();
            let says = |word: &[u8]| {
                bytes
                    .windows(word.len())
                    .any(|found| found.eq_ignore_ascii_case(word))
            };
            says(b"asks") || says(b"teaches")
        }
        name => meant_by(Kind::Piece, name).is_some(),
    }
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

/// What kind of card the names in a field are meant to have; none where no other card is named there.
fn meant_by(kind: Kind, field: &str) -> Option<Wants> {
    Some(match (kind, field) {
        (Kind::Handbook | Kind::Concert | Kind::Piece, "for") | (Kind::Concert, "length") => {
            Wants::Card(Kind::Ensemble)
        }
        (_, "program" | "holds" | "assigned") => Wants::Card(Kind::Piece),
        (_, "performed") => Wants::PastEnsemble,
        (_, "grade" | "listed") => Wants::ListOrBook,
        (_, "calls for") => Wants::CriteriaOrList,
        (_, "asks" | "teaches" | "taught" | "introduced" | "after") => Wants::Skill,
        _ => return None,
    })
}

fn uses_of_field(kind: Kind, field: &FieldReading, text: &str, found: &mut Vec<NameUse>) {
    let Some(name) = field.name() else { return };
    let Some(wants) = meant_by(kind, name) else { return };
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
                        let bare = titled
                            .bare
                            .then(|| Span::long(fact.span.start, titled.name.len() as u32));
                        if let Some(span) = bare.or_else(|| quoted_spans(text, fact.span).into_iter().next())
                        {
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
