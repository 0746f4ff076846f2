"""Writes reference answers that music21 and partitura compute, one JSON file a subject.

    answers.py FOLDER

Nothing here knows Levare: a question is plain data, and an answer is what a library says of it. Where a
library is known to be wrong, the tests say so; here it is asked all the same.
"""

import json
import pathlib
import sys
from importlib.metadata import version

import instruments
import roads
import theory
import times


def main():
    folder = pathlib.Path(sys.argv[1])
    folder.mkdir(parents=True, exist_ok=True)
    answers = {
        "pitches": theory.pitches(),
        "intervals": theory.intervals(),
        "signatures": theory.signatures(),
        "key-names": theory.key_names(),
        "written-keys": theory.written_keys(),
        "instruments": instruments.transpositions(),
        "lowest": instruments.lowest(),
        "sounding": instruments.sounding(),
        "roads": roads.orders(),
        "meters": times.meters(),
        "times": times.lengths(),
    }
    made_by = {name: version(name) for name in ("music21", "partitura")}
    for name, rows in answers.items():
        text = json.dumps({"made by": made_by, "rows": rows}, indent=1, ensure_ascii=False)
        (folder / f"{name}.json").write_text(text + "\n", encoding="utf-8")
    total = sum(len(rows) for rows in answers.values())
    print(f"{total} reference answers in {len(answers)} files in {folder}")


if __name__ == "__main__":
    main()
