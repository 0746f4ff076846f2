//! The nearest known word to one that is not known.

/// The nearest of `known` to `written`, where it is near enough that a slip of the hand explains the difference.
///
/// Capitals do not count. One slip is allowed in a word of up to four letters, two up to eight, three beyond.
pub fn nearest<'k>(written: &str, known: impl IntoIterator<Item = &'k str>) -> Option<&'k str> {
    let written = written.to_lowercase();
    let length = written.chars().count();
    if !(2..=80).contains(&length) {
        return None;
    }
    let allowed = match length {
        0..=4 => 1,
        5..=8 => 2,
        _ => 3,
    };
    known
        .into_iter()
        .filter_map(|word| Some((slips_at_most(&written, word, allowed)?, word)))
        .min_by_key(|(slips, word)| (*slips, word.len().abs_diff(written.len())))
        .map(|(_, word)| word)
}

/// How many slips lie between a word in small letters and another, capitals aside, where there are no more than so
/// many. Words that differ in length or in letters by more than that are not compared.
pub fn slips_at_most(small: &str, word: &str, most: usize) -> Option<usize> {
    if small.is_ascii() && word.is_ascii() {
        let (one, other) = (letters(small), letters(word));
        // A slip changes, adds or takes away one letter.
        let lacking = (one & !other).count_ones().max((other & !one).count_ones());
        if small.len().abs_diff(word.len()) > most || lacking as usize > most {
            return None;
        }
    }
    Some(strsim::damerau_levenshtein(small, &word.to_lowercase())).filter(|slips| *slips <= most)
}

/// The letters of a plain word, one bit for each that is in it, capitals aside.
fn letters(word: &str) -> u64 {
    word.bytes()
        .fold(0, |letters, byte| letters | 1 << (byte.to_ascii_lowercase() & 63))
}
