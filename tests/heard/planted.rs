//! Where a made-up word can be planted in a catalogue, and whether it is told there.

use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use levare::catalogue::{CardFile, Snapshot};
use levare::notation::fields::{FieldSpec, Shape};
use levare::notation::tree::{LineKind, Row};
use levare::notation::values::performance::OCCASIONS;
use levare::notation::{self, remarks};
use levare::text::Span;
use levare::{disk, findings};

/// The files of a catalogue as cards.
pub struct Catalogue {
    files: Vec<(String, Vec<String>)>,
    read: Vec<Arc<CardFile>>,
}

/// A card with a word planted in it.
pub struct Plant {
    /// The file.
    pub file: usize,
    /// The card in the file.
    pub at: usize,
    /// The card's first line.
    pub card: String,
    /// The line with the word in it.
    pub line: String,
    /// The card's text with the word in it.
    pub text: String,
    /// Where the word stands.
    pub span: Span,
}

impl Plant {
    /// A plant in a text that holds the word already.
    pub fn at(file: usize, at: usize, text: &str, word: &str) -> Plant {
        let start = text.find(word).expect("the word is there") as u32;
        Plant {
            file,
            at,
            card: text.lines().next().unwrap_or("").to_owned(),
            line: text
                .lines()
                .find(|line| line.contains(word))
                .unwrap_or("")
                .to_owned(),
            text: text.to_owned(),
            span: Span::new(start, start + word.len() as u32),
        }
    }
}

impl Catalogue {
    /// The catalogue in a folder of the project.
    pub fn read(folder: &str) -> Catalogue {
        let folder = Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
        let rules = disk::Rules::default();
        let gathered = disk::gather(&folder, &rules, &mut |_| {}, &AtomicBool::new(false));
        let files = gathered.files.iter().map(|file| {
            let path = file.path.strip_prefix(&folder).unwrap_or(&file.path);
            (path.to_string_lossy().into_owned(), cards(&file.text))
        });
        Catalogue::with(files.collect())
    }

    /// A catalogue of one file.
    pub fn of(text: &str) -> Catalogue {
        Catalogue::with(vec![("a.levare".to_owned(), cards(text))])
    }

    fn with(files: Vec<(String, Vec<String>)>) -> Catalogue {
        let read = files
            .iter()
            .map(|(path, cards)| Arc::new(CardFile::read(path, &cards.concat())))
            .collect();
        Catalogue { files, read }
    }

    /// A word at every gap of every typed line.
    pub fn plants(&self, word: &str) -> Vec<Plant> {
        let mut found = Vec::new();
        for (file, (_, cards)) in self.files.iter().enumerate() {
            for (at, card) in cards.iter().enumerate() {
                for offset in gaps(card) {
                    let mut text = card.clone();
                    let end = text[offset..].starts_with([',', '\n', '\r']) || offset == text.len();
                    let (written, shift) = match end {
                        true => (format!(" {word}"), 1),
                        false => (format!("{word} "), 0),
                    };
                    text.insert_str(offset, &written);
                    let start = (offset + shift) as u32;
                    let line_start = text[..start as usize].rfind('\n').map_or(0, |at| at + 1);
                    found.push(Plant {
                        file,
                        at,
                        card: card.lines().next().unwrap_or("").to_owned(),
                        line: text[line_start..].lines().next().unwrap_or("").to_owned(),
                        span: Span::new(start, start + word.len() as u32),
                        text,
                    });
                }
            }
        }
        found
    }

    /// A made-up line below every line of every card, at every depth, where the manual does not leave the place
    /// to the director's own words.
    pub fn line_plants(&self, words: &str) -> Vec<Plant> {
        let mut found = Vec::new();
        for (file, (_, cards)) in self.files.iter().enumerate() {
            for (at, card) in cards.iter().enumerate() {
                let tree = notation::read(card).tree;
                for (number, line) in tree.lines.iter().enumerate() {
                    let above = tree.fields.iter().rfind(|field| field.line <= number);
                    let spec = above.and_then(|field| field.spec);
                    let shape = spec.map(|spec| spec.shape);
                    // Below a line that is told no other is read; a movement's title and the place of a set are
                    // the director's own words.
                    let own_words = above.is_some_and(|field| field.spec.is_none())
                        || match shape {
                            Some(Shape::Running) => true,
                            Some(Shape::List(of) | Shape::Value(of)) => {
                                of.is_own_words() || of.takes_paragraph()
                            }
                            Some(Shape::Rows(notation::fields::RowsOf::Movements)) => true,
                            Some(Shape::Block(_)) => tree.lines[..=number]
                                .iter()
                                .rfind(|line| !line.body.is_empty())
                                .is_some_and(|line| line.body.slice(card).starts_with("place")),
                            _ => false,
                        };
                    let deepest = above.map_or(0, |field| tree.lines[field.line].indent);
                    let stet = line.body.slice(card).starts_with("stet ");
                    for indent in [0u32, 2, 4, 6] {
                        if tree.head.is_none()
                            || (own_words && indent > deepest)
                            || (stet && indent > line.indent)
                        {
                            continue;
                        }
                        let start = line.span.end as usize;
                        let lead = if card[..start].ends_with(['\n', '\r']) {
                            ""
                        } else {
                            "\n"
                        };
                        let blanks = " ".repeat(indent as usize);
                        let mut text = card.clone();
                        text.insert_str(start, &format!("{lead}{blanks}{words}\n"));
                        let from = (start + lead.len() + indent as usize) as u32;
                        found.push(Plant {
                            file,
                            at,
                            card: card.lines().next().unwrap_or("").to_owned(),
                            line: format!("{blanks}{words}   (below: {})", line.body.slice(card)),
                            span: Span::new(from, from + words.len() as u32),
                            text,
                        });
                    }
                }
            }
        }
        found
    }

    /// Whether a finding names the word, or the word lies in what nobody understood.
    pub fn is_told(&self, plant: &Plant, word: &str) -> bool {
        let unheard = notation::read(&plant.text).unheard;
        if unheard
            .iter()
            .any(|left| left.span.start <= plant.span.start && plant.span.end <= left.span.end)
        {
            return true;
        }
        let tree = notation::read(&plant.text).tree;
        let line = tree.line_at(plant.span.start);
        // A line of no field, and one that belongs to nothing, is told by its place in the tree.
        let no_field = tree
            .fields
            .iter()
            .any(|field| field.spec.is_none() && Some(field.line) == line);
        if no_field || tree.strays.iter().any(|stray| Some(stray.line) == line) {
            return true;
        }
        let mut read = self.read.clone();
        let (path, cards) = &self.files[plant.file];
        let mut cards = cards.clone();
        cards[plant.at] = plant.text.clone();
        read[plant.file] = Arc::new(CardFile::read(path, &cards.concat()));
        let snapshot = Snapshot::new(read, jiff::civil::date(2026, 10, 20));
        let card = snapshot.entries().find(|(_, entry)| *entry.text == *plant.text);
        let Some((id, _)) = card else { return false };
        let low = word.to_lowercase();
        findings::of_card(&snapshot, id).iter().any(|finding| {
            let says = finding.saying.whole().to_lowercase();
            // A mark in the midst of a value is named; what is marked is the figure that came of it.
            let mark = says.contains(&format!("where {low} is")) && tree.line_at(finding.span.start) == line;
            says.contains(&low) && finding.span.overlaps(plant.span) || mark
        })
    }
}

/// Each line of a file of the project that says something, on a card with nothing but the lines that it hangs under.
pub fn line_by_line(path: &str) -> Vec<String> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(path);
    let text = std::fs::read_to_string(path).expect("the file is there");
    let indent = |line: &str| line.len() - line.trim_start().len();
    let mut found = Vec::new();
    for card in cards(&text) {
        let lines: Vec<&str> = card.lines().collect();
        for (number, line) in lines.iter().enumerate().skip(1) {
            if !line.trim().contains(' ') {
                continue;
            }
            let mut depth = indent(line);
            let mut kept = vec![*line];
            for above in lines[..number].iter().rev() {
                if !above.trim().is_empty() && indent(above) < depth {
                    depth = indent(above);
                    kept.push(above);
                }
            }
            kept.reverse();
            found.push(kept.join("\n") + "\n");
        }
    }
    found
}

/// A file cut into its cards.
fn cards(text: &str) -> Vec<String> {
    let mut starts = notation::split(text);
    starts.push(text.len());
    starts
        .windows(2)
        .map(|ends| text[ends[0]..ends[1]].to_owned())
        .filter(|card| !card.is_empty())
        .collect()
}

/// The places of a card's typed words: before each of them and behind the last of a line. What the manual
/// leaves to the director's own words is passed over, and so are remarks and the inside of names.
fn gaps(card: &str) -> Vec<usize> {
    let reading = notation::read(card);
    let mut found = Vec::new();
    for field in &reading.tree.fields {
        let Some(spec) = field.spec else { continue };
        of_field(card, spec, field.value, &field.rows, &mut found);
    }
    let kinds = reading
        .tree
        .lines
        .iter()
        .filter(|line| line.kind == LineKind::Remark);
    let remarks: Vec<Span> = kinds.map(|line| line.body).collect();
    found.retain(|at| {
        !remarks
            .iter()
            .any(|span| span.start as usize <= *at && *at < span.end as usize)
    });
    // Talk, reasons and conditions are the director's own words, up to what parts them from the rest.
    let asides = &reading.asides;
    found.retain(|at| {
        !asides
            .iter()
            .any(|span| (span.start as usize) < *at && *at <= span.end as usize)
    });
    found
}

fn of_field(card: &str, spec: &'static FieldSpec, value: Span, rows: &[Row], found: &mut Vec<usize>) {
    match spec.shape {
        Shape::Running => {}
        Shape::List(of) | Shape::Value(of) if of.is_own_words() => {}
        Shape::List(of) if of.takes_paragraph() => {
            let text = value.slice(card);
            let end = text
                .find("because")
                .map_or(value.end, |at| value.start + at as u32);
            words(card, Span::new(value.start, end), found);
        }
        Shape::Rows(notation::fields::RowsOf::Movements) => {
            for row in rows {
                for deeper in &row.rows {
                    let body = deeper.body.slice(card);
                    if let Some((spec, length)) =
                        notation::fields::find(notation::fields::movement_fields(), body)
                    {
                        let value = Span::new(deeper.body.start + length as u32, deeper.body.end);
                        of_field(card, spec, value, &deeper.rows, found);
                    }
                }
            }
        }
        Shape::Block(specs) => {
            for row in rows {
                if let Some((spec, length)) = notation::fields::find(specs, row.body.slice(card)) {
                    let value = Span::new(row.body.start + length as u32, row.body.end);
                    of_field(card, spec, value, &row.rows, found);
                }
            }
        }
        // To whom a set is lent is told in the director's own words.
        Shape::List(notation::Of::Loan) => {
            let text = value.slice(card);
            let end = text.find("to ").map_or(value.end, |at| value.start + at as u32);
            words(card, Span::new(value.start, end), found);
        }
        // So is the shop behind `from`.
        Shape::Value(notation::Of::Bought) => {
            let text = value.slice(card);
            let end = text.find("from ").map_or(value.end, |at| value.start + at as u32);
            words(card, Span::new(value.start, end), found);
        }
        // So is an occasion, up to the word that says what it is.
        Shape::List(notation::Of::Performance) => {
            let before = found.len();
            words(card, value, found);
            for row in rows {
                words(card, row.body, found);
            }
            let lower = card.to_lowercase();
            let named = |at: &usize| {
                let piece = lower[*at..].split([',', ';', '\n']).next().unwrap_or("");
                let last = piece.split_whitespace().last().unwrap_or("");
                OCCASIONS.contains(&last) && !piece.contains('"')
            };
            let planted = found.split_off(before);
            found.extend(planted.into_iter().filter(|at| !named(at)));
        }
        _ => {
            words(card, value, found);
            let mut open: Vec<&Row> = rows.iter().collect();
            while let Some(row) = open.pop() {
                let stet = row.body.slice(card).starts_with("stet ");
                let asks = row.body.slice(card).starts_with("asks ");
                if !stet && !asks {
                    words(card, row.body, found);
                }
                open.extend(&row.rows);
            }
        }
    }
}

/// The starts of a stretch's words and its end, outside quotation marks and parentheses.
fn words(card: &str, span: Span, found: &mut Vec<usize>) {
    let masked = remarks::blanked(card);
    let text = span.slice(&masked);
    let mut quoted = false;
    let mut blank = true;
    let mut last = None;
    // A name behind `by` and the skills behind `asks` are the director's own words, to the comma or the grade.
    let mut named = false;
    for (at, c) in text.char_indices() {
        let here = span.start as usize + at;
        if blank
            && (text[at..].starts_with("by ") && text[..at].contains('"') || text[at..].starts_with("asks "))
        {
            named = true;
        }
        if blank && !quoted && !named && !c.is_whitespace() {
            found.push(here);
        }
        if named && (c == ',' || text[at..].starts_with("grade")) {
            named = false;
        }
        if matches!(c, '"' | '“' | '”') {
            quoted = !quoted;
        }
        blank = c.is_whitespace();
        if !blank {
            last = Some(here + c.len_utf8());
        }
    }
    found.extend(last.filter(|_| !quoted && !named));
}
