"""One session between a client and the server, message by message."""
import prose
from validators import KNOWN, direction

# Requests with which the tests look behind the conversation; see `src/desk/checks.rs`.
OURS = "levare/"


class Session:
    """Takes all messages of a session in their order, and gives what is wrong with those of the server."""

    def __init__(self, validators):
        self.validators = validators
        self.asked = {"client": {}, "server": {}}
        self.tokens = {}
        self.answered = set()
        # What occurred: ("answer" or "sent" or "part", method), and those answers that held something.
        self.seen = set()
        self.held = set()
        self.offered = None
        # Whether the client wrote bytes of its own, in which messages may have lain that nobody wrote down.
        self.bytes = False

    def take(self, source, message):
        found = self._envelope(source, message)
        if found is None:
            return []
        return found

    def _envelope(self, source, message):
        other = "server" if source == "client" else "client"
        if source == "server" and message.get("jsonrpc") != "2.0":
            return ['jsonrpc is not "2.0"']
        method = message.get("method")
        if method is not None:
            if "id" in message and isinstance(message["id"], (int, str)):
                if source == "server" and message["id"] in self.asked[source]:
                    return [f"{method}: asks twice under {message['id']!r}"]
                self.asked[source][message["id"]] = (method, message.get("params"))
                self._tokens(method, message.get("params"))
            return self._sent(method, message) if source == "server" else None
        if source == "client":
            self.asked[other].pop(message.get("id"), None)
            return None
        if ("result" in message) == ("error" in message):
            return ["an answer has either a result or an error"]
        if message.get("id") is None:
            # What could not be read had no number that could be given back.
            return [] if "error" in message else ["an answer to nothing"]
        asked = self.asked[other].pop(message["id"], None)
        if asked is None:
            if self.bytes and message["id"] not in self.answered:
                self.answered.add(message["id"])
                return []
            again = "a second answer" if message["id"] in self.answered else "an answer nobody asked for"
            return [f"{again}: {message['id']!r}"]
        self.answered.add(message["id"])
        method, params = asked
        if method.startswith(OURS):
            return []
        if method not in KNOWN:
            return [] if "error" in message else [f"{method}: a result to what is not in the protocol"]
        return self._held_against("answer", method, message, params)

    def _tokens(self, method, params):
        if isinstance(params, dict):
            if params.get("partialResultToken") is not None:
                self.tokens[params["partialResultToken"]] = method
            if params.get("workDoneToken") is not None:
                self.tokens[params["workDoneToken"]] = "work"
            if method == "window/workDoneProgress/create":
                self.tokens[params.get("token")] = "work"

    def _sent(self, method, message):
        if method not in KNOWN:
            return [f"{method}: is not in the protocol"]
        if direction(method) not in ("serverToClient", "both"):
            return [f"{method}: is for the client to send"]
        if (KNOWN[method][1] is not None) != ("id" in message):
            return [f"{method}: a request and a notification are two things"]
        if method == "$/progress":
            token, value = message["params"].get("token"), message["params"].get("value")
            about = self.tokens.get(token)
            if about is None:
                return [f"$/progress: nobody gave the token {token!r}"]
            self.seen.add(("part", about))
            self.held.add(("part", about))
            return [
                f"$/progress of {about}: {validator.name}: {fault}"
                for validator in self.validators
                for fault in validator.part(about, value)
            ]
        return self._held_against("sent", method, message, None)

    def _held_against(self, kind, method, message, asked):
        self.seen.add((kind, method))
        content = message.get("params") if kind == "sent" else message.get("result")
        if "error" not in message and content not in (None, [], {}) or kind == "sent":
            self.held.add((kind, method))
        if kind == "answer" and method == "initialize" and isinstance(content, dict):
            self.offered = content.get("capabilities")
        found = []
        for validator in self.validators:
            check = validator.sent if kind == "sent" else validator.answer
            found += [f"{method}: {validator.name}: {fault}" for fault in check(method, message)]
        if not found and "error" not in message:
            found += [f"{method}: {fault}" for fault in prose.faults(method, content, asked)]
        return found
