//! Copies of a part: `8 flute 1`, `1 score`, `no tuba`.

use std::fmt;

use crate::notation::names;

use super::cursor::{Cursor, single};
use super::instrument_name::{Known, known};

/// Copies of a part.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Copies {
    /// How many, where that is said.
    pub count: Option<u32>,
    /// Whether they are beyond the set.
    pub extra: bool,
    /// The part as written.
    pub part: String,
    /// Which page of it, where only that is meant.
    pub page: Option<u32>,
}

/// What a set holds besides parts, in the one form.
const OF_THE_SET: [(&str, &str); 24] = [
    ("conductor's score", "score"),
    ("conductor score", "score"),
    ("conductors score", "score"),
    ("conductor", "score"),
    ("scores", "score"),
    ("score", "score"),
    ("full scores", "full score"),
    ("full score", "full score"),
    ("condensed scores", "condensed score"),
    ("condensed score", "condensed score"),
    ("short score", "condensed score"),
    ("original scores", "original scores"),
    ("original score", "original scores"),
    ("complete set", "complete set"),
    ("full set", "complete set"),
    ("whole set", "complete set"),
    ("sets", "complete set"),
    ("set", "complete set"),
    ("all parts", "all parts"),
    ("all", "all parts"),
    ("every part", "all parts"),
    ("everything", "all parts"),
    ("parts", "all parts"),
    ("each part", "all parts"),
];

impl Copies {
    /// Reads `8 flute 1`, `1 score`, `tuba`, `2 extra flute 1`, `no tuba`, `full score 1`, `all parts`,
    /// `snare page 2`.
    ///
    /// A number of 5 and more behind an instrument is how many there are, since pieces for school bands do not have
    /// five parts of one instrument (common practice, no source).
    pub fn read(text: &str) -> Option<Copies> {
        let mut words = Cursor::new(text);
        let mut count = match words.any(&["no", "none of"]) {
            true => Some(0),
            false => words.number(),
        };
        words.any(&["x", "×"]);
        words.any(&["copies of", "copy of", "copies", "of"]);
        let mut extra = words.any(&["extra", "spare", "additional", "more"]);
        words.any(&["the"]);
        let mut rest = words.rest();
        for end in [" extra", " spare"] {
            if let Some(head) = rest.strip_suffix(end) {
                extra = true;
                rest = head.to_owned();
            }
        }
        let mut page = None;
        if let Some((head, number)) = rest.rsplit_once(" page ") {
            page = Some(super::cursor::number(number)?);
            rest = head.to_owned();
        }
        if let Some((head, last)) = rest.rsplit_once(' ')
            && count.is_none()
            && let Some(number) = super::cursor::number(last)
            && (number > 4 || of_the_set(head).is_some())
            && (of_the_set(head).is_some() || known(head) == Some(Known::Wholly))
        {
            count = Some(number);
            rest = head.to_owned();
        }
        Some(Copies {
            count,
            extra,
            part: part(&rest)?,
            page,
        })
    }

    /// Whether the part is one of the trade: of the set, a numbered part, or a known instrument.
    pub fn is_known(&self) -> bool {
        let cut = names::cut_number(&self.part, true);
        of_the_set(&self.part).is_some() || cut.words == "part" || known(cut.words) == Some(Known::Wholly)
    }
}

fn of_the_set(text: &str) -> Option<&'static str> {
    OF_THE_SET
        .iter()
        .find(|(known, _)| text.eq_ignore_ascii_case(known))
        .map(|(_, one_form)| *one_form)
}

/// A part's name: of the set, a flexible part's number, or an instrument with its number.
fn part(text: &str) -> Option<String> {
    if let Some(known) = of_the_set(text) {
        return Some(known.to_owned());
    }
    let text = single(text);
    let text = text
        .strip_suffix(" parts")
        .or_else(|| text.strip_suffix(" part"))
        .unwrap_or(&text);
    let cut = names::cut_number(text, true);
    if cut.about {
        return None;
    }
    let flexible = cut.words.eq_ignore_ascii_case("part") && cut.numbers.is_some();
    // `score zqxv` is no name of somebody's own: a known word stands among others. A drum set is an instrument.
    let of_set = cut.words.split(' ').any(|word| of_the_set(word).is_some());
    let is_part = match known(cut.words) {
        Some(Known::Wholly) => true,
        Some(_) => !of_set,
        None => flexible,
    };
    is_part.then(|| names::part_in_full(text))
}

impl fmt::Display for Copies {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self.count {
            Some(0) => f.write_str("no ")?,
            Some(count) => write!(f, "{count} ")?,
            None => {}
        }
        if self.extra {
            f.write_str("extra ")?;
        }
        f.write_str(&self.part)?;
        match self.page {
            Some(page) => write!(f, " page {page}"),
            None => Ok(()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn copies_are_read_as_directors_write_them() {
        for (written, one_form) in [
            ("8 flute 1", Some("8 flute 1")),
            ("6 cl. 2", Some("6 clarinet 2")),
            ("1 score", Some("1 score")),
            ("full score 1", Some("1 full score")),
            ("clarinet 10", Some("10 clarinet")),
            ("clarinet 2", Some("clarinet 2")),
            ("2 extra flute 1", Some("2 extra flute 1")),
            ("no tuba", Some("no tuba")),
            ("tuba", Some("tuba")),
            ("3rd clarinet", Some("clarinet 3")),
            ("condensed score", Some("condensed score")),
            ("complete set", Some("complete set")),
            ("original scores 3", Some("3 original scores")),
            ("3 part 1", Some("3 part 1")),
            ("snare page 2", Some("snare page 2")),
            ("8 zqxv flute 1", None),
            ("8 flute 1 zqxv", None),
            ("zqxv 8 flute 1", None),
            ("1 score zqxv", None),
        ] {
            let read = Copies::read(written);
            let shown = read.as_ref().map(ToString::to_string);
            assert_eq!(shown.as_deref(), one_form, "{written}");
            assert_eq!(
                shown.and_then(|shown| Copies::read(&shown)),
                read,
                "{written} again"
            );
        }
    }
}
