//! Who usually covers a missing part, and how its notes are rewritten.
//!
//! To cover is to play the same line on another instrument from a part of one's own; whether such
//! a part may be made is the publisher's to say.

use super::instruments::Instruments;
use super::interval::Interval;

/// One usual cover.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Substitute {
    /// The instrument that is missing.
    pub missing: &'static str,
    /// The one that covers.
    pub cover: &'static str,
    /// Where this is said.
    pub source: &'static str,
}

const GRADE_ONE: &str = "Musikkreis Donnersberg, Grade-Definitionen (shared lines at grade 1)";
const CLASS_ONE: &str = "Missouri band sight-reading criteria (rev. 2002-03), shared parts";
const ONE_BASS: &str = "Florida sight-reading content limits, classification MD (one bass line)";
const COMMON: &str = "common practice, no source";

const fn by(missing: &'static str, cover: &'static str, source: &'static str) -> Substitute {
    Substitute {
        missing,
        cover,
        source,
    }
}

/// The usual covers, the most usual first for each instrument.
pub static SUBSTITUTES: [Substitute; 36] = [
    by("piccolo", "flute", COMMON),
    by("oboe", "flute", GRADE_ONE),
    by("oboe", "clarinet", "G. Yefchak, transposition tutorial"),
    by("English horn", "alto sax", COMMON),
    by("English horn", "horn", COMMON),
    by("bassoon", "bass clarinet", ONE_BASS),
    by("bassoon", "tenor sax", CLASS_ONE),
    by("bassoon", "baritone sax", ONE_BASS),
    by("bassoon", "euphonium", ONE_BASS),
    by("Eb clarinet", "clarinet", COMMON),
    by("alto clarinet", "alto sax", COMMON),
    by("bass clarinet", "baritone sax", ONE_BASS),
    by("bass clarinet", "bassoon", ONE_BASS),
    by("contra-alto clarinet", "baritone sax", COMMON),
    by("contrabass clarinet", "tuba", COMMON),
    by("baritone sax", "bass clarinet", ONE_BASS),
    by("baritone sax", "tuba", ONE_BASS),
    by("horn", "alto sax", GRADE_ONE),
    by("horn", "tenor sax", ONE_BASS),
    by("horn", "mellophone", COMMON),
    by("trumpet", "cornet", COMMON),
    by("trumpet", "alto sax", CLASS_ONE),
    by("cornet", "trumpet", COMMON),
    by("flugelhorn", "trumpet", COMMON),
    by("trombone", "tenor sax", CLASS_ONE),
    by("trombone", "euphonium", CLASS_ONE),
    by("euphonium", "baritone", COMMON),
    by("euphonium", "euphonium T.C.", CLASS_ONE),
    by("euphonium", "tenor sax", COMMON),
    by("tuba", "baritone sax", CLASS_ONE),
    by("tuba", "bass clarinet", GRADE_ONE),
    by("tuba", "contra-alto clarinet", CLASS_ONE),
    by("tuba", "string bass", CLASS_ONE),
    by("tuba", "euphonium", GRADE_ONE),
    by("string bass", "tuba", COMMON),
    by(
        "crash cymbals",
        "suspended cymbal",
        "S. Hoffman, \"Too many parts, too few players\"",
    ),
];

/// A cover with the interval by which its written notes differ.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Cover {
    /// The usual cover.
    pub substitute: Substitute,
    /// What to add to the missing part's written note to get the cover's written note at the same
    /// sounding pitch. Unison where neither has pitch.
    pub rewrite: Interval,
}

/// What could cover the instrument of this standard name, the most usual first.
pub fn covers(missing: &str) -> Vec<Cover> {
    let named = SUBSTITUTES.iter().filter(|s| s.missing == missing);
    named
        .map(|s| Cover {
            substitute: *s,
            rewrite: rewrite(s.missing, s.cover).unwrap_or(Interval::UNISON),
        })
        .collect()
}

/// The interval from one standard instrument's written note to another's for the same sound;
/// `None` when either is not known.
pub fn rewrite(from: &str, to: &str) -> Option<Interval> {
    let standard = Instruments::standard();
    let from = standard.find(from).exact()?.transposition.interval();
    let to = standard.find(to).exact()?.transposition.interval();
    Some(from.plus(to.reversed()))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_name_is_standard() {
        for s in &SUBSTITUTES {
            for name in [s.missing, s.cover] {
                let found = Instruments::standard().find(name).exact();
                assert_eq!(found.map(|i| i.name.as_ref()), Some(name));
            }
        }
    }

    /// Horn to alto sax a major second up: S. Seebeck (2019), horn part in A major played on alto
    /// in B major. The others: worked out from the transpositions of each.
    #[test]
    fn written_notes() {
        let table = [
            ("horn", "alto sax", 2, 1),
            ("horn", "tenor sax", 7, 4),
            ("oboe", "clarinet", 2, 1),
            ("trombone", "tenor sax", 14, 8),
            ("trumpet", "alto sax", 7, 4),
            ("tuba", "baritone sax", 21, 12),
            ("tenor sax", "bass clarinet", 0, 0),
            ("tuba", "string bass", 12, 7),
        ];
        for (from, to, semitones, steps) in table {
            assert_eq!(
                rewrite(from, to),
                Some(Interval::new(steps, semitones)),
                "{from} {to}"
            );
        }
        assert_eq!(covers("horn").len(), 3);
        assert!(covers("kazoo").is_empty());
    }
}
