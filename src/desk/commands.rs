//! Commands that an editor can have carried out: from a lens, a menu, a key.

use std::sync::Arc;

use serde_json::{Value, json};
use tower_lsp::gen_lsp_types::{
    ExecuteCommandParams, Location, MessageActionItem, MessageType, Position, Range, ShowDocumentParams, Uri,
};
use tower_lsp::jsonrpc::{Error, Result};

use crate::assist::{lens, reason};
use crate::findings;

use super::capabilities::Client;
use super::handlers::{formatting, lenses};
use super::moment::View;
use super::pages;
use super::session::Session;
use super::to_protocol;

/// Shows why a finding is one: `["short of percussionists"]`. The result is the page as text.
pub(super) const REASON: &str = "levare.reason";
/// Opens the handbook; of the document's catalogue where one is named: `["file:///..."]`.
pub(super) const HANDBOOK: &str = "levare.handbook";
/// Lays all open files out in the one form.
pub(super) const RECOPY: &str = "levare.recopyOpen";
/// Goes to where a card is used, given what a lens carries. The result is a list of locations.
pub(super) const USES: &str = "levare.uses";

/// Shows what the catalogue answers about a card, given what an action carries. The result is the page as text.
pub(super) const ANSWER: &str = "levare.answer";
/// Puts the cursor where typing goes on after a fix, given what the fix carries.
pub(super) const GO_ON: &str = "levare.goOn";

/// The most places that the user is asked to choose from.
const CHOICES: usize = 12;

/// All commands.
pub(super) fn all() -> Vec<String> {
    [REASON, HANDBOOK, RECOPY, USES, ANSWER, GO_ON]
        .map(str::to_owned)
        .to_vec()
}

/// Carries out a command.
pub(super) async fn run(session: &Arc<Session>, params: ExecuteCommandParams) -> Result<Option<Value>> {
    let first = params.arguments.and_then(|all| all.into_iter().next());
    match params.command.as_str() {
        REASON => {
            show_reason(
                session,
                first.as_ref().and_then(Value::as_str).unwrap_or_default(),
            )
            .await
        }
        HANDBOOK => show_handbook(session, first.as_ref().and_then(Value::as_str)).await,
        RECOPY => recopy_open(session).await,
        USES => show_uses(session, first.unwrap_or_default()).await,
        ANSWER => show_answer(session, &first.unwrap_or_default()).await,
        GO_ON => go_on(session, &first.unwrap_or_default()).await,
        other => Err(Error::invalid_params(format!("There is no command {other}."))),
    }
}

async fn go_on(session: &Arc<Session>, at: &Value) -> Result<Option<Value>> {
    let number = |name: &str| {
        at.get(name)
            .and_then(Value::as_u64)
            .and_then(|n| u32::try_from(n).ok())
    };
    let uri = at
        .get("uri")
        .and_then(Value::as_str)
        .and_then(|uri| Uri::parse(uri).ok());
    if let (Some(uri), Some(line), Some(character)) = (uri, number("line"), number("character")) {
        let cursor = Position { line, character };
        let range = Range {
            start: cursor,
            end: cursor,
        };
        show(session, uri, Some(range)).await;
    }
    Ok(None)
}

async fn show_reason(session: &Arc<Session>, phrase: &str) -> Result<Option<Value>> {
    let Some(rule) = findings::find(phrase) else {
        session
            .say(format!(
                "Levare has no finding called \"{phrase}\". The names of all findings are in the list that \
                 \"levare reason\" prints."
            ))
            .await;
        return Ok(None);
    };
    match pages::of_reason(rule.phrase) {
        Some(uri) if session.can().shows_pages => show(session, uri, None).await,
        _ => session.say(reason::short(rule)).await,
    }
    Ok(Some(json!(reason::page(rule))))
}

async fn show_answer(session: &Arc<Session>, data: &Value) -> Result<Option<Value>> {
    let (name, text) = match pages::answer(session, data).await {
        Some(Ok(page)) => page,
        Some(Err(why)) => {
            session.say(why).await;
            return Ok(None);
        }
        None => return Err(Error::content_modified()),
    };
    match pages::of_answer(&name, data) {
        Some(uri) if session.can().shows_pages => show(session, uri, None).await,
        // A window for a message holds no whole page.
        _ => {
            let begins = text.split("\n\n").next().unwrap_or_default();
            session.say(format!("{name}: {begins}")).await;
        }
    }
    Ok(Some(json!(text)))
}

async fn show_handbook(session: &Arc<Session>, document: Option<&str>) -> Result<Option<Value>> {
    let named = document.and_then(|uri| Uri::parse(uri).ok());
    let moments = match named.and_then(|uri| session.view(&uri)) {
        Some(view) => vec![view.moment],
        None => session.moments(),
    };
    let can = session.can();
    let found = tokio::task::spawn_blocking(move || {
        moments.iter().find_map(|moment| {
            let (id, _) = moment.snapshot().handbook_card()?;
            let target = crate::assist::Target {
                id,
                span: crate::text::Span::at(0),
            };
            to_protocol::location(moment, target, can.encoding)
        })
    })
    .await
    .map_err(|_| Error::internal_error())?;
    match found {
        Some(at) => {
            show(session, at.uri.clone(), Some(at.range)).await;
            Ok(Some(json!(at.uri)))
        }
        None => {
            session
                .say(
                    "There is no handbook yet. Make a file handbook.levare in the folder of your cards, with the \
                     one word handbook in its first line."
                        .to_owned(),
                )
                .await;
            Ok(None)
        }
    }
}

async fn recopy_open(session: &Arc<Session>) -> Result<Option<Value>> {
    let views = session.open_views();
    let can = session.can();
    let made = tokio::task::spawn_blocking(move || recopied(&views, &can))
        .await
        .map_err(|_| Error::internal_error())?;
    let Some((edit, files)) = made else {
        session
            .say("All open files are already recopied.".to_owned())
            .await;
        return Ok(Some(json!(0)));
    };
    let answer = session.wire.apply_edit(edit).await?;
    Ok(Some(json!(if answer.applied { files } else { 0 })))
}

fn recopied(views: &[View], can: &Client) -> Option<(tower_lsp::gen_lsp_types::WorkspaceEdit, usize)> {
    let files: Vec<_> = views
        .iter()
        .map(|view| (Arc::clone(&view.paper), formatting::edits(view, None, can)))
        .filter(|(_, edits)| !edits.is_empty())
        .collect();
    let number = files.len();
    (number > 0).then(|| (to_protocol::workspace_edits(files, can), number))
}

async fn show_uses(session: &Arc<Session>, data: Value) -> Result<Option<Value>> {
    let view = lenses::uri_of(Some(&data)).and_then(|uri| session.view(&uri));
    let can = session.can();
    let found = tokio::task::spawn_blocking(move || view.map(|view| uses(&view, &data, &can)))
        .await
        .map_err(|_| Error::internal_error())?
        .unwrap_or_default();
    let locations: Vec<&Location> = found.iter().map(|(_, at)| at).collect();
    let result = json!(locations);
    match found.as_slice() {
        [] => {}
        [(_, only)] => show(session, only.uri.clone(), Some(only.range)).await,
        // An editor that shows a list of its own reads the result.
        many if session.can().shows_documents => {
            let (session, many) = (Arc::clone(session), many.to_vec());
            let runtime = session.runtime().clone();
            // The user may take all day over a choice, and the command is over without it.
            runtime.spawn(async move { choose(&session, many).await });
        }
        _ => {}
    }
    Ok(Some(result))
}

fn uses(view: &View, data: &Value, can: &Client) -> Vec<(String, Location)> {
    let Some(id) = lenses::card_of(view, data) else {
        return Vec::new();
    };
    let snapshot = view.moment.snapshot();
    let mut found: Vec<(String, Location)> = lens::places(snapshot, id)
        .into_iter()
        .filter_map(|target| {
            let entry = snapshot.entry(target.id)?;
            let kind = entry.kind?;
            let title = match entry.name.is_empty() {
                true => kind.word().to_owned(),
                false => format!("{kind} \"{}\"", entry.name),
            };
            Some((title, to_protocol::location(&view.moment, target, can.encoding)?))
        })
        .collect();
    // One place a card is enough to choose from.
    found.dedup_by(|a, b| a.0 == b.0 && a.1.uri == b.1.uri);
    found
}

async fn choose(session: &Arc<Session>, many: Vec<(String, Location)>) {
    let items = many.iter().take(CHOICES).map(|(title, _)| MessageActionItem {
        title: title.clone(),
        ..MessageActionItem::default()
    });
    let message = match many.len() > CHOICES {
        true => format!("Used on {} cards; these are the first.", many.len()),
        false => "Where to?".to_owned(),
    };
    let chosen = session
        .wire
        .show_message_request(MessageType::Info, message, Some(items.collect()))
        .await;
    if let Ok(Some(chosen)) = chosen
        && let Some((_, at)) = many.iter().find(|(title, _)| *title == chosen.title)
    {
        show(session, at.uri.clone(), Some(at.range)).await;
    }
}

/// Shows a document, in an editor that can be asked to.
async fn show(session: &Arc<Session>, uri: Uri, selection: Option<Range>) {
    if !session.can().shows_documents {
        return;
    }
    let asked = session.wire.show_document(ShowDocumentParams {
        uri,
        external: None,
        take_focus: Some(true),
        selection,
    });
    if !matches!(asked.await, Ok(true)) {
        session.log("The editor did not show what it was asked to.".to_owned());
    }
}
