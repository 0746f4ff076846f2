//! Cards to test with: every file of the demo and the test catalogues, and cards made up at random.

use std::path::{Path, PathBuf};

use levare::notation::Kind;
use levare::notation::fields::{FieldSpec, RowsOf, Shape, fields_of};
use proptest::prelude::*;
use proptest::sample::{Index, select};

/// Every file of the demo and of the test catalogues, with its path.
pub fn files() -> Vec<(PathBuf, String)> {
    let mut found = Vec::new();
    for folder in ["demo", "tests/catalogues"] {
        gather(&Path::new(env!("CARGO_MANIFEST_DIR")).join(folder), &mut found);
    }
    assert!(found.len() > 15, "the demo and the test catalogs are missing");
    found
}

fn gather(folder: &Path, found: &mut Vec<(PathBuf, String)>) {
    let mut entries: Vec<PathBuf> = std::fs::read_dir(folder)
        .expect("the folder can be listed")
        .map(|entry| entry.expect("the entry can be read").path())
        .collect();
    entries.sort();
    for path in entries {
        if path.is_dir() {
            gather(&path, found);
        } else if path.extension().is_some_and(|ext| ext == "levare") {
            let text = std::fs::read_to_string(&path).expect("the file can be read");
            found.push((path, text));
        }
    }
}

/// What a director may put between two words.
fn gap() -> impl Strategy<Value = String> {
    select(vec![" ", "  ", "\t", "      ", " \t", "\u{a0}"]).prop_map(str::to_owned)
}

/// A remark with its mark, so that none can be taken for another.
fn remark() -> impl Strategy<Value = String> {
    (
        0u32..10_000,
        select(vec!["", "check, please", "it's (really) so?", "“so”"]),
    )
        .prop_map(|(number, words)| format!("(r{number} {words})"))
}

/// A value's text as it is, or bent as directors bend it.
fn bent(value: &'static str) -> impl Strategy<Value = String> {
    (0u8..14, remark(), gap()).prop_map(move |(how, remark, gap)| match how {
        0 => format!("{value}?"),
        1 => format!("about {value}"),
        2 => format!("ca. {value}"),
        3 => format!("{value} {remark}"),
        4 => format!("{remark}{gap}{value}"),
        5 => value.replacen(", ", &format!(" {remark}, "), 1),
        6 => value.replacen(", ", &format!(",{gap}{remark} "), 1),
        7 => value.replacen(' ', &gap, 2),
        8 => curly(value),
        9 => format!("{value} at 33-40"),
        10 => format!("{value} m. 5"),
        11 => value.replace(", ", " ,"),
        12 => format!("{value}, {value} at B?"),
        _ => value.to_owned(),
    })
}

fn curly(value: &str) -> String {
    let mut open = false;
    let turned = |c| match c {
        '"' => {
            open = !open;
            if open { '“' } else { '”' }
        }
        '-' => '–',
        c => c,
    };
    value.chars().map(turned).collect()
}

/// Rows that a table of that kind may hold.
fn rows_of(of: RowsOf) -> &'static [&'static str] {
    match of {
        RowsOf::Parts => &[
            "flute 1  D5-C6",
            "1st clarinet A3–C5, over the break mm. 41-44",
            "oboe solo 5-12, cued in flute 1",
            "low voices octaves, fifths at 41-48",
            "bassoon, bass clarinet with tuba",
            "Tpt. II Bb3 to D5?",
            "baritone sax\twith trombone",
            "part 1 for flute, oboe, violin",
            "clarinet 1-2 E3-Bb4 concert, optional",
        ],
        RowsOf::Percussion => &[
            "bells 5-20, 49-80, same as flute 1",
            "S.D. mm. 1-64",
            "triangle, claves one player",
            "snare",
            "crash cymbals at 16",
            "timpani  1-40, notes F2 and Bb2",
            "easy snare instead of snare, asks eighth pairs",
            "tom-toms strong player",
            "B.D.\t1–88",
            "about 6 instruments",
            "snare and bass drum 1-4",
        ],
        RowsOf::Players => &[
            "flute 9",
            "clarinet 12, 4 over the break",
            "trumpet\t8, 2 up to G5",
            "tuba 1?",
            "horn about 2",
        ],
        RowsOf::Percussionists => &[
            "P1  mallets, timpani",
            "P2 P3\tsnare, accessories",
            "A and B snare",
            "6",
        ],
        RowsOf::Program => &[
            "“Harbor Parade”",
            "\"Air\" by Lindqvist, attacca",
            "\"Suite\"  movements 1 and 3",
            "Old One",
        ],
        RowsOf::Pages => &["percussion 1 snare, crash cymbals", "mallets  bells"],
        RowsOf::Movements => &[
            "1 Morning",
            "II. “The Glass Door”, attacca",
            "3 \"Evening\"  slow",
        ],
        RowsOf::Seats => &["flute, oboe, clarinet 1", "trumpet,low reeds"],
    }
}

/// The lines of one field, its own line first, at the indents a director may use.
fn field(spec: &'static FieldSpec) -> BoxedStrategy<String> {
    let mut words = vec![spec.name];
    words.extend(spec.also);
    let indent = select(vec!["  ", " ", "    ", "\t"]);
    let value = match spec.shape {
        Shape::Running => select(vec![
            spec.example,
            "“Play it out,” (she said), twice?  then  softly",
            "one line\n        and another (too), with  gaps\n\n        and a paragraph",
        ])
        .prop_map(str::to_owned)
        .boxed(),
        Shape::Rows(of) => (
            proptest::collection::vec((select(rows_of(of)), proptest::option::of(remark())), 0..4),
            any::<bool>(),
            any::<bool>(),
        )
            .prop_map(move |(rows, table, below)| {
                let mut text = String::new();
                for (index, (row, remark)) in rows.iter().enumerate() {
                    text.push_str(if table {
                        "\n        "
                    } else if index == 0 {
                        ""
                    } else {
                        ", "
                    });
                    text.push_str(row);
                    if let (true, Some(remark)) = (table, remark) {
                        text.push_str(&format!(" {remark}"));
                    }
                    if table && below && of == RowsOf::Movements {
                        text.push_str("\n            key Bb\n            bars\t12 (twelve)");
                    } else if table && below && index == 0 && of != RowsOf::Program {
                        text.push_str("\n            solo mm. 5-8 , optional");
                    }
                }
                if text.is_empty() {
                    spec.example.to_owned()
                } else {
                    text
                }
            })
            .boxed(),
        Shape::Block(specs) => proptest::collection::vec(select(specs.iter().collect::<Vec<_>>()), 1..4)
            .prop_flat_map(|specs| {
                specs
                    .into_iter()
                    .map(|spec| (Just(spec.name), bent(spec.example)))
                    .collect::<Vec<_>>()
            })
            .prop_map(|fields| {
                let lines = fields
                    .into_iter()
                    .map(|(word, value)| format!("\n        {word} {value}"));
                lines.collect()
            })
            .boxed(),
        _ => (bent(spec.example), any::<bool>())
            .prop_map(|(value, below)| {
                if below {
                    format!("{value}\n        {value}")
                } else {
                    value
                }
            })
            .boxed(),
    };
    (indent, select(words), gap(), value, 0u8..12, remark())
        .prop_map(|(indent, word, gap, value, extra, remark)| {
            let word = match extra {
                0 => word.to_uppercase(),
                1 => format!("{word}:"),
                _ => word.to_owned(),
            };
            let after = match extra {
                2 => format!("\n  {remark}"),
                3 => "\n\n\n".to_owned(),
                4 => format!("\n{remark}"),
                5 => format!("\n  colour{gap}of it , {remark}"),
                6 => "\n<<<<<<< ours".to_owned(),
                7 => "\nwords at the margin".to_owned(),
                _ => String::new(),
            };
            format!("{indent}{word}{gap}{value}{after}\n")
        })
        .boxed()
}

/// A card with fields of its kind, written in any of the ways directors write.
pub fn card() -> impl Strategy<Value = String> {
    let kinds = Kind::ALL.to_vec();
    (select(kinds), remark(), 0u8..6)
        .prop_flat_map(|(kind, remark, how)| {
            let specs: Vec<&'static FieldSpec> = fields_of(kind).iter().collect();
            let fields = proptest::collection::vec(select(specs).prop_flat_map(field), 0..7);
            (Just((kind, remark, how)), fields)
        })
        .prop_map(|((kind, remark, how), fields)| {
            let name = match (kind.is_named(), how) {
                (false, 3) => format!(" {remark}"),
                (false, _) => String::new(),
                (_, 0) => " “Lanterns on the Weir”".to_owned(),
                (_, 1) => "\t\"Air (old)\"".to_owned(),
                (_, 2) => " \"Never closed".to_owned(),
                (_, 3) => format!(" \"Air\" {remark}"),
                (_, 4) => "   \"Air\" and words".to_owned(),
                _ => " \"Harbor Parade\"".to_owned(),
            };
            format!("{kind}{name}\n{}", fields.concat())
        })
}

/// A file of such cards with any line ending, perhaps with a byte order mark, perhaps unended.
pub fn file() -> impl Strategy<Value = String> {
    let ending = select(vec!["\n", "\r\n", "\r"]);
    (
        proptest::collection::vec(card(), 1..4),
        ending,
        any::<bool>(),
        0u8..4,
    )
        .prop_map(|(cards, ending, mark, how)| {
            let mut text = cards.join(if how == 0 { "\n\n\n" } else { "" });
            if how == 1 {
                text.truncate(text.trim_end().len());
            }
            let text = text.replace('\n', ending);
            if mark { format!("\u{feff}{text}") } else { text }
        })
}

/// A file of the demo or the test catalogues with a few slips of the hand in it.
pub fn slipped() -> impl Strategy<Value = String> {
    let texts: Vec<String> = files().into_iter().map(|(_, text)| text).collect();
    let slip = (
        any::<Index>(),
        0u8..4,
        select(vec![
            " ", "\n", ",", "(", ")", "\"", "?", "\t", "♭", ":", "at ", "\r",
        ]),
    );
    (select(texts), proptest::collection::vec(slip, 1..6)).prop_map(|(text, slips)| {
        let mut bytes = text.into_bytes();
        for (index, how, insert) in slips {
            if bytes.is_empty() {
                break;
            }
            let at = index.index(bytes.len());
            match how {
                0 => {
                    bytes.remove(at);
                }
                1 => bytes.insert(at, bytes[at]),
                2 => {
                    let end = (at + 20).min(bytes.len());
                    bytes.drain(at..end);
                }
                _ => {
                    bytes.splice(at..at, insert.bytes());
                }
            }
        }
        String::from_utf8_lossy(&bytes).into_owned()
    })
}
