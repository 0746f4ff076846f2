"""Random percussion instances as cards in the notation, answered by `levare assign` and compared with their optima.

    fresh.py SEED HOW MANY PROGRAM [--planted]

The optima are OR-Tools CP-SAT's (`generate.py`); where instruments are handed over and changes take no time, also
networkx's: a minimum path cover of the entrances by maximum matching (Dilworth 1950, Fulkerson 1956, as taught with
Hopcroft and Karp's algorithm); of few parts or entrances, also those of trying every way. What the answers say besides
is looked at too (`checks.py`). It ends with 1 when something differs; with `--planted`, mistakes are written into the
cards (`planted.py`) and it ends with 1 when one of them makes no difference.
"""

import itertools
import random
import sys
import tempfile

import networkx as nx

import cards
import checks
from generate import Piece, fewest, leave_out, plan
from planted import PLANTED

# The most parts, and the most entrances, of which every way is tried.
FEW = 7

INSTRUMENTS = {
    "bells": "mallets", "xylophone": "mallets", "marimba": "mallets", "chimes": "mallets", "timpani": "timpani",
    "snare drum": "battery", "bass drum": "battery", "crash cymbals": "battery", "suspended cymbal": "battery",
    "triangle": "aux", "wood block": "aux", "tambourine": "aux", "sleigh bells": "aux", "maracas": "aux",
}


def instance(rng, number):
    length = rng.choice([600, 1200, 2400])
    parts = []
    for at in range(rng.randint(2, 10)):
        spans, now = [], rng.randrange(0, length // 2)
        for _ in range(rng.randint(1, 8)):
            end = now + rng.randint(1, max(2, length // rng.choice([4, 10, 30])))
            if end > length:
                break
            spans.append([now, end])
            now = end + rng.randint(1, length // 5)
        if spans:
            name = rng.choice(list(INSTRUMENTS))
            copies = sum(part["instr"] == name for part in parts)
            if copies < len(cards.COPIES):
                spare = rng.random() < 0.2
                parts.append({"id": f"p{at}", "instr": name, "skill": INSTRUMENTS[name], "spans": spans, "spare": spare})
    used = sorted({part["instr"] for part in parts})
    change = {one: {one: 0} for one in used}
    for one, other in itertools.combinations(used, 2):
        change[one][other] = change[other][one] = rng.choice([0, 7, 15, 30, 45, 60, 100, 155])
    mounted = [pair for pair in itertools.combinations((part["id"] for part in parts), 2) if rng.random() < 0.06]
    skills = sorted(set(INSTRUMENTS.values()))
    roster = [
        {"id": f"P{at + 1}", "skills": rng.sample(skills, rng.randint(1, 4))} for at in range(rng.randint(1, 7))
    ]
    return {
        "id": f"fresh {number}", "length": length, "parts": parts, "changeover": change, "mounted": mounted,
        "roster": roster,
    }


def piece(made, free_changes):
    """The same for the solver of `generate.py`."""
    name, between = cards.names(made), made["changeover"]
    used = sorted(name.values())
    of = {name[part["id"]]: part["instr"] for part in made["parts"]}
    skills = sorted({part["skill"] for part in made["parts"]} | {s for p in made["roster"] for s in p["skills"]})
    ids = [part["id"] for part in made["parts"]]
    walks = [[0 if free_changes else between[of[a]][of[b]] for b in used] for a in used]
    players = [
        {
            "can": sorted(skills.index(skill) for skill in player["skills"]), "absent": False, "had": [0] * len(used),
        }
        for player in made["roster"]
    ]
    parts = [
        {
            "station": used.index(name[part["id"]]), "sticks": 0, "needs": [skills.index(part["skill"])],
            "spans": part["spans"], "spare": part.get("spare", False), "stays": False,
        }
        for part in made["parts"]
    ]
    mounted = [(ids.index(a), ids.index(b)) for a, b in made["mounted"]]
    case = {
        "walks": walks, "sticks": 0, "hands": [0] * len(used), "parts": parts, "mounted": mounted,
        "one_player": [], "instead": [],
    }
    return Piece(case), players


def path_cover(whole):
    """The fewest players when every entrance may go to anybody and changes take no time."""
    plays = [(p, s) for p, part in enumerate(whole.parts) for s in part["spans"]]
    graph = nx.Graph()
    left = [("before", at) for at in range(len(plays))]
    graph.add_nodes_from(left)
    graph.add_nodes_from(("after", at) for at in range(len(plays)))
    for (a, (_, s)), (b, (_, t)) in itertools.permutations(enumerate(plays), 2):
        if s[1] <= t[0]:
            graph.add_edge(("before", a), ("after", b))
    matching = nx.bipartite.hopcroft_karp_matching(graph, left)
    return len(plays) - len(matching) // 2


def tried(whole, hand_over, players):
    """The fewest players by trying every way to share out whole parts, or entrances; None where nobody can."""
    units = whole.units(range(len(whole.parts)), lambda p: hand_over)
    against = {frozenset(pair) for pair in whole.conflicts(units)}
    nobody = len(units) + 1

    def least(at, hands):
        if at == len(units):
            return sum(bool(hand) for hand in hands)
        ways, fresh_hand = [nobody], False
        for who, hand in enumerate(hands):
            # Of players without a part one is as good as another, unless they are known.
            if players is None and not hand:
                if fresh_hand:
                    continue
                fresh_hand = True
            can = players is None or whole.can(players[who], units[at])
            if can and all(frozenset((at, other)) not in against for other in hand):
                hand.append(at)
                ways.append(least(at + 1, hands))
                hand.pop()
        return min(ways)

    found = least(0, [[] for _ in (units if players is None else players)])
    return None if found == nobody else found


def optima(made):
    """What is wanted of the cards as they are, and of the same with nothing mounted and changes that take no time."""
    whole, players = piece(made, False)
    everything = list(range(len(whole.parts)))
    needed = [p for p in everything if not whole.parts[p]["spare"]]
    wanted = {
        "all": fewest(whole, everything, False, None)[0],
        "without_spares": fewest(whole, needed, False, None)[0],
        "handing_over": fewest(whole, everything, True, None)[0],
        "roster": fewest(whole, everything, False, players)[0],
        "roster_handing_over": fewest(whole, everything, True, players)[0],
    }
    ways = {
        "all": (False, None), "handing_over": (True, None), "roster": (False, players),
        "roster_handing_over": (True, players),
    }
    entrances = sum(len(part["spans"]) for part in whole.parts)
    for question, (hand_over, who) in ways.items():
        if (entrances if hand_over else len(everything)) <= FEW:
            assert tried(whole, hand_over, who) == wanted[question], (made["id"], question)
            TRIED.append(question)
    left, _ = leave_out(whole, False, players)
    wanted["left out"] = left[:2]
    if left[:2] == [0, 0] and not made["mounted"]:
        best, _ = plan(whole, everything, players)
        if best is not None:
            wanted["walks, most and least playing"] = best[:3]
    free, _ = piece({**made, "mounted": []}, True)
    cover = path_cover(free)
    assert cover == fewest(free, everything, True, None)[0], made["id"]
    return wanted, {"handing_over": cover, "at_once": cover}


# The questions answered by trying every way too.
TRIED = []


def said(told):
    """The same of an answer."""
    found = {question: count and count["players"] for question, count in told["counts"].items()}
    shared = told["sharing"]
    left = [one["vital"] for one in shared["left_out"]]
    found["left out"] = [left.count(True), left.count(False)]
    lasts = [0] * len(told["players"])
    for turn in shared["turns"]:
        lasts[turn["player"]] += sum(one["end"] - one["start"] for one in turn["entrances"])
    walks = sum(move["times"] for move in shared["moves"])
    found["walks, most and least playing"] = [walks, max(lasts), min(lasts)]
    return found


def differences(program, folder, made, plant):
    """Where the answers to the cards, as `plant` leaves them, are not the optima of the instance itself."""
    found = []
    for wanted, free in zip(optima(made), (False, True)):
        one = {**made, "mounted": []} if free else made
        _, proven, told = cards.answer(program, folder, plant(one), free_changes=free)
        answers = said(told)
        for question, optimum in wanted.items():
            if answers[question] != optimum:
                found.append(f"{question}: {answers[question]}, and {optimum} is proven")
        if not proven:
            found.append("not proven")
        found.extend(checks.faults(one, told, free))
    return [f"{made['id']} {fault}" for fault in found]


def main():
    seed, count, program = int(sys.argv[1]), int(sys.argv[2]), sys.argv[3]
    rng = random.Random(seed)
    instances = [made for made in (instance(rng, number) for number in range(count)) if made["parts"]]
    with tempfile.TemporaryDirectory() as folder:
        if "--planted" in sys.argv:
            unseen = 0
            for name, plant in PLANTED.items():
                altered = [made for made in instances if plant(made) != made]
                seen = next((found for made in altered if (found := differences(program, folder, made, plant))), None)
                print(f"{name}: {seen[0] if seen else 'NOT SEEN'}")
                unseen += seen is None
            return 1 if unseen else 0
        found = [fault for made in instances for fault in differences(program, folder, made, lambda one: one)]
    print(*found, sep="\n")
    print(f"seed {seed}: {len(instances)} instances, {len(found)} differ, every way tried for {len(TRIED)} answers")
    return 1 if found or not TRIED else 0


if __name__ == "__main__":
    sys.exit(main())
