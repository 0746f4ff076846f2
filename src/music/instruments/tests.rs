//! Names and facts of instruments, as tables.

use super::*;
use proptest::prelude::*;

fn name_of(text: &str) -> Option<&'static str> {
    let found = Instruments::standard().find(text).exact()?;
    Some(found.name.as_ref())
}

#[test]
fn found_by_any_name() {
    let table = [
        ("Clarinet", "clarinet"),
        ("clarinets", "clarinet"),
        ("B♭ Clarinet", "clarinet"),
        ("B flat clarinet", "clarinet"),
        ("E-flat clarinet", "Eb clarinet"),
        ("b. cl.", "bass clarinet"),
        ("B.Cl.", "bass clarinet"),
        ("fl.", "flute"),
        ("ob.", "oboe"),
        ("bsn.", "bassoon"),
        ("A. Sax", "alto sax"),
        ("alto saxophones", "alto sax"),
        ("bari sax", "baritone sax"),
        ("tpt.", "trumpet"),
        ("hn.", "horn"),
        ("horn in F", "horn"),
        ("French horns", "horn"),
        ("tbn.", "trombone"),
        ("euph.", "euphonium"),
        ("Euphonium TC", "euphonium T.C."),
        ("euphonium t.c.", "euphonium T.C."),
        ("sousaphone", "tuba"),
        ("glockenspiel", "bells"),
        ("Orchestra Bells", "bells"),
        ("s.d.", "snare"),
        ("Snare Drum", "snare"),
        ("BD", "bass drum"),
        ("crash cymbal", "crash cymbals"),
        ("sus. cym.", "suspended cymbal"),
        ("tamb.", "tambourine"),
        ("tri.", "triangle"),
        ("w.b.", "wood block"),
        ("woodblock", "wood block"),
        ("timp.", "timpani"),
        ("tom toms", "tom-toms"),
        ("toms", "tom-toms"),
        ("mark tree", "wind chimes"),
        ("whip", "slapstick"),
        ("tubular bells", "chimes"),
    ];
    for (given, wanted) in table {
        assert_eq!(name_of(given), Some(wanted), "{given}");
    }
}

#[test]
fn part_numbers() {
    let table = [
        ("clarinet 2", "clarinet", Some(2)),
        ("2nd trumpet", "trumpet", Some(2)),
        ("Horn  IV", "Horn", Some(4)),
        ("clarinet", "clarinet", None),
        ("euphonium T.C.", "euphonium T.C.", None),
        ("flute 0", "flute 0", None),
    ];
    for (given, name, part) in table {
        assert_eq!(split_part(given), (name, part), "{given}");
    }
}

/// Words that mean two things stay open.
#[test]
fn ambiguous_words() {
    let table = [
        ("T.B.", "trombone, chimes, temple blocks"),
        ("cym.", "crash cymbals, suspended cymbal"),
        ("cymbals", "crash cymbals, suspended cymbal"),
        ("tim.", "timpani, timbales"),
        ("cor.", "cornet, horn"),
        ("mar.", "marimba, maracas"),
        ("saxes", "alto sax, tenor sax, baritone sax, soprano sax"),
    ];
    for (given, wanted) in table {
        let Lookup::Ambiguous(found) = Instruments::standard().find(given) else {
            panic!("{given} is not ambiguous");
        };
        let names: Vec<&str> = found.iter().map(|i| i.name.as_ref()).collect();
        assert_eq!(names.join(", "), wanted, "{given}");
    }
    for given in ["D.S.", "kazoo", "", "1", "..."] {
        assert_eq!(Instruments::standard().find(given), Lookup::None, "{given}");
    }
}

/// Semitones from written to sounding, octaves included. Winds: C. Schmidt-Jones, "Transposing
/// Instruments" (OpenStax); LaRue, conducting handout 6. Mallets: TR Percussion, pitch ranges.
/// The pairs of letters and semitones: W3C MusicXML 4.0, transpose element.
#[test]
fn transpositions() {
    let table = [
        ("piccolo", 12, 7),
        ("flute", 0, 0),
        ("English horn", -7, -4),
        ("contrabassoon", -12, -7),
        ("Eb clarinet", 3, 2),
        ("clarinet", -2, -1),
        ("alto clarinet", -9, -5),
        ("bass clarinet", -14, -8),
        ("contra-alto clarinet", -21, -12),
        ("contrabass clarinet", -26, -15),
        ("soprano sax", -2, -1),
        ("alto sax", -9, -5),
        ("tenor sax", -14, -8),
        ("baritone sax", -21, -12),
        ("trumpet", -2, -1),
        ("horn", -7, -4),
        ("trombone", 0, 0),
        ("euphonium", 0, 0),
        ("euphonium T.C.", -14, -8),
        ("tuba", 0, 0),
        ("string bass", -12, -7),
        ("bells", 24, 14),
        ("xylophone", 12, 7),
        ("crotales", 24, 14),
        ("celesta", 12, 7),
        ("marimba", 0, 0),
        ("Db piccolo", 13, 8),
    ];
    for (name, semitones, steps) in table {
        let found = Instruments::standard().find(name).exact();
        let interval = found.map(|i| i.transposition.interval());
        let wanted = Some((steps, semitones));
        assert_eq!(interval.map(|i| (i.steps, i.semitones)), wanted, "{name}");
    }
}

#[test]
fn the_table_is_sound() {
    let all = Instruments::standard().all();
    for instrument in all {
        let name = instrument.name.as_ref();
        let found = Instruments::standard().find(name).exact();
        assert_eq!(found.map(|i| i.name.as_ref()), Some(name));
        let upright = instrument.full_range.is_none_or(|r| !r.is_upside_down());
        assert!(upright, "{name}");
        let drum = instrument.family.is_percussion() && instrument.clef == Clef::Percussion;
        assert!(
            instrument.is_pitched || drum || instrument.full_range.is_none(),
            "{name}"
        );
        let reached = |word: &Cow<'static, str>| match Instruments::standard().find(word) {
            Lookup::Exact(i) => i == instrument,
            Lookup::Ambiguous(many) => many.contains(&instrument),
            Lookup::None => false,
        };
        for word in instrument.aliases.iter().chain(&instrument.abbreviations) {
            assert!(reached(word), "{name} is not reached by {word}");
        }
    }
}

#[test]
fn nearest_names() {
    let nearest = |name| Instruments::standard().nearest(name);
    assert_eq!(nearest("clarinnet"), Some("clarinet"));
    assert_eq!(nearest("tamborine"), Some("tambourine"));
    assert_eq!(nearest("glockenspeil"), Some("bells"));
    assert_eq!(nearest("xylofone"), Some("xylophone"));
    assert_eq!(nearest("refrigerator"), None);
}

/// The break: Halftime Magazine, woodwind column (2011); clarinetlist.com, The guidelines.
#[test]
fn the_break() {
    let over = |p| Pitch::read(p).map(is_over_the_break);
    assert_eq!(over("Bb4"), Some(false));
    assert_eq!(over("A#4"), Some(false));
    assert_eq!(over("B4"), Some(true));
    assert_eq!(over("Cb5"), Some(true));
    assert!(crosses_the_break(BELOW_THE_BREAK, OVER_THE_BREAK));
}

#[test]
fn a_catalogue_has_its_own() {
    let own = Instrument {
        aliases: vec![Cow::Borrowed("Eb horn")],
        family: Family::Horns,
        transposition: Transposition::new(-5, -9, 0),
        full_range: PitchRange::read("A3-G5"),
        ..Instrument::own("alto horn")
    };
    let set = Instruments::standard().with_own(vec![own]);
    let found = |name| set.find(name).exact().map(|i| i.name.as_ref());
    assert_eq!(found("alto horns"), Some("alto horn"));
    assert_eq!(found("E-flat horn"), Some("alto horn"));
    assert_eq!(found("horn"), Some("horn"));
}

proptest! {
    #[test]
    fn any_name(text in "\\PC{0,50}") {
        let _ = Instruments::standard().find(&text);
        let _ = Instruments::standard().nearest(&text);
    }
}
