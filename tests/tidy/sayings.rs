//! Everything the program, its pages and its manual say to whoever uses it, with the place where each is written.

use levare::findings::RULES;

/// The pages of words for users, each a file of the project; what is fenced off in them is notation or output.
const PAGES: [&str; 15] = [
    "README.md",
    "editors/README.md",
    "editors/browser/README.md",
    "editors/capabilities.md",
    "editors/emacs/README.md",
    "editors/helix/README.md",
    "editors/kate/README.md",
    "editors/neovim/README.md",
    "editors/sublime/README.md",
    "editors/vim/README.md",
    "editors/vscode/README.md",
    "editors/zed/README.md",
    "grammar/for-programs.md",
    "grammar/limits.md",
    "grammar/manual.md",
];

/// One thing that is said.
pub struct Saying {
    /// The file and line, or the rule whose page it stands on.
    pub place: String,
    /// The words.
    pub text: String,
}

/// All sayings: sentences in the code, the pages of the rules, the help of the commands, the manual and its kin.
pub fn all() -> Vec<Saying> {
    let mut found = sentences();
    for rule in RULES {
        found.extend(unfenced(rule.page).map(|(_, line)| Saying {
            place: format!("levare reason {}", rule.phrase),
            text: line.trim().to_owned(),
        }));
    }
    let root = std::path::Path::new(env!("CARGO_MANIFEST_DIR"));
    for page in PAGES {
        let text = std::fs::read_to_string(root.join(page)).expect("a page of the project can be read");
        found.extend(unfenced(&text).map(|(number, line)| Saying {
            place: format!("{page}:{number}"),
            text: line.to_owned(),
        }));
    }
    found.extend(scripts(root));
    found.retain(|saying| saying.text.chars().any(char::is_alphabetic));
    found
}

/// The sentences in the code: whatever stands between quotes and has three words or more, and the help of the
/// commands, which is written as comments. A table of words that directors type has shorter ones.
fn sentences() -> Vec<Saying> {
    let mut found = Vec::new();
    let tests = |path: &str| path.contains("/tests/") || path.ends_with("tests.rs");
    for source in super::sources("src").iter().filter(|source| !tests(&source.path)) {
        for (number, line) in source.code() {
            for literal in quoted(line).filter(|literal| literal.split(' ').count() > 2) {
                found.push(Saying {
                    place: format!("{}:{number}", source.path),
                    text: literal,
                });
            }
        }
        if source.path == "src/cli/args.rs" {
            for (at, line) in source.text.lines().enumerate() {
                found.extend(line.trim().strip_prefix("/// ").map(|help| Saying {
                    place: format!("{}:{}", source.path, at + 1),
                    text: help.to_owned(),
                }));
            }
        }
    }
    found
}

/// Folders of scripts and pages that speak to directors, and the file in which an editor's extension describes
/// itself.
const SCRIPTS: [&str; 3] = [
    "editors/browser/src",
    "editors/vscode/src",
    "editors/vscode/package.json",
];

/// The sentences in scripts and pages: three words or more between quotes of any kind, or between tags.
fn scripts(root: &std::path::Path) -> Vec<Saying> {
    let mut files = Vec::new();
    for place in SCRIPTS {
        let path = root.join(place);
        match path.is_dir() {
            true => files.extend(
                std::fs::read_dir(path)
                    .expect("a folder of scripts")
                    .map(|entry| {
                        format!(
                            "{place}/{}",
                            entry.expect("an entry").file_name().to_string_lossy()
                        )
                    }),
            ),
            false => files.push(place.to_owned()),
        }
    }
    let mut found = Vec::new();
    for file in files {
        let text = std::fs::read_to_string(root.join(&file)).expect("a script can be read");
        let code = |line: &&str| {
            !["//", "/*", "*", "import ", "export "]
                .iter()
                .any(|start| line.starts_with(start))
        };
        let lines = text
            .lines()
            .map(str::trim)
            .enumerate()
            .filter(|(_, line)| code(line));
        for (at, line) in lines {
            let pieces = line.split(['"', '\'', '`', '<', '>']);
            // Code between two words in quotes is no sentence.
            let pieces =
                pieces.filter(|words| !["()", ");", "|", " = "].iter().any(|code| words.contains(code)));
            found.extend(
                pieces
                    .filter(|words| words.trim().split(' ').count() > 2)
                    .map(|words| Saying {
                        place: format!("{file}:{}", at + 1),
                        text: words.to_owned(),
                    }),
            );
        }
    }
    found
}

/// What stands between the quotes of a line of code.
fn quoted(line: &str) -> impl Iterator<Item = String> {
    let mut found = Vec::new();
    let mut open: Option<String> = None;
    let mut letters = line.chars();
    while let Some(letter) = letters.next() {
        match (letter, open.as_mut()) {
            ('"', Some(_)) => found.extend(open.take()),
            ('"', None) => open = Some(String::new()),
            ('\\', Some(text)) => text.extend(letters.next().filter(|next| *next == '"')),
            (_, Some(text)) => text.push(letter),
            // A single letter between strokes may be the quote itself.
            ('\'', None) => {
                let mut ahead = letters.clone();
                if ahead.next() == Some('"') && ahead.next() == Some('\'') {
                    letters = ahead;
                }
            }
            (_, None) => {}
        }
    }
    // A sentence that goes on in the next line of the code.
    found.extend(open);
    found.into_iter()
}

/// The lines of a page outside fences, numbered from 1.
fn unfenced(page: &str) -> impl Iterator<Item = (usize, &str)> {
    let mut fenced = false;
    page.lines().enumerate().filter_map(move |(at, line)| {
        let fence = line.trim_start().starts_with("```");
        fenced ^= fence;
        (!fence && !fenced).then_some((at + 1, line))
    })
}
