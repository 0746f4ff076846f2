//! Every command that writes, with a catalogue in which it has something to write.

use std::collections::BTreeMap;
use std::path::Path;
use std::sync::OnceLock;

use crate::bench::Bench;

/// A command that writes into the folder of a catalogue.
pub struct Writer {
    /// What it is called here.
    pub name: &'static str,
    /// Its arguments.
    pub arguments: &'static [&'static str],
}

/// All commands that write.
pub const WRITERS: [Writer; 6] = [
    Writer {
        name: "recopy",
        arguments: &["recopy"],
    },
    Writer {
        name: "mend",
        arguments: &["proofread", "--correct"],
    },
    Writer {
        name: "known",
        arguments: &["proofread", "--record-known"],
    },
    Writer {
        name: "page",
        arguments: &["assign", "Drum Day", "--as", "door", "--to", "door.html"],
    },
    Writer {
        name: "choose",
        arguments: &["choose", "Drum evening", "--write"],
    },
    Writer {
        name: "start",
        arguments: &["start", "--demo", "new"],
    },
];

/// What the command finds: a catalogue in which it changes what is there, or a folder in which one may be begun.
pub fn before(writer: &Writer) -> Bench {
    match writer.name {
        "start" => Bench::bare(&[("notes.txt", "mine\n")]),
        _ => catalogue(),
    }
}

/// A catalogue in which each of them changes what is there. The cards are long enough that writing takes a while.
pub fn catalogue() -> Bench {
    let bench = Bench::bare(&[(
        "handbook.levare",
        "handbook\n  notation        1\n  for             \"Band\"\n",
    )]);
    bench.write(
        "band.levare",
        "ensemble \"Band\"\n  percussionists\n    P1              snare, bass drum\n    P2              snare, bass drum\n",
    );
    bench.write(
        "drum.levare",
        "piece \"Drum Day\"\n  measures        40\n  percussion\n    snare           1-40\n    bass drum       1-40\n",
    );
    bench.write(
        "evening.levare",
        format!(
            "concert \"Drum evening\"\n  on              2099-12-10\n  for             \"Band\"\n  notes           {}\n",
            "a word and another ".repeat(90)
        ),
    );
    for number in 0..8 {
        let cards: String = (0..20)
            .map(|card| {
                format!(
                    "piece \"Number {number} of {card}\"\n  key signature  2 flats\n  key signature 2 flats\n  tonal center G minor\n  notes    {}\n\n",
                    "a word and another ".repeat(20)
                )
            })
            .collect();
        bench.write(&format!("shelf {number}.levare"), cards);
    }
    bench.write("known-findings.json", "{\n  \"known findings\": [\n  ]\n}\n");
    // The page of yesterday is made once for all.
    static PAGE: OnceLock<String> = OnceLock::new();
    let page = PAGE.get_or_init(|| {
        let ended = bench.run(&["assign", "Drum Day", "--as", "door", "--to", "door.html"]);
        assert!(ended.status < 2, "{}", ended.err);
        bench.read("door.html")
    });
    bench.write("door.html", page);
    // The page of today is not that of yesterday.
    let card = bench.read("drum.levare");
    bench.write(
        "drum.levare",
        card.replace(
            "    bass drum       1-40\n",
            "    bass drum       1-40\n    triangle        1-8\n",
        ),
    );
    bench
}

/// All files below a folder that are not hidden, with what is in them.
pub fn shown(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let mut found = BTreeMap::new();
    let mut open = vec![folder.to_path_buf()];
    while let Some(next) = open.pop() {
        for entry in std::fs::read_dir(&next).expect("a folder").flatten() {
            let path = entry.path();
            if entry.file_name().to_string_lossy().starts_with('.') {
                continue;
            }
            if path.is_dir() {
                open.push(path);
                continue;
            }
            let name = path
                .strip_prefix(folder)
                .expect("below")
                .to_string_lossy()
                .into_owned();
            found.insert(name, std::fs::read(&path).expect("a file"));
        }
    }
    found
}

/// What a command leaves when nothing comes between.
pub fn undisturbed(writer: &Writer) -> BTreeMap<String, Vec<u8>> {
    let bench = before(writer);
    let before = shown(&bench.path(""));
    bench.run(writer.arguments);
    let after = shown(&bench.path(""));
    assert_ne!(before, after, "{} has nothing to write", writer.name);
    after
}
