//! The catalogues that paths on the command line lie in, read.

use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use jiff::civil::Date;

use crate::catalogue::known::{self, Known};
use crate::catalogue::{CardFile, Snapshot};
use crate::cores;
use crate::disk::{self, Belongs, DiskProblem, FileRead, Rules};

use super::args::Where;
use super::progress::Progress;
use super::{complain, demo};

/// One catalogue, and which of its files were asked about.
pub struct Room {
    /// Its folder; none for the demo, which is part of the program.
    pub root: Option<PathBuf>,
    /// The catalogue.
    pub snapshot: Snapshot,
    /// Its files, in the order of the snapshot's.
    pub sheets: Vec<Sheet>,
    /// Files and folders that could not be used.
    pub problems: Vec<DiskProblem>,
}

/// A file of a catalogue.
pub struct Sheet {
    /// The path as it is shown: below the current folder where it lies there, else whole.
    pub shown: String,
    /// The file as it was read; none for what comes from standard input or is part of the program.
    pub read: Option<FileRead>,
    /// Its text.
    pub text: Arc<str>,
    /// Whether it was asked about.
    pub asked: bool,
}

/// All that was asked about.
#[derive(Default)]
pub struct Rooms {
    /// The catalogues, each once.
    pub rooms: Vec<Room>,
    /// Paths that lead nowhere: what is wrong and what to do.
    pub amiss: Vec<String>,
    /// Paths that were passed over for a good reason.
    pub notes: Vec<String>,
}

/// A file that comes from standard input.
pub struct Stood {
    /// Where it stands in its catalogue.
    pub path: PathBuf,
    /// Its text.
    pub text: String,
}

/// Reads the catalogues around the paths; around the current folder when there are none.
///
/// A path belongs to the nearest folder upwards that holds a handbook. Without one, a folder is a
/// catalogue by itself, and a file belongs to its folder.
pub fn open(paths: &[PathBuf], today: Date) -> Rooms {
    let mut rooms = Rooms::default();
    let mut asked: Vec<(PathBuf, Vec<PathBuf>)> = Vec::new();
    if paths.is_empty() {
        let root = root_of(&whole(Path::new(".")));
        asked.push((root.clone(), vec![root]));
    }
    for path in paths {
        let whole = whole(path);
        if !whole.exists() && !whole.is_symlink() {
            rooms.amiss.push(format!(
                "There is no \"{}\" here. Check how it is spelled, and which folder you are in.",
                path.display()
            ));
            continue;
        }
        let root = root_of(&whole);
        if !whole.is_file() && !whole.is_dir() {
            let why = match whole.exists() {
                true => "It is not an ordinary file.",
                false => "It is a link to a file that is not there.",
            };
            rooms
                .amiss
                .push(format!("\"{}\" was passed over. {why}", path.display()));
            continue;
        }
        if whole.is_file() {
            let belongs = disk::belongs(&root, &whole, &Rules::of(&root, crate::catalogue::largest_file));
            if let Some(why_not) = belongs.why_not() {
                let note = format!("\"{}\" was passed over. {why_not}", path.display());
                match belongs {
                    // It is told when the catalogue is read.
                    Belongs::TooBig { .. } | Belongs::LeadsOut => {}
                    Belongs::Ignored | Belongs::Hidden | Belongs::Linked => {
                        rooms.notes.push(note);
                        continue;
                    }
                    _ => {
                        rooms.amiss.push(note);
                        continue;
                    }
                }
            }
        }
        match asked.iter_mut().find(|(known, _)| *known == root) {
            Some((_, within)) => within.push(whole),
            None => asked.push((root, vec![whole])),
        }
    }
    for (root, within) in asked {
        rooms.rooms.push(read(root, &within, None, today));
    }
    rooms
}

/// The catalogue that is asked about; none when there is nothing in it, which is told.
pub fn asked(at: &Where) -> Option<Room> {
    let today = at.today.unwrap_or_else(|| match at.demo {
        true => demo::day(),
        false => jiff::ZonedDateTime::now().date(),
    });
    if at.demo {
        return Some(demo(today));
    }
    let mut rooms = open(at.folder.as_slice(), today);
    rooms
        .notes
        .iter()
        .chain(&rooms.amiss)
        .for_each(|words| complain(words));
    let room = (!rooms.rooms.is_empty()).then(|| rooms.rooms.swap_remove(0))?;
    for problem in &room.problems {
        complain(&problem.to_string());
    }
    if room.snapshot.entries().next().is_none() {
        complain(
            "There are no cards here. Files with cards end in .levare; \"levare start\" writes a small catalog to fill in.",
        );
        return None;
    }
    Some(room)
}

/// Reads the catalogue around a file that comes from standard input, which alone is asked about.
pub fn open_around(stood: Stood, today: Date) -> Room {
    let path = whole(&stood.path);
    let root = root_of(&path);
    let stood = Stood { path, ..stood };
    read(root, &[], Some(stood), today)
}

/// Reads a folder as one catalogue, or a file as a catalogue of its own, in which it goes by a name. What is wrong is
/// told in words.
pub fn alone(path: &Path, name: &str, today: Date) -> Result<Room, String> {
    let path_shown = path.display();
    let path = whole(path);
    if path.is_dir() {
        return Ok(read(path.clone(), &[path], None, today));
    }
    if !path.exists() {
        return Err(format!(
            "There is no \"{path_shown}\" here. Check how it is spelled, and which folder you are in."
        ));
    }
    let read = disk::read_file(&path, &Rules::default()).map_err(|problem| problem.to_string())?;
    let name = name.to_owned();
    let sheet = Sheet {
        shown: shown(&path),
        text: Arc::clone(&read.text),
        read: Some(read),
        asked: true,
    };
    let (snapshot, sheets) = put_together(vec![(name, sheet)], today);
    Ok(Room {
        root: None,
        snapshot,
        sheets,
        problems: Vec::new(),
    })
}

/// The folder of the catalogue that a path lies in, and the path below it where it is a file.
pub fn around(path: &Path) -> Result<(PathBuf, Option<String>), String> {
    let whole = whole(path);
    if !whole.exists() {
        return Err(format!(
            "There is no \"{}\" here. Check how it is spelled, and which folder you are in.",
            path.display()
        ));
    }
    let root = root_of(&whole);
    let file = whole.is_file().then(|| below(&root, &whole));
    Ok((root, file))
}

/// The catalogue in a folder as it was at a commit. What is wrong is told in words.
pub fn at_commit(root: &Path, commit: &str, today: Date) -> Result<Room, String> {
    let rules = Rules::of(root, crate::catalogue::largest_file);
    let past = disk::at_commit(root, commit, &rules).map_err(|problem| problem.to_string())?;
    let sheets = past.files.into_iter().map(|(name, read)| {
        let sheet = Sheet {
            shown: shown(&read.path),
            text: read.text,
            read: None,
            asked: true,
        };
        (name, sheet)
    });
    let (snapshot, sheets) = put_together(sheets.collect(), today);
    Ok(Room {
        root: None,
        snapshot,
        sheets,
        problems: past.problems,
    })
}

/// The demo year.
pub fn demo(today: Date) -> Room {
    let sheets = demo::FILES.iter().map(|(name, text)| {
        let sheet = Sheet {
            shown: format!("demo/{name}"),
            read: None,
            text: Arc::from(*text),
            asked: true,
        };
        ((*name).to_owned(), sheet)
    });
    let (snapshot, sheets) = put_together(sheets.collect(), today);
    Room {
        root: None,
        snapshot,
        sheets,
        problems: Vec::new(),
    }
}

impl Room {
    /// The catalogue as it would be with other texts for its files, in their order.
    pub fn with_texts(&self, texts: &[Arc<str>]) -> Snapshot {
        let paths = self.snapshot.files().iter().map(|file| &*file.path);
        let files = read_cards(&paths.zip(texts).collect::<Vec<_>>());
        Snapshot::new(files, self.snapshot.today)
    }

    /// The known findings, and what is wrong with their file if something is.
    pub fn known(&self) -> Result<Known, String> {
        let (Some(root), Some(path)) = (&self.root, self.known_file().filter(|path| path.exists())) else {
            return Ok(Known::default());
        };
        let told = |problem: DiskProblem| {
            format!(
                "{} So all findings are reported. {}",
                problem.what(),
                problem.remedy()
            )
        };
        disk::stays_inside(root, &path).map_err(told)?;
        let read = disk::read_file(
            &path,
            &Rules {
                largest: known::LARGEST,
                ..Rules::default()
            },
        )
        .map_err(told)?;
        Known::read(&read.text).map_err(|line| known::amiss(&shown(&path), line))
    }

    /// Why nothing may be fixed or written down unasked: only a part of the catalogue was read.
    pub fn is_a_part(&self) -> Option<String> {
        let mut missing = self.problems.iter().filter(|problem| problem.leaves_out_cards());
        let first = shown(&missing.next()?.path);
        let others = match missing.count() {
            0 => String::new(),
            1 => " and one more".to_owned(),
            more => format!(" and {more} more"),
        };
        Some(format!(
            "\"{first}\"{others} could not be read, so this is only part of your catalog, and what looks wrong may be right"
        ))
    }

    /// The file of known findings.
    pub fn known_file(&self) -> Option<PathBuf> {
        self.root.as_ref().map(|root| root.join(known::FILE))
    }
}

/// The folder of the catalogue that a path lies in.
fn root_of(path: &Path) -> PathBuf {
    if let Some(root) = disk::catalogue_root(path) {
        return root;
    }
    if path.is_dir() {
        return path.to_owned();
    }
    path.parent().map_or_else(|| path.to_owned(), Path::to_owned)
}

fn read(root: PathBuf, within: &[PathBuf], stood: Option<Stood>, today: Date) -> Room {
    let mut progress = Progress::new();
    let gathered = disk::gather(
        &root,
        &Rules::of(&root, crate::catalogue::largest_file),
        &mut |at| progress.tell("Reading files", at.read, at.found),
        &AtomicBool::new(false),
    );
    drop(progress);
    let mut sheets: Vec<(String, Sheet)> = gathered
        .files
        .into_iter()
        .map(|file| {
            let name = below(&root, &file.path);
            let sheet = Sheet {
                shown: shown(&file.path),
                text: Arc::clone(&file.text),
                asked: within.iter().any(|path| file.path.starts_with(path)),
                read: Some(file),
            };
            (name, sheet)
        })
        .collect();
    if let Some(stood) = stood {
        let name = below(&root, &stood.path);
        sheets.retain(|(other, _)| *other != name);
        let sheet = Sheet {
            shown: shown(&stood.path),
            read: None,
            text: Arc::from(stood.text),
            asked: true,
        };
        sheets.push((name, sheet));
    }
    let (snapshot, sheets) = put_together(sheets, today);
    Room {
        root: Some(root),
        snapshot,
        sheets,
        problems: gathered.problems,
    }
}

fn put_together(mut named: Vec<(String, Sheet)>, today: Date) -> (Snapshot, Vec<Sheet>) {
    // The order of the snapshot's files, so that one index serves both.
    named.sort_by(|(a, _), (b, _)| a.cmp(b));
    let texts: Vec<(&str, &Arc<str>)> = named
        .iter()
        .map(|(name, sheet)| (name.as_str(), &sheet.text))
        .collect();
    let files = read_cards(&texts);
    let sheets = named.into_iter().map(|(_, sheet)| sheet).collect();
    (Snapshot::new(files, today), sheets)
}

/// Reads the cards of files, each with its path and its text, and says how far that is.
fn read_cards(files: &[(&str, &Arc<str>)]) -> Vec<Arc<CardFile>> {
    let mut progress = Progress::new();
    let read = cores::read_files(files, &mut |done, all| {
        progress.tell("Reading cards", done, all);
        true
    });
    read.unwrap_or_default()
}

/// The path below the catalogue's folder, with `/` between folders on every system.
fn below(root: &Path, path: &Path) -> String {
    let inner = path.strip_prefix(root).unwrap_or(path);
    let parts: Vec<_> = inner.iter().map(|part| part.to_string_lossy()).collect();
    parts.join("/")
}

/// The path with all its folders, without `.` and `..`.
fn whole(path: &Path) -> PathBuf {
    disk::settled(path)
}

/// The path as people are shown it: below the current folder where it lies there, else whole; with `/` on
/// every system.
pub fn shown(path: &Path) -> String {
    let here = std::env::current_dir().unwrap_or_default();
    let inner = path
        .strip_prefix(&here)
        .ok()
        .filter(|inner| !inner.as_os_str().is_empty());
    match inner {
        Some(inner) => {
            let parts: Vec<_> = inner.iter().map(|part| part.to_string_lossy()).collect();
            parts.join("/")
        }
        None => path.display().to_string(),
    }
}
