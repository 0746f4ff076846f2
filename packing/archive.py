#!/usr/bin/env python3
"""python3 packing/archive.py PROGRAM VSIX PAGE OUT

Makes the archive that a band director is given, and prints its name.
"""

import re
import shutil
import sys
import textwrap
from pathlib import Path

from notices import notices
from program import Program

ROOT = Path(__file__).resolve().parent.parent
SHELLS = {"bash": "levare.bash", "zsh": "_levare", "fish": "levare.fish", "powershell": "levare.ps1"}


def start_here():
    """The first five minutes of the README, as plain words."""
    first = (ROOT / "README.md").read_text(encoding="utf-8").split("## Get it, open it, type five lines")
    if len(first) != 2:
        sys.exit("packing/archive.py: README.md has no first five minutes.")
    text = "Levare: your first five minutes\n" + first[1].split("\n## ")[0]
    text = re.sub(r"!\[[^\]]*\]\([^)]*\)\n\n", "", text)  # Pictures are for the front page.
    text = re.sub(r"\[([^\]]*)\]\((https:[^)]*)\)", r"\1 (\2)", text)
    text = re.sub(r"\[([^\]]*)\]\([^)]*\)", r"\1", text)
    text = re.sub(r"^```\w*\n", "", text, flags=re.M)
    text = re.sub(r'`([^`"]*)`', r'"\1"', text)  # Words to write stay marked as such.
    text = re.sub(r"^#+ ", "", text, flags=re.M).replace("*", "").replace("`", "")
    # Cards keep their lines; a paragraph is set to a width that every program shows.
    lines = [line if line.startswith(" ") else textwrap.fill(line, 90) for line in text.split("\n")]
    return "\n".join(lines).strip() + "\n"


def main(path, vsix, page, out):
    program = Program(path)
    if f"-{program.platform}." not in Path(vsix).name:
        sys.exit(f"packing/archive.py: {vsix} is not the extension for {program.platform}.")
    name = f"levare-{program.version()}-{program.platform}"
    folder = Path(out) / name
    shutil.rmtree(folder, ignore_errors=True)
    more = folder / "for the command line"
    more.mkdir(parents=True)
    shutil.copy(path, folder / f"levare{program.suffix}")
    shutil.copy(vsix, folder)
    shutil.copy(page, folder / "levare.html")
    (folder / "Start here.txt").write_text(start_here(), encoding="utf-8", newline="\r\n")
    (more / "levare.1").write_bytes(program.says("manual-page"))
    for shell, file in SHELLS.items():
        (more / file).write_bytes(program.says("completions", shell))
    for license in ("LICENSE-MIT", "LICENSE-APACHE"):
        shutil.copy(ROOT / license, more)
    (more / "THIRD-PARTY.txt").write_text(notices(program.platform), encoding="utf-8", newline="\n")
    # Those of the page's packages, gathered beside it when it was bundled.
    shutil.copy(Path(page).with_name("THIRD-PARTY.txt"), more / "THIRD-PARTY page.txt")
    kind = "zip" if program.system == "win32" else "gztar"
    print(shutil.make_archive(str(folder), kind, out, name))


if __name__ == "__main__":
    if len(sys.argv) != 5:
        sys.exit(__doc__)
    main(*sys.argv[1:])
