//! Which document an address means.
//!
//! Editors write one address in several ways: `file:///c%3A/x` and `file:///C:/x` are the same
//! card box. Documents are kept under a [`Key`], in which these ways are one; answers to the
//! client always carry the address as the client wrote it.
//!
//! Percent-encoding is made uniform after RFC 3986, section 6.2.2 (letters of escapes, escapes
//! that were not needed), the rest after RFC 8089 (`file` addresses, its appendix E for drive
//! letters and the names of other computers). Letters of names are never folded: whether `A` and
//! `a` are one file, only the disk knows.

use std::path::{Path, PathBuf};

use tower_lsp::gen_lsp_types::Uri;

/// A document's address, the same for every way of writing it.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Key(String);

impl Key {
    /// The key of an address.
    #[must_use]
    pub fn new(uri: &Uri) -> Self {
        if uri.scheme() == "file" {
            Self(file_key(uri))
        } else {
            Self(escapes(uri.as_str(), is_unreserved, |byte| byte.is_ascii()))
        }
    }

    /// The key of a file on this machine; `None` unless the path starts at a root.
    #[must_use]
    pub fn of_path(path: &Path) -> Option<Self> {
        Some(Self::new(&Uri::from_file_path(path).ok()?))
    }

    /// The key as text, an address in its uniform writing.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// The file that the address means: `None` for a buffer that has never been saved, for any
    /// scheme but `file`, for a file of another computer where the system has no such paths, and
    /// for a name that no file can have (with a `/` or a zero byte inside).
    #[must_use]
    pub fn path(&self) -> Option<PathBuf> {
        let uri = Uri::parse(&self.0).ok()?;
        if uri.scheme() != "file" || self.0.contains("%2F") || self.0.contains("%00") {
            return None;
        }
        // A backslash is part of a name, except where it parts names.
        if cfg!(windows) && self.0.contains("%5C") {
            return None;
        }
        uri.to_file_path().ok()
    }
}

fn file_key(uri: &Uri) -> String {
    let host = uri.host_str().unwrap_or_default();
    let mut path = uri.path().to_owned();
    // A name may hold `?` and `#`, and clients forget to escape them. An address of a file has
    // neither a query nor a fragment of its own (RFC 8089, section 2).
    for (mark, rest) in [("%3F", uri.query()), ("%23", uri.fragment())] {
        if let Some(rest) = rest {
            path.push_str(mark);
            path.push_str(rest);
        }
    }
    let path = escapes(&path, is_plain_in_file, |byte| {
        byte == b'/' || is_plain_in_file(byte)
    });
    let path = lower_drive(&path);
    let key = format!("file://{host}{path}");
    // What was a query or a fragment may hold `..`, which means a step up now that it is part of the path.
    Uri::parse(&key).map_or(key, |uri| uri.as_str().to_owned())
}

/// `/C:/x` as `/c:/x`. The escaped and the barred colon have become plain ones before, or do here.
fn lower_drive(path: &str) -> String {
    let mut start = path.chars().take(2).skip(1);
    let Some(letter) = start.next().filter(char::is_ascii_alphabetic) else {
        return path.to_owned();
    };
    let rest = path.get(2..).unwrap_or_default();
    let after = rest
        .strip_prefix(':')
        .or_else(|| rest.strip_prefix("%7C"))
        .filter(|after| after.is_empty() || after.starts_with('/'));
    match after {
        Some(after) => format!("/{}:{after}", letter.to_ascii_lowercase()),
        None => path.to_owned(),
    }
}

/// Makes the escapes uniform: one that stands for a `plain` byte becomes that byte, any other gets
/// capital letters; and of the bytes that were not escaped, those that are not `kept` become
/// escapes. A byte that is kept but not plain parts the address, and its escape does not.
fn escapes(text: &str, plain: fn(u8) -> bool, kept: fn(u8) -> bool) -> String {
    let bytes = text.as_bytes();
    let mut out = String::with_capacity(text.len());
    let mut at = 0;
    while let Some(&byte) = bytes.get(at) {
        let escaped = (byte == b'%')
            .then(|| bytes.get(at + 1..at + 3))
            .flatten()
            .and_then(|pair| std::str::from_utf8(pair).ok())
            .filter(|pair| pair.bytes().all(|byte| byte.is_ascii_hexdigit()))
            .and_then(|pair| u8::from_str_radix(pair, 16).ok());
        at += if escaped.is_some() { 3 } else { 1 };
        match escaped {
            Some(byte) if plain(byte) => out.push(char::from(byte)),
            Some(byte) => out.push_str(&format!("%{byte:02X}")),
            // A percent sign that escapes nothing was meant as itself.
            None if byte == b'%' || !kept(byte) => out.push_str(&format!("%{byte:02X}")),
            None => out.push(char::from(byte)),
        }
    }
    out
}

/// The text with everything escaped that might part an address.
pub(super) fn escaped(text: &str) -> String {
    let bytes = text.bytes();
    bytes
        .map(|byte| match is_unreserved(byte) {
            true => char::from(byte).to_string(),
            false => format!("%{byte:02X}"),
        })
        .collect()
}

/// The text that was escaped; none where it is no text.
pub(super) fn unescaped(text: &str) -> Option<String> {
    let bytes = text.as_bytes();
    let mut out = Vec::with_capacity(bytes.len());
    let mut at = 0;
    while let Some(&byte) = bytes.get(at) {
        let escaped = (byte == b'%').then(|| text.get(at + 1..at + 3)).flatten();
        let escaped = escaped.and_then(|pair| u8::from_str_radix(pair, 16).ok());
        out.push(escaped.unwrap_or(byte));
        at += if escaped.is_some() { 3 } else { 1 };
    }
    String::from_utf8(out).ok()
}

/// RFC 3986, section 2.3.
fn is_unreserved(byte: u8) -> bool {
    byte.is_ascii_alphanumeric() || b"-._~".contains(&byte)
}

/// The characters of a path's segment, RFC 3986, section 3.3 (`pchar`).
fn is_plain_in_file(byte: u8) -> bool {
    is_unreserved(byte) || b"!$&'()*+,;=:@".contains(&byte)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn key(text: &str) -> Key {
        Key::new(&Uri::parse(text).unwrap_or_else(|error| panic!("{text}: {error}")))
    }

    #[test]
    fn ways_of_writing_one_address() {
        let table: &[(&str, &[&str])] = &[
            (
                "file:///c:/band/x.levare",
                &[
                    "file:///c:/band/x.levare",
                    "file:///C:/band/x.levare",
                    "file:///c%3A/band/x.levare",
                    "file:///C%3a/band/x.levare",
                    "file:///c|/band/x.levare",
                    "file:///c%7C/band/x.levare",
                    "FILE:///C:/band/x.levare",
                    "file://localhost/C:/band/x.levare",
                    "file:/c:/band/x.levare",
                    "file:///c:/band/./x.levare",
                    "file:///c:/lost/../band/x.levare",
                    "file:///c:/b%61nd/x%2elevare",
                ],
            ),
            (
                "file:///h/caf%C3%A9/x.levare",
                &[
                    "file:///h/caf%C3%A9/x.levare",
                    "file:///h/caf%c3%a9/x.levare",
                    "file:///h/café/x.levare",
                ],
            ),
            (
                "file:///h/a%20b+c&d(e)'f,g.levare",
                &[
                    "file:///h/a b+c&d(e)'f,g.levare",
                    "file:///h/a%20b%2Bc%26d%28e%29%27f%2Cg.levare",
                    "file:///h/a%20b%2bc%26d%28e%29%27f%2cg.levare",
                ],
            ),
            (
                "file:///h/Concert%20%232/why%3F.levare",
                &[
                    "file:///h/Concert%20%232/why%3F.levare",
                    "file:///h/Concert%20%232/why%3f.levare",
                ],
            ),
            (
                "file:///h/no.%232.levare",
                &["file:///h/no.#2.levare", "file:///h/no.%232.levare"],
            ),
            (
                "file:///h/100%25.levare",
                &["file:///h/100%.levare", "file:///h/100%25.levare"],
            ),
            // An escaped slash is part of a name and must not become a parting of names.
            (
                "file:///h/a%2Fb.levare",
                &["file:///h/a%2Fb.levare", "file:///h/a%2fb.levare"],
            ),
            (
                "file://shelf/band/x.levare",
                &["file://shelf/band/x.levare", "file://SHELF/band/x.levare"],
            ),
            ("untitled:Untitled-1", &["untitled:Untitled-1"]),
            (
                "untitled:/h/%C3%A9.levare",
                &["untitled:/h/%c3%a9.levare", "untitled:/h/é.levare"],
            ),
            (
                "git:/h/x.levare?%7B%22ref%22%7D",
                &[
                    "git:/h/x.levare?%7b%22ref%22%7d",
                    "git:/h/x.levare?%7B%22r%65f%22%7D",
                ],
            ),
        ];
        for (wanted, ways) in table {
            for way in *ways {
                assert_eq!(key(way).as_str(), *wanted, "{way}");
            }
        }
    }

    #[test]
    fn addresses_that_stay_apart() {
        let table = [
            ("file:///h/a.levare", "file:///h/A.levare"),
            ("file:///h/a%2Fb.levare", "file:///h/a/b.levare"),
            ("file:///h/x.levare", "untitled:/h/x.levare"),
            ("file:///c:/x", "file:///d:/x"),
            ("file:///cc:/x", "file:///CC:/x"),
            ("file://shelf/x", "file:///x"),
            ("untitled:a", "untitled:A"),
            ("git:/x?a", "git:/x?b"),
            ("note:/x#a", "note:/x#b"),
            ("file:///h/100%2541", "file:///h/100A"),
        ];
        for (one, other) in table {
            assert_ne!(key(one), key(other), "{one} and {other}");
        }
    }

    #[cfg(unix)]
    #[test]
    fn paths_of_addresses() {
        let table: &[(&str, Option<&str>)] = &[
            ("file:///h/x.levare", Some("/h/x.levare")),
            ("file:///h/caf%C3%A9 1.levare", Some("/h/café 1.levare")),
            ("file:///h/no.#2.levare", Some("/h/no.#2.levare")),
            ("file:///h/what?.levare", Some("/h/what?.levare")),
            ("file:///h/100%25.levare", Some("/h/100%.levare")),
            ("file:///h/a%5Cb.levare", Some("/h/a\\b.levare")),
            ("file:///h/a%2Fb.levare", None),
            ("file:///h/a%2fb.levare", None),
            ("file:///h/a%00b.levare", None),
            ("file://shelf/band/x.levare", None),
            ("untitled:Untitled-1", None),
            ("untitled:/h/x.levare", None),
            ("note-cell:/h/x.levare", None),
            ("git:/h/x.levare?ref", None),
        ];
        for (address, wanted) in table {
            assert_eq!(key(address).path(), wanted.map(PathBuf::from), "{address}");
        }
    }

    #[test]
    fn a_path_that_starts_nowhere_has_no_key() {
        assert_eq!(Key::of_path(Path::new("x.levare")), None);
    }

    #[test]
    fn a_step_up_behind_a_mark_is_one() {
        let key = |text: &str| Key::new(&Uri::parse(text).expect("an address"));
        assert_eq!(key("file:///a/b#/../c"), key("file:///a/c"));
        assert_eq!(key("file:#/.."), key("file:///"));
    }

    proptest! {
        #[test]
        fn what_is_escaped_comes_back(text in ".{0,30}") {
            let address = format!("note:/{0}.txt?{0}", escaped(&text));
            let uri = Uri::parse(&address).expect("an address");
            prop_assert_eq!(unescaped(uri.query().unwrap_or_default()), Some(text));
        }

        #[test]
        fn a_key_is_its_own_key(text in "(file|untitled|git):/{0,4}[a-zA-Z:|%#?é ./\\\\0-9]{0,20}") {
            if let Ok(uri) = Uri::parse(&text) {
                let once = Key::new(&uri);
                let again = Uri::parse(once.as_str()).map(|uri| Key::new(&uri));
                prop_assert_eq!(again.as_ref(), Ok(&once), "{}", text);
            }
        }

        #[cfg(unix)]
        #[test]
        fn a_path_comes_back(name in "[^/\0]{1,20}") {
            prop_assume!(name != "." && name != "..");
            let path = Path::new("/h").join(&name);
            let key = Key::of_path(&path).expect("the path starts at the root");
            prop_assert_eq!(key.path(), Some(path));
        }
    }
}
