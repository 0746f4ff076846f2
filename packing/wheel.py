#!/usr/bin/env python3
"""python3 packing/wheel.py PROGRAM OUT

Makes a wheel that carries a program that is built already, so that "pip install" puts "levare" where the other
commands are, with its manual page and what shells need to complete words. Prints its name.

The form is that of the wheel's specification (packaging.python.org, "Binary distribution format"). Build tools for
wheels would build the program a second time; what is left is a list of files with their digests.
"""

import base64
import hashlib
import sys
import zipfile
from pathlib import Path

from notices import notices
from program import Program

ROOT = Path(__file__).resolve().parent.parent
SHELLS = {
    "bash": "share/bash-completion/completions/levare",
    "zsh": "share/zsh/site-functions/_levare",
    "fish": "share/fish/vendor_completions.d/levare.fish",
}


def metadata(version):
    """What the package says of itself; its long words are the beginning of the README."""
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    about = readme.split("\n## ")[0].split("\n", 1)[1].strip()
    return (
        "Metadata-Version: 2.4\n"
        "Name: levare\n"
        f"Version: {version}\n"
        "Summary: A plain-text notation for a school band director's catalog, and the proofreader that reads it\n"
        "License-Expression: MIT OR Apache-2.0\n"
        "License-File: LICENSE-MIT\n"
        "License-File: LICENSE-APACHE\n"
        "License-File: THIRD-PARTY.txt\n"
        "Requires-Python: >=3.8\n"
        "Description-Content-Type: text/markdown\n\n"
        f"{about}\n"
    )


def main(path, out):
    program = Program(path)
    version = program.version()
    name = f"levare-{version}"
    tag = f"py3-none-{program.wheel()}"
    info, data = f"{name}.dist-info", f"{name}.data"
    files = {f"{data}/scripts/levare{program.suffix}": program.bytes}
    if program.system != "win32":
        files[f"{data}/data/share/man/man1/levare.1"] = program.says("manual-page")
        for shell, place in SHELLS.items():
            files[f"{data}/data/{place}"] = program.says("completions", shell)
    for license in ("LICENSE-MIT", "LICENSE-APACHE"):
        files[f"{info}/licenses/{license}"] = (ROOT / license).read_bytes()
    files[f"{info}/licenses/THIRD-PARTY.txt"] = notices(program.platform).encode()
    files[f"{info}/METADATA"] = metadata(version).encode()
    files[f"{info}/WHEEL"] = f"Wheel-Version: 1.0\nGenerator: levare\nRoot-Is-Purelib: false\nTag: {tag}\n".encode()
    record = ""
    for file, content in files.items():
        digest = base64.urlsafe_b64encode(hashlib.sha256(content).digest()).rstrip(b"=").decode()
        record += f"{file},sha256={digest},{len(content)}\n"
    files[f"{info}/RECORD"] = f"{record}{info}/RECORD,,\n".encode()
    wheel = Path(out) / f"{name}-{tag}.whl"
    wheel.parent.mkdir(parents=True, exist_ok=True)
    with zipfile.ZipFile(wheel, "w", zipfile.ZIP_DEFLATED) as archive:
        for file, content in files.items():
            # The same files make the same wheel, whenever it is made.
            entry = zipfile.ZipInfo(file, (2026, 1, 1, 0, 0, 0))
            entry.compress_type = zipfile.ZIP_DEFLATED
            # A plain file (stat's S_IFREG), which pip wants to know before it lets one be run.
            entry.external_attr = (0o100755 if "/scripts/" in file else 0o100644) << 16
            archive.writestr(entry, content)
    print(wheel)


if __name__ == "__main__":
    if len(sys.argv) != 3:
        sys.exit(__doc__)
    main(*sys.argv[1:])
