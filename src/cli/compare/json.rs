//! What changed, for programs: one JSON object a line.
//!
//! `about` is `card` for a card that is new, gone, renamed or moved to another file, `change` for a fact of a card,
//! `finding` for one that came, went or says something else, `layout` for a card of which only the layout changed, or its place in
//! the file.

use std::io::{self, Write};

use serde::Serialize;

use super::{Answer, finding};
use crate::cli::report::lines::line;
use crate::comparing::{Became, CardChange, Named, sentence};
use crate::text::sentences::capital;

#[derive(Serialize)]
struct CardLine<'a> {
    about: &'static str,
    became: &'static str,
    kind: Option<&'static str>,
    name: &'a str,
    file: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    old_name: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    old_file: Option<&'a str>,
}

#[derive(Serialize)]
struct ChangeLine<'a> {
    about: &'static str,
    became: &'static str,
    kind: Option<&'static str>,
    name: &'a str,
    file: &'a str,
    field: &'a str,
    row: &'a str,
    was: Option<&'a str>,
    now: Option<&'a str>,
    says: String,
}

#[derive(Serialize)]
struct FindingLine<'a> {
    about: &'static str,
    became: &'static str,
    kind: Option<&'static str>,
    name: &'a str,
    file: &'a str,
    phrase: &'static str,
    severity: &'static str,
    says: String,
    was: Option<String>,
    todo: &'a str,
}

/// Tells it.
pub fn tell(answer: &Answer, out: &mut dyn Write) -> io::Result<()> {
    for card in answer.by_card() {
        if let Some(change) = card.change {
            itself(change, out)?;
            for one in &change.changes {
                line(
                    &ChangeLine {
                        about: "change",
                        became: one.became.word(),
                        kind: kind(card.card),
                        name: &card.card.name,
                        file: &card.card.file,
                        field: &one.field,
                        row: &one.row,
                        was: one.was.as_deref(),
                        now: one.now.as_deref(),
                        says: sentence(one),
                    },
                    out,
                )?;
            }
        }
        for news in &card.news {
            let told = &news.told;
            line(
                &FindingLine {
                    about: "finding",
                    became: news.became.word(),
                    kind: kind(&told.card),
                    name: &told.card.name,
                    file: &told.card.file,
                    phrase: told.phrase,
                    severity: told.severity.word(),
                    says: finding(news),
                    was: news.was.as_ref().map(|was| match was.place.is_empty() {
                        true => was.says.clone(),
                        false => format!("{}: {}", capital(&was.place), was.says),
                    }),
                    todo: &told.saying.todo,
                },
                out,
            )?;
        }
    }
    let layout = answer.compared.layout.iter().map(|card| ("changed", card));
    let moved = answer.compared.moved.iter().map(|card| ("moved", card));
    for (became, card) in layout.chain(moved) {
        line(&of_card("layout", became, card), out)?;
    }
    Ok(())
}

fn itself(change: &CardChange, out: &mut dyn Write) -> io::Result<()> {
    let became = match change.became {
        Became::Changed if change.old_name.is_some() => Became::Renamed,
        Became::Changed if change.old_file.is_some() => Became::Moved,
        Became::Changed => return Ok(()),
        became => became,
    };
    let told = CardLine {
        old_name: change.old_name.as_deref(),
        old_file: change.old_file.as_deref(),
        ..of_card("card", became.word(), &change.card)
    };
    line(&told, out)
}

fn of_card<'a>(about: &'static str, became: &'static str, card: &'a Named) -> CardLine<'a> {
    CardLine {
        about,
        became,
        kind: kind(card),
        name: &card.name,
        file: &card.file,
        old_name: None,
        old_file: None,
    }
}

fn kind(card: &Named) -> Option<&'static str> {
    card.kind.map(|kind| kind.word())
}
