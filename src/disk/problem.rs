//! What went wrong with a file or folder, in plain words.

use std::fmt;
use std::io::{self, ErrorKind};
use std::path::{Path, PathBuf};

/// A file or folder that could not be used, and why. Its `Display` is one paragraph: what is wrong, why
/// it matters, what to do.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct DiskProblem {
    /// The file or folder.
    pub path: PathBuf,
    /// What happened.
    pub trouble: Trouble,
}

/// What happened to a file or folder.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Trouble {
    /// It is larger than a catalogue's file may be.
    TooBig {
        /// Its size in bytes.
        bytes: u64,
        /// The most that is read.
        limit: u64,
    },
    /// It is not UTF-8.
    NotUtf8 {
        /// The first byte (from 0) that is not.
        byte: usize,
        /// The line it is on, counted from 1.
        line: usize,
    },
    /// It was saved as UTF-16.
    Utf16,
    /// It holds a byte of value zero, which no text has.
    ZeroByte {
        /// The line it is on, counted from 1.
        line: usize,
    },
    /// It is a link to a file outside the catalogue's folder.
    LeadsOut,
    /// It could not be opened or read; the reason in words.
    CannotRead(String),
    /// It could not be written; the reason in words.
    CannotWrite(String),
    /// It is no longer what it was when it was read, so it was not written over.
    ChangedMeanwhile,
    /// The folder holds more catalogue files than are read.
    TooManyFiles(usize),
    /// The folder holds more files of all sorts than are looked at.
    TooMuchToLookAt(usize),
    /// A line of an ignore file is no pattern of names.
    IgnoreLine {
        /// The line, counted from 1, when it is known.
        line: Option<u64>,
        /// What stands there, when it is known.
        text: Option<String>,
    },
    /// Changes in the folder cannot be noticed; the reason in words.
    CannotWatch(String),
}

impl DiskProblem {
    pub(super) fn new(path: &Path, trouble: Trouble) -> Self {
        DiskProblem {
            path: path.to_path_buf(),
            trouble,
        }
    }

    pub(super) fn read(path: &Path, error: &io::Error) -> Self {
        DiskProblem::new(path, Trouble::CannotRead(reason(error)))
    }

    pub(super) fn write(path: &Path, error: &io::Error) -> Self {
        DiskProblem::new(path, Trouble::CannotWrite(reason(error)))
    }

    /// Whether cards are missing because of it, so that what was read is only a part of the catalogue.
    pub fn leaves_out_cards(&self) -> bool {
        match self.trouble {
            Trouble::TooBig { .. }
            | Trouble::NotUtf8 { .. }
            | Trouble::Utf16
            | Trouble::ZeroByte { .. }
            | Trouble::LeadsOut
            | Trouble::CannotRead(_)
            | Trouble::TooManyFiles(_)
            | Trouble::TooMuchToLookAt(_) => true,
            Trouble::CannotWrite(_)
            | Trouble::ChangedMeanwhile
            | Trouble::IgnoreLine { .. }
            | Trouble::CannotWatch(_) => false,
        }
    }

    /// What is wrong, in one sentence that names the file.
    pub fn what(&self) -> String {
        let name = self.path.display();
        match &self.trouble {
            Trouble::TooBig { bytes, limit } => format!(
                "\"{name}\" was not read: it is {}, and a catalog's file may be {}.",
                size(*bytes),
                size(*limit)
            ),
            Trouble::NotUtf8 { byte, line } => format!(
                "\"{name}\" was not read: a letter on line {line} (byte {byte}) was not saved as UTF-8."
            ),
            Trouble::Utf16 => format!(
                "\"{name}\" was not read: it was saved as UTF-16, which some programs call \"Unicode\"."
            ),
            Trouble::ZeroByte { line } => format!(
                "\"{name}\" was not read: line {line} has something in it that no text has, so the file is damaged or is not text."
            ),
            Trouble::LeadsOut => format!(
                "\"{name}\" was neither read nor written: it is a link to a file outside the catalog's folder."
            ),
            Trouble::CannotRead(why) => format!("\"{name}\" could not be read: {why}."),
            Trouble::CannotWrite(why) => format!("\"{name}\" could not be saved: {why}."),
            Trouble::ChangedMeanwhile => {
                format!(
                    "\"{name}\" was not saved: somebody or something else has changed it in the meantime."
                )
            }
            Trouble::TooManyFiles(limit) => {
                format!("\"{name}\" holds more than {limit} catalog files; the rest was not read.")
            }
            Trouble::TooMuchToLookAt(limit) => {
                format!("\"{name}\" holds more than {limit} files and folders; the rest was not looked at.")
            }
            Trouble::IgnoreLine { line, text } => {
                let line = line.map_or("a line".into(), |line| format!("line {line}"));
                let text = text
                    .as_ref()
                    .map_or(String::new(), |text| format!(", \"{text}\""));
                format!("\"{name}\": {line}{text} is not a pattern of file names, so it was passed over.")
            }
            Trouble::CannotWatch(why) => {
                format!("Changes in \"{name}\" made by other programs cannot be noticed: {why}.")
            }
        }
    }

    /// Why it matters.
    pub fn why(&self) -> &'static str {
        match self.trouble {
            Trouble::TooBig { .. }
            | Trouble::NotUtf8 { .. }
            | Trouble::Utf16
            | Trouble::ZeroByte { .. }
            | Trouble::CannotRead(_) => "Its pieces are missing from everything said about the catalog.",
            Trouble::LeadsOut => {
                "What is in it is missing from everything said about the catalog, because Levare changes nothing outside the catalog's folder."
            }
            Trouble::CannotWrite(_) | Trouble::ChangedMeanwhile => {
                "The file is as it was; nothing in it was lost."
            }
            Trouble::TooManyFiles(_) | Trouble::TooMuchToLookAt(_) => {
                "This happens when the handbook lies in a home folder or a whole drive. Pieces may be missing from everything said about the catalog."
            }
            Trouble::IgnoreLine { .. } => "Files that this line should leave out may be read.",
            Trouble::CannotWatch(_) => "What is said about the catalog may be out of date.",
        }
    }

    /// What to do.
    pub fn remedy(&self) -> &'static str {
        match self.trouble {
            Trouble::TooBig { .. } => "Cut it into several files, a season or a shelf each.",
            Trouble::NotUtf8 { .. } => {
                "Open it in the program that made it and save it as UTF-8. An accented letter in a name is the usual cause."
            }
            Trouble::ZeroByte { .. } => "Bring the file back from a backup or from version control.",
            Trouble::LeadsOut => "Put the file itself into the folder, and take the link away.",
            Trouble::Utf16 => "Open it in the program that made it and save it as UTF-8.",
            Trouble::CannotRead(_) => {
                "Check that it is still there and that you may open it; close other programs that use it."
            }
            Trouble::CannotWrite(_) => {
                "Check that the folder is there, that you may change it and that the drive is not full; close other programs that use it."
            }
            Trouble::ChangedMeanwhile => "Look at the file and do it again.",
            Trouble::TooManyFiles(_) | Trouble::TooMuchToLookAt(_) => {
                "Move the handbook and the cards into a folder of their own."
            }
            Trouble::IgnoreLine { .. } => "Correct the line or take it out.",
            Trouble::CannotWatch(_) => {
                "Close the catalog and open it again after changing it outside the editor."
            }
        }
    }
}

impl fmt::Display for DiskProblem {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} {} {}", self.what(), self.why(), self.remedy())
    }
}

impl std::error::Error for DiskProblem {}

/// Why a file could not be used, as the end of a sentence.
pub(super) fn reason(error: &io::Error) -> String {
    let known = match error.kind() {
        ErrorKind::PermissionDenied => "you are not allowed to",
        ErrorKind::NotFound => "it is not there",
        ErrorKind::StorageFull | ErrorKind::QuotaExceeded => "the drive is full",
        ErrorKind::ReadOnlyFilesystem => "the drive cannot be written to",
        ErrorKind::IsADirectory => "it is a folder",
        ErrorKind::NotADirectory => "what should be its folder is a file",
        ErrorKind::FileTooLarge => "no file may be that large here",
        _ => return in_words(error),
    };
    known.to_string()
}

/// What the system says, without its number.
fn in_words(error: &io::Error) -> String {
    // The numbers of a link that leads back to itself (Linux, macOS and the BSDs).
    let loops = if cfg!(target_os = "linux") { 40 } else { 62 };
    if cfg!(unix) && error.raw_os_error() == Some(loops) {
        return "it is a link that leads back to itself".to_owned();
    }
    let said = error.to_string();
    let words = said.split(" (os error").next().unwrap_or(&said);
    let mut letters = words.chars();
    match letters.next() {
        Some(first) => first.to_lowercase().chain(letters).collect(),
        None => "the system does not say why".to_owned(),
    }
}

/// A size for people: whole kilobytes below a megabyte, then megabytes with one decimal, rounded up so
/// that a size over a limit never reads like the limit.
fn size(bytes: u64) -> String {
    const KILO: u64 = 1024;
    const MEGA: u64 = KILO * KILO;
    if bytes < KILO {
        return format!("{bytes} bytes");
    }
    if bytes < MEGA {
        return format!("{} KB", bytes.div_ceil(KILO));
    }
    let tenths = (bytes / MEGA * 10).saturating_add((bytes % MEGA * 10).div_ceil(MEGA));
    match tenths % 10 {
        0 => format!("{} MB", tenths / 10),
        rest => format!("{}.{rest} MB", tenths / 10),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn sizes() {
        let table = [
            (0, "0 bytes"),
            (1023, "1023 bytes"),
            (1024, "1 KB"),
            (1025, "2 KB"),
            (1 << 20, "1 MB"),
            ((1 << 20) + 1, "1.1 MB"),
            (5 << 20, "5 MB"),
            (u64::MAX, "17592186044416 MB"),
        ];
        for (bytes, words) in table {
            assert_eq!(size(bytes), words);
        }
    }

    /// Every message says what, why and what to do, in words that need no programmer.
    #[test]
    fn messages_are_plain() {
        let all = [
            Trouble::TooBig {
                bytes: 1 << 21,
                limit: 1 << 20,
            },
            Trouble::NotUtf8 { byte: 7, line: 2 },
            Trouble::Utf16,
            Trouble::ZeroByte { line: 2 },
            Trouble::LeadsOut,
            Trouble::CannotRead("you are not allowed to".into()),
            Trouble::CannotWrite("the drive is full".into()),
            Trouble::ChangedMeanwhile,
            Trouble::TooManyFiles(10_000),
            Trouble::TooMuchToLookAt(200_000),
            Trouble::IgnoreLine {
                line: Some(3),
                text: Some("{a".into()),
            },
            Trouble::IgnoreLine {
                line: None,
                text: None,
            },
            Trouble::CannotWatch("too many folders".into()),
        ];
        for trouble in all {
            let problem = DiskProblem::new(Path::new("fall.levare"), trouble);
            let parts = [problem.what(), problem.why().into(), problem.remedy().into()];
            for part in &parts {
                assert!(part.ends_with('.'), "{part}");
                for word in [
                    "syntax",
                    "token",
                    "parse",
                    "reference",
                    "invalid",
                    "string",
                    "null",
                    "error",
                ] {
                    assert!(!part.contains(word), "{word}: {part}");
                }
            }
            assert!(parts[0].contains("\"fall.levare\""));
            assert_eq!(problem.to_string(), parts.join(" "));
        }
    }
}
