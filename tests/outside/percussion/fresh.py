"""Random percussion instances as cards in the notation, with their optima, as JSON on standard output.

    fresh.py SEED HOW MANY

The optima are OR-Tools CP-SAT's (`generate.py`); where instruments are handed over and changes take no time, also
networkx's: a minimum path cover of the entrances by maximum matching (Dilworth 1950, Fulkerson 1956, as taught with
Hopcroft and Karp's algorithm); up to seven parts, also those of trying every way.
"""

import itertools
import json
import random
import sys

import networkx as nx

import cards
from generate import Piece, fewest

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
    # Two parts of one instrument cannot be told apart in the handbook's `one player`.
    single = [part["id"] for part in parts if sum(other["instr"] == part["instr"] for other in parts) == 1]
    mounted = [pair for pair in itertools.combinations(single, 2) if rng.random() < 0.06]
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
    used = sorted(made["changeover"])
    skills = sorted({part["skill"] for part in made["parts"]} | {s for p in made["roster"] for s in p["skills"]})
    ids = [part["id"] for part in made["parts"]]
    walks = [[0 if free_changes else made["changeover"][a][b] for b in used] for a in used]
    players = [
        {"can": sorted(skills.index(skill) for skill in player["skills"]), "absent": False}
        for player in made["roster"]
    ]
    parts = [
        {
            "station": used.index(part["instr"]), "sticks": 0, "needs": [skills.index(part["skill"])],
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


def tried(whole):
    """The fewest players for whole parts, by trying every way to group them."""
    units = whole.units(range(len(whole.parts)), lambda p: False)
    against = {frozenset(pair) for pair in whole.conflicts(units)}

    def least(at, groups):
        if at == len(units):
            return len(groups)
        ways = [len(units)]
        for group in groups:
            if all(frozenset((at, other)) not in against for other in group):
                group.append(at)
                ways.append(least(at + 1, groups))
                group.pop()
        groups.append([at])
        ways.append(least(at + 1, groups))
        groups.pop()
        return min(ways)

    return least(0, [])


def asked(made):
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
    if len(everything) <= 7:
        assert tried(whole) == wanted["all"], made["id"]
    free, _ = piece({**made, "mounted": []}, True)
    cover = path_cover(free)
    assert cover == fewest(free, everything, True, None)[0], made["id"]
    return [
        {"name": made["id"], "cards": cards.cards(made), "wanted": wanted},
        {
            "name": made["id"],
            "cards": cards.cards({**made, "mounted": []}, free_changes=True),
            "wanted": {"handing_over": cover, "at_once": cover},
        },
    ]


def main():
    seed, count = int(sys.argv[1]), int(sys.argv[2])
    rng = random.Random(seed)
    cases = [case for number in range(count) for case in asked(instance(rng, number)) if case["cards"]]
    json.dump({"seed": seed, "cases": cases}, sys.stdout, indent=1)


if __name__ == "__main__":
    main()
