#!/usr/bin/env python3
"""Fits how fast each cost grows with the text: n things, 2n, 4n ..., until a run takes a second.

    benches/beside/growth.py [--only WORD] [--longest SECONDS] [--command proofread|recopy]

An exponent of 1 is a cost that grows as the text does. Needs the programs that run.py needs.
"""

import argparse
import math
import os
import resource
import shutil
import subprocess
import tempfile
from pathlib import Path

HERE = Path(__file__).resolve().parents[2]
BUILD = Path(os.environ.get("LEVARE_BUILD", HERE / "target/release")).resolve()
GENERATOR = os.environ.get("LEVARE_GENERATOR", str(BUILD / "examples/invented"))
LEVARE = os.environ.get("LEVARE_PROGRAM", str(BUILD / "levare"))
COMMANDS = {
    "proofread": ["proofread", "--as", "json", "--today", "2026-10-20"],
    "recopy": ["recopy", "--check"],
}
# A run shorter than this says more of the start than of the work.
SHORTEST = 0.03


def run(words, folder, longest):
    """Processor seconds and peak KB; infinite when it took too long, none when the file was not read."""
    limit = lambda: resource.setrlimit(resource.RLIMIT_CPU, (math.ceil(longest), math.ceil(longest)))
    with open(os.devnull, "wb") as nowhere:
        process = subprocess.Popen([LEVARE, *words], cwd=folder, stdout=nowhere, stderr=nowhere, preexec_fn=limit)
        _, status, usage = os.wait4(process.pid, 0)
        process.returncode = 0
    if os.WIFSIGNALED(status):
        return math.inf, math.inf
    if os.WEXITSTATUS(status) > 1:
        return None, None
    return usage.ru_utime + usage.ru_stime, usage.ru_maxrss


def grow(name, words, longest, work):
    """The exponents of time and memory over the last doublings, and the points measured."""
    points = []
    count = 125
    empty = run(words, work / "empty", longest)
    while count <= 256_000:
        folder = work / "thing"
        shutil.rmtree(folder, ignore_errors=True)
        subprocess.run([GENERATOR, folder, "grow", name, str(count)], check=True)
        text = sum(path.stat().st_size for path in folder.rglob("*.levare"))
        cost, memory = run(words, folder, longest)
        if cost is None:
            break
        if math.isinf(cost):
            points.append((count, text, cost, memory))
            break
        points.append((count, text, max(cost - empty[0], 1e-4), max(memory - empty[1], 1)))
        if cost > longest / 6:
            break
        count *= 2
    told = [point for point in points if point[2] > SHORTEST]
    if len(told) < 2:
        return None, None, points
    first, last = told[max(0, len(told) - 4)], told[-1]
    if math.isinf(last[2]):
        if len(told) < 3:
            return math.inf, math.inf, points
        first, last = told[max(0, len(told) - 5)], told[-2]
    by = math.log(last[1] / first[1])
    if by <= 0:
        # A thing that is cut off at some size grows no more.
        return None, None, points
    return math.log(last[2] / first[2]) / by, math.log(last[3] / first[3]) / by, points


def main():
    asks = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    asks.add_argument("--only", default="")
    asks.add_argument("--longest", type=float, default=6)
    asks.add_argument("--command", default="proofread", choices=COMMANDS)
    asked = asks.parse_args()
    names = subprocess.run([GENERATOR, "grow"], check=True, capture_output=True, text=True).stdout.splitlines()
    print("exponent of time, of memory; µs a thing at the largest; count: seconds ...", flush=True)
    with tempfile.TemporaryDirectory() as work:
        work = Path(work)
        (work / "empty").mkdir()
        (work / "empty/a.levare").write_text('piece "A"\n')
        for name in names:
            if asked.only not in name:
                continue
            time_, memory, points = grow(name, COMMANDS[asked.command], asked.longest, work)
            shown = " ".join(f"{count}: {cost:.2f}" for count, _, cost, _ in points[-4:])
            exponents = "  -     - " if time_ is None else f"{time_:5.2f} {memory:5.2f}"
            mark = "!!" if time_ is not None and time_ > 1.3 else "  "
            print(f"{mark} {exponents}  {name:28} {shown}", flush=True)


if __name__ == "__main__":
    main()
