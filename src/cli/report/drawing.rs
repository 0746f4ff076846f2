//! Lines of a card with marks under the words in question, drawn with ariadne.
//!
//! ariadne is handed only the lines in question, made fit to be shown and cut to the width, and what it
//! draws around them (a head, arrows, a frame) is left out: there is a margin with the lines' numbers, the
//! lines, and a rule under the words.

use std::collections::BTreeMap;

use ariadne::{Config, IndexType, Label, LabelAttach, Report, ReportKind, Source};

use super::Place;
use crate::cli::wrap::{columns, head, plain};
use crate::findings::Severity;
use crate::text::{Lines, Span, floor};

use crate::cli::color::Paint;

/// A mark over more lines is shown on its first ones.
const MOST_LINES: usize = 4;
/// Columns of the margin, its blanks included.
const MARGIN: usize = 8;
/// What stands where a line was cut.
const CUT: &str = "…";

/// Draws the places, which are all in one file, within `width` columns.
pub fn draw(places: &[Place<'_>], width: usize, severity: Severity, paint: Paint) -> Vec<String> {
    let Some(first) = places.first() else {
        return Vec::new();
    };
    let text = &first.sheet.text;
    let mut marks: BTreeMap<u32, Vec<Span>> = BTreeMap::new();
    let mut more = 0usize;
    for place in places {
        for (line, span) in by_line(text, &place.lines, place.span) {
            if marks.len() < MOST_LINES || marks.contains_key(&line) {
                marks.entry(line).or_default().push(span);
            } else {
                more = more.saturating_add(1);
            }
        }
    }
    let shown: Vec<(u32, Strip)> = marks
        .into_iter()
        .map(|(line, spans)| {
            let strip = Strip::of(text, first.lines.line_span(line), &spans, width.saturating_sub(MARGIN));
            (line, strip)
        })
        .collect();
    let strips: Vec<&Strip> = shown.iter().map(|(_, strip)| strip).collect();
    let rules = rules(&strips);
    let mut drawn = Vec::new();
    let mut last: Option<u32> = None;
    for (index, (line, strip)) in shown.iter().enumerate() {
        if last.is_some_and(|last| last.saturating_add(1) < *line) {
            drawn.push(paint.margin("      ┊").trim_end().to_owned());
        }
        last = Some(*line);
        let number = paint.margin(&format!("{:>5} ┊", line.saturating_add(1)));
        drawn.push(format!("{number} {}", strip.text).trim_end().to_owned());
        if let Some(rule) = rules.get(index).filter(|rule| !rule.is_empty()) {
            drawn.push(format!("{} {}", paint.margin("      ┊"), inked(rule, severity, paint)));
        }
    }
    if more > 0 {
        let lines = if more == 1 { "line" } else { "lines" };
        let words = format!("and {more} {lines} more");
        drawn.push(format!("{} {}", paint.margin("      ┊"), paint.quiet(&words)));
    }
    drawn
}

/// The rule with ink on its strokes and none on the blanks before them.
fn inked(rule: &str, severity: Severity, paint: Paint) -> String {
    let strokes = rule.trim_start();
    let blanks = rule.len().saturating_sub(strokes.len());
    let blanks = rule.get(..blanks).unwrap_or("");
    format!("{blanks}{}", paint.strength(severity, strokes))
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
    marks: Vec<Span>,
}

impl Strip {
    /// Cuts a line to the width, around its first mark where it is long.
    fn of(text: &str, line: Span, marks: &[Span], width: usize) -> Strip {
        let whole = plain(line.slice(text));
        let marks: Vec<Span> = marks
            .iter()
            .map(|mark| mark.shift(-i64::from(line.start)))
            .collect();
        if columns(&whole) <= width {
            return Strip {
                marks: marks.iter().map(|mark| visible(&whole, *mark)).collect(),
                text: whole,
            };
        }
        let room = width.saturating_sub(2);
        let start = marks.first().map_or(0, |mark| floor(&whole, mark.start as usize));
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
        let right = if from.saturating_add(kept.len()) < whole.len() { CUT } else { "" };
        let to = from.saturating_add(kept.len());
        let marks = marks
            .iter()
            .filter(|mark| (mark.start as usize) < to && (mark.end as usize) >= from)
            .map(|mark| {
                let inside = Span::new(
                    (mark.start as usize).max(from) as u32,
                    (mark.end as usize).min(to) as u32,
                );
                visible(&whole, inside).shift(left.len() as i64 - from as i64)
            })
            .collect();
        Strip {
            text: format!("{left}{kept}{right}"),
            marks,
        }
    }
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

/// The rule under each strip, as ariadne draws it; empty where nothing is marked.
fn rules(strips: &[&Strip]) -> Vec<String> {
    let mut source = String::new();
    let mut labels = Vec::new();
    for strip in strips {
        let start = source.len();
        for mark in &strip.marks {
            let range = start + mark.start as usize..start + mark.end as usize;
            // An empty message makes ariadne draw the stroke; without one it would only color.
            labels.push(Label::new(range).with_message(""));
        }
        source.push_str(&strip.text);
        source.push('\n');
    }
    let mut rules = vec![String::new(); strips.len()];
    let config = Config::new()
        .with_color(false)
        .with_index_type(IndexType::Byte)
        .with_label_attach(LabelAttach::Start);
    let report = Report::build(ReportKind::Advice, 0..0)
        .with_config(config)
        .with_labels(labels)
        .finish();
    let mut drawn = Vec::new();
    if report.write(Source::from(source.as_str()), &mut drawn).is_err() {
        return rules;
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
        } else if let Some(rule) = above.take().and_then(|index| rules.get_mut(index)) {
            let strokes = rest.strip_prefix(' ').unwrap_or(rest).replace('┬', "─");
            *rule = strokes.trim_end().to_owned();
        }
    }
    rules
}

#[cfg(test)]
mod tests;
