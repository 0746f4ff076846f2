"""Two validators of the protocol's messages, made from two descriptions of it that do not know each other.

`Typed` reads a message into the types of lsprotocol (made from the protocol's own model) and writes it again:
what cannot be read, or is lost on the way, is a fault. `Schemas` holds it against JSON Schemas made from the
types of vscode-languageserver-protocol. Each lets through some faults that the other sees; both are asked.
"""
import enum
import json

import jsonschema
from lsprotocol import converters, types as lsp

KNOWN = lsp.METHOD_TO_TYPES


def direction(method):
    return lsp.message_direction(method)


def lost(before, after, path=""):
    """What the way through the types dropped or changed."""
    if isinstance(after, enum.Enum):
        after = after.value
    numbers = isinstance(before, (int, float)) and isinstance(after, (int, float))
    if isinstance(before, dict) and isinstance(after, dict):
        for name, value in before.items():
            if name in after:
                yield from lost(value, after[name], f"{path}/{name}")
            elif value is not None:
                yield f"{path}/{name} is not in the protocol"
    elif isinstance(before, list) and isinstance(after, (list, tuple)):
        if len(before) != len(after):
            yield f"{path} has another length"
        for at, (one, other) in enumerate(zip(before, after)):
            yield from lost(one, other, f"{path}/{at}")
    elif before != after or type(before) is not type(after) and not numbers:
        yield f"{path} is {before!r} and is read as {after!r}"


def leaves(error, path=""):
    if hasattr(error, "exceptions"):
        for inner in error.exceptions:
            notes = getattr(inner, "__notes__", None)
            yield from leaves(inner, f"{path} in {notes[0]}" if notes else path)
    else:
        yield f"{type(error).__name__}: {error}{path}"


class Typed:
    name = "types"

    def __init__(self):
        self.converter = converters.get_converter()

    def _through(self, value, kind):
        try:
            again = self.converter.unstructure(self.converter.structure(value, kind), kind)
        except Exception as error:  # cattrs raises what the hook at hand raises
            return list(leaves(error))
        return list(lost(value, again))

    def answer(self, method, message):
        if "error" in message:
            return self._through(message, lsp.ResponseErrorMessage)
        result = message["result"]
        if method == "textDocument/codeAction" and isinstance(result, list):
            # The hook for both takes every action that has a command for a command, so each is read apart.
            return [
                fault
                for item in result
                for fault in self._through(item, self._action_or_command(item))
            ]
        return self._through(message, KNOWN[method][1])

    @staticmethod
    def _action_or_command(item):
        is_command = isinstance(item, dict) and isinstance(item.get("command"), str)
        return lsp.Command if is_command else lsp.CodeAction

    def sent(self, method, message):
        return self._through(message, KNOWN[method][0])

    def part(self, method, value):
        return []  # lsprotocol types the values of $/progress as anything


class Schemas:
    name = "schemas"

    def __init__(self, path):
        with open(path, encoding="utf-8") as file:
            whole = json.load(file)
        self.definitions = whole["definitions"]
        self.validators = {}
        for part in ("Results", "Params", "Parts"):
            for method, schema in self.definitions[part]["properties"].items():
                schema = {"definitions": self.definitions, **schema}
                self.validators[part, method] = jsonschema.Draft7Validator(schema)

    def knows(self, part, method):
        return (part, method) in self.validators

    def _hold(self, part, method, value):
        faults = []
        for error in self.validators[part, method].iter_errors(value):
            path = "/".join(map(str, error.absolute_path))
            faults.append(f"/{path} {error.message[:200]}")
        return faults

    def answer(self, method, message):
        if "error" in message:
            error = message["error"]
            good = isinstance(error.get("code"), int) and isinstance(error.get("message"), str)
            return [] if good else ["an error without a code or a message"]
        return self._hold("Results", method, message["result"])

    def sent(self, method, message):
        if not self.knows("Params", method):
            return [] if message.get("params") is None else ["no parameters are known"]
        return self._hold("Params", method, message.get("params"))

    def part(self, method, value):
        if not self.knows("Parts", method):
            return [f"parts of {method} are not known"]
        return self._hold("Parts", method, value)
