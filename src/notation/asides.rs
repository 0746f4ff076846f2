//! Asides: what a director says to nobody at the end of a line, such as `lol` or `thank goodness`, and reasons
//! after `because`. They count for nothing, as a remark in parentheses does.

use std::borrow::Cow;

use crate::text::Span;

use super::fields::Shape;
use super::of::Of;
use super::scan;
use super::tree::{Field, Row};

/// Sighs and shouts, in small letters.
const ASIDES: [&str; 41] = [
    "surprise",
    "hopefully",
    "i think",
    "i guess",
    "lol",
    "lmao",
    "haha",
    "ha ha",
    "ha",
    "hooray",
    "hurray",
    "yay",
    "woohoo",
    "woo hoo",
    "wow",
    "whew",
    "phew",
    "ugh",
    "argh",
    "yikes",
    "oops",
    "sigh",
    "eek",
    "meh",
    "thank god",
    "thank goodness",
    "thank heavens",
    "thankfully",
    "fingers crossed",
    "knock on wood",
    "sadly",
    "unfortunately",
    "alas",
    "of course",
    "fyi",
    "btw",
    "please",
    "pls",
    "plz",
    ":)",
    ":(",
];

/// The text with every aside replaced by blanks, so that places stay where they are.
///
/// `masked` has its remarks blanked already. Lines whose words are the director's own keep all of them.
pub fn hidden<'t>(masked: Cow<'t, str>, fields: &[&Field]) -> (Cow<'t, str>, Vec<Span>) {
    let mut found: Vec<Span> = Vec::new();
    let mut shouts: Vec<Span> = Vec::new();
    for field in fields {
        in_field(&masked, field, &mut found, &mut shouts);
    }
    shouts.extend(&found);
    (without(masked, &shouts), found)
}

/// Exclamation marks behind words, which change nothing: `solo at 5!!`.
fn shouted(masked: &str, line: Span, found: &mut Vec<Span>) {
    let text = line.slice(masked);
    if !text.contains('!') {
        return;
    }
    let mut quoted = false;
    for (at, c) in text.char_indices() {
        quoted ^= scan::is_quote(c);
        if c == '!' && !quoted && at > 0 {
            found.push(Span::long(line.start + at as u32, 1));
        }
    }
}

/// The text with some stretches replaced by blanks, so that places stay where they are.
pub fn without<'t>(masked: Cow<'t, str>, found: &[Span]) -> Cow<'t, str> {
    if found.is_empty() {
        return masked;
    }
    let mut bytes = masked.into_owned().into_bytes();
    for span in found {
        if let Some(aside) = bytes.get_mut(span.start as usize..span.end as usize) {
            aside.fill(b' ');
        }
    }
    // Whole words are blanked, so that what is left is text.
    Cow::Owned(String::from_utf8(bytes).unwrap_or_default())
}

/// Whether all words of a line are the director's own: what a row asks, and what is let stand.
pub fn keeps_its_words(line: &str) -> bool {
    ["stet", "asks", "teaches"]
        .iter()
        .any(|lead| scan::after_phrase(line, lead).is_some())
}

fn in_field(masked: &str, field: &Field, found: &mut Vec<Span>, shouts: &mut Vec<Span>) {
    let (asides, reasons) = match field.spec.map(|spec| spec.shape) {
        None | Some(Shape::Running) => return,
        // The story of a performance is kept with it.
        Some(Shape::Value(of) | Shape::List(of)) => (!of.is_free(), !of.is_free() && of != Of::Performance),
        Some(Shape::Rows(_) | Shape::Block(_)) => (true, true),
    };
    let mut look = |span: Span| {
        if scan::after_phrase(span.slice(masked), "stet").is_some() {
            return;
        }
        if reasons {
            found.extend(reason(masked, span));
        }
        if asides {
            found.extend(aside(masked, span));
            shouted(masked, span, shouts);
        }
    };
    look(field.value);
    rows(&field.rows, &mut look);
}

fn rows(all: &[Row], look: &mut impl FnMut(Span)) {
    for row in all {
        look(row.body);
        rows(&row.rows, look);
    }
}

/// `because` and what stands behind it, to the next comma.
fn reason(masked: &str, line: Span) -> Option<Span> {
    let text = line.slice(masked);
    let at = scan::find_word(text, "because ")?;
    // A reason gives something that was said.
    let said = text.get(..at)?.trim();
    let end = text
        .get(at..)?
        .find([',', ';'])
        .map_or(text.len(), |end| at + end);
    (!said.is_empty()).then(|| Span::new(line.start + at as u32, line.start + end as u32))
}

/// The sighs at the ends of what stands between commas.
fn aside(masked: &str, line: Span) -> Vec<Span> {
    if !ends_in_a_word(line.slice(masked)) {
        return Vec::new();
    }
    let pieces = super::pieces::split_commas(line.slice(masked)).into_iter();
    pieces
        .filter_map(|(at, text)| {
            let (mut head, mut from) = (text, text.len());
            while let Some(end) = take(head, at > 0) {
                (head, from) = (text.get(..end)?, end);
            }
            let start = line.start + at as u32;
            let end = start + text.trim_end().len() as u32;
            (from < text.trim_end().len()).then(|| Span::new(start + from as u32, end))
        })
        .collect()
}

/// Whether anything between commas ends in a letter or a smile, and not in a figure as most lines do.
fn ends_in_a_word(text: &str) -> bool {
    let may_end = |byte: u8| byte.is_ascii_alphabetic() || matches!(byte, b'(' | b')');
    let mut last = 0;
    for byte in text.bytes() {
        match byte {
            b',' | b';' if may_end(last) => return true,
            b',' | b';' => last = 0,
            b' ' | b'\t' | b'.' | b'!' | 0xc2 | 0xa0 => {}
            byte => last = byte,
        }
    }
    may_end(last)
}

/// Where the sigh at the end of some words begins; between commas it may stand `alone`.
fn take(text: &str, alone: bool) -> Option<usize> {
    let bare = text.trim_end_matches(|c: char| scan::is_blank(c) || matches!(c, '.' | '!' | ','));
    let last = bare.as_bytes().last().filter(|last| !last.is_ascii_digit())?;
    let ends_alike = |words: &&&str| {
        words
            .as_bytes()
            .last()
            .is_some_and(|end| end.eq_ignore_ascii_case(last))
    };
    ASIDES.iter().filter(ends_alike).find_map(|words| {
        let at = bare.len().checked_sub(words.len())?;
        let fits = bare.get(at..)?.eq_ignore_ascii_case(words);
        let head = bare.get(..at)?;
        let apart = head.ends_with([' ', '\t', ',', ';', '.']) || alone && head.is_empty();
        (fits && apart && (alone || !head.trim().is_empty())).then_some(at)
    })
}

#[cfg(test)]
mod tests {
    use crate::notation::read;
    use crate::text::Span;

    /// The words of a piece's line that count.
    fn counts(line: &str) -> String {
        let text = format!("piece \"Air\"\n  {line}\n");
        let tree = super::super::build::build(&text);
        let fields: Vec<_> = tree.fields.iter().collect();
        let (hidden, _) = super::hidden(super::super::remarks::blanked(&text), &fields);
        assert_eq!(hidden.len(), text.len(), "{line}");
        hidden.lines().nth(1).unwrap().trim().to_owned()
    }

    #[test]
    fn asides_and_reasons_are_hidden() {
        for (line, left) in [
            ("grade .5 lol", "grade .5"),
            ("grade 1, lol!!", "grade 1,"),
            ("lasts 3:10 ugh thank goodness", "lasts 3:10"),
            (
                "lasts 3:10 because the trio repeats, about",
                "lasts 3:10                         , about",
            ),
            ("grade lol", "grade lol"),
            ("grade 1 because", "grade 1 because"),
            ("grade because of the tempo", "grade because of the tempo"),
            ("grade 1 slol", "grade 1 slol"),
            ("notes we got through it lol", "notes we got through it lol"),
            (
                "performed 2024-05-12 because the hall asked",
                "performed 2024-05-12 because the hall asked",
            ),
            ("style march lol", "style march lol"),
        ] {
            assert_eq!(counts(line), left);
        }
    }

    #[test]
    fn an_aside_is_not_told() {
        let text = "piece \"Air\"\n  grade 1 lol\n  percussion\n    snare  1-40 because the trio has none\n";
        assert!(read(text).unheard.is_empty());
        let text = "piece \"Air\"\n  grade 1 zqxv lol\n";
        let unheard = read(text).unheard;
        let told: Vec<&str> = unheard.iter().map(|left| Span::slice(left.span, text)).collect();
        assert_eq!(told, ["zqxv"]);
    }
}
