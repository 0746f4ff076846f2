//! The files of the page's catalogue, and what is kept of them from question to question.

use std::cell::{OnceCell, RefCell};
use std::collections::{BTreeMap, HashMap, HashSet};
use std::sync::Arc;

use jiff::civil::Date;
use serde_json::{Value, json};

use crate::assist::Place;
use crate::catalogue::known::{self, Known};
use crate::catalogue::{CardFile, EntryId, Snapshot, ready};
use crate::findings::{Finding, Kept};
use crate::notation;
use crate::text::{Edit, Sheet};

use super::question::{At, NewFile, Question, Typed};
use super::{changing, found, looks, moving, places, sheets, writing};

/// How many cards more than one and a half times those that stand are kept of a file, so that an undo finds its
/// findings again.
const SPARE: usize = 64;

/// One file.
#[derive(Debug)]
pub(super) struct Paper {
    pub(super) sheet: Sheet,
    pub(super) cards: Arc<CardFile>,
    /// What was told of it last, which need not wait.
    pub(super) said: RefCell<HashSet<u64>>,
}

/// The catalogue behind a page.
#[derive(Debug, Default)]
pub struct Page {
    /// The files by their paths, in the snapshot's order.
    papers: BTreeMap<String, Paper>,
    today: Date,
    known: Known,
    snapshot: OnceCell<Arc<Snapshot>>,
    /// A snapshot from before, which the next one can be made from with less work.
    before: Option<Arc<Snapshot>>,
    kept: RefCell<HashMap<u32, Kept>>,
}

impl Page {
    /// Answers a question. What cannot be answered is `{"amiss": "..."}`, in words for the director.
    pub fn answer(&mut self, question: &str) -> String {
        let answer = match serde_json::from_str::<Question>(question) {
            Ok(question) => self.answered(question),
            Err(error) => json!({ "amiss": format!("This cannot be asked: {error}.") }),
        };
        answer.to_string()
    }

    fn answered(&mut self, question: Question) -> Value {
        match question {
            Question::Begin { today } => self.begin(&today),
            Question::Ready { which } => ready(&which),
            Question::Put { files } => self.put(files),
            Question::Gone { file } => self.gone(&file),
            Question::Edit { file, edits } => self.edit(&file, &edits),
            Question::Text { file } => match self.papers.get(&file) {
                Some(paper) => json!({ "text": paper.sheet.to_string() }),
                None => none(&file),
            },
            Question::Everywhere => found::everywhere(self),
            Question::Lines { least, all } => found::lines(self, &least, all),
            Question::Find { words } => moving::find(self, &words),
            Question::Reason { phrase } => writing::reason(&phrase),
            Question::Found { file, written } => self.of(&file, |file| found::of_file(file, written)),
            Question::Hover { file, at } => self.of(&file, |file| writing::hover(file, at)),
            Question::Offers { file, at, blank } => self.of(&file, |file| writing::offers(file, at, blank)),
            Question::Offer { file, at, label } => self.of(&file, |file| writing::offer(file, at, &label)),
            Question::Example { file, at } => self.of(&file, |file| writing::example(file, at)),
            Question::Tidied { file, at, typed } => self.of(&file, |file| writing::tidied(file, at, &typed)),
            Question::Card { file, at } => self.of(&file, |file| moving::card(file, at)),
            Question::Uses { file, at } => self.of(&file, |file| moving::uses(file, at)),
            Question::Alike { file, at } => self.of(&file, |file| moving::alike(file, at)),
            Question::Outline { file } => self.of(&file, looks::outline),
            Question::Folds { file } => self.of(&file, looks::folds),
            Question::Colors { file, within } => self.of(&file, |file| looks::colors(file, within)),
            Question::Lenses { file } => self.of(&file, looks::lenses),
            Question::Hints { file, within } => self.of(&file, |file| looks::hints(file, within)),
            Question::Links { file } => self.of(&file, looks::links),
            Question::Fixes { file, within } => self.of(&file, |file| changing::fixes(file, within)),
            Question::FixAll { file } => self.of(&file, changing::fix_all),
            Question::Works { file, at } => self.of(&file, |file| changing::works(file, at)),
            Question::Work { file, at, title } => self.of(&file, |file| changing::work(file, at, &title)),
            Question::Name { file, at } => self.of(&file, |file| changing::name(file, at)),
            Question::Rename { file, at, new } => self.of(&file, |file| changing::rename(file, at, &new)),
            Question::Recopy { file } => self.of(&file, changing::recopy),
            Question::Sheet {
                file,
                at,
                which,
                size,
            } => self.of(&file, |file| sheets::of(file, at, which, size)),
        }
    }

    fn begin(&mut self, today: &str) -> Value {
        let Ok(today) = today.parse() else {
            return json!({ "amiss": format!("\"{today}\" is no day.") });
        };
        *self = Page {
            today,
            ..Page::default()
        };
        json!({})
    }

    fn put(&mut self, files: Vec<NewFile>) -> Value {
        let mut amiss = Value::Null;
        for NewFile { file, text } in files {
            if file == known::FILE {
                self.known = Known::read(&text).unwrap_or_else(|line| {
                    amiss = json!(known::amiss(&file, line));
                    Known::default()
                });
                continue;
            }
            let sheet = Sheet::new(&text, notation::split);
            let before = self.papers.get(&file).map(|paper| Arc::clone(&paper.cards));
            let cards = CardFile::from_sheet(&file, &sheet, before.as_deref());
            let paper = Paper {
                sheet,
                cards: Arc::new(cards),
                said: RefCell::default(),
            };
            self.papers.insert(file, paper);
        }
        self.kept.get_mut().clear();
        self.moved_on();
        json!({ "amiss": amiss })
    }

    fn gone(&mut self, file: &str) -> Value {
        if file == known::FILE {
            self.known = Known::default();
        }
        self.papers.remove(file);
        self.kept.get_mut().clear();
        self.moved_on();
        json!({})
    }

    fn edit(&mut self, file: &str, edits: &[Typed]) -> Value {
        let Some(paper) = self.papers.get_mut(file) else {
            return none(file);
        };
        for edit in edits {
            let span = places::span(&paper.sheet, edit.at);
            paper.sheet.replace(span, &edit.text);
        }
        paper.cards = Arc::new(CardFile::from_sheet(file, &paper.sheet, Some(&paper.cards)));
        self.moved_on();
        json!({ "length": self.papers.get(file).map(|paper| paper.sheet.len()) })
    }

    /// What was put together is of the text before.
    fn moved_on(&mut self) {
        if let Some(snapshot) = self.snapshot.take() {
            self.before = Some(snapshot);
        }
    }

    /// The catalogue.
    pub(super) fn snapshot(&self) -> &Snapshot {
        self.snapshot.get_or_init(|| {
            let files = self
                .papers
                .values()
                .map(|paper| Arc::clone(&paper.cards))
                .collect();
            Arc::new(match &self.before {
                Some(before) => before.after(files, self.today),
                None => Snapshot::new(files, self.today),
            })
        })
    }

    pub(super) fn known(&self) -> Known {
        self.known.clone()
    }

    /// The findings of a card. What did not change since they were last asked for is not looked at again.
    pub(super) fn findings(&self, id: EntryId) -> Arc<[Finding]> {
        let mut all = self.kept.borrow_mut();
        let kept = all.entry(id.file).or_default();
        let found = kept.of_card(self.snapshot(), id);
        if let Some((_, paper)) = self.paper(id.file as usize) {
            let cards = &paper.cards.entries;
            if kept.len() > cards.len().saturating_add(cards.len() / 2).saturating_add(SPARE) {
                kept.keep_only(cards);
            }
        }
        found
    }

    /// The file of a number, with its name.
    pub(super) fn paper(&self, number: usize) -> Option<(&String, &Paper)> {
        self.papers.iter().nth(number)
    }

    /// How many files there are.
    pub(super) fn files(&self) -> usize {
        self.papers.len()
    }

    fn of(&self, file: &str, answer: impl FnOnce(&File<'_>) -> Value) -> Value {
        let number = self.papers.keys().position(|name| name == file);
        match number.and_then(|number| Some((number, self.paper(number)?))) {
            Some((number, (_, paper))) => answer(&File {
                page: self,
                number,
                paper,
            }),
            None => none(file),
        }
    }
}

/// A file that is asked about.
pub(super) struct File<'p> {
    pub(super) page: &'p Page,
    /// Its number in the snapshot.
    pub(super) number: usize,
    pub(super) paper: &'p Paper,
}

impl<'p> File<'p> {
    /// The cards of the file by their places in the snapshot.
    pub(super) fn ids(&self) -> impl Iterator<Item = EntryId> + use<> {
        let file = u32::try_from(self.number).unwrap_or(u32::MAX);
        let cards = u32::try_from(self.paper.cards.entries.len()).unwrap_or(u32::MAX);
        (0..cards).map(move |entry| EntryId { file, entry })
    }

    /// A cursor in the file; none where it has no card.
    pub(super) fn place(&self, at: At) -> Option<Place<'p>> {
        let offset = places::offset(&self.paper.sheet, at);
        Place::at(self.page.snapshot(), self.number, offset)
    }

    /// Edits of the file.
    pub(super) fn edits(&self, edits: &[Edit]) -> Value {
        places::edits(&self.paper.sheet, edits)
    }
}

fn none(file: &str) -> Value {
    json!({ "amiss": format!("There is no file \"{file}\" here.") })
}

fn ready(which: &str) -> Value {
    let (files, day) = match which {
        "demo" => (ready::DEMO, Some(ready::demo_day().to_string())),
        "starter" => (ready::STARTER, None),
        _ => return json!({ "amiss": format!("There is no catalog \"{which}\" to begin with.") }),
    };
    let files: Vec<Value> = files
        .iter()
        .map(|(file, text)| json!({ "file": file, "text": text }))
        .collect();
    json!({ "files": files, "day": day })
}
