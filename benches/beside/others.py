"""Files of the same content for the peers: the cards of a catalogue as Python, JSON and YAML."""

import json
from pathlib import Path


def cards(text):
    """The cards of a file: the name and the lines below it."""
    found = []
    for line in text.splitlines():
        if line and not line[0].isspace() and '"' in line:
            found.append((line.split('"')[1], []))
        elif line.strip() and found:
            found[-1][1].append(line.strip())
    return found


def fields(lines):
    return [(" ".join(line.split()[:1]), " ".join(line.split()[1:])) for line in lines]


def as_python(text):
    out = ["import os", "import sys", "from dataclasses import dataclass", "", ""]
    for number, (name, lines) in enumerate(cards(text)):
        out += [f"class Piece{number}:", f'    title = "{name}"']
        out += [f"    f_{index} = {(key, value)!r}" for index, (key, value) in enumerate(fields(lines))]
        out += ["", "    def lasts(self, beats, tempo):", "        seconds = beats * 60 / tempo"]
        out += ["        unused = seconds" if number % 7 == 0 else "        return seconds", "", ""]
    return "\n".join(out)


def as_json(text):
    pieces = [
        {"title": name, "fields": [{"key": key, "value": value} for key, value in fields(lines)]}
        for name, lines in cards(text)
    ]
    return json.dumps({"pieces": pieces}, indent=1)


def as_yaml(text):
    out = ["pieces:"]
    for name, lines in cards(text):
        out += [f"  - title: {json.dumps(name)}", "    fields:"]
        out += [f"      - {json.dumps(key)}: {json.dumps(value)}" for key, value in fields(lines)]
        if not lines:
            out.append("      - none: true")
    return "\n".join(out) + "\n"


FORMS = {"py": as_python, "json": as_json, "yaml": as_yaml}


def write(catalogue, folder, form):
    """The pieces of a catalogue in another form, file for file, cut to the size of the catalogue's own."""
    total = 0
    for path in sorted(Path(catalogue).glob("pieces/*.levare")):
        text = FORMS[form](path.read_text())
        where = Path(folder) / f"{path.stem.replace('-', '_')}.{form}"
        where.parent.mkdir(parents=True, exist_ok=True)
        where.write_text(text)
        total += len(text)
    return total
