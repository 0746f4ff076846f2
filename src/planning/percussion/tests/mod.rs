//! From small cards to who plays what.

mod cards;
mod concerts;
mod drawn;
mod odd;
mod pins;

use std::sync::Arc;

use jiff::civil::date;

use super::{Answer, Question, Setting, answer, words};
use crate::catalogue::{CardFile, EntryId, Snapshot};
use crate::notation::Kind;
use crate::planning::assign::Limits;

/// A catalogue of one file, read on a day in the fall of 2026.
pub fn catalogue(text: &str) -> Snapshot {
    let file = Arc::new(CardFile::read("cards.levare", text));
    Snapshot::new(vec![file], date(2026, 10, 20))
}

/// The first card of a kind.
pub fn first(snapshot: &Snapshot, kind: Kind) -> EntryId {
    let found = snapshot.entries().find(|(_, entry)| entry.kind == Some(kind));
    found.expect("a card of this kind").0
}

/// A piece shared out.
pub struct Shared {
    /// The question.
    pub question: Question,
    /// The answer.
    pub answer: Answer,
    /// The sentences, the table left out.
    pub said: Vec<String>,
}

/// Shares out the first piece of a catalogue.
pub fn share(text: &str, absent: &[&str], hand_over: bool) -> Shared {
    let snapshot = catalogue(text);
    let id = first(&snapshot, Kind::Piece);
    let mut setting = Setting::of_piece(&snapshot, id, None);
    let absent: Vec<String> = absent.iter().map(|name| (*name).to_owned()).collect();
    let mut said = setting.leave_at_home(&absent);
    let question = setting.question(&snapshot).expect("a piece");
    let answer = answer(&question, snapshot.instruments(), hand_over, Limits::USUAL);
    let piece = snapshot
        .entry(id)
        .and_then(|entry| entry.piece())
        .expect("a piece");
    said.push(words::for_whom(&snapshot, &setting));
    said.extend(words::coarse(&question, piece));
    said.extend(words::how_many(&question, &answer));
    said.extend(words::of_these(&question, &answer));
    said.extend(words::roster(&question, &answer, true));
    said.extend(words::lacking(&setting.lacking(&snapshot, &question)));
    said.extend(words::times(&question, snapshot.instruments()));
    Shared {
        question,
        answer,
        said,
    }
}

impl Shared {
    /// `all/without spares/at once/handing over`, a dash for what cannot be done.
    pub fn counts(&self) -> String {
        let counts = [
            &self.answer.all,
            &self.answer.without_spares,
            &self.answer.at_once,
            &self.answer.handing_over,
        ];
        let told = counts.map(|count| {
            count
                .players
                .map_or("-".to_owned(), |players| players.to_string())
        });
        told.join("/")
    }

    /// `P1 bells 5-20; P2 snare 1-88; left out triangle`.
    pub fn sharing(&self) -> String {
        let Some(sharing) = &self.answer.sharing else {
            return "nobody known".to_owned();
        };
        let mut told = Vec::new();
        for (seat, turns) in self.question.seats.iter().zip(&sharing.turns) {
            let names: Vec<String> = turns
                .iter()
                .map(|turn| {
                    let name = words::part(&self.question, turn.part);
                    let measures = match turn.whole {
                        true => String::new(),
                        false => format!(" {}", words::measures(&self.question, turn)),
                    };
                    format!("{name}{measures}")
                })
                .collect();
            if !names.is_empty() {
                told.push(format!("{} {}", seat.name, names.join(", ")));
            }
        }
        let left: Vec<String> = sharing
            .left
            .iter()
            .map(|left| words::part(&self.question, left.part))
            .collect();
        if !left.is_empty() {
            told.push(format!("left out {}", left.join(", ")));
        }
        told.join("; ")
    }

    /// All that is said, in one line.
    pub fn says(&self) -> String {
        self.said.join(" ")
    }
}
