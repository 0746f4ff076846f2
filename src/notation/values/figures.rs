//! The shortest values: a year, a size, part numbers, yes and no, instruments.

use crate::notation::names;

use super::cursor::{ARTICLES, Cursor};
use super::instrument_name::{Known, is_name, known};

/// `88`, `88 measures`, `88 bars`, `eighty-eight measures`.
pub(super) fn number(text: &str) -> Option<u32> {
    let (rest, number) = match crate::notation::scan::number(text.trim()) {
        Ok(read) => read,
        Err(_) => leading_words(text.trim())?,
    };
    let rest = rest.trim().trim_end_matches('.');
    let lower = rest.trim_start_matches(',').trim_start().to_lowercase();
    // How many are printed is what is asked, so that these words say nothing else.
    let printed = [
        "numbered from the downbeat after the pickup",
        "numbered from the downbeat",
        "numbered from the first full measure",
        "counted from the first full measure",
        "not counting the pickup",
        "without the pickup",
        "plus the pickup",
        "plus a pickup",
        "and a pickup",
        "not counting the repeats",
        "not counting the repeat",
        "not counting repeats",
        "without the repeats",
        "without the repeat",
        "without repeats",
        "in print",
        "on paper",
        "in the score",
        "i counted",
        "i counted them",
        "we counted",
        "by my count",
        "as printed",
        "printed",
    ];
    let lower = printed
        .iter()
        .find_map(|words| lower.strip_suffix(words))
        .unwrap_or(&lower)
        .trim()
        .trim_end_matches(',');
    ["", "measures", "measure", "bars", "bar", "m", "mm"]
        .contains(&lower)
        .then_some(number)
}

/// `72 on paper, 96 with repeats`: how many measures are played, and how many are printed where that is said.
pub(super) fn counted(text: &str) -> Option<(u32, Option<u32>)> {
    if let Some(played) = with_repeats(text) {
        return (played > 0).then_some((played, None));
    }
    let (one, other) = text.split_once([',', ';'])?;
    let (printed, played) = match with_repeats(one) {
        Some(played) => (number(other)?, played),
        None => (number(one)?, with_repeats(other)?),
    };
    (printed > 0 && printed <= played).then_some((played, Some(printed)))
}

/// `96 with repeats`, `118 counting the repeat`: how many measures are played, and not how many are printed.
fn with_repeats(text: &str) -> Option<u32> {
    let tails = [
        "counting the repeats",
        "counting the repeat",
        "counting repeats",
        "with the repeats",
        "with the repeat",
        "with repeats",
        "with repeat",
        "w/ repeats",
        "w repeats",
        "w repeat",
        "repeats included",
        "including repeats",
        "including the repeats",
        "including the repeat",
        "as played",
    ];
    let text = text.trim();
    let head = tails.iter().find_map(|tail| {
        let at = text.len().checked_sub(tail.len())?;
        text.get(at..)?
            .eq_ignore_ascii_case(tail)
            .then(|| text.get(..at))?
    })?;
    head.ends_with(' ')
        .then(|| number(head.trim_end_matches([' ', ','])))?
}

/// A number in words at the start of a text, the longest that reads, and what follows it.
fn leading_words(text: &str) -> Option<(&str, u32)> {
    let blanks = text
        .char_indices()
        .filter(|(_, c)| crate::notation::scan::is_blank(*c) || *c == ',');
    let mut ends: Vec<usize> = blanks.map(|(at, _)| at).take(6).collect();
    ends.push(text.len());
    ends.into_iter().rev().find_map(|end| {
        let number = super::number_words::read(text.get(..end)?)?;
        Some((text.get(end..)?, number))
    })
}

/// The year of a list: `2026`.
pub(super) fn year(text: &str) -> Option<u32> {
    let text = text.trim();
    let digits = text.len() == 4 && text.chars().all(|c| c.is_ascii_digit());
    digits
        .then(|| text.parse().ok())
        .flatten()
        .filter(|year| (1900..=2079).contains(year))
}

/// `2 MB`, `500 KB`, in bytes; a bare number is in MB.
pub(super) fn file_size(text: &str) -> Option<u64> {
    let text = text.trim();
    let digits = text.find(|c: char| !c.is_ascii_digit()).unwrap_or(text.len());
    let number: u64 = text.get(..digits)?.parse().ok()?;
    let shift = match text.get(digits..)?.trim().to_ascii_uppercase().as_str() {
        "" | "MB" => 20,
        "KB" => 10,
        _ => return None,
    };
    (number > 0).then(|| number.checked_mul(1 << shift)).flatten()
}

/// A size in the one form.
pub(super) fn show_size(bytes: u64) -> String {
    match bytes % (1 << 20) {
        0 => format!("{} MB", bytes >> 20),
        _ => format!("{} KB", bytes >> 10),
    }
}

/// `parts 1, 3 and 5`, `1 and 2`, `1-3`.
pub(super) fn part_numbers(text: &str) -> Option<Vec<u32>> {
    let spaced = text.replace([',', '&'], " ");
    let mut words = Cursor::new(&spaced);
    words.any(&["parts", "part"]);
    let mut found = Vec::new();
    let mut joined = true;
    while let Some(word) = words.peek() {
        if words.take("and") {
            if joined {
                return None;
            }
            joined = true;
            continue;
        }
        joined = false;
        words.take(word).then_some(())?;
        let (first, last) = word.split_once(['-', '–']).unwrap_or((word, word));
        let (first, last): (u32, u32) = (first.parse().ok()?, last.parse().ok()?);
        (first >= 1 && first <= last && last <= 40).then_some(())?;
        found.extend(first..=last);
    }
    (!joined && !found.is_empty()).then_some(found)
}

/// Part numbers in the one form.
pub(super) fn show_part_numbers(numbers: &[u32]) -> String {
    let numbers: Vec<String> = numbers.iter().map(u32::to_string).collect();
    match numbers.as_slice() {
        [] => String::new(),
        [one] => format!("part {one}"),
        [all @ .., last] => format!("parts {} and {last}", all.join(", ")),
    }
}

/// Words behind instruments of one player that change nothing.
const WHERE_IT_CAN: [&str; 18] = [
    " if the cymbal is on a stand",
    " if the cymbal is on the stand",
    " if cym is on the stand",
    " is ok",
    " ok",
    " is fine",
    " fine",
    " yes",
    "when not at the same time",
    "if not at the same time",
    "unless at the same time",
    "when they don't overlap",
    "when they do not overlap",
    "if possible",
    "where possible",
    "when possible",
    "if they can",
    "together",
];

/// `triangle and wood block`, `snare with bass drum`, `triangle, claves`: instruments that one player covers.
///
/// What one player covers sounds at different times, so that `when not at the same time` says nothing more.
pub(super) fn together(text: &str) -> Option<Vec<String>> {
    let text = [
        "may cover ",
        "can cover ",
        "may play ",
        "can play ",
        "can have ",
        "may have ",
        "for ",
    ]
    .iter()
    .find_map(|lead| text.trim_start().strip_prefix(lead))
    .unwrap_or(text);
    let spaced = text
        .replace(['&', '+', ','], " and ")
        .replace(" and  and ", " and ");
    let text = spaced.trim_end();
    let mut text = text;
    for _ in 0..2 {
        text = WHERE_IT_CAN
            .iter()
            .find_map(|words| text.strip_suffix(words))
            .map_or(text, |head| head.trim_end().trim_end_matches(" and"));
    }
    let mut words = Cursor::new(text);
    let mut found = Vec::new();
    loop {
        words.any(&ARTICLES);
        let name = words.until(&["and", "with"])?;
        is_name(&name).then_some(())?;
        found.push(names::in_full(&name));
        if words.done() {
            break;
        }
        words.any(&["and", "with"]).then_some(())?;
    }
    (found.len() > 1).then_some(found)
}

/// `yes` and `no`.
pub(super) fn yes_no(text: &str) -> Option<bool> {
    match text.trim().to_lowercase().as_str() {
        "yes" | "y" | "judged" => Some(true),
        "no" | "n" | "not judged" | "never" => Some(false),
        _ => None,
    }
}

/// An instrument or part by its name, known or the catalogue's own: `oboe`, `clarinet 2`.
pub(super) fn part_name(text: &str) -> Option<String> {
    let mut words = Cursor::new(text);
    words.any(&["no", "without"]);
    words.any(&ARTICLES);
    let rest = words.rest();
    // `no oboe this year`: that it may come back says nothing about now.
    let tails = [
        " this year",
        " this semester",
        " this season",
        " right now",
        " at the moment",
        " either",
    ];
    let rest = tails
        .iter()
        .find_map(|tail| rest.strip_suffix(tail))
        .unwrap_or(&rest);
    let cut = names::cut_number(rest, true);
    let how = known(cut.words)?;
    let short = how == Known::Wholly || cut.words.split(' ').count() <= 2;
    (short && !cut.about).then(|| names::part_in_full(rest))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn figures_are_read_whole_or_not_at_all() {
        assert_eq!(number("88 bars"), Some(88));
        assert_eq!(number("seventy-two"), Some(72));
        assert_eq!(number("eighty eight measures"), Some(88));
        assert_eq!(
            number("seventy-two, numbered from the downbeat after the pickup"),
            Some(72)
        );
        assert_eq!(number("64 plus the pickup"), Some(64));
        assert_eq!(number("seventy zqxv"), None);
        assert_eq!(number("64 plus zqxv"), None);
        assert_eq!(file_size("2 MB"), Some(2 << 20));
        assert_eq!(file_size("2 zqxv MB"), None);
        assert_eq!(show_size(500 << 10), "500 KB");
        assert_eq!(part_numbers("parts 1, 3 and 5"), Some(vec![1, 3, 5]));
        assert_eq!(part_numbers("1-3"), Some(vec![1, 2, 3]));
        assert_eq!(part_numbers("parts 1 zqxv and 3"), None);
        assert_eq!(part_numbers("1 and"), None);
        assert_eq!(
            together("the triangle and wood block"),
            Some(vec!["triangle".to_owned(), "wood block".to_owned()])
        );
        assert_eq!(together("triangle"), None);
        // A name may be one of the catalogue's own, so it is looked up where all cards are known.
        assert!(together("near triangle and wood block").is_some());
        assert_eq!(together("triangle 7Qz and wood block"), None);
        assert_eq!(year("2026"), Some(2026));
        assert_eq!(year("2026 zqxv"), None);
        assert_eq!(part_name("oboe").as_deref(), Some("oboe"));
        assert_eq!(part_name("cl. 2").as_deref(), Some("clarinet 2"));
        assert_eq!(part_name("oboe zqxv"), None);
        assert_eq!(yes_no("no"), Some(false));
        assert_eq!(yes_no("no zqxv"), None);
    }
}
