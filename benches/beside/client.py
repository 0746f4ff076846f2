"""A client of language servers that measures: one blocking pipe, so that an answer is timed when its last byte is read."""

import json
import os
import subprocess
import time
from pathlib import Path


class Client:
    def __init__(self, command, folder, pulls, more=None):
        self.folder = Path(folder).resolve()
        self.process = subprocess.Popen(
            command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, bufsize=0
        )
        self.into = self.process.stdin.fileno()
        self.out = os.fdopen(self.process.stdout.fileno(), "rb", buffering=1 << 20, closefd=False)
        self.number = 0
        self.pulls = pulls
        self.seen = []
        self.versions = {}
        capabilities = {
            "general": {"positionEncodings": ["utf-8", "utf-16"]},
            "textDocument": {
                "publishDiagnostics": {"versionSupport": True, "relatedInformation": True},
                "synchronization": {"didSave": True},
                "hover": {"contentFormat": ["markdown"]},
                "documentSymbol": {"hierarchicalDocumentSymbolSupport": True},
                "completion": {"completionItem": {"snippetSupport": True}},
                "inlayHint": {},
                "codeLens": {},
            },
            "workspace": {"configuration": True, "workspaceFolders": True, "didChangeWatchedFiles": {"dynamicRegistration": True}},
        }
        if pulls:
            capabilities["textDocument"]["diagnostic"] = {}
        uri = self.folder.as_uri()
        self.ask(
            "initialize",
            {
                "processId": os.getpid(),
                "rootUri": uri,
                "workspaceFolders": [{"uri": uri, "name": "shelf"}],
                "capabilities": capabilities,
                "initializationOptions": more or {},
            },
        )
        self.tell("initialized", {})

    def send(self, message):
        body = json.dumps(message, separators=(",", ":")).encode()
        data = b"Content-Length: %d\r\n\r\n%s" % (len(body), body)
        while data:
            data = data[os.write(self.into, data):]

    def tell(self, method, params):
        self.send({"jsonrpc": "2.0", "method": method, "params": params})

    def read(self):
        """The next message, and when its last byte had come."""
        length = 0
        while True:
            line = self.out.readline()
            if not line:
                raise EOFError("the server has gone")
            if line == b"\r\n":
                break
            if line.lower().startswith(b"content-length:"):
                length = int(line.split(b":")[1])
        body = self.out.read(length)
        at = time.perf_counter()
        message = json.loads(body)
        if "id" in message and "method" in message:
            answer = None
            if message["method"] == "workspace/configuration":
                answer = [None for _ in message["params"]["items"]]
            self.send({"jsonrpc": "2.0", "id": message["id"], "result": answer})
        return message, at

    def ask(self, method, params):
        """What is answered, and when the answer had come."""
        self.number += 1
        number = self.number
        self.send({"jsonrpc": "2.0", "id": number, "method": method, "params": params})
        while True:
            message, at = self.read()
            if message.get("id") == number and "method" not in message:
                if "error" in message:
                    raise RuntimeError(f"{method}: {message['error']}")
                return message.get("result"), at
            self.seen.append((message, at))

    def uri(self, path):
        return (self.folder / path).as_uri()

    def open(self, path, language):
        text = (self.folder / path).read_text()
        self.versions[path] = 1
        item = {"uri": self.uri(path), "languageId": language, "version": 1, "text": text}
        self.tell("textDocument/didOpen", {"textDocument": item})
        return text

    def change(self, path, line, start, end, text):
        self.versions[path] += 1
        where = {"start": {"line": line, "character": start}, "end": {"line": line, "character": end}}
        document = {"uri": self.uri(path), "version": self.versions[path]}
        self.tell(
            "textDocument/didChange",
            {"textDocument": document, "contentChanges": [{"range": where, "text": text}]},
        )

    def findings(self, path):
        """When the findings of a file had come: asked for, or told."""
        if self.pulls:
            result, at = self.ask("textDocument/diagnostic", {"textDocument": {"uri": self.uri(path)}})
            return result.get("items", []), at
        while True:
            message, at = self.read()
            if message.get("method") == "textDocument/publishDiagnostics":
                params = message["params"]
                if params["uri"] == self.uri(path) and params.get("version", self.versions[path]) == self.versions[path]:
                    return params["diagnostics"], at

    def memory(self):
        """The most memory it held so far, in KB."""
        for line in Path(f"/proc/{self.process.pid}/status").read_text().splitlines():
            if line.startswith("VmHWM"):
                return int(line.split()[1])
        return 0

    def close(self):
        self.process.kill()
        self.process.wait()
