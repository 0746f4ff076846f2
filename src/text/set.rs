//! Words set in lines of a width, and made fit to be shown.

use unicode_width::UnicodeWidthChar;

/// Columns that words take on a terminal, character by character, as most terminals count.
pub fn columns(words: &str) -> usize {
    words.chars().fold(0, |columns: usize, c| {
        columns.saturating_add(c.width().unwrap_or(0))
    })
}

/// Sets words in lines of at most `width` columns, the first one `used` columns shorter. A word that is
/// too long has a line to itself.
pub fn lines(words: &str, width: usize, used: usize) -> Vec<String> {
    let mut set = Vec::new();
    let mut line = String::new();
    let mut at = used;
    for word in words.split([' ', '\n']).filter(|word| !word.is_empty()) {
        let long = columns(word);
        if !line.is_empty() && at.saturating_add(1).saturating_add(long) > width {
            set.push(std::mem::take(&mut line));
            at = 0;
        }
        if !line.is_empty() {
            line.push(' ');
            at = at.saturating_add(1);
        }
        line.push_str(word);
        at = at.saturating_add(long);
    }
    set.push(line);
    set
}

/// The words with every character replaced that would move the cursor, start a line or turn the direction
/// of writing on a terminal. The replacement takes as many bytes, so that places stay.
pub fn plain(words: &str) -> String {
    words.chars().map(plain_char).collect()
}

fn plain_char(c: char) -> char {
    match c {
        '\t' => c,
        '\0'..='\u{1f}' | '\u{7f}' => ' ',
        // NEL and its neighbors take two bytes, as the middle dot does.
        '\u{80}'..='\u{9f}' => '\u{b7}',
        // Line and paragraph separators and the marks of direction take three, as this sign does.
        '\u{200e}' | '\u{200f}' | '\u{2028}'..='\u{202e}' | '\u{2066}'..='\u{2069}' => '\u{fffd}',
        _ => c,
    }
}

/// The longest head of the words that takes at most `width` columns.
pub fn head(words: &str, width: usize) -> &str {
    let mut used = 0usize;
    for (at, c) in words.char_indices() {
        used = used.saturating_add(c.width().unwrap_or(0));
        if used > width {
            return words.get(..at).unwrap_or("");
        }
    }
    words
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_in_lines() {
        for (words, width, used, set) in [
            ("", 10, 0, vec![""]),
            ("one two three", 7, 0, vec!["one two", "three"]),
            ("one two three", 7, 4, vec!["one", "two", "three"]),
            ("extraordinarily so", 6, 0, vec!["extraordinarily", "so"]),
            ("two  blanks\nhere", 40, 0, vec!["two blanks here"]),
            ("B♭ and 音楽 too", 8, 0, vec!["B♭ and", "音楽 too"]),
        ] {
            assert_eq!(lines(words, width, used), set, "{words}");
        }
    }

    #[test]
    fn nothing_moves_the_cursor_and_places_stay() {
        let nasty = "a\u{1b}[2Jb\u{85}c\u{2028}d\u{202e}e\u{b}f\u{c}g\rh\u{0}i\u{9b}j";
        let shown = plain(nasty);
        assert_eq!(shown.len(), nasty.len());
        assert!(!shown.chars().any(char::is_control), "{shown:?}");
        assert_eq!(plain("B♭\tfine — 音"), "B♭\tfine — 音");
    }

    #[test]
    fn heads() {
        assert_eq!(head("音楽x", 3), "音");
        assert_eq!(head("abc", 3), "abc");
        assert_eq!(head("abc", 0), "");
    }
}
