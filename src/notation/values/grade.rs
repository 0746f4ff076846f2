//! Grades and who gives them.

use std::borrow::Cow;
use std::fmt;

use crate::notation::scan;

/// A grade without the words around it that change nothing: `a solid 2` is `2`, `between 1 and 2` is `1-2`.
pub fn plainly(text: &str) -> Cow<'_, str> {
    let bare = text.trim();
    if bare.contains(scan::is_quote) || bare.starts_with(|c: char| c.is_ascii_digit()) && !bare.contains(' ')
    {
        return Cow::Borrowed(bare);
    }
    let mut said = in_figures(bare);
    if let Some(told) = told_by(&said) {
        said = told;
    }
    if let Some((low, high)) = said
        .strip_prefix("between ")
        .and_then(|rest| rest.split_once(" and "))
    {
        let low = low.strip_prefix("a ").unwrap_or(low);
        let high = high.strip_prefix("a ").unwrap_or(high);
        return Cow::Owned(format!("{low}-{high}"));
    }
    // `3 but like an easy 3`: the second time it says only where in the grade.
    if let Some((first, again)) = said.split_once(" but ") {
        let again = ["really ", "more ", "like "]
            .iter()
            .fold(again, |again, lead| again.strip_prefix(lead).unwrap_or(again));
        if let Some(shaded) = shaded(again).filter(|shaded| shaded.trim_end_matches(['+', '-']) == first) {
            return Cow::Owned(shaded);
        }
    }
    if let Some(shaded) = shaded(&said) {
        return Cow::Owned(shaded);
    }
    let words = said.strip_prefix("a ").unwrap_or(&said);
    let leads = ["solid ", "true ", "real ", "straight "];
    let words = leads
        .iter()
        .find_map(|lead| words.strip_prefix(lead))
        .unwrap_or(words);
    Cow::Owned(words.strip_suffix(" players").unwrap_or(words).to_owned())
}

/// Small numbers in figures where they are written out: `between a one and a two`.
fn in_figures(text: &str) -> String {
    let words = text.split(' ').map(|word| {
        let number = ["one", "two", "three", "four", "five", "six"]
            .iter()
            .zip(["1", "2", "3", "4", "5", "6"])
            .find(|(said, _)| word.eq_ignore_ascii_case(said));
        number.map_or(word, |(_, figure)| figure)
    });
    words.collect::<Vec<_>>().join(" ")
}

/// `publisher says 1.5`, `although the cover calls it 2`: who gives the grade stands before it.
fn told_by(text: &str) -> Option<String> {
    let text = ["although ", "though ", "but "]
        .iter()
        .find_map(|lead| text.strip_prefix(lead))
        .unwrap_or(text);
    let (who, number) = [
        " says it's a ",
        " says it is a ",
        " says ",
        " calls it a ",
        " calls it ",
        " has it at ",
        " said it's a ",
        " said it was a ",
        " said ",
        " lists it at ",
        " lists it as ",
        " rates it a ",
        " rates it ",
        " gives it a ",
        " gave it a ",
    ]
    .iter()
    .find_map(|joint| text.split_once(joint))?;
    let plain = ["the ", "our "]
        .iter()
        .find_map(|lead| who.strip_prefix(lead))
        .unwrap_or(who);
    let who = match plain {
        "i" | "I" | "we" => "ours",
        "cover" | "box" | "front" | "score" => "publisher",
        _ => who,
    };
    (hundredths(number)?.1.is_empty() && giver(who)? != Who::Unsaid).then(|| format!("{number} {who}"))
}

/// `an easy 3` is `3-`, and `a hard 2` is `2+`.
fn shaded(text: &str) -> Option<String> {
    let text = ["an ", "a "]
        .iter()
        .find_map(|lead| text.strip_prefix(lead))
        .unwrap_or(text);
    let (sign, number) = [
        ("easy ", '-'),
        ("low ", '-'),
        ("light ", '-'),
        ("hard ", '+'),
        ("high ", '+'),
        ("heavy ", '+'),
    ]
    .iter()
    .find_map(|(word, sign)| Some((*sign, text.strip_prefix(word)?)))?;
    hundredths(number)?
        .1
        .is_empty()
        .then(|| format!("{number}{sign}"))
}

/// A grade in hundredths, so that 1.5 and 2.25 compare exactly.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Grade {
    /// The lower end in hundredths.
    pub low: u32,
    /// The upper end in hundredths; the same as the lower for a single grade.
    pub high: u32,
    /// Whether it is a little more or less than the number says, as in `2+`.
    pub shade: Shade,
    /// Who gives it.
    pub who: Who,
    /// The one part that it is a grade of, where it is none of the whole piece.
    pub part: Option<String>,
}

/// A publisher's shade of a grade.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, Default)]
pub enum Shade {
    /// Just the number.
    #[default]
    Even,
    /// `2+`.
    Plus,
    /// `2-`.
    Minus,
    /// `1 to 1+`: the number, or a little more.
    PerhapsPlus,
}

/// Who gives a grade.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub enum Who {
    /// Nobody is named.
    Unsaid,
    /// The publisher.
    Publisher,
    /// The directors who keep the catalogue.
    Ours,
    /// A list with a card, or a book, by its quoted name.
    List(String),
    /// Somebody of the trade, in one of the usual words: `the state`, `the judges`.
    Other(String),
}

/// Who else gives grades, in one word after `the`.
const GIVERS: [&str; 35] = [
    "state",
    "district",
    "county",
    "region",
    "association",
    "festival",
    "contest",
    "judges",
    "judge",
    "adjudicators",
    "method book",
    "book",
    "director",
    "directors",
    "conductor",
    "composer",
    "arranger",
    "teacher",
    "exam board",
    "exam",
    "board",
    "seller",
    "dealer",
    "shop",
    "catalog",
    "catalogue",
    "website",
    "clinician",
    "list",
    "province",
    "league",
    "union",
    "society",
    "score",
    "editor",
];

/// Words that grade without a number.
const WORDS: [&str; 22] = [
    "very easy",
    "easy",
    "medium easy",
    "medium-easy",
    "easy medium",
    "medium",
    "medium difficult",
    "medium-difficult",
    "medium hard",
    "difficult",
    "hard",
    "very difficult",
    "advanced",
    "beginner",
    "beginners",
    "beginning",
    "beginning band",
    "elementary",
    "intermediate",
    "young band",
    "first year",
    "second year",
];

impl Grade {
    /// Reads `1.5 publisher`, `2 ours`, `1.5 "Thrum Hollow list"`, `2-3`, `1 to 2`, `2+`, `grade 2½`.
    ///
    /// A list or book is told by its quotation marks; without them only the usual words are read. Behind `for` or
    /// `in` stands the one part that it is a grade of: `3 for the solo cornet`.
    pub fn read(text: &str) -> Option<Grade> {
        whole(text).or_else(|| leading_part(text)).or_else(|| {
            // The rest may be `publisher for the solo cornet`, so the last of them is the part's.
            ["for ", "in "].iter().find_map(|lead| {
                let at = text.rfind(&format!(" {lead}"))?;
                let name = text.get(at + 1 + lead.len()..)?.trim();
                let name = ["the ", "our ", "a "]
                    .iter()
                    .find_map(|article| name.strip_prefix(article))
                    .unwrap_or(name);
                let part = Some(part_named(name)?);
                Some(Grade {
                    part,
                    ..whole(text.get(..at)?)?
                })
            })
        })
    }
}

/// The parts of the texture that a grade may be of, beside the instruments.
const LAYERS: [&str; 6] = [
    "upper parts",
    "top parts",
    "lower parts",
    "bottom parts",
    "first parts",
    "second parts",
];

fn part_named(name: &str) -> Option<String> {
    if let Some(layer) = LAYERS.iter().find(|layer| name.eq_ignore_ascii_case(layer)) {
        return Some((*layer).to_owned());
    }
    (crate::notation::names::known_prefix(name) == Some(name.len()))
        .then(|| crate::notation::names::part_in_full(name))
}

/// `bottom parts Grade 2`, `percussion 3`: the part stands before its grade.
fn leading_part(text: &str) -> Option<Grade> {
    let blanks = text.match_indices(' ').map(|(at, _)| at);
    blanks.take(4).find_map(|at| {
        let part = part_named(text.get(..at)?.trim())?;
        let rest = text.get(at..)?.trim();
        let grade = whole(rest)?;
        // `clarinet 2` is a part, and no grade of one.
        let said = !rest.starts_with(|c: char| c.is_ascii_digit()) || part_named(text).is_none();
        (said && grade.part.is_none()).then_some(Grade {
            part: Some(part),
            ..grade
        })
    })
}

/// A grade without the part that it is for.
fn whole(text: &str) -> Option<Grade> {
    let text = text.trim();
    let whose = [
        ("calling it a ", true),
        ("calling it ", true),
        ("i call it a ", true),
        ("i call it ", true),
        ("we call it a ", true),
        ("we call it ", true),
        ("i'd call it a ", true),
        ("i'd call it ", true),
        ("i'd say ", true),
        ("our ", true),
        ("my ", true),
        ("the ", false),
        ("a ", false),
    ];
    let (text, ours) = whose
        .iter()
        .find_map(|(whose, ours)| Some((text.strip_prefix(whose)?, *ours)))
        .unwrap_or((text, false));
    let lead = ["grade ", "gr. ", "gr ", "level "].iter().find(|lead| {
        text.get(..lead.len())
            .is_some_and(|word| word.eq_ignore_ascii_case(lead))
    });
    let text = text.get(lead.map_or(0, |lead| lead.len())..)?.trim_start();
    let (low, rest) = hundredths(text)?;
    let (first, rest) = shade(rest);
    let span = [" to ", " or ", " maybe ", "-", "–", "—"]
        .iter()
        .find_map(|joint| {
            rest.strip_prefix(joint)
                .or_else(|| rest.trim_start().strip_prefix(joint))
        });
    let (high, shade, rest) = match span {
        Some(rest) if first == Shade::Even => {
            let (high, rest) = hundredths(rest.trim_start())?;
            match shade(rest) {
                (Shade::Plus, rest) if high == low => (high, Shade::PerhapsPlus, rest),
                (Shade::Even, rest) => (high, Shade::Even, rest),
                _ => return None,
            }
        }
        Some(_) => return None,
        None => (low, first, rest),
    };
    let apart = rest.is_empty() || rest.starts_with(|c: char| scan::is_blank(c) || scan::is_quote(c));
    (apart && low <= high).then_some(())?;
    let who = match giver(rest.trim_end().strip_suffix(" standard").unwrap_or(rest))? {
        Who::Unsaid if ours => Who::Ours,
        who => who,
    };
    Some(Grade {
        low,
        high,
        shade,
        who,
        part: None,
    })
}

/// A grade in words, perhaps with who gives it: `medium easy`, `easy publisher`.
pub(super) fn read_word(text: &str) -> Option<String> {
    let text = text.split_whitespace().collect::<Vec<_>>().join(" ");
    let lower = text.to_lowercase();
    let word = WORDS
        .iter()
        .filter(|word| {
            lower
                .strip_prefix(**word)
                .is_some_and(|rest| rest.is_empty() || rest.starts_with(' '))
        })
        .max_by_key(|word| word.len())?;
    let who = giver(text.get(word.len()..)?)?;
    Some(match who {
        Who::Unsaid => (*word).to_owned(),
        who => format!("{word} {who}"),
    })
}

/// `2+` and `2-`; a hyphen before another number is a span.
fn shade(rest: &str) -> (Shade, &str) {
    let ends = |tail: &str| tail.is_empty() || tail.starts_with(scan::is_blank);
    if let Some(tail) = rest.strip_prefix('+') {
        return (Shade::Plus, tail);
    }
    match rest.strip_prefix('-') {
        Some(tail) if ends(tail) && !tail.trim_start().starts_with(|c: char| c.is_ascii_digit()) => {
            (Shade::Minus, tail)
        }
        _ => (Shade::Even, rest),
    }
}

/// Who gives a grade; none where the words are not known.
fn giver(rest: &str) -> Option<Who> {
    let rest = rest.trim();
    let rest = ["by ", "in ", "on ", "from ", "per ", "according to ", "says "]
        .iter()
        .find_map(|lead| rest.strip_prefix(lead))
        .map_or(rest, str::trim_start);
    let lower = rest.to_lowercase();
    match lower.as_str() {
        "" => return Some(Who::Unsaid),
        "publisher" | "the publisher" | "pub" | "pub." | "publisher's" | "publishers" => {
            return Some(Who::Publisher);
        }
        "ours" | "our" | "mine" | "us" | "me" | "ourselves" => return Some(Who::Ours),
        _ => {}
    }
    if let Ok((after, name)) = scan::quoted(rest) {
        return (after.is_empty() && !name.is_empty()).then(|| Who::List(name.to_owned()));
    }
    let plain = ["the ", "our ", "my "]
        .iter()
        .find_map(|lead| lower.strip_prefix(lead))
        .unwrap_or(&lower);
    GIVERS
        .iter()
        .find(|known| **known == plain)
        .map(|known| Who::Other(format!("the {known}")))
}

/// A number with at most two decimals (or ½, ¼, ¾), in hundredths, and what follows it.
fn hundredths(text: &str) -> Option<(u32, &str)> {
    let end = text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len());
    let whole: u32 = text.get(..end)?.parse().ok()?;
    let rest = text.get(end..)?;
    let whole = whole.checked_mul(100)?;
    for (sign, part) in [('½', 50), ('¼', 25), ('¾', 75)] {
        if let Some(rest) = rest.trim_start().strip_prefix(sign) {
            return Some((whole.checked_add(part)?, rest));
        }
    }
    if let Some(rest) = rest.strip_prefix(" 1/2") {
        return Some((whole.checked_add(50)?, rest));
    }
    match rest.strip_prefix('.') {
        Some(decimals) => {
            let end = decimals
                .find(|c: char| !c.is_ascii_digit())
                .unwrap_or(decimals.len());
            let part: u32 = match end {
                1 => decimals.get(..1)?.parse::<u32>().ok()? * 10,
                2 => decimals.get(..2)?.parse().ok()?,
                _ => return None,
            };
            Some((whole.checked_add(part)?, decimals.get(end..)?))
        }
        None => Some((whole, rest)),
    }
}

/// Writes hundredths as a grade: 150 is `1.5`.
pub fn show_hundredths(hundredths: u32) -> String {
    let (whole, part) = (hundredths / 100, hundredths % 100);
    match part {
        0 => whole.to_string(),
        part if part % 10 == 0 => format!("{whole}.{}", part / 10),
        part => format!("{whole}.{part:02}"),
    }
}

impl fmt::Display for Who {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Who::Unsaid => Ok(()),
            Who::Publisher => f.write_str("publisher"),
            Who::Ours => f.write_str("ours"),
            Who::List(name) => write!(f, "\"{name}\""),
            Who::Other(words) => f.write_str(words),
        }
    }
}

impl fmt::Display for Grade {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&show_hundredths(self.low))?;
        if self.high != self.low {
            write!(f, "-{}", show_hundredths(self.high))?;
        }
        f.write_str(match self.shade {
            Shade::Even => "",
            Shade::Plus => "+",
            Shade::Minus => "-",
            Shade::PerhapsPlus => " to ",
        })?;
        if self.shade == Shade::PerhapsPlus {
            write!(f, "{}+", show_hundredths(self.low))?;
        }
        match self.who {
            Who::Unsaid => {}
            ref who => write!(f, " {who}")?,
        }
        match &self.part {
            Some(part) => write!(f, " for {part}"),
            None => Ok(()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn grades_are_read_as_directors_write_them() {
        for (written, one_form) in [
            ("1 publisher", Some("1 publisher")),
            ("1.5 \"Thrum Hollow list\"", Some("1.5 \"Thrum Hollow list\"")),
            ("2 ours", Some("2 ours")),
            ("2½", Some("2.5")),
            ("grade 2-3 mine", Some("2-3 ours")),
            ("1.25 by the state", Some("1.25 the state")),
            ("1 to 2", Some("1-2")),
            ("grade 1+", Some("1+")),
            ("2- publisher", Some("2- publisher")),
            ("1.5 judges", Some("1.5 the judges")),
            ("1 to 1+", Some("1 to 1+")),
            ("1 maybe 1+", Some("1 to 1+")),
            ("1 maybe 1.5", Some("1-1.5")),
            ("1+ to 2", None),
            ("1 maybe zqxv", None),
            ("3 for the solo cornet", Some("3 for solo cornet")),
            (
                "our Grade 3 exam standard for the solo cornet",
                Some("3 the exam for solo cornet"),
            ),
            ("our grade 3", Some("3 ours")),
            ("3 publisher for trumpets", Some("3 publisher for trumpets")),
            ("3 for zqxv", None),
            ("25", Some("25")),
            ("3-2", None),
            ("easy", None),
            ("1.5 Thrum Hollow list", None),
            ("1.5 zqxv", None),
            ("1.5zqxv", None),
            ("zqxv 1.5", None),
            ("1.5 \"Thrum Hollow list\" twice", None),
            ("99999999999", None),
        ] {
            assert_eq!(
                Grade::read(written).map(|grade| grade.to_string()).as_deref(),
                one_form,
                "{written}"
            );
            let read = Grade::read(written);
            let again = read.as_ref().and_then(|grade| Grade::read(&grade.to_string()));
            assert_eq!(again, read, "{written} again");
        }
        for (written, one_form) in [
            ("medium easy", Some("medium easy")),
            ("Easy publisher", Some("easy publisher")),
            ("beginner", Some("beginner")),
            ("easy zqxv", None),
            ("goofy", None),
        ] {
            assert_eq!(read_word(written).as_deref(), one_form, "{written}");
        }
    }
}
