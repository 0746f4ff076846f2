//! The little Markdown that hovers and offers are written in: what stands on a card stays what it is there, and
//! the same text reads well where no Markdown is shown.

/// Words of a card, so that nothing in them is taken for Markdown or for a link.
pub fn words(text: &str) -> String {
    let mut out = String::with_capacity(text.len());
    // A number with a point, or a dash, begins a list only at the start of a line.
    let start = text.len() - text.trim_start_matches(|c: char| c.is_ascii_digit()).len();
    for (at, c) in text.char_indices() {
        let rest = text.get(at + c.len_utf8()..).unwrap_or("");
        let means = match c {
            '\\' | '`' | '*' | '_' | '[' | ']' | '<' | '|' | '~' | '@' => true,
            '-' | '+' | '#' | '>' | '=' => at == 0,
            '.' | ')' => {
                start > 0 && at == start && (rest.is_empty() || rest.starts_with(' '))
                    || c == '.' && ends_in_www(text, at)
            }
            '&' => rest.starts_with(|c: char| c == '#' || c.is_ascii_alphanumeric()),
            // An address would become a link.
            ':' => rest.starts_with("//"),
            '!' => rest.starts_with('['),
            _ => false,
        };
        if means {
            out.push('\\');
        }
        // A line break of a card would end the paragraph's line.
        out.push(if c.is_control() { ' ' } else { c });
    }
    out
}

fn ends_in_www(text: &str, at: usize) -> bool {
    let head = text.get(..at).unwrap_or("");
    head.len() >= 3
        && head
            .get(head.len() - 3..)
            .is_some_and(|www| www.eq_ignore_ascii_case("www"))
}

/// A text of ours without its marks, for an editor that shows none.
pub fn plain(markdown: &str) -> String {
    let mut lines: Vec<String> = Vec::new();
    let mut fenced = false;
    for line in markdown.lines() {
        if line.starts_with("```") {
            fenced = !fenced;
            continue;
        }
        if fenced {
            lines.push(line.to_owned());
            continue;
        }
        // Pictures are for those who see them; the words beside them say the same.
        if line == "---" || line.starts_with("![") {
            continue;
        }
        lines.push(unmarked(line.trim_end()));
    }
    let mut out = String::new();
    let mut empty = 0;
    for line in lines {
        empty = if line.is_empty() { empty + 1 } else { 0 };
        if empty > 1 || line.is_empty() && out.is_empty() {
            continue;
        }
        out.push_str(&line);
        out.push('\n');
    }
    out.trim_end().to_owned()
}

fn unmarked(line: &str) -> String {
    let mut out = String::with_capacity(line.len());
    let mut rest = line.chars().peekable();
    while let Some(c) = rest.next() {
        match c {
            '\\' => match rest.peek() {
                Some(next) if next.is_ascii_punctuation() => out.extend(rest.next()),
                _ => out.push(c),
            },
            '*' if rest.peek() == Some(&'*') => {
                rest.next();
            }
            '`' => {}
            _ => out.push(c),
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cards_words_stay_words() {
        let table = [
            ("[c](command:x)", "\\[c\\](command:x)"),
            ("![i](http://x)", "\\!\\[i\\](http\\://x)"),
            ("<b>", "\\<b>"),
            ("**bold** _it_", "\\*\\*bold\\*\\* \\_it\\_"),
            ("Smith & Sons", "Smith & Sons"),
            ("&lt;", "\\&lt;"),
            ("1. Long Song", "1\\. Long Song"),
            ("1.5 publisher, 2:40", "1.5 publisher, 2:40"),
            ("F# minor", "F# minor"),
            ("- dash", "\\- dash"),
            ("www.x.org", "www\\.x.org"),
        ];
        for (text, wanted) in table {
            assert_eq!(words(text), wanted);
            assert_eq!(plain(&words(text)), text);
        }
    }

    #[test]
    fn without_marks_the_words_are_left() {
        let text = "**Bb4-F5**, written  \nsounds `Ab4`\n\n![a staff](data:x)\n\n---\n\nA \\*star\\*";
        assert_eq!(plain(text), "Bb4-F5, written\nsounds Ab4\n\nA *star*");
    }
}
