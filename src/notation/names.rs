//! Names at the start of a row: where they end, and the part number behind them.

use std::borrow::Cow;
use std::sync::LazyLock;

use crate::music::groups::Group;
use crate::music::instruments::same;
use crate::music::{Instruments, Lookup};

use super::facts;
use super::scan;
use crate::text::Span;

/// Words that rows of a roster or a card use as names although the trade's table has no such instrument
/// or group (common practice, no source).
const OTHERS: [&str; 11] = [
    "mid voices",
    "middle voices",
    "high voices",
    "upper voices",
    "inner voices",
    "horns and saxes",
    "melody",
    "bass line",
    "band",
    "auxiliary percussion",
    "synthesizer or piano",
];

/// The parts that the handbook calls the usual ones, named as one.
pub const THE_USUAL: &str = "the usual";

/// What else a director calls them.
const USUAL: [&str; 10] = [
    "usual",
    "the usual parts",
    "usual parts",
    "all the usual",
    "all the usual parts",
    "the usual instruments",
    "the usual instrumentation",
    "usual instrumentation",
    "standard instrumentation",
    "the standard instrumentation",
];

/// Whether words stand for the parts that the handbook calls the usual ones.
pub fn is_the_usual(name: &str) -> bool {
    let name = name.trim();
    std::iter::once(&THE_USUAL)
        .chain(&USUAL)
        .any(|usual| usual.eq_ignore_ascii_case(name))
}

/// Words that may stand before an instrument and leave it that instrument (common practice, no source).
/// Words that make another instrument of it, such as `bass` or `Eb`, are none of these.
const BEFORE: [&str; 31] = [
    "advanced",
    "alternate",
    "alternative",
    "intermediate",
    "easy",
    "easier",
    "simple",
    "simplified",
    "beginning",
    "optional",
    "opt.",
    "extra",
    "small",
    "large",
    "medium",
    "big",
    "little",
    "high",
    "low",
    "solo",
    "lead",
    "field",
    "marching",
    "orchestral",
    "hand",
    "upper",
    "lower",
    "second",
    "additional",
    "muted",
    "concert",
];

/// Words that may stand behind an instrument and leave it that instrument (common practice, no source).
const BEHIND: [&str; 15] = [
    "in F",
    "in Bb",
    "in B flat",
    "in Eb",
    "in E flat",
    "in C",
    "section",
    "part",
    "player",
    "players",
    "(s)",
    // One part printed in both clefs.
    "and bc",
    "and tc",
    "& bc",
    "& tc",
];

/// A name without the words that leave an instrument what it is: `advanced snare` is `snare`, `horn in F` is `horn`.
pub fn bare(name: &str) -> &str {
    let mut name = name.trim();
    for _ in 0..3 {
        let behind = BEHIND.iter().find_map(|tail| {
            let head = without_tail(name, tail)?;
            head.ends_with(scan::is_blank).then(|| head.trim_end())
        });
        let before = || {
            BEFORE.iter().find_map(|lead| {
                if !scan::same_start(name, lead) {
                    return None;
                }
                let (head, rest) = name.split_at_checked(lead.len())?;
                let fits = head.eq_ignore_ascii_case(lead) && rest.starts_with(scan::is_blank);
                fits.then(|| rest.trim_start())
            })
        };
        match behind.or_else(before) {
            Some(shorter) => name = shorter,
            None => break,
        }
    }
    name
}

/// A text without some words at its end, whatever their capitals.
fn without_tail<'t>(text: &'t str, tail: &str) -> Option<&'t str> {
    let last = |text: &str| text.as_bytes().last().map(u8::to_ascii_lowercase);
    if last(text) != last(tail) {
        return None;
    }
    let (head, end) = text.split_at_checked(text.len().checked_sub(tail.len())?)?;
    end.eq_ignore_ascii_case(tail).then_some(head)
}

/// Whether a name is a grouping of instruments rather than one of them.
pub fn is_group(name: &str) -> bool {
    may_be_group(name) && is_one_of_the_groups(name)
}

/// Whether a grouping has the first letter and the length of a name; for odd texts always so.
fn may_be_group(name: &str) -> bool {
    /// By the first letter, one bit for each length.
    static LENGTHS: LazyLock<[u32; 32]> = LazyLock::new(|| {
        let mut lengths = [0; 32];
        let usual = std::iter::once(&THE_USUAL).chain(&USUAL);
        for name in Group::names().chain(OTHERS).chain(usual.copied()) {
            if let Some(of_letter) = letter(name).and_then(|letter| lengths.get_mut(letter)) {
                *of_letter |= 1 << name.len().min(31);
            }
        }
        lengths
    });
    fn letter(name: &str) -> Option<usize> {
        name.as_bytes().first().map(|first| usize::from(first & 31))
    }
    let mut blank = true;
    for byte in name.bytes() {
        let gap = byte == b' ';
        // Where blanks or letters are to be evened out first, the name is looked at in full.
        if gap && blank || !matches!(byte, b' '..=b'~') {
            return true;
        }
        blank = gap;
    }
    let lengths = letter(name).and_then(|letter| LENGTHS.get(letter));
    blank || lengths.is_some_and(|lengths| lengths >> name.len().min(31) & 1 == 1)
}

fn is_one_of_the_groups(name: &str) -> bool {
    Group::read(name).is_some()
        || OTHERS.iter().any(|other| other.eq_ignore_ascii_case(name))
        || is_the_usual(name)
}

/// The length in bytes of the longest instrument or grouping at the start of a text.
pub fn known_prefix(text: &str) -> Option<usize> {
    // No name starts with a figure or a quotation mark, and none goes on with one.
    let figure = |c: char| c.is_ascii_digit() || scan::is_quote(c);
    if text.starts_with(|c: char| figure(c) || scan::is_blank(c)) {
        return None;
    }
    let mut ends = Ends::default();
    let mut in_word = false;
    for (at, c) in text.char_indices() {
        if ends.len() >= 5 || !in_word && figure(c) {
            break;
        }
        let joins = c == '/' && in_word && !text.get(at + 1..).is_some_and(|rest| rest.starts_with(' '));
        if scan::is_blank(c) || joins || matches!(c, ',' | ':' | ';') {
            if in_word {
                ends.push(at);
            }
            in_word = joins;
            if matches!(c, ',' | ':' | ';') {
                break;
            }
        } else {
            in_word = true;
        }
    }
    if in_word && ends.len() < 5 {
        ends.push(text.trim_end_matches(['?', ' ', '\t']).len());
    }
    ends.all()
        .iter()
        .rev()
        .copied()
        .find(|end| text.get(..*end).is_some_and(is_known))
}

/// Where up to five words end.
#[derive(Default)]
struct Ends {
    at: [usize; 5],
    count: usize,
}

impl Ends {
    fn push(&mut self, end: usize) {
        if let Some(place) = self.at.get_mut(self.count) {
            *place = end;
            self.count += 1;
        }
    }

    fn len(&self) -> usize {
        self.count
    }

    fn all(&self) -> &[usize] {
        self.at.get(..self.count).unwrap_or(&[])
    }
}

fn is_known(words: &str) -> bool {
    names_something(words) || {
        let plain = single_blanks(words);
        let bare = bare(&plain);
        bare != plain && names_something(bare)
    }
}

/// Words with one blank between them.
fn single_blanks(words: &str) -> Cow<'_, str> {
    let gap = |c: char| scan::is_blank(c) && c != ' ';
    match words.contains("  ") || words.contains(gap) {
        true => Cow::Owned(words.split_whitespace().collect::<Vec<_>>().join(" ")),
        false => Cow::Borrowed(words.trim()),
    }
}

fn names_something(words: &str) -> bool {
    is_group(words) || !matches!(Instruments::standard().find(words), Lookup::None)
}

/// The known instrument or grouping nearest to words that are none.
pub fn nearest_known(words: &str) -> Option<&'static str> {
    Instruments::standard().nearest(words)
}

/// Where a row's names end: behind known ones and their numbers, else before the first fact.
///
/// `hyphens` says whether hyphenated numbers are part numbers.
pub fn name_end(text: &str, hyphens: bool) -> usize {
    if text.len() > scan::LONGEST as usize {
        return text.len();
    }
    if let Some(known) = known_end(text, hyphens) {
        let end = misspelled_end(text, joined_end(text, known, hyphens));
        let behind = text.get(end..).unwrap_or("");
        let question = scan::skip_blanks(behind);
        // `clarinet 12?`: the number is in question.
        return end
            + match question.starts_with('?') {
                true => behind.len() - question.len() + 1,
                false => 0,
            };
    }
    let mut previous_blank = false;
    for (at, c) in text.char_indices() {
        let blank = scan::is_blank(c);
        if matches!(c, ':' | ';') {
            return at;
        }
        if previous_blank && !blank {
            let rest = text.get(at..).unwrap_or("");
            if facts::starts_fact(rest) && !is_part_number(rest, hyphens) {
                return text.get(..at).map_or(at, |head| head.trim_end().len());
            }
        }
        previous_blank = blank;
    }
    text.len()
}

/// `bass durm` is no bass: where a known name with the word behind it is nearly another known name of two words, the
/// word belongs to it.
fn misspelled_end(text: &str, end: usize) -> usize {
    let (Some(head), Some(behind)) = (text.get(..end), text.get(end..)) else {
        return end;
    };
    let next = scan::skip_blanks(behind);
    let word = next
        .split(|c: char| scan::is_blank(c) || matches!(c, ',' | ':' | ';' | '?'))
        .next()
        .unwrap_or("");
    if head.contains(' ') || word.chars().count() < 3 || !word.chars().all(char::is_alphabetic) {
        return end;
    }
    if facts::starts_fact(next) {
        return end;
    }
    let longer = format!("{head} {word}");
    match nearest_known(&longer) {
        Some(near) if near.contains(' ') => end + behind.len() - next.len() + word.len(),
        _ => end,
    }
}

/// The end of a known name at the start of a text, its ordinal or number included.
fn known_end(text: &str, hyphens: bool) -> Option<usize> {
    if let Some((_, ordinal)) = ordinal_prefix(text) {
        let rest = text.get(ordinal..)?;
        let blank = rest.len() - rest.trim_start().len();
        return Some(ordinal + blank + known_prefix(rest.trim_start())?);
    }
    let known = known_prefix(text)?;
    Some(known + number_length(text.get(known..)?, hyphens))
}

/// The end of names joined to the first: `snare and bass drum`, `flutes & oboes`.
fn joined_end(text: &str, mut end: usize, hyphens: bool) -> usize {
    for _ in 0..8 {
        let rest = text.get(end..).unwrap_or("");
        let Some(joint) = [" and ", " & ", "&", "/", " + ", " plus "]
            .iter()
            .find(|joint| rest.starts_with(**joint))
        else {
            break;
        };
        let Some(next) = rest.get(joint.len()..).and_then(|next| known_end(next, hyphens)) else {
            break;
        };
        end += joint.len() + next;
    }
    end
}

/// Whether what follows the name is its part number and no measure.
fn is_part_number(rest: &str, hyphens: bool) -> bool {
    let length = number_length(rest, hyphens);
    length > 0 && !facts::starts_measure(rest)
}

/// The length of a part number, with the blanks before it: ` 1`, ` 1-2`, ` 1 and 2`.
pub(super) fn number_length(text: &str, hyphens: bool) -> usize {
    let trimmed = scan::skip_blanks(text);
    let lead = text.len() - trimmed.len();
    let digits = trimmed.chars().take_while(char::is_ascii_digit).count();
    if digits == 0 || digits > 3 {
        return 0;
    }
    let mut length = digits;
    let rest = trimmed.get(digits..).unwrap_or("");
    let joint = ["-", "–", "—", " and ", " & ", "&", "/"]
        .iter()
        .find_map(|joint| {
            let tail = rest.strip_prefix(joint)?;
            let more = tail.chars().take_while(char::is_ascii_digit).count();
            (more > 0).then_some((joint, joint.len() + more))
        });
    // `8 & 1` are no parts from one to another.
    let figure = |digits: &str| digits.parse::<u32>().unwrap_or(0);
    let joint = joint.filter(|(joint, more)| {
        let last = rest.get(joint.len()..*more).map_or(0, figure);
        last > trimmed.get(..digits).map_or(0, figure)
    });
    if let Some((joint, more)) = joint {
        let hyphenated = matches!(*joint, "-" | "–" | "—");
        if hyphenated && !hyphens {
            return 0;
        }
        length += more;
    }
    let ends = trimmed.get(length..).unwrap_or("");
    let apart = ends.is_empty()
        || ends.starts_with(|c: char| scan::is_blank(c) || matches!(c, ',' | '?' | ':' | ';'));
    // `low voices 4 lines` counts lines, and nobody is divided into more than nine parts.
    let counts = COUNTED
        .iter()
        .any(|counted| scan::phrase(counted)(scan::skip_blanks(ends)).is_ok());
    let measures = joint.is_some() && trimmed.get(..length).is_some_and(has_high_number);
    if apart && !counts && !measures {
        lead + length
    } else {
        0
    }
}

/// Words behind a number that make a count of it.
const COUNTED: [&str; 15] = [
    "lines", "line", "parts", "pts", "players", "player", "plyrs", "plyr", "kids", "kid", "people",
    "measures", "bars", "beats", "notes",
];

fn has_high_number(words: &str) -> bool {
    words
        .split(|c: char| !c.is_ascii_digit())
        .any(|digits| digits.parse::<u32>().is_ok_and(|number| number > 9))
}

/// `snare and bass drum` is two names where both are known; anything else is one.
pub(super) fn split_joined(text: &str) -> Vec<Span> {
    let whole = Span::whole(text);
    let joined = text.contains(['&', '/', '+']) || text.contains(" and ") || text.contains(" plus ");
    if !joined || whole.len() > scan::LONGEST {
        return vec![whole];
    }
    for (at, joint) in [" and ", " & ", "&", "/", " + ", " plus "]
        .iter()
        .flat_map(|joint| text.match_indices(joint))
    {
        let (Some(head), Some(tail)) = (text.get(..at), text.get(at + joint.len()..)) else {
            continue;
        };
        let known = |words: &str| known_end(words, true).is_some_and(|end| end >= words.trim_end().len());
        if known(head) && known_end(tail, true).is_some() {
            let mut spans = vec![Span::long(0, at as u32)];
            let start = (at + joint.len()) as u32;
            spans.extend(
                split_joined(tail)
                    .into_iter()
                    .map(|span| span.shift(i64::from(start))),
            );
            return spans;
        }
    }
    vec![whole]
}

/// A name with single blanks, a standard abbreviation of an instrument written out: `Fl.` is `flute`.
///
/// An abbreviation that stands for several instruments stays as it is; a rule asks which is meant.
pub(super) fn in_full(words: &str) -> String {
    let plain = scan::single(words);
    if is_the_usual(&plain) {
        return THE_USUAL.to_owned();
    }
    let Lookup::Exact(instrument) = Instruments::standard().find(&plain) else {
        return plain;
    };
    let is_full = std::iter::once(&instrument.name)
        .chain(&instrument.aliases)
        .any(|name| same(name, &plain));
    match !is_full && instrument.abbreviations.iter().any(|short| same(short, &plain)) {
        true => instrument.name.to_string(),
        false => plain,
    }
}

/// The same for a name that may have a part number behind it: `Cl. 2` is `clarinet 2`.
pub(super) fn part_in_full(words: &str) -> String {
    let cut = cut_number(words, true);
    let full = in_full(cut.words);
    match cut.numbers {
        None => full,
        Some((first, last)) if first == last => format!("{full} {first}"),
        Some((first, last)) => format!("{full} {first}-{last}"),
    }
}

/// A name cut into its words and its number.
pub struct Cut<'t> {
    /// The words.
    pub words: &'t str,
    /// Where they start in the text.
    pub words_at: usize,
    /// The first and last number.
    pub numbers: Option<(u32, u32)>,
    /// Whether the number was an ordinal before the name (`2nd trumpet`).
    pub ordinal: bool,
    /// Whether `about` stands before the number.
    pub about: bool,
}

/// Cuts `trumpet 1-2`, `2nd trumpet`, `trumpet I` into words and numbers.
pub fn cut_number(text: &str, hyphens: bool) -> Cut<'_> {
    if text.len() > scan::LONGEST as usize {
        return Cut {
            words: text,
            words_at: 0,
            numbers: None,
            ordinal: false,
            about: false,
        };
    }
    if let Some((number, length)) = ordinal_prefix(text) {
        let rest = text.get(length..).unwrap_or("");
        let first = text.find(scan::is_blank).unwrap_or(0);
        let last = next_ordinal(text.get(first..).unwrap_or(""), number).map_or(number, |(next, _)| next);
        return Cut {
            words: rest.trim(),
            words_at: length + (rest.len() - rest.trim_start().len()),
            numbers: Some((number, last)),
            ordinal: true,
            about: false,
        };
    }
    let whole = Cut {
        words: text.trim_end_matches([':', ' ']),
        words_at: 0,
        numbers: None,
        ordinal: false,
        about: false,
    };
    for (at, _) in text.char_indices().filter(|(_, c)| scan::is_blank(*c)) {
        let rest = text.get(at..).unwrap_or("");
        let length = number_length(rest, hyphens);
        if length == 0 || length != rest.len() {
            continue;
        }
        let mut numbers = rest
            .split(|c: char| !c.is_ascii_digit())
            .filter_map(|digits| digits.parse::<u32>().ok());
        let Some(first) = numbers.next() else { continue };
        let head = text.get(..at).unwrap_or("").trim_end_matches([':', ' ', '\t']);
        let (words, about) = match head.strip_suffix(" about") {
            Some(words) => (words.trim_end(), true),
            None => (head, false),
        };
        return Cut {
            words,
            words_at: 0,
            numbers: Some((first, numbers.next_back().unwrap_or(first))),
            ordinal: false,
            about,
        };
    }
    if let Some((head, tail)) = text.rsplit_once(scan::is_blank) {
        let number = match tail {
            "I" => Some(1),
            "II" => Some(2),
            "III" => Some(3),
            "IV" => Some(4),
            _ => None,
        };
        if number.is_some() {
            return Cut {
                words: head.trim_end(),
                numbers: number.map(|number| (number, number)),
                ..whole
            };
        }
    }
    whole
}

/// An ordinal before a name: `2nd trumpet`, `first clarinet`. Gives the number and the bytes it takes.
pub fn ordinal_prefix(text: &str) -> Option<(u32, usize)> {
    // `1st` to `4th`, `first` to `fourth`.
    if !text.starts_with(['1', '2', '3', '4', 'f', 'F', 's', 'S', 't', 'T']) {
        return None;
    }
    let word = text.split(scan::is_blank).next()?;
    let is = |ordinals: &[&str]| ordinals.iter().any(|ordinal| ordinal.eq_ignore_ascii_case(word));
    let number = match word.len() {
        3 | 5 | 6 if is(&["1st", "first"]) => 1,
        3 | 5 | 6 if is(&["2nd", "second"]) => 2,
        3 | 5 | 6 if is(&["3rd", "third"]) => 3,
        3 | 5 | 6 if is(&["4th", "fourth"]) => 4,
        _ => return None,
    };
    let rest = text.get(word.len()..)?;
    // `2nd & 3rd clarinets`: parts next to each other.
    if let Some((_, length)) = next_ordinal(rest, number) {
        return Some((number, word.len() + length));
    }
    known_prefix(rest.trim_start()).map(|_| (number, word.len()))
}

/// ` & 3rd ` behind `2nd` and before a name: the number next to it, and the bytes it takes.
fn next_ordinal(rest: &str, number: u32) -> Option<(u32, usize)> {
    let after = rest.trim_start_matches(scan::is_blank);
    let after = ["and ", "& ", "&", "/", "+ "]
        .iter()
        .find_map(|joint| after.strip_prefix(joint))?;
    let (next, length) = ordinal_prefix(after)?;
    (next == number + 1).then(|| (next, rest.len() - after.len() + length))
}

/// A Roman numeral at the start of a movement's row, and what follows it.
pub fn roman(text: &str) -> Option<(u32, &str)> {
    let word = text
        .split(|c: char| scan::is_blank(c) || c == '.' || c == ')' || c == ':')
        .next()?;
    let number = ["I", "II", "III", "IV", "V", "VI", "VII", "VIII", "IX", "X"]
        .iter()
        .position(|numeral| *numeral == word)?;
    Some((
        number as u32 + 1,
        text.get(word.len()..)?.trim_start_matches(['.', ')', ':']),
    ))
}

/// Where the seats or initials at the start of a percussionist's row end, when no wide gap says so.
///
/// Seats and initials are short and hold a capital or a digit; the first word that does not is a fact.
pub fn seats_end(text: &str) -> usize {
    let mut end = 0;
    let mut at = 0;
    for word in text.split_inclusive(scan::is_blank) {
        let trimmed = word.trim_end_matches([' ', '\t', ',', ':']);
        let seat = trimmed.chars().count() <= 4
            && trimmed.starts_with(|c: char| c.is_alphanumeric())
            && (trimmed.starts_with(char::is_uppercase) || trimmed.chars().any(|c| c.is_ascii_digit()));
        if !trimmed.is_empty() && !seat && trimmed != "and" {
            break;
        }
        if seat {
            end = at + trimmed.len();
            if word.contains([',', ':']) && !text.get(at + word.len()..).is_some_and(seats_end_starts) {
                return end;
            }
        }
        at += word.len();
    }
    // A row without seats names nobody; its first word is then taken as the name, and a rule says so.
    if end == 0 {
        text.find(scan::is_blank).unwrap_or(text.len())
    } else {
        end
    }
}

fn seats_end_starts(rest: &str) -> bool {
    rest.trim_start()
        .chars()
        .next()
        .is_some_and(|c| c.is_uppercase() || c.is_ascii_digit())
}
