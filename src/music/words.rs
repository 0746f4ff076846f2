//! Small help for readers of words: spacing, case, and the numbers people spell out.

/// Lower case, one space between words, no space at the ends.
pub(crate) fn tidy(text: &str) -> String {
    let mut tidy = String::with_capacity(text.len());
    if text.is_ascii() {
        for word in text.split(|c: char| c.is_ascii() && c.is_whitespace()) {
            if !word.is_empty() {
                if !tidy.is_empty() {
                    tidy.push(' ');
                }
                tidy.push_str(word);
            }
        }
        tidy.make_ascii_lowercase();
        return tidy;
    }
    for word in text.to_lowercase().split_whitespace() {
        if !tidy.is_empty() {
            tidy.push(' ');
        }
        tidy.push_str(word);
    }
    tidy
}

/// Whether plain text is tidy as it stands.
pub(crate) fn is_tidy(text: &str) -> bool {
    let mut blank = true;
    for byte in text.bytes() {
        match byte {
            b' ' if blank => return false,
            b' ' => blank = true,
            b'A'..=b'Z' | 0..b' ' | 127.. => return false,
            _ => blank = false,
        }
    }
    !blank || text.is_empty()
}

/// A count from figures or from the words `no`, `a`, `one` ... `twelve`.
pub(crate) fn count(word: &str) -> Option<u32> {
    let n = match word {
        "no" | "zero" => 0,
        "a" | "an" | "one" => 1,
        "two" => 2,
        "three" => 3,
        "four" => 4,
        "five" => 5,
        "six" => 6,
        "seven" => 7,
        "eight" => 8,
        "nine" => 9,
        "ten" => 10,
        "eleven" => 11,
        "twelve" => 12,
        _ => return digits(word),
    };
    Some(n)
}

/// Figures only: no sign, no space, at most nine of them so that they always fit.
pub(crate) fn digits(word: &str) -> Option<u32> {
    if word.is_empty() || word.len() > 9 || !word.bytes().all(|b| b.is_ascii_digit()) {
        return None;
    }
    word.parse().ok()
}

/// The count in words up to twelve, then in figures.
pub(crate) fn count_in_words(n: u32) -> String {
    const WORDS: [&str; 13] = [
        "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven",
        "twelve",
    ];
    match WORDS.get(n as usize) {
        Some(word) => (*word).to_owned(),
        None => n.to_string(),
    }
}

/// Splits at the first dash of any kind (hyphen, en dash, em dash) or at the word `to`.
pub(crate) fn split_range(text: &str) -> Option<(&str, &str)> {
    if let Some((a, b)) = text.split_once(['-', '\u{2013}', '\u{2014}', '\u{2212}']) {
        return Some((a.trim(), b.trim()));
    }
    let at = text.to_ascii_lowercase().find(" to ")?;
    Some((text.get(..at)?.trim(), text.get(at + 4..)?.trim()))
}
