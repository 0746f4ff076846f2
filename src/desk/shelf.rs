//! One catalogue as the session keeps it: the files on the disk, with the open ones in their place.

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::Ordering;

use jiff::civil::Date;

use crate::catalogue::CardFile;
use crate::catalogue::known::{self, Known};
use crate::cores;
use crate::disk::{self, DiskProblem, Rules, Watch};

use super::home::{Home, name_below};
use super::moment::{Moment, Paper};
use super::progress::Reading;
use super::session::OpenFile;

/// A catalogue of the session.
#[derive(Debug)]
pub(super) struct Shelf {
    on_disk: BTreeMap<String, Arc<Paper>>,
    /// Files whose cards are missing, because they could not be read.
    missing: BTreeSet<PathBuf>,
    /// What it is now.
    pub(super) moment: Arc<Moment>,
    /// Our own watch on its folder, when the client watches nothing.
    pub(super) watch: Option<Watch>,
}

/// What was found in a catalogue's folder.
#[derive(Debug, Default)]
pub(super) struct Loaded {
    papers: BTreeMap<String, Arc<Paper>>,
    known: Known,
    pub(super) problems: Vec<DiskProblem>,
    /// Folders below that are catalogues of their own.
    pub(super) inner: Vec<PathBuf>,
    /// What is wrong with the file of known findings.
    pub(super) amiss: Option<String>,
    /// Whether the user stopped the reading, so that this is only a part.
    pub(super) stopped: bool,
}

impl Loaded {
    /// Reads a catalogue's folder. It takes as long as the disk does.
    pub(super) fn from(root: &Path, reading: &Reading) -> Loaded {
        let gathered = disk::gather(
            root,
            &Rules::of(root, crate::catalogue::largest_file),
            // Files are soon on the desk; it is reading the cards on them that takes time.
            &mut |progress| reading.at(disk::Progress { read: 0, ..progress }),
            &reading.stop,
        );
        let mut loaded = Loaded {
            problems: gathered.problems,
            inner: gathered.inner,
            stopped: gathered.cancelled,
            ..Loaded::default()
        };
        loaded.read_known(&root.join(known::FILE));
        let names: Vec<String> = gathered
            .files
            .iter()
            .map(|file| name_below(root, &file.path))
            .collect();
        let texts: Vec<(&str, &Arc<str>)> = names
            .iter()
            .zip(&gathered.files)
            .map(|(name, file)| (name.as_str(), &file.text))
            .collect();
        let found = gathered.files.len();
        let read = cores::read_files(&texts, &mut |done, all| {
            reading.at(disk::Progress {
                looked_at: found,
                found,
                // People are told of files; the cards stand for them.
                read: found.saturating_mul(done).checked_div(all).unwrap_or(found),
            });
            !reading.stop.load(Ordering::Relaxed)
        });
        match read {
            None => loaded.stopped = true,
            Some(read) => {
                let named = gathered.files.iter().zip(read);
                loaded.papers = named
                    .filter_map(|(file, cards)| {
                        let name = cards.path.to_string();
                        Some((name, Arc::new(Paper::on_disk(&file.path, cards)?)))
                    })
                    .collect();
            }
        }
        loaded
    }
}

impl Loaded {
    fn read_known(&mut self, path: &Path) {
        let rules = Rules {
            largest: known::LARGEST,
            ..Rules::default()
        };
        if !path.exists() {
            return;
        }
        let root = path.parent().unwrap_or(path);
        match disk::stays_inside(root, path).and_then(|()| disk::read_file(path, &rules)) {
            Ok(file) => match Known::read(&file.text) {
                Ok(known) => self.known = known,
                Err(line) => self.amiss = Some(known::amiss(&path.display().to_string(), line)),
            },
            Err(problem) => self.problems.push(problem),
        }
    }
}

impl Shelf {
    pub(super) fn new(home: &Home, loaded: Loaded, today: Date) -> Shelf {
        // About a part of a catalogue nothing true can be said.
        let quiet = matches!(home, Home::LeftOut(_)) || loaded.stopped;
        Shelf {
            missing: missing(&loaded.problems),
            on_disk: loaded.papers,
            moment: Arc::new(Moment::new(quiet, today, Arc::new(loaded.known))),
            watch: None,
        }
    }

    /// Takes what was found on the disk anew. Cards whose text is the same stay the same cards.
    pub(super) fn reload(&mut self, home: &Home, loaded: Loaded) {
        let quiet = matches!(home, Home::LeftOut(_)) || loaded.stopped;
        if quiet != self.moment.quiet || loaded.known != *self.moment.known {
            let known = Arc::new(loaded.known);
            self.moment = Arc::new(self.moment.with(quiet, known));
        }
        self.missing = missing(&loaded.problems);
        self.on_disk = loaded
            .papers
            .into_iter()
            .map(|(name, paper)| {
                let kept = self
                    .on_disk
                    .get(&name)
                    .filter(|old| same_cards(&old.cards, &paper.cards));
                let paper = kept.map_or(paper, Arc::clone);
                (name, paper)
            })
            .collect();
    }

    /// Puts in a file as it is on the disk now, or takes it out.
    pub(super) fn put(
        &mut self,
        name: &str,
        path: &Path,
        (paper, problem): (Option<Paper>, Option<DiskProblem>),
    ) {
        self.missing.retain(|known| !known.starts_with(path));
        self.missing.append(&mut missing(problem.as_slice()));
        match paper {
            Some(paper) => {
                let same = self
                    .on_disk
                    .get(name)
                    .is_some_and(|old| same_cards(&old.cards, &paper.cards));
                if !same {
                    self.on_disk.insert(name.to_owned(), Arc::new(paper));
                }
            }
            None => {
                // A folder that is gone takes its files along.
                let inside = format!("{name}/");
                self.on_disk
                    .retain(|known, _| known != name && !known.starts_with(&inside));
            }
        }
    }

    /// Makes the next moment after an edit of one open file, all else being as it was.
    pub(super) fn next_with(&mut self, file: &OpenFile, today: Date) -> bool {
        let papers = &self.moment.papers;
        let place = papers.binary_search_by(|paper| (*paper.cards.path).cmp(file.name.as_str()));
        let Ok(place) = place else { return false };
        let mut papers = papers.clone();
        if let Some(paper) = papers.get_mut(place) {
            *paper = Arc::clone(&file.paper);
        }
        let is_a_part = self.moment.is_a_part;
        self.moment = Arc::new(self.moment.next(papers, is_a_part, today));
        true
    }

    /// Makes the next moment: the files on the disk, with the open ones in their place.
    pub(super) fn next<'o>(&mut self, open: impl Iterator<Item = &'o OpenFile>, today: Date) {
        let mut papers: BTreeMap<&str, Arc<Paper>> = self
            .on_disk
            .iter()
            .map(|(name, paper)| (name.as_str(), Arc::clone(paper)))
            .collect();
        let mut opened: Vec<(String, Arc<Paper>)> = Vec::new();
        let mut missing: BTreeSet<&Path> = self.missing.iter().map(PathBuf::as_path).collect();
        for file in open {
            opened.push((file.name.clone(), Arc::clone(&file.paper)));
            if let Some(path) = file.paper.key.path() {
                missing.remove(path.as_path());
            }
        }
        let is_a_part = !missing.is_empty();
        for (name, paper) in &opened {
            papers.insert(name.as_str(), Arc::clone(paper));
        }
        let papers = papers.into_values().collect();
        self.moment = Arc::new(self.moment.next(papers, is_a_part, today));
    }
}

/// The files of which the cards are missing.
fn missing(problems: &[DiskProblem]) -> BTreeSet<PathBuf> {
    let missing = problems.iter().filter(|problem| problem.leaves_out_cards());
    missing.map(|problem| problem.path.clone()).collect()
}

fn same_cards(one: &CardFile, other: &CardFile) -> bool {
    one.entries.len() == other.entries.len()
        && one
            .entries
            .iter()
            .zip(&other.entries)
            .all(|(one, other)| one.text == other.text)
}

/// Reads one file of a catalogue as it is on the disk now; none when it is gone, left out or unreadable.
pub(super) fn read(root: &Path, path: PathBuf) -> (Option<Paper>, Option<DiskProblem>) {
    let rules = Rules::of(root, crate::catalogue::largest_file);
    let belongs = disk::belongs(root, &path, &rules);
    if belongs != disk::Belongs::Yes {
        return (None, belongs.problem(&path, &rules));
    }
    match disk::read_file(&path, &rules) {
        Ok(file) => {
            let cards = CardFile::of_text(&name_below(root, &path), &file.text.into());
            (Paper::on_disk(&file.path, Arc::new(cards)), None)
        }
        // A file that has just been deleted is no problem to tell of.
        Err(_) if !path.exists() => (None, None),
        Err(problem) => (None, Some(problem)),
    }
}
