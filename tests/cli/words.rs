//! What the command says of itself, in words that need no programmer.

use crate::bench::Bench;

/// Words that belong to programmers.
const NOT_OURS: &[&str] = &[
    "reference",
    "definition",
    "unused",
    "undefined",
    "syntax",
    "token",
    "parse",
    "invalid",
    "identifier",
    "null",
    "subcommand",
    "argument",
    "error:",
];

#[test]
fn plain_words_everywhere() {
    let bench = Bench::bare(&[("alder.levare", crate::bench::ALDER)]);
    let runs: &[&[&str]] = &[
        &[],
        &["--help"],
        &["start", "--help"],
        &["proofread", "--help"],
        &["recopy", "--help"],
        &["assign", "--help"],
        &["assign"],
        &["assign", "--demo", "--as", "poem", "Drum Hill"],
        &["assign", "--demo", "Drum Hill"],
        &["assign", "--demo", "Drum Hil"],
        &["assign", "--demo", "Spring concert"],
        &["reason", "--help"],
        &["desk", "--help"],
        &["completions", "--help"],
        &["manual-page", "--help"],
        &["sing"],
        &["proofred"],
        &["proofread", "--as"],
        &["proofread", "--as", "poem"],
        &["proofread", "--least", "loud"],
        &["proofread", "--today", "soon"],
        &["proofread", "--corect"],
        &["proofread", "--correct", "--demo"],
        &["proofread", "--correct", "--correct"],
        &["proofread", "nowhere"],
        &["completions"],
        &["completions", "shoe"],
        &["reason", "weather"],
        &["reason"],
        &["proofread", "--demo", "--least", "hint"],
        &["recopy", "nowhere"],
        &["compare", "--help"],
        &["compare"],
        &["compare", "nowhere", "elsewhere"],
        &["compare", "--since", "HEAD"],
        &["merge", "--help"],
        &["merge"],
        &["merge", "one", "two", "three"],
        &["start", "new", "--git"],
        &["proofread", "--since", "HEAD"],
    ];
    for arguments in runs {
        let ended = bench.run(arguments);
        let said = format!("{}{}", ended.out, ended.err).to_lowercase();
        assert!(!said.is_empty(), "{arguments:?} says nothing");
        for word in NOT_OURS {
            let found = said
                .split(|c: char| !c.is_alphanumeric() && c != ':')
                .any(|said| said == *word);
            assert!(!found, "{arguments:?} says {word}:\n{said}");
        }
    }
}

#[test]
fn slips_on_the_command_line() {
    let bench = Bench::bare(&[]);
    let table: [(&[&str], &str); 7] = [
        (
            &["proofred"],
            "levare does not know how to \"proofred\". Perhaps proofread? Add --help to see what can be said.",
        ),
        (
            &["proofread", "--corect"],
            "levare does not know what to do with \"--corect\" here. Perhaps --correct? Add --help to see what can be said.",
        ),
        (
            &["proofread", "--as", "poem"],
            "\"poem\" does not go with --as <FORM>: it may be cards, aloud, json, sarif, merge-request. Add --help to see what can be said.",
        ),
        (
            &["proofread", "--today", "soon"],
            "\"soon\" does not go with --today <DAY>: a day is written year-month-day, such as 2026-10-20. Add --help to see what can be said.",
        ),
        (
            &["proofread", "--correct", "--demo"],
            "--correct and --demo do not go together. Add --help to see what can be said.",
        ),
        (
            &["proofread", "--correct", "--correct"],
            "--correct can be said only once. Add --help to see what can be said.",
        ),
        (
            &["completions"],
            "<SHELL> has to be said here. Add --help to see what can be said.",
        ),
    ];
    for (arguments, said) in table {
        let ended = bench.run(arguments);
        assert_eq!(ended.err.replace('\n', " ").trim(), said);
        assert_eq!((ended.status, ended.out.as_str()), (2, ""));
    }
}

#[test]
fn shells_and_man_know_every_command() {
    let bench = Bench::bare(&[]);
    let commands = [
        "start",
        "proofread",
        "recopy",
        "assign",
        "reason",
        "desk",
        "completions",
    ];
    for shell in ["bash", "elvish", "fish", "powershell", "zsh"] {
        let script = bench.run(&["completions", shell]);
        assert_eq!(script.status, 0);
        for command in commands {
            assert!(script.out.contains(command), "{shell}: {command}");
        }
        assert!(script.out.contains("instead-of"), "{shell}");
    }
    let page = bench.run(&["manual-page"]);
    assert!(page.out.contains(".TH levare 1"), "{}", page.out);
    for command in commands {
        let heading = format!(".SH \"LEVARE {}\"", command.to_uppercase());
        assert!(page.out.contains(&heading), "{command}");
    }
}
