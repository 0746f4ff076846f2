//! Tempo words: three published tables that disagree, kept apart.

use levare::music::Tempo;
use levare::music::terms::{Band, SOURCES, TERMS, find};

/// instrument.bible; Musique-Harmonie; Los Senderos Studio (an envelope of many sources). An open end is 0.
const TABLE: [(&str, [(u16, u16); 3]); 13] = [
    ("Grave", [(25, 40), (40, 45), (20, 40)]),
    ("Largo", [(40, 60), (45, 55), (35, 60)]),
    ("Lento", [(45, 60), (52, 65), (40, 68)]),
    ("Larghetto", [(60, 66), (50, 60), (50, 66)]),
    ("Adagio", [(66, 76), (55, 70), (55, 76)]),
    ("Andante", [(76, 108), (60, 90), (72, 108)]),
    ("Andantino", [(80, 108), (70, 100), (77, 106)]),
    ("Moderato", [(108, 120), (80, 105), (86, 120)]),
    ("Allegretto", [(112, 120), (100, 120), (98, 128)]),
    ("Allegro", [(120, 168), (116, 150), (109, 168)]),
    ("Vivace", [(168, 176), (126, 170), (132, 168)]),
    ("Presto", [(168, 200), (144, 200), (168, 200)]),
    ("Prestissimo", [(200, 0), (184, 0), (178, 208)]),
];

#[test]
fn every_band_by_its_source() {
    for (at, name) in ["instrument.bible", "Musique-Harmonie", "Los Senderos"]
        .iter()
        .enumerate()
    {
        assert!(SOURCES[at].starts_with(name), "{}", SOURCES[at]);
    }
    assert_eq!(TERMS.len(), TABLE.len());
    for (name, bands) in TABLE {
        let term = find(name).unwrap_or_else(|| panic!("{name} is not known"));
        let typed = bands.map(|(low, high)| Band {
            low: Some(low),
            high: (high > 0).then_some(high),
        });
        assert_eq!(term.bands, typed, "{name}");
    }
}

/// Andante at 70 and Moderato at 90 are inside the second table and outside the first; Vivace meets in all
/// three only at 168 to 168. None of them may be called wrong.
#[test]
fn the_disagreement_is_kept() {
    for (name, bpm, agreeing) in [
        ("Andante", 70, 1),
        ("Andante", 80, 3),
        ("Moderato", 90, 2),
        ("Moderato", 115, 2),
        ("Vivace", 168, 3),
        ("Vivace", 150, 2),
        ("Vivace", 174, 1),
        ("Larghetto", 60, 3),
        ("Allegro", 60, 0),
    ] {
        assert_eq!(
            find(name).map(|term| term.agreeing(bpm)),
            Some(agreeing),
            "{name} {bpm}"
        );
    }
}

/// A word alone is as wide as all three together; a printed mark is itself.
#[test]
fn words_are_wide_and_marks_are_exact() {
    for (said, figures) in [
        ("Andante", Some((60, Some(108)))),
        ("Moderato", Some((80, Some(120)))),
        ("Prestissimo", Some((178, None))),
        ("quarter = 96", Some((96, Some(96)))),
        ("Maestoso", None),
    ] {
        assert_eq!(
            Tempo::read(said).and_then(|tempo| tempo.figures()),
            figures,
            "{said}"
        );
    }
}
