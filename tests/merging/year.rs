//! A year of three people at one catalogue: each edits on a branch, every week the branches are merged by git.
//!
//! What should be there is kept beside it in a plain table of facts, by which no merging is done: a fact that one
//! person changed in a week is as that person has it; one that two changed in different ways must be told.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::Path;

use crate::draw::Draw;
use crate::git;

const WEEKS: usize = 40;
const EDITS_A_WEEK: usize = 5;
const PEOPLE: [&str; 3] = ["ada", "ben", "cleo"];
const FILES: [&str; 2] = ["marches.levare", "winter.levare"];
const SKILLS: [&str; 10] = [
    "triplets",
    "slurs",
    "ties",
    "off-beats",
    "staccato",
    "accents",
    "fermatas",
    "syncopation",
    "accidentals",
    "endings",
];
const DRUMS: [&str; 6] = ["snare", "triangle", "bass drum", "claves", "gong", "tambourine"];

/// What a catalogue says: for each card, for each fact, its value.
type Facts = BTreeMap<String, BTreeMap<String, String>>;

/// Takes the facts out of a file that holds nothing but such lines as are written here.
fn facts_of(text: &str) -> Facts {
    let mut facts = Facts::new();
    let mut card = String::new();
    let mut table = false;
    for line in text.lines().filter(|line| !line.trim().is_empty()) {
        let words: Vec<&str> = line.split_whitespace().collect();
        let words = words.join(" ");
        if let Some(title) = words.strip_prefix("piece ") {
            card = title.trim_matches('"').to_owned();
            facts.entry(card.clone()).or_default();
            table = false;
            continue;
        }
        let card = facts.entry(card.clone()).or_default();
        let mut put = |fact: String, value: &str| {
            let before = card.insert(fact.clone(), value.to_owned());
            assert!(before.is_none_or(|before| before == value), "{fact} twice");
        };
        if words == "percussion" {
            table = true;
        } else if let (true, Some(drum)) = (table, DRUMS.iter().find(|drum| words.starts_with(*drum))) {
            put(format!("percussion {drum}"), words[drum.len()..].trim());
        } else {
            table = false;
            let (field, value) = words.split_once(' ').unwrap_or((&words, ""));
            match field {
                "asks" => value
                    .split(", ")
                    .for_each(|skill| put(format!("asks {skill}"), "yes")),
                "grade" => value.split(", ").for_each(|grade| {
                    let (grade, who) = grade.split_once(' ').expect("a grade and who gives it");
                    put(format!("grade {who}"), grade);
                }),
                "performed" => put(format!("performed {value}"), "yes"),
                "measures" | "lasts" | "notes" => put(field.to_owned(), value),
                _ => panic!("{line:?} is none of ours"),
            }
        }
    }
    facts
}

/// One person's folder for a week: the texts of the files.
struct Desk {
    texts: BTreeMap<&'static str, String>,
}

impl Desk {
    fn read(folder: &Path) -> Desk {
        let read = |name| fs::read_to_string(folder.join(name)).expect("a file");
        Desk {
            texts: FILES.iter().map(|name| (*name, read(name))).collect(),
        }
    }

    fn write(&self, folder: &Path) {
        for (name, text) in &self.texts {
            fs::write(folder.join(name), text).expect("a file");
        }
    }

    fn facts(&self) -> Facts {
        self.texts.values().flat_map(|text| facts_of(text)).collect()
    }

    /// One drawn edit. False where there was nothing to do.
    fn edit(&mut self, person: usize, count: usize, draw: &mut Draw) -> bool {
        let name = *draw.one(&FILES);
        let text = self.texts.get_mut(name).expect("a file");
        let mut cards: Vec<String> = cut(text);
        let at = draw.below(cards.len());
        let facts = facts_of(&cards[at]);
        let (title, said) = facts.first_key_value().expect("a card");
        let (title, said) = (title.clone(), said.clone());
        let many = cards.len();
        let card = &mut cards[at];
        let done = match draw.below(100) {
            0..=14 => replace_value(card, "measures", &format!("{}", 40 + draw.below(60))),
            15..=24 => replace_value(
                card,
                "lasts",
                &format!("{}:{}", 1 + draw.below(6), 10 + draw.below(50)),
            ),
            25..=34 => {
                let old = said.get("grade ours").cloned().unwrap_or_default();
                let new = format!(", {} ours", 1 + draw.below(6));
                replace(card, &format!(", {old} ours"), &new)
            }
            35..=49 => {
                let skill = *draw.one(&SKILLS);
                let last = said
                    .keys()
                    .filter_map(|fact| fact.strip_prefix("asks "))
                    .next_back();
                match last {
                    Some(_) if said.contains_key(&format!("asks {skill}")) => false,
                    Some(_) => append(card, "asks", &format!(", {skill}")),
                    None => false,
                }
            }
            50..=55 => {
                let asked: Vec<&str> = said
                    .keys()
                    .filter_map(|fact| fact.strip_prefix("asks "))
                    .collect();
                match asked.len() {
                    0..=3 => false,
                    many => {
                        let gone = asked[draw.below(many)].to_owned();
                        replace(card, &format!(", {gone}"), "")
                    }
                }
            }
            56..=66 => {
                let drum = *draw.one(&DRUMS);
                let place = format!("{}-{}", 1 + draw.below(20), 21 + draw.below(20));
                match said.get(&format!("percussion {drum}")) {
                    Some(old) if *old == place => false,
                    Some(_) => replace_row(card, drum, Some(&place)),
                    None => add_row(card, drum, &place),
                }
            }
            67..=70 => {
                let played: Vec<&str> = said
                    .keys()
                    .filter_map(|fact| fact.strip_prefix("percussion "))
                    .collect();
                match played.len() {
                    0..=2 => false,
                    many => replace_row(card, played[draw.below(many)], None),
                }
            }
            71..=76 => {
                let day = format!("20{}-0{}-1{}", 10 + person, 1 + draw.below(9), draw.below(9));
                let line = format!("  performed       {day}\n");
                match said.contains_key(&format!("performed {day}")) {
                    true => false,
                    false => {
                        *card = card.trim_end().to_owned() + "\n" + &line + "\n";
                        true
                    }
                }
            }
            77..=80 => replace_value(
                card,
                "notes",
                &format!("{} said so in week {count}.", PEOPLE[person]),
            ),
            81..=84 => {
                cards.push(new_card(&format!("{} March {count}", PEOPLE[person]), draw));
                true
            }
            // One person gives pieces other names, and one takes pieces out.
            85..=87 if person == 0 => replace(card, &format!("\"{title}\""), &format!("\"{title} Again\"")),
            85..=87 if person == 1 && many > 4 => {
                cards.remove(at);
                true
            }
            88..=92 => {
                let card = cards.remove(at);
                let to = draw.below(cards.len() + 1);
                cards.insert(to, card);
                at != to
            }
            93..=95 => {
                let all = cards.concat();
                let new = levare::notation::recopy::recopy_file(&all, Default::default()).text;
                let changed = new != all;
                cards = vec![new];
                changed
            }
            96..=99 => {
                *card = card.replace("  ", "   ");
                true
            }
            _ => false,
        };
        if done {
            *text = cards.concat().trim_end().to_owned() + "\n";
        }
        done
    }
}

/// The cards of a file, each with a blank line at its end.
fn cut(text: &str) -> Vec<String> {
    let mut starts = levare::notation::split(text);
    starts.push(text.len());
    starts
        .windows(2)
        .map(|ends| text[ends[0]..ends[1]].trim_end().to_owned() + "\n\n")
        .collect()
}

fn replace(text: &mut String, old: &str, new: &str) -> bool {
    let found = text.contains(old) && old != new;
    if found {
        *text = text.replacen(old, new, 1);
    }
    found
}

/// The line of a card that begins with these words.
fn line_of(card: &str, words: &str) -> Option<String> {
    let mut lines = card.lines();
    lines
        .find(|line| line.trim_start().starts_with(words))
        .map(str::to_owned)
}

fn replace_value(card: &mut String, field: &str, value: &str) -> bool {
    let Some(line) = line_of(card, field) else {
        return false;
    };
    let indent = line.len() - line.trim_start().len();
    let new = format!("{}{field}  {value}", &line[..indent]);
    let same = line.split_whitespace().eq(new.split_whitespace());
    !same && replace(card, &format!("{line}\n"), &format!("{new}\n"))
}

fn append(card: &mut String, field: &str, more: &str) -> bool {
    let Some(line) = line_of(card, field) else {
        return false;
    };
    replace(card, &format!("{line}\n"), &format!("{line}{more}\n"))
}

fn replace_row(card: &mut String, drum: &str, place: Option<&str>) -> bool {
    let Some(line) = line_of(card, drum) else {
        return false;
    };
    let indent = line.len() - line.trim_start().len();
    let new = place.map(|place| format!("{}{drum}  {place}\n", &line[..indent]));
    replace(card, &format!("{line}\n"), &new.unwrap_or_default())
}

fn add_row(card: &mut String, drum: &str, place: &str) -> bool {
    let Some(table) = line_of(card, "percussion") else {
        return false;
    };
    let indent = table.len() - table.trim_start().len();
    let deep = " ".repeat(indent * 2);
    replace(
        card,
        &format!("{table}\n"),
        &format!("{table}\n{deep}{drum}  {place}\n"),
    )
}

fn new_card(title: &str, draw: &mut Draw) -> String {
    format!(
        "piece \"{title}\"\n  grade           1 publisher, {} ours\n  measures        {}\n  lasts           3:{}\n  percussion\n    snare           1-{}\n    bass drum       1-40\n    gong            5-9\n  asks            triplets, slurs, ties, accents, {}\n  notes           Nobody has said anything yet.\n\n",
        1 + draw.below(6),
        40 + draw.below(60),
        10 + draw.below(50),
        9 + draw.below(50),
        draw.one(&SKILLS[7..]),
    )
}

/// What should be there after a week, and the facts that two people changed in different ways.
struct Week {
    facts: Facts,
    clashes: BTreeSet<(String, String)>,
}

/// Puts the tables of a week together: `before`, and what each person made of it, in the order of merging.
fn week(before: &Facts, people: &[(Facts, BTreeMap<String, String>)]) -> Week {
    let mut now = before.clone();
    let mut names: BTreeMap<String, String> = BTreeMap::new();
    let mut clashes = BTreeSet::new();
    // By the name that a card had before the week.
    let old_name = |renames: &BTreeMap<String, String>, title: &str| {
        let found = renames.iter().find(|(_, new)| *new == title);
        found.map_or(title.to_owned(), |(old, _)| old.clone())
    };
    let mut changed: BTreeMap<(String, String), Vec<Option<String>>> = BTreeMap::new();
    let mut gone: BTreeSet<String> = BTreeSet::new();
    let mut touched: BTreeSet<String> = BTreeSet::new();
    for (facts, renames) in people {
        names.extend(renames.clone());
        let facts: Facts = facts
            .iter()
            .map(|(title, card)| (old_name(renames, title), card.clone()))
            .collect();
        for (title, was) in before {
            let Some(card) = facts.get(title) else {
                gone.insert(title.clone());
                continue;
            };
            let keys: BTreeSet<&String> = was.keys().chain(card.keys()).collect();
            for key in keys.into_iter().filter(|key| was.get(*key) != card.get(*key)) {
                touched.insert(title.clone());
                changed
                    .entry((title.clone(), key.clone()))
                    .or_default()
                    .push(card.get(key).cloned());
            }
            if renames.contains_key(title) {
                touched.insert(title.clone());
            }
        }
        for (title, card) in facts.iter().filter(|(title, _)| !before.contains_key(*title)) {
            now.insert(title.clone(), card.clone());
        }
    }
    for ((title, key), values) in changed {
        let first = &values[0];
        if values.iter().any(|value| value != first) {
            clashes.insert((title.clone(), key.clone()));
        }
        let card = now.get_mut(&title).expect("a card from before");
        // Of what was taken out and what was changed, the change stays; of two changes, the one merged first.
        match values
            .iter()
            .flatten()
            .next()
            .filter(|_| first.is_none() || values.iter().all(Option::is_some))
        {
            Some(value) => card.insert(key, value.clone()),
            None => match values.iter().flatten().next() {
                Some(value) => card.insert(key, value.clone()),
                None => card.remove(&key),
            },
        };
    }
    for title in gone {
        if touched.contains(&title) {
            clashes.insert((title.clone(), "*".to_owned()));
        } else {
            now.remove(&title);
        }
    }
    let facts = now
        .into_iter()
        .map(|(title, card)| (names.get(&title).cloned().unwrap_or(title), card));
    Week {
        facts: facts.collect(),
        clashes,
    }
}

/// Settles what clashes in a text: a version that took something out gives way, else the upper one stays. Comes back
/// with the text, and for each clash the card and the first words of the field or row.
fn settle(text: &str) -> (String, Vec<(String, String)>) {
    let mut out = String::new();
    let mut told = Vec::new();
    let mut card = String::new();
    let (mut upper, mut lower): (Vec<&str>, Vec<&str>) = (Vec::new(), Vec::new());
    let mut inside = 0;
    for line in text.lines() {
        if let Some(title) = line.strip_prefix("piece ") {
            card = title.trim().trim_matches('"').to_owned();
        }
        if line.starts_with("<<<<<<<") {
            inside = 1;
        } else if line.starts_with("=======") {
            inside = 2;
        } else if line.starts_with(">>>>>>>") {
            let kept = if upper.is_empty() { &lower } else { &upper };
            for line in kept {
                out.push_str(line);
                out.push('\n');
            }
            let both = upper.len() > 1 || lower.len() > 1;
            let words: Vec<&str> = kept.first().map_or("", |line| *line).split_whitespace().collect();
            let about = if both { "*".to_owned() } else { words.join(" ") };
            told.push((card.clone(), about));
            upper.clear();
            lower.clear();
            inside = 0;
        } else {
            match inside {
                1 => upper.push(line),
                2 => lower.push(line),
                _ => {
                    out.push_str(line);
                    out.push('\n');
                }
            }
        }
    }
    (out, told)
}

#[test]
fn three_people_at_one_catalogue_for_a_year() {
    let place = tempfile::tempdir().expect("a folder");
    let folder = place.path();
    // Another year is as good: LEVARE_SEED=n draws one.
    let seed = std::env::var("LEVARE_SEED")
        .ok()
        .and_then(|seed| seed.parse().ok());
    let mut draw = Draw::of(seed.unwrap_or(2026));
    let run = |arguments: &[&str]| {
        let out = git::run(folder, arguments);
        assert!(
            out.status.success(),
            "{arguments:?}\n{}",
            String::from_utf8_lossy(&out.stderr)
        );
    };
    run(&["init", "--quiet", "-b", "main"]);
    let driver = format!(
        "\"{}\" merge %O %A %B --to %A --called %P",
        env!("CARGO_BIN_EXE_levare")
    );
    run(&["config", "merge.levare.driver", &driver]);
    fs::write(folder.join(".gitattributes"), "*.levare merge=levare\n").expect("a file");
    for (at, name) in FILES.iter().enumerate() {
        let cards: String = (0..7)
            .map(|card| new_card(&format!("Piece {at}.{card}"), &mut draw))
            .collect();
        fs::write(folder.join(name), cards.trim_end().to_owned() + "\n").expect("a file");
    }
    run(&["add", "."]);
    run(&["commit", "--quiet", "-m", "The catalog"]);
    let mut wanted = Desk::read(folder).facts();
    let (mut edits, mut clashes, mut clean) = (0, 0, 0);
    for count in 0..WEEKS {
        let mut people = Vec::new();
        for (person, name) in PEOPLE.iter().enumerate() {
            run(&["checkout", "--quiet", "-B", name, "main"]);
            let mut desk = Desk::read(folder);
            let before = desk.facts();
            let mut left = EDITS_A_WEEK;
            let mut renames: BTreeMap<String, String> = BTreeMap::new();
            while left > 0 {
                let titles: BTreeSet<String> = desk.facts().into_keys().collect();
                if !desk.edit(person, count * EDITS_A_WEEK + left, &mut draw) {
                    continue;
                }
                left -= 1;
                edits += 1;
                let now: BTreeSet<String> = desk.facts().into_keys().collect();
                for title in &titles {
                    let again = format!("{title} Again");
                    if !now.contains(title) && now.contains(&again) {
                        let first = renames.iter().find(|(_, new)| *new == title);
                        let first = first.map_or(title.clone(), |(old, _)| old.clone());
                        if before.contains_key(&first) {
                            renames.insert(first, again);
                        }
                    }
                }
            }
            desk.write(folder);
            run(&["add", "."]);
            run(&["commit", "--quiet", "--allow-empty", "-m", "A week's work"]);
            people.push((desk.facts(), renames));
        }
        run(&["checkout", "--quiet", "main"]);
        let mut told = Vec::new();
        for name in PEOPLE {
            let out = git::run(folder, &["merge", "--quiet", "--no-edit", name]);
            let mut found = Vec::new();
            for file in FILES {
                let text = fs::read_to_string(folder.join(file)).expect("a file");
                let (settled, more) = settle(&text);
                found.extend(more);
                fs::write(folder.join(file), settled).expect("a file");
            }
            let said = String::from_utf8_lossy(&out.stderr).into_owned();
            assert_eq!(out.status.success(), found.is_empty(), "{said}");
            clean += usize::from(found.is_empty());
            for (card, _) in &found {
                assert!(said.contains(card.as_str()), "{card} is not listed\n{said}");
            }
            if !out.status.success() {
                run(&["add", "."]);
                run(&["commit", "--quiet", "-m", "Settled"]);
            }
            told.extend(found);
        }
        let expected = week(&wanted, &people);
        let there = Desk::read(folder).facts();
        let differs: Vec<String> = expected
            .facts
            .iter()
            .filter(|(title, card)| there.get(*title) != Some(card))
            .map(|(title, card)| format!("{title}\n  wanted {card:?}\n  there  {:?}", there.get(title)))
            .chain(
                there
                    .keys()
                    .filter(|title| !expected.facts.contains_key(*title))
                    .map(|title| format!("{title} should be gone")),
            )
            .collect();
        assert!(
            differs.is_empty(),
            "week {count}:\n{}\ntold {told:?}\nexpected {:?}",
            differs.join("\n"),
            expected.clashes
        );
        // Each clash that was told is one, and each one was told.
        let title_before = |card: &str| {
            let renames = people.iter().flat_map(|(_, renames)| renames);
            let mut old = renames
                .filter(|(_, new)| *new == card)
                .map(|(old, _)| old.clone());
            old.next().unwrap_or(card.to_owned())
        };
        let is_about = |fact: &str, about: &str| {
            fact == "*" && about == "*"
                || about.starts_with(
                    fact.strip_prefix("percussion ")
                        .unwrap_or(fact.split(' ').next().unwrap_or(fact)),
                )
        };
        for (card, about) in &told {
            let card = title_before(card);
            let mut true_ones = expected.clashes.iter().filter(|(title, _)| *title == card);
            assert!(
                true_ones.any(|(_, fact)| is_about(fact, about)),
                "week {count}: {card}, {about} is no clash: {:?}",
                expected.clashes
            );
        }
        for (title, fact) in &expected.clashes {
            let mut tellings = told.iter().filter(|(card, _)| title_before(card) == *title);
            assert!(
                tellings.any(|(_, about)| is_about(fact, about)),
                "week {count}: {title}, {fact} was not told: {told:?}"
            );
        }
        clashes += told.len();
        wanted = expected.facts;
    }
    println!(
        "{edits} edits in {WEEKS} weeks, {clean} of {} merges clean, {clashes} clashes, all true",
        WEEKS * PEOPLE.len()
    );
    assert_eq!(edits, WEEKS * EDITS_A_WEEK * PEOPLE.len());
    assert!(clashes > 0, "nothing clashed in a year");
}
