"""The check of the check: good messages pass, and each of the planted faults is caught."""
from session import Session

SPAN = {"start": {"line": 0, "character": 0}, "end": {"line": 0, "character": 4}}
BACK = {"start": {"line": 1, "character": 0}, "end": {"line": 0, "character": 4}}
URI = "file:///a.levare"


def asks(method, **more):
    params = {"textDocument": {"uri": URI}, "position": {"line": 0, "character": 0}, **more}
    return "client", {"jsonrpc": "2.0", "id": 1, "method": method, "params": params}


def answers(result, **more):
    return "server", {"jsonrpc": "2.0", "id": 1, "result": result, **more}


def tells(method, params, **more):
    return "server", {"jsonrpc": "2.0", "method": method, "params": params, **more}


def talk(method, result, **more):
    return [asks(method, **more), answers(result)]


def told(**more):
    found = {"range": SPAN, "message": "x", **more}
    return [tells("textDocument/publishDiagnostics", {"uri": URI, "diagnostics": [found]})]


def begins(**offers):
    return talk("initialize", {"capabilities": offers})


def bare(result):
    return talk("textDocument/hover", result)


GOOD = {
    "a diagnostic": told(severity=1, code="x", source="levare", tags=[1], data={"place": "x"}),
    "a hover": bare({"contents": {"kind": "markdown", "value": "x"}, "range": SPAN}),
    "no hover": bare(None),
    "completion": talk("textDocument/completion", [{"label": "a", "kind": 3, "textEdit": {"range": SPAN, "newText": "x"}}]),
    "a list of completion": talk("textDocument/completion", {"isIncomplete": False, "items": []}),
    "an action with a command": talk("textDocument/codeAction", [{"title": "x", "command": {"title": "x", "command": "levare.x"}}]),
    "a command": talk("textDocument/codeAction", [{"title": "x", "command": "levare.x"}]),
    "an edit": talk("textDocument/rename", {"documentChanges": [{"textDocument": {"uri": URI, "version": None}, "edits": [{"range": SPAN, "newText": ""}]}]}),
    "word colors": talk("textDocument/semanticTokens/full", {"resultId": "1", "data": [0, 0, 2, 1, 0]}),
    "a delta": talk("textDocument/semanticTokens/full/delta", {"resultId": "2", "edits": [{"start": 0, "deleteCount": 5}]}),
    "an outline": talk("textDocument/documentSymbol", [{"name": "a", "kind": 5, "range": SPAN, "selectionRange": SPAN}]),
    "signature help": talk("textDocument/signatureHelp", {"signatures": [{"label": "a"}], "activeSignature": 0}),
    "an offer": begins(hoverProvider=True, textDocumentSync={"openClose": True, "change": 2}),
    "an error": [asks("textDocument/hover"), ("server", {"jsonrpc": "2.0", "id": 1, "error": {"code": -32800, "message": "x"}})],
    "a refresh": [("server", {"jsonrpc": "2.0", "id": 5, "method": "workspace/diagnostic/refresh"})],
    "a part": [asks("workspace/symbol", query="", partialResultToken="p"), tells("$/progress", {"token": "p", "value": []})],
    "work": [asks("workspace/symbol", query="", workDoneToken="w"), tells("$/progress", {"token": "w", "value": {"kind": "begin", "title": "x"}})],
}

PLANTED = {
    "a severity that is none": told(severity=9),
    "a severity in words": told(severity="error"),
    "a message that is a number": told(message=5),
    "a message that says nothing": told(message=" "),
    "a line below zero": told(range={"start": {"line": -1, "character": 0}, "end": {"line": 0, "character": 1}}),
    "a range that ends before it starts": told(range=BACK),
    "a half line": told(range={"start": {"line": 0.5, "character": 0}, "end": {"line": 1, "character": 1}}),
    "a tag that is none": told(tags=[9]),
    "a misspelled property": told(severty=1),
    "a property of our own": told(color="red"),
    "no range": [tells("textDocument/publishDiagnostics", {"uri": URI, "diagnostics": [{"message": "x"}]})],
    "no address": [tells("textDocument/publishDiagnostics", {"diagnostics": []})],
    "hover in HTML": bare({"contents": {"kind": "html", "value": "x"}}),
    "hover without contents": bare({}),
    "completion without a label": talk("textDocument/completion", [{"kind": 3}]),
    "completion of no kind": talk("textDocument/completion", [{"label": "a", "kind": 99}]),
    "completion that replaces two lines": talk("textDocument/completion", [{"label": "a", "textEdit": {"range": {**SPAN, "end": {"line": 1, "character": 0}}, "newText": ""}}]),
    "completion of another line": talk("textDocument/completion", [{"label": "a", "textEdit": {"range": {"start": {"line": 5, "character": 0}, "end": {"line": 5, "character": 2}}, "newText": ""}}]),
    "a list that is not said to be whole": talk("textDocument/completion", {"items": []}),
    "a result and an error": [asks("textDocument/hover"), answers(None, error={"code": 1, "message": "x"})],
    "neither a result nor an error": [asks("textDocument/hover"), ("server", {"jsonrpc": "2.0", "id": 1})],
    "a second answer": [asks("textDocument/hover"), answers(None), answers(None)],
    "an answer nobody asked for": [answers(None)],
    "an error without a code": [asks("textDocument/hover"), ("server", {"jsonrpc": "2.0", "id": 1, "error": {"message": "x"}})],
    "another JSON-RPC": [tells("window/logMessage", {"type": 1, "message": "x"}, jsonrpc="1.0")],
    "a method that is none": [tells("textDocument/publishDiagnostix", {})],
    "a message for the client to send": [tells("textDocument/didClose", {"textDocument": {"uri": URI}})],
    "a notification with a number": [tells("window/logMessage", {"type": 1, "message": "x"}, id=3)],
    "a request without a number": [tells("workspace/applyEdit", {"edit": {}})],
    "an offer in words": begins(hoverProvider="yes"),
    "an offer that is none": begins(hoverProvidr=True),
    "an unknown way to send changes": begins(textDocumentSync=7),
    "an action without a title": talk("textDocument/codeAction", [{"kind": "quickfix"}]),
    "an action with an unknown edit": talk("textDocument/codeAction", [{"title": "x", "edit": {"change": {}}}]),
    "edits that overlap": talk("textDocument/formatting", [{"range": SPAN, "newText": "a"}, {"range": {"start": {"line": 0, "character": 2}, "end": {"line": 0, "character": 9}}, "newText": "b"}]),
    "an edit without its text": talk("textDocument/formatting", [{"range": SPAN}]),
    "a renaming that overlaps": talk("textDocument/rename", {"changes": {URI: [{"range": SPAN, "newText": "a"}, {"range": SPAN, "newText": "b"}]}}),
    "a symbol whose name lies outside": talk("textDocument/documentSymbol", [{"name": "a", "kind": 5, "range": SPAN, "selectionRange": {"start": {"line": 4, "character": 0}, "end": {"line": 4, "character": 1}}}]),
    "four numbers for a word": talk("textDocument/semanticTokens/full", {"data": [0, 0, 2, 1]}),
    "a color below zero": talk("textDocument/semanticTokens/full", {"data": [0, 0, 2, 1, -1]}),
    "a fold without its end": talk("textDocument/foldingRange", [{"startLine": 1}]),
    "an active signature that is none": talk("textDocument/signatureHelp", {"signatures": [{"label": "a"}], "activeSignature": 4}),
    "a larger selection that is smaller": talk("textDocument/selectionRange", [{"range": {**SPAN, "end": {"line": 9, "character": 0}}, "parent": {"range": SPAN}}], positions=[{"line": 0, "character": 0}]),
    "too few selections": talk("textDocument/selectionRange", [], positions=[{"line": 0, "character": 0}]),
    "a lens without a range": talk("textDocument/codeLens", [{"command": {"title": "x", "command": "y"}}]),
    "a fact without a label": talk("textDocument/inlayHint", [{"position": {"line": 0, "character": 0}}]),
    "a report of no kind": talk("textDocument/diagnostic", {"items": []}),
    "progress of nobody": [tells("$/progress", {"token": "z", "value": {"kind": "begin", "title": "x"}})],
    "a part of the wrong kind": [asks("workspace/symbol", query="", partialResultToken="p"), tells("$/progress", {"token": "p", "value": {"items": []}})],
    "work of no kind": [asks("workspace/symbol", query="", workDoneToken="w"), tells("$/progress", {"token": "w", "value": {"kind": "starts"}})],
    "a registration without a method": [("server", {"jsonrpc": "2.0", "id": 2, "method": "client/registerCapability", "params": {"registrations": [{"id": "x"}]}})],
}


def faults(messages, validators):
    session = Session(validators)
    return [fault for source, message in messages for fault in session.take(source, message)]


def run(validators):
    wrong = []
    for name, messages in GOOD.items():
        wrong += [f"{name} is good, and held to be wrong: {fault}" for fault in faults(messages, validators)]
    alone = {validator.name: 0 for validator in validators}
    for name, messages in PLANTED.items():
        if not faults(messages, validators):
            wrong.append(f"planted and not caught: {name}")
        for validator in validators:
            alone[validator.name] += bool(faults(messages, [validator]))
    said = ", ".join(f"{count} with {name} alone" for name, count in alone.items())
    print(f"{len(GOOD)} good messages pass; {len(PLANTED)} planted faults, caught: {said}.")
    if wrong:
        raise SystemExit("\n".join(wrong))
