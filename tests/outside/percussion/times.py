"""Times of the percussion questions, measured by `examples/assign_times.rs`, beside OR-Tools CP-SAT's."""

import pathlib
import random
import statistics
import subprocess
import tempfile

import cards
import fresh
import realistic
from generate import fewest

ROOT = pathlib.Path(__file__).resolve().parents[3]


def measured(texts):
    """The figures told of each text, in the order of the texts."""
    build = ["cargo", "build", "--quiet", "--release", "--example", "assign_times"]
    subprocess.run(build, cwd=ROOT, check=True)
    with tempfile.TemporaryDirectory() as folder:
        files = []
        for number, text in enumerate(texts):
            files.append(pathlib.Path(folder) / f"{number}.levare")
            files[-1].write_text(text, encoding="utf-8")
        run = [str(ROOT / "target/release/examples/assign_times"), *map(str, files)]
        told = subprocess.run(run, capture_output=True, text=True, check=True).stdout
    lines = [[float(figure) for figure in line.split("\t")[1:]] for line in told.splitlines()]
    assert len(lines) == len(texts), "a piece has no answer"
    return lines


# More than this is felt while typing.
FELT = 20.0


def row(name, mine):
    felt = sum(time > FELT for time in mine)
    return f"{name:34} {statistics.median(mine):9.3f} {max(mine):9.3f} {felt:9}"


def steps(lines):
    """Prints what is no question by itself."""
    for name, at in [("reading the cards", 0), ("putting the question", 1)]:
        print(row(name, [figures[at] for figures in lines]))
    for name, at in [("all that stands beside a card", 6), ("every count, parts handed over", 8)]:
        proven = sum(figures[at + 1] for figures in lines)
        print(f"{row(name, [figures[at] for figures in lines])}   proven in {proven:.0f} of {len(lines)}")


def beside(instances, asked):
    """Prints median and worst times of both for instances with proven optima, in milliseconds."""
    lines = measured([cards.cards(instance) for instance in instances])
    theirs = {question: [] for question, _ in asked}
    for instance in instances:
        whole, players = fresh.piece(instance, False)
        everything = list(range(len(whole.parts)))
        for question, _ in asked:
            who = players if "skilled" in question else None
            value, taken = fewest(whole, everything, "free" in question, who)
            assert value == instance["answers"][question], (instance["id"], question)
            theirs[question].append(taken)
    print(f"{len(instances)} instances, milliseconds        median     worst  over {FELT:.0f}   CP-SAT median    worst   times faster")
    steps(lines)
    for at, (question, _) in enumerate(asked):
        mine, cp = [figures[at + 2] for figures in lines], theirs[question]
        ratio = statistics.median(cp) / statistics.median(mine)
        print(f"{row(question, mine)}   {statistics.median(cp):13.2f} {max(cp):8.1f}   {ratio:12.0f}")


def of_realistic(seed, count, asked):
    """Prints median and worst times for invented pieces of fourteen parts with eight entrances each."""
    rng = random.Random(seed)
    lines = measured([realistic.cards(rng, f"Piece {number}") for number in range(count)])
    print(f"\n{count} pieces of {len(realistic.PARTS)} parts, seed {seed}    median     worst  over {FELT:.0f}")
    steps(lines)
    for at, (question, _) in enumerate(asked):
        print(row(question, [figures[at + 2] for figures in lines]))
