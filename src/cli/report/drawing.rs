//! Lines of a card as they stand on it, with a pencil ring around the words in question.
//!
//! ariadne is handed only the lines in question, made fit to be shown and cut to the width; of what it draws,
//! only the place of the strokes is kept: that is where the ring goes.

use std::collections::BTreeMap;

use ariadne::{Config, IndexType, Label, LabelAttach, Report, ReportKind, Source};

use super::Place;
use crate::cli::wrap::{columns, head, plain};
use crate::findings::Severity;
use crate::text::{Lines, Span, floor};

use crate::cli::color::Paint;

/// A mark over more lines is shown on its first ones.
const MOST_LINES: usize = 4;
/// Columns before a line of a card; the ring needs one of them.
pub const MARGIN: usize = 4;
/// What stands where a line was cut.
const CUT: &str = "…";

/// Words to show.
pub struct Mark<'p, 'r> {
    /// Where they are.
    pub place: &'p Place<'r>,
    /// Whether they are the words in question, which get the ring; others are only shown.
    pub ringed: bool,
}

/// How a drawing is made.
#[derive(Debug, Clone, Copy)]
pub struct Manner {
    /// Columns it may take.
    pub width: usize,
    /// The ink of the words in question.
    pub severity: Severity,
    /// Inks.
    pub paint: Paint,
}

/// Draws the lines of the marks, whose places are all in one file.
pub fn draw(marks: &[Mark<'_, '_>], manner: Manner) -> Vec<String> {
    let Some(first) = marks.first() else {
        return Vec::new();
    };
    let text = &first.place.sheet.text;
    let mut lines: BTreeMap<u32, Vec<(Span, bool)>> = BTreeMap::new();
    let mut more = 0usize;
    for mark in marks {
        let by_line = by_line(text, &mark.place.lines, mark.place.span);
        more = more.saturating_add(by_line.len().saturating_sub(MOST_LINES));
        for (line, span) in by_line.into_iter().take(MOST_LINES) {
            lines.entry(line).or_default().push((span, mark.ringed));
        }
    }
    let room = manner.width.saturating_sub(MARGIN).saturating_sub(1);
    let strips: Vec<Strip> = lines
        .iter()
        .map(|(line, marks)| Strip::of(text, first.place.lines.line_span(*line), marks, room))
        .collect();
    let strokes = strokes(&strips);
    let mut drawn = Vec::new();
    let mut last: Option<u32> = None;
    for ((line, strip), strokes) in lines.keys().zip(&strips).zip(&strokes) {
        let ring = Ring::around(strokes);
        // Lines left out between are a gap; the ring makes one by itself.
        if last.is_some_and(|last| last.saturating_add(1) < *line) && ring.is_none() {
            drawn.push(String::new());
        }
        last = Some(*line);
        let row = format!("{:MARGIN$}{}", "", strip.inked(manner));
        let row = row.trim_end().to_owned();
        match ring {
            Some(ring) => drawn.extend([ring.row('╭', '╮', manner), row, ring.row('╰', '╯', manner)]),
            None => drawn.push(row),
        }
    }
    if more > 0 {
        let lines = if more == 1 { "line" } else { "lines" };
        let words = format!("and {more} {lines} more");
        drawn.push(format!("{:MARGIN$}{}", "", manner.paint.quiet(&words)));
    }
    drawn
}

/// The rings of one line, as the columns they are drawn around, counted from the start of the line.
struct Ring(Vec<(usize, usize)>);

impl Ring {
    /// Rings around strokes; strokes a column apart share one.
    fn around(strokes: &str) -> Option<Ring> {
        let mut rings: Vec<(usize, usize)> = Vec::new();
        for (column, c) in strokes.chars().enumerate() {
            match rings.last_mut() {
                _ if c == ' ' => {}
                Some((_, end)) if column <= end.saturating_add(1) => *end = column.saturating_add(1),
                _ => rings.push((column, column.saturating_add(1))),
            }
        }
        (!rings.is_empty()).then_some(Ring(rings))
    }

    /// The upper or the lower half, one column wider than the words on either side.
    fn row(&self, left: char, right: char, manner: Manner) -> String {
        let mut row = String::new();
        let mut at = 0;
        for (start, end) in &self.0 {
            let from = start.saturating_add(MARGIN).saturating_sub(1);
            row.push_str(&" ".repeat(from.saturating_sub(at)));
            let long = end.saturating_sub(*start);
            let half = format!("{left}{}{right}", "─".repeat(long));
            row.push_str(&manner.paint.strength(manner.severity, &half));
            at = end.saturating_add(MARGIN).saturating_add(1);
        }
        row
    }
}

/// The stretch of the span on each of its lines, without the blanks around it.
fn by_line(text: &str, lines: &Lines, span: Span) -> Vec<(u32, Span)> {
    let first = lines.line_at(span.start);
    let last = lines.line_at(span.end.max(span.start));
    let mut found = Vec::new();
    for line in first..=last {
        let whole = lines.line_span(line);
        let inside = Span::new(span.start.max(whole.start), span.end.min(whole.end));
        let words = inside.slice(text);
        let before = words.len().saturating_sub(words.trim_start().len());
        let trimmed = Span::long(
            inside.start.saturating_add(before as u32),
            words.trim().len() as u32,
        );
        // Blanks alone are marked only where nothing else is.
        if !trimmed.is_empty() {
            found.push((line, trimmed));
        } else if first == last {
            found.push((line, inside));
        }
    }
    found
}

/// One line as it is shown, and the marks in it.
struct Strip {
    text: String,
    /// Where, in bytes of the text, and whether they are the words in question.
    marks: Vec<(Span, bool)>,
}

impl Strip {
    /// The line with the marked words in ink: those in question as strong as the finding, others bold.
    fn inked(&self, manner: Manner) -> String {
        let mut marks = self.marks.clone();
        marks.sort_by_key(|(mark, ringed)| (mark.start, !ringed));
        let mut inked = String::new();
        let mut at = 0;
        for (mark, ringed) in marks.into_iter().filter(|(mark, _)| !mark.is_empty()) {
            if mark.start < at {
                continue;
            }
            inked.push_str(Span::new(at, mark.start).slice(&self.text));
            let words = mark.slice(&self.text);
            inked.push_str(&match ringed {
                true => manner.paint.strength(manner.severity, words),
                false => manner.paint.bold(words),
            });
            at = mark.end;
        }
        inked.push_str(self.text.get(at as usize..).unwrap_or(""));
        inked
    }

    /// Cuts a line to the width, around its first mark where it is long.
    fn of(text: &str, line: Span, marks: &[(Span, bool)], width: usize) -> Strip {
        let inside = |mark: &Span| mark.shift(-i64::from(line.start));
        let (whole, tabs) = without_tabs(&plain(line.slice(text)));
        let marks: Vec<(Span, bool)> = marks
            .iter()
            .map(|(mark, ringed)| (moved(inside(mark), &tabs), *ringed))
            .collect();
        if columns(&whole) <= width {
            return Strip {
                marks: marks
                    .iter()
                    .map(|(mark, ringed)| (visible(&whole, *mark), *ringed))
                    .collect(),
                text: whole,
            };
        }
        let room = width.saturating_sub(2);
        let main = marks.iter().find(|(_, ringed)| *ringed).or(marks.first());
        let start = main.map_or(0, |(mark, _)| floor(&whole, mark.start as usize));
        // The first mark begins in the first third when the line's head has to go.
        let lead = columns(whole.get(..start).unwrap_or(""));
        let from = if lead.saturating_add(12) <= room {
            0
        } else {
            let skip = lead.saturating_sub(room / 3);
            head(&whole, skip).len()
        };
        let kept = head(whole.get(from..).unwrap_or(""), room);
        let left = if from > 0 { CUT } else { "" };
        let right = if from.saturating_add(kept.len()) < whole.len() {
            CUT
        } else {
            ""
        };
        let to = from.saturating_add(kept.len());
        let text = format!("{left}{kept}{right}");
        let marks = marks
            .iter()
            .filter(|(mark, _)| (mark.start as usize) < to && (mark.end as usize) >= from)
            .map(|(mark, ringed)| {
                let inside = Span::new(
                    (mark.start as usize).max(from) as u32,
                    (mark.end as usize).min(to) as u32,
                );
                (
                    visible(&text, inside.shift(left.len() as i64 - from as i64)),
                    *ringed,
                )
            })
            .collect();
        Strip { text, marks }
    }
}

/// The line with every tab as blanks up to the next fourth column, and for each tab where it stood and how
/// many bytes more there are from there on.
fn without_tabs(line: &str) -> (String, Vec<(usize, usize)>) {
    let mut set = String::with_capacity(line.len());
    let mut tabs = Vec::new();
    for (at, c) in line.char_indices() {
        if c == '\t' {
            let column = columns(&set);
            set.push_str(&" ".repeat(4 - column % 4));
            tabs.push((at, set.len().saturating_sub(at).saturating_sub(1)));
        } else {
            set.push(c);
        }
    }
    (set, tabs)
}

/// A mark where it stands once the tabs are blanks.
fn moved(mark: Span, tabs: &[(usize, usize)]) -> Span {
    let moved = |offset: u32| {
        let before = tabs.partition_point(|(at, _)| *at < offset as usize);
        let more = before.checked_sub(1).and_then(|last| tabs.get(last));
        offset.saturating_add(more.map_or(0, |(_, more)| *more as u32))
    };
    Span::new(moved(mark.start), moved(mark.end))
}

/// A mark that can be seen: on whole characters, and where it is empty, on the character after it or else
/// the one before.
fn visible(line: &str, mark: Span) -> Span {
    let range = mark.range(line);
    if !range.is_empty() {
        return Span::new(range.start as u32, range.end as u32);
    }
    let at = range.start;
    let after = line.get(at..).and_then(|rest| rest.chars().next());
    let before = line.get(..at).and_then(|rest| rest.chars().next_back());
    match (after.filter(|c| !c.is_whitespace()), before) {
        (Some(c), _) => Span::long(at as u32, c.len_utf8() as u32),
        (None, Some(c)) => Span::new(at.saturating_sub(c.len_utf8()) as u32, at as u32),
        (None, None) => Span::at(at as u32),
    }
}

/// The characters that take a column; ariadne gives one also to those that take none.
fn seen(words: &str) -> impl Iterator<Item = char> {
    words.chars().filter(|c| columns(c.encode_utf8(&mut [0; 4])) > 0)
}

/// The strokes under the words in question of each strip, as ariadne draws them; empty where none are.
fn strokes(strips: &[Strip]) -> Vec<String> {
    let mut source = String::new();
    let mut characters = 0usize;
    let mut labels = Vec::new();
    for strip in strips {
        let start = characters;
        for (mark, _) in strip.marks.iter().filter(|(_, ringed)| *ringed) {
            // Counted in characters: ariadne cannot end a span of bytes on a character of several.
            let before = seen(Span::new(0, mark.start).slice(&strip.text)).count();
            let long = seen(mark.slice(&strip.text)).count();
            // An empty label would be drawn on the line above it too.
            if long == 0 {
                continue;
            }
            let range = start + before..start + before + long;
            // An empty message makes ariadne draw the stroke; without one it would only color.
            labels.push(Label::new(range).with_message(""));
        }
        source.extend(seen(&strip.text));
        source.push('\n');
        characters += seen(&strip.text).count() + 1;
    }
    let mut under = vec![String::new(); strips.len()];
    let config = Config::new()
        .with_color(false)
        .with_index_type(IndexType::Char)
        .with_label_attach(LabelAttach::Start);
    let report = Report::build(ReportKind::Advice, 0..0)
        .with_config(config)
        .with_labels(labels)
        .finish();
    let mut drawn = Vec::new();
    if report.write(Source::from(source.as_str()), &mut drawn).is_err() {
        return under;
    }
    // Rows are told by their margin: a number and a bar begin a line of the source, and the row after it
    // holds the strokes.
    let drawn = String::from_utf8_lossy(&drawn);
    let mut above: Option<usize> = None;
    for row in drawn.lines() {
        let Some((margin, rest)) = row.split_once('│') else {
            continue;
        };
        if let Ok(number) = margin.trim().parse::<usize>() {
            above = number.checked_sub(1);
        } else if let Some(row_under) = above.take().and_then(|index| under.get_mut(index)) {
            let strokes = rest.strip_prefix(' ').unwrap_or(rest).replace('┬', "─");
            *row_under = strokes.trim_end().to_owned();
        }
    }
    under
}

#[cfg(test)]
mod tests;
