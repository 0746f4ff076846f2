#!/usr/bin/env python3
"""python3 packing/notices.py PLATFORM

Prints the licenses of everything that a program for such a computer has inside, as the archive and the wheel carry
them: each package with its license and where it comes from, and each text of a license once, with the packages that
it came with. What there is comes from Cargo itself, for exactly the versions in Cargo.lock.
"""

import json
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
# What Rust calls the computers of packing/README.md.
TARGETS = {
    "linux-x64": "x86_64-unknown-linux-gnu",
    "linux-arm64": "aarch64-unknown-linux-gnu",
    "darwin-x64": "x86_64-apple-darwin",
    "darwin-arm64": "aarch64-apple-darwin",
    "win32-x64": "x86_64-pc-windows-msvc",
    "win32-arm64": "aarch64-pc-windows-msvc",
}
# What they are called in the archive and in the wheel.
NOTICES = "LICENSES-OF-WHAT-IS-INSIDE.txt"
# How files with the text of a license are called.
NAMES = ("LICEN", "COPYING", "COPYRIGHT", "NOTICE", "UNLICENSE")
RULE = "-" * 78


def packages(platform):
    """The packages whose code is in the program, by name: not those that only build or test it."""
    words = ["cargo", "metadata", "--format-version", "1", "--locked", "--filter-platform", TARGETS[platform]]
    told = json.loads(subprocess.run(words, cwd=ROOT, check=True, capture_output=True).stdout)
    known = {one["id"]: one for one in told["packages"]}
    needs = {one["id"]: one["deps"] for one in told["resolve"]["nodes"]}
    root = told["resolve"]["root"]
    found, left = {}, [root]
    while left:
        here = left.pop()
        for need in needs[here]:
            one = known[need["pkg"]]
            inside = any(kind["kind"] is None for kind in need["dep_kinds"])
            # A macro of its own works while the program is built, and is not in it.
            if inside and one["id"] not in found and not any("proc-macro" in target["kind"] for target in one["targets"]):
                found[one["id"]] = one
                left.append(one["id"])
    return sorted(found.values(), key=lambda one: (one["name"], one["version"]))


def notices(platform):
    """All of it as one text. A package without a license, or without the text of one, ends the run."""
    texts, lines = {}, []
    for one in packages(platform):
        name = f"{one['name']} {one['version']}"
        folder = Path(one["manifest_path"]).parent
        files = sorted(file for file in folder.iterdir() if file.is_file() and file.name.upper().startswith(NAMES))
        if not one["license"] or not files:
            sys.exit(f"packing/notices.py: {name} comes without a license, or without its text.")
        where = one["repository"] or f"https://crates.io/crates/{one['name']}"
        lines.append(f"{name}: {one['license']}\n    {where}")
        for file in files:
            text = "\n".join(line.rstrip() for line in file.read_text(encoding="utf-8", errors="replace").splitlines())
            texts.setdefault(text.strip(), []).append(name)
    out = [
        "What is inside Levare besides its own code, and under which licenses. Levare itself is under the MIT license or",
        "the Apache license 2.0, as you choose (LICENSE-MIT, LICENSE-APACHE). The standard library of Rust, which is in",
        "every program written in that language, is under the same two (https://github.com/rust-lang/rust).",
        "",
        *lines,
    ]
    for text, names in texts.items():
        out += ["", RULE, f"From {', '.join(names)}:", "", text]
    return "\n".join(out) + "\n"


if __name__ == "__main__":
    if len(sys.argv) != 2 or sys.argv[1] not in TARGETS:
        sys.exit(__doc__)
    sys.stdout.write(notices(sys.argv[1]))
