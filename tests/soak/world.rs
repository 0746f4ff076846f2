//! The folder of the walk, what the editor has open of it, and everything that happens to both.

use std::collections::{BTreeMap, BTreeSet};

use serde_json::{Value, json};

use crate::client::{Client, Folder};
use crate::places::position;

/// A small generator, so that a failing walk can be repeated (Steele, Lea and Flood 2014, `SplitMix64`).
pub struct Dice(pub u64);

impl Dice {
    pub fn roll(&mut self, sides: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        usize::try_from((z ^ (z >> 31)) % sides.max(1) as u64).unwrap()
    }

    fn of<'a, T>(&mut self, all: &'a [T]) -> &'a T {
        &all[self.roll(all.len())]
    }
}

const HANDBOOK: &str = "handbook\n  notation        1\n  for             \"Band\"\n";
const BAND: &str = "ensemble \"Band\"\n  players\n    flute           4\n    clarinet        6, 2 over the break\n    trumpet         4\n    tuba            1\n  percussionists\n    P1              mallets\n    P2              snare, bass drum\n    P3              snare, accessories\n  owns            bells, snare, bass drum, triangle\n  taught          quarter notes, slurs by 2026-10-01\n\nskill \"hocket\"\n  after           quarter notes\n  takes           2 weeks\n";
const CONCERT: &str = "concert \"Evening\"\n  on              2026-12-10, 19:00\n  for             \"Band\"\n  length          20 minutes\n  program\n    \"Night Train\"\n    \"Weir Song\"\n  calls for       a march, at most 3 percussionists\n";
const PIECES: [&str; 4] = [
    "piece \"Night Train\"\n  tonal center    G minor\n  key signature   3 flats\n  measures        40\n  percussion\n    snare           1-40\n    bass drum       1-40\n    triangle        5-8\n    bells           9-16\n",
    "piece \"Weir Song\"\n  grade           1\n  style           march\n  asks            hocket, slurs\n  parts\n    flute 1         D5-C6\n    clarinet 1      A3-C5, over the break at 4\n    oboe            solo 5-12, cued in flute 1\n",
    "piece \"Long Hill\"\n  by              Odile Marchetti\n  meter           4/4, 3/4 at 12\n  tempo           quarter = 76\n  lasts           3:05\n  roadmap         repeat 3-8\n  measures        24\n",
    "bundle \"Pack\"\n  from            Rivermark Editions\n  price           40 USD\n  holds           \"Night Train\", \"Long Hill\"\n\nlist \"Larch list\"\n  year            2026\n  holds           \"Weir Song\" grade 1\n",
];

/// What is typed: whole lines, pieces of lines, and what is no text at all.
const TYPED: [&str; 34] = [
    "piece \"Night Train\"\n",
    "piece \"Weir Song\"\n  grade           2\n",
    "  tonal center    G minor\n",
    "  key signature   2 flats\n",
    "  stet            short of percussionists because two join in January\n",
    "  stet            signature against center\n",
    "concert \"Evening\"\n  program\n    \"Long Hill\"\n",
    "  percussion\n    snare           1-8\n    bells           1-8\n",
    "    triangle        1-4, one player with snare\n",
    "  needs           4 percussionists\n",
    "  percussionists  2\n",
    "    P4              timpani\n",
    "  owns            xylophone\n",
    "ensemble \"Other\"\n  players\n    flute           1\n",
    "skill \"hocket\"\n  after           slurs\n",
    "instrument \"long horn\"\n  also            hill horn\n  range           A3-G5\n",
    "handbook\n  hint            short of percussionists\n",
    "  for             \"Other\"\n",
    "  stet            card nobody uses\n",
    "  by              Tam Lindqvist and\n",
    "  measures        4",
    "(a remark)",
    "\"",
    "\n",
    "\r\n",
    "\r",
    " ",
    "    ",
    "é♭𝄞",
    "Night",
    "3",
    ", ",
    "?",
    "\t",
];

/// The folder and the editor.
pub struct World {
    pub folder: Folder,
    /// The open files and what the editor holds of them.
    pub open: BTreeMap<String, String>,
    /// All names there ever were.
    pub names: BTreeSet<String>,
    /// What happened last to files, for whoever looks for the cause of a difference.
    pub trail: Vec<String>,
    unit: &'static str,
    watches: bool,
    made: usize,
}

impl World {
    pub fn new(unit: &'static str, watches: bool) -> World {
        let mut files = vec![
            ("handbook.levare", HANDBOOK),
            ("band.levare", BAND),
            ("concerts/fall.levare", CONCERT),
            ("jazz/tunes.levare", PIECES[0]),
            ("jazz/more.levare", PIECES[2]),
        ];
        let numbered: Vec<String> = (0..PIECES.len())
            .map(|number| format!("shelf/{number}.levare"))
            .collect();
        files.extend(
            numbered
                .iter()
                .zip(PIECES)
                .map(|(name, text)| (name.as_str(), text)),
        );
        World {
            folder: Folder::with(&files),
            open: BTreeMap::new(),
            names: files.iter().map(|(name, _)| (*name).to_owned()).collect(),
            trail: Vec::new(),
            unit,
            watches,
            made: 0,
        }
    }

    /// The files that are there.
    pub fn there(&self) -> Vec<String> {
        self.names
            .iter()
            .filter(|name| self.folder.path(name).exists())
            .cloned()
            .collect()
    }

    fn tell(&mut self, client: &mut Client, changes: &[(&str, u8)]) {
        for (name, kind) in changes {
            self.trail.push(format!(
                "{name} {}",
                ["", "came", "changed", "went"][usize::from(*kind)]
            ));
        }
        if self.watches {
            let uris: Vec<(String, u8)> = changes
                .iter()
                .map(|(name, kind)| (self.folder.uri(name), *kind))
                .collect();
            let changes: Vec<(&str, u8)> = uris.iter().map(|(uri, kind)| (uri.as_str(), *kind)).collect();
            client.changed_on_disk(&changes);
        }
    }

    pub fn open(&mut self, client: &mut Client, name: &str) {
        if !self.open.contains_key(name) && self.folder.path(name).exists() {
            let text = std::fs::read_to_string(self.folder.path(name)).unwrap();
            client.open(&self.folder.uri(name), &text);
            self.trail.push(format!("{name} opened"));
            self.open.insert(name.to_owned(), text);
        }
    }

    pub fn save(&mut self, client: &mut Client, name: &str) {
        let text = self.open[name].clone();
        let kind = if self.folder.path(name).exists() { 2 } else { 1 };
        self.folder.write(name, &text);
        client.save(&self.folder.uri(name));
        self.tell(client, &[(name, kind)]);
    }

    pub fn save_all(&mut self, client: &mut Client) {
        for name in self.open.keys().cloned().collect::<Vec<_>>() {
            self.save(client, &name);
        }
    }

    fn write(&mut self, client: &mut Client, name: &str, text: &str) {
        let kind = if self.folder.path(name).exists() { 2 } else { 1 };
        self.folder.write(name, text);
        self.names.insert(name.to_owned());
        self.tell(client, &[(name, kind)]);
    }

    fn remove(&mut self, client: &mut Client, name: &str) {
        if std::fs::remove_file(self.folder.path(name)).is_ok() {
            self.tell(client, &[(name, 3)]);
        }
    }

    /// One thing that happens. How many edits it was.
    pub fn step(&mut self, client: &mut Client, dice: &mut Dice) -> u64 {
        match dice.roll(100) {
            0..=83 => return self.edit(client, dice),
            84..=87 => {
                let there = self.there();
                let name = dice.of(&there).clone();
                self.open(client, &name);
            }
            88..=90 => {
                let open: Vec<String> = self.open.keys().cloned().collect();
                if open.len() > 2 {
                    let name = dice.of(&open).clone();
                    if dice.roll(2) == 0 {
                        self.save(client, &name);
                    }
                    client.close(&self.folder.uri(&name));
                    self.open.remove(&name);
                    self.trail.push(format!("{name} closed"));
                }
            }
            91 | 92 => {
                let open: Vec<String> = self.open.keys().cloned().collect();
                if !open.is_empty() {
                    let name = dice.of(&open).clone();
                    self.save(client, &name);
                }
            }
            93 | 94 => {
                // Another program changes a file, open or not.
                let there = self.there();
                let name = dice.of(&there).clone();
                let mut text = std::fs::read_to_string(self.folder.path(&name)).unwrap();
                let at = boundary(&text, dice.roll(text.len() + 1));
                let typed = *dice.of(&TYPED);
                text.insert_str(at, typed);
                self.write(client, &name, &text);
            }
            95 => {
                self.made += 1;
                let name = format!(
                    "{}/new {}.levare",
                    dice.of(&["shelf", "jazz", "concerts"]),
                    self.made % 6
                );
                if !self.folder.path(&name).exists() {
                    let text = dice.of(&PIECES).replace("Night", "Day");
                    self.write(client, &name, &text);
                }
            }
            96 => {
                let closed: Vec<String> = self
                    .there()
                    .into_iter()
                    .filter(|name| !self.open.contains_key(name) && name.contains("new "))
                    .collect();
                if !closed.is_empty() {
                    let name = dice.of(&closed).clone();
                    self.remove(client, &name);
                }
            }
            97 => {
                // A file gets another name, or goes into another folder.
                let closed: Vec<String> = self
                    .there()
                    .into_iter()
                    .filter(|name| !self.open.contains_key(name) && name.contains("new "))
                    .collect();
                if !closed.is_empty() {
                    let from = dice.of(&closed).clone();
                    let to = format!("{}/new {}.levare", dice.of(&["shelf", "jazz"]), 6 + dice.roll(3));
                    if !self.folder.path(&to).exists()
                        && std::fs::rename(self.folder.path(&from), self.folder.path(&to)).is_ok()
                    {
                        self.names.insert(to.clone());
                        self.tell(client, &[(&from, 3), (&to, 1)]);
                    }
                }
            }
            98 => {
                let file = *dice.of(&[".gitignore", "shelf/.ignore", "jazz/.gitignore"]);
                match self.folder.path(file).exists() {
                    true => self.remove(client, file),
                    false => {
                        let lines =
                            *dice.of(&["1.levare\n", "new*\n", "more.levare\n!new*\n", "/concerts/\n"]);
                        self.folder.write(file, lines);
                        self.tell(client, &[(file, 1)]);
                    }
                }
            }
            _ => {
                let inner = "jazz/handbook.levare";
                if self.open.contains_key(inner) {
                    return 0;
                }
                match self.folder.path(inner).exists() {
                    true => self.remove(client, inner),
                    false => self.write(
                        client,
                        inner,
                        "handbook\n  hint            signature against center\n",
                    ),
                }
            }
        }
        0
    }

    fn edit(&mut self, client: &mut Client, dice: &mut Dice) -> u64 {
        let open: Vec<String> = self.open.keys().cloned().collect();
        if open.is_empty() {
            return 0;
        }
        let name = dice.of(&open).clone();
        let uri = self.folder.uri(&name);
        let text = self.open.get_mut(&name).unwrap();
        if text.len() > 2500 {
            // Back to a size at which edits meet.
            let first: String = text.chars().take(300).collect();
            *text = first;
            client.change(&uri, json!([{ "text": text }]));
            return 1;
        }
        let changes: Vec<Value> = (0..1 + dice.roll(3))
            .map(|_| change(text, dice, self.unit))
            .collect();
        let made = changes.len() as u64;
        client.change(&uri, Value::Array(changes));
        made
    }
}

/// The end of the character at or after `byte`, never between the halves of a break or of a character.
fn boundary(text: &str, mut byte: usize) -> usize {
    byte = byte.min(text.len());
    let is_half = |byte: usize| {
        byte > 0 && text.as_bytes().get(byte - 1) == Some(&b'\r') && text.as_bytes().get(byte) == Some(&b'\n')
    };
    while !text.is_char_boundary(byte) || is_half(byte) {
        byte += 1;
    }
    byte
}

/// Makes one change to `text` and gives it as the protocol does.
fn change(text: &mut String, dice: &mut Dice, unit: &str) -> Value {
    let mut start = boundary(text, dice.roll(text.len() + 1));
    let new = *dice.of(&TYPED);
    // Whole lines mostly go where lines begin.
    if new.ends_with('\n') && dice.roll(4) > 0 {
        start = text[..start].rfind('\n').map_or(0, |at| at + 1);
    }
    let length = if dice.roll(3) == 0 { dice.roll(60) } else { 0 };
    let end = boundary(text, start + length);
    let change = json!({
        "range": {"start": position(text, start, unit), "end": position(text, end, unit)},
        "text": new,
    });
    text.replace_range(start..end, new);
    change
}
