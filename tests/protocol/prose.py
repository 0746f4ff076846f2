"""What the protocol says in words only, where no type can hold it (Language Server Protocol 3.18)."""


def place(position):
    return position["line"], position["character"]


def ranges(value, path=""):
    """All ranges in a message."""
    if isinstance(value, dict):
        if isinstance(value.get("start"), dict) and isinstance(value.get("end"), dict):
            yield path, value
        for name, inner in value.items():
            yield from ranges(inner, f"{path}/{name}")
    elif isinstance(value, list):
        for at, inner in enumerate(value):
            yield from ranges(inner, f"{path}/{at}")


def holds(outer, inner):
    return place(outer["start"]) <= place(inner["start"]) and place(inner["end"]) <= place(outer["end"])


def overlapping(edits):
    spans = sorted((place(edit["range"]["start"]), place(edit["range"]["end"])) for edit in edits)
    return any(after[0] < before[1] for before, after in zip(spans, spans[1:]))


def edits_of(edit):
    for edits in (edit.get("changes") or {}).values():
        yield edits
    for change in edit.get("documentChanges") or []:
        if "edits" in change:
            yield change["edits"]


def symbols(items):
    for symbol in items:
        if "selectionRange" in symbol:
            if not holds(symbol["range"], symbol["selectionRange"]):
                yield f"{symbol['name']}: its name lies outside it"
            yield from symbols(symbol.get("children") or [])
        if not symbol["name"].strip():
            yield "a symbol without a name"


def diagnostics(items):
    for item in items:
        message = item["message"]
        if not (message if isinstance(message, str) else message["value"]).strip():
            yield "a diagnostic that says nothing"


def growing(selection):
    while selection.get("parent"):
        if not holds(selection["parent"]["range"], selection["range"]):
            yield "a larger selection that does not hold the smaller"
        selection = selection["parent"]


def faults(method, content, asked=None):
    """What is wrong with parameters or a result that both validators let through; `asked` are the parameters
    of the request."""
    found = []
    for path, span in ranges(content):
        if place(span["end"]) < place(span["start"]):
            found.append(f"{path}: ends before it starts")
    if content is None:
        return found
    if method in ("textDocument/publishDiagnostics",):
        found += diagnostics(content["diagnostics"])
    if method == "textDocument/diagnostic":
        found += diagnostics(content.get("items") or [])
    if method == "workspace/diagnostic":
        for report in content["items"]:
            found += diagnostics(report.get("items") or [])
    if method in ("textDocument/formatting", "textDocument/rangeFormatting", "textDocument/rangesFormatting",
                  "textDocument/onTypeFormatting", "textDocument/willSaveWaitUntil"):
        if overlapping(content):
            found.append("edits that overlap")
    edits = []
    if method in ("textDocument/rename", "workspace/willRenameFiles"):
        edits = [content]
    if method == "workspace/applyEdit":
        edits = [content["edit"]]
    if method in ("textDocument/codeAction", "codeAction/resolve"):
        actions = content if isinstance(content, list) else [content]
        edits = [action["edit"] for action in actions if action.get("edit")]
        found += ["an action without a title" for action in actions if not action["title"].strip()]
    for edit in edits:
        if any(overlapping(some) for some in edits_of(edit)):
            found.append("edits that overlap")
    if method == "textDocument/documentSymbol":
        found += symbols(content)
    if method == "textDocument/selectionRange":
        if asked and len(content) != len(asked["positions"]):
            found.append("not one selection for each place")
        for selection in content:
            found += growing(selection)
    if method.startswith("textDocument/semanticTokens"):
        numbers = content.get("data") or []
        if len(numbers) % 5:
            found.append("word colors that are not five numbers each")
        for edit in content.get("edits") or []:
            numbers = numbers + (edit.get("data") or [])
        if any(number < 0 for number in numbers):
            found.append("a number of a word color below zero")
    if method == "textDocument/completion":
        items = content if isinstance(content, list) else content["items"]
        for item in items:
            edit = item.get("textEdit") or {}
            span = edit.get("range") or edit.get("replace")
            if span and span["start"]["line"] != span["end"]["line"]:
                found.append(f"{item['label']}: replaces more than a line")
            at = asked and asked.get("position")
            # A cursor below the last line counts as at the end of the text, so only this way is sure.
            if span and isinstance(at, dict) and span["start"]["line"] > at["line"]:
                found.append(f"{item['label']}: replaces a line below the cursor's")
    if method == "textDocument/signatureHelp" and content["signatures"]:
        if (content.get("activeSignature") or 0) >= len(content["signatures"]):
            found.append("the active signature is none of those given")
    if method == "textDocument/linkedEditingRange":
        spans = sorted((place(span["start"]), place(span["end"])) for span in content["ranges"])
        if any(after[0] < before[1] for before, after in zip(spans, spans[1:])):
            found.append("linked ranges that overlap")
    return found
