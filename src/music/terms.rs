//! Tempo words and the bands that three published tables give them.
//!
//! The tables disagree, so they are kept apart: Andante at 70 is inside one and outside another.
//! A word is only ever a wide band; the printed metronome mark decides.

use std::sync::LazyLock;

use super::words;

/// A band in beats a minute, both ends included. An open end has no figure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Band {
    /// The slow end.
    pub low: Option<u16>,
    /// The fast end.
    pub high: Option<u16>,
}

/// A tempo word with what each table says of it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct TempoTerm {
    /// The word, with its capital.
    pub name: &'static str,
    /// One band for each of [`SOURCES`], in that order.
    pub bands: [Band; 3],
}

/// The three tables.
pub const SOURCES: [&str; 3] = [
    "instrument.bible, theory: tempo",
    "Musique-Harmonie, tempo terms",
    "Los Senderos Studio, tempo chart (itself an envelope of many tables)",
];

const fn band(low: u16, high: u16) -> Band {
    Band {
        low: Some(low),
        high: Some(high),
    }
}

const fn from(low: u16) -> Band {
    Band {
        low: Some(low),
        high: None,
    }
}

const fn term(name: &'static str, a: Band, b: Band, c: Band) -> TempoTerm {
    TempoTerm {
        name,
        bands: [a, b, c],
    }
}

/// The terms the three tables share, slow to fast.
pub static TERMS: [TempoTerm; 13] = [
    term("Grave", band(25, 40), band(40, 45), band(20, 40)),
    term("Largo", band(40, 60), band(45, 55), band(35, 60)),
    term("Lento", band(45, 60), band(52, 65), band(40, 68)),
    term("Larghetto", band(60, 66), band(50, 60), band(50, 66)),
    term("Adagio", band(66, 76), band(55, 70), band(55, 76)),
    term("Andante", band(76, 108), band(60, 90), band(72, 108)),
    term("Andantino", band(80, 108), band(70, 100), band(77, 106)),
    term("Moderato", band(108, 120), band(80, 105), band(86, 120)),
    term("Allegretto", band(112, 120), band(100, 120), band(98, 128)),
    term("Allegro", band(120, 168), band(116, 150), band(109, 168)),
    term("Vivace", band(168, 176), band(126, 170), band(132, 168)),
    term("Presto", band(168, 200), band(144, 200), band(168, 200)),
    term("Prestissimo", from(200), from(184), band(178, 208)),
];

/// Words that stand for a tempo or its character without a figure in any of the three tables.
/// Common practice, no source.
const WITHOUT_BAND: [&str; 14] = [
    "Maestoso",
    "Cantabile",
    "Con brio",
    "Con moto",
    "Con fuoco",
    "Animato",
    "Marziale",
    "Alla marcia",
    "March tempo",
    "Tempo di marcia",
    "Tempo di valse",
    "Tranquillo",
    "Sostenuto",
    "Vivo",
];

impl TempoTerm {
    /// The widest reading of all three tables.
    pub fn envelope(&self) -> Band {
        let low = self.bands.iter().filter_map(|b| b.low).min();
        let open = self.bands.iter().any(|b| b.high.is_none());
        let high = self.bands.iter().filter_map(|b| b.high).max();
        Band {
            low,
            high: if open { None } else { high },
        }
    }

    /// How many of the three tables hold this figure.
    pub fn agreeing(&self, bpm: u16) -> usize {
        let inside = |b: &&Band| b.low.is_none_or(|l| l <= bpm) && b.high.is_none_or(|h| bpm <= h);
        self.bands.iter().filter(inside).count()
    }
}

/// The term of this very name, in any case.
pub fn find(name: &str) -> Option<&'static TempoTerm> {
    let name = words::tidy(name);
    TERMS.iter().find(|t| t.name.eq_ignore_ascii_case(&name))
}

/// The term that a phrase begins with: `Allegro con brio` is an Allegro.
pub fn of_phrase(phrase: &str) -> Option<&'static TempoTerm> {
    let tidy = words::tidy(phrase).to_lowercase();
    TERMS.iter().find(|term| {
        tidy.strip_prefix(&term.name.to_lowercase())
            .is_some_and(|rest| rest.is_empty() || rest.starts_with(' '))
    })
}

/// Reads a phrase that begins with a tempo word and answers it with its capital: `allegro` is
/// `Allegro`, `allegro con brio` is `Allegro con brio`.
pub fn read(text: &str) -> Option<String> {
    let tidy = words::tidy(text);
    static NAMES: LazyLock<Vec<String>> = LazyLock::new(|| {
        let names = TERMS.iter().map(|t| t.name).chain(WITHOUT_BAND);
        names.map(str::to_lowercase).collect()
    });
    NAMES.iter().find(|name| {
        tidy.strip_prefix(name.as_str())
            .is_some_and(|rest| rest.is_empty() || rest.starts_with(' '))
    })?;
    super::tempo_vocabulary::read(&tidy)?;
    let mut chars = tidy.chars();
    let first: String = chars.next()?.to_uppercase().collect();
    Some(first + chars.as_str())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_tables_disagree() {
        let agreeing = |name, bpm| find(name).map(|t| t.agreeing(bpm));
        assert_eq!(agreeing("andante", 70), Some(1));
        assert_eq!(agreeing("Moderato", 90), Some(2));
        assert_eq!(agreeing("Vivace", 168), Some(3));
        assert_eq!(agreeing("Vivace", 172), Some(1));
        assert_eq!(agreeing("Prestissimo", 240), Some(2));
        assert_eq!(find("Allegro").map(|t| t.envelope()), Some(band(109, 168)));
    }

    #[test]
    fn phrases() {
        assert_eq!(read("allegro CON brio").as_deref(), Some("Allegro con brio"));
        assert_eq!(read("maestoso").as_deref(), Some("Maestoso"));
        assert_eq!(read("allegrone"), None);
        assert_eq!(read("quick"), None);
        assert_eq!(read("Allegro zqxv"), None);
        assert_eq!(read("Allegro = 132"), None);
    }
}
