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
        .map(|word| (strsim::damerau_levenshtein(&written, &word.to_lowercase()), word))
        .filter(|(slips, _)| *slips <= allowed)
        .min_by_key(|(slips, word)| (*slips, word.len().abs_diff(written.len())))
        .map(|(_, word)| word)
}
