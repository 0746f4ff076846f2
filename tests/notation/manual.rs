//! The manual and the program say the same: its examples are read, its field tables are the program's.

use std::fmt::Write;
use std::path::{Path, PathBuf};

use levare::notation::facts::sayings::{Saying, Texture};
use levare::notation::fields::{FieldSpec, RowsOf, Shape, fields_of};
use levare::notation::recopy::{How, recopy_file};
use levare::notation::{Body, FieldReading, Kind, Of, items, read, split};

/// The parts of the manual that are written from the program's own tables: their name, and what they must be.
fn written() -> [(&'static str, String); 3] {
    [
        ("fields", format!("\n{}", field_tables())),
        ("sayings", quoted(Texture::all().chain(Saying::all()))),
        ("own words", quoted(own_words().into_iter())),
    ]
}

/// Words in the manual's way, one after another.
fn quoted(words: impl Iterator<Item = &'static str>) -> String {
    words
        .map(|words| format!("`{words}`"))
        .collect::<Vec<_>>()
        .join(", ")
}

/// The fields in which any words will do, each once, in the order of the tables. The handbook has none: its
/// phrases are looked up.
fn own_words() -> Vec<&'static str> {
    fn gather(specs: &'static [FieldSpec], found: &mut Vec<&'static str>) {
        for spec in specs {
            let own = match spec.shape {
                Shape::Running => true,
                Shape::List(of) | Shape::Value(of) => of.is_free() && !matches!(of, Of::Stet | Of::Condition),
                Shape::Block(specs) => {
                    gather(specs, found);
                    false
                }
                Shape::Rows(_) => false,
            };
            if own && !found.contains(&spec.name) {
                found.push(spec.name);
            }
        }
    }
    let mut found = Vec::new();
    Kind::ALL
        .into_iter()
        .filter(|kind| *kind != Kind::Handbook)
        .for_each(|kind| gather(fields_of(kind), &mut found));
    found
}

fn path() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("grammar/manual.md")
}

fn manual() -> String {
    std::fs::read_to_string(path()).expect("the manual is there")
}

fn shape(shape: Shape) -> String {
    match shape {
        Shape::Running => "text".to_owned(),
        Shape::List(of) => format!("list: {}", of.short()),
        Shape::Value(of) if items::changes(of) => format!("value: {}, changes", of.short()),
        Shape::Value(of) => format!("value: {}", of.short()),
        Shape::Rows(of) => format!("table: {}", rows(of)),
        Shape::Block(_) => "fields of its own".to_owned(),
    }
}

fn rows(of: RowsOf) -> &'static str {
    match of {
        RowsOf::Parts => "wind parts",
        RowsOf::Percussion => "percussion parts",
        RowsOf::Players => "head counts",
        RowsOf::Percussionists => "seats",
        RowsOf::Program => "pieces in order",
        RowsOf::Pages => "printed pages",
        RowsOf::Movements => "movements",
        RowsOf::Seats => "rows of chairs",
    }
}

fn table(out: &mut String, specs: &'static [FieldSpec]) {
    out.push_str("| field | also | holds | what it says | example |\n| --- | --- | --- | --- | --- |\n");
    for spec in specs {
        let also: Vec<String> = spec.also.iter().map(|word| format!("`{word}`")).collect();
        let example = match spec.example {
            "" => String::new(),
            example => format!("`{example}`"),
        };
        writeln!(
            out,
            "| `{}` | {} | {} | {} | {example} |",
            spec.name,
            also.join(", "),
            shape(spec.shape),
            spec.says
        )
        .expect("a string takes it");
    }
}

fn field_tables() -> String {
    let mut out = String::new();
    for kind in Kind::ALL {
        write!(out, "\n## {kind}\n\n").expect("a string takes it");
        table(&mut out, fields_of(kind));
        for spec in fields_of(kind) {
            if let Shape::Block(specs) = spec.shape {
                write!(out, "\nUnder `{}`:\n\n", spec.name).expect("a string takes it");
                table(&mut out, specs);
            }
        }
    }
    out.push('\n');
    out
}

#[test]
fn the_tables_are_the_programs() {
    let mut manual = manual();
    for (name, now) in written() {
        let (start, end) = (format!("<!-- {name} -->"), format!("<!-- end of {name} -->"));
        let (before, rest) = manual.split_once(&start).expect("the part has a beginning");
        let (was, after) = rest.split_once(&end).expect("the part has an end");
        if std::env::var_os("LEVARE_BLESS").is_some() {
            manual = format!("{before}{start}{now}{end}{after}");
            std::fs::write(path(), &manual).expect("the manual can be written");
            continue;
        }
        for (was, is) in was.lines().zip(now.lines()) {
            assert_eq!(was, is, "run with LEVARE_BLESS=1 to write the {name} anew");
        }
        assert_eq!(
            was.len(),
            now.len(),
            "run with LEVARE_BLESS=1 to write the {name} anew"
        );
    }
}

/// The examples of the manual: each with the words behind its fence.
fn examples(manual: &str) -> Vec<(&str, &str)> {
    let fences = manual.split("```levare").skip(1);
    fences
        .map(|rest| {
            let (how, rest) = rest.split_once('\n').expect("a fence ends its line");
            let (example, _) = rest.split_once("```").expect("a fence is closed");
            (how.trim(), example)
        })
        .collect()
}

fn faults(text: &str, fields: &[FieldReading], out: &mut Vec<String>) {
    for field in fields {
        match &field.body {
            Body::Unknown => out.push(format!("no such field: {}", field.word.slice(text))),
            Body::Items(items) => {
                let wrong = items.iter().filter(|item| item.is_wrong());
                out.extend(wrong.map(|item| format!("not understood: {}", item.span.slice(text))));
            }
            Body::Block(fields) => faults(text, fields, out),
            Body::Rows(rows) => rows.iter().for_each(|row| faults(text, &row.fields, out)),
            Body::Running(..) => {}
        }
    }
}

#[test]
fn every_example_is_understood() {
    let manual = manual();
    let examples = examples(&manual);
    assert!(examples.len() >= 8, "the manual's examples are missing");
    for (how, example) in examples {
        let mut starts = split(example);
        starts.push(example.len());
        for ends in starts.windows(2) {
            let card = &example[ends[0]..ends[1]];
            let reading = read(card);
            let mut found = Vec::new();
            if reading.tree.head.is_none() {
                found.push("no head".to_owned());
            }
            found.extend(
                reading
                    .tree
                    .strays
                    .iter()
                    .map(|stray| stray.body.slice(card).to_owned()),
            );
            faults(card, &reading.fields, &mut found);
            assert_eq!(found, Vec::<String>::new(), "in\n{card}");
        }
        // Examples that show what is accepted are marked; all others are in the one form.
        let recopied = recopy_file(example, How::default()).text;
        match how {
            "lenient" => assert_ne!(recopied, example),
            how => {
                assert_eq!(how, "");
                assert_eq!(recopied, example);
            }
        }
    }
}

#[test]
fn the_lenient_example_becomes_the_one_after_it() {
    let manual = manual();
    let examples = examples(&manual);
    let lenient = examples
        .iter()
        .position(|(how, _)| *how == "lenient")
        .expect("there is one");
    assert_eq!(
        recopy_file(examples[lenient].1, How::default()).text,
        examples[lenient + 1].1
    );
}

#[test]
fn every_rule_of_the_grammar_is_used_and_every_use_has_a_rule() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("grammar/levare.ebnf");
    let text = std::fs::read_to_string(path).expect("the grammar is there");
    let text = text.split_once("*)").expect("the comment ends").1;
    // Words of the language that need no rule of their own.
    let plain = [
        "byte order mark",
        "character",
        "words",
        "number",
        "digit",
        "digits",
        "decimal",
        "tab",
        "indent",
        "ordinal",
        "year",
        "month",
        "day of month",
        "month name",
        "hour",
        "person",
        "letters of a currency",
        "currency sign",
    ];
    let mut rules = Vec::new();
    let mut uses = Vec::new();
    for rule in text.split(" ;\n") {
        let Some((name, body)) = rule.split_once(" = ") else {
            assert!(rule.trim().is_empty(), "no rule: {rule}");
            continue;
        };
        rules.push(name.trim().to_owned());
        let mut word = String::new();
        let mut quote = None;
        for c in body.chars().chain([' ', ',']) {
            match (quote, c) {
                (Some(open), c) if c == open => quote = None,
                (Some(_), _) => {}
                (None, '"' | '\'' | '?') => quote = Some(c),
                (None, c) if c.is_alphabetic() || (c.is_whitespace() && !word.is_empty()) => word.push(c),
                (None, _) => {
                    let used = word.split_whitespace().collect::<Vec<_>>().join(" ");
                    if !used.is_empty() {
                        uses.push(used);
                    }
                    word.clear();
                }
            }
        }
    }
    for used in &uses {
        assert!(
            rules.contains(used) || plain.contains(&used.as_str()),
            "no rule for {used:?}"
        );
    }
    for rule in &rules {
        assert!(rule == "file" || uses.contains(rule), "{rule:?} is used nowhere");
    }
}
