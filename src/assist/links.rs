//! What a card names outside the catalogue: files with scores, pages of the web.

use crate::catalogue::CardFile;
use crate::notation::{Body, FieldReading};
use crate::text::Span;

/// Where a link leads.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Leads {
    /// To a page, by its address.
    Page(String),
    /// To a file, as its path is written on the card.
    File(String),
}

/// A link of a file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Link {
    /// The words that are the link, in bytes of the file.
    pub span: Span,
    /// Where it leads.
    pub leads: Leads,
}

/// What a name of a file ends in, for words in running text. In `score` anything with a dot is a file.
const ENDS: [&str; 14] = [
    "pdf", "musicxml", "mxl", "xml", "mid", "midi", "mp3", "wav", "m4a", "png", "jpg", "jpeg", "txt",
    "levare",
];

/// All links of a file, in the order of the text. Whether a file is there is not known here.
pub fn of_file(cards: &CardFile) -> Vec<Link> {
    let mut found = Vec::new();
    for (index, entry) in cards.entries.iter().enumerate() {
        let text: &str = &entry.text;
        let mut add = |span: Span, leads: Leads| {
            found.push(Link {
                span: cards.in_file(index, span),
                leads,
            });
        };
        let pages = pages(text);
        for span in &pages {
            add(*span, Leads::Page(span.slice(text).to_owned()));
        }
        if !text.contains('.') {
            continue;
        }
        let reading = entry.reading();
        let mut open: Vec<&FieldReading> = reading.fields.iter().collect();
        while let Some(field) = open.pop() {
            match &field.body {
                Body::Block(inside) => open.extend(inside),
                Body::Rows(rows) => open.extend(rows.iter().flat_map(|row| &row.fields)),
                _ => {}
            }
            let whole = matches!(field.name(), Some("score"));
            if !whole && !matches!(field.name(), Some("see" | "notes" | "learned")) {
                continue;
            }
            for span in files(text, Span::new(field.word.end, field.whole.end), whole) {
                if !pages.iter().any(|page| page.overlaps(span)) {
                    add(span, Leads::File(span.slice(text).to_owned()));
                }
            }
        }
    }
    found.sort_by_key(|link| link.span);
    found
}

/// Addresses of pages, without the stop or parenthesis that ends the sentence around them.
fn pages(text: &str) -> Vec<Span> {
    let mut found = Vec::new();
    for lead in ["https://", "http://"] {
        for (at, _) in text.match_indices(lead) {
            let rest = text.get(at..).unwrap_or("");
            let end = rest
                .find(|c: char| c.is_whitespace() || matches!(c, '"' | '<' | '>' | '“' | '”'))
                .unwrap_or(rest.len());
            let address = rest.get(..end).unwrap_or("");
            let mut address = address.trim_end_matches(['.', ',', ';', ':', '!', '?']);
            // A parenthesis that the address has not opened closes the remark around it.
            while address.ends_with(')') && address.matches(')').count() > address.matches('(').count() {
                address = address.get(..address.len().saturating_sub(1)).unwrap_or("");
                address = address.trim_end_matches(['.', ',']);
            }
            if address.len() > lead.len() {
                found.push(Span::long(at as u32, address.len() as u32));
            }
        }
    }
    found
}

/// Words that are names of files: one by one in running text; between commas in `score`, where a name may hold
/// blanks.
fn files(text: &str, within: Span, whole: bool) -> Vec<Span> {
    let inside = within.slice(text);
    let is_part_end = |c: char| match whole {
        true => matches!(c, ',' | '\n' | '\r'),
        false => c.is_whitespace() || matches!(c, '(' | ')' | '"' | '“' | '”' | ';'),
    };
    let mut found = Vec::new();
    let mut at = 0usize;
    for piece in inside.split(is_part_end) {
        let start = at;
        at = at.saturating_add(piece.len());
        at = at.saturating_add(
            inside
                .get(at..)
                .and_then(|rest| rest.chars().next())
                .map_or(0, char::len_utf8),
        );
        let blanks = piece.len().saturating_sub(piece.trim_start().len());
        let name = piece.trim().trim_end_matches(['.', ',', '?', '!', ':']);
        let Some((stem, end)) = name.rsplit_once('.') else {
            continue;
        };
        let known = ENDS.iter().any(|known| end.eq_ignore_ascii_case(known));
        let like_one = whole && (1..=8).contains(&end.len()) && end.chars().all(char::is_alphanumeric);
        if stem.is_empty() || name.contains("://") || !(known || like_one) {
            continue;
        }
        found.push(Span::long(
            within.start.saturating_add(start.saturating_add(blanks) as u32),
            name.len() as u32,
        ));
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn files_and_pages_are_found_where_they_are_meant() {
        let text = "\
piece \"Harbor Parade\"
  score           scores/harbor parade.musicxml
  see             the sheet practice/warmups.pdf (and https://example.org/a_(b)), grade 1.5. Done.
  notes           at http://example.org/x.pdf.
  measures        88.5
";
        let cards = CardFile::read("a.levare", text);
        let found: Vec<(&str, bool)> = of_file(&cards)
            .iter()
            .map(|link| (link.span.slice(text), matches!(link.leads, Leads::Page(_))))
            .collect();
        assert_eq!(
            found,
            [
                ("scores/harbor parade.musicxml", false),
                ("practice/warmups.pdf", false),
                ("https://example.org/a_(b)", true),
                ("http://example.org/x.pdf", true),
            ]
        );
    }
}
