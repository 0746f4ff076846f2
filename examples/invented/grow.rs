//! Single things that grow, to see whether a cost grows faster than the text.

use std::fmt::Write as _;

/// One thing that can grow.
pub struct Thing {
    /// What it is called.
    pub name: &'static str,
    /// The files with so many of it.
    pub grow: fn(usize) -> Vec<(String, String)>,
}

/// All of them.
pub const THINGS: &[Thing] = &[
    Thing {
        name: "skills in a chain",
        grow: |n| {
            skills(n, &|i| match i {
                0 => String::new(),
                _ => format!("s{}x", i - 1),
            })
        },
    },
    Thing {
        name: "skills in a circle",
        grow: |n| skills(n, &|i| format!("s{}x", (i + n - 1) % n)),
    },
    Thing {
        name: "skill diamonds",
        grow: diamonds,
    },
    Thing {
        name: "one title on many cards",
        grow: |n| {
            one(numbered(n, &|_| {
                "piece \"Same Title\"\n  by Ida Quellby\n".into()
            }))
        },
    },
    Thing {
        name: "one title, and uses of it",
        grow: one_title_used,
    },
    Thing {
        name: "near titles",
        grow: |n| {
            one(numbered(n, &|i| {
                format!("piece \"The Long Lantern {}\"\n", letters(i))
            }))
        },
    },
    Thing {
        name: "own instruments",
        grow: |n| {
            one(numbered(n, &|i| {
                format!(
                    "instrument \"{} horn\"\n  sounds a major second lower\n",
                    letters(i)
                )
            }))
        },
    },
    Thing {
        name: "own instruments, all used",
        grow: own_used,
    },
    Thing {
        name: "flute 1 to flute n",
        grow: |n| card("parts", numbered(n, &|i| format!("    flute {}  D5-C6\n", i + 1))),
    },
    Thing {
        name: "long near names",
        grow: |n| {
            one(format!(
                "skill \"{0}\"\npiece \"A\"\n  asks {0}b\n",
                "lo".repeat(n * 10)
            ))
        },
    },
    Thing {
        name: "long titles nearly alike",
        grow: |n| one(format!("piece \"{0}\"\npiece \"{0}b\"\n", "lo".repeat(n * 10))),
    },
    Thing {
        name: "stets in one card",
        grow: |n| {
            one(format!(
                "piece \"A\"\n{}",
                numbered(n, &|i| format!(
                    "  stet score missing because of {}\n",
                    letters(i)
                ))
            ))
        },
    },
    Thing {
        name: "unknown lines",
        grow: |n| {
            one(format!(
                "piece \"A\"\n{}",
                numbered(n, &|i| format!("  {}x whatever\n", letters(i)))
            ))
        },
    },
    Thing {
        name: "lines at the margin",
        grow: |n| {
            one(format!(
                "piece \"A\"\n{}",
                numbered(n, &|i| format!("{}x whatever\n", letters(i)))
            ))
        },
    },
    Thing {
        name: "not not not",
        grow: |n| {
            one(format!(
                "criteria \"A\"\n  calls for {}a march\n",
                "not ".repeat(n)
            ))
        },
    },
    Thing {
        name: "or or or",
        grow: |n| {
            one(format!(
                "criteria \"A\"\n  calls for {}a march\n",
                "a waltz or ".repeat(n)
            ))
        },
    },
    Thing {
        name: "commas in a condition",
        grow: |n| {
            one(format!(
                "criteria \"A\"\n  calls for {}a march\n",
                "up to 3 flats, ".repeat(n)
            ))
        },
    },
    Thing {
        name: "numbers in one item",
        grow: |n| one(format!("piece \"A\"\n  parts {}\n", "1 ".repeat(n))),
    },
    Thing {
        name: "numbers in a tempo",
        grow: |n| one(format!("piece \"A\"\n  tempo {}\n", "1 ".repeat(n))),
    },
    Thing {
        name: "entrances of one row",
        grow: |n| {
            card(
                "percussion",
                format!("    snare {}\n", numbered(n, &|i| format!("{}, ", i * 3 + 1))),
            )
        },
    },
    Thing {
        name: "rows of percussion",
        grow: |n| {
            card(
                "percussion",
                numbered(n, &|i| format!("    snare  {}-{}\n", i * 3 + 1, i * 3 + 2)),
            )
        },
    },
    Thing {
        name: "instruments of percussion",
        grow: |n| {
            card(
                "percussion",
                numbered(n, &|i| {
                    format!("    {} drum  {}-{}\n", letters(i), i * 3 + 1, i * 3 + 2)
                }),
            )
        },
    },
    Thing {
        name: "repeats in a road",
        grow: |n| {
            one(format!(
                "piece \"A\"\n  measures {}\n  roadmap {}\n",
                n * 4,
                numbered(n, &|i| format!("repeat {}-{}, ", i * 4 + 1, i * 4 + 4))
            ))
        },
    },
    Thing {
        name: "repeats inside repeats",
        grow: |n| {
            one(format!(
                "piece \"A\"\n  measures {}\n  roadmap {}\n",
                n * 4,
                numbered(n, &|i| format!("repeat {}-{}, ", i + 1, n * 4 - i))
            ))
        },
    },
    Thing {
        name: "endings in a road",
        grow: |n| {
            one(format!(
                "piece \"A\"\n  measures {}\n  roadmap repeat 1-4 {} times, {}\n",
                n * 4,
                n + 1,
                numbered(n, &|i| format!("{}th ending {}, ", i + 1, i + 5))
            ))
        },
    },
    Thing {
        name: "marks",
        grow: |n| {
            one(format!(
                "piece \"A\"\n  measures {}\n  rehearsal marks {}\n",
                n * 4,
                numbered(n, &|i| format!("\"{}\" {}, ", letters(i), i * 4 + 1))
            ))
        },
    },
    Thing {
        name: "changes of meter",
        grow: |n| stages(n, "meter", "4/4", "3/4"),
    },
    Thing {
        name: "changes of key",
        grow: |n| stages(n, "tonal center", "G minor", "Bb major"),
    },
    Thing {
        name: "changes of tempo",
        grow: |n| stages(n, "tempo", "quarter = 96", "quarter = 120"),
    },
    Thing {
        name: "movements",
        grow: |n| {
            card(
                "movements",
                numbered(n, &|i| {
                    format!(
                        "    {} \"{}\"\n      measures 8\n      meter 4/4\n",
                        i + 1,
                        letters(i)
                    )
                }),
            )
        },
    },
    Thing {
        name: "pieces in a program",
        grow: program,
    },
    Thing {
        name: "concerts of one piece",
        grow: |n| {
            one(format!(
                "ensemble \"B\"\n  percussionists 3\npiece \"A\"\n  percussion snare 1-8, bass drum 1-8\n{}",
                numbered(n, &|i| format!(
                    "concert \"{}\"\n  on 2027-03-12\n  for \"B\"\n  program\n    \"A\"\n",
                    letters(i)
                ))
            ))
        },
    },
    Thing {
        name: "bands",
        grow: |n| {
            one(format!(
                "{}piece \"A\"\n  for \"B a\"\n",
                numbered(n, &|i| format!(
                    "ensemble \"B {}\"\n  percussionists 3\n  players flute 3\n",
                    letters(i)
                ))
            ))
        },
    },
    Thing {
        name: "seats",
        grow: |n| {
            one(format!(
                "ensemble \"B\"\n  percussionists\n{}piece \"A\"\n  percussion snare 1-8, bass drum 1-8, triangle 1-8\n",
                numbered(n, &|i| format!("    P{}  snare, mallets\n", i + 1))
            ))
        },
    },
    Thing {
        name: "players in a band",
        grow: |n| {
            one(format!(
                "ensemble \"B\"\n  players\n{}",
                numbered(n, &|i| format!("    {} horn  {}\n", letters(i), i % 9 + 1))
            ))
        },
    },
    Thing {
        name: "titles in a list",
        grow: |n| {
            one(format!(
                "{}list \"L\"\n{}",
                numbered(n, &|i| format!("piece \"Tune {}\"\n", letters(i))),
                numbered(n, &|i| format!("  holds \"Tune {}\" grade 1\n", letters(i)))
            ))
        },
    },
    Thing {
        name: "titles not found",
        grow: |n| {
            one(format!(
                "{}list \"L\"\n{}",
                numbered(n, &|i| format!("piece \"Tune {}\"\n", letters(i))),
                numbered(n, &|i| format!("  holds \"Tume {}\" grade 1\n", letters(i)))
            ))
        },
    },
    Thing {
        name: "performances",
        grow: |n| {
            one(format!(
                "piece \"A\"\n{}",
                numbered(n, &|i| format!(
                    "  performed 19{:02}-0{}-1{}\n",
                    50 + i % 50,
                    i % 9 + 1,
                    i % 10
                ))
            ))
        },
    },
    Thing {
        name: "copies",
        grow: |n| {
            one(format!(
                "piece \"A\"\n  library\n    copies {}\n",
                numbered(n, &|i| format!("2 flute {}, ", i + 1))
            ))
        },
    },
    Thing {
        name: "people",
        grow: |n| {
            one(numbered(n, &|i| {
                format!("piece \"Tune {0}\"\n  by Ida {0}by\n", letters(i))
            }))
        },
    },
    Thing {
        name: "publishers",
        grow: |n| {
            one(numbered(n, &|i| {
                format!("piece \"Tune {0}\"\n  publisher {0} Press\n", letters(i))
            }))
        },
    },
    Thing {
        name: "remarks in a line",
        grow: |n| one(format!("piece \"A\"\n  tempo 120 {}\n", "(a) ".repeat(n))),
    },
    Thing {
        name: "parentheses in each other",
        grow: |n| {
            one(format!(
                "piece \"A\"\n  tempo 120 {}{}\n",
                "(".repeat(n),
                ")".repeat(n)
            ))
        },
    },
    Thing {
        name: "quotes",
        grow: |n| one(format!("piece \"A\"\n  style {}\n", "\"a\" ".repeat(n))),
    },
    Thing {
        name: "deeper and deeper",
        grow: |n| {
            one(format!(
                "piece \"A\"\n{}",
                numbered(n.min(4000), &|i| format!("{}a\n", " ".repeat(i + 2)))
            ))
        },
    },
    Thing {
        name: "blank lines",
        grow: |n| one(format!("piece \"A\"\n{}  tempo 120\n", "\n".repeat(n))),
    },
    Thing {
        name: "one long word",
        grow: |n| one(format!("piece \"A\"\n  tempo {}\n", "a".repeat(n))),
    },
    Thing {
        name: "notes",
        grow: |n| one(format!("piece \"A\"\n  notes {}\n", "soft ".repeat(n))),
    },
    Thing {
        name: "said twice",
        grow: |n| one(format!("piece \"A\"\n{}", "  measures 88\n".repeat(n))),
    },
    Thing {
        name: "files",
        grow: |n| {
            (0..n)
                .map(|i| (format!("f{i}.levare"), format!("piece \"Tune {}\"\n", letters(i))))
                .collect()
        },
    },
    Thing {
        name: "asks",
        grow: |n| {
            one(format!(
                "piece \"A\"\n  asks {}\n",
                numbered(n, &|i| format!("{} notes, ", letters(i)))
            ))
        },
    },
    Thing {
        name: "pages",
        grow: |n| {
            card(
                "pages",
                numbered(n, &|i| format!("    percussion {}  snare\n", i + 1)),
            )
        },
    },
    Thing {
        name: "owned",
        grow: |n| {
            one(format!(
                "ensemble \"B\"\n  owns {}\n",
                numbered(n, &|i| format!("{} drum, ", letters(i)))
            ))
        },
    },
    Thing {
        name: "days off",
        grow: |n| {
            one(format!(
                "ensemble \"B\"\n  meets daily, {}45 minutes\n",
                "not 2026-11-23 to 2026-11-27, ".repeat(n)
            ))
        },
    },
];

fn one(text: String) -> Vec<(String, String)> {
    vec![("a.levare".to_owned(), text)]
}

fn card(field: &str, rows: String) -> Vec<(String, String)> {
    one(format!(
        "ensemble \"B\"\n  percussionists 5\npiece \"A\"\n  {field}\n{rows}"
    ))
}

fn numbered(count: usize, line: &dyn Fn(usize) -> String) -> String {
    (0..count).map(line).collect()
}

fn stages(count: usize, field: &str, a: &str, b: &str) -> Vec<(String, String)> {
    let stages = numbered(count, &|i| {
        format!(", {} at {}", if i % 2 == 0 { b } else { a }, i * 4 + 5)
    });
    one(format!(
        "piece \"A\"\n  measures {}\n  {field} {a}{stages}\n",
        count * 4 + 8
    ))
}

/// A number in letters, so that titles with numerals do not count as numbered ones.
fn letters(mut number: usize) -> String {
    let mut out = String::new();
    loop {
        out.push(char::from(b'a' + (number % 26) as u8));
        number /= 26;
        if number == 0 {
            return out;
        }
    }
}

fn skills(count: usize, before: &dyn Fn(usize) -> String) -> Vec<(String, String)> {
    let mut out = String::new();
    for index in 0..count {
        let before = before(index);
        let _ = writeln!(out, "skill \"s{index}x\"");
        if !before.is_empty() {
            let _ = writeln!(out, "  after {before}");
        }
        let _ = writeln!(out, "  takes 1 week");
    }
    let _ = writeln!(
        out,
        "ensemble \"B\"\n  taught s0x\npiece \"A\"\n  asks s{}x",
        count - 1
    );
    one(out)
}

fn diamonds(count: usize) -> Vec<(String, String)> {
    let mut out = "skill \"top 0\"\n".to_owned();
    for i in 1..=count {
        let before = i - 1;
        let _ = writeln!(
            out,
            "skill \"left {i}\"\n  after top {before}\nskill \"right {i}\"\n  after top {before}\nskill \"top {i}\"\n  \
             after left {i}, right {i}"
        );
    }
    let _ = writeln!(
        out,
        "ensemble \"B\"\n  taught top 0\npiece \"A\"\n  asks top {count}"
    );
    one(out)
}

fn one_title_used(count: usize) -> Vec<(String, String)> {
    let cards = "piece \"Same Title\"\n  by Ida Quellby\n".repeat(count);
    one(format!(
        "{cards}list \"L\"\n{}",
        "  holds \"Same Title\" grade 1\n".repeat(count)
    ))
}

fn own_used(count: usize) -> Vec<(String, String)> {
    let own = numbered(count, &|i| format!("instrument \"{} horn\"\n", letters(i)));
    let used = numbered(count, &|i| format!("    {} horn  D4-G4\n", letters(i)));
    one(format!("{own}piece \"A\"\n  parts\n{used}"))
}

fn program(count: usize) -> Vec<(String, String)> {
    let pieces = numbered(count, &|i| {
        format!(
            "piece \"Tune {}\"\n  percussion snare 1-8\n  lasts 2:00\n",
            letters(i)
        )
    });
    let listed = numbered(count, &|i| format!("    \"Tune {}\"\n", letters(i)));
    one(format!(
        "ensemble \"B\"\n  percussionists 3\n{pieces}concert \"C\"\n  on 2027-03-12\n  for \"B\"\n  program\n{listed}"
    ))
}
