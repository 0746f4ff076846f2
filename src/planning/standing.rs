//! Where a piece stands: the grades it is given, the lists it is on, and each of the catalogue's criteria, condition
//! by condition.

use crate::catalogue::conditions::{Subject, Truth, alone, lowest_met, of_field};
use crate::catalogue::model::{Criteria, Facts};
use crate::catalogue::{EntryId, Snapshot};
use crate::notation::values::{Grade, Who};
use crate::planning::fitting::asking_for;

/// Where a piece stands.
#[derive(Debug, Clone, PartialEq)]
pub struct Standing {
    /// The grades on its card, each as the card says it; open ones with a question mark.
    pub said: Vec<String>,
    /// Its own card's grade that is the director's, in hundredths.
    pub ours: Option<u32>,
    /// The lists whose cards hold it, each with the grade there.
    pub lists: Vec<(String, Option<String>)>,
    /// The lowest of the band's own grades whose criteria it surely meets, in hundredths.
    pub computed: Option<u32>,
    /// Each criteria card: those of the band's own grades first, the lowest before the others.
    pub criteria: Vec<Against>,
}

/// A piece against one criteria card.
#[derive(Debug, Clone, PartialEq)]
pub struct Against {
    /// The card.
    pub card: EntryId,
    /// Its name.
    pub name: String,
    /// The grade that it stands for, in hundredths.
    pub grade: Option<u32>,
    /// Its conditions as they are written, each with the answer. One that counts over a program is not among them.
    pub conditions: Vec<(String, Truth)>,
    /// The conditions that only a whole program can meet, as they are written.
    pub of_programs: Vec<String>,
}

impl Against {
    /// Whether the piece meets all of it.
    pub fn answer(&self) -> Truth {
        Truth::all(self.conditions.iter().map(|(_, truth)| truth.clone()))
    }
}

/// A reason in words that stand by themselves: `it has 4 flats`; for what is not known, what that is.
pub fn reason(truth: &Truth) -> String {
    match truth {
        Truth::Unknown(what) => format!("not known ({what})"),
        Truth::Yes(why) if why.is_empty() => String::new(),
        Truth::Yes(why) | Truth::No(why) => alone(why),
    }
}

/// Where a piece stands, for bands that are named or, where none is, those that play it anyway; none where the card is
/// no piece.
pub fn standing(snapshot: &Snapshot, id: EntryId, bands: &[EntryId]) -> Option<Standing> {
    let subject = Subject::of(id, snapshot.entry(id)?)?;
    let said = subject.piece.grades.iter().map(|said| {
        let open = if said.open { "?" } else { "" };
        format!("{}{open}", said.value)
    });
    let ours = subject.piece.grades.iter().filter(|said| said.is_certain());
    let ours = ours
        .map(|said| &said.value)
        .find(|grade| grade.who == Who::Ours && grade.low == grade.high)
        .map(|grade| grade.low);
    Some(Standing {
        said: said.collect(),
        ours,
        lists: lists(snapshot, id),
        computed: lowest_met(&asking_for(snapshot, bands), &subject),
        criteria: criteria(snapshot, &subject, bands),
    })
}

fn lists(snapshot: &Snapshot, id: EntryId) -> Vec<(String, Option<String>)> {
    let mut found = Vec::new();
    let mut seen = Vec::new();
    for (list, _) in snapshot.uses_of(id) {
        let Some(entry) = snapshot.entry(list).filter(|_| !seen.contains(&list)) else {
            continue;
        };
        seen.push(list);
        let Facts::List(card) = entry.facts() else {
            continue;
        };
        let held = card
            .holds
            .iter()
            .filter(|held| snapshot.pieces_titled(&held.value.name, held.value.by.as_deref()) == [id]);
        for held in held {
            let there = held.value.grade.as_ref().map(|grade| {
                let bare = Grade {
                    who: Who::Unsaid,
                    ..grade.clone()
                };
                let open = if held.open { "?" } else { "" };
                format!("{bare}{open}")
            });
            found.push((entry.name.clone(), there));
        }
    }
    found
}

fn criteria(snapshot: &Snapshot, subject: &Subject<'_>, bands: &[EntryId]) -> Vec<Against> {
    let steps = snapshot.grade_cards();
    let grade_of = |card: EntryId| steps.iter().find(|step| step.card == card).map(|step| step.grade);
    let mut found = Vec::new();
    for (card, entry) in snapshot.entries() {
        let Facts::Criteria(Criteria { calls_for, .. }) = entry.facts() else {
            continue;
        };
        let all = of_field(snapshot, &entry.text, calls_for);
        let written = |span: crate::text::Span| span.slice(&entry.text).to_owned();
        let (of_programs, own): (Vec<_>, Vec<_>) = all.iter().partition(|one| one.counts());
        if all.is_empty() {
            continue;
        }
        // Each condition may open as many named criteria as any other.
        let answers = own
            .into_iter()
            .map(|one| (written(one.span), asking_for(snapshot, bands).piece(one, subject)));
        found.push(Against {
            card,
            name: entry.name.clone(),
            grade: grade_of(card),
            conditions: answers.collect(),
            of_programs: of_programs.into_iter().map(|one| written(one.span)).collect(),
        });
    }
    found.sort_by_key(|one| (one.grade.is_none(), one.grade));
    found
}

/// What a piece answers to a criteria card, in one line: what is missed with the reasons, else what is not known,
/// else that all is met.
pub fn in_short(against: &Against) -> String {
    let of = |wanted: fn(&Truth) -> bool| {
        let all = against.conditions.iter().filter(move |(_, truth)| wanted(truth));
        all.collect::<Vec<_>>()
    };
    let missed = of(Truth::is_no);
    if !missed.is_empty() {
        let missed = missed
            .iter()
            .map(|(words, truth)| format!("{} ({words})", reason(truth)));
        return format!("not met: {}", missed.collect::<Vec<_>>().join(", "));
    }
    let unknown = of(|truth| !truth.is_yes());
    match unknown.is_empty() {
        true => "met".to_owned(),
        false => {
            let unknown = unknown
                .iter()
                .map(|(words, truth)| format!("{words} ({})", reason(truth)));
            format!("not sure: {}", unknown.collect::<Vec<_>>().join(", "))
        }
    }
}
