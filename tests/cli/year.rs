//! The manual's page about one year: every answer on it is what the program says, in the order of the page.
//!
//! A fence that begins with `$ levare` is a command with its answer; a fence of cards is added to the file it names;
//! a line `<!-- on DAY -->` turns the calendar. With `LEVARE_BLESS=1` the answers are written anew.

use std::path::PathBuf;

use crate::bench::Bench;

fn path() -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("grammar/year.md")
}

/// The words of a command line; what stands in double quotes is one word.
fn words(line: &str) -> Vec<String> {
    let mut all = vec![String::new()];
    let mut quoted = false;
    for letter in line.chars() {
        match letter {
            '"' => quoted = !quoted,
            ' ' if !quoted => all.push(String::new()),
            letter => all.last_mut().expect("there is one").push(letter),
        }
    }
    all.retain(|word| !word.is_empty());
    all
}

#[test]
fn the_page_about_a_year_is_what_happens() {
    let page = std::fs::read_to_string(path()).expect("the page is there");
    let bench = Bench::bare(&[]);
    assert_eq!(bench.run(&["start", "--demo"]).status, 0);
    let mut day = String::new();
    let mut now = String::new();
    let mut lines = page.lines();
    let mut commands = 0;
    while let Some(line) = lines.next() {
        now.push_str(line);
        now.push('\n');
        if let Some(rest) = line.strip_prefix("<!-- on ") {
            day = rest.trim_end_matches(" -->").to_owned();
        }
        let Some(fence) = line.strip_prefix("```") else {
            let told = line.starts_with('<') || line.starts_with('#');
            // What a reader may take for an answer stands in an answer.
            assert!(
                told || !line.contains(|c: char| c.is_ascii_digit()),
                "a number of its own: {line}"
            );
            continue;
        };
        let body: Vec<&str> = lines.by_ref().take_while(|line| *line != "```").collect();
        if let Some(file) = fence.strip_prefix("levare ") {
            let cards: String = body.iter().map(|line| format!("{line}\n")).collect();
            bench.write(file, bench.read(file) + "\n" + &cards);
            now.push_str(&cards);
        } else {
            let command = body.first().expect("a command");
            let said = words(command.strip_prefix("$ levare ").expect("a command of levare"));
            let mut arguments: Vec<&str> = said.iter().map(String::as_str).collect();
            arguments.extend(["--today", &day]);
            let ended = bench.run(&arguments);
            assert!(ended.status < 2, "{command}: {}", ended.err);
            now.push_str(&format!("{command}\n{}{}", ended.out, ended.err));
            commands += 1;
        }
        now.push_str("```\n");
    }
    assert!(commands >= 8, "only {commands} commands");
    if std::env::var_os("LEVARE_BLESS").is_some() {
        std::fs::write(path(), &now).expect("the page can be written");
        return;
    }
    for (was, is) in page.lines().zip(now.lines()) {
        assert_eq!(
            was, is,
            "run with LEVARE_BLESS=1 to write the answers anew, then read the page"
        );
    }
    assert_eq!(
        page.len(),
        now.len(),
        "run with LEVARE_BLESS=1 to write the answers anew"
    );
}
