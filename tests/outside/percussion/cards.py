"""Percussion instances as cards in the notation, and what `levare assign` answers to them.

An instance is

    {"id", "parts": [{"id", "instr", "skill", "spans": [[start, end], ...], "spare"}], "changeover": {instr: {instr: tenths}},
     "mounted": [[part id, part id], ...],
     "roster": [{"id", "skills": [...]}], "length"}

with times in tenths of a second; `spare` may be missing. Its card has a measure to a tenth: meter 1/16, quarter = 150. A second part of one
instrument becomes an instrument of its own, nought seconds away from the first.
"""

import json
import pathlib
import subprocess

# What tells a second and third part of one instrument from the first; no director's word, so that none is meant.
COPIES = ["", "near ", "far ", "left ", "right "]
# An instrument that no instance has, for a player whose skills the piece does not ask.
IDLE = "vibraslap"


def names(instance):
    """Each part's instrument by the part's id."""
    found, seen = {}, {}
    for part in instance["parts"]:
        nth = seen.get(part["instr"], 0)
        seen[part["instr"]] = nth + 1
        found[part["id"]] = COPIES[nth] + part["instr"]
    return found


def seconds(tenths):
    return f"{tenths // 10}.{tenths % 10} s"


def measures(spans):
    said = ", ".join(f"{start + 1}-{end}" if end > start + 1 else f"{end}" for start, end in spans)
    # A small figure right after the name is the number of the part, unless `at` stands before it.
    start, end = spans[0]
    return f"at {said}" if end == start + 1 else said


def cards(instance, free_changes=False):
    """The catalogue's one file."""
    name = names(instance)
    parts = instance["parts"]
    lines = ["handbook", "  notation        1", "  change          0 s to hand over"]
    for at, one in enumerate(parts):
        for other in parts[at + 1 :]:
            time = 0 if free_changes else instance["changeover"][one["instr"]][other["instr"]]
            lines.append(f"  change          {seconds(time)} from {name[one['id']]} to {name[other['id']]}")
    for one, other in instance["mounted"]:
        lines.append(f"  one player      {name[one]} and {name[other]}")
    lines += ["", 'ensemble "Tenth of a Second Band"', "  percussionists"]
    for player in instance["roster"]:
        plays = [name[part["id"]] for part in parts if part["skill"] in player["skills"]]
        lines.append(f"    {player['id']}  {', '.join(plays) or IDLE}")
    for part in parts:
        if name[part["id"]] != part["instr"]:
            lines += ["", f'instrument "{name[part["id"]]}"', "  family          percussion"]
    lines += ["", f'piece "{instance["id"]}"', "  meter           1/16", "  tempo           quarter = 150"]
    lines += [f"  measures        {instance['length']}", "  percussion"]
    for part in parts:
        optional = ", optional" if part.get("spare") else ""
        lines.append(f"    {name[part['id']]}  {measures(part['spans'])}{optional}")
    return "\n".join(lines) + "\n"


def write(folder, instance, free_changes=False):
    folder = pathlib.Path(folder)
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "handbook.levare").write_text(cards(instance, free_changes), encoding="utf-8")
    return folder


def told_besides(program, folder, instance, phrases):
    """What `levare proofread` says of the cards under other phrases than these."""
    command = [program, "proofread", str(write(folder, instance)), "--as", "json", "--least", "hint"]
    run = subprocess.run(command, capture_output=True, text=True)
    if run.returncode not in (0, 1):
        raise RuntimeError(f"{instance['id']}: {run.returncode} {run.stderr}")
    told = [json.loads(line) for line in run.stdout.splitlines()]
    return [f"{one.get('phrase')}: {one.get('says')}" for one in told if one.get("phrase", "") not in phrases]


def answer(program, folder, instance, free_changes=False):
    """The counts that the program tells, `{question: number or None}`, whether all are proven, and all it tells."""
    folder = write(folder, instance, free_changes)
    command = [program, "assign", instance["id"], "--in", str(folder), "--as", "json", "--seconds", "60"]
    run = subprocess.run(command, capture_output=True, text=True)
    if run.returncode not in (0, 1) or not run.stdout:
        raise RuntimeError(f"{instance['id']}: {run.returncode} {run.stderr}")
    told = json.loads(run.stdout)
    counts = told["counts"]
    found = {name: counts[name] and counts[name]["players"] for name in counts}
    proven = all(count["proven"] for count in counts.values() if count)
    return found, proven, told
