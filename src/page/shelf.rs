//! The files of the page's catalogue, and what is kept of them from question to question.

use std::cell::{OnceCell, RefCell};
use std::collections::{BTreeMap, HashMap, HashSet};
use std::sync::Arc;

use jiff::civil::Date;
use serde_json::Value;

use crate::assist::Place;
use crate::catalogue::known::{self, Known};
use crate::catalogue::{CardFile, EntryId, Snapshot, ready};
use crate::findings::{Finding, Kept};
use crate::notation;
use crate::text::{Edit, Sheet};

use super::answer::{Said, amiss, answer};
use super::question::{At, NewFile, Question, Typed};
use super::{answers, changing, found, looks, moving, places, sheets, writing};

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
            Err(error) => amiss(&format!("This cannot be asked: {error}.")),
        };
        answer.to_string()
    }

    fn answered(&mut self, question: Question) -> Value {
        let Question {
            at,
            within,
            file,
            words,
            ..
        } = &question;
        match question.ask.as_str() {
            "begin" => self.begin(&question.today),
            "ready" => ready(&question.which),
            "put" => self.put(question.files),
            "gone" => self.gone(file),
            "edit" => self.edit(file, &question.edits),
            "everywhere" => found::everywhere(self, question.written.map(|at| (file, at))),
            "lines" => found::lines(self, &question.least, question.all),
            "find" => moving::find(self, words),
            "reason" => writing::reason(words),
            asked => {
                let number = self.papers.keys().position(|name| name == file);
                let page = &*self;
                let paper = number.and_then(|number| Some((number, page.paper(number)?)));
                let Some((number, (_, paper))) = paper else {
                    return none(file);
                };
                let file = &File { page, number, paper };
                match asked {
                    "text" => answer!("text": paper.sheet.to_string()),
                    "found" => found::of_file(file, question.written),
                    "hover" => writing::hover(file, *at),
                    "offers" => writing::offers(file, *at, question.blank),
                    "offer" => writing::offer(file, *at, words),
                    "example" => writing::example(file, *at),
                    "tidied" => writing::tidied(file, *at, words),
                    "card" => moving::card(file, *at),
                    "uses" => moving::uses(file, *at),
                    "alike" => moving::alike(file, *at),
                    "outline" => looks::outline(file),
                    "folds" => looks::folds(file),
                    "colors" => looks::colors(file, *within),
                    "lenses" => looks::lenses(file),
                    "hints" => looks::hints(file, *within),
                    "links" => looks::links(file),
                    "fixes" => changing::fixes(file, *within),
                    "fix_all" => changing::fix_all(file),
                    "works" => changing::works(file, *at),
                    "work" => changing::work(file, *at, words),
                    "name" => changing::name(file, *at),
                    "rename" => changing::rename(file, *at, words),
                    "recopy" => changing::recopy(file),
                    "answer" => answers::of(file, &question),
                    "sheet" => sheets::of(file, *at, &question.which, &question.size),
                    other => amiss(&format!("This cannot be asked: \"{other}\".")),
                }
            }
        }
    }

    fn begin(&mut self, today: &str) -> Value {
        let Some(today) = day(today) else {
            return amiss(&format!("\"{today}\" is no day."));
        };
        *self = Page {
            today,
            ..Page::default()
        };
        answer!()
    }

    fn put(&mut self, files: Vec<NewFile>) -> Value {
        let mut amiss = Value::Null;
        for NewFile { file, text } in files {
            if file == known::FILE {
                self.known = Known::read(&text).unwrap_or_else(|line| {
                    amiss = known::amiss(&file, line).said();
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
        answer!("amiss": amiss)
    }

    fn gone(&mut self, file: &str) -> Value {
        if file == known::FILE {
            self.known = Known::default();
        }
        self.papers.remove(file);
        self.kept.get_mut().clear();
        self.moved_on();
        answer!()
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
        answer!("length": self.papers.get(file).map(|paper| paper.sheet.len()))
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

/// `2026-10-20`.
fn day(words: &str) -> Option<Date> {
    let mut parts = words.splitn(3, '-');
    let year = parts.next()?.parse().ok()?;
    let month = parts.next()?.parse().ok()?;
    let day = parts.next()?.parse().ok()?;
    Date::new(year, month, day).ok()
}

fn none(file: &str) -> Value {
    amiss(&format!("There is no file \"{file}\" here."))
}

fn ready(which: &str) -> Value {
    let (files, day) = match which {
        "demo" => (ready::DEMO, Some(ready::demo_day().to_string())),
        "starter" => (ready::STARTER, None),
        _ => return amiss(&format!("There is no catalog \"{which}\" to begin with.")),
    };
    let files: Vec<Value> = files
        .iter()
        .map(|(file, text)| answer!("file": *file, "text": *text))
        .collect();
    answer!("files": files, "day": day)
}
