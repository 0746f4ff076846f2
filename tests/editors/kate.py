"""Opens a card in Kate on a screen in memory and prints what it shows as JSON, to be compared by seen.mjs.

    kate.py SETUP WORK FILE EXPECTATIONS PROGRAM OUT

Kate tells nobody what it shows. So the conversation between it and the proofreader is written down by a
go-between, the page that it saves is read from disk, and pictures are left in OUT. A mark counts as seen when it
was sent and the picture has the band of color that Kate puts behind a line with a mark of its severity.
"""

import json
import os
import re
import shutil
import subprocess
import sys
import time
from pathlib import Path

setup, work, file, expectations, program, out = sys.argv[1:]
work, file, out = Path(work), Path(file), Path(out)
want = json.loads(Path(expectations).read_text())
record = work / "record"

GO_BETWEEN = r'''
import json, subprocess, sys, threading
server = subprocess.Popen(sys.argv[2:], stdin=subprocess.PIPE, stdout=subprocess.PIPE)
record, lock = open(sys.argv[1], "a"), threading.Lock()
def pass_on(source, sink, who):
    while True:
        length = 0
        head = b""
        while not head.endswith(b"\r\n\r\n"):
            byte = source.read(1)
            if not byte:
                sink.close()
                return
            head += byte
        length = int(next(l.split(b":")[1] for l in head.split(b"\r\n") if l.lower().startswith(b"content-length")))
        body = source.read(length)
        with lock:
            record.write(json.dumps({"from": who, "says": json.loads(body)}) + "\n")
            record.flush()
        sink.write(head + body)
        sink.flush()
threading.Thread(target=pass_on, args=(server.stdout, sys.stdout.buffer, "desk"), daemon=True).start()
pass_on(sys.stdin.buffer, server.stdin, "kate")
server.wait(10)
'''


def said():
    """The messages so far, oldest first; half a line at the end is waited for."""
    text = record.read_text() if record.exists() else ""
    return [json.loads(line) for line in text.splitlines(keepends=True) if line.endswith("\n")]


def answers(method):
    asked = {m["says"]["id"] for m in said() if m["from"] == "kate" and m["says"].get("method") == method}
    return [m["says"] for m in said() if m["from"] == "desk" and m["says"].get("id") in asked and "result" in m["says"]]


def wait(condition, patience=20):
    end = time.monotonic() + patience
    while not (found := condition()) and time.monotonic() < end:
        time.sleep(0.1)
    return found


def home():
    """A home of its own, with the setup that the page tells people to make."""
    made = work / "home"
    client = made / ".config/kate/lspclient"
    colors = made / ".local/share/org.kde.syntax-highlighting/syntax"
    for folder in (client, colors, made / "run"):
        folder.mkdir(parents=True)
    (made / "run").chmod(0o700)
    shutil.copy(Path(setup) / "levare.xml", colors)
    settings = json.loads((Path(setup) / "settings.json").read_text())
    command = settings["servers"]["levare"]["command"]
    assert command == ["levare", "desk"], command
    (work / "between.py").write_text(GO_BETWEEN)
    command[:] = [sys.executable, str(work / "between.py"), str(record), program, "desk"]
    (client / "settings.json").write_text(json.dumps(settings))
    (made / ".config/katerc").write_text(
        "[General]\nShow welcome view for new window=false\nStartup Session=manual\n[Kate Plugins]\nlspclientplugin=true\n"
        "[lspclient]\nAllowedServerCommandLines=" + " ".join(command) + "\nAutoHover=true\nDiagnostics=true\nDiagnosticsHighlight=true\n"
        "[KTextEditor Renderer]\nText Font=DejaVu Sans Mono,10,-1,5,50,0,0,0,0,0\n"
    )
    return made


class Screen:
    def __init__(self):
        reader, writer = os.pipe()
        command = ["Xvfb", "-displayfd", str(writer), "-screen", "0", "1100x640x24", "-nolisten", "tcp"]
        self.server = subprocess.Popen(command, pass_fds=[writer], stderr=subprocess.DEVNULL)
        os.close(writer)
        number = os.fdopen(reader).readline().strip()
        made = home()
        self.env = {
            **os.environ, "DISPLAY": f":{number}", "HOME": str(made), "XDG_CONFIG_HOME": str(made / ".config"),
            "XDG_DATA_HOME": str(made / ".local/share"), "XDG_RUNTIME_DIR": str(made / "run"),
            "QT_QPA_PLATFORM": "xcb", "LC_ALL": "C.UTF-8",
        }
        self.env.pop("DBUS_SESSION_BUS_ADDRESS", None)
        self.manager = subprocess.Popen(["openbox"], env=self.env, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)

    def do(self, *words):
        return subprocess.run(["xdotool", *map(str, words)], env=self.env, capture_output=True, text=True).stdout.strip()

    def keys(self, *keys, pause=0.4):
        for key in keys:
            self.do("key", "--clearmodifiers", key)
            time.sleep(pause)

    def picture(self, name):
        path = out / f"kate-{name}.png"
        subprocess.run(["import", "-window", "root", str(path)], env=self.env, check=True)
        return path

    def go(self, line, column):
        """By keys alone: to the top, then down and right."""
        self.keys("Escape", "ctrl+Home", pause=0.2)
        for key, times in (("Down", line - 1), ("Right", column - 1)):
            if times:
                self.do("key", "--repeat", times, "--delay", 30, key)
        time.sleep(0.4)


def marks():
    sent = [m["says"]["params"] for m in said() if m["says"].get("method") == "textDocument/publishDiagnostics"]
    sent = [p for p in sent if p["uri"].endswith(file.name)]
    if not sent:
        return []
    text = file.read_text().splitlines()

    def people(at):
        units = text[at["line"]].encode("utf-16-le")[: 2 * at["character"]]
        return at["line"] + 1, len(units.decode("utf-16-le")) + 1

    found = []
    for mark in sorted(sent[-1]["diagnostics"], key=lambda m: (m["range"]["start"]["line"], m["range"]["start"]["character"])):
        (line, start), (last, end) = people(mark["range"]["start"]), people(mark["range"]["end"])
        severity = ["", "error", "warning", "information", "hint"][mark["severity"]]
        found.append({"line": line, "from": start, "to_line": last, "to": end, "severity": severity,
                      "code": mark["code"], "message": mark["message"]})
    return found


def bands(picture):
    """The severities whose bands of color Kate drew behind lines, with how many points each has."""
    colors = {"warning": "#E5FFE5", "error": "#FFE5E5"}
    done = subprocess.run(["convert", str(picture), "-format", "%c", "histogram:info:"], capture_output=True, text=True)
    points = {color: int(n) for n, color in re.findall(r"(\d+):.*?(#[0-9A-F]{6})\b", done.stdout)}
    return {severity: points.get(color, 0) for severity, color in colors.items()}


def drive(screen, seen):
    window = wait(lambda: screen.do("search", "--name", "Kate$").splitlines()[-1:])
    if not window:
        raise RuntimeError("Kate opened no window")
    screen.do("windowactivate", "--sync", window[0])
    seen["language"] = "levare" if wait(lambda: any(
        m["says"].get("params", {}).get("textDocument", {}).get("languageId") == "levare" for m in said())) else "none"
    seen["active"] = bool(wait(lambda: len(marks()) == len(want["marks"])))
    seen["marks"] = marks()
    time.sleep(2.5)
    shown = screen.picture("marks")
    seen["bands"] = bands(shown)
    for mark in want["marks"]:
        if seen["bands"].get(mark["severity"], 0) < 1000:
            raise RuntimeError(f"Kate drew nothing behind the line with the {mark['severity']}: {seen['bands']}")
    if "hover" in want:
        seen["hover"] = hover(screen)
    if "suggest" in want:
        screen.go(want["suggest"]["line"], want["suggest"]["column"])
        screen.keys("ctrl+space")
        wait(lambda: answers("textDocument/completion"))
        time.sleep(1)
        screen.picture("suggest")
        given = [a["result"] for a in answers("textDocument/completion") if a["result"]]
        items = given[-1] if given else []
        seen["suggest"] = [item["label"] for item in (items if isinstance(items, list) else items["items"])]
        screen.keys("Escape")
    if "fix" in want:
        screen.go(want["fix"]["line"], want["fix"]["column"])
        screen.keys("alt+Return")
        wait(lambda: answers("textDocument/codeAction"), 5)
        time.sleep(1)
        screen.picture("fix")
        given = [a["result"] for a in answers("textDocument/codeAction") if a["result"]]
        seen["offered"] = [action["title"] for action in (given[-1] if given else [])]
        screen.keys("Down", "Return", pause=0.6)
        screen.keys("ctrl+s", pause=1)
        seen["after_fix"] = file.read_text().split("\n")
        wait(lambda: len(marks()) == len(want["fix"].get("marks", [])), 8)
        seen["marks_after_fix"] = marks()
    if "recopy" in want:
        screen.keys("ctrl+t", "f")
        wait(lambda: answers("textDocument/formatting"), 8)
        time.sleep(0.8)
        screen.keys("ctrl+s", pause=1)
        screen.picture("after")
        seen["after_recopy"] = file.read_text().split("\n")


def hover(screen):
    """Moves the mouse down over the page until Kate asks about the wanted line; where that is depends on fonts."""
    place = dict(re.findall(r"(\w+)=(-?\d+)", screen.do("getactivewindow", "getwindowgeometry", "--shell")))
    line = want["hover"]["line"] - 1
    # A busy machine answers late, so each round over the page stays longer at every place.
    for y, pause in [(y, pause) for pause in (0.9, 2, 4) for y in range(90, 260, 8)]:
        screen.do("mousemove", int(place["X"]) + 125 + int(pause), int(place["Y"]) + y)
        time.sleep(pause)
        asked = {m["says"]["id"] for m in said() if m["from"] == "kate" and m["says"].get("method") == "textDocument/hover"
                 and m["says"]["params"]["position"]["line"] == line}
        given = [a for a in answers("textDocument/hover") if a["id"] in asked and a["result"]]
        if given:
            time.sleep(0.8)
            screen.picture("hover")
            return json.dumps(given[-1]["result"]["contents"], ensure_ascii=False)
    return None


def main():
    seen = {"page": file.read_text().splitlines()}
    screen = Screen()
    started = [screen.manager]
    try:
        kate = subprocess.Popen(["kate", "-n", str(file)], env=screen.env, cwd=file.parent,
                                stdout=subprocess.DEVNULL, stderr=open(work / "kate.log", "w"))
        started.insert(0, kate)
        drive(screen, seen)
    except Exception as problem:  # whatever went wrong is what the page of results says
        seen["problem"] = f"{type(problem).__name__}: {problem}"
        screen.picture("stuck")
    finally:
        for process in [*started, screen.server]:
            process.terminate()
            try:
                process.wait(5)
            except subprocess.TimeoutExpired:
                process.kill()
    print(json.dumps(seen, ensure_ascii=False))


main()
