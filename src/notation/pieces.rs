//! How a list falls into pieces: at commas, and where a comma was left out or stands inside an item.

use crate::text::Span;

use super::build::trim_span;
use super::heard::Ear;
use super::items::words_of;
use super::of::Of;
use super::scan;
use super::values;

/// The pieces between commas, each with its byte offset. Commas inside quotes, inside a number (`1,200`)
/// and inside a date (`Dec 10, 2026`) do not count.
pub fn split_commas(text: &str) -> Vec<(usize, &str)> {
    if !text.contains([',', ';']) {
        return vec![(0, text)];
    }
    let mut pieces = Vec::new();
    let mut start = 0;
    let mut quoted = false;
    for (at, c) in text.char_indices() {
        if scan::is_quote(c) {
            quoted = !quoted;
        }
        if !matches!(c, ',' | ';') || quoted {
            continue;
        }
        let (before, after) = (
            text.get(start..at).unwrap_or(""),
            text.get(at + 1..).unwrap_or(""),
        );
        if c == ';' || (!inside_number(before, after) && !inside_date(before, after)) {
            pieces.push((start, before));
            start = at + 1;
        }
    }
    pieces.push((start, text.get(start..).unwrap_or("")));
    pieces
}

fn inside_number(before: &str, after: &str) -> bool {
    let digits = after.chars().take_while(char::is_ascii_digit).count();
    digits == 3 && before.ends_with(|c: char| c.is_ascii_digit())
}

/// Whether a comma stands between `Dec 10` and `2026`.
fn inside_date(before: &str, after: &str) -> bool {
    let year = after.trim_start();
    let figures = year.bytes().take_while(u8::is_ascii_digit).count();
    let Some(year) = year.get(..figures).filter(|year| year.len() == 4) else {
        return false;
    };
    let words: Vec<&str> = before.split_whitespace().collect();
    match words.as_slice() {
        [.., month, day] => {
            day.chars().next().is_some_and(|c| c.is_ascii_digit())
                && day.len() <= 4
                && values::Day::read(&format!("{month} {day} {year}")).is_some()
        }
        _ => false,
    }
}

/// The pieces of a list that are read each as an item.
pub fn of_list(ear: &mut Ear, masked: &str, span: Span, of: Of) -> Vec<Span> {
    let mut pieces: Vec<Span> = split_commas(span.slice(masked))
        .into_iter()
        .map(|(offset, piece)| trim_span(masked, Span::long(span.start + offset as u32, piece.len() as u32)))
        .filter(|span| !span.is_empty())
        .collect();
    // `flute, and tuba`: the joint before the last piece says nothing more.
    if !of.is_free() {
        for piece in pieces.iter_mut().skip(1) {
            let text = piece.slice(masked);
            if let Some(joint) = ["and ", "& ", "plus "]
                .iter()
                .find(|joint| text.starts_with(**joint))
            {
                ear.hear(Span::long(piece.start, joint.len() as u32));
                *piece = trim_span(masked, Span::new(piece.start + joint.len() as u32, piece.end));
            }
        }
    }
    if of == Of::Together {
        pieces = all_of_one_player(masked, span, pieces);
    }
    if of == Of::Equipment {
        pieces = with_sizes(masked, pieces);
    }
    if of == Of::Mark {
        pieces = with_a_letter_left_out(masked, pieces)
            .into_iter()
            .flat_map(|piece| {
                let parts = joined(masked, piece, of);
                for pair in parts.windows(2) {
                    if let [before, after] = pair {
                        ear.hear(Span::new(before.end, after.start));
                    }
                }
                parts
            })
            .flat_map(|piece| run_together(masked, piece))
            .collect();
    }
    if matches!(of, Of::Skill | Of::Listed) {
        pieces = with_more(masked, pieces, of);
    }
    if matches!(
        of,
        Of::KeyTaught
            | Of::Copies
            | Of::InstrumentRange
            | Of::Skill
            | Of::Loan
            | Of::Held
            | Of::Title
            | Of::Needs
            | Of::Listed
    ) {
        pieces = pieces
            .into_iter()
            .flat_map(|piece| {
                let parts = match of {
                    Of::Skill => sentences(masked, piece)
                        .into_iter()
                        .flat_map(|piece| two_skills(masked, piece))
                        .collect(),
                    Of::Loan => until_due(masked, piece),
                    Of::InstrumentRange => joined(masked, piece, of)
                        .into_iter()
                        .flat_map(|piece| ranges_in_a_row(masked, piece))
                        .collect(),
                    Of::KeyTaught => joined(masked, piece, of)
                        .into_iter()
                        .flat_map(|piece| keys_in_a_row(masked, piece))
                        .collect(),
                    _ => joined(masked, piece, of),
                };
                for pair in parts.windows(2) {
                    if let [before, after] = pair {
                        ear.hear(Span::new(before.end, after.start));
                    }
                }
                parts
            })
            .collect();
    }
    pieces
}

/// `triangle, claves`, `bass drum and triangle, if possible`: where a piece is no pair by itself, the whole line may
/// be the instruments of one player.
fn all_of_one_player(masked: &str, span: Span, pieces: Vec<Span>) -> Vec<Span> {
    let reads = |span: &Span| values::read(Of::Together, span.slice(masked)).is_some();
    let (Some(first), Some(last)) = (pieces.first(), pieces.last()) else {
        return pieces;
    };
    let whole = Span::new(first.start, last.end);
    match span.len() <= scan::LONGEST && !pieces.iter().all(reads) && reads(&whole) {
        true => vec![whole],
        false => pieces,
    }
}

/// `timpani 32, 29, 26 and 23`: a piece that holds nothing but figures goes on with the one before it.
fn with_sizes(masked: &str, pieces: Vec<Span>) -> Vec<Span> {
    let mut joined: Vec<Span> = Vec::new();
    for piece in pieces {
        let only_sizes = piece
            .slice(masked)
            .split(|c: char| scan::is_blank(c) || "\"”″'-/&".contains(c))
            .all(|word| {
                matches!(word, "" | "and" | "inch" | "inches" | "in")
                    || word.chars().all(|c| c.is_ascii_digit())
            });
        // `timpani, hand-tuned, 25 and 28 inch`: words between keep the sizes a piece of their own.
        let kind = |last: &&mut Span| {
            let read = values::Owned::read(last.slice(masked));
            matches!(read, Some(values::Owned::Kind(_)))
        };
        match joined.last_mut().filter(|last| only_sizes && !kind(last)) {
            Some(last) => last.end = piece.end,
            None => joined.push(piece),
        }
    }
    joined
}

/// `A to J, no I`: the letter that is left out goes with the letters before it.
fn with_a_letter_left_out(masked: &str, pieces: Vec<Span>) -> Vec<Span> {
    let mut joined: Vec<Span> = Vec::new();
    for piece in pieces {
        let left_out = values::MarksSaid::left_out(piece.slice(masked)).is_some();
        match joined.last_mut().filter(|_| left_out) {
            Some(last) => last.end = piece.end,
            None => joined.push(piece),
        }
    }
    joined
}

/// `A 9 B 17 C 25`: marks whose commas were left out, where each pair of words is one.
fn run_together(masked: &str, piece: Span) -> Vec<Span> {
    let is_mark = |span: &Span| values::Mark::read(span.slice(masked)).is_some();
    if piece.len() > scan::LONGEST || is_mark(&piece) {
        return vec![piece];
    }
    let words: Vec<Span> = words_of(masked, piece).collect();
    let pairs: Vec<Span> = words
        .chunks(2)
        .filter_map(|pair| Some(Span::new(pair.first()?.start, pair.last()?.end)))
        .collect();
    match words.len() > 2 && words.len().is_multiple_of(2) && pairs.iter().all(is_mark) {
        true => pairs,
        false => vec![piece],
    }
}

/// `Bb Eb F`, `bb eb and G minor`: keys whose commas were left out.
fn keys_in_a_row(masked: &str, piece: Span) -> Vec<Span> {
    let is_key = |span: Span| values::read(Of::KeyTaught, span.slice(masked)).is_some();
    if piece.len() > scan::LONGEST || is_key(piece) {
        return vec![piece];
    }
    let mut words = words_of(masked, piece)
        .filter(|word| !matches!(word.slice(masked), "and" | "&" | "+"))
        .peekable();
    let mut keys = Vec::new();
    while let Some(word) = words.next() {
        let with_mode = words.peek().map(|next| Span::new(word.start, next.end));
        match with_mode.filter(|both| is_key(*both)) {
            Some(both) => {
                words.next();
                keys.push(both);
            }
            None if is_key(word) => keys.push(word),
            None => return vec![piece],
        }
    }
    keys
}

/// `trumpets low Bb to C clarinets up to A`: ranges whose commas were left out, where an instrument begins each.
fn ranges_in_a_row(masked: &str, piece: Span) -> Vec<Span> {
    let reads = |span: Span| values::read(Of::InstrumentRange, span.slice(masked)).is_some();
    if piece.len() > scan::LONGEST || reads(piece) {
        return vec![piece];
    }
    let mut words = words_of(masked, piece).skip(2);
    let split = words.find_map(|word| {
        let head = trim_span(masked, Span::new(piece.start, word.start));
        let tail = Span::new(word.start, piece.end);
        let named = super::names::known_prefix(tail.slice(masked)).is_some();
        if !named || !reads(head) {
            return None;
        }
        let tails = ranges_in_a_row(masked, tail);
        tails
            .iter()
            .all(|tail| reads(*tail))
            .then(|| std::iter::once(head).chain(tails).collect())
    });
    split.unwrap_or_else(|| vec![piece])
}

/// `sixteenths, week 5`, `"Larch list", 2026`: a piece that says something of the one before it goes on with it.
fn with_more(masked: &str, pieces: Vec<Span>, of: Of) -> Vec<Span> {
    let mut joined: Vec<Span> = Vec::new();
    for piece in pieces {
        let text = piece.slice(masked);
        let goes_on = match of {
            Of::Skill => values::Skill::goes_on(text),
            _ => text.len() == 4 && values::read(Of::Year, text).is_some(),
        };
        match joined.last_mut().filter(|_| goes_on) {
            Some(last) => last.end = piece.end,
            None => joined.push(piece),
        }
    }
    joined
}

/// `ties. not 6/8`: a full stop behind a word parts two pieces as a comma does.
fn sentences(masked: &str, piece: Span) -> Vec<Span> {
    if piece.len() > scan::LONGEST {
        return vec![piece];
    }
    let text = piece.slice(masked);
    let stop = text.match_indices(". ").find(|(at, _)| {
        let word = text
            .get(..*at)
            .and_then(|head| head.rsplit(scan::is_blank).next());
        word.is_some_and(|word| {
            let answer = word.eq_ignore_ascii_case("no") || word.eq_ignore_ascii_case("yes");
            answer || word.chars().count() > 3 && !word.contains('.')
        })
    });
    match stop {
        Some((at, _)) if !text.contains(scan::is_quote) => {
            let head = Span::long(piece.start, at as u32);
            let tail = trim_span(masked, Span::new(piece.start + at as u32 + 1, piece.end));
            std::iter::once(head).chain(sentences(masked, tail)).collect()
        }
        _ => vec![piece],
    }
}

/// `to the church due May 1`: a loan and the day it is due, where the comma was left out.
fn until_due(masked: &str, piece: Span) -> Vec<Span> {
    if piece.len() > scan::LONGEST {
        return vec![piece];
    }
    let text = piece.slice(masked);
    let joints = [" due ", " until ", " till ", " til ", " back by "];
    let cut = joints
        .iter()
        .flat_map(|joint| text.match_indices(joint))
        .find(|(at, _)| {
            let reads =
                |text: Option<&str>| text.is_some_and(|text| values::read(Of::Loan, text.trim()).is_some());
            reads(text.get(..*at)) && reads(text.get(*at..))
        });
    match cut {
        Some((at, _)) => vec![
            trim_span(masked, Span::long(piece.start, at as u32)),
            trim_span(masked, Span::new(piece.start + at as u32, piece.end)),
        ],
        None => vec![piece],
    }
}

/// Whether words are a skill of the trade, or say of one how far it is: `rolls kinda`, `1st scale`.
fn is_known_skill(words: &str) -> bool {
    let known = |words: &str| {
        let scale = words.split_once(' ').is_some_and(|(which, what)| {
            let counted = ["1st", "first", "2nd", "second", "3rd", "third"].contains(&which);
            matches!(what, "scale" | "scales") && (counted || values::number_word(which))
        });
        scale || crate::music::skills::find(words).is_some()
    };
    let said =
        |skill: values::Skill| known(&skill.name) || skill.shaky && !skill.name.contains([' ', '&', '+']);
    known(words) || values::Skill::read(words).is_some_and(said)
}

/// `accents stacc.`, `slurs and ties`, `rolls kinda & syncopation next`: skills of the trade whose comma was left
/// out, where the whole is none.
fn two_skills(masked: &str, piece: Span) -> Vec<Span> {
    let text = piece.slice(masked);
    let known = is_known_skill;
    if piece.len() > scan::LONGEST || known(text) {
        return vec![piece];
    }
    let blanks = text.char_indices().filter(|(_, c)| scan::is_blank(*c));
    for (at, _) in blanks {
        let (Some(head), Some(tail)) = (text.get(..at), text.get(at..)) else {
            continue;
        };
        let tail = tail.trim_start();
        if !known(head.trim_end()) {
            continue;
        }
        let after = ["and ", "& ", "+ "]
            .iter()
            .find_map(|joint| tail.strip_prefix(joint));
        let tail = after.unwrap_or(tail);
        let tails = match known(tail) {
            true => vec![Span::new(piece.end - tail.len() as u32, piece.end)],
            false => two_skills(masked, Span::new(piece.end - tail.len() as u32, piece.end)),
        };
        if known(tail) || tails.len() > 1 {
            let head = Span::long(piece.start, head.trim_end().len() as u32);
            return std::iter::once(head).chain(tails).collect();
        }
    }
    vec![piece]
}

/// `Bb, Eb and F`, `1 alto & the bells`: two items where the whole is none and both sides are.
fn joined(masked: &str, piece: Span, of: Of) -> Vec<Span> {
    let text = piece.slice(masked);
    // `enough except clarinet need 3 more`: but only what is short may stand behind such a word.
    let besides = [" except ", " exc ", " exc. ", " but "];
    let joints = text.contains(['&', '+'])
        || text.contains(" and ")
        || text.contains(" plus ")
        || of == Of::Copies && besides.iter().any(|word| text.contains(word));
    if !joints || piece.len() > scan::LONGEST || values::read(of, text).is_some() {
        return vec![piece];
    }
    let joints = [" and ", " & ", " + ", " plus "]
        .iter()
        .chain(besides.iter().filter(|_| of == Of::Copies));
    for (at, joint) in joints.flat_map(|joint| text.match_indices(joint)) {
        let head = trim_span(masked, Span::long(piece.start, at as u32));
        let tail = trim_span(
            masked,
            Span::new(piece.start + (at + joint.len()) as u32, piece.end),
        );
        let tails = joined(masked, tail, of);
        let reads = |span: &Span| values::read(of, span.slice(masked).trim_end_matches('?')).is_some();
        let short = |span: &Span| {
            let read = values::Copies::read(span.slice(masked));
            read.is_some_and(|copies| copies.short)
        };
        let fits = !besides.contains(&joint) || tails.iter().all(short);
        if fits && reads(&head) && tails.iter().all(reads) {
            return std::iter::once(head).chain(tails).collect();
        }
    }
    vec![piece]
}
