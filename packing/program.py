"""What kind of computer a program is for, read from the program itself, and the names that others give to it.

ELF: System V ABI, "ELF header"; Mach-O: <mach-o/loader.h>; PE: Microsoft's "PE Format".
"""

import re
import struct
import subprocess
from pathlib import Path


class Program:
    """A built program: its system (linux, darwin, win32), its processor (x64, arm64), its version."""

    def __init__(self, path):
        self.path = Path(path)
        self.bytes = self.path.read_bytes()
        head = self.bytes[:4]
        if head == b"\x7fELF":
            self.system, self.machine = "linux", {62: "x64", 183: "arm64"}[self.number("<H", 18)]
        elif head == b"\xcf\xfa\xed\xfe":
            self.system, self.machine = "darwin", {0x01000007: "x64", 0x0100000C: "arm64"}[self.number("<I", 4)]
        elif head[:2] == b"MZ":
            at = self.number("<I", 0x3C)
            self.system, self.machine = "win32", {0x8664: "x64", 0xAA64: "arm64"}[self.number("<H", at + 4)]
        else:
            raise SystemExit(f"{path} is no program that is known here.")
        self.platform = f"{self.system}-{self.machine}"
        self.suffix = ".exe" if self.system == "win32" else ""

    def number(self, form, at):
        return struct.unpack_from(form, self.bytes, at)[0]

    def says(self, *words):
        """What it prints when it is asked."""
        return subprocess.run([self.path.resolve(), *words], check=True, capture_output=True).stdout

    def version(self):
        return self.says("--version").decode().split()[1]

    def wheel(self):
        """The name of the computers it runs on, as wheels are named (PEP 425, 600)."""
        if self.system == "win32":
            return {"x64": "win_amd64", "arm64": "win_arm64"}[self.machine]
        if self.system == "darwin":
            # The oldest systems that Rust's programs run on.
            return {"x64": "macosx_10_12_x86_64", "arm64": "macosx_11_0_arm64"}[self.machine]
        machine = {"x64": "x86_64", "arm64": "aarch64"}[self.machine]
        # The newest version of the C library that it asks for.
        asked = [int(minor) for minor in re.findall(rb"GLIBC_2\.(\d+)\b", self.bytes)]
        return f"manylinux_2_{max([17, *asked])}_{machine}"
