//! A card as a rule sees it: its text, its reading, its facts, and the catalogue around it.

use std::sync::Arc;

use crate::catalogue::model::{Ensemble, Piece};
use crate::catalogue::{Entry, EntryId, Judge, Snapshot, instrument_named};
use crate::music::{Instrument, Instruments};
use crate::notation::{FieldReading, Kind, Reading};
use crate::text::Span;

use super::finding::Related;

/// A card under the eyes of a rule.
pub struct Card<'s> {
    /// The catalogue around it.
    pub snapshot: &'s Snapshot,
    /// Where it stands.
    pub id: EntryId,
    /// The card.
    pub entry: &'s Arc<Entry>,
    /// The card as deep as the notation reads.
    pub reading: &'s Reading,
}

impl<'s> Card<'s> {
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
        self.entry.piece()
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
        instrument_named(self.instruments(), name)
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
