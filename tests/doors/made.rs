//! Texts that nobody would write, made of what people do write.

/// A small generator, so that a failing try can be repeated (Steele, Lea and Flood 2014, `SplitMix64`).
pub struct Dice(pub u64);

impl Dice {
    pub fn roll(&mut self, sides: usize) -> usize {
        self.0 = self.0.wrapping_add(0x9E37_79B9_7F4A_7C15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xBF58_476D_1CE4_E5B9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94D0_49BB_1331_11EB);
        usize::try_from((z ^ (z >> 31)) % sides.max(1) as u64).unwrap()
    }

    pub fn of<'a, T: ?Sized>(&mut self, all: &[&'a T]) -> &'a T {
        all[self.roll(all.len())]
    }
}

const DEMO: [&str; 5] = [
    include_str!("../../demo/ensembles.levare"),
    include_str!("../../demo/handbook.levare"),
    include_str!("../../src/catalogue/ready/pieces.levare"),
    include_str!("../../src/catalogue/ready/band.levare"),
    include_str!("../../src/catalogue/ready/concerts.levare"),
];
const BITS: [&str; 40] = [
    "\"",
    "“",
    "(",
    ")",
    ",",
    "?",
    "about ",
    "then ",
    "some ",
    "at 33",
    "1-40",
    "40-1",
    "99999999999",
    "-1",
    "0",
    "Bb3",
    "♭",
    "𝄞",
    "\u{0}",
    "\u{feff}",
    "\u{202e}",
    "\r",
    "\t",
    "  ",
    "\n",
    "\n  ",
    "\n    ",
    "because ",
    "stet ",
    "same as ",
    "instead of ",
    "same as itself",
    " and ",
    " or ",
    "not ",
    "at least ",
    "at most 0 ",
    "$",
    "2026-02-30",
    "\n<<<<<<< ours\n",
];
const CONDITIONS: [&str; 30] = [
    "a march",
    "not",
    "or",
    ",",
    "and",
    "(",
    ")",
    "at least 2",
    "at most 5 percussionists",
    "up to 3 flats",
    "asks triplets",
    "keys",
    "grade 1.5",
    "not performed since 2023",
    "every range",
    "at most an octave and a third",
    "clarinet 2 never over the break",
    "by Tam Lindqvist",
    "1 lyrical",
    "under 5 minutes",
    "no solo",
    "without",
    "more than",
    "between",
    "\"",
    "99999999999999999999",
    "lasts",
    "costs at most 60 USD",
    "?",
    "a",
];
const ROADS: [&str; 26] = [
    "repeat",
    "1-8",
    "8-1",
    "at 9",
    "segno",
    "coda",
    "to coda",
    "D.S. al Coda",
    "D.C. al Fine",
    "Fine",
    "2 times",
    "99999 times",
    "first ending",
    "second ending",
    "1st ending 7",
    "2nd ending 8-9",
    "at end",
    "at 40",
    "vamp",
    "open",
    ",",
    "and",
    "A-B",
    "0",
    "4294967295",
    "D.S.",
];

/// Any bytes.
pub fn bytes(dice: &mut Dice) -> Vec<u8> {
    let mut bytes = card(dice);
    for _ in 0..dice.roll(20) {
        let at = dice.roll(bytes.len());
        if let Some(byte) = bytes.get_mut(at) {
            *byte = u8::try_from(dice.roll(256)).unwrap();
        }
    }
    bytes
}

/// Pieces of cards, cut and put together anew.
pub fn card(dice: &mut Dice) -> Vec<u8> {
    let mut text = String::new();
    for _ in 0..1 + dice.roll(4) {
        let lines: Vec<&str> = dice.of(&DEMO).split_inclusive('\n').collect();
        let start = dice.roll(lines.len());
        let end = (start + 1 + dice.roll(25)).min(lines.len());
        for line in lines.get(start..end).unwrap_or_default() {
            let mut line = (*line).to_owned();
            while dice.roll(5) == 0 {
                let mut at = dice.roll(line.len() + 1);
                while !line.is_char_boundary(at) {
                    at -= 1;
                }
                match dice.roll(3) {
                    0 => line.truncate(at),
                    _ => line.insert_str(at, dice.of(&BITS)),
                }
            }
            text.push_str(&line);
        }
    }
    text.into_bytes()
}

/// A file in three writings, with a zero byte between them. What a side adds stands nowhere else.
pub fn merges(dice: &mut Dice) -> Vec<u8> {
    let base = String::from_utf8_lossy(&card(dice)).replace('\0', "");
    let side = |dice: &mut Dice, name: &str| {
        let mut lines: Vec<String> = base.split_inclusive('\n').map(str::to_owned).collect();
        for at in 0..dice.roll(6) {
            let line = dice.roll(lines.len());
            let Some(words) = lines.get_mut(line) else {
                continue;
            };
            let own = format!("{name}{at}");
            match dice.roll(6) {
                0 => {
                    lines.remove(line);
                }
                1 => *words = format!("{}, {own}\n", words.trim_end()),
                2 => *words = words.replacen(' ', &format!(" {own} "), 1),
                3 => lines.insert(line, format!("{}{own} {own}\n", " ".repeat(dice.roll(8)))),
                4 => {
                    let line = lines.remove(line);
                    let to = dice.roll(lines.len() + 1);
                    lines.insert(to, line);
                }
                _ => *words = words.replace("  ", " "),
            }
        }
        lines.concat()
    };
    let (ours, theirs) = (side(dice, "zonk"), side(dice, "blip"));
    [base.as_str(), &ours, &theirs].join("\0").into_bytes()
}

fn row(dice: &mut Dice, words: &[&str], most: usize) -> String {
    let mut row: Vec<&str> = Vec::new();
    for _ in 0..1 + dice.roll(most) {
        row.push(dice.of(words));
    }
    row.join(dice.of(&[" ", "  ", ", "]))
}

/// A card of conditions.
pub fn conditions(dice: &mut Dice) -> Vec<u8> {
    let most = if dice.roll(20) == 0 { 400 } else { 14 };
    format!(
        "criteria \"C\"\n  calls for       {}\nconcert \"D\"\n  calls for       {}\n",
        row(dice, &CONDITIONS, most),
        row(dice, &CONDITIONS, 8)
    )
    .into_bytes()
}

/// A card with a road.
pub fn road(dice: &mut Dice) -> Vec<u8> {
    let most = if dice.roll(20) == 0 { 200 } else { 12 };
    format!(
        "piece \"R\"\n  measures        {}\n  rehearsal marks A 9, B 33\n  roadmap         {}\n  percussion\n    snare           1-40, at 12\n    bass drum       throughout\n    bells           {}\n",
        dice.of(&["40", "1", "0", "99999", "?", "40?"]),
        row(dice, &ROADS, most),
        dice.of(&["1-8", "A-B", "40-1", "9-16, 20-24 first time"]),
    )
    .into_bytes()
}
