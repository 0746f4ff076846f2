//! One answer everywhere: the same catalogue draws the same findings, byte for byte, from the command line, the desk
//! and the page. On the demo, the hand-typed catalogues and 500 invented cards. (That the page in a browser says what
//! the page says here is seen by `tests/browser`.)

#![allow(clippy::unwrap_used, reason = "a test that fails may say so at once")]
#![allow(dead_code, reason = "what it shares with others is not all used")]

#[path = "../examples/invented/catalogue.rs"]
mod catalogue;
#[path = "../examples/invented/chance.rs"]
mod chance;
#[path = "desk/client.rs"]
mod client;
#[path = "../examples/invented/names.rs"]
mod names;
#[path = "../examples/invented/piece.rs"]
mod piece;
#[path = "../examples/invented/school.rs"]
mod school;

use std::path::Path;
use std::process::Command;

use serde_json::{Value, json};

use client::{Folder, Setup};
use levare::catalogue::ready::DEMO;
use levare::page::Page;

/// The files of a folder of this repository.
fn files_of(folder: &Path, before: &str, all: &mut Vec<(String, String)>) {
    let mut entries: Vec<_> = std::fs::read_dir(folder)
        .unwrap()
        .map(|one| one.unwrap())
        .collect();
    entries.sort_by_key(|entry| entry.file_name());
    for entry in entries {
        let name = format!("{before}{}", entry.file_name().to_string_lossy());
        if entry.path().is_dir() {
            files_of(&entry.path(), &format!("{name}/"), all);
        } else if name.ends_with(".levare") || name.ends_with("known-findings.json") {
            all.push((name, std::fs::read_to_string(entry.path()).unwrap()));
        }
    }
}

fn catalogues() -> Vec<(String, Vec<(String, String)>)> {
    let own = |(name, text): &(&str, &str)| ((*name).to_owned(), (*text).to_owned());
    let mut all = vec![("demo".to_owned(), DEMO.iter().map(own).collect())];
    let here = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/catalogues");
    for name in ["hasty", "neat", "odd", "planned", "river", "summit"] {
        let mut files = Vec::new();
        files_of(&here.join(name), "", &mut files);
        all.push((name.to_owned(), files));
    }
    all.push(("invented".to_owned(), catalogue::catalogue(1, 500, 20)));
    all
}

fn ask(page: &mut Page, question: Value) -> Value {
    serde_json::from_str(&page.answer(&question.to_string())).unwrap()
}

/// The page with a catalogue of today.
fn page(files: &[(String, String)]) -> Page {
    let mut page = Page::default();
    let today = jiff::ZonedDateTime::now().date().to_string();
    ask(&mut page, json!({"ask": "begin", "today": today}));
    let files: Vec<Value> = files
        .iter()
        .map(|(file, text)| json!({"file": file, "text": text}))
        .collect();
    assert_eq!(
        ask(&mut page, json!({"ask": "put", "files": files}))["amiss"],
        Value::Null
    );
    page
}

/// A finding as a line: where, how strong, its phrase, its words, what belongs to it.
fn line(file: &str, range: &[u64], strength: &str, phrase: &str, says: &str, related: &[String]) -> String {
    format!("{file} {range:?} {strength} [{phrase}] {says:?} {related:?}")
}

fn by_page(page: &mut Page, files: &[(String, String)]) -> Vec<String> {
    let mut lines = Vec::new();
    for (file, _) in files.iter().filter(|(file, _)| file.ends_with(".levare")) {
        let answer = ask(page, json!({"ask": "found", "file": file, "written": null}));
        let numbers = |at: &Value| -> Vec<u64> {
            at.as_array()
                .unwrap()
                .iter()
                .map(|one| one.as_u64().unwrap())
                .collect()
        };
        for found in answer["found"].as_array().unwrap() {
            let related: Vec<String> = found["related"]
                .as_array()
                .unwrap()
                .iter()
                .map(|one| {
                    let leads = &one["leads"];
                    format!("{} {} {:?}", one["says"], leads["file"], numbers(&leads["at"]))
                })
                .collect();
            let word = |name: &str| found[name].as_str().unwrap();
            lines.push(line(
                file,
                &numbers(&found["at"]),
                word("severity"),
                word("phrase"),
                word("says"),
                &related,
            ));
        }
        if let Some(more) = answer["more"].as_str() {
            lines.push(line(file, &[0, 0, 0, 0], "information", "", more, &[]));
        }
    }
    lines.sort();
    lines
}

fn by_desk(folder: &Folder, files: &[(String, String)]) -> Vec<String> {
    let mut client = Setup::new(&[&folder.path("")]).pulls().start();
    // As an editor does with the file that somebody looks at; a folder without a handbook becomes a catalogue by it.
    let (file, text) = files.iter().find(|(file, _)| file.ends_with(".levare")).unwrap();
    client.open(&folder.uri(file), text);
    let all = client.ask("workspace/diagnostic", json!({"previousResultIds": []}));
    let name_of = |uri: &Value| {
        let uri = uri.as_str().unwrap();
        let known = files.iter().find(|(file, _)| folder.uri(file) == uri);
        known.map(|(file, _)| file.clone()).unwrap()
    };
    let range = |range: &Value| -> Vec<u64> {
        let at = |end: &str, part: &str| range[end][part].as_u64().unwrap();
        vec![
            at("start", "line"),
            at("start", "character"),
            at("end", "line"),
            at("end", "character"),
        ]
    };
    let mut lines = Vec::new();
    for report in all["items"].as_array().unwrap() {
        let file = name_of(&report["uri"]);
        for found in report["items"].as_array().unwrap() {
            let strength =
                ["", "error", "warning", "information", "hint"][found["severity"].as_u64().unwrap() as usize];
            let related: Vec<String> = found["relatedInformation"]
                .as_array()
                .into_iter()
                .flatten()
                .map(|one| {
                    let place = &one["location"];
                    format!(
                        "{} {:?} {:?}",
                        one["message"],
                        name_of(&place["uri"]),
                        range(&place["range"])
                    )
                })
                .collect();
            let phrase = found["code"].as_str().unwrap_or("");
            let says = found["message"].as_str().unwrap();
            lines.push(line(
                &file,
                &range(&found["range"]),
                strength,
                phrase,
                says,
                &related,
            ));
        }
    }
    lines.sort();
    lines
}

fn by_command(folder: &Folder) -> String {
    let output = Command::new(env!("CARGO_BIN_EXE_levare"))
        .args(["proofread", "--as", "json", "--least", "hint"])
        .current_dir(folder.path(""))
        .output()
        .unwrap();
    String::from_utf8(output.stdout).unwrap()
}

/// The first line in which two differ.
fn differ(one: &[String], other: &[String]) -> Option<String> {
    let at = (0..one.len().max(other.len())).find(|at| one.get(*at) != other.get(*at))?;
    Some(format!("{:?}\n{:?}", one.get(at), other.get(at)))
}

#[test]
fn the_same_findings_from_the_command_line_the_desk_and_the_page() {
    let (mut told, mut all) = (0, 0);
    for (name, files) in catalogues() {
        let given: Vec<(&str, &str)> = files.iter().map(|(file, text)| (&**file, &**text)).collect();
        let folder = Folder::with(&given);
        let mut page = page(&files);
        let answer = ask(&mut page, json!({"ask": "lines", "least": "hint", "all": false}));
        let lines: Vec<String> = answer["text"]
            .as_str()
            .unwrap()
            .lines()
            .map(str::to_owned)
            .collect();
        let command: Vec<String> = by_command(&folder).lines().map(str::to_owned).collect();
        assert_eq!(differ(&lines, &command), None, "{name}: page and command line");
        all += lines.len();
        let found = by_page(&mut page, &files);
        assert_eq!(
            differ(&found, &by_desk(&folder, &files)),
            None,
            "{name}: page and desk"
        );
        told += found.len();
        // A planted difference is seen.
        if let [first, ..] = found.as_slice() {
            let planted: Vec<String> = found
                .iter()
                .map(|one| one.replacen(first, "planted", 1))
                .collect();
            assert!(differ(&found, &planted).is_some(), "{name}");
        }
    }
    // Seen with: cargo test --test one_answer -- --nocapture
    println!("{all} findings by the command line and the page, {told} told by the page and the desk");
    assert!(all > 500 && told > 500, "{all} and {told}");
}

/// What a table of columns tells: for each of these instruments the seat at the head of its column.
fn seats_of(table: &str, instruments: &[&str]) -> Vec<String> {
    let lines: Vec<&str> = table.lines().collect();
    let rule = lines.iter().position(|line| line.starts_with('─')).unwrap();
    // A column begins where its line does.
    let line: Vec<char> = lines[rule].chars().collect();
    let begins = (0..line.len()).filter(|at| line[*at] == '─' && (*at == 0 || line[*at - 1] != '─'));
    let begins: Vec<usize> = begins.collect();
    let word = |line: &str, at: usize| -> String {
        let rest: String = line.chars().skip(at).collect();
        rest.split("  ").next().unwrap_or_default().to_owned()
    };
    let of = |instrument: &&str| {
        let below = lines[rule..].iter();
        let found = below
            .flat_map(|line| begins.iter().map(|at| (*at, word(line, *at))))
            .find(|(_, words)| words.starts_with(instrument));
        let (at, _) = found.unwrap_or_else(|| panic!("{instrument} in {table}"));
        word(lines[rule - 1], at)
    };
    instruments.iter().map(of).collect()
}

/// By itself each piece would go to P1 and P2; its next concert, which is not the first of the file, decides otherwise.
const EVENING: &str = "ensemble \"Band\"
  percussionists
    P1 P2 P3 P4     snare, bass drum, cymbals, accessories

piece \"Rill\"
  meter           4/4
  tempo           quarter = 120
  measures        60
  percussion
    snare           1-60
    triangle        1-30

piece \"Weir\"
  meter           4/4
  tempo           quarter = 120
  measures        60
  percussion
    snare           1-60
    triangle        1-30

concert \"Spring\"
  on              2027-05-10
  for             \"Band\"
  absent          P1
  program
    \"Weir\"

concert \"Winter\"
  on              2026-12-10
  for             \"Band\"
  absent          P4
  assigned        P3 on snare
  program
    \"Rill\"
    \"Weir\", without P2
";

#[test]
fn the_same_players_of_a_piece_by_itself_and_in_its_next_concert() {
    let parts = ["snare", "triangle"];
    let folder = Folder::with(&[("cards.levare", EVENING)]);
    let assign = |arguments: &[&str]| {
        let output = Command::new(env!("CARGO_BIN_EXE_levare"))
            .args(["assign", "--today", "2026-10-20"])
            .args(arguments)
            .current_dir(folder.path(""))
            .output()
            .unwrap();
        String::from_utf8(output.stdout).unwrap()
    };
    let concert = assign(&["Winter"]);
    let mut page = Page::default();
    ask(&mut page, json!({"ask": "begin", "today": "2026-10-20"}));
    ask(
        &mut page,
        json!({"ask": "put", "files": [{"file": "cards.levare", "text": EVENING}]}),
    );
    let line = |words: &str| EVENING.lines().position(|line| line.starts_with(words)).unwrap();
    for title in ["Rill", "Weir"] {
        let card = line(&format!("piece \"{title}\""));
        let at = concert.find(&format!(". {title}\n")).unwrap();
        let expected = seats_of(&concert[at..], &parts);
        assert_eq!(seats_of(&assign(&[title]), &parts), expected, "{title}: command");
        let page_of = |page: &mut Page, line: usize, which: &str| {
            let sheet = json!({"ask": "sheet", "file": "cards.levare", "at": [line, 3], "which": which, "size": "letter"});
            ask(page, sheet)["html"].as_str().unwrap().to_owned()
        };
        for which in ["door", "counting", "seating"] {
            let printed = assign(&[title, "--as", which]);
            assert_eq!(page_of(&mut page, card, which), printed, "{title}: {which}");
        }
        // The counting of a piece is a sheet of the concert's.
        let counting = page_of(&mut page, card, "counting");
        let all = page_of(&mut page, line("concert \"Winter\""), "counting");
        let words = |html: &str| -> Vec<String> {
            let texts = html.split("<text").skip(1);
            let said = texts.filter_map(|text| text.split_once('>')?.1.split('<').next());
            said.map(str::to_owned).collect()
        };
        let (one, all) = (words(&counting), words(&all));
        let sheet = all.windows(one.len()).any(|words| words == one);
        assert!(sheet, "{title}: {one:?} is no sheet of {all:?}");
        // Beside the rows, above the card, and where the cursor is.
        let within = [card as u32, 0, card as u32 + 7, 40];
        let hints = ask(
            &mut page,
            json!({"ask": "hints", "file": "cards.levare", "within": within}),
        );
        for (nth, (part, seat)) in parts.iter().zip(&expected).enumerate() {
            let row = card + 5 + nth;
            let mut hints = hints.as_array().unwrap().iter();
            let hint = hints.find(|hint| hint["at"][0] == row).unwrap();
            assert_eq!(hint["text"], json!(seat), "{title}: the hint at {part}");
            let hover = ask(
                &mut page,
                json!({"ask": "hover", "file": "cards.levare", "at": [row, 5]}),
            );
            let says = hover["text"].as_str().unwrap();
            assert!(
                says.contains(&format!("**{seat}** plays {part}")),
                "{title}: {says}"
            );
        }
        let lenses = ask(&mut page, json!({"ask": "lenses", "file": "cards.levare"}));
        let mut lenses = lenses.as_array().unwrap().iter();
        let lens = lenses.find(|lens| lens["at"][0] == card).unwrap();
        let needs = if title == "Rill" {
            "needs 2 of your 3"
        } else {
            "needs both of your"
        };
        assert!(lens.to_string().contains(needs), "{lens}");
    }
}
