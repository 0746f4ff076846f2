//! Numbers that are written out: `seventy-two`, `one hundred and four`, `a dozen`.

/// Up to twenty, each at its own place.
const SMALL: [&str; 21] = [
    "zero",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
    "twenty",
];

const TENS: [(&str, u32); 8] = [
    ("twenty", 20),
    ("thirty", 30),
    ("forty", 40),
    ("fifty", 50),
    ("sixty", 60),
    ("seventy", 70),
    ("eighty", 80),
    ("ninety", 90),
];

/// Reads a number in words that is all of `text`.
pub(super) fn read(text: &str) -> Option<u32> {
    // Most words are refused at their first letter.
    if !text.trim_start().starts_with([
        'a', 'e', 'f', 'h', 'n', 'o', 's', 't', 'z', 'A', 'E', 'F', 'H', 'N', 'O', 'S', 'T', 'Z',
    ]) || text.len() > 40
    {
        return None;
    }
    let gap = |c: char| c.is_whitespace() || c == '-';
    let first = text.split(gap).find(|word| !word.is_empty())?;
    let may_begin = |begins: &&str| begins.eq_ignore_ascii_case(first);
    let ten = TENS.iter().any(|(ten, _)| may_begin(ten));
    if !ten && !SMALL.iter().chain(&["a", "half"]).any(may_begin) {
        return None;
    }
    let lower = text.to_lowercase().replace('-', " ");
    let mut words: Vec<&str> = lower.split_whitespace().collect();
    match words.as_slice() {
        ["half", "a", "dozen"] => return Some(6),
        ["a" | "one", "dozen"] => return Some(12),
        _ => {}
    }
    let mut hundreds = 0;
    let hundred = words.get(1).is_some_and(|word| *word == "hundred");
    if hundred {
        let first = *words.first()?;
        hundreds = if first == "a" { 1 } else { small(first)? } * 100;
        words.drain(..2);
        if words.first() == Some(&"and") && words.len() > 1 {
            words.remove(0);
        }
    }
    let below = match words.as_slice() {
        [] if hundred => 0,
        [one] => small(one).or_else(|| tens(one))?,
        [ten, one] => tens(ten)? + small(one).filter(|one| (1..10).contains(one))?,
        _ => return None,
    };
    Some(hundreds + below)
}

fn small(word: &str) -> Option<u32> {
    let at = SMALL.iter().position(|known| *known == word)?;
    u32::try_from(at).ok()
}

fn tens(word: &str) -> Option<u32> {
    TENS.iter()
        .find(|(known, _)| *known == word)
        .map(|(_, number)| *number)
}

#[cfg(test)]
mod tests {
    use super::read;

    #[test]
    fn numbers_are_read_in_words() {
        for (words, number) in [
            ("zero", Some(0)),
            ("Twelve", Some(12)),
            ("twenty", Some(20)),
            ("seventy-two", Some(72)),
            ("seventy two", Some(72)),
            ("ninety", Some(90)),
            ("a hundred", Some(100)),
            ("one hundred and four", Some(104)),
            ("two hundred sixteen", Some(216)),
            ("a dozen", Some(12)),
            ("half a dozen", Some(6)),
            ("twenty-ten", None),
            ("seventy zqxv", None),
            ("hundred", None),
            ("a", None),
            ("", None),
        ] {
            assert_eq!(read(words), number, "{words}");
        }
    }
}
