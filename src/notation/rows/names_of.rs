//! Names at the start of a row, with their numbers; in a roster the number is a head count.

use crate::notation::build::trim_span;
use crate::notation::fields::RowsOf;
use crate::notation::heard::Ear;
use crate::notation::names;
use crate::notation::row::{Count, RowName};
use crate::notation::scan;
use crate::notation::values;
use crate::text::Span;

/// No school band has more players than this on one instrument (common practice, no source): `clarinet 1010` is a
/// slip, and how many there are is unknown.
const MOST_PLAYERS: u32 = 150;

/// One name with its number. In a roster the number is how many there are.
pub fn row_name(ear: &mut Ear, masked: &str, span: Span, of: RowsOf) -> (Vec<RowName>, Option<Count>) {
    let span = trim_span(masked, span);
    let text = span.slice(masked);
    let (bare, open) = match text.strip_suffix('?') {
        Some(bare) => (bare.trim_end_matches(['?', ' ']), true),
        None => (text, false),
    };
    if bare.is_empty() {
        return (Vec::new(), None);
    }
    let cut = names::cut_number(bare, of != RowsOf::Percussion);
    let words_span = Span::long(span.start + cut.words_at as u32, cut.words.len() as u32);
    let too_many = of == RowsOf::Players && cut.numbers.is_some_and(|(_, last)| last > MOST_PLAYERS);
    ear.hear(if too_many { words_span } else { span });
    if too_many {
        let name = RowName {
            span: words_span,
            words: words_span,
            text: names::in_full(cut.words),
            numbers: None,
            open,
        };
        return (vec![name], None);
    }
    let mut name = RowName {
        span,
        words: words_span,
        text: british(masked, cut.words).unwrap_or_else(|| names::in_full(cut.words)),
        numbers: cut.numbers,
        open,
    };
    if of == RowsOf::Players
        && let Some((number, last)) = cut.numbers.filter(|_| !cut.ordinal)
    {
        let count = Count {
            number: last.max(number),
            span: trim_span(masked, Span::new(words_span.end, span.end)),
            about: cut.about,
            open,
        };
        name.numbers = None;
        name.span = words_span;
        return (vec![name], Some(count));
    }
    (vec![name], None)
}

/// On a card that is written as in Britain a tenor horn is the horn in E flat, which elsewhere may as well be a
/// euphonium (common practice, no source).
fn british(masked: &str, words: &str) -> Option<String> {
    let tenor = ["tenor horn", "tenor horns"]
        .iter()
        .any(|name| words.eq_ignore_ascii_case(name));
    (tenor && values::is_british(masked)).then(|| "Eb horn".to_owned())
}

/// A head count alone: `9`, `about 9`, `9?`.
pub fn head_count(masked: &str, span: Span) -> Option<Count> {
    let text = span.slice(masked);
    let (bare, open) = match text.strip_suffix('?') {
        Some(bare) => (bare.trim_end(), true),
        None => (text, false),
    };
    let (bare, about) = match crate::notation::items::about_word(bare) {
        Ok((rest, ())) => (rest, true),
        Err(_) => (bare, false),
    };
    let number = match scan::number(bare) {
        Ok(("", number)) => number,
        _ => match crate::notation::facts::keywords::counted(bare) {
            Ok(("", number)) => number,
            _ if crate::notation::values::number_in_words(bare).is_some() => {
                crate::notation::values::number_in_words(bare)?
            }
            _ if ["none", "no", "nil", "none this year"].contains(&bare.to_lowercase().as_str()) => 0,
            _ => return None,
        },
    };
    if number > MOST_PLAYERS {
        return None;
    }
    Some(Count {
        number,
        span,
        about,
        open,
    })
}

#[cfg(test)]
mod tests {
    use crate::notation::read;

    #[test]
    fn a_tenor_horn_is_the_british_one_on_a_british_card() {
        let name = |more: &str| {
            let text = format!("ensemble \"Training Band\"\n  players\n    tenor horns 3\n{more}");
            let reading = read(&text);
            let rows = reading.fields.first().map(|field| field.rows().to_vec());
            let name = rows.and_then(|rows| Some(rows.first()?.row.names.first()?.text.clone()));
            name.unwrap_or_default()
        };
        assert_eq!(name("  introduced semiquavers\n"), "Eb horn");
        assert_eq!(name("  introduced sixteenths\n"), "tenor horns");
    }
}
