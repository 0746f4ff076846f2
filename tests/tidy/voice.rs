//! American band-room English: words that never reach a user, in anything that is said.

use super::sayings::{self, Saying};

/// Words of another ear, each with the one that a band room says.
const ELSEWHERE: [(&str, &str); 55] = [
    ("anew", "again"),
    ("any more", "anymore"),
    ("autumn", "fall"),
    ("be spared", "be left out"),
    ("bears", "has"),
    ("behind", "after"),
    ("blanks", "spaces"),
    ("by the same hand", "by the same composer"),
    ("can be said", "what to type"),
    ("cannot be told", "nobody can tell"),
    ("cannot tell", "not sure"),
    ("catalogue", "catalog"),
    ("catalogues", "catalogs"),
    ("clean copy", "recopied"),
    ("coarse", "a rough count"),
    ("colour", "color"),
    ("cupboard", "closet"),
    ("dearer", "costs more"),
    ("did you mean", "perhaps"),
    ("family name", "last name"),
    ("grey", "gray"),
    ("in earnest", "for real"),
    ("in the bag", "stick bag"),
    ("in vain", "and do not find it"),
    ("judged for it", "checked for this band"),
    ("judgement", "judgment"),
    ("laid out anew", "recopied"),
    ("let pass", "allowed"),
    ("list of wishes", "wish list"),
    ("look first", "check the score"),
    ("meanwhile", "in the meantime"),
    ("mend", "fix"),
    ("mended", "fixed"),
    ("mends", "fixes"),
    ("near enough", "close enough"),
    ("no ordinary", "not an ordinary"),
    ("out fair", "recopied"),
    ("programme", "program"),
    ("reckon", "figure"),
    ("reckoned", "figured"),
    ("reckons", "figures"),
    ("slip of the hand", "typo"),
    ("sound at once", "play at once"),
    ("sounds at once", "plays at once"),
    ("spared", "left out"),
    ("stands here", "is here"),
    ("stands in the", "is in the"),
    ("stands on the", "is on the"),
    ("surely", "leave it out"),
    ("the one form", "as recopied"),
    ("the other way round", "the other way around"),
    ("upside down", "backwards"),
    ("whilst", "while"),
    ("write it so", "write it that way"),
    ("writer", "composer"),
];

/// Whether these words stand in the text, as words and not within longer ones.
fn says(text: &str, words: &str) -> bool {
    text.match_indices(words).any(|(at, _)| {
        let before = text[..at].chars().next_back();
        let after = text[at + words.len()..].chars().next();
        ![before, after]
            .into_iter()
            .flatten()
            .any(|c| c.is_alphanumeric() || matches!(c, '_' | '/' | '{' | '}' | ':' | '$'))
    })
}

/// Where words stand that directors type, or once typed, and that are read whatever the ear.
const READ: [&str; 2] = ["src/findings/renamed.rs", "src/notation/facts/keywords.rs"];

/// What one saying says that it should not.
fn faults(saying: &Saying) -> Vec<String> {
    if READ.iter().any(|file| saying.place.starts_with(file)) {
        return Vec::new();
    }
    // The words that a field may also be called by, and the names of what machines read, stand between strokes.
    let text: String = saying.text.to_lowercase().split('`').step_by(2).collect();
    ELSEWHERE
        .iter()
        .filter(|(words, _)| says(&text, words))
        .map(|(words, ours)| {
            format!(
                "{}: {words:?}, a band room says {ours:?}: {}",
                saying.place, saying.text
            )
        })
        .collect()
}

#[test]
fn everything_is_said_as_a_band_room_says_it() {
    let sayings = sayings::all();
    assert!(sayings.len() > 2000, "only {} sayings were found", sayings.len());
    let faults: Vec<String> = sayings.iter().flat_map(faults).collect();
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
}

#[test]
fn a_word_of_another_ear_is_heard() {
    let said = |text: &str| {
        faults(&Saying {
            place: String::new(),
            text: text.to_owned(),
        })
        .len()
    };
    assert_eq!(said("Write it behind the title."), 1);
    assert_eq!(said("Amend the copywriter's {catalogue}."), 0);
}
