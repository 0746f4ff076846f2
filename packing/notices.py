#!/usr/bin/env python3
"""python3 packing/notices.py PLATFORM

Prints the licenses of everything by others that a program of Levare's holds: of each crate that is built into it on
that platform (linux-x64, darwin-arm64, ...) or into the page for browsers, and of Rust's own library.

What is built in is asked of cargo, so that nobody has to keep a list; what only helps with building (macros, build
scripts) is in no program and left out. Fails where a crate carries no license, or one that has not been agreed to.
"""

import html
import json
import os
import re
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
PAGE = (ROOT / "editors/browser/bindings/Cargo.toml", "wasm32-unknown-unknown")
TARGETS = {
    "linux-x64": "x86_64-unknown-linux-gnu",
    "linux-arm64": "aarch64-unknown-linux-gnu",
    "darwin-x64": "x86_64-apple-darwin",
    "darwin-arm64": "aarch64-apple-darwin",
    "win32-x64": "x86_64-pc-windows-msvc",
    "win32-arm64": "aarch64-pc-windows-msvc",
}
# As DEVELOPERS.md has them; each asks at most that its words travel with the program.
AGREED = {"MIT", "Apache-2.0", "BSD-2-Clause", "BSD-3-Clause", "ISC", "Zlib", "Unicode-3.0", "BSL-1.0", "CC0-1.0"}
LICENSE = re.compile(r"(licen[cs]e|copying|copyright|notice|unlicense)", re.I)
RULE = f"\n{'-' * 72}\n\n"


def says(*words):
    # The page is built with features of cargo that only this lets a released one read.
    environment = {**os.environ, "RUSTC_BOOTSTRAP": "1"}
    done = subprocess.run(words, capture_output=True, encoding="utf-8", cwd=ROOT, env=environment)
    if done.returncode:
        sys.exit(f"packing/notices.py: {words[0]} {words[1]} stopped:\n{done.stderr}")
    return done.stdout


def agreed(expression, to=AGREED):
    """Whether a license, written as SPDX has it ("MIT OR Apache-2.0"), can be kept by keeping those agreed to."""
    words = re.findall(r"[()]|[^\s()/]+|/", expression or "")

    def either():
        good = both()
        while words and words[0] in ("OR", "/"):
            words.pop(0)
            good = both() or good
        return good

    def both():
        good = one()
        while words and words[0] == "AND":
            words.pop(0)
            good = one() and good
        return good

    def one():
        word = words.pop(0) if words else ""
        if word == "(":
            good = either()
            return bool(words) and words.pop(0) == ")" and good
        if words[:1] == ["WITH"]:
            del words[:2]  # An exception only allows more.
        return word in to

    return either() and not words


def built_in(manifest, target):
    """The packages of others that are built into what a manifest makes for a target."""
    asked = ("--format-version", "1", "--locked", "--filter-platform", target, "--manifest-path", str(manifest))
    told = json.loads(says("cargo", "metadata", *asked))
    packages = {package["id"]: package for package in told["packages"]}
    nodes = {node["id"]: node for node in told["resolve"]["nodes"]}
    known, left = set(), [told["resolve"]["root"]]
    while left:
        package = left.pop()
        macro = any("proc-macro" in target["kind"] for target in packages[package]["targets"])
        if package in known or macro:
            continue
        known.add(package)
        for dependency in nodes[package]["deps"]:
            # Neither what tests need nor what build scripts need.
            if any(kind["kind"] is None for kind in dependency["dep_kinds"]):
                left.append(dependency["pkg"])
    return [packages[package] for package in known if packages[package]["source"]]


def licenses(package):
    """The words of a package's licenses; stops where it has none."""
    name = f"{package['name']} {package['version']}"
    if not agreed(package["license"]):
        sys.exit(f"packing/notices.py: {name} is licensed as {package['license']}, which has not been agreed to.")
    folder = Path(package["manifest_path"]).parent
    files = [file for file in sorted(folder.iterdir()) if file.is_file() and LICENSE.match(file.name)]
    if not files and agreed(package["license"], {"Apache-2.0"}):
        files = [ROOT / "LICENSE-APACHE"]  # The same words, whoever carries them.
    if not files:
        sys.exit(f"packing/notices.py: {name} carries no license.")
    return [file.read_text(encoding="utf-8", errors="replace").strip() for file in files]


def library():
    """What Rust's own library asks to be told, as its toolchain says it."""
    file = Path(says("rustc", "--print", "sysroot").strip()) / "share/doc/rust/COPYRIGHT-library.html"
    if not file.is_file():
        sys.exit(f"packing/notices.py: there is no {file}, which holds the licenses of Rust's library. It comes with rustup.")
    words = re.sub(r"<head>.*?</head>|<[^>]*>", "", file.read_text(encoding="utf-8"), flags=re.S)
    return re.sub(r"\n(\s*\n)+", "\n\n", html.unescape(words)).strip()


def notices(platform):
    """All of it; a text that several crates carry stands once, under the names of all of them."""
    packages = {}
    for manifest, target in ((ROOT / "Cargo.toml", TARGETS[platform]), PAGE):
        for package in built_in(manifest, target):
            packages[(package["name"], package["version"])] = package
    carried, words = {}, {}
    for (name, version), package in sorted(packages.items()):
        for text in licenses(package):
            key = " ".join(text.split())
            words.setdefault(key, text)
            carried.setdefault(key, []).append(f"{name} {version} ({package['license']})")
    head = (
        "Levare is licensed under MIT or Apache-2.0, whichever you choose. It holds the work of others,\n"
        "whose licenses are these.\n"
    )
    crates = ["\n".join(dict.fromkeys(names)) + f"\n\n{words[key]}\n" for key, names in carried.items()]
    return RULE.join([head, *crates, f"{library()}\n"])


if __name__ == "__main__":
    if len(sys.argv) != 2 or sys.argv[1] not in TARGETS:
        sys.exit(__doc__)
    sys.stdout.buffer.write(notices(sys.argv[1]).encode())
