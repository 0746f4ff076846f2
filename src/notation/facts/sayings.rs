//! What the trade says of a part beside its notes and measures: a fixed vocabulary, each with its one form.
//!
//! All words here are common practice, no source.

use std::fmt;
use std::sync::LazyLock;

use crate::notation::scan::{self, Read, phrase};

/// How the names of a row go together.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Texture {
    /// The same pitches.
    Unison,
    /// The same line in octaves.
    Octaves,
    /// Thirds.
    Thirds,
    /// Fifths.
    Fifths,
    /// Sixths.
    Sixths,
    /// Different pitches in one rhythm.
    SameRhythm,
    /// Held notes below the rest.
    Drone,
    /// A hymn-like setting.
    Chorale,
    /// The tune.
    Melody,
    /// A second tune.
    Countermelody,
    /// The harmony.
    Harmony,
    /// The bass line.
    BassLine,
    /// Off-beats.
    OffBeats,
    /// A line of their own.
    Independent,
}

const TEXTURES: [(Texture, &str, &[&str]); 14] = [
    (
        Texture::Unison,
        "unison",
        &[
            "in unison",
            "all unison",
            "same thing",
            "the same thing",
            "same notes",
            "the same notes",
            "same part",
            "the same part",
            "a2",
            "a 2",
            "together",
        ],
    ),
    (Texture::Octaves, "octaves", &["in octaves"]),
    (Texture::Thirds, "thirds", &["in thirds"]),
    (Texture::Fifths, "fifths", &["in fifths", "open fifths"]),
    (Texture::Sixths, "sixths", &["in sixths"]),
    (
        Texture::SameRhythm,
        "same rhythm",
        &[
            "one rhythm",
            "the same rhythm",
            "in the same rhythm",
            "in rhythmic unison",
            "rhythmic unison",
        ],
    ),
    (
        Texture::Drone,
        "drone",
        &["a drone", "drones", "pedal note", "pedal notes", "pedal point"],
    ),
    (Texture::Chorale, "chorale", &["a chorale", "chorale style"]),
    (
        Texture::Melody,
        "melody",
        &[
            "the melody",
            "has the melody",
            "have the melody",
            "tune",
            "the tune",
            "has the tune",
            "have the tune",
            "on the tune",
            "on the melody",
            "on melody",
            "gets the tune",
            "get the tune",
            "carries the tune",
            "carry the tune",
            "takes the tune",
        ],
    ),
    (
        Texture::Countermelody,
        "countermelody",
        &["a countermelody", "counter-melody", "countermelodies"],
    ),
    (
        Texture::Harmony,
        "harmony",
        &["the harmony", "accompaniment", "harmonies"],
    ),
    (Texture::BassLine, "bass line", &["the bass line", "bass lines"]),
    (
        Texture::OffBeats,
        "off-beats",
        &["offbeats", "off beats", "upbeats", "after-beats", "afterbeats"],
    ),
    (
        Texture::Independent,
        "independent",
        &[
            "independent line",
            "independent lines",
            "independent part",
            "a line of its own",
            "own line",
        ],
    ),
];

impl Texture {
    /// The words of every texture's one form, in the order of the table.
    pub fn all() -> impl Iterator<Item = &'static str> {
        TEXTURES.iter().map(|(_, words, _)| *words)
    }

    /// The words of the one form.
    pub fn words(self) -> &'static str {
        TEXTURES
            .iter()
            .find(|(texture, ..)| *texture == self)
            .map_or("", |(_, words, _)| words)
    }

    /// Reads the words at the start of a text.
    pub fn leading(input: &str) -> Read<'_, Texture> {
        static PHRASES: LazyLock<Phrases<Texture>> = LazyLock::new(|| {
            Phrases::new(TEXTURES.iter().flat_map(|(texture, words, also)| {
                std::iter::once(*words)
                    .chain(also.iter().copied())
                    .map(|w| (*texture, w))
            }))
        });
        PHRASES.leading(input)
    }
}

impl fmt::Display for Texture {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.words())
    }
}

/// Something the trade says of a part, by the words of its one form.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub struct Saying(pub &'static str);

const SAYINGS: &[(&str, &[&str])] = &[
    (
        "rolls",
        &[
            "roll",
            "rolled",
            "with rolls",
            "long roll",
            "long rolls",
            "short roll",
            "short rolls",
        ],
    ),
    (
        "closed rolls",
        &[
            "closed roll",
            "buzz roll",
            "buzz rolls",
            "press roll",
            "press rolls",
        ],
    ),
    (
        "open rolls",
        &[
            "open roll",
            "double-stroke roll",
            "double stroke roll",
            "double stroke rolls",
        ],
    ),
    ("no rolls", &["without rolls"]),
    ("swells", &["swell", "a swell"]),
    ("flams", &["flam"]),
    ("drags", &["drag", "ruffs"]),
    ("rim shots", &["rim shot", "rimshot", "rimshots"]),
    (
        "on the rim",
        &[
            "rim",
            "rims",
            "on rim",
            "on rims",
            "on the rims",
            "rim clicks",
            "rim click",
        ],
    ),
    ("cross stick", &["side stick", "cross-stick"]),
    ("snares off", &["snare off", "without snares", "no snares"]),
    ("snares on", &["snare on", "with snares"]),
    ("choked", &["choke", "chokes", "damped", "dampened", "damp"]),
    ("let ring", &["l.v.", "lv", "laissez vibrer", "let it ring"]),
    ("scraped", &["scrape", "scrapes"]),
    ("bowed", &["bow", "with a bow", "with bow"]),
    ("motor off", &["no motor", "without motor"]),
    ("with pedal", &["pedal"]),
    ("glissando", &["glissandi", "gliss", "gliss."]),
    ("thumb roll", &["thumb rolls"]),
    ("shaken", &["shake", "shakes"]),
    (
        "cymbals attached",
        &[
            "att. cym",
            "att. cym.",
            "att cym",
            "attached cymbal",
            "attached cym",
            "cym attached",
            "cymbal attached",
            "with attached cymbal",
            "with cymbal attached",
        ],
    ),
    ("mounted", &["on a stand", "on stand"]),
    (
        "muted",
        &["mute", "with mute", "with mutes", "mutes", "con sordino"],
    ),
    (
        "straight mute",
        &["straight mutes", "with straight mute", "with straight mutes"],
    ),
    ("cup mute", &["cup mutes", "with cup mute", "with cup mutes"]),
    ("harmon mute", &["harmon mutes", "with harmon mute"]),
    ("plunger", &["plungers", "with plunger", "plunger mute"]),
    ("bucket mute", &["bucket mutes"]),
    ("stopped", &["hand-stopped", "hand stopped"]),
    ("unmuted", &["mute out", "mutes out", "senza sordino"]),
    ("tremolo", &["tremolos"]),
    ("trills", &["trill"]),
    ("pizzicato", &["pizz.", "pizz"]),
    ("arco", &[]),
    ("staccato", &["detached"]),
    ("legato", &["slurred", "smooth"]),
    (
        "chord symbols",
        &["changes only", "chords", "chord changes", "changes"],
    ),
    ("written line", &["written out", "fully written"]),
    ("written line or chord symbols", &[]),
    ("improvised", &["improvises", "improv"]),
    (
        "octave options",
        &[
            "may go up the octave",
            "may go up an octave",
            "may go down the octave",
            "may go down an octave",
            "may be played an octave higher",
            "may be played an octave lower",
            "can be played an octave higher",
            "up the octave is fine",
            "octave option",
            "8va optional",
            "optional octave",
            "optional octaves",
            "optional 8va",
            "octaves optional",
            "8vb optional",
            "8va opt",
            "8vb opt",
            "8vb ok",
            "8va ok",
            "can go down the octave",
            "can go down an octave",
            "can go up the octave",
            "can be played an octave lower",
            "can play it down the octave",
            "down the octave is fine",
            "an octave lower is fine",
        ],
    ),
    (
        "ossia",
        &[
            "easier version",
            "with ossia",
            "an ossia",
            "alternate notes",
            "alternate part",
            "optional notes",
        ],
    ),
    ("cues", &["cue notes", "small notes", "cue-size notes"]),
    ("exposed", &["very exposed"]),
    (
        "hard",
        &[
            "super hard",
            "pretty hard",
            "really hard",
            "very hard",
            "difficult",
            "tricky",
            "tough",
            "the hardest part",
            "hardest part",
            "is the worst",
            "the worst spot",
            "worst spot",
            "is the hard part",
            "the hard part",
            "is the hardest",
            "is the tricky bit",
        ],
    ),
    (
        "easy",
        &[
            "ez",
            "super easy",
            "easy part",
            "easy stuff",
            "pretty easy",
            "dead easy",
            "simple",
            "very easy",
        ],
    ),
    ("high", &["plays high", "lies high", "stays high", "stay high"]),
    (
        "low",
        &["plays low", "lies low", "stays low", "stay low", "stays down low"],
    ),
    ("soft", &["softly", "quiet"]),
    ("loud", &[]),
    (
        "treble clef",
        &[
            "T.C.",
            "tc",
            "in treble clef",
            "treble clef only",
            "only treble clef",
        ],
    ),
    (
        "bass clef",
        &["B.C.", "in bass clef", "bass clef only", "only bass clef"],
    ),
    (
        "extra part",
        &[
            "transposed part supplied",
            "part supplied",
            "extra part supplied",
            "part included",
            "included",
            "in the set",
            "is in the set",
            "in the folder",
            "is in the folder",
            "comes in the set",
            "comes with the set",
        ],
    ),
    ("sings", &["sing", "singing", "vocal"]),
    ("claps", &["clap", "hand claps", "clapping"]),
    ("stomps", &["stomp", "foot stomps"]),
    ("whispers", &["whispering"]),
    (
        "offstage",
        &["off stage", "off-stage", "from the back of the hall"],
    ),
    ("standing", &["stands", "stand up"]),
    (
        "on cue",
        &[
            "whenever the conductor points",
            "when the conductor points",
            "on the conductor's cue",
            "when i point",
            "whenever i point",
            "on my cue",
            "on the conductor's signal",
        ],
    ),
    ("ad lib", &[]),
    (
        "otherwise ad lib",
        &[
            "rest is ad lib",
            "the rest is ad lib",
            "rest ad lib",
            "the rest ad lib",
        ],
    ),
    ("any pattern", &["any beat", "any groove"]),
    ("open", &["open for solos"]),
    (
        "sustained",
        &[
            "long tones",
            "long notes",
            "whole notes",
            "held notes",
            "long notes mostly",
            "semibreves",
        ],
    ),
    (
        "one part for all",
        &[
            "one part for everybody",
            "all one part",
            "same part for all",
            "all play one part",
            "one part",
            "share one part",
            "share a part",
        ],
    ),
    (
        "upper notes where divided",
        &[
            "top line where divided",
            "top line where split",
            "top notes where divided",
            "top note where divided",
            "upper line where divided",
            "upper line where split",
            "upper notes where split",
            "upper note where divided",
        ],
    ),
    (
        "lower notes where divided",
        &[
            "bottom line where divided",
            "bottom notes where divided",
            "lower line where divided",
            "lower line where split",
            "lower notes where split",
            "lower note where divided",
        ],
    ),
    (
        "no retuning",
        &[
            "no tuning changes",
            "no retunes",
            "never retunes",
            "never retune",
            "no pedal changes",
        ],
    ),
    (
        "nice to have",
        &[
            "nice",
            "nice if you have it",
            "nice if you have one",
            "better with it",
            "better with one",
            "helpful",
            "helps",
        ],
    ),
    (
        "we have none",
        &[
            "we don't have one",
            "we dont have one",
            "don't have one",
            "dont have one",
            "don't have it",
            "dont have it",
            "dont have",
            "don't have",
            "we have no one",
            "don't own one",
            "dont own one",
            "none here",
        ],
    ),
    ("once", &["just once", "only once", "one time", "just one time"]),
    ("on the head", &["on head", "normal", "ordinary"]),
    ("different clefs", &["in different clefs", "different clef"]),
    (
        "treble and bass clef",
        &[
            "both treble and bass clef parts are in the folder",
            "both treble and bass clef parts are in the set",
            "both treble and bass clef parts",
            "both treble and bass clef",
            "treble and bass clef parts",
            "treble and bass clef both",
            "both clefs",
            "in both clefs",
        ],
    ),
    (
        "breathe anywhere",
        &[
            "breathe where you like",
            "breath anywhere",
            "stagger breathing",
            "stagger breathe",
            "staggered breathing",
            "stagger the breathing",
            "stagger your breaths",
        ],
    ),
    (
        "otherwise easy",
        &[
            "rest is easy",
            "the rest is easy",
            "easy otherwise",
            "rest easy",
            "otherwise fine",
            "the rest is fine",
            "rest is fine",
            "everything else is easy",
        ],
    ),
    (
        "manageable",
        &[
            "fine",
            "doable",
            "playable",
            "no problem",
            "no problems",
            "not bad",
        ],
    ),
    ("twice", &["two times", "just twice", "only twice"]),
    (
        "mostly eighths",
        &[
            "lots of eighths",
            "lots of 8ths",
            "eighths mostly",
            "quavers mostly",
            "mostly quavers",
            "mostly eighth notes",
            "mostly 8ths",
        ],
    ),
    (
        "mostly half notes",
        &[
            "half notes mostly",
            "minims mostly",
            "mostly minims",
            "mostly halves",
        ],
    ),
    (
        "mostly quarters",
        &[
            "quarters mostly",
            "crotchets mostly",
            "mostly crotchets",
            "mostly quarter notes",
        ],
    ),
    (
        "nothing above the staff",
        &[
            "nobody goes above the staff",
            "never above the staff",
            "never goes above the staff",
            "stays on the staff",
            "stays in the staff",
            "nothing above the stave",
            "stays in the stave",
        ],
    ),
    (
        "any one will do",
        &[
            "any one of them will do",
            "any one of the two will do",
            "any one of the three will do",
            "any one of the four will do",
            "any of them will do",
            "one of them is enough",
            "one of them will do",
            "one is enough",
        ],
    ),
    (
        "needs a reader",
        &[
            "needs someone who reads",
            "needs somebody who reads",
            "needs a good reader",
            "needs a kid who reads",
            "needs a kid who can read",
            "player must read",
        ],
    ),
    (
        "an octave higher",
        &[
            "up the octave",
            "octave up",
            "octave higher",
            "an octave up",
            "up an octave",
            "up an 8ve",
            "an 8ve up",
            "8va",
        ],
    ),
    (
        "an octave lower",
        &[
            "octave down",
            "octave lower",
            "an octave down",
            "down an octave",
            "down an 8ve",
            "an 8ve down",
            "8vb",
        ],
    ),
    (
        "no chords",
        &["no chord symbols", "no changes written", "without chords"],
    ),
    (
        "pedal tones",
        &["pedals", "low pedals", "pedal tone", "has pedals"],
    ),
    (
        "one to a part",
        &[
            "one player to a part",
            "one on a part",
            "one per part",
            "1 to a part",
        ],
    ),
    (
        "last time only",
        &[
            "on the last time",
            "on the last time only",
            "the last time only",
            "last time through only",
            "last time through",
            "final time only",
            "only the last time",
            "only on the last time",
        ],
    ),
    (
        "any player",
        &[
            "whoever is free",
            "whoever's free",
            "whoevers free",
            "anybody who is free",
            "anyone who is free",
            "anybody can play it",
            "anyone can play it",
            "any free player",
            "anybody free",
        ],
    ),
    ("two drums", &["2 drums", "2 of them", "two of them", "2 of em"]),
    (
        "three drums",
        &["3 drums", "3 of them", "three of them", "3 of em"],
    ),
    ("four drums", &["4 drums", "4 of them", "four of them", "4 of em"]),
    ("five drums", &["5 drums", "5 of them", "five of them"]),
    (
        "fills",
        &["with fills", "w fills", "w/ fills", "fill", "drum fills"],
    ),
    (
        "rock beat",
        &["rock groove", "a rock beat", "plays a rock beat", "rock time"],
    ),
    (
        "swing beat",
        &["swing groove", "swing time", "jazz time", "a swing beat"],
    ),
    ("march beat", &["a march beat", "street beat"]),
    (
        "latin beat",
        &[
            "latin groove",
            "a latin beat",
            "bossa nova",
            "bossa",
            "samba beat",
        ],
    ),
    (
        "every other measure",
        &["every other bar", "every second bar", "every second measure"],
    ),
    (
        "misprint",
        &[
            "wrong note",
            "a misprint",
            "a wrong note",
            "has a misprint",
            "has a wrong note",
            "typo",
        ],
    ),
    (
        "F attachment",
        &[
            "needs an F attachment",
            "needs F attachment",
            "F attachment needed",
            "F attachment required",
            "an F attachment is required",
            "an F attachment is needed",
            "F-attachment",
            "needs a trigger",
        ],
    ),
    (
        "fast runs",
        &[
            "a fast run",
            "fast run",
            "runs",
            "a run",
            "fast notes",
            "sixteenth runs",
            "16th runs",
            "runs of sixteenths",
            "a run of sixteenths",
            "a run of semis",
            "a run of semiquavers",
            "a run of demisemis",
            "a run of demisemiquavers",
        ],
    ),
    (
        "breathe every four measures",
        &[
            "breath every four",
            "breathe every four",
            "breath every 4",
            "breathe every 4",
            "breath every four bars",
            "breathe every four bars",
        ],
    ),
    (
        "breathe every two measures",
        &[
            "breath every two",
            "breathe every two",
            "breath every 2",
            "breathe every two bars",
        ],
    ),
    (
        "one part for each family",
        &["one part to a family", "one part per family", "one per family"],
    ),
];

impl Saying {
    /// The words of every saying's one form, in the order of the table.
    pub fn all() -> impl Iterator<Item = &'static str> {
        SAYINGS.iter().map(|(words, _)| *words)
    }

    /// Reads the words at the start of a text.
    pub fn leading(input: &str) -> Read<'_, Saying> {
        static PHRASES: LazyLock<Phrases<Saying>> = LazyLock::new(|| {
            Phrases::new(SAYINGS.iter().flat_map(|(words, also)| {
                std::iter::once(*words)
                    .chain(also.iter().copied())
                    .map(|w| (Saying(words), w))
            }))
        });
        PHRASES.leading(input)
    }
}

impl fmt::Display for Saying {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.0)
    }
}

/// Phrases and what they mean, laid out by their first letter, so that few are tried at a word.
pub struct Phrases<T> {
    by_letter: [Vec<(T, &'static str)>; 27],
}

impl<T: Copy> Phrases<T> {
    /// Lays out phrases.
    pub fn new(phrases: impl Iterator<Item = (T, &'static str)>) -> Phrases<T> {
        let mut by_letter: [Vec<(T, &'static str)>; 27] = Default::default();
        for (meaning, words) in phrases {
            if let Some(list) = by_letter.get_mut(letter(words)) {
                list.push((meaning, words));
            }
        }
        Phrases { by_letter }
    }

    /// The meaning of the longest of them that stands at the start of a text.
    pub fn leading<'t>(&self, input: &'t str) -> Read<'t, T> {
        let mut best: Option<(&'t str, T)> = None;
        for (meaning, words) in self.by_letter.get(letter(input)).into_iter().flatten() {
            let Ok((rest, _)) = phrase_dotted(input, words) else {
                continue;
            };
            if best.as_ref().is_none_or(|(left, _)| rest.len() < left.len()) {
                best = Some((rest, *meaning));
            }
        }
        best.ok_or_else(|| nom::Err::Error(nom::error::Error::new(input, nom::error::ErrorKind::Tag)))
    }
}

/// The place of a text's first letter in the alphabet; the last place is for everything else.
fn letter(text: &str) -> usize {
    match text.as_bytes().first().map(u8::to_ascii_lowercase) {
        Some(c @ b'a'..=b'z') => usize::from(c - b'a'),
        _ => 26,
    }
}

/// A phrase whose last word may end with a dot of its own.
fn phrase_dotted<'t>(input: &'t str, words: &'static str) -> Read<'t, &'t str> {
    match words.strip_suffix('.') {
        None => phrase(words)(input),
        Some(_) => {
            // Words such as `gliss.` are compared with their dot.
            let head = input
                .get(..words.len())
                .filter(|head| head.eq_ignore_ascii_case(words));
            let rest = head.and_then(|_| input.get(words.len()..));
            match rest.filter(|rest| scan::word_end(rest).is_ok()) {
                Some(rest) => Ok((rest, head.unwrap_or(""))),
                None => Err(nom::Err::Error(nom::error::Error::new(
                    input,
                    nom::error::ErrorKind::Tag,
                ))),
            }
        }
    }
}

/// Every way of writing a texture or a saying.
#[cfg(test)]
pub(in crate::notation) fn written() -> impl Iterator<Item = &'static str> {
    let textures = TEXTURES.iter().map(|(_, words, also)| (*words, *also));
    let sayings = SAYINGS.iter().map(|(words, also)| (*words, *also));
    textures
        .chain(sayings)
        .flat_map(|(words, also)| std::iter::once(words).chain(also.iter().copied()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_saying_reads_its_one_form() {
        for (words, also) in SAYINGS {
            for written in std::iter::once(words).chain(also.iter()) {
                assert_eq!(
                    Saying::leading(written).map(|(rest, said)| (rest, said.0)),
                    Ok(("", *words)),
                    "{written}"
                );
            }
        }
        for (texture, words, also) in TEXTURES {
            for written in std::iter::once(words).chain(also.iter().copied()) {
                assert_eq!(Texture::leading(written), Ok(("", texture)), "{written}");
            }
        }
        assert!(Saying::leading("rollszqxv").is_err());
    }
}
