//! The house rules, held by reading the sources: walls between rooms, file lengths, docs, words for users.

#[path = "tidy/walls.rs"]
mod walls;
#[path = "tidy/words.rs"]
mod words;

use std::path::{Path, PathBuf};

/// A source file: its path below the project, and its text.
pub struct Source {
    /// With `/` between folders.
    pub path: String,
    /// All of it.
    pub text: String,
}

impl Source {
    /// The lines of code outside test modules and comments, numbered from 1.
    pub fn code(&self) -> impl Iterator<Item = (usize, &str)> {
        let tests_start = self.text.find("#[cfg(test)]").unwrap_or(self.text.len());
        self.text[..tests_start]
            .lines()
            .enumerate()
            .map(|(at, line)| (at + 1, line.split("//").next().unwrap_or("")))
            .filter(|(_, line)| !line.trim().is_empty())
    }

    /// The room it lies in: the first folder below `src`, or its own name for a file right there.
    pub fn room(&self) -> &str {
        let below = self.path.strip_prefix("src/").unwrap_or("");
        below.split('/').next().unwrap_or("")
    }
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
