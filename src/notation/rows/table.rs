//! Tables of parts, percussion, pages and head counts: names first, then what is said of them.

use super::names_of::{head_count, row_name};
use super::which::{numbered_parts, parts_counted, switches, which_bass};
use super::{after_colon, behind, empty_row, kettles, section, segments};
use crate::notation::build::trim_span;
use crate::notation::facts::sayings::Saying;
use crate::notation::facts::{self, pitched, relation};
use crate::notation::fields::RowsOf;
use crate::notation::heard::Ear;
use crate::notation::names;
use crate::notation::row::{Count, Fact, Relation, RowFact, RowItem, RowName};
use crate::notation::scan;
use crate::notation::values::place::bare_stretch;
use crate::notation::values::{Place, Point};
use crate::text::Span;

/// Words behind a head count that say that it is only near enough.
const NEAR_ENOUGH: [&str; 6] = [
    "give or take",
    "more or less",
    "or so",
    "roughly",
    "or thereabouts",
    "about",
];

/// Reads the rows on one line.
pub fn read(ear: &mut Ear, masked: &str, span: Span, line: usize, of: RowsOf, inline: bool) -> Vec<RowItem> {
    let text = span.slice(masked);
    if let Some(what) = facts::complete_with(text.trim_end_matches('?')) {
        ear.hear(span);
        let mut row = empty_row(span, line);
        row.facts.push(RowFact {
            span,
            about: false,
            open: text.ends_with('?'),
            what,
        });
        return vec![row];
    }
    if of == RowsOf::Players
        && let Some(rows) = section::read(ear, masked, span, line)
    {
        return rows;
    }
    let mut table = Table {
        ear,
        masked,
        line,
        of,
        inline,
        next_is_note: false,
        apart: false,
        rows: Vec::new(),
    };
    let all = segments(masked, span);
    for (at, segment) in all.iter().enumerate() {
        let next = all.get(at + 1).map(|next| next.slice(masked));
        table.next_is_note = of == RowsOf::Percussion && next.is_some_and(kettles::starts_with_note);
        table.segment(*segment, next);
    }
    let mut rows = table.rows;
    for row in &mut rows {
        switches(row);
    }
    if let [row] = rows.as_mut_slice() {
        row.span = span;
    }
    rows
}

struct Table<'t, 'e> {
    ear: &'e mut Ear,
    masked: &'t str,
    line: usize,
    of: RowsOf,
    inline: bool,
    /// Whether the next segment begins with a note that has no octave.
    next_is_note: bool,
    /// Whether the name before has its number of parts behind it, so that the next one starts a row.
    apart: bool,
    rows: Vec<RowItem>,
}

impl Table<'_, '_> {
    fn segment(&mut self, segment: Span, next: Option<&str>) {
        let masked = self.masked;
        let segment = bullet(masked, segment);
        let text = segment.slice(masked);
        let first = self.rows.iter().all(|row| row.names.is_empty());
        if first && self.counts(segment, text) {
            return;
        }
        // `percussion  optional, snare` says something of all of it before it names anything.
        if self.rows.is_empty() && facts::is_keyword(text) {
            self.new_row(segment);
            self.facts(segment);
            return;
        }
        if self.of == RowsOf::Players && (self.counts_first(segment) || self.joined_counts(segment)) {
            return;
        }
        if !first && self.more_numbers(segment, text) {
            return;
        }
        if !first && self.one_more_number(segment, text) {
            return;
        }
        if !first && self.one_of_its_numbers(segment, text) {
            return;
        }
        if !first && self.more_targets(segment, text) {
            return;
        }
        if !first && !self.starts_name(text) {
            self.facts(segment);
            return;
        }
        // `wind chimes + triangle, chimes 1, triangle 17`: what is said of one of them alone has no place in their row.
        if !self.inline && self.of == RowsOf::Percussion && self.names_again(text) {
            return;
        }
        let end = self.name_end(text, next);
        let said = self
            .rows
            .last()
            .is_some_and(|row| !row.facts.is_empty() || row.count.is_some());
        // Names that follow each other on a line of their own share what is said behind the last of them.
        if first || said || self.inline || std::mem::take(&mut self.apart) {
            self.new_row(segment);
        }
        self.names(segment, end);
    }

    /// Whether a segment begins with a name of the row once more, or with the last word of one.
    fn names_again(&self, text: &str) -> bool {
        let Some(row) = self.rows.last().filter(|row| !row.facts.is_empty()) else {
            return false;
        };
        let Some(end) = names::known_prefix(text) else {
            return false;
        };
        let name = names::in_full(text.get(..end).unwrap_or("")).to_lowercase();
        row.names.iter().any(|known| {
            let known = known.text.to_lowercase();
            known == name || known.strip_suffix(&name).is_some_and(|head| head.ends_with(' '))
        })
    }

    fn new_row(&mut self, segment: Span) {
        self.rows.push(empty_row(segment, self.line));
    }

    fn names(&mut self, segment: Span, end: usize) {
        let (masked, of) = (self.masked, self.of);
        let Some(row) = self.rows.last_mut() else { return };
        row.span = Span::new(row.span.start, segment.end);
        let whole = Span::long(segment.start, end as u32);
        let each = names::split_joined(whole.slice(masked));
        if each.len() > 1 {
            // Between names that are known stands nothing but what joins them.
            self.ear.hear(whole);
        }
        for span in each {
            let (names, count) = row_name(self.ear, masked, span.shift(i64::from(whole.start)), of);
            row.names.extend(names);
            row.count = row.count.or(count);
        }
        let mut rest = after_colon(masked, Span::new(segment.start + end as u32, segment.end));
        if let [name] = row.names.as_mut_slice()
            && let Some((full, taken)) = which_bass(&name.text, rest.slice(masked))
        {
            // `bass  electric`: which of them it is stands behind the name.
            name.text = full.to_owned();
            if taken > 0 {
                let kind = Span::long(rest.start, taken as u32);
                self.ear.hear(kind);
                name.span = Span::new(name.span.start, kind.end);
                name.words = name.span;
                rest = trim_span(masked, Span::new(kind.end, rest.end));
            }
        }
        if of == RowsOf::Parts
            && let [name] = row.names.as_mut_slice()
            && name.numbers.is_none()
            && let Some((last, taken)) = numbered_parts(&name.text, rest.slice(masked))
        {
            let counted = Span::long(rest.start, taken as u32);
            self.ear.hear(counted);
            name.numbers = Some((1, last));
            name.span = Span::new(name.span.start, counted.end);
            rest = trim_span(masked, Span::new(counted.end, rest.end));
            self.apart = true;
        }
        if !rest.is_empty() {
            self.facts(rest);
        }
    }

    fn name_end(&self, text: &str, next: Option<&str>) -> usize {
        let end = names::name_end(text, self.of == RowsOf::Parts || self.of == RowsOf::Pages);
        // No percussion part has a number above 4, and no wind part one above 9 (common practice, no source):
        // `triangle 11` is a measure, and so is the first of `crash cymbals 1, 17, 33`.
        let most = match self.of {
            RowsOf::Percussion => 4,
            RowsOf::Parts => 9,
            _ => return end,
        };
        let name = text.get(..end).unwrap_or(text);
        let cut = names::cut_number(name, false);
        let behind = text.get(end..).unwrap_or("").trim_start();
        let drums = ["of em", "of them", "drums"]
            .iter()
            .any(|word| scan::phrase(word)(behind).is_ok());
        if self.of == RowsOf::Percussion && drums && cut.numbers.is_some() && !cut.ordinal {
            return cut.words_at + cut.words.len();
        }
        let numbered = cut.numbers.is_some() && !cut.ordinal;
        let measure_next = next.is_some_and(|next| next.trim().parse::<u32>().is_ok_and(|next| next > most));
        let high = cut.numbers.is_some_and(|(_, last)| last > most);
        if numbered && (high || measure_next) {
            cut.words_at + cut.words.len()
        } else {
            end
        }
    }

    /// `9 parts`, `7 parts, 4-5 players`, `none`, `parts 7`: how many there are, without their names.
    fn counts(&mut self, segment: Span, text: &str) -> bool {
        let Some((number, taken)) = parts_counted(text, self.of) else {
            return false;
        };
        let counted = Span::long(segment.start, taken as u32);
        self.ear.hear(counted);
        let mut row = empty_row(segment, self.line);
        row.count = Some(Count {
            number,
            span: counted,
            about: text.starts_with("about"),
            open: text.get(..taken).is_some_and(|words| words.ends_with('?')),
        });
        self.rows.push(row);
        let rest = trim_span(self.masked, Span::new(counted.end, segment.end));
        if !rest.is_empty() {
            self.facts(rest);
        }
        true
    }

    /// `3 tbn 1 euph 0 tuba`, `fl 6 ob 0 cl 9`: head counts beside their names, where every word is one or the other.
    fn counts_first(&mut self, segment: Span) -> bool {
        let masked = self.masked;
        let mut rest = segment;
        let mut found: Vec<(Count, Span)> = Vec::new();
        let behind = names::known_prefix(segment.slice(masked)).is_some();
        while !rest.is_empty() {
            let Some((count, name)) = counted_name(masked, rest, behind) else {
                return false;
            };
            rest = trim_span(masked, Span::new(name.end.max(count.span.end), segment.end));
            found.push((count, name));
        }
        // A name and its count are a row as all others.
        if behind && found.len() < 2 {
            return false;
        }
        // One count and its name may as well be what some of the players above do.
        let none = found.iter().all(|(count, _)| count.number == 0);
        if found.is_empty() || (!self.rows.is_empty() && !none) {
            return false;
        }
        for (count, name) in found {
            let (names, _) = row_name(self.ear, masked, name, RowsOf::Parts);
            self.ear.hear(count.span);
            self.new_row(count.span.cover(name));
            if let Some(row) = self.rows.last_mut() {
                row.names.extend(names);
                row.count = Some(count);
            }
        }
        true
    }

    /// `cornets 7 and trumpets 2`: sections with their head counts on either side of the joint.
    fn joined_counts(&mut self, segment: Span) -> bool {
        let masked = self.masked;
        let text = segment.slice(masked);
        let Some((head, tail, joint)) = [" and ", " & "].iter().find_map(|joint| {
            text.split_once(joint)
                .map(|(head, tail)| (head, tail, joint.len()))
        }) else {
            return false;
        };
        let counted = |text: &str| {
            names::known_prefix(text).is_some_and(|end| {
                let digits = text.get(end..).unwrap_or("").trim();
                !digits.is_empty() && digits.chars().all(|c| c.is_ascii_digit())
            })
        };
        let middle = segment.start + head.len() as u32;
        // `flutes 6 and a piccolo`: one more, of another kind.
        let one = ["a ", "one ", "1 "].iter().find_map(|one| tail.strip_prefix(one));
        if let Some(name) = one
            && counted(head)
            && names::known_prefix(name) == Some(name.len())
        {
            self.joined_row(Span::new(segment.start, middle));
            let from = segment.end - name.len() as u32;
            let count = Span::new(middle + joint as u32, from);
            self.ear.hear(Span::new(middle, from));
            self.new_row(Span::new(count.start, segment.end));
            let (names, _) = row_name(self.ear, masked, Span::new(from, segment.end), RowsOf::Parts);
            if let Some(row) = self.rows.last_mut() {
                row.names.extend(names);
                row.count = Some(Count {
                    number: 1,
                    span: trim_span(masked, count),
                    about: false,
                    open: false,
                });
            }
            return true;
        }
        if !counted(head) || !counted(tail) {
            return false;
        }
        self.ear.hear(Span::long(middle, joint as u32));
        for span in [
            Span::new(segment.start, middle),
            Span::new(middle + joint as u32, segment.end),
        ] {
            self.joined_row(span);
        }
        true
    }

    fn joined_row(&mut self, span: Span) {
        self.new_row(span);
        let (names, count) = row_name(self.ear, self.masked, span, RowsOf::Players);
        if let Some(row) = self.rows.last_mut() {
            row.names.extend(names);
            row.count = count;
        }
    }

    /// `flute 1, 2`: more numbers of the part named last.
    fn more_numbers(&mut self, segment: Span, text: &str) -> bool {
        if !matches!(self.of, RowsOf::Parts) {
            return false;
        }
        let Some(row) = self.rows.last_mut().filter(|row| row.facts.is_empty()) else {
            return false;
        };
        let Some(name) = row.names.last_mut() else {
            return false;
        };
        // `2`, `about 2`, `II`: nothing else can be a number.
        if !text.starts_with(|c: char| c.is_ascii_digit() || matches!(c, ':' | 'a' | 'I')) {
            return false;
        }
        let more = format!("x {text}");
        let cut = names::cut_number(&more, true);
        if cut.words != "x" {
            return false;
        }
        let (Some((first, last)), Some((low, high))) = (cut.numbers, name.numbers) else {
            return false;
        };
        if first > 9 || last > 9 {
            return false;
        }
        self.ear.hear(segment);
        row.span = Span::new(row.span.start, segment.end);
        if first == high + 1 {
            name.numbers = Some((low, last));
            name.span = Span::new(name.span.start, segment.end);
        } else {
            let more = RowName {
                numbers: Some((first, last)),
                span: segment,
                // The words stand with the number before; here is only a figure.
                words: Span::at(segment.start),
                ..name.clone()
            };
            row.names.push(more);
        }
        true
    }

    /// `clarinet 1, 2 same part`: the next number of the part named last, and what is said of both.
    fn one_more_number(&mut self, segment: Span, text: &str) -> bool {
        let blank = text.find(scan::is_blank).unwrap_or(text.len());
        let Some((number, rest)) = text.split_at_checked(blank) else {
            return false;
        };
        let next = self.rows.last().and_then(|row| row.names.last()?.numbers);
        let goes_on = next
            .zip(number.parse::<u32>().ok())
            .is_some_and(|((_, last), number)| number == last.saturating_add(1));
        if rest.trim().is_empty() || !goes_on || names::number_length(&format!(" {text}"), true) == 0 {
            return false;
        }
        let head = Span::long(segment.start, blank as u32);
        if !self.more_numbers(head, number) {
            return false;
        }
        self.facts(trim_span(self.masked, Span::new(head.end, segment.end)));
        true
    }

    /// `clarinet 1-3, 1 over the break`: what is said of one part alone has no place in the row of all. Its number is
    /// not heard, and is told.
    fn one_of_its_numbers(&mut self, segment: Span, text: &str) -> bool {
        let row = self.rows.last().filter(|row| row.facts.is_empty());
        let Some((low, high)) = row.and_then(|row| row.names.last()?.numbers) else {
            return false;
        };
        let Ok((rest, number)) = scan::number(text) else {
            return false;
        };
        let said = rest.trim_start();
        let is_one = low < high && (low..=high).contains(&number) && said.len() < rest.len();
        if self.of != RowsOf::Parts || !is_one || scan::starts_with_figures(said) || !facts::starts_fact(said)
        {
            return false;
        }
        self.facts(Span::new(segment.end - said.len() as u32, segment.end));
        true
    }

    /// `instead of snare, bass drum and toms`: more names that the last relation stands to.
    fn more_targets(&mut self, segment: Span, text: &str) -> bool {
        let (masked, inline, of) = (self.masked, self.inline, self.of);
        let Some(row) = self.rows.last_mut() else {
            return false;
        };
        let Some(RowFact {
            span,
            what:
                Fact::Relation {
                    relation,
                    target,
                    targets,
                    target_span,
                    place: None,
                },
            ..
        }) = row.facts.last_mut()
        else {
            return false;
        };
        let is_for = *relation == Relation::For;
        if facts::starts_fact(text)
            || (inline && !is_for && !text.contains(" and "))
            || text.starts_with("part ")
        {
            return false;
        }
        if of == RowsOf::Players {
            return false;
        }
        let text = text.strip_prefix("and ").unwrap_or(text);
        let start = segment.end - text.len() as u32;
        let known = names::known_prefix(text).is_some() || names::ordinal_prefix(text).is_some();
        if !known && !is_for {
            return false;
        }
        let Some((more, taken)) = relation::targets(text, start) else {
            return false;
        };
        // A name with facts of its own starts a row.
        if !masked
            .get(start as usize + taken..segment.end as usize)
            .unwrap_or("")
            .trim_matches(['?', ' '])
            .is_empty()
        {
            return false;
        }
        self.ear.hear(segment);
        targets.extend(more);
        *target = relation::joined(targets);
        *target_span = Span::new(target_span.start, segment.end);
        *span = Span::new(span.start, segment.end);
        row.span = Span::new(row.span.start, segment.end);
        true
    }

    /// Whether a segment after the first starts a new name rather than a fact.
    fn starts_name(&self, text: &str) -> bool {
        // Behind a hundred facts nobody goes on with names, and each look for a near one takes its time.
        if self.rows.last().is_some_and(|row| row.facts.len() > 100) {
            return false;
        }
        // Most of what stands behind a comma are measures.
        if self.of == RowsOf::Pages || bare_stretch(text).is_some() {
            return false;
        }
        // `bars 1-8` are measures, though "bars" is short for a horn as well.
        let measures = ["bars", "bar"]
            .iter()
            .find_map(|unit| scan::after_phrase(text, unit));
        if measures.is_some_and(|behind| scan::starts_with_figures(behind.trim_start())) {
            return false;
        }
        // `flute has it in small notes`, `xylo is fine too` are said of the row.
        if relation::has_it(text, 0).is_some() || relation::if_none(text, 0).is_some() {
            return false;
        }
        // `all on cornet parts` is said of those before it.
        if self.of == RowsOf::Players && facts::some(text).is_some() {
            return false;
        }
        if let Some(name) = names::known_prefix(text) {
            // `snares off` is said of the drum.
            let said = Saying::leading(text).map_or(0, |(rest, _)| text.len() - rest.len());
            return said <= name + 1;
        }
        if names::ordinal_prefix(text).is_some() {
            return names::bare(text).len() < text.len() || !facts::starts_fact(text);
        }
        if !self.inline || facts::starts_fact(text) {
            return false;
        }
        match self.of {
            RowsOf::Players => !text.starts_with(|c: char| c.is_ascii_digit()) && has_count(text),
            RowsOf::Percussion => true,
            _ => text.starts_with("part ") || names::nearest_known(text).is_some(),
        }
    }

    fn facts(&mut self, segment: Span) {
        let (masked, of) = (self.masked, self.of);
        if self.rows.is_empty() {
            self.new_row(segment);
        }
        let Some(row) = self.rows.last_mut() else { return };
        row.span = Span::new(row.span.start, segment.end);
        if of == RowsOf::Players
            && row.count.is_none()
            && let Some(count) = head_count(masked, segment)
        {
            self.ear.hear(segment);
            row.count = Some(count);
            return;
        }
        if of == RowsOf::Players && row.count.is_none() && self.count_and_more(segment) {
            return;
        }
        let Some(row) = self.rows.last_mut() else { return };
        // `horn 3 + 1 beginner`: those behind the sign come on top of the number.
        let added = ["+ ", "plus "]
            .iter()
            .find_map(|joint| segment.slice(masked).strip_prefix(joint))
            .and_then(facts::some);
        if of == RowsOf::Players
            && let Some((
                Fact::Some {
                    count: Some(more),
                    can: crate::notation::row::Can::Standing(_),
                },
                _,
            )) = added
            && let Some(count) = &mut row.count
        {
            count.number = count.number.saturating_add(more);
        }
        // `trumpet 9 or 10`: near the greater.
        if of == RowsOf::Players
            && let Some(count) = &mut row.count
            && !count.about
            && let Some(other) = scan::after_phrase(segment.slice(masked), "or")
            && let Some(more) = crate::notation::values::number_in_words(other.trim())
            && more > count.number
            && more - count.number <= 3
        {
            self.ear.hear(segment);
            (count.number, count.about) = (more, true);
            return;
        }
        if of == RowsOf::Players
            && let Some(count) = &mut row.count
            && NEAR_ENOUGH
                .iter()
                .any(|words| segment.slice(masked).eq_ignore_ascii_case(words))
        {
            self.ear.hear(segment);
            count.about = true;
            return;
        }
        // `11, of whom 4 have not crossed the break`: all others have.
        if of == RowsOf::Players
            && let Some(count) = row.count.filter(|count| !count.about && !count.open)
            && let Some((without, taken)) = facts::not_over_the_break(segment.slice(masked))
            && without <= count.number
            && taken == segment.slice(masked).len()
        {
            self.ear.hear(segment);
            row.facts.push(RowFact {
                span: segment,
                about: false,
                open: false,
                what: Fact::Some {
                    count: Some(count.number - without),
                    can: crate::notation::row::Can::OverTheBreak,
                },
            });
            return;
        }
        if row.names.iter().any(|name| names::is_the_usual(&name.text))
            && let Some((what, taken)) = relation::without(segment.slice(masked), segment.start)
        {
            let span = Span::long(segment.start, taken as u32);
            self.ear.hear(span);
            row.facts.push(RowFact {
                span,
                about: false,
                open: false,
                what,
            });
            let rest = trim_span(masked, Span::new(span.end, segment.end));
            if !rest.is_empty() {
                self.facts(rest);
            }
            return;
        }
        // A roster has no measures: a figure that is no head count is a slip.
        let digits = |c: char| c.is_ascii_digit() || matches!(c, ',' | '?');
        if of == RowsOf::Players && segment.slice(masked).chars().all(digits) {
            return;
        }
        // `F and C` on timpani are notes whose octave is not said, and no rehearsal marks.
        let timpani = |name: &RowName| {
            let head = name.text.get(..4);
            head.is_some_and(|head| head.eq_ignore_ascii_case("timp"))
        };
        let timpani = of == RowsOf::Percussion && row.names.iter().any(timpani);
        if timpani && kettles::facts(self.ear, masked, segment, self.next_is_note, row, of) {
            return;
        }
        if timpani && pitched::are_bare_notes(segment.slice(masked)) {
            return;
        }
        if matches!(of, RowsOf::Parts | RowsOf::Percussion)
            && let Some((fact, taken)) = behind::of_another_number(segment.slice(masked), segment.start, row)
        {
            let span = Span::long(segment.start, taken as u32);
            self.ear.hear(span);
            row.facts.push(RowFact {
                span,
                about: false,
                open: false,
                what: fact,
            });
            let rest = trim_span(masked, Span::new(span.end, segment.end));
            if !rest.is_empty() {
                self.facts(rest);
            }
            return;
        }
        // `9-16, on the repeat only` says in which pass it plays there; alone it would be so of the whole piece.
        if behind::says_only_passes(segment.slice(masked), of) && behind::plays_somewhere(row) {
            return;
        }
        let then = scan::after_phrase(segment.slice(masked), "then").is_some();
        let (segment, after) = behind::after_that(self.ear, masked, segment, row);
        let read = facts::read(self.ear, masked, segment, of);
        behind::extend(row, read, then, after, of);
    }
}

/// A head count and its name at the start of a stretch; the count stands behind the name where `behind` says so.
fn counted_name(masked: &str, rest: Span, behind: bool) -> Option<(Count, Span)> {
    let number = |at: u32| {
        let text = Span::new(at, rest.end).slice(masked);
        let none = scan::phrase("no")(text).map(|(tail, _)| (tail, 0));
        let (tail, number) = scan::number(text).or(none).ok()?;
        let span = Span::long(at, (text.len() - tail.len()) as u32);
        Some(Count {
            number,
            span,
            about: false,
            open: false,
        })
    };
    let name = |at: u32| {
        let end = names::known_prefix(Span::new(at, rest.end).slice(masked))?;
        Some(Span::long(at, end as u32))
    };
    // Behind a blank, or none.
    let next = |at: u32| {
        let text = Span::new(at, rest.end).slice(masked);
        let blank = text.len() - text.trim_start().len();
        (blank > 0).then_some(at + blank as u32)
    };
    if behind {
        let name = name(rest.start)?;
        let count = number(next(name.end)?)?;
        let ends = count.span.end == rest.end || next(count.span.end).is_some();
        return ends.then_some((count, name));
    }
    let count = number(rest.start)?;
    Some((count, name(next(count.span.end)?)?))
}

/// `5 + me`, `3 + 1 beg.`: a head count with somebody beside it.
impl Table<'_, '_> {
    fn count_and_more(&mut self, segment: Span) -> bool {
        let text = segment.slice(self.masked);
        let Ok((rest, mut number)) = scan::number(text) else {
            return false;
        };
        let digits = text.len() - rest.len();
        let bare = rest.trim_start();
        let joint = ["+", "&", "and ", "plus "]
            .iter()
            .find(|joint| bare.starts_with(**joint));
        let Some(joint) = joint.filter(|_| bare.len() < rest.len()) else {
            return false;
        };
        let behind = bare.get(joint.len()..).unwrap_or("").trim_start();
        // Those behind the joint come on top of the number.
        if let Some((
            Fact::Some {
                count: Some(more), ..
            },
            _,
        )) = facts::some(behind)
        {
            number = number.saturating_add(more);
        }
        let counted = Span::long(segment.start, digits as u32);
        let tail = Span::new(segment.end - behind.len() as u32, segment.end);
        self.ear.hear(Span::new(counted.start, tail.start));
        if let Some(row) = self.rows.last_mut() {
            row.count = Some(Count {
                number,
                span: counted,
                about: false,
                open: false,
            });
        }
        self.facts(tail);
        true
    }
}

/// A segment without the bullet that some people put before each line.
fn bullet(masked: &str, segment: Span) -> Span {
    let text = segment.slice(masked);
    let rest = text.trim_start_matches(['•', '*', '-', '–']);
    trim_span(masked, Span::new(segment.end - rest.len() as u32, segment.end))
}

fn has_count(text: &str) -> bool {
    text.ends_with(|c: char| c.is_ascii_digit())
}

/// Whether a place is one measure.
pub fn is_one_measure(place: &Place) -> bool {
    matches!(place, Place::Between(Point::Measure(first), Point::Measure(last)) if first == last)
}
