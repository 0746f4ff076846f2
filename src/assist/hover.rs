//! What a card's words mean, shown where the cursor stands.

mod card;
mod criteria;
mod music;
mod skills;
mod staff_picture;

use crate::catalogue::Wants;
use crate::findings;
use crate::notation::row::Fact;
use crate::notation::values::Value;
use crate::notation::{FieldReading, Kind};
use crate::text::Span;
use crate::text::sentences::sentence;

use super::markdown::words;
use super::sharing::Shared;
use super::{NameHere, Place};

pub(super) use card::summary as card_summary;
pub(super) use music::{instrument, key, signature};
pub(super) use skills::words as skill_words;

/// A text about a stretch of the file.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Hover {
    /// What it is about, in bytes of the file.
    pub span: Span,
    /// The text, in Markdown; see [`super::markdown::plain`] for editors without it.
    pub text: String,
}

/// What there is to say about the place; with pictures where they can be shown.
pub fn of(place: &Place<'_>, pictures: bool) -> Option<Hover> {
    let (span, text) = name(place)
        .or_else(|| field_word(place))
        .or_else(|| value(place, pictures))
        .or_else(|| row(place, pictures))?;
    Some(Hover {
        span: place.in_file(span),
        text,
    })
}

fn name(place: &Place<'_>) -> Option<(Span, String)> {
    let (span, missing) = match place.name()? {
        NameHere::Own(span) => (span, None),
        NameHere::Use(name) => (name.span, Some(name)),
    };
    let cards: Vec<String> = place
        .meant()
        .into_iter()
        .filter_map(|id| card::summary(place.snapshot, id))
        .collect();
    if cards.is_empty() {
        let name = missing?;
        // Only where a skill may stand is a name a skill; a title stays a title.
        if name.wants == Wants::Skill
            && let Some(text) = skills::words(place, &name.name)
        {
            return Some((span, text));
        }
        return Some((
            span,
            format!("There is no card for **{}** yet.", words(&name.name)),
        ));
    }
    let mut text = cards.join("\n\n---\n\n");
    for id in place.meant() {
        let more = criteria::of(place.snapshot, id).or_else(|| skills::of_card(place, id));
        if let Some(more) = more {
            text.push_str("\n\n");
            text.push_str(&more);
        }
    }
    Some((span, text))
}

fn field_word(place: &Place<'_>) -> Option<(Span, String)> {
    let head = place.reading.tree.head.as_ref();
    if let Some(head) = head
        && head.kind_span.touches(place.offset)
        && head.kind == Kind::Handbook
    {
        return card::summary(place.snapshot, place.id).map(|text| (head.kind_span, text));
    }
    let fields = place.fields();
    let field = fields
        .iter()
        .rev()
        .find(|field| field.word.touches(place.offset) && !field.word.is_empty())?;
    let spec = field.spec?;
    let mut text = format!("**{}**: {}", spec.name, spec.says);
    if !spec.example.is_empty() {
        text.push_str(&format!("\n\nFor example: `{}`", spec.example));
    }
    if !spec.also.is_empty() {
        text.push_str(&format!(
            "\n\n{}",
            sentence(&format!("Also written: {}", spec.also.join(", ")))
        ));
    }
    Some((field.word, text))
}

fn value(place: &Place<'_>, pictures: bool) -> Option<(Span, String)> {
    let item = place.item()?;
    let text = match item.value.as_ref()? {
        Value::Key(center) => music::key(place, center.key()?),
        Value::Signature(said) => music::signature(place, said.signs()?),
        Value::Meter(meter) => music::meter(meter),
        Value::Range(range) => music::range(place, &place.entry.name, *range, false, pictures),
        Value::NamedRange(named) => music::range(place, &named.name, named.range, false, pictures),
        Value::Stet(stet) => rule(&stet.phrase)?,
        Value::Words(words) if is_phrase(place.field()) => rule(words)?,
        Value::Equipment(owned) => music::instrument(place, &owned.name)?,
        Value::Copies(copies) => music::instrument(place, &copies.part)?,
        _ => return None,
    };
    Some((item.span, text))
}

fn is_phrase(field: Option<&FieldReading>) -> bool {
    use crate::notation::Of;
    use crate::notation::fields::Shape;
    field
        .and_then(|field| field.spec)
        .is_some_and(|spec| matches!(spec.shape, Shape::List(Of::Phrase) | Shape::Value(Of::Phrase)))
}

fn row(place: &Place<'_>, pictures: bool) -> Option<(Span, String)> {
    let row = &place.row()?.row;
    let named = row.names.first().map_or("", |name| name.text.as_str());
    if let Some(name) = row.names.iter().find(|name| name.span.touches(place.offset)) {
        let sticks: Vec<&str> = row
            .facts
            .iter()
            .filter_map(|fact| match &fact.what {
                Fact::Sticks(sticks, _) => Some(sticks.as_str()),
                _ => None,
            })
            .collect();
        let told = [
            music::instrument_with(place, &name.text, &sticks),
            who(place, row.span),
        ];
        let told: Vec<String> = told.into_iter().flatten().collect();
        return (!told.is_empty()).then(|| (name.span, told.join("\n\n")));
    }
    let fact = row.facts.iter().find(|fact| fact.span.touches(place.offset))?;
    let text = match &fact.what {
        Fact::Range { range, concert, .. } => music::range(place, named, *range, *concert, pictures),
        Fact::Stet(stet) => rule(&stet.phrase)?,
        Fact::OverTheBreak(_) => {
            "Over the break: from the throat tones up to written B4, where a beginner's fingers change all at once."
                .to_owned()
        }
        Fact::Relation { target, .. } => music::instrument(place, target)?,
        _ => return None,
    };
    Some((fact.span, text))
}

/// Who plays a row of the percussion table.
fn who(place: &Place<'_>, row: Span) -> Option<String> {
    if place.field()?.name() != Some("percussion") {
        return None;
    }
    let rows = Shared::of_piece(place.snapshot, place.id)?.rows();
    rows.into_iter()
        .find(|beside| row.encloses(beside.span))
        .map(|beside| beside.says)
}

fn rule(phrase: &str) -> Option<String> {
    findings::find(phrase).map(rule_page)
}

/// A rule's page, as far as it fits a small window.
pub(super) fn rule_page(rule: &findings::Rule) -> String {
    let page = findings::page::parse(rule.page);
    format!(
        "**{}** ({})\n\n{}\n\nWhy: {}\n\nWhat to do: {}",
        rule.phrase,
        rule.severity,
        page.notices.trim(),
        page.why.trim(),
        page.todo.trim()
    )
}
