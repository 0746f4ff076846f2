//! The conversation's methods, each handed to the one who knows.
//!
//! A request takes its view before its first await, so that it finds what all messages before it have left,
//! and works on it on a thread of its own.

use std::sync::Arc;

use tower_lsp::LanguageServer;
use tower_lsp::gen_lsp_types::*;
use tower_lsp::jsonrpc::{Error, Result};

use super::capabilities::{self, Client};
use super::commands;
use super::handlers::{
    actions, asked, coloring, files, formatting, lenses, names, outline, renaming, selecting, signature,
    writing,
};
use super::moment::{Stop, View, Waiting};
use super::pages;
use super::session::Session;
use super::watching;

/// The desk: a session, and what it answers.
pub(super) struct Desk {
    pub(super) session: Arc<Session>,
}

impl Desk {
    pub(super) fn new(session: Arc<Session>) -> Desk {
        Desk { session }
    }

    /// The same where an answer about a text that has moved on would do harm: then it is not given.
    async fn with_still<T: Send + 'static>(
        &self,
        uri: &Uri,
        work: impl FnOnce(&View, &Client, &Stop) -> T + Send + 'static,
    ) -> Result<Option<T>> {
        let version = self.session.version_of(uri);
        let found = self.with(uri, work).await?;
        if self.session.version_of(uri) != version {
            return Err(Error::content_modified());
        }
        Ok(found)
    }

    /// Works on the document at `uri`; none when the desk knows nothing of it.
    async fn with<T: Send + 'static>(
        &self,
        uri: &Uri,
        work: impl FnOnce(&View, &Client, &Stop) -> T + Send + 'static,
    ) -> Result<Option<T>> {
        let Some(view) = self.session.view(uri) else {
            return Ok(None);
        };
        let can = self.session.can();
        apart(move |stop| work(&view, &can, stop)).await.map(Some)
    }
}

impl Desk {
    /// The user wants some work stopped.
    pub(super) async fn cancel_progress(&self, params: WorkDoneProgressCancelParams) {
        self.session.cancelled(&params);
    }

    /// A message about a document could not be read.
    pub(super) async fn out_of_step(&self, params: serde_json::Value) {
        let uri = params.get("uri").and_then(serde_json::Value::as_str);
        self.session
            .lose(uri.and_then(|uri| Uri::parse(uri).ok()).as_ref());
    }

    /// Tells of work while it goes on, where the client has given it a name.
    async fn told<T>(
        &self,
        params: WorkDoneProgressParams,
        title: &'static str,
        work: impl Future<Output = T>,
    ) -> T {
        let Some(token) = params.work_done_token else {
            return work.await;
        };
        let shown = self.session.wire.progress(token, title).begin().await;
        let done = work.await;
        shown.finish().await;
        done
    }
}

/// Runs a request's work on a thread of its own. When the request is cancelled, `stop` is set.
async fn apart<T: Send + 'static>(work: impl FnOnce(&Stop) -> T + Send + 'static) -> Result<T> {
    let stop = Stop::default();
    let _waiting = Waiting(stop.clone());
    tokio::task::spawn_blocking(move || work(&stop))
        .await
        .map_err(|_| Error::internal_error())
}

impl LanguageServer for Desk {
    async fn initialize(&self, params: InitializeParams) -> Result<InitializeResult> {
        let can = Client::of(&params);
        let capabilities = capabilities::of_desk(&can);
        self.session.begin(can, folders(params));
        Ok(InitializeResult {
            capabilities,
            server_info: Some(ServerInfo {
                name: "levare".to_owned(),
                version: Some(env!("CARGO_PKG_VERSION").to_owned()),
            }),
        })
    }

    async fn initialized(&self, _: InitializedParams) {
        let can = self.session.can();
        if can.watches {
            let session = Arc::clone(&self.session);
            tokio::spawn(async move {
                let asked = session.wire.register_capability(vec![watching::registration()]);
                if asked.await.is_err() {
                    session.log("The editor does not watch files after all.".to_owned());
                }
            });
        }
        if can.watches_settings {
            let session = Arc::clone(&self.session);
            tokio::spawn(async move {
                let asked = session.wire.register_capability(vec![watching::settings()]);
                if asked.await.is_err() {
                    session.log("The editor does not tell of changed settings.".to_owned());
                }
            });
        }
        self.session.ask_settings();
        self.session.settle().await;
    }

    async fn shutdown(&self) -> Result<()> {
        Ok(())
    }

    async fn did_open(&self, params: DidOpenTextDocumentParams) {
        self.session.open(params.text_document).await;
    }

    async fn did_change(&self, params: DidChangeTextDocumentParams) {
        let document = params.text_document;
        let uri = document.text_document_identifier.uri;
        self.session
            .change(&uri, document.version, params.content_changes);
    }

    async fn did_save(&self, params: DidSaveTextDocumentParams) {
        self.session.saved(&params.text_document.uri);
    }

    async fn did_close(&self, params: DidCloseTextDocumentParams) {
        self.session.close(&params.text_document.uri).await;
    }

    async fn did_change_workspace_folders(&self, params: DidChangeWorkspaceFoldersParams) {
        let uris = |folders: Vec<WorkspaceFolder>| folders.into_iter().map(|folder| folder.uri).collect();
        let event = params.event;
        self.session
            .change_folders(uris(event.added), uris(event.removed))
            .await;
    }

    async fn did_change_watched_files(&self, params: DidChangeWatchedFilesParams) {
        let paths = params
            .changes
            .iter()
            .filter_map(|event| super::uri::Key::new(&event.uri).path())
            .collect();
        self.session.on_disk(paths).await;
    }

    async fn did_change_configuration(&self, params: DidChangeConfigurationParams) {
        match self.session.can().has_settings {
            // Editors that can be asked say here only that something changed.
            true => self.session.ask_settings(),
            false => self.session.set(&params.settings),
        }
    }

    async fn will_rename_files(&self, params: RenameFilesParams) -> Result<Option<WorkspaceEdit>> {
        let moments = self.session.rooted_moments();
        let can = self.session.can();
        let moves: Vec<files::Move> = params.files.iter().filter_map(files::Move::of).collect();
        let edit = apart(move |stop| files::renamed(&moments, &moves, &can, stop)).await?;
        edit.map(|edit| self.session.in_step(edit)).transpose()
    }

    async fn did_rename_files(&self, params: RenameFilesParams) {
        let moves = params.files.iter().filter_map(files::Move::of);
        let paths = moves.flat_map(files::Move::both).collect();
        self.session.on_disk(paths).await;
    }

    async fn execute_command(&self, params: ExecuteCommandParams) -> Result<Option<LspAny>> {
        commands::run(&self.session, params).await
    }

    async fn text_document_content(
        &self,
        params: TextDocumentContentParams,
    ) -> Result<TextDocumentContentResult> {
        pages::content(&self.session, &params.uri)
            .await
            .map(|text| TextDocumentContentResult { text })
            .ok_or_else(|| Error::invalid_params(format!("There is no page {}.", params.uri)))
    }

    async fn code_lens(&self, params: CodeLensParams) -> Result<Option<Vec<CodeLens>>> {
        if !self.session.settings().lenses {
            return Ok(None);
        }
        self.with_still(&params.text_document.uri, |view, can, _| {
            lenses::lenses(view, can)
        })
        .await
    }

    async fn code_lens_resolve(&self, lens: CodeLens) -> Result<CodeLens> {
        let uri = lenses::uri_of(lens.data.as_ref()).ok_or_else(Error::content_modified)?;
        let found = self.with(&uri, move |view, _, _| lenses::told(view, lens));
        found.await?.unwrap_or_else(|| Err(Error::content_modified()))
    }

    async fn inlay_hint(&self, params: InlayHintParams) -> Result<Option<Vec<InlayHint>>> {
        let settings = self.session.settings();
        self.with_still(&params.text_document.uri, move |view, can, stop| {
            lenses::hints(view, params.range, &settings, can, stop)
        })
        .await
    }

    async fn inlay_hint_resolve(&self, hint: InlayHint) -> Result<InlayHint> {
        let Some(uri) = lenses::uri_of(hint.data.as_ref()) else {
            return Ok(hint);
        };
        let bare = hint.clone();
        let found = self.with(&uri, move |view, can, _| lenses::hint_told(view, hint, can));
        Ok(found.await?.unwrap_or(bare))
    }

    async fn symbol_resolve(&self, symbol: WorkspaceSymbol) -> Result<WorkspaceSymbol> {
        let Some(uri) = lenses::uri_of(symbol.data.as_ref()) else {
            return Ok(symbol);
        };
        let bare = symbol.clone();
        let found = self.with(&uri, move |view, can, _| outline::resolved(view, symbol, can));
        Ok(found.await?.unwrap_or(bare))
    }

    async fn hover(&self, params: HoverParams) -> Result<Option<Hover>> {
        let at = params.text_document_position_params;
        let root = self.session.root_of(&at.text_document.uri);
        let found = self.with(&at.text_document.uri, move |view, can, _| {
            writing::hover(view, at.position, root.as_deref(), can)
        });
        Ok(found.await?.flatten())
    }

    async fn completion(&self, params: CompletionParams) -> Result<Option<CompletionResponse>> {
        let typed = params.context.and_then(|context| context.trigger_character);
        let at = params.text_document_position_params;
        let found = self.with(&at.text_document.uri, move |view, can, _| {
            writing::completion(view, at.position, typed.as_deref(), can)
        });
        Ok(found.await?.flatten())
    }

    async fn completion_resolve(&self, item: CompletionItem) -> Result<CompletionItem> {
        let Some(uri) = lenses::uri_of(item.data.as_ref()) else {
            return Ok(item);
        };
        let bare = item.clone();
        let found = self.with(&uri, move |view, can, _| writing::documented(view, item, can));
        Ok(found.await?.unwrap_or(bare))
    }

    async fn signature_help(&self, params: SignatureHelpParams) -> Result<Option<SignatureHelp>> {
        let at = params.text_document_position_params;
        let found = self.with(&at.text_document.uri, move |view, can, _| {
            signature::help(view, at.position, can)
        });
        Ok(found.await?.flatten())
    }

    async fn goto_definition(&self, params: DefinitionParams) -> Result<Option<DefinitionResponse>> {
        let at = params.text_document_position_params;
        let found = self.with(&at.text_document.uri, move |view, can, _| {
            names::definition(view, at.position, can)
        });
        Ok(found.await?.flatten())
    }

    async fn references(&self, params: ReferenceParams) -> Result<Option<Vec<Location>>> {
        let at = params.text_document_position_params;
        let heads = params.context.include_declaration;
        let found = self.with(&at.text_document.uri, move |view, can, _| {
            names::references(view, at.position, heads, can)
        });
        let told = self.told(params.work_done_progress_params, "Looking for uses", found);
        let found = told.await?.flatten();
        let token = params.partial_result_params.partial_result_token;
        let (Some(token), Some(all)) = (&token, &found) else {
            return Ok(found);
        };
        for part in all.chunks(PART) {
            let sent = self
                .session
                .wire
                .send_partial_result::<ReferencesRequest>(token.clone(), part.to_vec());
            sent.await;
        }
        Ok(Some(Vec::new()))
    }

    async fn document_symbol(&self, params: DocumentSymbolParams) -> Result<Option<DocumentSymbolResponse>> {
        self.with(&params.text_document.uri, |view, can, _| {
            outline::document(view, can)
        })
        .await
    }

    async fn folding_range(&self, params: FoldingRangeParams) -> Result<Option<Vec<FoldingRange>>> {
        self.with(&params.text_document.uri, |view, can, _| {
            outline::folding(view, can)
        })
        .await
    }

    async fn symbol(&self, params: WorkspaceSymbolParams) -> Result<Option<WorkspaceSymbolResponse>> {
        let moments = self.session.moments();
        let can = self.session.can();
        let found = apart(move |stop| outline::workspace(&moments, &params.query, &can, stop));
        let told = self.told(params.work_done_progress_params, "Looking for cards", found);
        let mut found = told.await?;
        if let Some(token) = params.partial_result_params.partial_result_token {
            for part in found.chunks(PART) {
                let part = WorkspaceSymbolPartialResponse::WorkspaceSymbolList(part.to_vec());
                let sent = self
                    .session
                    .wire
                    .send_partial_result::<WorkspaceSymbolRequest>(token.clone(), part);
                sent.await;
            }
            found.clear();
        }
        Ok(Some(WorkspaceSymbolResponse::WorkspaceSymbolList(found)))
    }

    async fn code_action(&self, params: CodeActionParams) -> Result<Option<Vec<CodeActionResponse>>> {
        let uri = params.text_document.uri.clone();
        let found = self.with(&uri, move |view, can, stop| {
            actions::actions(view, &params, can, stop)
        });
        let in_step = |action: &CodeActionResponse| match action {
            CodeActionResponse::CodeAction(CodeAction { edit: Some(edit), .. }) => {
                self.session.is_in_step(edit)
            }
            _ => true,
        };
        Ok(found
            .await?
            .map(|found| found.into_iter().filter(in_step).collect()))
    }

    async fn code_action_resolve(&self, action: CodeAction) -> Result<CodeAction> {
        let Some(uri) = lenses::uri_of(action.data.as_ref()) else {
            return Ok(action);
        };
        let found = self.with(&uri, move |view, can, stop| {
            actions::resolved(view, action, can, stop)
        });
        let action = found.await?.unwrap_or_else(|| Err(Error::content_modified()))?;
        let edit = action.edit.map(|edit| self.session.in_step(edit)).transpose()?;
        Ok(CodeAction { edit, ..action })
    }

    async fn will_save(&self, params: WillSaveTextDocumentParams) {
        self.session.saved(&params.text_document.uri);
    }

    async fn will_save_wait_until(
        &self,
        params: WillSaveTextDocumentParams,
    ) -> Result<Option<Vec<TextEdit>>> {
        let wanted = self.session.settings().recopy_on_save;
        self.with(&params.text_document.uri, move |view, can, _| {
            match wanted.unwrap_or(can.writing.recopies) {
                true => formatting::before_saving(view, can),
                false => Vec::new(),
            }
        })
        .await
    }

    async fn ranges_formatting(
        &self,
        params: DocumentRangesFormattingParams,
    ) -> Result<Option<Vec<TextEdit>>> {
        self.with(&params.text_document.uri, move |view, can, _| {
            formatting::in_ranges(view, &params.ranges, can)
        })
        .await
    }

    async fn on_type_formatting(
        &self,
        params: DocumentOnTypeFormattingParams,
    ) -> Result<Option<Vec<TextEdit>>> {
        self.with(&params.text_document.uri, move |view, can, _| {
            formatting::typed(view, params.position, &params.ch, can)
        })
        .await
    }

    async fn formatting(&self, params: DocumentFormattingParams) -> Result<Option<Vec<TextEdit>>> {
        self.with(&params.text_document.uri, |view, can, _| {
            formatting::edits(view, None, can)
        })
        .await
    }

    async fn range_formatting(&self, params: DocumentRangeFormattingParams) -> Result<Option<Vec<TextEdit>>> {
        self.with(&params.text_document.uri, move |view, can, _| {
            formatting::edits(view, Some(params.range), can)
        })
        .await
    }

    async fn prepare_rename(&self, at: TextDocumentPositionParams) -> Result<Option<PrepareRenameResult>> {
        let found = self.with(&at.text_document.uri, move |view, can, _| {
            renaming::prepare(view, at.position, can)
        });
        found.await?.unwrap_or(Ok(None))
    }

    async fn rename(&self, params: RenameParams) -> Result<Option<WorkspaceEdit>> {
        let at = params.text_document_position_params;
        let found = self.with_still(&at.text_document.uri, move |view, can, _| {
            renaming::rename(view, at.position, &params.new_name, can)
        });
        let edit = found.await?.unwrap_or(Ok(None))?;
        edit.map(|edit| self.session.in_step(edit)).transpose()
    }

    async fn document_highlight(
        &self,
        params: DocumentHighlightParams,
    ) -> Result<Option<Vec<DocumentHighlight>>> {
        let at = params.text_document_position_params;
        let found = self.with(&at.text_document.uri, move |view, can, _| {
            renaming::highlights(view, at.position, can)
        });
        Ok(found.await?.flatten())
    }

    async fn linked_editing_range(
        &self,
        params: LinkedEditingRangeParams,
    ) -> Result<Option<LinkedEditingRanges>> {
        let at = params.text_document_position_params;
        let found = self.with_still(&at.text_document.uri, move |view, can, _| {
            renaming::linked(view, at.position, can)
        });
        Ok(found.await?.flatten())
    }

    async fn selection_range(&self, params: SelectionRangeParams) -> Result<Option<Vec<SelectionRange>>> {
        self.with(&params.text_document.uri, move |view, can, _| {
            selecting::ranges(view, &params.positions, can)
        })
        .await
    }

    async fn document_link(&self, params: DocumentLinkParams) -> Result<Option<Vec<DocumentLink>>> {
        let root = self.session.root_of(&params.text_document.uri);
        self.with(&params.text_document.uri, move |view, can, _| {
            selecting::links(view, root.as_deref(), can)
        })
        .await
    }

    async fn document_link_resolve(&self, link: DocumentLink) -> Result<DocumentLink> {
        Ok(selecting::resolved(link))
    }

    async fn semantic_tokens_full(&self, params: SemanticTokensParams) -> Result<Option<SemanticTokens>> {
        let session = Arc::clone(&self.session);
        self.with_still(&params.text_document.uri, move |view, can, stop| {
            let data = coloring::tokens(view, None, can, stop);
            let name = coloring::result_id(&data);
            session.color(&view.paper.key, name.clone(), data.clone(), None);
            SemanticTokens {
                result_id: Some(name),
                data,
            }
        })
        .await
    }

    async fn semantic_tokens_full_delta(
        &self,
        params: SemanticTokensDeltaParams,
    ) -> Result<Option<SemanticTokensDeltaResponse>> {
        let session = Arc::clone(&self.session);
        let previous = params.previous_result_id;
        self.with_still(&params.text_document.uri, move |view, can, stop| {
            let data = coloring::tokens(view, None, can, stop);
            let name = coloring::result_id(&data);
            let before = session.color(&view.paper.key, name.clone(), data.clone(), Some(&previous));
            match before {
                Some(before) => SemanticTokensDeltaResponse::SemanticTokensDelta(SemanticTokensDelta {
                    result_id: Some(name),
                    edits: coloring::delta(&before, &data),
                }),
                None => SemanticTokensDeltaResponse::SemanticTokens(SemanticTokens {
                    result_id: Some(name),
                    data,
                }),
            }
        })
        .await
    }

    async fn semantic_tokens_range(
        &self,
        params: SemanticTokensRangeParams,
    ) -> Result<Option<SemanticTokens>> {
        self.with_still(&params.text_document.uri, move |view, can, stop| SemanticTokens {
            result_id: None,
            data: coloring::tokens(view, Some(params.range), can, stop),
        })
        .await
    }

    async fn diagnostic(&self, params: DocumentDiagnosticParams) -> Result<DocumentDiagnosticReport> {
        let session = Arc::clone(&self.session);
        let previous = params.previous_result_id;
        let uri = params.text_document.uri;
        let version = session.version_of(&uri);
        let found = match self.session.any_view(&uri) {
            Some(view) => {
                apart(move |stop| asked::document(&session, &view, previous.as_deref(), stop)).await?
            }
            None => asked::nothing(),
        };
        if self.session.version_of(&uri) != version {
            return Err(asked::ask_again());
        }
        Ok(found)
    }

    /// Where there is nothing that the client does not have, the answer waits until there is.
    async fn workspace_diagnostic(
        &self,
        params: WorkspaceDiagnosticParams,
    ) -> Result<WorkspaceDiagnosticReport> {
        let mut rounds = self.session.rounds();
        let may_wait = !params.previous_result_ids.is_empty();
        let token = params.partial_result_params.partial_result_token;
        let mut name = params.work_done_progress_params;
        loop {
            rounds.borrow_and_update();
            let session = Arc::clone(&self.session);
            let moments = session.moments();
            let (previous, token) = (params.previous_result_ids.clone(), token.clone());
            let work = apart(move |stop| {
                let send = |items| {
                    if let Some(token) = &token {
                        let part = WorkspaceDiagnosticReportPartialResult { items };
                        let sent = session
                            .wire
                            .send_partial_result::<WorkspaceDiagnosticRequest>(token.clone(), part);
                        session.runtime().block_on(sent);
                    }
                };
                let part: Option<&dyn Fn(_)> = token.as_ref().map(|_| &send as &dyn Fn(_));
                asked::workspace(&session, &moments, previous, stop, part)
            });
            // Only the first look is worth telling of.
            let reports = self.told(std::mem::take(&mut name), "Proofreading", work).await?;
            if reports.news || !may_wait {
                return Ok(WorkspaceDiagnosticReport { items: reports.items });
            }
            if rounds.changed().await.is_err() {
                return Err(Error::request_cancelled());
            }
            // While somebody types, every keystroke is a round.
            tokio::time::sleep(std::time::Duration::from_millis(100)).await;
        }
    }
}

/// How many places or cards are sent together where they are sent in parts.
const PART: usize = 50;

/// The editor's folders; clients older than these name one root.
#[allow(deprecated, reason = "older clients send what the protocol no longer wants")]
fn folders(params: InitializeParams) -> Vec<Uri> {
    if let Some(WorkspaceFolders::WorkspaceFolderList(folders)) =
        params.workspace_folders_initialize_params.workspace_folders
    {
        return folders.into_iter().map(|folder| folder.uri).collect();
    }
    if let Some(uri) = params.root_uri {
        return vec![uri];
    }
    match params.root_path {
        Some(RootPath::String(path)) => Uri::from_file_path(path).into_iter().collect(),
        _ => Vec::new(),
    }
}
