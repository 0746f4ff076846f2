"""Drawn evenings as cards, shared out by `levare assign`, and compared with the best OR-Tools CP-SAT finds.

    compare.py SEED HOW MANY PROGRAM [SECONDS] [--planted]

What a player has in a piece is a hand; the program cuts each piece into hands, and gives them out over the evening.
Here the same hands are given out by CP-SAT, within SECONDS (60 if left out): first as evenly as can be (the squares of
the whole half minutes that each player is off an even share, a part weighed by what it asks), then with as few repeats of a kind of instrument as that
allows. Playing times and weights are worked out here from the drawn cards alone. It ends with 1 when an evening is
more than 1 % less even than what CP-SAT found, or as even and less varied. With --planted the hands are given out as
the pieces by themselves have them, and it ends with 0 only when that is seen to be worse.
"""

import json
import random
import subprocess
import sys
import tempfile
import pathlib

from ortools.sat.python import cp_model

# Instrument, the word in a roster that covers it, quarters of its time that count, and its kind.
INSTRUMENTS = {
    "bells": ("mallets", 4, "bells"), "xylophone": ("mallets", 4, "xylophone"), "marimba": ("mallets", 4, "marimba"),
    "timpani": ("timpani", 4, "timpani"), "snare drum": ("snare drum", 4, "snare drum"),
    "bass drum": ("bass drum", 3, "bass drum"), "crash cymbals": ("crash cymbals", 3, "crash cymbals"),
    "tom-toms": ("tom-toms", 3, "tom-toms"), "triangle": ("accessories", 2, "small"),
    "claves": ("accessories", 2, "small"), "tambourine": ("accessories", 2, "small"),
}
WORDS = ["mallets", "timpani", "snare drum", "bass drum", "crash cymbals", "tom-toms", "accessories"]


def draw(rng):
    """Pieces as {part: [first, last]} of measures that last 2 s, and the roster."""
    pieces = []
    for _ in range(rng.randint(3, 9)):
        length = rng.randint(40, 120)
        parts = {}
        for name in rng.sample(sorted(INSTRUMENTS), rng.randint(4, 8)):
            first = rng.randint(1, length // 2)
            parts[name] = [first, rng.randint(first, length)]
        pieces.append((length, parts))
    roster = []
    all_round = rng.choice([1, 1, 2, 3])
    for at in range(rng.randint(5, 12)):
        words = WORDS if at < all_round else rng.sample(WORDS, rng.randint(1, 5))
        roster.append((f"P{at + 1}", words))
    return pieces, roster


def cards(pieces, roster):
    lines = ['handbook', '  for "Band of Lots"', "", 'ensemble "Band of Lots"', "  percussionists"]
    lines += [f"    {seat}  {', '.join(words)}" for seat, words in roster]
    for at, (length, parts) in enumerate(pieces):
        lines += ["", f'piece "Lot {at + 1}"', "  meter 4/4", "  tempo quarter = 120", f"  measures {length}", "  percussion"]
        lines += [f"    {name}  {first}-{last}" for name, (first, last) in parts.items()]
    lines += ["", 'concert "Evening of Lots"', "  on 2026-12-10", '  for "Band of Lots"', "  program"]
    lines += [f'    "Lot {at + 1}"' for at in range(len(pieces))]
    return "\n".join(lines) + "\n"


def answer(program, text):
    """For each piece and each player the parts, from the program."""
    with tempfile.TemporaryDirectory() as folder:
        pathlib.Path(folder, "lots.levare").write_text(text)
        run = subprocess.run(
            [program, "assign", "Evening of Lots", "--as", "json", "--in", folder, "--today", "2026-11-01"],
            capture_output=True, text=True,
        )
    lines = [json.loads(line) for line in run.stdout.splitlines()]
    return lines, run.stderr


def hands_of(lines, pieces, roster):
    """For each piece, for each seat, the parts it has."""
    shared = [line for line in lines if line["about"] == "piece"]
    if len(shared) != len(pieces):
        raise SystemExit(f"{len(shared)} pieces came back, not {len(pieces)}")
    found = []
    for line in shared:
        names = [part["name"] for part in line["parts"]]
        hands = [set() for _ in roster]
        for turn in line["sharing"]["turns"]:
            hands[turn["player"]].add(names[turn["part"]])
        found.append([sorted(hand) for hand in hands])
    return found


def plays(piece, hand):
    """Tenths of a second times quarters."""
    return sum(INSTRUMENTS[name][1] * 20 * (piece[1][name][1] - piece[1][name][0] + 1) for name in hand)


def kinds(hand):
    return {INSTRUMENTS[name][2] for name in hand}


def able(roster, seat, hand):
    return all(INSTRUMENTS[name][0] in roster[seat][1] for name in hand)


def even_shares(pieces, roster, given):
    """What each would play if it were shared to the second: as much as the others, or as much as may be."""
    most = [
        sum(max(plays(piece, hand) for hand in hands if able(roster, seat, hand)) for piece, hands in zip(pieces, given))
        for seat in range(len(roster))
    ]
    left = sum(plays(piece, hand) for piece, hands in zip(pieces, given) for hand in hands)
    shares = [0] * len(roster)
    order = sorted(range(len(roster)), key=lambda seat: (most[seat], seat))
    for nth, seat in enumerate(order):
        shares[seat] = min(most[seat], left // (len(order) - nth))
        left -= shares[seat]
    return shares


def cost(pieces, roster, given):
    """Squares of whole half minutes off an even share, and repeats of a kind."""
    uneven = again = 0
    even = even_shares(pieces, roster, given)
    for seat in range(len(given[0])):
        time = sum(plays(piece, hands[seat]) for piece, hands in zip(pieces, given))
        steps = abs(time - even[seat]) // 1200
        uneven += steps * steps
        had = {}
        for hands in given:
            for kind in kinds(hands[seat]):
                had[kind] = had.get(kind, 0) + 1
        again += sum(times * (times - 1) for times in had.values())
    return uneven, again


def best(pieces, roster, given, seconds):
    """The least of both, and whether the first was proven to be the least."""
    model = cp_model.CpModel()
    seats = range(len(roster))
    has = {}
    for at, hands in enumerate(given):
        for hand in seats:
            for seat in seats:
                if able(roster, seat, hands[hand]):
                    has[at, hand, seat] = model.new_bool_var("")
            model.add_exactly_one(has[at, hand, seat] for seat in seats if (at, hand, seat) in has)
        for seat in seats:
            model.add_exactly_one(has[at, hand, seat] for hand in seats if (at, hand, seat) in has)
    for at, hands in enumerate(given):
        for hand in seats:
            model.add_hint(has[at, hand, hand], 1)
    squares = []
    for seat in seats:
        time = sum(plays(pieces[at], given[at][hand]) * var for (at, hand, who), var in has.items() if who == seat)
        steps, even = model.new_int_var(0, 4000, ""), even_shares(pieces, roster, given)[seat]
        # No more than the whole half minutes, since what is least is sought.
        model.add(1200 * steps >= time - even - 1199)
        model.add(1200 * steps >= even - time - 1199)
        square = model.new_int_var(0, 16_000_000, "")
        model.add_multiplication_equality(square, [steps, steps])
        squares.append(square)
    again = []
    for seat in seats:
        for kind in {kind for _, _, kind in INSTRUMENTS.values()}:
            times = sum(var for (at, hand, who), var in has.items() if who == seat and kind in kinds(given[at][hand]))
            # n (n - 1) is convex: it is at least each of its tangents 2 k n - k (k + 1).
            pairs = model.new_int_var(0, len(pieces) * len(pieces), "")
            for k in range(len(pieces)):
                model.add(pairs >= 2 * k * times - k * (k + 1))
            again.append(pairs)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 2
    solver.parameters.max_time_in_seconds = seconds / 2
    model.minimize(sum(squares))
    status = solver.solve(model)
    assert status in (cp_model.OPTIMAL, cp_model.FEASIBLE), solver.status_name(status)
    uneven, proven = round(solver.objective_value), status == cp_model.OPTIMAL
    model.clear_hints()
    for var in has.values():
        model.add_hint(var, solver.value(var))
    model.add(sum(squares) <= uneven)
    model.minimize(sum(again))
    status = solver.solve(model)
    assert status in (cp_model.OPTIMAL, cp_model.FEASIBLE), solver.status_name(status)
    return uneven, round(solver.objective_value), proven


def main():
    seed, count, program = int(sys.argv[1]), int(sys.argv[2]), sys.argv[3]
    planted = "--planted" in sys.argv
    more = [word for word in sys.argv[4:] if word != "--planted"]
    seconds = float(more[0]) if more else 60.0
    rng = random.Random(seed)
    worse, proven_best = [], 0
    for number in range(count):
        pieces, roster = draw(rng)
        lines, amiss = answer(program, cards(pieces, roster))
        given = hands_of(lines, pieces, roster)
        for piece, hands in zip(pieces, given):
            for (seat, words), hand in zip(roster, hands):
                assert all(INSTRUMENTS[name][0] in words for name in hand), f"{seat} cannot play {hand}"
        if planted:
            # Everybody keeps the seat's hand of one order, whoever that is unfair to.
            for hands in given:
                for one in range(len(hands)):
                    for other in range(one + 1, len(hands)):
                        more_first = len(hands[one]) < len(hands[other])
                        if more_first and able(roster, one, hands[other]) and able(roster, other, hands[one]):
                            hands[one], hands[other] = hands[other], hands[one]
        ours = cost(pieces, roster, given)
        uneven, again, proven = best(pieces, roster, given, seconds)
        proven_best += ours[0] == uneven and proven
        bad = ours[0] > uneven * 1.01 or (ours[0] == uneven and ours[1] > again)
        if bad:
            worse.append(number)
        print(
            f"evening {number}: {len(pieces)} pieces, {len(roster)} players: {ours[0]} and {ours[1]} here, "
            f"{uneven}{' (proven)' if proven else ''} and {again} there{'  WORSE' if bad else ''}", flush=True,
        )
    print(f"{count} evenings, {len(worse)} worse, {proven_best} proven to be as even as can be")
    return (not worse) if planted else bool(worse)


if __name__ == "__main__":
    sys.exit(main())
