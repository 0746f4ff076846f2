#!/usr/bin/env python3
"""Measures the program from outside, beside its peers in the same run, and writes the table into DEVELOPERS.md.

    benches/beside/run.py [--quick] [--write] [--only WORD] [--peers FOLDER]

It needs `target/release/levare` and `target/release/examples/invented` and `reading` (or LEVARE_BUILD, another
folder with them). The peers are taken from FOLDER (target/peers): `benches/beside/peers` puts them there. A
peer that is not there is left out. All times are medians in milliseconds.
"""

import argparse
import os
import random
import statistics
import subprocess
import sys
import tempfile
import time
from pathlib import Path

import others
from client import Client

HERE = Path(__file__).resolve().parents[2]
BUILD = Path(os.environ.get("LEVARE_BUILD", HERE / "target/release")).resolve()
LEVARE = str(BUILD / "levare")
DAY = "2026-10-20"
ROWS = []
QUIET = {"checks": True}


def row(what, found, peers="", aim=""):
    ROWS.append((what, found, peers, aim))
    print(f"| {what} | {found} | {peers} | {aim} |", flush=True)


def ms(seconds):
    value = seconds * 1000
    return f"{value:.0f} ms" if value >= 20 else f"{value:.1f} ms"


def ended(command, folder):
    """Wall seconds, processor seconds and peak KB of a whole process."""
    with open(os.devnull, "wb") as nowhere:
        begun = time.perf_counter()
        process = subprocess.Popen(command, cwd=folder, stdout=nowhere, stderr=nowhere)
        _, _, usage = os.wait4(process.pid, 0)
        wall = time.perf_counter() - begun
        process.returncode = 0
    return wall, usage.ru_utime + usage.ru_stime, usage.ru_maxrss


def whole(command, folder, times):
    runs = [ended(command, folder) for _ in range(times)]
    return tuple(statistics.median(run[index] for run in runs) for index in range(3))


def size(folder):
    return sum(path.stat().st_size for path in Path(folder).rglob("*.levare"))


def invented(folder, pieces, files=200, seed=1):
    subprocess.run([BUILD / "examples/invented", folder, str(pieces), str(files), str(seed)], check=True)
    return folder


def percentile(times, share):
    times = sorted(times)
    return times[min(len(times) - 1, int(len(times) * share))]


def spots(text, word, count):
    """Places behind a field's word, spread over a file, where a digit can be typed."""
    found = [
        (number, len(line))
        for number, line in enumerate(text.splitlines())
        if line.strip().startswith(word) and line.rstrip()[-1:].isdigit()
    ]
    random.Random(1).shuffle(found)
    return found[:count]


def typed(client, path, places, times):
    """Seconds from a keystroke to the findings: a digit is written and taken away again."""
    found = []
    for turn in range(times):
        line, column = places[turn // 2 % len(places)]
        begun = time.perf_counter()
        if turn % 2 == 0:
            client.change(path, line, column, column, "1")
        else:
            client.change(path, line, column, column + 1, "")
        _, at = client.findings(path)
        found.append(at - begun)
    return found


def desk(folder, pulls=True):
    return Client([LEVARE, "desk"], folder, pulls, QUIET)


def settled(client):
    return client.ask("levare/settled", {})[1]


def proofreading(work, asked):
    pieces = 2000 if asked.quick else 10_000
    catalogue = invented(work / "c", pieces)
    command = [LEVARE, "proofread", "--as", "json", "--today", DAY]
    wall, cpu, peak = whole(command, catalogue, 3 if asked.quick else 5)
    beside, python = "", work / "py"
    others.write(catalogue, python, "py")
    ruff = asked.peers / "venv/bin/ruff"
    if ruff.exists():
        ruffed = whole([ruff, "check", "--no-cache", "--quiet", "."], python, 5)
        beside = f"ruff check {ms(ruffed[0])}, {ruffed[2] / 1024:.0f} MB"
    text = size(catalogue)
    row(f"proofreading {pieces:,} pieces, 200 files, whole process", f"{ms(wall)} ({ms(cpu)} of processor)", beside, "90 ms")
    row("memory of that", f"{peak * 1024 / text:.1f} times the text ({peak / 1024:.0f} MB)", "", "4 times")


def reading(work, asked):
    catalogue = invented(work / "c", 2000 if asked.quick else 10_000)
    said = subprocess.run([BUILD / "examples/reading", catalogue], check=True, capture_output=True, text=True).stdout
    row("reading alone, one core", said.strip(), "", "200 MB/s")


def keystrokes(work, asked):
    for pieces, aim in ((100, "0.5, 2 ms"), (1000, "0.5, 2 ms")):
        catalogue = invented(work / f"one-{pieces}", pieces, 1)
        path = "pieces/shelf-00000.levare"
        client = desk(catalogue)
        text = client.open(path, "levare")
        client.findings(path)
        times = typed(client, path, spots(text, "measures", 40), 60 if asked.quick else 400)
        client.close()
        beside = []
        for name, form, command, pulls in peers(asked):
            folder = work / f"{form}-{pieces}"
            others.write(catalogue, folder, form)
            other = Client(command, folder, pulls)
            other_path = f"shelf_00000.{form}"
            body = other.open(other_path, {"py": "python"}.get(form, form))
            other.findings(other_path)
            # The same place in a file of that form: the end of a line with a digit inside its quotes.
            places = [
                (number, line.rindex('"') if '"' in line else line.rindex("'"))
                for number, line in enumerate(body.splitlines())
                if "measures" in line and ('"' in line or "'" in line)
            ]
            if form == "json":
                lines = body.splitlines()
                places = [(number + 1, lines[number + 1].rindex('"')) for number, line in enumerate(lines) if '"measures"' in line]
            random.Random(1).shuffle(places)
            theirs = typed(other, other_path, places[:40], 20 if not pulls else 100)
            other.close()
            beside.append(f"{name} {ms(percentile(theirs, 0.5))}, {ms(percentile(theirs, 0.99))}")
        row(
            f"keystroke to findings, {pieces:,} pieces in one file: p50, p99",
            f"{ms(percentile(times, 0.5))}, {ms(percentile(times, 0.99))}",
            "; ".join(beside),
            aim,
        )


def peers(asked):
    bins = asked.peers / "node_modules/.bin"
    known = [
        ("ruff", "py", [asked.peers / "venv/bin/ruff", "server"], True),
        ("JSON", "json", [bins / "vscode-json-language-server", "--stdio"], False),
        ("YAML", "yaml", [bins / "yaml-language-server", "--stdio"], False),
    ]
    return [peer for peer in known if peer[2][0].exists()]


def many(work, asked):
    pieces, files = (5000, 100) if asked.quick else (100_000, 2000)
    catalogue = invented(work / "many", pieces, files)
    path = "pieces/shelf-00007.levare"
    client = desk(catalogue)
    begun = time.perf_counter()
    text = client.open(path, "levare")
    _, at = client.findings(path)
    opened = at - begun
    times = typed(client, path, spots(text, "measures", 20), 100)
    row(
        f"keystroke to findings, {pieces:,} pieces in {files:,} files: p50, p99",
        f"{ms(percentile(times, 0.5))}, {ms(percentile(times, 0.99))}",
        "",
        "1, 4 ms",
    )
    row(f"opening that folder, to the findings of what is open", ms(opened))
    client.close()


def folder(work, asked):
    pieces = 2000 if asked.quick else 10_000
    catalogue = invented(work / "c", pieces)
    path, band = "pieces/shelf-00007.levare", "bands.levare"
    first, rest = [], []
    for _ in range(3):
        begun = time.perf_counter()
        client = desk(catalogue, pulls=False)
        client.open(path, "levare")
        _, at = client.findings(path)
        first.append(at - begun)
        rest.append(settled(client) - begun)
        client.close()
    row(f"opening a folder of {pieces:,}: what is open, all", f"{ms(statistics.median(first))}, {ms(statistics.median(rest))}", "", "60, 200 ms")
    for what, where, word in (("roster", band, "flute"), ("handbook", "handbook.levare", "notation")):
        shown, all_of_it = [], []
        asks, tells = desk(catalogue), desk(catalogue, pulls=False)
        for client in (asks, tells):
            client.open(path, "levare")
            text = client.open(where, "levare")
            client.findings(path)
        settled(tells)
        line, column = spots(text, word, 1)[0]
        for turn in range(6):
            for client in (asks, tells):
                begun = time.perf_counter()
                if turn % 2 == 0:
                    client.change(where, line, column, column, "1")
                else:
                    client.change(where, line, column, column + 1, "")
                if client is asks:
                    shown.append(client.findings(path)[1] - begun)
                else:
                    all_of_it.append(settled(client) - begun)
        asks.close()
        tells.close()
        row(
            f"keystroke in the {what} of {pieces:,} pieces: what is open, all",
            f"{ms(statistics.median(shown))}, {ms(statistics.median(all_of_it))}",
            "",
            "20, 300 ms",
        )


def demo(work, asked):
    wall, cpu, _ = whole([LEVARE, "proofread", "--demo"], work, 15)
    nothing, _, _ = whole([LEVARE, "--version"], work, 15)
    row("start to findings, the demo, whole process", f"{ms(wall)} ({ms(cpu)} of processor)", f"the program's own version alone {ms(nothing)}", "6 ms")


def asking(work, asked):
    catalogue = invented(work / "one-1000", 1000, 1)
    path = "pieces/shelf-00000.levare"
    client = desk(catalogue)
    text = client.open(path, "levare")
    client.findings(path)
    places = spots(text, "measures", 20)
    whole_lines = len(text.splitlines())
    for name, method, more in (
        ("completion", "textDocument/completion", lambda line, column: {"position": {"line": line, "character": column}}),
        ("hover", "textDocument/hover", lambda line, column: {"position": {"line": line, "character": 3}}),
        ("hints", "textDocument/inlayHint", lambda line, column: {"range": {"start": {"line": max(0, line - 40), "character": 0}, "end": {"line": min(whole_lines, line + 40), "character": 0}}}),
        ("lens", "textDocument/codeLens", lambda line, column: {}),
        ("symbols", "textDocument/documentSymbol", lambda line, column: {}),
        ("tokens of the lines shown", "textDocument/semanticTokens/range", lambda line, column: {"range": {"start": {"line": max(0, line - 40), "character": 0}, "end": {"line": min(whole_lines, line + 40), "character": 0}}}),
    ):
        times = []
        for turn in range(40):
            line, column = places[turn // 2 % len(places)]
            if turn % 2 == 0:
                client.change(path, line, column, column, "1")
            else:
                client.change(path, line, column, column + 1, "")
            begun = time.perf_counter()
            params = {"textDocument": {"uri": client.uri(path)}}
            params.update(more(line, column))
            _, at = client.ask(method, params)
            times.append(at - begun)
        row(f"{name} after a keystroke, 1,000 pieces in one file: p50, p99", f"{ms(percentile(times, 0.5))}, {ms(percentile(times, 0.99))}", "", "2 ms")
    client.close()


def large(work, asked):
    for pieces in (1000, 10_000) if asked.quick else (10_000, 80_000):
        catalogue = invented(work / f"large-{pieces}", pieces, 1)
        wall, cpu, peak = whole([LEVARE, "proofread", "--as", "json", "--today", DAY], catalogue, 1)
        text = size(catalogue)
        row(
            f"one file of {text / 1e6:.0f} MB",
            f"{ms(wall)}: {cpu / pieces * 1e6:.0f} µs of processor a card, {peak * 1024 / text:.1f} times the text",
            "",
            "the same a card",
        )


PARTS = [proofreading, reading, demo, keystrokes, asking, folder, large, many]


def write(rows):
    path = HERE / "DEVELOPERS.md"
    text = path.read_text()
    first, last = "<!-- times -->", "<!-- end of times -->"
    table = ["| what | found | beside it | aim |", "| --- | --- | --- | --- |"]
    table += [f"| {' | '.join(row)} |" for row in rows]
    before, rest = text.split(first)
    path.write_text(before + first + "\n" + "\n".join(table) + "\n" + last + rest.split(last)[1])


def main():
    asks = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asks.add_argument("--quick", action="store_true", help="smaller catalogues, fewer runs")
    asks.add_argument("--write", action="store_true", help="write the table into DEVELOPERS.md")
    asks.add_argument("--only", help="only the parts with this word in their name")
    asks.add_argument("--peers", type=Path, default=HERE / "target/peers")
    asked = asks.parse_args()
    asked.peers = asked.peers.resolve()
    with tempfile.TemporaryDirectory() as work:
        for part in PARTS:
            if not asked.only or asked.only in part.__name__:
                part(Path(work), asked)
    if asked.write:
        write(ROWS)


if __name__ == "__main__":
    sys.path.insert(0, str(Path(__file__).parent))
    main()
