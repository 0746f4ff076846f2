//! Reading one file.

use super::{DiskProblem, Rules, Trouble};
use std::fs::{self, File};
use std::io::Read;
use std::path::{Path, PathBuf};
use std::sync::Arc;

const BOM: &str = "\u{feff}";

/// A file that was read.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct FileRead {
    /// Where it is.
    pub path: PathBuf,
    /// Its text, without a byte order mark.
    pub text: Arc<str>,
    /// Whether a byte order mark (U+FEFF) stood before the text.
    pub bom: bool,
}

impl FileRead {
    /// The bytes to write for `text` so that the file begins the way it did.
    pub fn bytes(&self, text: &str) -> Vec<u8> {
        let mark = if self.bom { BOM } else { "" };
        [mark, text].concat().into_bytes()
    }
}

/// Reads the text of one file, at most [`Rules::largest`] bytes.
///
/// # Errors
/// When it cannot be opened, is no ordinary file, is too big or is not UTF-8.
pub fn read_file(path: &Path, rules: &Rules) -> Result<FileRead, DiskProblem> {
    decode(path, read_bytes(path, rules.largest)?)
}

/// The text that a file's bytes are.
///
/// # Errors
/// When they are not UTF-8.
pub(super) fn decode(path: &Path, bytes: Vec<u8>) -> Result<FileRead, DiskProblem> {
    if bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]) {
        return Err(DiskProblem::new(path, Trouble::Utf16));
    }
    if let Some(at) = bytes.iter().position(|byte| *byte == 0) {
        // Every second byte of plain letters is zero in UTF-16, which need not begin with a mark.
        let zeros = bytes.iter().filter(|byte| **byte == 0).count();
        let trouble = match zeros > bytes.len() / 4 && bytes.len() > 2 {
            true => Trouble::Utf16,
            false => Trouble::ZeroByte {
                line: 1 + breaks(bytes.get(..at).unwrap_or(&[])),
            },
        };
        return Err(DiskProblem::new(path, trouble));
    }
    let mut text = String::from_utf8(bytes).map_err(|error| {
        let byte = error.utf8_error().valid_up_to();
        let good = error.as_bytes().get(..byte).unwrap_or(&[]);
        let line = 1 + breaks(good);
        DiskProblem::new(path, Trouble::NotUtf8 { byte, line })
    })?;
    let bom = text.starts_with(BOM);
    if bom {
        text.drain(..BOM.len());
    }
    Ok(FileRead {
        path: path.to_path_buf(),
        text: Arc::from(text),
        bom,
    })
}

/// Reads one file as bytes, at most `largest` of them.
///
/// # Errors
/// When it cannot be opened, is no ordinary file (a pipe would keep the program waiting), or is too big.
pub fn read_bytes(path: &Path, largest: u64) -> Result<Vec<u8>, DiskProblem> {
    let trouble = |error: std::io::Error| DiskProblem::read(path, &error);
    let about = fs::metadata(path).map_err(trouble)?;
    if !about.is_file() {
        let why = if about.is_dir() {
            "it is a folder"
        } else {
            "it is not an ordinary file"
        };
        return Err(DiskProblem::new(path, Trouble::CannotRead(why.into())));
    }
    let too_big = |bytes| {
        let limit = largest;
        Err(DiskProblem::new(path, Trouble::TooBig { bytes, limit }))
    };
    if about.len() > largest {
        return too_big(about.len());
    }
    let mut bytes = Vec::new();
    // The file may grow while it is read.
    let file = File::open(path).map_err(trouble)?;
    file.take(largest.saturating_add(1))
        .read_to_end(&mut bytes)
        .map_err(trouble)?;
    let length = bytes.len() as u64;
    if length > largest {
        return too_big(length);
    }
    Ok(bytes)
}

/// How many line breaks are in the bytes: `\n`, `\r\n` or `\r`.
fn breaks(bytes: &[u8]) -> usize {
    let returns = bytes.iter().filter(|byte| **byte == b'\r').count();
    let feeds = bytes.iter().filter(|byte| **byte == b'\n').count();
    let both = bytes.windows(2).filter(|pair| pair == b"\r\n").count();
    returns + feeds - both
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(bytes: &[u8], largest: u64) -> Result<FileRead, DiskProblem> {
        let place = tempfile::tempdir().expect("a folder to test in");
        let path = place.path().join("x.levare");
        fs::write(&path, bytes).expect("a file");
        let rules = Rules {
            largest,
            ..Rules::default()
        };
        read_file(&path, &rules)
    }

    #[test]
    fn the_mark_at_the_start_is_kept_for_writing() {
        let marked = read(b"\xef\xbb\xbfhandbook\r\n", 99).expect("read");
        assert_eq!((&*marked.text, marked.bom), ("handbook\r\n", true));
        assert_eq!(marked.bytes("skill"), b"\xef\xbb\xbfskill");
        let plain = read("B♭".as_bytes(), 99).expect("read");
        assert_eq!((&*plain.text, plain.bom), ("B♭", false));
        assert_eq!(plain.bytes("skill"), b"skill");
    }

    #[test]
    fn what_is_not_read() {
        let table: &[(&[u8], Trouble)] = &[
            // é as one byte of Latin-1, on the third line.
            (b"a\r\nb\nCaf\xe9\n", Trouble::NotUtf8 { byte: 8, line: 3 }),
            (b"\xff\xfeh\0", Trouble::Utf16),
            (b"\xfe\xff\0h", Trouble::Utf16),
            (b"h\0a\0n\0d\0", Trouble::Utf16),
            (b"\0h\0a\0n\0d", Trouble::Utf16),
            (b"a\nb\0c d", Trouble::ZeroByte { line: 2 }),
            (b"0123456789x", Trouble::TooBig { bytes: 11, limit: 10 }),
        ];
        for (bytes, trouble) in table {
            assert_eq!(read(bytes, 10).map_err(|p| p.trouble), Err(trouble.clone()));
        }
        assert!(read(b"0123456789", 10).is_ok());
        let place = tempfile::tempdir().expect("a folder to test in");
        for path in [place.path().to_path_buf(), place.path().join("none.levare")] {
            let found = read_file(&path, &Rules::default());
            assert!(matches!(
                found.map_err(|p| p.trouble),
                Err(Trouble::CannotRead(_))
            ));
        }
    }
}
