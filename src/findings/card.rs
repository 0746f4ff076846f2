//! A card as a rule sees it: its text, its reading, its facts, and the catalogue around it.

use std::cell::{OnceCell, RefCell};
use std::sync::Arc;

use jiff::civil::Date;

use crate::catalogue::course::Course;
use crate::catalogue::model::{Ensemble, Facts, Piece};
use crate::catalogue::names::{key, nearly_alike};
use crate::catalogue::{Entry, EntryId, Judge, Snapshot, instrument_named, percussion};
use crate::music::instruments::Table;
use crate::music::{Instrument, Instruments};
use crate::notation::{FieldReading, Kind, Reading};
use crate::text::{Over, Span};

use super::finding::Related;
use super::judging::{self, Judging};
use super::notation::instruments::{self, Named};
use super::notation::places;
use super::notation::walk::{self, Level};

/// A card under the eyes of a rule. What follows from the card is worked out by the first rule that asks, and
/// kept while the card is looked at.
pub struct Card<'s> {
    /// The catalogue around it.
    pub snapshot: &'s Snapshot,
    /// Where it stands.
    pub id: EntryId,
    /// The card.
    pub entry: &'s Arc<Entry>,
    /// The card as deep as the notation reads.
    pub reading: &'s Reading,
    /// What it says.
    pub facts: &'s Facts,
    worked: Worked<'s>,
}

/// What has been worked out of a card so far.
#[derive(Default)]
struct Worked<'s> {
    courses: OnceCell<Vec<Course<'s>>>,
    percussion: OnceCell<Vec<percussion::Course>>,
    rows_of_percussion: OnceCell<Vec<percussion::Course>>,
    judgings: OnceCell<Vec<Judging<'s>>>,
    levels: OnceCell<Vec<Level<'s>>>,
    levels_over: OnceCell<Over>,
    places: OnceCell<Vec<Vec<places::Named<'s>>>>,
    instruments: OnceCell<Vec<Named>>,
    /// See [`Card::near_titles`].
    titles: OnceCell<Vec<(&'s [EntryId], bool)>>,
    /// The instruments that names of the card mean.
    meant: RefCell<Table<Box<str>, Option<&'s Instrument>>>,
}

impl<'s> Card<'s> {
    /// A card, of which nothing has been worked out yet.
    pub fn new(
        snapshot: &'s Snapshot,
        id: EntryId,
        entry: &'s Arc<Entry>,
        reading: &'s Reading,
        facts: &'s Facts,
    ) -> Card<'s> {
        Card {
            facts,
            snapshot,
            id,
            entry,
            reading,
            worked: Worked::default(),
        }
    }

    /// The course of a piece, then those of its movements; none where the card is no piece.
    pub fn courses(&self) -> &[Course<'s>] {
        self.worked
            .courses
            .get_or_init(|| self.piece().map(Course::all).unwrap_or_default())
    }

    /// The percussion of a piece and of its movements, with the handbook's one-player groups.
    pub fn percussion(&self) -> &[percussion::Course] {
        self.worked.percussion.get_or_init(|| {
            let piece = self.piece();
            let of = |piece| percussion::courses(piece, self.instruments(), self.snapshot.covered_together());
            piece.map(of).unwrap_or_default()
        })
    }

    /// The percussion of a piece and of its movements as the card has it.
    pub fn rows_of_percussion(&self) -> &[percussion::Course] {
        if self.snapshot.covered_together().is_empty() {
            return self.percussion();
        }
        let of = |piece| percussion::courses(piece, self.instruments(), &[]);
        self.worked
            .rows_of_percussion
            .get_or_init(|| self.piece().map(of).unwrap_or_default())
    }

    /// Who judges a piece: the bands of each concert to come that lists it; else each of the usual bands.
    pub(super) fn judgings(&self) -> &[Judging<'s>] {
        self.worked.judgings.get_or_init(|| judging::judgings(self))
    }

    /// The pieces of each title that may be a slip for this piece's, or is the same; with whether it is. Only titles
    /// of which one stands on an earlier card.
    pub(super) fn near_titles(&self) -> &[(&'s [EntryId], bool)] {
        self.worked.titles.get_or_init(|| {
            let name = &self.entry.name;
            if self.piece().is_none() || name.is_empty() {
                return Vec::new();
            }
            let own = key(name);
            let near = self.snapshot.names().near_titles(name);
            let earlier = near.filter(|(_, pieces)| pieces.first().is_some_and(|first| *first < self.id));
            earlier
                .map(|(title, pieces)| (title, pieces, title == own))
                .filter(|(title, _, same)| *same || nearly_alike(title, name))
                .map(|(_, pieces, same)| (pieces, same))
                .collect()
        })
    }

    /// All levels of the card, the card itself first.
    pub(super) fn levels(&self) -> &[Level<'s>] {
        self.worked.levels.get_or_init(|| walk::levels(self))
    }

    /// Where the levels of the card stand, to be asked which of them a place touches.
    pub(super) fn levels_over(&self) -> &Over {
        self.worked.levels_over.get_or_init(|| {
            Over::of(self.levels().iter().map(|level| {
                let start = level.fields.first().map_or(0, |field| field.whole.start);
                Span::new(start, level.fields.last().map_or(start, |field| field.whole.end))
            }))
        })
    }

    /// All levels of the card, each with the places in the music that it names.
    pub(super) fn places(&self) -> impl Iterator<Item = (&Level<'s>, &[places::Named<'s>])> {
        let places = self.worked.places.get_or_init(|| {
            let levels = self.levels().iter();
            levels.map(|level| places::named(level, self)).collect()
        });
        self.levels().iter().zip(places.iter().map(Vec::as_slice))
    }

    /// All instruments that the card names in its tables of parts and players and in its lists of instruments.
    pub(super) fn named_instruments(&self) -> &[Named] {
        self.worked.instruments.get_or_init(|| instruments::named(self))
    }

    /// The card's text.
    pub fn text(&self) -> &'s str {
        &self.entry.text
    }

    /// The words at a place of the card.
    pub fn words(&self, span: Span) -> &'s str {
        span.slice(&self.entry.text)
    }

    /// The card's kind.
    pub fn kind(&self) -> Option<Kind> {
        self.entry.kind
    }

    /// The piece's facts, if it is a piece.
    pub fn piece(&self) -> Option<&'s Piece> {
        self.facts.piece()
    }

    /// The ensemble's facts, if it is an ensemble.
    pub fn ensemble(&self) -> Option<&'s Ensemble> {
        self.entry.ensemble()
    }

    /// Whether it is a concert whose day is past.
    pub fn is_over(&self) -> bool {
        let on = self.entry.concert().and_then(|concert| concert.on.as_ref());
        let day = on.and_then(|on| on.value.day.last());
        day.is_some_and(|day| day < self.snapshot.today)
    }

    /// All fields, those inside blocks and under movements included.
    pub fn all_fields(&self) -> Vec<&'s FieldReading> {
        let mut found = Vec::new();
        let mut open: Vec<&FieldReading> = self.reading.fields.iter().rev().collect();
        while let Some(field) = open.pop() {
            found.push(field);
            match &field.body {
                crate::notation::Body::Block(inside) => open.extend(inside.iter().rev()),
                crate::notation::Body::Rows(rows) => {
                    open.extend(rows.iter().rev().flat_map(|row| row.fields.iter().rev()))
                }
                _ => {}
            }
        }
        found
    }

    /// The card's fields of a name.
    pub fn fields<'n>(&self, name: &'n str) -> impl Iterator<Item = &'s FieldReading> + 'n
    where
        's: 'n,
    {
        let reading = self.reading;
        reading
            .fields
            .iter()
            .filter(move |field| field.name() == Some(name))
    }

    /// Where to mark something about the whole card: its name, or its first word.
    pub fn head_span(&self) -> Span {
        match &self.reading.tree.head {
            Some(head) if !head.name_span.is_empty() => head.name_span,
            Some(head) => head.kind_span,
            None => Span::new(0, 0),
        }
    }

    /// The day on which a band plays this piece, where a concert to come says so.
    pub fn day_of(&self, judge: &Judge) -> Option<Date> {
        self.snapshot.entry(judge.concert?)?.concert()?.day()
    }

    /// The bands that judge this piece, with their cards.
    pub fn judges(&self) -> Vec<(Judge, &'s Arc<Entry>, &'s Ensemble)> {
        let snapshot = self.snapshot;
        snapshot
            .judges(self.id)
            .into_iter()
            .filter_map(|judge| {
                let entry = snapshot.entry(judge.ensemble)?;
                Some((judge, entry, entry.ensemble()?))
            })
            .collect()
    }

    /// The instruments of the catalogue.
    pub fn instruments(&self) -> &'s Instruments {
        self.snapshot.instruments()
    }

    /// The one instrument of a name, or of the name's longest end that is one (`advanced snare` is a snare).
    pub fn instrument(&self, name: &str) -> Option<&'s Instrument> {
        if let Some(found) = self.worked.meant.borrow().get(name) {
            return *found;
        }
        let found = instrument_named(self.instruments(), name);
        self.worked.meant.borrow_mut().insert(name.into(), found);
        found
    }

    /// A place on the card that stands there, which explains a finding.
    pub fn beside_card(&self, card: EntryId, span: Span, says: impl Into<String>) -> Related {
        Related {
            card: Some(card).filter(|card| *card != self.id),
            span,
            says: says.into(),
        }
    }

    /// A place on another card that explains a finding.
    pub fn beside(&self, entry: &Arc<Entry>, span: Span, says: impl Into<String>) -> Related {
        let own = Arc::ptr_eq(entry, self.entry);
        Related {
            card: self.snapshot.locate(entry).filter(|_| !own),
            span,
            says: says.into(),
        }
    }
}
