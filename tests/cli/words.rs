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

/// Each command that reads a catalogue takes its folder in the same words, and `help` shows what `--help` shows.
#[test]
fn every_command_takes_the_folder_in_one_way() {
    let bench = Bench::bare(&[]);
    let whole = bench.run(&["help"]);
    assert_eq!((whole.status, &whole.out), (0, &bench.run(&["--help"]).out));
    let commands = whole.out.lines().filter_map(|line| {
        let word = line.strip_prefix("  ")?.split(' ').next()?;
        word.starts_with(|c: char| c.is_ascii_lowercase()).then_some(word)
    });
    let commands: Vec<&str> = commands.collect();
    assert_eq!(commands.len(), 18, "{commands:?}");
    for command in commands {
        let page = bench.run(&["help", command]);
        assert_eq!(page.out, bench.run(&[command, "--help"]).out);
        let takes = page.out.contains("--in <FOLDER>");
        let reads = !["reason", "desk", "completions", "manual-page"].contains(&command);
        assert_eq!(takes, reads, "{command}\n{}", page.out);
    }
}

#[test]
fn slips_on_the_command_line() {
    let bench = Bench::bare(&[]);
    let table: [(&[&str], &str); 7] = [
        (
            &["proofred"],
            "levare does not know how to \"proofred\". Perhaps proofread? Add --help to see what to type.",
        ),
        (
            &["proofread", "--corect"],
            "levare does not know what to do with \"--corect\" here. Perhaps --correct? Add --help to see what to type.",
        ),
        (
            &["proofread", "--as", "poem"],
            "\"poem\" does not go with --as FORM: it may be cards, aloud, json, sarif, merge-request. Add --help to see what to type.",
        ),
        (
            &["proofread", "--today", "soon"],
            "\"soon\" does not go with --today DAY: a day is written year-month-day, such as 2026-10-20. Add --help to see what to type.",
        ),
        (
            &["proofread", "--correct", "--demo"],
            "--correct and --demo do not go together. Add --help to see what to type.",
        ),
        (
            &["proofread", "--correct", "--correct"],
            "--correct can be typed only once. Add --help to see what to type.",
        ),
        (
            &["completions"],
            "SHELL is missing here. Add --help to see what to type.",
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
