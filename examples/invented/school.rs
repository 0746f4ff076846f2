//! What stands around the pieces: handbook, bands, concerts, criteria, skills, lists, bundles, instruments.

use std::fmt::Write as _;

use crate::chance::Chance;
use crate::names::{house, slip, town};

/// Skills that pieces ask; those before one come earlier in the list.
pub const SKILLS: &[&str] = &[
    "quarter notes",
    "eighth pairs",
    "slurs",
    "ties",
    "staccato",
    "legato playing",
    "fermatas",
    "accidentals",
    "first and second endings",
    "single eighths",
    "dotted quarter-eighth",
    "syncopation",
    "6/8 in two",
    "D.S. al Coda",
    "cut time",
    "sixteenths",
    "triplets",
    "tempo changes",
    "off-beats",
    "swing eighths",
];

/// The names of so many bands.
pub fn bands(chance: &mut Chance, count: usize) -> Vec<String> {
    let sorts = [
        "Sixth Grade Band",
        "Seventh Grade Band",
        "Eighth Grade Band",
        "Concert Band",
        "Cadets",
        "Wind Ensemble",
    ];
    (0..count)
        .map(|index| match index {
            0..=2 => sorts[index].to_owned(),
            _ => format!("{} {}", town(chance), sorts[index % sorts.len()]),
        })
        .collect()
}

/// The handbook.
pub fn handbook(bands: &[String]) -> String {
    format!(
        "handbook\n  notation        1\n  for             \"{}\"\n  players         at least 2 to a wind part\n  \
         change          5 s to a neighboring percussion instrument, 10 s to the timpani, 3 s from bells to snare\n  \
         one player      triangle and wood block\n  hint            open question\n",
        bands[1.min(bands.len() - 1)]
    )
}

/// A band.
pub fn ensemble(chance: &mut Chance, name: &str, index: usize) -> String {
    let mut out = format!("ensemble \"{name}\"\n  season          2026-27\n");
    let meets = [
        "every other day, 45 minutes, not 2026-11-23 to 2026-11-27",
        "Tuesday and Thursday, 40 minutes",
        "Monday, Wednesday and Friday, 50 minutes, not 2026-11-25 to 2026-11-27",
    ];
    let _ = writeln!(out, "  meets           {}\n  players", meets[index % 3]);
    for (instrument, low, high) in [
        ("flute", 3, 9),
        ("oboe", 0, 2),
        ("bassoon", 0, 1),
        ("clarinet", 6, 14),
        ("bass clarinet", 0, 2),
        ("alto sax", 3, 7),
        ("tenor sax", 0, 3),
        ("baritone sax", 0, 1),
        ("trumpet", 5, 11),
        ("horn", 0, 4),
        ("trombone", 3, 7),
        ("euphonium", 0, 3),
        ("tuba", 1, 3),
    ] {
        let count = chance.number(low, high);
        if count > 0 {
            let more = match instrument {
                "clarinet" => format!(", {} over the break", count / 2),
                "trumpet" => ", 2 up to G5".to_owned(),
                _ => String::new(),
            };
            let _ = writeln!(out, "    {instrument:<16}{count}{more}");
        }
    }
    let _ = writeln!(out, "  percussionists");
    let plays = [
        "mallets, timpani",
        "mallets, snare, accessories",
        "snare, bass drum, cymbals, tom-toms, accessories",
        "bass drum, cymbals, accessories",
        "snare, bass drum, accessories",
    ];
    for seat in 1..=chance.number(4, 8) {
        let _ = writeln!(
            out,
            "    P{seat}              {}",
            plays[(seat as usize - 1) % plays.len()]
        );
    }
    let _ = writeln!(
        out,
        "  owns            bells, xylophone, snare, bass drum, crash cymbals, suspended cymbal, tom-toms\n  \
         owns            triangle, tambourine, wood block, sleigh bells, claves, maracas, timpani 29 and 26\n  \
         ranges          flute C4-F6, clarinet E3-C6, trumpet A3-E5, horn G3-C5, trombone F2-Eb4\n  \
         keys            Bb major, Eb major, F major, Ab major, G minor, C minor, D minor, D dorian"
    );
    let known = (8 + index * 3).min(SKILLS.len());
    let _ = writeln!(out, "  taught          {}", SKILLS[..known].join(", "));
    let _ = writeln!(
        out,
        "  rows\n    flute, oboe, clarinet 1\n    clarinet 2, alto sax, horn\n    trumpet, low reeds\n    \
         low brass, percussion\n"
    );
    out
}

/// The skills.
pub fn skills(chance: &mut Chance) -> String {
    let mut out = String::new();
    for (index, skill) in SKILLS.iter().enumerate() {
        let _ = writeln!(out, "skill \"{skill}\"");
        if index > 1 {
            let count = chance.number(1, 2) as usize;
            let _ = writeln!(
                out,
                "  after           {}",
                chance.some(&SKILLS[..index], count).join(", ")
            );
        }
        let _ = writeln!(out, "  takes           {} weeks\n", chance.number(1, 4));
    }
    out
}

/// One concert with pieces of these titles.
pub fn concert(chance: &mut Chance, number: usize, titles: &[String], bands: &[String]) -> String {
    let to_come = number.is_multiple_of(5);
    let (year, month) = match to_come {
        true => (2027, chance.number(1, 6)),
        false => (chance.number(2014, 2026), chance.number(1, 9)),
    };
    let mut out = format!(
        "concert \"{} evening {number}\"\n  on              {year}-{month:02}-{:02}, 19:00\n",
        town(chance),
        chance.number(1, 28)
    );
    let count = chance.number(1, 2.min(bands.len() as u32)) as usize;
    let names: Vec<&str> = bands.iter().map(String::as_str).collect();
    let playing = chance.some(&names, count);
    let quoted: Vec<String> = playing.iter().map(|band| format!("\"{band}\"")).collect();
    let _ = writeln!(out, "  for             {}", quoted.join(", "));
    let _ = writeln!(
        out,
        "  length          {} minutes, 1:30 between pieces\n  program",
        chance.number(15, 45)
    );
    for _ in 0..chance.number(3, 7) {
        let mut title = titles[chance.number(0, titles.len() as u32 - 1) as usize].clone();
        if chance.percent(2) {
            title = slip(chance, &title);
        }
        let _ = writeln!(out, "    \"{title}\"");
    }
    if chance.percent(40) {
        let _ = writeln!(
            out,
            "  calls for       a march, at least 2 keys, up to 4 flats, at most 6 percussionists"
        );
    }
    out.push('\n');
    out
}

/// Criteria and instruments of the catalogue's own.
pub fn criteria() -> String {
    "criteria \"by December\"\n  calls for       up to 2 flats, every range at most an octave and a third, clarinet 2 \
     never over the break\n\ncriteria \"for the shelf\"\n  calls for       not performed since 2023, at most 4 \
     percussionists\n\ninstrument \"washboard\"\n  family          accessories\n  also            rub board\n\n\
     instrument \"valley horn\"\n  sounds          a major sixth lower\n  range           A3-G5\n"
        .to_owned()
}

/// The names of so many lists.
pub fn list_names(chance: &mut Chance, count: usize) -> Vec<String> {
    (0..count).map(|_| format!("{} list", town(chance))).collect()
}

/// A list of pieces with grades.
pub fn list(chance: &mut Chance, name: &str, titles: &[String]) -> String {
    let mut out = format!(
        "list \"{name}\"\n  year            {}\n",
        chance.number(2022, 2026)
    );
    for _ in 0..chance.number(3, 10) {
        let held: Vec<String> = (0..3)
            .map(|_| {
                let title = &titles[chance.number(0, titles.len() as u32 - 1) as usize];
                format!("\"{title}\" grade {}", chance.one(&["1", "1.5", "2", "2.5"]))
            })
            .collect();
        let _ = writeln!(out, "  holds           {}", held.join(", "));
    }
    out.push('\n');
    out
}

/// A bundle of pieces.
pub fn bundle(chance: &mut Chance, number: usize, titles: &[String]) -> String {
    let held: Vec<String> = (0..3)
        .map(|_| {
            format!(
                "\"{}\"",
                titles[chance.number(0, titles.len() as u32 - 1) as usize]
            )
        })
        .collect();
    format!(
        "bundle \"{} pack {number}\"\n  from            {}\n  price           {} USD\n  holds           {}\n\n",
        town(chance),
        house(chance),
        chance.number(90, 300),
        held.join(", ")
    )
}
