//! Cards of pieces, from a title alone to a whole score's worth.

use std::fmt::Write as _;

use crate::chance::Chance;
use crate::names::{house, person, slip};
use crate::school::SKILLS;

/// A center with its signature, and one to go on to with its signature.
const KEYS: &[(&str, &str)] = &[
    ("Bb major", "2 flats"),
    ("Eb major", "3 flats"),
    ("F major", "1 flat"),
    ("Ab major", "4 flats"),
    ("G minor", "2 flats"),
    ("C minor", "3 flats"),
    ("D minor", "1 flat"),
    ("C major", "none"),
    ("D dorian", "none"),
    ("F minor", "4 flats"),
    ("A minor", "none"),
    ("G major", "1 sharp"),
];
const STYLES: &[&str] = &[
    "march",
    "lyrical",
    "overture",
    "dance",
    "programmatic",
    "novelty",
    "waltz",
    "chorale",
    "folk song",
    "holiday",
    "suite",
    "rock",
    "fanfare",
    "processional",
];
/// Parts with the range that a beginner's, a middle and a later grade asks.
const WINDS: &[(&str, [&str; 3])] = &[
    ("flute 1", ["Bb4-Bb5", "F4-D6", "D4-F6"]),
    ("flute 2", ["Bb4-F5", "F4-Bb5", "D4-D6"]),
    ("oboe", ["F4-D5", "F4-G5", "D4-Bb5"]),
    ("bassoon", ["Bb2-Bb3", "Bb2-D4", "F2-F4"]),
    ("clarinet 1", ["E3-A4", "A3-C5", "G3-D6"]),
    ("clarinet 2", ["E3-G4", "G3-A4", "F3-C5"]),
    ("clarinet 3", ["E3-F4", "F3-G4", "E3-Bb4"]),
    ("bass clarinet", ["G3-G4", "F3-A4", "E3-C5"]),
    ("alto sax 1", ["E4-D5", "D4-G5", "D4-B5"]),
    ("alto sax 2", ["E4-C5", "D4-E5", "D4-G5"]),
    ("tenor sax", ["E4-D5", "D4-G5", "D4-A5"]),
    ("baritone sax", ["E4-D5", "D4-E5", "C4-G5"]),
    ("trumpet 1", ["C4-A4", "C4-D5", "Bb3-G5"]),
    ("trumpet 2", ["C4-G4", "C4-C5", "Bb3-D5"]),
    ("trumpet 3", ["C4-F4", "Bb3-A4", "A3-C5"]),
    ("horn", ["C4-G4", "A3-Bb4", "G3-D5"]),
    ("trombone 1", ["Bb2-F3", "Bb2-C4", "G2-F4"]),
    ("trombone 2", ["Bb2-Eb3", "A2-Bb3", "F2-D4"]),
    ("euphonium", ["Bb2-G3", "Bb2-C4", "F2-F4"]),
    ("tuba", ["Bb1-G2", "Bb1-Bb2", "F1-D3"]),
];
const DRUMS: &[&str] = &[
    "bells",
    "xylophone",
    "snare",
    "bass drum",
    "crash cymbals",
    "suspended cymbal",
    "triangle",
    "tambourine",
    "wood block",
    "tom-toms",
    "timpani",
    "sleigh bells",
    "claves",
    "maracas",
    "temple blocks",
    "vibraphone",
    "chimes",
    "drum set",
    "wind chimes",
    "washboard",
];
const SHORT: &[(&str, &str)] = &[
    ("flute 1", "Fl. 1"),
    ("clarinet 1", "1st clarinet"),
    ("clarinet 2", "cl 2"),
    ("alto sax 1", "A. Sax 1"),
    ("trumpet 1", "tpt 1"),
    ("trumpet 2", "2nd trumpet"),
    ("snare", "SD"),
    ("bass drum", "B.D."),
    ("triangle", "Tri."),
    ("crash cymbals", "Cr. Cym."),
    ("trombone 1", "Tbn. 1"),
    ("horn", "Hn."),
];

/// How much a card says.
#[derive(Clone, Copy, PartialEq)]
enum Depth {
    Title,
    Sparse,
    Middle,
    Rich,
    Suite,
}

/// A card that is being written.
struct Pen<'c> {
    chance: &'c mut Chance,
    text: String,
    depth: usize,
    hasty: bool,
}

impl Pen<'_> {
    /// A line; in a hasty hand with one blank and no column, and now and then with a slip in the field's word.
    fn line(&mut self, field: &str, value: &str) {
        let field = match self.chance.number(1, 400) {
            1 if !field.contains(' ') => slip(self.chance, field),
            _ => field.to_owned(),
        };
        let value = match self.chance.number(1, 500) {
            1 => format!("{value} marbit"),
            2 => format!("{value}?"),
            3 => format!("{value} (from the score)"),
            _ => value.to_owned(),
        };
        let (indent, hasty) = (self.depth * 2, self.hasty);
        let _ = match hasty {
            _ if value.is_empty() => writeln!(self.text, "{:indent$}{field}", ""),
            true => writeln!(self.text, "{:indent$}{field} {value}", ""),
            false if field.len() > 15 => writeln!(self.text, "{:indent$}{field}  {value}", ""),
            false => writeln!(self.text, "{:indent$}{field:<16}{value}", ""),
        };
    }

    /// What this hand calls a part.
    fn part(&self, name: &'static str) -> &'static str {
        let short = SHORT.iter().find(|(long, _)| self.hasty && *long == name);
        short.map_or(name, |(_, short)| *short)
    }
}

/// One card. `others` are titles that it may speak of.
pub fn piece(chance: &mut Chance, title: &str, bands: &[String], lists: &[String]) -> String {
    let depth = match chance.number(1, 100) {
        1..=6 => Depth::Title,
        7..=30 => Depth::Sparse,
        31..=64 => Depth::Middle,
        65..=95 => Depth::Rich,
        _ => Depth::Suite,
    };
    let hasty = chance.percent(20);
    let mut pen = Pen {
        chance,
        text: format!("piece \"{title}\"\n"),
        depth: 1,
        hasty,
    };
    if depth == Depth::Title && pen.chance.percent(50) {
        return pen.text;
    }
    let by = match pen.chance.number(1, 20) {
        1..=3 => format!("arr. {}", person(pen.chance)),
        4 => format!("{} and {}", person(pen.chance), person(pen.chance)),
        5 => format!("trad., arr. {}", person(pen.chance)),
        _ => person(pen.chance),
    };
    pen.line("by", &by);
    if depth == Depth::Title {
        return pen.text;
    }
    let grade = pen.chance.number(0, 2) as usize;
    head(&mut pen, depth, grade, lists);
    let measures = pen.chance.number(5, 18) * 8;
    let tempo = music(&mut pen, depth, measures);
    if depth == Depth::Suite {
        movements(&mut pen);
    }
    if depth == Depth::Rich || depth == Depth::Suite {
        winds(&mut pen, grade, measures);
    } else if depth == Depth::Middle && pen.chance.percent(40) {
        let some = pen.chance.number(3, 6);
        brief_winds(&mut pen, grade, some);
    }
    if depth == Depth::Rich || (depth == Depth::Middle && pen.chance.percent(70)) {
        percussion(&mut pen, grade, measures);
    } else if depth == Depth::Sparse && pen.chance.percent(25) {
        let count = pen.chance.number(2, 5) as usize;
        let drums = pen.chance.some(DRUMS, count).join(", ");
        pen.line("percussion", &drums);
    }
    let _ = tempo;
    rest(&mut pen, depth, bands, lists);
    pen.text
}

fn head(pen: &mut Pen<'_>, depth: Depth, grade: usize, lists: &[String]) {
    if pen.chance.percent(70) {
        let house = house(pen.chance);
        let item = pen.chance.number(11, 980);
        let year = pen.chance.number(1988, 2026);
        let value = match pen.chance.number(0, 2) {
            0 => house,
            1 => format!("{house}, {year}"),
            _ => format!("{house}, item {}-{item}, {year}", &house[..2].to_uppercase()),
        };
        pen.line("publisher", &value);
    }
    if pen.chance.percent(80) {
        let mut value = format!("{} publisher", ["0.5", "1.5", "2.5"][grade]);
        if pen.chance.percent(20) {
            let own = ["1", "2", "2"][grade];
            let _ = write!(value, ", {own} ours");
        }
        if pen.chance.percent(12) {
            let list = &lists[pen.chance.number(0, lists.len() as u32 - 1) as usize];
            let _ = write!(value, ", {} \"{list}\"", ["1", "1.5", "2.5"][grade]);
        }
        pen.line("grade", &value);
    }
    let style = match pen.chance.percent(25) {
        true => pen.chance.some(STYLES, 2).join(", "),
        false => pen.chance.one(STYLES).to_owned(),
    };
    if depth != Depth::Sparse || pen.chance.percent(60) {
        pen.line("style", &style);
    }
}

/// Key, meter, tempo, length, marks and road.
fn music(pen: &mut Pen<'_>, depth: Depth, measures: u32) -> u32 {
    let middle = measures / 16 * 8 + 1;
    let (center, signature) = KEYS[pen.chance.number(0, KEYS.len() as u32 - 1) as usize];
    let (next, next_signature) = KEYS[pen.chance.number(0, 6) as usize];
    let moves = depth != Depth::Sparse && pen.chance.percent(30);
    let signature = match pen.chance.percent(4) {
        true => "3 sharps",
        false => signature,
    };
    if depth == Depth::Sparse && pen.chance.percent(40) {
        return 0;
    }
    match moves {
        true => {
            pen.line("tonal center", &format!("{center}, {next} at {middle}"));
            pen.line(
                "key signature",
                &format!("{signature}, {next_signature} at {middle}"),
            );
        }
        false => {
            pen.line("tonal center", center);
            pen.line("key signature", signature);
        }
    }
    let meter = ["4/4", "4/4", "4/4", "3/4", "2/4", "6/8", "cut", "5/8"][pen.chance.number(0, 7) as usize];
    let meter_said = match pen.chance.percent(10) && moves {
        true => format!("{meter}, 3/4 at {}-{}", middle + 2, middle + 3),
        false => meter.to_owned(),
    };
    pen.line("meter", &meter_said);
    let note = match (meter, pen.hasty) {
        ("6/8", _) => "dotted quarter",
        ("cut", _) => "half",
        ("5/8", _) => "eighth",
        (_, true) => "q",
        _ => "quarter",
    };
    let tempo = pen.chance.number(15, 36) * 4;
    let said = match pen.chance.number(1, 12) {
        1 => "Andante".to_owned(),
        2 => format!(
            "{note} = {tempo}, slower at {middle}, {note} = {tempo} at {}",
            middle + 16
        ),
        3 => format!("Allegro {note} = {tempo}"),
        4 => format!("{note} = {}-{tempo}", tempo - 8),
        _ => format!("{note} = {tempo}"),
    };
    pen.line("tempo", &said);
    if depth == Depth::Sparse || depth == Depth::Suite {
        return tempo;
    }
    pen.line("measures", &measures.to_string());
    let beats = match meter {
        "4/4" => 4,
        "3/4" => 3,
        "5/8" => 5,
        _ => 2,
    };
    let seconds = measures * beats * 60 / tempo;
    let seconds = match pen.chance.percent(92) {
        true => seconds,
        false => seconds * 2 + 31,
    };
    let road = pen.chance.percent(35);
    let seconds = match road {
        true => seconds + 16 * beats * 60 / tempo,
        false => seconds,
    };
    pen.line("lasts", &format!("{}:{:02}", seconds / 60, seconds % 60));
    if pen.chance.percent(50) {
        let step = pen.chance.number(1, 2) * 8;
        let marks: Vec<String> = (1..measures / step)
            .take(10)
            .map(|at| format!("{} {}", char::from(b'A' + at as u8 - 1), at * step + 1))
            .collect();
        pen.line("rehearsal marks", &marks.join(", "));
    }
    if road {
        let said = match pen.chance.number(0, 5) {
            0 => "repeat 9-24, 1st ending 23, 2nd ending 24".to_owned(),
            1 => format!(
                "repeat 5-12, segno at 9, to coda at {}, D.S. al Coda at {}",
                middle - 1,
                measures - 8
            ),
            2 => format!("Fine at {}, D.C. al Fine at {measures}", middle - 1),
            3 => "repeat 1-8, repeat 9-16".to_owned(),
            _ => "repeat 9-24".to_owned(),
        };
        pen.line("roadmap", &said);
    }
    tempo
}

fn movements(pen: &mut Pen<'_>) {
    pen.line("movements", "");
    for number in 1..=pen.chance.number(2, 4) {
        let name = crate::names::title(pen.chance);
        pen.depth = 2;
        pen.line(&number.to_string(), &format!("\"{name}\""));
        pen.depth = 3;
        let (center, signature) = KEYS[pen.chance.number(0, 6) as usize];
        let measures = pen.chance.number(3, 9) * 8;
        pen.line("tonal center", center);
        pen.line("key signature", signature);
        pen.line("meter", "4/4");
        let tempo = pen.chance.number(15, 36) * 4;
        pen.line("tempo", &format!("quarter = {tempo}"));
        pen.line("measures", &measures.to_string());
        if pen.chance.percent(60) {
            pen.line("percussion", "");
            let count = pen.chance.number(2, 5) as usize;
            for drum in pen.chance.some(DRUMS, count) {
                let from = pen.chance.number(0, 2) * 8 + 1;
                pen.depth = 4;
                pen.line(drum, &format!("{from}-{measures}"));
            }
        }
    }
    pen.depth = 1;
}

fn winds(pen: &mut Pen<'_>, grade: usize, measures: u32) {
    let middle = measures / 16 * 8 + 1;
    pen.line("parts", "");
    pen.depth = 2;
    let thick = pen.chance.number(45, 95);
    for (name, ranges) in WINDS {
        if !pen.chance.percent(thick) {
            continue;
        }
        let range = ranges[grade];
        let mut said = match pen.chance.number(1, 30) {
            1 => format!("{range}, solo {middle}-{}", middle + 7),
            2 => format!("{range}, solo {middle}-{}, cued in flute 1", middle + 3),
            3 => "with tuba".to_owned(),
            4 => format!("{range}, tacet {middle}-{}", middle + 8),
            5 => format!("{range}, melody {middle}-{}", middle + 15),
            6 => "same as trumpet 1".to_owned(),
            7 if pen.chance.percent(8) => "D6-C5".to_owned(),
            _ => range.to_owned(),
        };
        if *name == "clarinet 1" && grade > 0 {
            let _ = write!(said, ", over the break at {middle}-{}", middle + 7);
        }
        let name = pen.part(name);
        pen.line(name, &said);
    }
    pen.depth = 1;
}

fn brief_winds(pen: &mut Pen<'_>, grade: usize, count: u32) {
    match pen.chance.percent(50) {
        true => pen.line(
            "parts",
            "flute 1-2, clarinet 1-3, alto sax, trumpet 1-2, horn, trombone, tuba",
        ),
        false => {
            pen.line("parts", "");
            pen.depth = 2;
            for (name, ranges) in WINDS.iter().step_by(20 / count as usize) {
                let name = pen.part(name);
                pen.line(name, ranges[grade]);
            }
            pen.depth = 1;
        }
    }
}

fn percussion(pen: &mut Pen<'_>, grade: usize, measures: u32) {
    pen.line("percussion", "");
    pen.depth = 2;
    let count = pen.chance.number(3, 5 + 3 * grade as u32) as usize;
    let drums = pen.chance.some(DRUMS, count);
    for drum in &drums {
        let mut entrances = Vec::new();
        let mut at = 1 + pen.chance.number(0, 2) * 8;
        while at + 7 <= measures && entrances.len() < 8 {
            let long = pen.chance.number(1, 5) * 8;
            let end = (at + long - 1).min(measures);
            entrances.push(format!("{at}-{end}"));
            at = end + 1 + pen.chance.number(0, 4) * 8;
        }
        let mut said = match pen.chance.percent(25) {
            true => format!("1-{measures}"),
            false => entrances.join(", "),
        };
        if *drum == "timpani" {
            said += ", notes F2 Bb2";
        }
        if pen.chance.percent(6) {
            said += [
                "",
                ", soft mallets",
                ", optional",
                ", hard mallets",
                ", on the rim",
            ][pen.chance.number(0, 4) as usize];
        }
        let name = pen.part(drum);
        pen.line(name, &said);
    }
    pen.depth = 1;
    if pen.chance.percent(15) {
        pen.line("pages", "");
        pen.depth = 2;
        for (index, drums) in drums.chunks(2).enumerate() {
            pen.line(&format!("percussion {}", index + 1), &drums.join(", "));
        }
        pen.depth = 1;
    }
    if pen.chance.percent(60) {
        let least = (count as u32).saturating_sub(1).max(2);
        pen.line("needs", &format!("{least}-{} percussionists", least + 1));
    }
}

fn rest(pen: &mut Pen<'_>, depth: Depth, bands: &[String], lists: &[String]) {
    let band = bands[pen.chance.number(0, bands.len() as u32 - 1) as usize].clone();
    let rich = depth == Depth::Rich || depth == Depth::Suite;
    if depth != Depth::Sparse && pen.chance.percent(60) {
        let count = pen.chance.number(1, 4) as usize;
        let mut skills: Vec<String> = pen
            .chance
            .some(SKILLS, count)
            .iter()
            .map(|skill| (*skill).to_owned())
            .collect();
        if pen.chance.percent(3) {
            skills[0] = slip(pen.chance, &skills[0]);
        }
        pen.line("asks", &skills.join(", "));
    }
    if rich && pen.chance.percent(30) {
        let skills = pen.chance.some(SKILLS, 2).join(", ");
        pen.line("teaches", &skills);
    }
    if pen.chance.percent(10) {
        let list = &lists[pen.chance.number(0, lists.len() as u32 - 1) as usize];
        let list = list.clone();
        let grade = pen.chance.one(&["1", "1.5", "2"]);
        pen.line("listed", &format!("\"{list}\" grade {grade}"));
    }
    if pen.chance.percent(if rich { 60 } else { 25 }) {
        library(pen, rich);
    }
    if pen.chance.percent(30) {
        let (year, month, day) = (
            pen.chance.number(2012, 2026),
            pen.chance.number(1, 5),
            pen.chance.number(1, 28),
        );
        let took = pen.chance.number(3, 9);
        pen.line(
            "performed",
            &format!("{year}-{month:02}-{day:02} \"{band}\", took {took} weeks"),
        );
    }
    if pen.chance.percent(12) {
        pen.line(
            "learned",
            "Teach the change of tempo before anybody opens the page.",
        );
    }
    if pen.chance.percent(8) {
        pen.line("wanted", "for a year with more low brass");
    }
    if pen.chance.percent(3) {
        pen.line("stet", "over the break because the seconds are older this year");
    }
    if pen.chance.percent(3) {
        pen.line("for", &format!("\"{band}\""));
    }
    if pen.chance.percent(15) {
        let notes = "The melody goes from section to section, and the tubas get it last. Ask for the middle to be \
                     softer than the players think, and leave the cymbals out until the last week.";
        pen.line("notes", notes);
    }
}

fn library(pen: &mut Pen<'_>, rich: bool) {
    pen.line("library", "");
    pen.depth = 2;
    let (cabinet, number) = (pen.chance.number(1, 12), pen.chance.number(1, 400));
    pen.line("place", &format!("cabinet {cabinet}, no. {number}"));
    if rich && pen.chance.percent(60) {
        let flutes = pen.chance.number(2, 9);
        pen.line(
            "copies",
            &format!("1 score, {flutes} flute 1, 4 clarinet 1, 4 clarinet 2, 6 trumpet 1, 2 tuba"),
        );
    }
    if pen.chance.percent(10) {
        pen.line("missing", "1 trombone 1");
    }
    if pen.chance.percent(5) {
        pen.line("lent", "2026-05-01 to the high school, due 2026-09-01");
    }
    if pen.chance.percent(60) {
        let dollars = pen.chance.number(38, 110);
        pen.line("price", &format!("{dollars} USD"));
    }
    pen.depth = 1;
}
