//! The sources of the project, read as text.

use std::path::{Path, PathBuf};

/// A source file: its path below the project, and its text.
pub struct Source {
    /// With `/` between folders.
    pub path: String,
    /// All of it.
    pub text: String,
}

impl Source {
    /// The lines of code outside tests and comments, numbered from 1. What `#[cfg(test)]` stands before is left
    /// out, and only that: code below a test module is code.
    pub fn code(&self) -> impl Iterator<Item = (usize, &str)> {
        let mut kept = Vec::new();
        let mut aside: Option<Aside> = None;
        for (at, line) in self.text.lines().enumerate() {
            let bare = line.trim();
            let indent = line.len() - line.trim_start().len();
            aside = match aside {
                Some(Aside::Inside(from)) if indent == from && bare.starts_with('}') => None,
                Some(Aside::Before) if bare.starts_with("#[") || bare.starts_with("//") => {
                    Some(Aside::Before)
                }
                Some(Aside::Before) if bare.ends_with('{') => Some(Aside::Inside(indent)),
                Some(Aside::Before) if bare.ends_with([';', '}', ',']) => None,
                Some(still) => Some(still),
                None if bare.starts_with("#[cfg(test)]") => Some(Aside::Before),
                None => {
                    kept.push((at + 1, code_of(line)));
                    None
                }
            };
        }
        kept.into_iter().filter(|(_, line)| !line.trim().is_empty())
    }

    /// What the code takes in by `use`, each path spelled out, with its line: `use crate::{text::Span, cli};` is
    /// `crate::text::Span` and `crate::cli`.
    pub fn taken_in(&self) -> Vec<(usize, String)> {
        let mut found = Vec::new();
        let mut open: Option<(usize, String)> = None;
        for (number, line) in self.code() {
            let start = line.trim_start();
            let (first, mut words) = match open.take() {
                Some(open) => open,
                None => {
                    let Some(at) = start.find("use ").filter(|at| {
                        *at == 0
                            || (start.starts_with("pub") && start[..*at].trim_end().ends_with(['b', ')']))
                    }) else {
                        continue;
                    };
                    (number, start[at + 4..].to_owned())
                }
            };
            if first != number {
                words.push_str(start);
            }
            match words.split_once(';') {
                Some((whole, _)) => spell_out("", whole, &mut |path| found.push((first, path))),
                None => open = Some((first, words)),
            }
        }
        found
    }

    /// The room it lies in: the first folder below `src`, or its own name for a file right there.
    pub fn room(&self) -> &str {
        let below = self.path.strip_prefix("src/").unwrap_or("");
        below.split('/').next().unwrap_or("")
    }
}

/// Where a stretch of tests is being passed over.
#[derive(Clone, Copy)]
enum Aside {
    /// After the attribute, before what it belongs to.
    Before,
    /// Inside braces that opened on a line indented so far.
    Inside(usize),
}

/// A line without its comment; the two strokes of an address are no comment.
fn code_of(line: &str) -> &str {
    let strokes = line.match_indices("//").map(|(at, _)| at);
    let comment = strokes.into_iter().find(|at| !line[..*at].ends_with(':'));
    comment.map_or(line, |at| &line[..at])
}

/// Spells out a tree of `use`.
fn spell_out(before: &str, tree: &str, found: &mut dyn FnMut(String)) {
    let tree = tree.trim();
    let Some((path, inner)) = tree.split_once('{') else {
        if !tree.is_empty() {
            found(format!("{before}{tree}"));
        }
        return;
    };
    let inner = inner.trim().strip_suffix('}').unwrap_or(inner);
    let before = format!("{before}{path}");
    let (mut depth, mut from) = (0, 0);
    for (at, c) in inner.char_indices() {
        match c {
            '{' => depth += 1,
            '}' => depth -= 1,
            ',' if depth == 0 => {
                spell_out(&before, &inner[from..at], found);
                from = at + 1;
            }
            _ => {}
        }
    }
    spell_out(&before, &inner[from..], found);
}

/// All Rust files below a folder of the project.
pub fn sources(folder: &str) -> Vec<Source> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut found = Vec::new();
    let mut open: Vec<PathBuf> = vec![root.join(folder)];
    while let Some(path) = open.pop() {
        for entry in std::fs::read_dir(&path).expect("a folder of the project can be read") {
            let path = entry.expect("its entries too").path();
            if path.is_dir() {
                open.push(path);
            } else if path.extension().is_some_and(|end| end == "rs") {
                let below = path.strip_prefix(root).expect("it lies in the project");
                found.push(Source {
                    path: below.to_string_lossy().replace('\\', "/"),
                    text: std::fs::read_to_string(&path).expect("a source file is text"),
                });
            }
        }
    }
    found.sort_by(|a, b| a.path.cmp(&b.path));
    assert!(found.len() > 5, "no sources below {folder}");
    found
}
