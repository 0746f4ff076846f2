//! Whole cards, drafted from the band at hand, with blanks for what only the director knows.

use crate::catalogue::{EntryId, Snapshot};
use crate::notation::Kind;
use crate::notation::recopy::{field_line, head, row_line};

/// A stretch of a draft.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Bit {
    /// Words that stand.
    Text(String),
    /// A blank to be filled in.
    Blank,
}

/// A draft: words and blanks in turn.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Draft(pub Vec<Bit>);

impl Draft {
    /// The draft as plain text, its blanks left empty. A line is not left with blanks at its end.
    pub fn plain(&self) -> String {
        let mut out = String::new();
        for bit in &self.0 {
            if let Bit::Text(text) = bit {
                out.push_str(text);
            }
        }
        let lines: Vec<&str> = out.split('\n').map(str::trim_end).collect();
        lines.join("\n")
    }

    fn text(&mut self, text: impl Into<String>) {
        self.0.push(Bit::Text(text.into()));
    }

    fn blank(&mut self) {
        self.0.push(Bit::Blank);
    }

    /// A field whose value is a blank.
    fn field(&mut self, word: &str) {
        self.text(format!("\n  {word:<15} "));
        self.blank();
    }

    fn line(&mut self, line: &str) {
        self.text(format!("\n{line}"));
    }
}

/// A whole card of a kind: its head with a blank for the name, and the lines it usually has.
pub fn card(snapshot: &Snapshot, id: Option<EntryId>, kind: Kind) -> Draft {
    let mut draft = Draft::default();
    match kind.is_named() {
        true => {
            draft.text(format!("{kind} \""));
            draft.blank();
            draft.text("\"");
        }
        false => draft.text(head(kind, "")),
    }
    draft.0.extend(body(snapshot, id, kind).0);
    draft
}

/// The lines that a card of a kind usually has, each with the line break before it.
pub fn body(snapshot: &Snapshot, id: Option<EntryId>, kind: Kind) -> Draft {
    let mut draft = Draft::default();
    match kind {
        Kind::Piece => piece(snapshot, id, &mut draft),
        Kind::Concert => concert(snapshot, &mut draft),
        Kind::Ensemble => ensemble(&mut draft),
        Kind::Handbook => {
            draft.line(&field_line(2, "notation", "1"));
            match band(snapshot) {
                Some(name) => draft.line(&field_line(2, "for", &format!("\"{name}\""))),
                None => {
                    draft.text(format!("\n  {:<15} \"", "for"));
                    draft.blank();
                    draft.text("\"");
                }
            }
        }
        Kind::Criteria => draft.field("calls for"),
        Kind::Bundle => ["from", "price", "holds"]
            .iter()
            .for_each(|word| draft.field(word)),
        Kind::List => ["year", "holds"].iter().for_each(|word| draft.field(word)),
        Kind::Skill => ["after", "takes"].iter().for_each(|word| draft.field(word)),
        Kind::Instrument => ["also", "sounds", "range", "reads"]
            .iter()
            .for_each(|word| draft.field(word)),
    }
    draft
}

fn piece(snapshot: &Snapshot, id: Option<EntryId>, draft: &mut Draft) {
    for word in [
        "by",
        "grade",
        "style",
        "tonal center",
        "key signature",
        "meter",
        "tempo",
        "measures",
        "lasts",
    ] {
        draft.field(word);
    }
    let rows = parts(snapshot, id);
    if rows.is_empty() {
        draft.field("parts");
    } else {
        draft.line("  parts");
    }
    for name in rows {
        draft.text(format!("\n    {name:<15} "));
        draft.blank();
    }
    let rows = percussion(snapshot, id);
    if rows.is_empty() {
        draft.field("percussion");
    } else {
        draft.line("  percussion");
    }
    for name in rows {
        draft.text(format!("\n    {name:<15} "));
        draft.blank();
    }
    draft.field("asks");
    draft.field("teaches");
}

fn concert(snapshot: &Snapshot, draft: &mut Draft) {
    draft.field("on");
    match band(snapshot) {
        Some(name) => draft.line(&field_line(2, "for", &format!("\"{name}\""))),
        None => draft.field("for"),
    }
    draft.field("length");
    draft.field("calls for");
    draft.line("  program");
    for _ in 0..3 {
        draft.text("\n    ");
        draft.blank();
    }
}

/// The winds of a middle school band, in score order (common practice, no source).
const WINDS: [&str; 11] = [
    "flute",
    "oboe",
    "clarinet",
    "bass clarinet",
    "alto sax",
    "tenor sax",
    "trumpet",
    "horn",
    "trombone",
    "euphonium",
    "tuba",
];

fn ensemble(draft: &mut Draft) {
    draft.field("season");
    draft.line("  players");
    for name in WINDS {
        draft.text(format!("\n    {name:<15} "));
        draft.blank();
    }
    for word in ["percussionists", "owns", "ranges", "keys", "taught"] {
        draft.field(word);
    }
}

/// The name of the band that pieces are usually judged for.
fn band(snapshot: &Snapshot) -> Option<&str> {
    let id = snapshot.usual_bands().into_iter().next()?;
    let name = snapshot.entry(id)?.name.as_str();
    (!name.is_empty()).then_some(name)
}

/// The bands that a card is about: a band itself, a concert's bands, those that a piece is judged for; else those
/// that pieces are usually judged for.
pub fn bands(snapshot: &Snapshot, id: Option<EntryId>) -> Vec<EntryId> {
    if let Some((id, entry)) = id.and_then(|id| Some((id, snapshot.entry(id)?))) {
        if entry.ensemble().is_some() {
            return vec![id];
        }
        let named = entry.concert().map_or(&[][..], |concert| &concert.bands);
        let named: Vec<EntryId> = named
            .iter()
            .flat_map(|said| snapshot.names().of(Kind::Ensemble, &said.value.name))
            .collect();
        if !named.is_empty() {
            return named;
        }
    }
    let own: Vec<EntryId> = id
        .map(|id| snapshot.judges(id))
        .unwrap_or_default()
        .into_iter()
        .map(|judge| judge.ensemble)
        .collect();
    if own.is_empty() {
        snapshot.usual_bands()
    } else {
        own
    }
}

/// The wind instruments of the band at hand, in the order of its card.
pub fn parts(snapshot: &Snapshot, id: Option<EntryId>) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    for entry in bands(snapshot, id)
        .into_iter()
        .filter_map(|id| snapshot.entry(id))
    {
        let players = entry.ensemble().map_or(&[][..], |band| &band.players);
        for row in players {
            let instrument = snapshot.instruments().find(&row.name).exact();
            let name = instrument.map_or_else(|| row.name.clone(), |one| one.name.to_string());
            if !name.is_empty() && !names.contains(&name) {
                names.push(name);
            }
        }
    }
    names
}

/// The percussion instruments that the band at hand owns, in the order of its card.
pub fn percussion(snapshot: &Snapshot, id: Option<EntryId>) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    for entry in bands(snapshot, id)
        .into_iter()
        .filter_map(|id| snapshot.entry(id))
    {
        let owns = entry.ensemble().map_or(&[][..], |band| &band.owns);
        for name in owns.iter().map(|said| said.value.name.clone()) {
            if !name.is_empty() && !names.contains(&name) {
                names.push(name);
            }
        }
    }
    names
}

/// A table's lines for these names, without the line break before the first.
pub fn table(word: &str, names: &[String]) -> String {
    let mut text = format!("  {word}");
    for name in names {
        text.push('\n');
        text.push_str(&row_line(4, name, ""));
    }
    text
}
