"""python3 tests/installed/check.py PLACE ARCHIVE WHEEL

Uses an archive and a wheel as those would who are given them. PLACE is an empty folder with an environment of Python.
"""

import base64
import csv
import hashlib
import json
import os
import re
import shutil
import stat
import subprocess
import sys
import zipfile
from pathlib import Path

TOP = Path(__file__).resolve().parent.parent.parent
sys.path.insert(0, str(TOP / "packing"))
import notices  # noqa: E402
from program import Program  # noqa: E402


def run(*words, where=None, status=(0,)):
    done = subprocess.run([str(word) for word in words], cwd=where, capture_output=True, text=True)
    if done.returncode not in status:
        sys.exit(f"{words} ended with {done.returncode}:\n{done.stdout}{done.stderr}")
    return done.stdout


def holds(truth, what):
    if not truth:
        sys.exit(f"tests/installed: {what}")


def used(levare, place):
    """A program is used: it says its version, writes a catalogue, finds the slip that is typed into it."""
    version = run(levare, "--version")
    holds(re.fullmatch(r"levare \d+\.\d+\.\d+\n", version), f"the version is {version!r}")
    place.mkdir()
    run(levare, "start", where=place)
    holds(run(levare, "proofread", "--as", "json", "--least", "warning", where=place) == "", "the catalogue to fill in has findings")
    with open(place / "pieces.levare", "a", encoding="utf-8") as cards:
        cards.write('\npiece "Slow Train to Alder"\n  tonal center    G minor\n  key signature   4 flats\n')
    found = run(levare, "proofread", "--as", "json", where=place, status=(1,))
    holds("Slow Train to Alder" in found, f"the slip was not found: {found}")
    return version.split()[1]


def unpacked(archive, place):
    """The archive, as a director unpacks it."""
    shutil.unpack_archive(archive, place)
    (folder,) = [one for one in place.iterdir() if one.is_dir()]
    holds(Path(archive).name.startswith(folder.name), f"the archive {archive} holds {folder.name}")
    platform = "-".join(folder.name.split("-")[2:])
    levare = folder / "levare"
    holds(levare.stat().st_mode & stat.S_IXUSR, "the program cannot be run")
    holds(Program(levare).platform == platform, f"the program is not for {platform}")
    more = folder / "for the command line"
    want = {levare, folder / "levare.html", folder / "Start here.txt", folder / f"levare-{platform}.vsix", more}
    holds(set(folder.iterdir()) == want, f"the archive holds {sorted(folder.iterdir())}")
    version = used(levare, place / "catalogue")

    with zipfile.ZipFile(folder / f"levare-{platform}.vsix") as vsix:
        holds(vsix.read("extension/bin/levare") == levare.read_bytes(), "the extension holds another program")
        holds(f'TargetPlatform="{platform}"' in vsix.read("extension.vsixmanifest").decode(), "the extension is for another computer")
        holds(json.loads(vsix.read("extension/package.json"))["version"] == version, "the extension has another version")
    page = (folder / "levare.html").read_text(encoding="utf-8")
    holds(page.startswith("<!doctype html>") and "Content-Security-Policy" in page, "the page is none")
    start = (folder / "Start here.txt").read_bytes().decode()
    holds("xylophone       25-56" in start and "\r\n" in start and "](" not in start, "the first five minutes are not as they should be")
    holds(levare.read_bytes() == Path(os.environ["PROGRAM"]).read_bytes(), "the archive holds another program")
    return more


def untold(words):
    """The crates that cargo says are linked in and whose licenses are not among these words."""
    tree = ("cargo", "tree", "--locked", "--edges", "normal,no-proc-macro", "--prefix", "none", "--format", "{p}")
    crates = {" ".join(line.split()[:2]).replace(" v", " ") for line in run(*tree, where=TOP).splitlines() if line}
    crates = {crate for crate in crates if not crate.startswith("levare ")}
    holds(len(crates) > 50, f"cargo tells of {len(crates)} crates only")
    return sorted(crate for crate in crates if f"\n{crate} (" not in words)


def told(words):
    """The licenses of others: each crate's, and those of Rust's own library."""
    holds(untold(words) == [], f"these crates' licenses are not told: {untold(words)}")
    # A planted fault is seen.
    holds(len(untold(words.replace("\nserde_json ", "\n"))) == 1, "a crate without a license is not seen")
    for phrase in ("Permission is hereby granted", "Apache License", "Copyright notices for The Rust Standard Library"):
        holds(phrase in words, f"the licenses of others do not say {phrase!r}")
    # What is agreed to is asked of every license, however it is joined.
    good = ("MIT", "Unlicense/MIT", "(MIT OR Apache-2.0) AND Unicode-3.0", "Apache-2.0 WITH LLVM-exception OR MIT")
    bad = (None, "", "GPL-3.0-only", "MIT AND GPL-3.0-only", "(GPL-2.0-only OR MPL-2.0) AND MIT", "(MIT")
    holds(all(map(notices.agreed, good)) and not any(map(notices.agreed, bad)), "a license is taken for another")


def learned(more):
    """The manual page reads as one, and bash completes words."""
    holds(run("groff", "-man", "-Tutf8", "-ww", more / "levare.1") if shutil.which("groff") else True, "the manual page is empty")
    page = (more / "levare.1").read_text(encoding="utf-8")
    holds(page.count("\n.SH") > 10 and "PROOFREAD" in page, "the manual page does not tell of the commands")
    completes = 'source "$1"; COMP_WORDS=(levare pro); COMP_CWORD=1; _levare levare pro levare; echo "${COMPREPLY[@]}"'
    said = run("bash", "-c", completes, "bash", more / "levare.bash")
    holds(said.split() == ["proofread"], f"bash completes {said!r}")
    for shell in ("_levare", "levare.fish", "levare.ps1"):
        holds("proofread" in (more / shell).read_text(encoding="utf-8"), f"{shell} knows no commands")


def amiss(wheel):
    """The files of a wheel that are not as its record says."""
    with zipfile.ZipFile(wheel) as packed:
        names = packed.namelist()
        (record,) = [name for name in names if name.endswith(".dist-info/RECORD")]
        listed = list(csv.reader(packed.read(record).decode().splitlines()))
        faults = sorted(set(names) ^ {row[0] for row in listed})
        for name, digest, size in listed:
            if name == record:
                continue
            found = base64.urlsafe_b64encode(hashlib.sha256(packed.read(name)).digest()).rstrip(b"=").decode()
            if digest != f"sha256={found}" or int(size) != len(packed.read(name)):
                faults.append(name)
    return faults


def installed(wheel, place):
    """The wheel, installed without a network and taken away again."""
    holds(amiss(wheel) == [], f"the wheel's record is wrong: {amiss(wheel)}")
    # A planted fault is seen.
    torn = place / "torn.whl"
    with zipfile.ZipFile(wheel) as packed, zipfile.ZipFile(torn, "w") as other:
        for name in packed.namelist():
            other.writestr(name, packed.read(name) + (b"x" if name.endswith("METADATA") else b""))
    holds(len(amiss(torn)) == 1, "a planted fault in a wheel is not seen")
    environment = place / "python"
    pip = environment / "bin/pip"
    before = {one for one in environment.rglob("*") if "__pycache__" not in one.parts}
    run(pip, "install", "--no-index", "--disable-pip-version-check", wheel)
    run(pip, "check")
    used(environment / "bin/levare", place / "installed")
    for file in ("share/man/man1/levare.1", "share/bash-completion/completions/levare", "share/fish/vendor_completions.d/levare.fish"):
        holds((environment / file).stat().st_size > 1000, f"{file} was not installed")
    run(pip, "uninstall", "--yes", "levare")
    after = {one for one in environment.rglob("*") if "__pycache__" not in one.parts and one.is_file()}
    holds(after - before == set(), f"left behind: {sorted(after - before)}")


def prepared(place):
    """The recipe for other computers is one, and the table names what is made."""
    page = (TOP / "packing/README.md").read_text(encoding="utf-8")
    (recipe,) = re.findall(r"^```yaml github\n(.*?)^```", page, re.M | re.S)
    file = place / "release.yml"
    check = [place / "python/bin/check-jsonschema", "--builtin-schema", "vendor.github-workflows", file]
    file.write_text(recipe, encoding="utf-8")
    run(*check)
    file.write_text(recipe.replace("runs-on:", "runs-upon:"), encoding="utf-8")
    run(*check, status=(1,))
    for platform in ("linux-x64", "linux-arm64", "darwin-x64", "darwin-arm64", "win32-x64", "win32-arm64"):
        holds(f"`levare-{platform}.vsix`" in page, f"{platform} is not in the table")


def main(place, archive, wheel):
    place = Path(place)
    (place / "archive").mkdir()
    more = unpacked(archive, place / "archive")
    learned(more)
    others = (more / "THIRD-PARTY.txt").read_text(encoding="utf-8")
    told(others)
    holds("Permission is hereby granted" in (more / "THIRD-PARTY page.txt").read_text(encoding="utf-8"), "the page's packages have no licenses")
    with zipfile.ZipFile(wheel) as packed:
        (file,) = [name for name in packed.namelist() if name.endswith(".dist-info/licenses/THIRD-PARTY.txt")]
        holds(packed.read(file).decode() == others, "the wheel tells of other licenses than the archive")
    installed(Path(wheel), place)
    prepared(place)
    print(f"used as others would: {Path(archive).name}, {Path(wheel).name}; the recipe for other computers is one")


if __name__ == "__main__":
    main(*sys.argv[1:])
