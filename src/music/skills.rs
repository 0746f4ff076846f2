//! The usual order in which skills are taught, and what each stands on.
//!
//! Sources: "Band curriculum year at a glance" (docslib 4001743), Poway USD instrumental scope
//! and sequence grade 5, a band curriculum pacing guide by M. Thomas, Tomball ISD scope and
//! sequence, two beginning-band outlines, Alabama Course of Study (2006), and the grading guides
//! of NE Music Publishing and Band Directors Talk Shop. What a skill stands on is from memory
//! unless the table of the source shows it. The sources disagree on when, never on these
//! dependencies: dotted rhythms come in the first nine weeks in one and in spring in another.

use std::sync::LazyLock;

use super::instruments::Table;
use super::words;

/// A skill of the usual vocabulary.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Skill {
    /// The name in the one form.
    pub name: &'static str,
    /// Other names.
    pub also: &'static [&'static str],
    /// What it stands on, by name.
    pub after: &'static [&'static str],
    /// When it is usually taught.
    pub when: &'static str,
}

const AUTUMN: &str = "first year, fall";
const WINTER: &str = "first year, winter";
const SPRING: &str = "first year, spring";
const YEAR_ONE: &str = "first year";
const SECOND: &str = "late first year or second year";
const GRADE_TWO: &str = "about grade 1.5 to 2";
const LATER: &str = "about grade 2.5 to 3";

const fn s(
    name: &'static str,
    also: &'static [&'static str],
    after: &'static [&'static str],
    when: &'static str,
) -> Skill {
    Skill {
        name,
        also,
        after,
        when,
    }
}

/// The skills in teaching order: none stands before one it depends on.
#[rustfmt::skip]
pub static SKILLS: [Skill; 61] = [
    s("steady beat", &["beat", "pulse"], &[], AUTUMN),
    s("whole notes", &["whole notes and rests", "whole rests"], &["steady beat"], AUTUMN),
    s("half notes", &["half notes and rests", "half rests"], &["steady beat"], AUTUMN),
    s("quarter notes", &["quarter notes and rests", "quarter rests", "quarters"], &["steady beat"], AUTUMN),
    s("4/4", &["four-four"], &["quarter notes"], AUTUMN),
    s("2/4", &["two-four"], &["quarter notes"], AUTUMN),
    s("repeat signs", &["repeats", "repeat sign"], &["quarter notes"], AUTUMN),
    s("rounds", &["duets", "round", "duet"], &["repeat signs"], AUTUMN),
    s("eighth pairs", &["paired eighths", "eighth notes", "eighths", "two eighths"], &["quarter notes"], AUTUMN),
    s("endings", &["first and second endings", "1st and 2nd endings"], &["repeat signs"], AUTUMN),
    s("pickups", &["pickup notes", "pick-ups", "pickup", "anacrusis"], &["quarter notes"], AUTUMN),
    s("slurs", &["slur"], &["quarter notes"], WINTER),
    s("ties", &["tie"], &["half notes"], WINTER),
    s("dotted half notes", &["dotted halves", "dotted half"], &["half notes", "ties"], WINTER),
    s("3/4", &["three-four", "triple meter"], &["dotted half notes"], WINTER),
    s("long rests", &["multimeasure rests", "multi-measure rests", "counting rests"], &["whole notes"], WINTER),
    s("p and f", &["piano and forte", "basic dynamics"], &[], YEAR_ONE),
    s("mp and mf", &["mezzo dynamics"], &["p and f"], YEAR_ONE),
    s("crescendo and diminuendo", &["crescendo", "diminuendo", "decrescendo", "hairpins"], &["p and f"], YEAR_ONE),
    s("fermatas", &["fermata", "holds"], &["steady beat"], YEAR_ONE),
    s("accents", &["accent"], &["quarter notes"], YEAR_ONE),
    s("ritardando", &["rit.", "ritardandos", "slowing down"], &["steady beat"], YEAR_ONE),
    s("key signatures", &["key signature"], &["quarter notes"], YEAR_ONE),
    s("accidentals", &["accidental"], &["key signatures"], YEAR_ONE),
    s("single eighths", &["single eighth notes", "eighth rests", "eighth note and rest"], &["eighth pairs"], WINTER),
    s("off-beats", &["offbeats", "off beats", "upbeats"], &["single eighths"], SPRING),
    s("dotted quarter-eighth", &["dotted quarters", "dotted quarter and eighth", "dotted quarter eighth", "dotted crotchets"], &["eighth pairs", "ties", "single eighths"], SPRING),
    s("D.C. al Fine", &["da capo al fine", "D.C."], &["repeat signs"], SPRING),
    s("D.S. al Fine", &["dal segno al fine", "D.S."], &["D.C. al Fine"], SECOND),
    s("D.S. al Coda", &["dal segno al coda", "D.C. al Coda", "codas", "coda"], &["D.C. al Fine"], SECOND),
    s("syncopation", &["eighth-quarter-eighth", "simple syncopation"], &["single eighths", "dotted quarter-eighth"], SECOND),
    s("sixteenths", &["sixteenth notes", "sixteenth groups", "four sixteenths", "semiquavers"], &["eighth pairs"], SECOND),
    s("eighth and two sixteenths", &["eighth-two sixteenths", "two sixteenths and eighth"], &["sixteenths"], SECOND),
    s("dotted eighth-sixteenth", &["dotted eighths", "dotted eighth and sixteenth", "dotted eighth sixteenth"], &["sixteenths"], SECOND),
    s("cut time", &["alla breve", "2/2", "cut"], &["half notes", "quarter notes"], GRADE_TWO),
    s("3/8", &["three-eight"], &["single eighths"], GRADE_TWO),
    s("6/8 in six", &["slow 6/8"], &["single eighths", "dotted quarter-eighth"], GRADE_TWO),
    s("6/8 in two", &["6/8", "six-eight", "compound meter"], &["6/8 in six"], GRADE_TWO),
    s("triplets", &["eighth triplets", "triplet"], &["eighth pairs"], "about grade 2"),
    s("quarter triplets", &["quarter-note triplets"], &["triplets"], LATER),
    s("tempo changes", &["tempo change", "changing tempos", "accelerando"], &["ritardando"], LATER),
    s("5/4", &["five-four"], &["3/4", "2/4"], LATER),
    s("mixed meter", &["changing meters", "meter changes"], &["3/4", "2/4"], LATER),
    s("5/8", &["five-eight"], &["6/8 in six", "mixed meter"], LATER),
    s("staccato", &["stacc", "stacc."], &["slurs"], YEAR_ONE),
    s("legato", &[], &["slurs"], YEAR_ONE),
    s("tenuto", &[], &["slurs"], SECOND),
    s("marcato", &[], &["accents"], SECOND),
    s("over the break", &["crossing the break", "clarinet break"], &["key signatures"], SPRING),
    s("Bb scale", &["B flat scale", "concert Bb scale"], &["key signatures"], YEAR_ONE),
    s("Eb scale", &["E flat scale", "concert Eb scale"], &["Bb scale"], YEAR_ONE),
    s("Ab scale", &["A flat scale", "concert Ab scale"], &["Eb scale"], YEAR_ONE),
    s("F scale", &["concert F scale"], &["Bb scale"], SECOND),
    s("C scale", &["concert C scale"], &["F scale"], SECOND),
    s("chromatic scale", &["chromatics"], &["accidentals"], SECOND),
    s("multiple bounce", &["multiple bounce stroke", "multiple bounces", "buzz stroke"], &["quarter notes"], YEAR_ONE),
    s("multiple bounce roll", &["buzz roll", "closed roll"], &["multiple bounce"], YEAR_ONE),
    s("paradiddles", &["paradiddle"], &["eighth pairs"], YEAR_ONE),
    s("flams", &["flam"], &["eighth pairs"], YEAR_ONE),
    s("five-stroke roll", &["5-stroke roll"], &["multiple bounce roll"], YEAR_ONE),
    s("nine-stroke roll", &["9-stroke roll", "long rolls"], &["five-stroke roll"], YEAR_ONE),
];

/// The skill of this name, in any case.
pub fn find(name: &str) -> Option<&'static Skill> {
    static BY_NAME: LazyLock<Table<String, &'static Skill>> = LazyLock::new(|| {
        let names = SKILLS.iter().map(|skill| (skill.name, skill));
        let others = SKILLS
            .iter()
            .flat_map(|skill| skill.also.iter().map(move |also| (*also, skill)));
        let mut table = Table::default();
        // A name goes before another skill's other name, and the first of two before the second.
        for (name, skill) in names.chain(others) {
            table.entry(words::tidy(name)).or_insert(skill);
        }
        table
    });
    match words::is_tidy(name) {
        true => BY_NAME.get(name),
        false => BY_NAME.get(words::tidy(name).as_str()),
    }
    .copied()
}

/// Everything a skill stands on, in teaching order, itself not included.
pub fn before(skill: &Skill) -> Vec<&'static Skill> {
    let mut needed: Vec<&str> = skill.after.to_vec();
    let mut found = Vec::new();
    // Later skills come first here, so that what they need is known before it is met.
    for candidate in SKILLS.iter().rev() {
        if needed.contains(&candidate.name) {
            needed.extend(candidate.after);
            found.push(candidate);
        }
    }
    found.reverse();
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn nothing_stands_on_what_comes_later() {
        let mut taught: Vec<&str> = Vec::new();
        for skill in &SKILLS {
            for needed in skill.after {
                assert!(taught.contains(needed), "{} before {needed}", skill.name);
            }
            assert!(!taught.contains(&skill.name), "{} twice", skill.name);
            taught.push(skill.name);
        }
    }

    #[test]
    fn found_by_any_name() {
        assert_eq!(find("Eighth-Quarter-Eighth").map(|s| s.name), Some("syncopation"));
        assert_eq!(find("6/8").map(|s| s.name), Some("6/8 in two"));
        assert_eq!(find("juggling"), None);
        for skill in &SKILLS {
            assert_eq!(find(skill.name), Some(skill));
            for other in skill.also {
                assert_eq!(find(other), Some(skill), "{other}");
            }
        }
    }

    #[test]
    fn the_whole_ladder() {
        let dotted = find("dotted quarter-eighth").map(before).unwrap_or_default();
        let names: Vec<&str> = dotted.iter().map(|s| s.name).collect();
        let ladder = "steady beat, half notes, quarter notes, eighth pairs, ties, single eighths";
        assert_eq!(names.join(", "), ladder);
    }
}
