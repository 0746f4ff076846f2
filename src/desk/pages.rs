//! Pages that are nowhere on the disk: why a finding is one, and what the catalogue answers about a card.

use std::sync::Arc;

use serde_json::{Value, json};
use tower_lsp::gen_lsp_types as lsp;
use tower_lsp::gen_lsp_types::Uri;

use crate::assist::{Place, paged, reason};
use crate::findings;

use super::commands;
use super::handlers::lenses;
use super::moment::View;
use super::session::Session;
use super::uri::{escaped, unescaped};

/// The schemes of such pages: why a finding is one, and answers.
pub(super) const SCHEMES: [&str; 2] = ["levare-reason", "levare-answer"];

/// The address of the page of a finding.
pub(super) fn of_reason(phrase: &str) -> Option<Uri> {
    let [reasons, _] = SCHEMES;
    Uri::parse(&format!("{reasons}:/{}.md", escaped(phrase))).ok()
}

/// What opens the pages that are offered at a place.
pub(super) fn actions(view: &View, place: &Place<'_>) -> Vec<lsp::CodeAction> {
    let pages = paged::at(place).into_iter();
    let action = |page: paged::Page| {
        let mut data = json!({"uri": view.paper.uri, "which": page.which});
        if page.card.is_some() {
            data["card"] = json!(place.id.entry);
            data["name"] = json!(place.entry.name);
        }
        lsp::CodeAction {
            title: page.title.to_owned(),
            command: Some(lsp::Command {
                title: page.title.to_owned(),
                tooltip: None,
                command: commands::ANSWER.to_owned(),
                arguments: Some(vec![data]),
            }),
            ..lsp::CodeAction::default()
        }
    };
    pages.map(action).collect()
}

/// A page's name and text, or in words why there is none.
pub(super) type Text = Result<(String, String), String>;

/// The answer that the data of an action asks for; none where its card is no longer there.
pub(super) async fn answer(session: &Arc<Session>, data: &Value) -> Option<Text> {
    let view = session.view(&lenses::uri_of(Some(data))?)?;
    let data = data.clone();
    let work = move || {
        let card = match data.get("card") {
            Some(_) => Some(lenses::card_of(&view, &data)?),
            None => None,
        };
        let which = data.get("which").and_then(Value::as_str).unwrap_or_default();
        Some(paged::text(view.moment.snapshot(), which, card))
    };
    tokio::task::spawn_blocking(work).await.ok()?
}

/// The address of an answer: its name, and what asks for it again.
pub(super) fn of_answer(name: &str, data: &Value) -> Option<Uri> {
    let [_, answers] = SCHEMES;
    let asks = escaped(&data.to_string());
    Uri::parse(&format!("{answers}:/{}.txt?{asks}", escaped(name))).ok()
}

/// The text of such a page.
pub(super) async fn content(session: &Arc<Session>, uri: &Uri) -> Option<String> {
    let [reasons, answers] = SCHEMES;
    if uri.scheme() == reasons {
        let name = unescaped(uri.path().trim_start_matches('/'))?;
        let rule = findings::find(name.strip_suffix(".md").unwrap_or(&name))?;
        return Some(reason::page(rule));
    }
    let asks = uri.query().filter(|_| uri.scheme() == answers)?;
    let data: Value = serde_json::from_str(&unescaped(asks)?).ok()?;
    let (_, text) = answer(session, &data).await?.ok()?;
    Some(text)
}
