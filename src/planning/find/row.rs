//! What a card says of a piece in short, for a line of a table.

use std::cmp::Ordering;

use jiff::civil::Date;

use crate::catalogue::Snapshot;
use crate::catalogue::conditions::{Subject, lasts};
use crate::catalogue::names::key;
use crate::notation::values::{Grade, Money, Who};

/// What a card says of a piece in short.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// The title; with who wrote it where several pieces share it.
    pub name: String,
    /// The title alone.
    pub title: String,
    /// Who wrote and arranged it, by name.
    pub by: Vec<String>,
    /// Its grades, each as the card says it, ours first.
    pub grades: Vec<String>,
    /// The grade that counts for the order: ours, else the first; in hundredths.
    pub grade: Option<u32>,
    /// Its styles.
    pub styles: Vec<String>,
    /// The shortest and the longest it lasts, in seconds.
    pub lasts: Option<(u64, u64)>,
    /// What it costs.
    pub price: Option<Money>,
    /// Whether the set is in the library; none where no card says so.
    pub owned: Option<bool>,
    /// The last day it may have been performed on.
    pub performed: Option<Date>,
    /// Whether it was performed at all.
    pub was_performed: bool,
}

/// In what order pieces are listed. What is not known comes last.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Order {
    /// By title.
    #[default]
    Title,
    /// The easiest first.
    Grade,
    /// The shortest first.
    Length,
    /// The cheapest first.
    Price,
    /// Those never performed, then those performed longest ago.
    Performed,
}

impl Order {
    /// Which of two comes first.
    pub fn compare(self, one: &Row, other: &Row) -> Ordering {
        fn known_first<T: Ord>(one: Option<T>, other: Option<T>) -> Ordering {
            match (one, other) {
                (Some(one), Some(other)) => one.cmp(&other),
                (one, other) => other.is_some().cmp(&one.is_some()),
            }
        }
        let price = |row: &Row| {
            let money = row.price.as_ref()?;
            Some((money.currency.clone(), money.cents))
        };
        let first = match self {
            Order::Title => Ordering::Equal,
            Order::Grade => known_first(one.grade, other.grade),
            Order::Length => known_first(one.lasts, other.lasts),
            Order::Price => known_first(price(one), price(other)),
            Order::Performed => one
                .was_performed
                .cmp(&other.was_performed)
                .then(known_first(one.performed, other.performed)),
        };
        first.then_with(|| key(&one.name).cmp(&key(&other.name)))
    }
}

/// The title; `Air by Lindqvist` where several pieces share it.
pub fn name_of(snapshot: &Snapshot, subject: &Subject<'_>) -> String {
    let title = &subject.entry.name;
    let shared = snapshot.pieces_titled(title, None).len() > 1;
    match subject.piece.by.first().filter(|_| shared) {
        Some(person) => format!("{title} by {}", person.name),
        None => title.clone(),
    }
}

/// What a card says in short.
pub fn row(snapshot: &Snapshot, subject: &Subject<'_>) -> Row {
    let piece = subject.piece;
    let certain: Vec<&Grade> = piece
        .grades
        .iter()
        .filter(|said| !said.open)
        .map(|said| &said.value)
        .collect();
    let ours = certain.iter().find(|grade| grade.who == Who::Ours);
    let price = piece.price.as_ref().or(piece.library.price.as_ref());
    Row {
        name: name_of(snapshot, subject),
        title: subject.entry.name.clone(),
        by: piece.by.iter().map(|person| person.name.clone()).collect(),
        grades: {
            let mut all: Vec<&Grade> = piece.grades.iter().map(|said| &said.value).collect();
            all.sort_by_key(|grade| grade.who != Who::Ours);
            all.into_iter().map(ToString::to_string).collect()
        },
        grade: ours.or(certain.first()).map(|grade| grade.low),
        styles: piece.styles.iter().map(|said| said.value.clone()).collect(),
        lasts: lasts(subject),
        price: price.map(|said| said.value.clone()),
        owned: piece.has_set(),
        performed: piece
            .performed
            .iter()
            .filter_map(|said| said.value.day?.last())
            .max(),
        was_performed: !piece.performed.is_empty(),
    }
}

/// `4:10`; `4:00-4:20` where the card leaves a span.
pub fn length_words((low, high): (u64, u64)) -> String {
    let clock = |seconds: u64| format!("{}:{:02}", seconds / 60, seconds % 60);
    match low == high {
        true => clock(low),
        false => format!("{}-{}", clock(low), clock(high)),
    }
}
