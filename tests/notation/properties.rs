//! What holds for every text whatever, and for every card a director could write.

use levare::notation::fields::Shape;
use levare::notation::recopy::{How, recopy_file};
use levare::notation::tree::Row;
use levare::notation::{Body, FieldReading, read, remarks::remarks, split};
use levare::text::Span;
use proptest::prelude::*;

use crate::cards;

/// The cards of a file.
fn cut(text: &str) -> Vec<&str> {
    let mut starts = split(text);
    starts.push(text.len());
    starts.windows(2).map(|ends| &text[ends[0]..ends[1]]).collect()
}

fn on_boundary(text: &str, span: Span, what: &str) {
    let (start, end) = (span.start as usize, span.end as usize);
    assert!(start <= end && end <= text.len(), "{what} {span:?} lies outside");
    assert!(
        text.is_char_boundary(start) && text.is_char_boundary(end),
        "{what} {span:?} cuts a character"
    );
}

fn within(text: &str, outer: Span, inner: Span, what: &str) {
    on_boundary(text, inner, what);
    assert!(outer.encloses(inner), "{what} {inner:?} leaves {outer:?}");
}

/// Everything that must hold of the reading of one card.
pub fn check_reading(text: &str) {
    let reading = read(text);
    let tree = &reading.tree;
    assert_eq!(tree.print(text), text, "the tree prints what was read");
    let whole = Span::whole(text);
    let mut at = 0;
    for line in &tree.lines {
        assert_eq!(line.span.start, at, "lines tile the text");
        within(text, line.span, line.body, "a line's body");
        at = line.span.end;
    }
    assert_eq!(at, whole.end, "lines reach the end");
    if let Some(head) = &tree.head {
        within(text, whole, head.kind_span, "a kind");
        within(text, whole, head.name_span, "a name");
        assert_eq!(head.name_span.slice(text), head.name);
    }
    for stray in &tree.strays {
        within(text, tree.lines[stray.line].span, stray.body, "a stray");
    }
    for field in &tree.fields {
        within(text, tree.lines[field.line].span, field.word, "a field's words");
        within(text, tree.lines[field.line].span, field.value, "a value");
        let mut open: Vec<&Row> = field.rows.iter().collect();
        while let Some(row) = open.pop() {
            within(text, tree.lines[row.line].span, row.body, "a row");
            open.extend(&row.rows);
        }
    }
    for field in &reading.fields {
        check_field(text, whole, field);
    }
}

fn check_field(text: &str, outer: Span, field: &FieldReading) {
    within(text, outer, field.whole, "a field");
    within(text, field.whole, field.word, "a field's words");
    match &field.body {
        Body::Running(_, span) => within(text, field.whole, *span, "running text"),
        Body::Items(items) => {
            for item in items {
                within(text, field.whole, item.span, "an item");
                within(text, item.span, item.core, "an item's value");
            }
        }
        Body::Rows(rows) => {
            for row in rows {
                within(text, field.whole, row.row.span, "a row");
                for name in &row.row.names {
                    within(text, row.row.span, name.span, "a row's name");
                    within(text, name.span, name.words, "a name's words");
                }
                if let Some(count) = row.row.count {
                    within(text, row.row.span, count.span, "a count");
                }
                for fact in &row.row.facts {
                    within(text, field.whole, fact.span, "a fact");
                }
                for field in &row.fields {
                    check_field(text, outer, field);
                }
            }
        }
        Body::Block(fields) => fields
            .iter()
            .for_each(|inner| check_field(text, field.whole, inner)),
        Body::Unknown => {}
    }
}

/// What was understood of a card, written without its places in the text.
fn told(text: &str) -> Vec<String> {
    let reading = read(text);
    let mut out = Vec::new();
    if let Some(head) = &reading.tree.head {
        out.push(format!("{} {:?}", head.kind, head.name));
    }
    reading
        .fields
        .iter()
        .for_each(|field| tell(text, field, &mut out));
    out
}

fn tell(text: &str, field: &FieldReading, out: &mut Vec<String>) {
    out.push(match field.spec {
        Some(spec) => format!("field {}", spec.name),
        None => format!("unknown {}", words(field.whole.slice(text))),
    });
    match &field.body {
        Body::Running(paragraphs, _) => out.extend(paragraphs.iter().cloned()),
        Body::Items(items) => {
            for item in items {
                let raw = item.value.is_none().then(|| words(item.core.slice(text)));
                out.push(format!(
                    "{:?} {:?} {raw:?} {} {} {} {}",
                    item.value, item.place, item.about, item.open, item.then, item.some
                ));
            }
        }
        Body::Rows(rows) => {
            for row in rows {
                for name in &row.row.names {
                    out.push(format!("name {} {:?} {}", name.text, name.numbers, name.open));
                }
                if let Some(count) = row.row.count {
                    out.push(format!("count {} {} {}", count.number, count.about, count.open));
                }
                for fact in &row.row.facts {
                    let what = placeless(&format!("{:?}", fact.what));
                    out.push(format!("fact {what} {} {}", fact.about, fact.open));
                }
                row.fields.iter().for_each(|field| tell(text, field, out));
                out.push(format!("under {:?}", row.under));
            }
        }
        Body::Block(fields) => fields.iter().for_each(|field| tell(text, field, out)),
        Body::Unknown => {}
    }
}

/// What is shown of something without its places in the text.
fn placeless(shown: &str) -> String {
    let mut pieces = shown.split("Span { ");
    let mut out = pieces.next().unwrap_or("").to_owned();
    for piece in pieces {
        out.push_str(piece.split_once('}').map_or(piece, |(_, rest)| rest));
    }
    out
}

fn words(text: &str) -> String {
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// Every remark of a text, those without parentheses as recopying writes them.
fn all_remarks(text: &str) -> Vec<String> {
    let written = remarks(text)
        .into_iter()
        .map(|(start, end)| words(&text[start..end]));
    let spoken = cut(text).into_iter().flat_map(|card| {
        let asides = read(card).asides;
        asides
            .into_iter()
            .map(|aside| format!("({})", words(aside.slice(card))))
            .collect::<Vec<_>>()
    });
    let mut all: Vec<String> = written.chain(spoken).collect();
    all.sort();
    all
}

/// Everything that must hold of the recopying of one file. Gives how many places were kept as they were.
pub fn check_recopy(text: &str) -> usize {
    let once = recopy_file(text, How::default());
    let twice = recopy_file(&once.text, How::default());
    assert_eq!(
        twice.text, once.text,
        "recopying twice changes nothing more, from {text:?}"
    );
    let (before, after) = (cut(text), cut(&once.text));
    let count = |cards: &[&str]| {
        cards
            .iter()
            .filter(|card| !card.trim_matches(['\u{feff}', '\n', '\r', ' ']).is_empty())
            .count()
    };
    assert_eq!(count(&before), count(&after), "no card comes or goes");
    let tell_all = |cards: &[&str]| cards.iter().flat_map(|card| told(card)).collect::<Vec<_>>();
    assert_eq!(
        tell_all(&before),
        tell_all(&after),
        "it says the same, from {text:?} to {:?}",
        once.text
    );
    assert_eq!(
        all_remarks(text),
        all_remarks(&once.text),
        "every remark is kept, from {text:?}"
    );
    once.kept_as_is.len()
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(256) })]

    #[test]
    fn any_bytes_can_be_read(bytes in proptest::collection::vec(any::<u8>(), 0..400)) {
        let text = String::from_utf8_lossy(&bytes).into_owned();
        cut(&text).into_iter().for_each(check_reading);
        check_recopy(&text);
    }

    #[test]
    fn any_letters_of_the_notation_can_be_read(
        text in "(piece \"[a-z]{0,3}\"|handbook|[ \t]{0,3}(by|grade|key|meter|parts|percussion|notes|stet|library|program|tempo|roadmap|movements)?)[ -~\r\n\t♭“”–½]{0,120}"
    ) {
        let card = format!("piece \"X\"\n{text}");
        cut(&card).into_iter().for_each(check_reading);
        check_recopy(&card);
    }

    #[test]
    fn slips_of_the_hand_harm_nothing(text in cards::slipped()) {
        cut(&text).into_iter().for_each(check_reading);
        check_recopy(&text);
    }

    #[test]
    fn cards_as_directors_write_them(text in cards::file()) {
        cut(&text).into_iter().for_each(check_reading);
        check_recopy(&text);
    }

    #[test]
    fn ordering_moves_fields_and_changes_none(text in cards::file()) {
        let how = How { order: true };
        let once = recopy_file(&text, how).text;
        prop_assert_eq!(&recopy_file(&once, how).text, &once);
        let sorted = |text: &str, of: fn(&str) -> Vec<String>| {
            let mut all: Vec<String> = cut(text).into_iter().flat_map(of).collect();
            all.sort();
            all
        };
        prop_assert_eq!(sorted(&text, told), sorted(&once, told));
        prop_assert_eq!(sorted(&text, all_remarks), sorted(&once, all_remarks));
    }

    #[test]
    fn running_text_keeps_every_word(text in "[a-z]{1,9}( {1,3}[!-~]{1,9}){0,12}") {
        let card = format!("piece \"X\"\n  notes {text}\n");
        let recopied = recopy_file(&card, How::default()).text;
        prop_assert_eq!(words(&card), words(&recopied));
    }
}

/// A comma struck twice before a joining word was drawn too seldom to be met every time.
#[test]
fn a_comma_twice_says_no_more_than_one() {
    for line in [
        "needs 2 flutes,, and 2 horns",
        "needs 2 flutes, , and 2 horns",
        "needs 2 flutes,,and 2 horns",
        "needs 2 flutes, and, 2 horns",
        "needs 2 flutes,,, plus 2 horns",
        "asks ties,, and slurs",
        "parts oboe,, and bassoon",
    ] {
        check_recopy(&format!("piece \"X\"\n  {line}\n"));
    }
}

#[test]
fn every_file_of_the_demo_and_the_test_catalogues() {
    for (path, text) in cards::files() {
        cut(&text).into_iter().for_each(check_reading);
        let kept = check_recopy(&text);
        assert_eq!(
            kept,
            0,
            "{}: the one form says the same everywhere",
            path.display()
        );
    }
}

#[test]
fn every_example_of_the_table_of_fields_is_in_the_one_form() {
    for kind in levare::notation::Kind::ALL {
        for spec in levare::notation::fields::fields_of(kind) {
            if matches!(spec.shape, Shape::Block(_) | Shape::Rows(_)) {
                continue;
            }
            let head = levare::notation::recopy::head(kind, "X");
            let line = levare::notation::recopy::field_line(2, spec.name, spec.example);
            let card = format!("{head}\n{line}\n");
            assert_eq!(recopy_file(&card, How::default()).text, card);
        }
    }
}

/// The guard that keeps a field as it is may only be needed where nobody would write so.
#[test]
fn cards_as_directors_write_them_need_no_guard() {
    use proptest::strategy::ValueTree;
    use proptest::test_runner::TestRunner;
    let mut runner = TestRunner::deterministic();
    for _ in 0..400 {
        let Ok(tree) = cards::file().new_tree(&mut runner) else {
            continue;
        };
        let text = tree.current();
        let recopied = recopy_file(&text, How::default());
        let kept: Vec<&str> = recopied
            .kept_as_is
            .iter()
            .map(|kept| kept.span.slice(&text))
            .collect();
        assert_eq!(kept, Vec::<&str>::new(), "from {text:?}");
    }
}

/// Lines that nobody writes, long enough that looking at each word from each other word would never end.
/// The test ends or it does not; no time is measured.
#[test]
fn endless_lines_are_read_in_the_end() {
    let pieces = [
        ("parts\n    x  ", "solo "),
        ("parts\n    x  ", "at 1 "),
        ("parts ", "a,"),
        ("tempo ", "a "),
        ("tempo ", "q=7 "),
        ("meter ", "4/4 at 1 "),
        ("percussion\n    ", "snare and "),
        ("holds ", "\"\" "),
        ("roadmap ", "1st and "),
        ("grade ", "("),
        ("lasts ", "1-"),
    ];
    for (lead, piece) in pieces {
        let text = format!("piece \"X\"\n  {lead}{}\n", piece.repeat(40_000 / piece.len()));
        check_reading(&text);
        check_recopy(&text);
    }
}
