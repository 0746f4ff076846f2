//! A rule's manual page, taken apart: what it notices, why it matters, examples, what to do.

use crate::text::Span;

/// A rule's page.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Page {
    /// What it notices.
    pub notices: String,
    /// Why it matters in the band room.
    pub why: String,
    /// Examples that draw the finding.
    pub draws: Vec<Example>,
    /// Examples that look like it and do not.
    pub does_not: Vec<Example>,
    /// Words between the examples.
    pub words: String,
    /// What to do.
    pub todo: String,
}

/// An example in the notation.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Example {
    /// The catalogue, one file.
    pub text: String,
    /// The places marked under the text with `^`, in bytes.
    pub marks: Vec<Span>,
}

/// Takes a page apart. Lines of the doc comment keep the blank they start with; it is taken off here.
pub fn parse(page: &str) -> Page {
    let mut parsed = Page {
        notices: String::new(),
        why: String::new(),
        draws: Vec::new(),
        does_not: Vec::new(),
        words: String::new(),
        todo: String::new(),
    };
    let mut heading = "";
    let mut code: Option<String> = None;
    for line in page.lines() {
        let line = line.strip_prefix(' ').unwrap_or(line);
        if let Some(mut text) = code.take() {
            if line.trim_end() == "```" {
                let example = example(&text);
                match heading {
                    "Draws it" => parsed.draws.push(example),
                    _ => parsed.does_not.push(example),
                }
            } else {
                text.push_str(line);
                text.push('\n');
                code = Some(text);
            }
            continue;
        }
        if line.starts_with("```") {
            code = Some(String::new());
        } else if let Some(title) = line.strip_prefix("# ") {
            heading = title;
        } else {
            let part = match heading {
                "" => &mut parsed.notices,
                "Why it matters" => &mut parsed.why,
                "What to do" => &mut parsed.todo,
                _ => &mut parsed.words,
            };
            add_line(part, line);
        }
    }
    parsed
}

fn add_line(part: &mut String, line: &str) {
    let line = line.trim();
    if line.is_empty() {
        if !part.is_empty() && !part.ends_with("\n\n") {
            part.push_str("\n\n");
        }
        return;
    }
    if !part.is_empty() && !part.ends_with('\n') {
        part.push(' ');
    }
    part.push_str(line);
}

/// Takes the marks from under an example's lines.
pub fn example(text: &str) -> Example {
    let mut example = Example {
        text: String::new(),
        marks: Vec::new(),
    };
    let mut last_start = 0usize;
    for line in text.split_inclusive('\n') {
        let bare = line.trim();
        if !bare.is_empty() && bare.chars().all(|c| c == '^' || c == ' ') {
            let above = example
                .text
                .get(last_start..)
                .unwrap_or("")
                .trim_end_matches('\n')
                .to_owned();
            example
                .marks
                .extend(marks_under(line, &above).map(|span| span.shift(last_start as i64)));
        } else {
            last_start = example.text.len();
            example.text.push_str(line);
        }
    }
    example
}

/// The marked places of a line, counted in characters under the line above and given in its bytes.
fn marks_under<'a>(marks: &'a str, above: &'a str) -> impl Iterator<Item = Span> + 'a {
    let byte_at = |column: usize| above.char_indices().nth(column).map_or(above.len(), |(at, _)| at) as u32;
    let columns: Vec<char> = marks.trim_end_matches(['\n', '\r']).chars().collect();
    let mut spans = Vec::new();
    let mut start = None;
    for column in 0..=columns.len() {
        match (columns.get(column) == Some(&'^'), start) {
            (true, None) => start = Some(column),
            (false, Some(from)) => {
                spans.push(Span::new(byte_at(from), byte_at(column)));
                start = None;
            }
            _ => {}
        }
    }
    spans.into_iter()
}
