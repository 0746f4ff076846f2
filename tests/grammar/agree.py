"""Compares three readers of the notation over whole, made-up and broken files; see `agree` beside this file."""

import itertools
import json
import os
import random
import re
import shutil
import subprocess
import sys
from pathlib import Path

from tree_sitter import Parser, Query, QueryCursor

import trees

HERE = Path(__file__).resolve().parent
ROOT = HERE.parent.parent
GRAMMAR = ROOT / "grammar/tree-sitter/src"
READER, WORK, BROKEN = sys.argv[1], Path(sys.argv[2]), int(sys.argv[3])


def output(*command, **environment):
    done = subprocess.run(command, capture_output=True, text=True, env={**os.environ, **environment})
    if done.returncode:
        sys.exit(f"{command[0]} {command[1]} failed:\n{done.stderr[-2000:]}")
    return {answer["file"]: answer["lines"] for answer in map(json.loads, done.stdout.splitlines())}


def build(sources, library):
    command = ["cc", "-O1", "-shared", "-fPIC", f"-I{sources}", f"{sources}/parser.c", f"{sources}/scanner.c"]
    subprocess.run([*command, "-o", str(library)], check=True)
    return library


def readers(files, library, colors=ROOT / "grammar/levare.tmLanguage.json"):
    names = [str(file) for file in files]
    return {
        "the program": output(READER, *names),
        "tree-sitter": output(sys.executable, str(HERE / "trees.py"), str(library), *names),
        "coloring": output("node", str(HERE / "colors.mjs"), *names, LEVARE_COLORS=str(colors)),
    }


def differences(answers):
    """Each line that the readers do not take for the same: the file, its number, and what each says."""
    first = answers["the program"]
    for name, lines in first.items():
        for number, said in enumerate(itertools.zip_longest(*(a.get(name, []) for a in answers.values())), 1):
            if any(one != said[0] for one in said):
                yield name, number, dict(zip(answers, said))


def fields():
    """The fields of every kind of card and the examples of their values, from the manual."""
    kinds, now = {}, None
    for line in (ROOT / "grammar/manual.md").read_text().splitlines():
        if head := re.fullmatch(r"## (\w+)", line) or re.fullmatch(r"Under `(\w+)`:", line):
            now = kinds.setdefault(head[1], [])
        elif row := re.match(r"\| `([^`]+)` \| ([^|]*) \| [^|]* \| [^|]* \| (?:`([^`]*)`)?", line):
            now.append(([row[1], *re.findall("`([^`]+)`", row[2])], row[3] or ""))
    return {kind: named for kind, named in kinds.items() if named}


def card(dice, kinds):
    """A card of any kind with any fields, some on rows, some by other names, some that it does not have."""
    kind = dice.choice([kind for kind in kinds if kind != "library"])
    head = kind if kind == "handbook" else f'{kind} {dice.choice(["", " "])}"{dice.choice(["Air", "Öde", "", "A (b) c"])}"'
    lines = [dice.choice([str.upper, str.title, str, str, str])(head) + dice.choice(["", "", "  (once)", " and more"])]
    indent = dice.choice(["  ", "  ", " ", "\t", "    ", " \t", "       "])
    for _ in range(dice.randrange(9)):
        names, example = dice.choice(kinds[dice.choice([kind, kind, kind, *kinds])])
        name = dice.choice([str, str, str, str.upper])(dice.choice(names)).replace(" ", dice.choice([" ", " ", "  "]))
        gap = dice.choice([" ", "  ", "\t", ": ", "   "])
        lines.append(f"{indent}{name}{gap}{example}" if dice.random() < 0.7 else f"{indent}{name}")
        below = indent
        for _ in range(dice.choice([0, 0, 1, 2, 4])):
            below = dice.choice([below, below + "  ", below + "\t", indent + "  "])
            row, value = dice.choice(kinds[dice.choice([*kinds])])
            lines.append(below + dice.choice([f"{row[0]} {value}", value, "flute 1  D5-C6", "(a remark)", "", "bells"]))
    return "\n".join(lines)


PIECES = [
    "(", ")", '"', "“", "\t", " ", "  ", "    ", "\n", "\n\n", "\r\n", "\r", "\n(a remark)\n", "\n  (another) (one)\n", "?", ",",
    "\n<<<<<<< ours\n", "\n=======\n", "\n>>>>>>> theirs\n", "\npeice \"Air\"\n", "\n  piece \"Air\"\n", "\n\tconcert \"Air\" (old)\n", "\npiece Air\n", "\nhandbook\n", "\nkey\n", "\nnotes here\n",
    "\nPIECE\t“Air” (x)\n", "\n  notes\n    (text)\n", "é", "\u00a0", "\u3000", "-", "'", "\n    stet over the break because (so)\n",
    "\n\tpercussion\n        bells\n", "\n   tempo 88\n", "\x00", "😀", "\ufeff", "\n\x0c\n", " \u2028", "\n((a) b\n", "\n(a) b)\n",
]


def tame(text):
    """Blanks for tabs where a line stands far to the right. Beyond column 8 the coloring grammar tells whether a
    line hangs under a field by the very blanks before the two, not by columns (grammar/make.mjs says why)."""
    def far(match):
        wide = match[0].expandtabs(4)
        return wide if len(wide) > 8 else match[0]

    return re.sub(r"(?m)^[ \t\xa0]+", far, text)


def spoil(dice, text):
    """The text with a few things done to it that hands and machines do."""
    for _ in range(dice.choice([1, 2, 4, 8, 20])):
        at, lines = dice.randrange(len(text) + 1), text.split("\n")
        row, other = dice.randrange(len(lines)), dice.randrange(len(lines))
        what = dice.randrange(8)
        if what <= 2:
            text = text[:at] + dice.choice(PIECES) + text[at:]
        elif what == 3:
            text = text[:at] + text[at + dice.choice([1, 1, 1, 5, 30]):]
        elif what == 4:
            lines[row] = dice.choice(["", " ", "  ", "\t", "      ", " \t  "]) + lines[row].lstrip()
            text = "\n".join(lines)
        elif what == 5:
            lines.insert(other, lines[row])
            text = "\n".join(lines)
        elif what == 6:
            del lines[row]
            text = "\n".join(lines)
        else:
            lines[row] = lines[row].rstrip() + dice.choice([" (", " \"", "  ", "\t", "\r", " because (it is)"])
            text = "\n".join(lines)
    return text


def corpus():
    folder = WORK / "files"
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    whole = sorted([*ROOT.glob("demo/**/*.levare"), *ROOT.glob("tests/catalogues/**/*.levare"), ROOT / "tests/grammar/cards.levare"])
    dice, kinds = random.Random(20261210), fields()
    made = []

    def put(name, text):
        path = folder / name
        path.write_bytes(tame(text).encode())
        made.append(path)

    # A few cards of each file, so that broken ones do not all break far from their beginning.
    texts = [file.read_bytes().decode() for file in whole]
    cards = [card for text in texts for card in re.split(r"\n(?=\S+ \"|handbook)", text)]
    for i in range(BROKEN):
        put(f"made-{i}.levare", "\n\n".join(card(dice, kinds) for _ in range(dice.randrange(1, 5))) + dice.choice(["", "\n"]))
        few = "\n".join(dice.choice(cards) for _ in range(dice.randrange(1, 4)))
        put(f"broken-{i}.levare", dice.choice(["", "", "\ufeff", "\n"]) + spoil(dice, few))
        put(f"broken-made-{i}.levare", spoil(dice, made[-2].read_bytes().decode()))
    return whole, made


def show(name, number, said):
    line = re.split("\r\n|\r|\n", Path(name).read_bytes().decode())[number - 1 : number]
    print(f"{name}:{number}: {line[0] if line else ''!r}")
    for who, what in said.items():
        print(f"    {who}: {what}")


def queries(library):
    """Every query of the grammar and of the editors' folders is one, and each of its patterns finds something."""
    spoken = trees.language(str(library))
    pages = [ROOT / "demo/pieces/concert-works.levare", ROOT / "tests/catalogues/odd/people.levare"]
    text = b"".join(page.read_bytes() for page in pages)
    text += b'\n<<<<<<< ours\npiece "Air"\n  odd one  (remark) with 2 of 40 USD at 3:10 on 2026-12-10\n  stet  so because of (it)\n'
    root = Parser(spoken).parse(text).root_node
    files = sorted([*ROOT.glob("grammar/tree-sitter/queries/*.scm"), *ROOT.glob("editors/**/*.scm")])
    for file in files:
        query = Query(spoken, file.read_text())
        found = {pattern for pattern, _ in QueryCursor(query).matches(root)}
        if missing := set(range(query.pattern_count)) - found:
            sys.exit(f"{file}: patterns {sorted(missing)} (counted from 0) find nothing")
    try:
        Query(spoken, "(no_such_thing) @x")
    except Exception:
        print(f"{len(files)} files of queries, each pattern of which finds something")
    else:
        sys.exit("a query for something that the grammar does not have was taken")


def edited(files, library):
    """A page that is edited while its tree is kept has the tree of a page read anew."""
    parser, dice, edits = Parser(trees.language(str(library))), random.Random(7), 0
    for file in files:
        source = file.read_bytes()
        tree = parser.parse(source)
        for _ in range(6):
            text = source.decode()
            at = dice.randrange(len(text) + 1)
            until = min(len(text), at + dice.choice([0, 0, 1, 3, 40]))
            put = dice.choice(["", "x", *PIECES])
            new = (text[:at] + put + text[until:]).encode()
            start, old_end = len(text[:at].encode()), len(text[:until].encode())
            new_end = start + len(put.encode())
            point = lambda page, end: (page.count(b"\n", 0, end), end - (page.rfind(b"\n", 0, end) + 1))
            tree.edit(start, old_end, new_end, point(source, start), point(source, old_end), point(new, new_end))
            tree = parser.parse(new, tree)
            if trees.said(tree) != trees.said(parser.parse(new)):
                (WORK / "edited.levare").write_bytes(new)
                sys.exit(f"{file} edited at byte {start} has another tree than {WORK}/edited.levare read anew")
            source, edits = new, edits + 1
    print(f"{edits} edits: the tree that is kept is the tree that is read anew")


def planted(whole, library):
    """Spoils each reader in one small way; each must be told apart from the other two."""
    folder = WORK / "planted"
    shutil.rmtree(folder, ignore_errors=True)
    shutil.copytree(GRAMMAR, folder / "src")
    header = (folder / "src/fields.h").read_text()
    (folder / "src/fields.h").write_text(header.replace('{"tempo"', '{"temqo"'))
    wrong_tree = build(folder / "src", folder / "wrong.so")
    colors = (ROOT / "grammar/levare.tmLanguage.json").read_text()
    (folder / "wrong.json").write_text(colors.replace("tempo(?!", "temqo(?!"))
    right = readers(whole, library)
    reader = {name: list(lines) for name, lines in right["the program"].items()}
    spoiled = next((name, i) for name, lines in reader.items() for i, line in enumerate(lines) if line[0] == "deeper")
    reader[spoiled[0]][spoiled[1]] = ["field", *reader[spoiled[0]][spoiled[1]][1:]]
    cases = {
        "the program": {**right, "the program": reader},
        "tree-sitter": readers(whole, wrong_tree),
        "coloring": readers(whole, library, folder / "wrong.json"),
    }
    for who, answers in cases.items():
        seen = list(differences(answers))
        others = [name for name in answers if name != who]
        if not seen or any(said[others[0]] != said[others[1]] for _, _, said in seen):
            sys.exit(f"a mistake planted in {who} was not seen, or seen elsewhere")
        print(f"a mistake planted in {who} was seen {len(seen)} times")


def main():
    library = build(GRAMMAR, WORK / "levare.so")
    whole, made = corpus()
    answers = readers([*whole, *made], library)
    wrong = list(differences(answers))
    for found in wrong[:12]:
        show(*found)
    lines = sum(map(len, answers["the program"].values()))
    kinds = {line[0] for found in answers["the program"].values() for line in found}
    if wrong:
        sys.exit(f"{len(wrong)} of {lines} lines are read differently")
    if kinds != {"card", "field", "other", "deeper", "broken", "remark", "conflict", "blank"}:
        sys.exit(f"these files do not hold every sort of line, only {sorted(kinds)}")
    print(f"{len(answers['the program'])} files, {lines} lines: all three read them alike")
    queries(library)
    edited([*whole, *made[: BROKEN // 2]], library)
    planted(whole, library)


if __name__ == "__main__":
    main()
