//! Fixes that a rule cannot make by itself, since they need the catalogue or the lines around: the card that is
//! missing, a part that may be left out, a line that stands at the wrong depth.

use crate::catalogue::percussion::{courses, fewest_at_once};
use crate::catalogue::{EntryId, Snapshot, Wants};
use crate::findings::Finding;
use crate::notation::recopy::field_line;
use crate::notation::tree::LineKind;
use crate::notation::{Kind, fields};
use crate::text::{Edit, Ending, Span};

use super::super::on_type::field_among_rows;
use super::Fix;

/// The fixes of a finding beyond its own repairs.
pub(super) fn of(snapshot: &Snapshot, id: EntryId, finding: &Finding) -> Vec<Fix> {
    match finding.phrase {
        "title not found" => missing_card(snapshot, id, finding).into_iter().collect(),
        "short of percussionists" => fewer_players(snapshot, id, finding),
        "line at the margin" => indented(snapshot, id, finding).into_iter().collect(),
        _ => out_of_table(snapshot, id, finding).into_iter().collect(),
    }
}

fn fix(id: EntryId, finding: &Finding, title: String, edits: Vec<Edit>) -> Fix {
    Fix {
        title,
        safe: false,
        mends: true,
        id,
        finding: finding.clone(),
        edits,
        elsewhere: None,
        goes_on: None,
    }
}

/// The card that a name has none of, at the end of the file where most cards of its kind stand.
fn missing_card(snapshot: &Snapshot, id: EntryId, finding: &Finding) -> Option<Fix> {
    let entry = snapshot.entry(id)?;
    let used = entry.uses.iter().find(|used| used.span == finding.span)?;
    // A title that has a card, but by somebody else, is not written twice.
    if used.by.is_some() || used.name.contains(['"', '“', '”', '\n']) {
        return None;
    }
    let kind = match used.wants {
        Wants::Card(kind) => kind,
        Wants::ListOrBook => Kind::List,
        Wants::CriteriaOrList => Kind::Criteria,
        Wants::PastEnsemble | Wants::Skill => return None,
    };
    let own = id.file as usize;
    let cards_of = |file: &crate::catalogue::CardFile| {
        file.entries
            .iter()
            .filter(|entry| entry.kind == Some(kind))
            .count()
    };
    let files = snapshot.files();
    let most = files.iter().map(|file| cards_of(file)).max().unwrap_or(0);
    let file = files
        .iter()
        .position(|file| most > 0 && cards_of(file) == most)
        .unwrap_or(own);
    let text = files.get(file)?.text();
    let ending = Ending::of(&text).as_str();
    let before = match (text.trim().is_empty(), text.ends_with(['\n', '\r'])) {
        (true, _) => String::new(),
        (false, true) => ending.to_owned(),
        (false, false) => ending.repeat(2),
    };
    let card = format!("{before}{kind} \"{}\"{ending}", used.name);
    let mut fix = fix(
        id,
        finding,
        format!("Write a card: {kind} \"{}\"", used.name),
        Vec::new(),
    );
    fix.elsewhere = Some((file, vec![Edit::insert(Span::whole(&text).end, card)]));
    Some(fix)
}

/// The most rows that are named one by one.
const MOST: usize = 6;

/// Parts that may be left out, and instruments that one player can have together.
fn fewer_players(snapshot: &Snapshot, id: EntryId, finding: &Finding) -> Vec<Fix> {
    let Some((entry, piece)) = snapshot.entry(id).and_then(|entry| Some((entry, entry.piece()?))) else {
        return Vec::new();
    };
    let all = courses(piece, snapshot.instruments(), snapshot.covered_together());
    let found = all.iter().find_map(|course| {
        let most = fewest_at_once(course)?;
        let (_, sounding) = most.places.first()?;
        let parts: Vec<_> = sounding.iter().filter_map(|at| course.parts.get(*at)).collect();
        let least = parts.iter().position(|part| part.span == finding.span)?;
        Some((parts, least))
    });
    let Some((mut parts, least)) = found else {
        return Vec::new();
    };
    // What sounds least is the likeliest to give way.
    let marked = parts.remove(least);
    parts.insert(0, marked);
    parts.truncate(MOST);
    let mut fixes: Vec<Fix> = Vec::new();
    for part in &parts {
        let words = part.span.slice(&entry.text).trim_end();
        let end = part.span.start.saturating_add(Span::whole(words).end);
        let gap = match words.contains("  ") || words.contains(',') {
            true => ", ",
            false => "  ",
        };
        fixes.push(fix(
            id,
            finding,
            format!("Let {} be left out: write \"optional\" on its line", part.name()),
            vec![Edit::insert(end, format!("{gap}optional"))],
        ));
    }
    for other in parts.iter().skip(1) {
        let pair = format!("{} and {}", marked.name(), other.name());
        let Some((file, edit)) = for_one_player(snapshot, &pair) else {
            break;
        };
        let mut fix = fix(
            id,
            finding,
            format!("Let one player have {pair}, in every piece (written in the handbook)"),
            Vec::new(),
        );
        fix.elsewhere = Some((file, vec![edit]));
        fixes.push(fix);
    }
    fixes
}

/// The handbook's line that gives a pair of instruments to one player, in bytes of its file.
fn for_one_player(snapshot: &Snapshot, pair: &str) -> Option<(usize, Edit)> {
    let (id, _) = snapshot.handbook_card()?;
    let entry = snapshot.entry(id)?;
    let reading = entry.reading();
    let tree = &reading.tree;
    let file = snapshot.file_of(id)?;
    let there = reading
        .fields
        .iter()
        .find(|field| field.name() == Some("one player"))
        .and_then(|field| Some((field, field.items().last()?)));
    let edit = match there {
        Some((_, last)) => Edit::insert(last.span.end, format!(", {pair}")),
        None => {
            let last = tree
                .lines
                .iter()
                .rfind(|line| matches!(line.kind, LineKind::Head | LineKind::Field | LineKind::Deeper))?;
            let ending = Ending::of(&entry.text).as_str();
            Edit::insert(
                last.body.end,
                format!("{ending}{}", field_line(2, "one player", pair)),
            )
        }
    };
    let span = file.in_file(id.entry as usize, edit.span);
    Some((id.file as usize, Edit::replace(span, edit.text)))
}

/// A line at the margin goes to the depth of what it is: the fields', or that of the rows above it.
fn indented(snapshot: &Snapshot, id: EntryId, finding: &Finding) -> Option<Fix> {
    let own = finding.repairs.iter().find(|repair| {
        repair.edits.len() == 1
            && repair
                .edits
                .iter()
                .all(|edit| edit.span == Span::at(finding.span.start) && edit.text.trim().is_empty())
    })?;
    let entry = snapshot.entry(id)?;
    let reading = entry.reading();
    let tree = &reading.tree;
    let number = tree.line_at(finding.span.start)?;
    let words = finding.span.slice(&entry.text);
    let fields = tree
        .lines
        .iter()
        .find(|line| line.kind == LineKind::Field && line.indent > 0);
    let depth = match fields::find(fields::fields_of(entry.kind?), words) {
        Some(_) => fields.map_or(2, |line| line.indent),
        None => tree
            .lines
            .get(..number)?
            .iter()
            .rfind(|line| matches!(line.kind, LineKind::Field | LineKind::Deeper) && line.indent > 0)
            .map_or(2, |line| line.indent),
    };
    let edits = vec![Edit::insert(finding.span.start, " ".repeat(depth as usize))];
    Some(Fix {
        safe: own.safe,
        ..fix(id, finding, own.title.clone(), edits)
    })
}

/// A line among the rows of a table that is a field of the card goes to the fields' depth.
fn out_of_table(snapshot: &Snapshot, id: EntryId, finding: &Finding) -> Option<Fix> {
    let entry = snapshot.entry(id)?;
    let reading = entry.reading();
    let number = reading.tree.line_at(finding.span.start)?;
    let (depth, _) = field_among_rows(&reading.tree, entry.kind?, &entry.text, number, true)?;
    let line = reading.tree.lines.get(number)?;
    let blanks = Span::new(line.span.start, line.body.start);
    let edit = Edit::replace(blanks, " ".repeat(depth as usize));
    // The rule may offer the very same.
    let offered = finding
        .repairs
        .iter()
        .any(|repair| repair.edits.iter().any(|other| other.span.touches(blanks.end)));
    let (spec, _) = fields::find(fields::fields_of(entry.kind?), line.body.slice(&entry.text))?;
    (!offered).then(|| {
        fix(
            id,
            finding,
            format!("Move {} out of the table", spec.name),
            vec![edit],
        )
    })
}
