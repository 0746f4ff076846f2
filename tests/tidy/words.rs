//! Words that never reach a user, and names that do not belong in the project.

use levare::findings::{RULES, page};

/// Programmers' words.
const JARGON: [&str; 16] = [
    "token",
    "parse",
    "syntax",
    "undefined",
    "unused",
    "invalid",
    "identifier",
    "null",
    "string literal",
    "reference to",
    "definition",
    "lint",
    "warning:",
    "error:",
    "exception",
    "deprecated",
];

fn jargon(text: &str) -> Vec<&'static str> {
    let text = text.to_lowercase();
    let words: Vec<&str> = text.split(|c: char| !c.is_alphanumeric() && c != ':').collect();
    JARGON
        .into_iter()
        .filter(|jargon| match jargon.contains(' ') {
            true => text.contains(jargon),
            false => words
                .iter()
                .any(|word| word == jargon || word.strip_suffix('s') == Some(jargon)),
        })
        .collect()
}

#[test]
fn rules_speak_a_directors_words() {
    let mut faults = Vec::new();
    for rule in RULES {
        let page = page::parse(rule.page);
        for part in [rule.phrase, &page.notices, &page.why, &page.todo, &page.words] {
            faults.extend(
                jargon(part)
                    .into_iter()
                    .map(|word| format!("{}: says {word:?}", rule.phrase)),
            );
        }
    }
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
}

#[test]
fn phrases_open_like_no_other_program() {
    let openings = [
        "no ",
        "no-",
        "unused",
        "undefined",
        "duplicate",
        "too many",
        "missing-",
        "unknown",
        "invalid",
        "prefer",
    ];
    for rule in RULES {
        assert!(
            !openings.iter().any(|opening| rule.phrase.starts_with(opening)),
            "{}",
            rule.phrase
        );
    }
}

#[test]
fn sources_say_nothing_a_user_would_not_understand() {
    let mut faults = Vec::new();
    for source in super::sources("src")
        .iter()
        .filter(|source| matches!(source.room(), "findings" | "cli" | "disk" | "assist"))
    {
        for (number, line) in source.code() {
            // Only sentences: a literal with blanks in it that starts with a capital or is made with format!.
            for literal in line
                .split('"')
                .skip(1)
                .step_by(2)
                .filter(|literal| literal.split(' ').count() > 3)
            {
                faults.extend(
                    jargon(literal)
                        .into_iter()
                        .map(|word| format!("{}:{number}: says {word:?}", source.path)),
                );
            }
        }
    }
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
}

#[test]
fn jargon_is_seen() {
    assert_eq!(jargon("The parser found two Tokens."), ["token"]);
    assert_eq!(jargon("Play it in the second half."), Vec::<&str>::new());
}
