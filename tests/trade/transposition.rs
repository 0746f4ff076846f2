//! How instruments sound: the numbers of the MusicXML transpose element and the intervals in words.

use levare::music::{Clef, Transposition};

use super::{instrument, pitch};

/// The instrument, its clef in school parts, then `diatonic`, `chromatic` and `octave-change` as the element
/// has them (W3C MusicXML 4.0, transpose: what is added to the written pitch, octaves apart), then the same
/// whole: letters and semitones, and the interval in words.
type Row = (&'static str, Clef, (i8, i8, i8), (i32, i32), &'static str);

const T: Clef = Clef::Treble;
const B: Clef = Clef::Bass;

/// Woodwinds and brass: LaRue, conducting handout 6 (Georgetown College); C. Schmidt-Jones, "Transposing
/// Instruments" (OpenStax); B. Pimentel, woodwind transposition table. Mallets: TR Percussion, "Pitch ranges
/// of tuned percussion and their notation". From memory: the bass clarinet in bass clef, the D-flat piccolo.
///
/// Kept out: a primer (issuhub 6011) calls the tenor sax a minor ninth, against all the others; a teaching
/// note (scribd 795277939) has the bells one octave up, TR Percussion two.
#[rustfmt::skip]
const ROWS: [Row; 44] = [
    ("piccolo", T, (0, 0, 1), (7, 12), "an octave higher"),
    ("flute", T, (0, 0, 0), (0, 0), "as written"),
    ("oboe", T, (0, 0, 0), (0, 0), "as written"),
    ("English horn", T, (-4, -7, 0), (-4, -7), "a perfect fifth lower"),
    ("bassoon", B, (0, 0, 0), (0, 0), "as written"),
    ("contrabassoon", B, (0, 0, -1), (-7, -12), "an octave lower"),
    ("Eb clarinet", T, (2, 3, 0), (2, 3), "a minor third higher"),
    ("clarinet", T, (-1, -2, 0), (-1, -2), "a major second lower"),
    ("A clarinet", T, (-2, -3, 0), (-2, -3), "a minor third lower"),
    ("alto clarinet", T, (-5, -9, 0), (-5, -9), "a major sixth lower"),
    ("bass clarinet", T, (-1, -2, -1), (-8, -14), "a major ninth lower"),
    ("bass clarinet B.C.", B, (-1, -2, 0), (-1, -2), "a major second lower"),
    ("contra-alto clarinet", T, (-5, -9, -1), (-12, -21), "an octave and a major sixth lower"),
    ("contrabass clarinet", T, (-1, -2, -2), (-15, -26), "two octaves and a major second lower"),
    ("soprano sax", T, (-1, -2, 0), (-1, -2), "a major second lower"),
    ("alto sax", T, (-5, -9, 0), (-5, -9), "a major sixth lower"),
    ("tenor sax", T, (-1, -2, -1), (-8, -14), "a major ninth lower"),
    ("baritone sax", T, (-5, -9, -1), (-12, -21), "an octave and a major sixth lower"),
    ("trumpet", T, (-1, -2, 0), (-1, -2), "a major second lower"),
    ("cornet", T, (-1, -2, 0), (-1, -2), "a major second lower"),
    ("flugelhorn", T, (-1, -2, 0), (-1, -2), "a major second lower"),
    ("horn", T, (-4, -7, 0), (-4, -7), "a perfect fifth lower"),
    ("Eb horn", T, (-5, -9, 0), (-5, -9), "a major sixth lower"),
    ("trombone", B, (0, 0, 0), (0, 0), "as written"),
    ("bass trombone", B, (0, 0, 0), (0, 0), "as written"),
    ("baritone", B, (0, 0, 0), (0, 0), "as written"),
    ("euphonium", B, (0, 0, 0), (0, 0), "as written"),
    ("baritone T.C.", T, (-1, -2, -1), (-8, -14), "a major ninth lower"),
    ("euphonium T.C.", T, (-1, -2, -1), (-8, -14), "a major ninth lower"),
    ("tuba", B, (0, 0, 0), (0, 0), "as written"),
    ("Eb bass T.C.", T, (-5, -9, -1), (-12, -21), "an octave and a major sixth lower"),
    ("BBb bass T.C.", T, (-1, -2, -2), (-15, -26), "two octaves and a major second lower"),
    ("string bass", B, (0, 0, -1), (-7, -12), "an octave lower"),
    ("bass guitar", B, (0, 0, -1), (-7, -12), "an octave lower"),
    ("timpani", B, (0, 0, 0), (0, 0), "as written"),
    ("bells", T, (0, 0, 2), (14, 24), "two octaves higher"),
    ("xylophone", T, (0, 0, 1), (7, 12), "an octave higher"),
    ("crotales", T, (0, 0, 2), (14, 24), "two octaves higher"),
    ("celesta", Clef::Grand, (0, 0, 1), (7, 12), "an octave higher"),
    ("marimba", Clef::Grand, (0, 0, 0), (0, 0), "as written"),
    ("vibraphone", T, (0, 0, 0), (0, 0), "as written"),
    ("chimes", T, (0, 0, 0), (0, 0), "as written"),
    ("Db piccolo", T, (1, 1, 1), (8, 13), "a minor ninth higher"),
    ("C trumpet", T, (0, 0, 0), (0, 0), "as written"),
];

#[test]
fn the_numbers_of_the_element() {
    for (name, clef, (diatonic, chromatic, octaves), (steps, semitones), words) in ROWS {
        let here = instrument(name);
        assert_eq!(here.clef, clef, "{name}");
        let part = here.transposition;
        assert_eq!(part, Transposition::new(diatonic, chromatic, octaves), "{name}");
        let whole = part.interval();
        assert_eq!((whole.steps, whole.semitones), (steps, semitones), "{name}");
        assert_eq!(whole.sounds(), words, "{name}");
        assert_eq!(Transposition::from_interval(whole), Some(part), "{name}");
    }
}

/// The element's `octave-change` stands only where the interval is an octave or more, and the two other
/// numbers hold no octave (W3C MusicXML 4.0, transpose; its issue 333 of 2021).
#[test]
fn octaves_stand_apart() {
    for here in levare::music::Instruments::standard().all() {
        let part = here.transposition;
        assert!(
            part.diatonic.abs() < 7 && part.chromatic.abs() < 12,
            "{}",
            here.name
        );
        let far = part.interval().semitones.abs() >= 12;
        assert_eq!(part.octave_change != 0, far, "{}", here.name);
    }
}

/// Names that sources use for one of these: B. Pimentel calls the contra-alto "contrabass clarinet in Eb";
/// the sousaphone's part is the tuba's (LaRue, handout 6).
#[test]
fn other_names() {
    let standard = levare::music::Instruments::standard();
    for (said, name) in [
        ("contrabass clarinet in Eb", "contra-alto clarinet"),
        ("sousaphone", "tuba"),
        ("cor anglais", "English horn"),
        ("glockenspiel", "bells"),
        ("baritone treble clef", "baritone T.C."),
    ] {
        let found = standard.find(said).exact().map(|here| here.name.as_ref());
        assert_eq!(found, Some(name), "{said}");
    }
}

/// A treble-clef part in E-flat may be read as bass clef with three sharps fewer: written C5 on the baritone
/// sax sounds where bass clef has E-flat 3 (scribd 472626901, checked by the numbers).
#[test]
fn read_as_bass_clef() {
    let sounding = instrument("baritone sax").transposition.sounding(pitch("C5"));
    assert_eq!(sounding, Some(pitch("Eb3")));
    let height = |name: &str, clef| levare::music::staff::place(pitch(name), clef);
    assert_eq!(height("C5", Clef::Treble), "third-space C");
    assert_eq!(height("Eb3", Clef::Bass), "third-space E♭");
}
