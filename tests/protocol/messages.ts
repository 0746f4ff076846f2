// The types of everything that a server sends, by method, from the protocol's own package. From this,
// ts-json-schema-generator makes the schemas that `validators.py` uses.
import * as p from 'vscode-languageserver-protocol';

type Work = p.WorkDoneProgressBegin | p.WorkDoneProgressReport | p.WorkDoneProgressEnd;

// Answers to what the client asks.
export interface Results {
  'initialize': p.InitializeResult;
  'shutdown': null;
  'textDocument/completion': p.CompletionItem[] | p.CompletionList | null;
  'completionItem/resolve': p.CompletionItem;
  'textDocument/hover': p.Hover | null;
  'textDocument/signatureHelp': p.SignatureHelp | null;
  'textDocument/declaration': p.Location | p.Location[] | p.LocationLink[] | null;
  'textDocument/definition': p.Location | p.Location[] | p.LocationLink[] | null;
  'textDocument/typeDefinition': p.Location | p.Location[] | p.LocationLink[] | null;
  'textDocument/implementation': p.Location | p.Location[] | p.LocationLink[] | null;
  'textDocument/references': p.Location[] | null;
  'textDocument/documentHighlight': p.DocumentHighlight[] | null;
  'textDocument/documentSymbol': p.DocumentSymbol[] | p.SymbolInformation[] | null;
  'textDocument/codeAction': (p.Command | p.CodeAction)[] | null;
  'codeAction/resolve': p.CodeAction;
  'textDocument/codeLens': p.CodeLens[] | null;
  'codeLens/resolve': p.CodeLens;
  'textDocument/documentLink': p.DocumentLink[] | null;
  'documentLink/resolve': p.DocumentLink;
  'textDocument/documentColor': p.ColorInformation[];
  'textDocument/colorPresentation': p.ColorPresentation[];
  'textDocument/formatting': p.TextEdit[] | null;
  'textDocument/rangeFormatting': p.TextEdit[] | null;
  'textDocument/rangesFormatting': p.TextEdit[] | null;
  'textDocument/onTypeFormatting': p.TextEdit[] | null;
  'textDocument/willSaveWaitUntil': p.TextEdit[] | null;
  'textDocument/prepareRename': p.PrepareRenameResult | null;
  'textDocument/rename': p.WorkspaceEdit | null;
  'textDocument/foldingRange': p.FoldingRange[] | null;
  'textDocument/selectionRange': p.SelectionRange[] | null;
  'textDocument/linkedEditingRange': p.LinkedEditingRanges | null;
  'textDocument/semanticTokens/full': p.SemanticTokens | null;
  'textDocument/semanticTokens/full/delta': p.SemanticTokens | p.SemanticTokensDelta | null;
  'textDocument/semanticTokens/range': p.SemanticTokens | null;
  'textDocument/inlayHint': p.InlayHint[] | null;
  'inlayHint/resolve': p.InlayHint;
  'textDocument/inlineValue': p.InlineValue[] | null;
  'textDocument/inlineCompletion': p.InlineCompletionList | p.InlineCompletionItem[] | null;
  'textDocument/moniker': p.Moniker[] | null;
  'textDocument/prepareCallHierarchy': p.CallHierarchyItem[] | null;
  'callHierarchy/incomingCalls': p.CallHierarchyIncomingCall[] | null;
  'callHierarchy/outgoingCalls': p.CallHierarchyOutgoingCall[] | null;
  'textDocument/prepareTypeHierarchy': p.TypeHierarchyItem[] | null;
  'typeHierarchy/supertypes': p.TypeHierarchyItem[] | null;
  'typeHierarchy/subtypes': p.TypeHierarchyItem[] | null;
  'textDocument/diagnostic': p.DocumentDiagnosticReport;
  'workspace/diagnostic': p.WorkspaceDiagnosticReport;
  'workspace/symbol': p.SymbolInformation[] | p.WorkspaceSymbol[] | null;
  'workspaceSymbol/resolve': p.WorkspaceSymbol;
  'workspace/executeCommand': p.LSPAny;
  'workspace/willCreateFiles': p.WorkspaceEdit | null;
  'workspace/willRenameFiles': p.WorkspaceEdit | null;
  'workspace/willDeleteFiles': p.WorkspaceEdit | null;
  'workspace/textDocumentContent': p.TextDocumentContentResult;
}

// What the server asks the client, and what it tells it.
export interface Params {
  'textDocument/publishDiagnostics': p.PublishDiagnosticsParams;
  'window/showMessage': p.ShowMessageParams;
  'window/logMessage': p.LogMessageParams;
  'window/showMessageRequest': p.ShowMessageRequestParams;
  'window/showDocument': p.ShowDocumentParams;
  'window/workDoneProgress/create': p.WorkDoneProgressCreateParams;
  'client/registerCapability': p.RegistrationParams;
  'client/unregisterCapability': p.UnregistrationParams;
  'workspace/applyEdit': p.ApplyWorkspaceEditParams;
  'workspace/configuration': p.ConfigurationParams;
  'workspace/textDocumentContent/refresh': p.TextDocumentContentRefreshParams;
}

// Values of `$/progress`: work that is told of, and parts of answers.
export interface Parts {
  'work': Work;
  'textDocument/references': p.Location[];
  'textDocument/documentHighlight': p.DocumentHighlight[];
  'textDocument/documentSymbol': p.DocumentSymbol[] | p.SymbolInformation[];
  'textDocument/definition': p.Location[] | p.LocationLink[];
  'textDocument/codeAction': (p.Command | p.CodeAction)[];
  'textDocument/codeLens': p.CodeLens[];
  'textDocument/documentLink': p.DocumentLink[];
  'textDocument/foldingRange': p.FoldingRange[];
  'textDocument/selectionRange': p.SelectionRange[];
  'textDocument/completion': p.CompletionItem[] | p.CompletionList;
  'textDocument/semanticTokens/full': p.SemanticTokensPartialResult;
  'textDocument/semanticTokens/full/delta': p.SemanticTokensPartialResult | p.SemanticTokensDeltaPartialResult;
  'textDocument/semanticTokens/range': p.SemanticTokensPartialResult;
  'textDocument/diagnostic': p.DocumentDiagnosticReportPartialResult;
  'workspace/diagnostic': p.WorkspaceDiagnosticReportPartialResult;
  'workspace/symbol': p.SymbolInformation[] | p.WorkspaceSymbol[];
}

export interface All { results: Results; params: Params; parts: Parts }
