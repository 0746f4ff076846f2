"""Holds recorded sessions against the protocol: check.py SCHEMA RECORDS SOURCES

Fails when the server sent something that is not in the protocol, and when something that it can send was
never recorded, so that nothing passes because nobody looked.
"""
import json
import re
import sys
from collections import Counter
from pathlib import Path

from session import Session
from validators import KNOWN, Schemas, Typed
import selftest

# The requests that an offer of `initialize` promises to answer.
OFFERS = {
    "completionProvider": ["textDocument/completion"],
    "completionProvider/resolveProvider": ["completionItem/resolve"],
    "hoverProvider": ["textDocument/hover"],
    "signatureHelpProvider": ["textDocument/signatureHelp"],
    "declarationProvider": ["textDocument/declaration"],
    "definitionProvider": ["textDocument/definition"],
    "typeDefinitionProvider": ["textDocument/typeDefinition"],
    "implementationProvider": ["textDocument/implementation"],
    "referencesProvider": ["textDocument/references"],
    "documentHighlightProvider": ["textDocument/documentHighlight"],
    "documentSymbolProvider": ["textDocument/documentSymbol"],
    "codeActionProvider": ["textDocument/codeAction"],
    "codeActionProvider/resolveProvider": ["codeAction/resolve"],
    "codeLensProvider": ["textDocument/codeLens"],
    "codeLensProvider/resolveProvider": ["codeLens/resolve"],
    "documentLinkProvider": ["textDocument/documentLink"],
    "documentLinkProvider/resolveProvider": ["documentLink/resolve"],
    "colorProvider": ["textDocument/documentColor", "textDocument/colorPresentation"],
    "documentFormattingProvider": ["textDocument/formatting"],
    "documentRangeFormattingProvider": ["textDocument/rangeFormatting"],
    "documentRangeFormattingProvider/rangesSupport": ["textDocument/rangesFormatting"],
    "documentOnTypeFormattingProvider": ["textDocument/onTypeFormatting"],
    "textDocumentSync/willSaveWaitUntil": ["textDocument/willSaveWaitUntil"],
    "renameProvider": ["textDocument/rename"],
    "renameProvider/prepareProvider": ["textDocument/prepareRename"],
    "foldingRangeProvider": ["textDocument/foldingRange"],
    "selectionRangeProvider": ["textDocument/selectionRange"],
    "linkedEditingRangeProvider": ["textDocument/linkedEditingRange"],
    "semanticTokensProvider/full": ["textDocument/semanticTokens/full"],
    "semanticTokensProvider/full/delta": ["textDocument/semanticTokens/full/delta"],
    "semanticTokensProvider/range": ["textDocument/semanticTokens/range"],
    "inlayHintProvider": ["textDocument/inlayHint"],
    "inlayHintProvider/resolveProvider": ["inlayHint/resolve"],
    "inlineValueProvider": ["textDocument/inlineValue"],
    "inlineCompletionProvider": ["textDocument/inlineCompletion"],
    "monikerProvider": ["textDocument/moniker"],
    "callHierarchyProvider": ["textDocument/prepareCallHierarchy", "callHierarchy/incomingCalls",
                              "callHierarchy/outgoingCalls"],
    "typeHierarchyProvider": ["textDocument/prepareTypeHierarchy", "typeHierarchy/supertypes",
                              "typeHierarchy/subtypes"],
    "diagnosticProvider": ["textDocument/diagnostic"],
    "diagnosticProvider/workspaceDiagnostics": ["workspace/diagnostic"],
    "workspaceSymbolProvider": ["workspace/symbol"],
    "workspaceSymbolProvider/resolveProvider": ["workspaceSymbol/resolve"],
    "executeCommandProvider": ["workspace/executeCommand"],
    "workspace/fileOperations/willCreate": ["workspace/willCreateFiles"],
    "workspace/fileOperations/willRename": ["workspace/willRenameFiles"],
    "workspace/fileOperations/willDelete": ["workspace/willDeleteFiles"],
    "workspace/textDocumentContent": ["workspace/textDocumentContent"],
}

# What the server's handle on the client sends (tower-lsp-server, `Client`); found by reading the sources.
HANDLE = {
    "register_capability": "client/registerCapability",
    "unregister_capability": "client/unregisterCapability",
    "show_message": "window/showMessage",
    "show_message_request": "window/showMessageRequest",
    "log_message": "window/logMessage",
    "show_document": "window/showDocument",
    "telemetry_event": "telemetry/event",
    "code_lens_refresh": "workspace/codeLens/refresh",
    "semantic_tokens_refresh": "workspace/semanticTokens/refresh",
    "inline_value_refresh": "workspace/inlineValue/refresh",
    "inlay_hint_refresh": "workspace/inlayHint/refresh",
    "workspace_diagnostic_refresh": "workspace/diagnostic/refresh",
    "text_document_content_refresh": "workspace/textDocumentContent/refresh",
    "folding_range_refresh": "workspace/foldingRange/refresh",
    "publish_diagnostics": "textDocument/publishDiagnostics",
    "create_work_done_progress": "window/workDoneProgress/create",
    "configuration": "workspace/configuration",
    "workspace_folders": "workspace/workspaceFolders",
    "apply_edit": "workspace/applyEdit",
}


def offered(capabilities, offer):
    value = capabilities
    for name in offer.split("/"):
        value = value.get(name) if isinstance(value, dict) else None
    return value not in (None, False)


def sendable(sources):
    """The methods that the server's sources can send, and the kinds of progress."""
    sent, parts = set(), set()
    by_name = {types[0].__name__: method for method, types in KNOWN.items()}
    for path in sorted(Path(sources).rglob("*.rs")):
        text = path.read_text(encoding="utf-8")
        for call in re.findall(r"\b(?:wire|client)\s*\.\s*([a-z_]+)", text):
            if call in HANDLE:
                sent.add(HANDLE[call])
            elif call == "progress":
                parts.add("work")
        for kind in re.findall(r"send_(?:request|notification)::<\s*(?:[a-z_]+::)*(\w+)", text):
            if kind not in by_name:
                raise SystemExit(f"{path} sends {kind}, of which tests/protocol/check.py knows no method.")
            if by_name[kind] != "$/progress":
                sent.add(by_name[kind])
        for kind in re.findall(r"send_partial_result::<\s*(?:[a-z_]+::)*(\w+)", text):
            if kind not in by_name:
                raise SystemExit(f"{path} sends parts of {kind}, which tests/protocol/check.py does not know.")
            parts.add(by_name[kind])
    return sent, parts


def missing(offers, seen, held, sent, parts):
    """What can be sent and never was."""
    wanted = {method for offer, methods in OFFERS.items() if offer in offers for method in methods}
    for method in sorted(wanted):
        if ("answer", method) not in seen:
            yield f"{method} is offered, and no session has an answer to it"
        elif ("answer", method) not in held:
            yield f"{method} is offered, and no session has an answer to it that holds anything"
    for method in sorted(sent):
        if ("sent", method) not in seen:
            yield f"{method} can be sent, and no session has it"
    for about in sorted(parts):
        if ("part", about) not in seen:
            yield f"$/progress of {about} can be sent, and no session has it"


def main():
    schema, records, sources = sys.argv[1:]
    validators = [Typed(), Schemas(schema)]
    selftest.run(validators)
    seen, held, offers, faults, counts = set(), set(), set(), Counter(), Counter()
    where = {}
    files = sorted(Path(records).glob("*.jsonl"))
    for file in files:
        session, test = Session(validators), "?"
        for line in file.read_text(encoding="utf-8").splitlines():
            entry = json.loads(line)
            if "test" in entry:
                test = entry["test"]
                continue
            if "bytes" in entry:
                session.bytes = True
                continue
            counts[entry["from"]] += 1
            for fault in session.take(entry["from"], entry["message"]):
                faults[fault] += 1
                where.setdefault(fault, test)
        seen |= session.seen
        held |= session.held
        offers |= {offer for offer in OFFERS if offered(session.offered or {}, offer)}
    sent, parts = sendable(sources)
    lacking = list(missing(offers, seen, held, sent, parts))
    print(f"{len(files)} sessions, {counts['client']} messages of clients, {counts['server']} of the server;")
    print(f"{len(seen)} kinds of messages of the server held against the protocol.")
    for fault, times in faults.most_common(40):
        print(f"{times} times, first in {where[fault]}: {fault}")
    for lack in lacking:
        print(lack)
    if not files or not counts["server"]:
        print("Nothing was recorded.")
    sys.exit(bool(faults or lacking or not counts["server"]))


if __name__ == "__main__":
    main()
