//! How wide words are, and where lines of them break.

/// Widths of the characters from the blank to `~` in thousandths of the type size, regular. These are the
/// advance widths of Liberation Sans (SIL Open Font License), the same as those of Arial and Helvetica.
const REGULAR: [u16; 95] = [
    278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556, 556, 556,
    556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556, 1015, 667, 667, 722, 722, 667, 611, 778, 722, 278,
    500, 667, 556, 833, 722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 278, 278, 278, 469,
    556, 333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500, 222, 833, 556, 556, 556, 556, 333, 500,
    278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584,
];
/// The same, bold.
const BOLD: [u16; 95] = [
    278, 333, 474, 556, 556, 889, 722, 238, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556, 556, 556,
    556, 556, 556, 556, 556, 333, 333, 584, 584, 584, 611, 975, 722, 722, 722, 722, 667, 611, 778, 722, 278,
    556, 722, 611, 833, 722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667, 667, 611, 333, 278, 333, 584,
    556, 333, 556, 611, 556, 611, 556, 333, 611, 611, 278, 278, 556, 278, 889, 611, 611, 611, 611, 389, 556,
    333, 611, 556, 778, 556, 556, 500, 389, 280, 389, 584,
];

/// The blank at which no line breaks.
pub const GLUE: char = '\u{a0}';

/// The words of a text: what stands between blanks at which a line may break.
fn words_of(text: &str) -> impl Iterator<Item = &str> {
    text.split(|c: char| c.is_whitespace() && c != GLUE)
        .filter(|word| !word.is_empty())
}

/// Words that stay on one line together.
pub fn glued(words: &str) -> String {
    words.replace(' ', "\u{a0}")
}

/// A character that may stand on a page: what XML 1.0 (W3C, production 2, Char) does not allow, what steers the
/// direction of writing and what breaks a line becomes a blank.
pub fn printed(c: char) -> char {
    let steers = matches!(c, '\u{200e}' | '\u{200f}' | '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    match c.is_control() || steers || matches!(c, '\u{2028}' | '\u{2029}' | '\u{fffe}' | '\u{ffff}') {
        true => ' ',
        false => c,
    }
}

/// The width of one character, in parts of the type size.
fn letter(c: char, bold: bool) -> f64 {
    let c = printed(c);
    let table = if bold { &BOLD } else { &REGULAR };
    let at = (c as usize).checked_sub(32);
    if let Some(width) = at.and_then(|at| table.get(at)) {
        return f64::from(*width) / 1000.0;
    }
    if c == GLUE {
        return 0.278;
    }
    match unicode_width::UnicodeWidthChar::width(c) {
        None | Some(0) => 0.0,
        // Latin letters with marks are hardly ever wider than this; what is wider is set a little closer.
        Some(1) if ('\u{a0}'..='\u{17f}').contains(&c) => 0.72,
        Some(_) => 1.0,
    }
}

/// The width of words set at `size` points, in points.
pub fn width(words: &str, size: f64, bold: bool) -> f64 {
    words.chars().map(|c| letter(c, bold)).sum::<f64>() * size
}

/// The width of the widest word, in points, when a word wider than `most` may be cut.
pub fn widest_word(words: &str, size: f64, bold: bool, most: f64) -> f64 {
    words_of(words)
        .map(|word| width(word, size, bold).min(most))
        .fold(0.0, f64::max)
}

/// Words broken into lines of at most `wide` points. A word that is wider by less than a fifth stays whole and
/// is set closer; one that is wider still is cut. Nothing gives no line.
pub fn lines(words: &str, size: f64, bold: bool, wide: f64) -> Vec<String> {
    let blank = width(" ", size, bold);
    let mut lines: Vec<String> = Vec::new();
    let mut filled = f64::INFINITY;
    for word in words_of(words) {
        for piece in cut(word, size, bold, wide) {
            let long = width(&piece, size, bold);
            match lines.last_mut() {
                Some(line) if filled + blank + long <= wide => {
                    line.push(' ');
                    line.push_str(&piece);
                    filled += blank + long;
                }
                _ => {
                    lines.push(piece);
                    filled = long;
                }
            }
        }
    }
    lines
}

/// How much closer a word may be set before it is cut.
pub const CLOSEST: f64 = 0.8;

fn cut(word: &str, size: f64, bold: bool, wide: f64) -> Vec<String> {
    if width(word, size, bold) * CLOSEST <= wide {
        return vec![word.to_owned()];
    }
    let mut pieces = Vec::new();
    let mut piece = String::new();
    let mut filled = 0.0;
    for c in word.chars() {
        let long = letter(c, bold) * size;
        if filled + long > wide && !piece.is_empty() {
            pieces.push(std::mem::take(&mut piece));
            filled = 0.0;
        }
        piece.push(c);
        filled += long;
    }
    pieces.push(piece);
    pieces
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn words_have_the_widths_of_the_published_tables() {
        // Adobe Core 14 AFM files, Helvetica and Helvetica-Bold.
        for (words, bold, thousandths) in [
            ("snare", false, 500 + 556 + 556 + 333 + 556),
            ("Bells", true, 722 + 556 + 278 + 278 + 556),
            ("9-16", false, 556 + 333 + 556 + 556),
            ("", true, 0),
            ("e\u{301}", false, 556),
        ] {
            let wide = width(words, 1000.0, bold);
            assert!((wide - f64::from(thousandths)).abs() < 0.5, "{words}: {wide}");
        }
    }

    #[test]
    fn lines_break_at_blanks_and_cut_only_what_cannot_stay() {
        for (words, wide, expected) in [
            ("suspended cymbal", 60.0, &["suspended", "cymbal"][..]),
            ("suspended cymbal", 200.0, &["suspended cymbal"]),
            ("  a   b ", 200.0, &["a b"]),
            ("", 50.0, &[]),
            ("glockenspiel", 55.0, &["glockenspiel"]),
            ("glockenspiel", 30.0, &["glocke", "nspiel"]),
            (
                "to bells: 4\u{a0}measures",
                60.0,
                &["to bells:", "4\u{a0}measures"],
            ),
            ("bells", 0.0, &["b", "e", "l", "l", "s"]),
        ] {
            assert_eq!(lines(words, 10.0, false, wide), expected, "{words} in {wide}");
        }
    }
}
