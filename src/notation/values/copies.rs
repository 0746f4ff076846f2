//! Copies of a part: `8 flute 1`, `1 score`, `no tuba`.

use std::fmt;

use crate::notation::names;

use super::cursor::{Cursor, single};
use super::day::Day;
use super::instrument_name::{Known, known};

/// Copies of a part.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Copies {
    /// How many, where that is said.
    pub count: Option<u32>,
    /// Whether they are beyond the set.
    pub extra: bool,
    /// Whether they are not there, and wanted.
    pub short: bool,
    /// Whether there are enough of them, without a number.
    pub enough: bool,
    /// The part as written.
    pub part: String,
    /// Which page of it, where only that is meant.
    pub page: Option<Page>,
    /// The day of the count, where it is said.
    pub as_of: Option<Day>,
}

/// A page of a part.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Page {
    /// By its number.
    Number(u32),
    /// The last.
    Last,
    /// The first, or the cover.
    First,
}

/// Pages by name.
const PAGES: [(&str, Page); 12] = [
    ("second page", Page::Number(2)),
    ("third page", Page::Number(3)),
    ("fourth page", Page::Number(4)),
    ("2nd page", Page::Number(2)),
    ("3rd page", Page::Number(3)),
    ("1st page", Page::First),
    ("last page", Page::Last),
    ("back page", Page::Last),
    ("back cover", Page::Last),
    ("first page", Page::First),
    ("front page", Page::First),
    ("cover", Page::First),
];

/// The words for all parts that are not counted by themselves.
const OTHERS: &str = "other parts";

/// The words that say that nothing is meant, as in `missing nothing`.
const NOTHING: &str = "nothing";

/// What a set holds besides parts, in the one form.
const OF_THE_SET: [(&str, &str); 51] = [
    ("sc.", "score"),
    ("sc", "score"),
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
    ("remaining parts", OTHERS),
    ("the remaining parts", OTHERS),
    ("remaining", OTHERS),
    ("all other parts", OTHERS),
    ("other parts", OTHERS),
    ("other part", OTHERS),
    ("the other parts", OTHERS),
    ("the others", OTHERS),
    ("others", OTHERS),
    ("all others", OTHERS),
    ("the rest", OTHERS),
    ("rest", OTHERS),
    ("everything else", OTHERS),
    ("all else", OTHERS),
    ("other", OTHERS),
    ("nothing", NOTHING),
    ("none", NOTHING),
    ("nil", NOTHING),
    ("enough", "enough"),
    ("plenty", "enough"),
    ("enough parts", "enough"),
    ("enough copies", "enough"),
    ("half the set", "half the set"),
    ("half of the set", "half the set"),
    ("half set", "half the set"),
];

impl Copies {
    /// Reads `8 flute 1`, `1 score`, `tuba`, `2 extra flute 1`, `no tuba`, `full score 1`, `all parts`,
    /// `snare page 2`, `remaining parts 2 each`, `need 3 more clarinet`, `nothing as of June 3`.
    ///
    /// A number of 5 and more behind an instrument is how many there are, since pieces for school bands do not have
    /// five parts of one instrument (common practice, no source).
    pub fn read(text: &str) -> Option<Copies> {
        let (text, as_of) =
            take_count_day(&single(text).replace(" pg. ", " page ").replace(" pg ", " page "));
        if let Some((number, part)) = short(&text) {
            let read = Copies::read(&part).filter(|read| read.count.is_none() && read.is_bare())?;
            return Some(Copies {
                count: Some(number),
                short: true,
                as_of,
                ..read
            });
        }
        if let Some(part) = only_photocopies(&text) {
            let read = Copies::read(part)
                .filter(|read| read.count.is_none() && read.is_bare() && read.is_known())?;
            return Some(Copies {
                short: true,
                as_of,
                ..read
            });
        }
        if let Some(part) = [
            "plenty of ",
            "tons of ",
            "lots of ",
            "loads of ",
            "enough ",
            "more than enough ",
        ]
        .iter()
        .find_map(|lead| text.strip_prefix(lead))
            && part != "parts"
            && part != "copies"
        {
            let read = Copies::read(part)
                .filter(|read| read.count.is_none() && read.is_bare() && read.is_known())?;
            return Some(Copies {
                enough: true,
                as_of,
                ..read
            });
        }
        let text = ["all of the ", "all the ", "all "]
            .iter()
            .find_map(|lead| text.strip_prefix(lead))
            .and_then(|rest| rest.strip_suffix(" parts"))
            .filter(|part| known(part) == Some(Known::Wholly))
            .map_or(text.clone(), str::to_owned);
        let text = [" total", " in all", " altogether"]
            .iter()
            .find_map(|tail| text.strip_suffix(tail))
            .filter(|head| head.starts_with(|c: char| c.is_ascii_digit()))
            .map_or(text.clone(), str::to_owned);
        let mut words = Cursor::new(&text);
        let mut count = match words.any(&["no", "none of"]) {
            true => Some(0),
            false => words.number(),
        };
        words.any(&["x", "×"]);
        words.any(&["copies of", "copy of", "copies", "of"]);
        words.any(&["each"]);
        words.any(&["of"]);
        let mut extra = words.any(&["extra", "spare", "additional", "more"]);
        words.any(&["the"]);
        let mut rest = words.rest();
        for end in [" extra", " spare"] {
            if let Some(head) = rest.strip_suffix(end) {
                extra = true;
                rest = head.to_owned();
            }
        }
        let page = take_page(&mut rest)?;
        // `remaining parts 2 each`: so many of each.
        let each = [" each", " of each", " apiece"]
            .iter()
            .find_map(|end| rest.strip_suffix(end));
        if let Some((head, last)) = each.and_then(|rest| rest.rsplit_once(' '))
            && count.is_none()
        {
            count = Some(super::cursor::number(last)?);
            rest = head.to_owned();
        } else if let Some((head, last)) = rest.rsplit_once(' ')
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
            short: false,
            enough: false,
            part: part(&rest)?,
            page,
            as_of,
        })
    }

    /// Whether nothing but the part and how many of it there are is said.
    fn is_bare(&self) -> bool {
        !self.extra && !self.short && !self.enough && self.page.is_none() && self.as_of.is_none()
    }

    /// Whether it says that there is nothing.
    pub fn is_nothing(&self) -> bool {
        self.part == NOTHING
    }

    /// Whether it is a score, and no part: the conductor's, a full or a condensed one.
    pub fn is_score(&self) -> bool {
        let part = self.part.to_lowercase();
        self.page.is_none() && (part.contains("score") || part.contains("conductor"))
    }

    /// Whether all of the set is meant, its score with it.
    pub fn is_whole(&self) -> bool {
        self.part == "complete set"
    }

    /// Whether all parts are meant that are not counted by themselves.
    pub fn is_of_the_others(&self) -> bool {
        self.part == OTHERS
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

/// `nothing as of June 3 inventory`: the day of the count at the end.
fn take_count_day(text: &str) -> (String, Option<Day>) {
    let found = [" as of ", " at the ", " when counted "].iter().find_map(|lead| {
        let (head, tail) = text.split_once(lead)?;
        let mut words = Cursor::new(tail);
        words.any(&["the", "our"]);
        if *lead == " as of " && words.any(&["inventory", "last inventory", "count", "last count"]) {
            words.any(&["on", "of", "in"]);
        }
        let day = words.longest(Day::read)?;
        let counted = words.any(&["inventory", "count", "stock-taking", "stocktaking", "stock take"]);
        (words.done() && (counted || *lead != " at the ")).then(|| (head.to_owned(), Some(day)))
    });
    found.unwrap_or_else(|| (text.to_owned(), None))
}

/// `only photocopies of clarinet 3`, `1st horn is photocopy only`: a part that is still to be bought.
fn only_photocopies(text: &str) -> Option<&str> {
    const LEADS: [&str; 4] = [
        "only photocopies of ",
        "just photocopies of ",
        "photocopies of ",
        "photocopy of ",
    ];
    const TO_BUY: [&str; 6] = [
        " gotta buy",
        " need to buy",
        " have to buy",
        " must buy",
        " must be bought",
        " to buy",
    ];
    const TAILS: [&str; 8] = [
        " is photocopy only",
        " photocopy only",
        " photocopies only",
        " are photocopies",
        " is a photocopy",
        " is only a photocopy",
        " is photocopied",
        " only photocopied",
    ];
    let head = TO_BUY.iter().find_map(|tail| text.strip_suffix(tail));
    let led = LEADS
        .iter()
        .find_map(|lead| head.unwrap_or(text).strip_prefix(lead));
    led.or_else(|| TAILS.iter().find_map(|tail| text.strip_suffix(tail)))
}

/// `need 3 more clarinet`, `clarinet need 3 more`, `2 short on horn`, `short 1 tuba`, `tuba 1 short`: how many
/// are wanted, and of which part.
fn short(text: &str) -> Option<(u32, String)> {
    let mut words = Cursor::new(text);
    if words.any(&["need", "needs", "short", "still need", "short of", "buy", "order"]) {
        let number = words.number()?;
        words.any(&["more", "extra"]);
        words.any(&["of"]);
        return Some((number, words.rest()));
    }
    if let Some(number) = words.number()
        && words.any(&["short", "too few"])
    {
        words.any(&["on", "of", "for", "in"]);
        return (!words.done()).then(|| (number, words.rest()));
    }
    let mut words = Cursor::new(text);
    let part = words.until(&["need", "needs", "short", "still need", "is short", "are short"])?;
    let number = words
        .any(&["still need", "is short", "are short", "needs", "need", "short"])
        .then(|| {
            let number = words.number();
            words.any(&["more", "extra"]);
            number
        })??;
    words.done().then_some((number, part))
}

/// `snare page 2`, `score last page`, `back page of the score`, `the score has lost its back page`: takes the page
/// off. None where a page is meant that is not understood.
fn take_page(rest: &mut String) -> Option<Option<Page>> {
    if let Some((head, number)) = rest.rsplit_once(" page ")
        && let Some(number) = super::cursor::number(number)
    {
        *rest = head.to_owned();
        return Some(Some(Page::Number(number)));
    }
    if let Some(tail) = rest.strip_prefix("page ") {
        let mut words = Cursor::new(tail);
        let number = words.number()?;
        words.take("of").then_some(())?;
        words.any(&["the"]);
        let part = words.rest();
        *rest = part;
        return Some(Some(Page::Number(number)));
    }
    for (name, page) in PAGES {
        let front = [format!("{name} of the "), format!("{name} of ")];
        if let Some(tail) = front.iter().find_map(|front| rest.strip_prefix(front.as_str())) {
            let part = tail.to_owned();
            *rest = part;
            return Some(Some(page));
        }
        let Some(head) = rest.strip_suffix(name).and_then(|head| head.strip_suffix(' ')) else {
            continue;
        };
        let joints = [
            " has lost its",
            " has lost the",
            " lost its",
            " is missing its",
            ",",
        ];
        let head = joints
            .iter()
            .find_map(|joint| head.strip_suffix(joint))
            .unwrap_or(head);
        let part = head.trim_end().to_owned();
        *rest = part;
        return Some(Some(page));
    }
    Some(None)
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
            Some(count) if self.short => write!(f, "short {count} ")?,
            None if self.short => f.write_str("only photocopies of ")?,
            Some(0) => f.write_str("no ")?,
            Some(count) => write!(f, "{count} ")?,
            None => {}
        }
        if self.enough {
            f.write_str("enough ")?;
        }
        if self.extra {
            f.write_str("extra ")?;
        }
        f.write_str(&self.part)?;
        match self.page {
            Some(Page::Number(page)) => write!(f, " page {page}")?,
            Some(Page::Last) => f.write_str(" last page")?,
            Some(Page::First) => f.write_str(" first page")?,
            None => {}
        }
        match self.as_of {
            Some(day) => write!(f, " as of {day}"),
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
            (
                "photocopies of 3rd clar gotta buy",
                Some("only photocopies of clarinet 3"),
            ),
            ("1st horn is photocopy only", Some("only photocopies of horn 1")),
            ("photocopies of zqxv clarinet", None),
            ("zqxv is photocopy only", None),
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
            ("page 2 of the score", Some("score page 2")),
            (
                "the conductor's score has lost its back page",
                Some("score last page"),
            ),
            ("cover of the score", Some("score first page")),
            ("nothing as of June 3 inventory", Some("nothing as of Jun 3")),
            ("nothing as of 2026-06-03", Some("nothing as of 2026-06-03")),
            ("tuba as of the June 2026 count", Some("tuba as of 2026-06")),
            ("remaining parts 2 each", Some("2 other parts")),
            ("2 of each other part", Some("2 other parts")),
            ("everything else 3", Some("3 other parts")),
            ("need 3 more clarinet", Some("short 3 clarinet")),
            ("cl need 3 more", Some("short 3 clarinet")),
            ("2 short on horn", Some("short 2 horn")),
            ("enough", Some("enough")),
            ("half the set", Some("half the set")),
            ("need zqxv more clarinet", None),
            ("need 3 more zqxv clarinet", None),
            ("nothing as of zqxv", None),
            ("nothing as of June 3 zqxv", None),
            ("zqxv remaining parts 2 each", None),
            ("score zqxv last page", None),
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
