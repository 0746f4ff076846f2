"""Random percussion pieces, and wind players as plain networks, with proven optima, as JSON on standard output.

Everything is computed here by OR-Tools CP-SAT and networkx from the rules stated below, none of it
by the project under test.

Two entrances of different parts, unless mounted together, go to one player only when the later
starts no sooner after the end of the earlier than the change takes: the longer of walk and change
of sticks, plus the hands of both stations when they differ.
"""

import itertools
import json
import random
import sys
import time

import networkx as nx
from ortools.sat.python import cp_model


class Piece:
    def __init__(self, case):
        self.case = case
        self.parts = case["parts"]
        self.mounted = {frozenset(pair) for pair in case["mounted"]}

    def sticks(self, p, s):
        """Those with which a span begins and those with which it ends."""
        part = self.parts[p]
        held = part.get("held") or [[part["sticks"]] * 2] * len(part["spans"])
        return held[part["spans"].index(s)]

    def near(self, p, q):
        """At one station, or mounted together; what is mounted with the same third part is not therefore near."""
        return self.parts[p]["station"] == self.parts[q]["station"] or frozenset((p, q)) in self.mounted

    def change(self, p, s, q, t):
        a, b = self.parts[p], self.parts[q]
        time_needed = self.case["walks"][a["station"]][b["station"]]
        if self.sticks(p, s)[1] != self.sticks(q, t)[0]:
            time_needed = max(time_needed, self.case["sticks"])
        if a["station"] != b["station"]:
            hands = self.case["hands"]
            time_needed += hands[a["station"]] + hands[b["station"]]
            # Whoever comes from elsewhere has to be there so long before, as to retune a drum.
            time_needed += dict(zip(map(tuple, b["spans"]), b.get("ready", []))).get(tuple(t), 0)
        return time_needed

    def clash(self, p, s, q, t):
        if p == q or frozenset((p, q)) in self.mounted:
            return False
        if (s[0], s[1]) > (t[0], t[1]):
            p, s, q, t = q, t, p, s
        return t[0] - s[1] < self.change(p, s, q, t)

    def choices(self):
        for kept in itertools.product(*self.case["instead"]):
            gone = {p for group in self.case["instead"] for p in group} - set(kept)
            yield [p for p in range(len(self.parts)) if p not in gone]

    def units(self, played, split):
        """Each a list of (part, span); bound parts are one unit, a split part one per span."""
        graph = nx.Graph()
        graph.add_nodes_from(played)
        for group in self.case["one_player"]:
            there = [p for p in group if p in played]
            nx.add_path(graph, there)
        units = []
        for group in nx.connected_components(graph):
            plays = [(p, s) for p in group for s in self.parts[p]["spans"]]
            if len(group) == 1 and split(min(group)):
                units.extend([play] for play in plays)
            else:
                units.append(plays)
        return units

    def collide(self, a, b):
        return any(self.clash(p, s, q, t) for p, s in a for q, t in b)

    def conflicts(self, units):
        pairs = itertools.combinations(range(len(units)), 2)
        return [(i, j) for i, j in pairs if self.collide(units[i], units[j])]

    def can(self, player, unit):
        have = set(player["can"])
        needs = all(set(self.parts[p]["needs"]) <= have for p, _ in unit)
        return not player["absent"] and needs


def solve(model):
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_time_in_seconds = 60
    start = time.perf_counter()
    status = solver.solve(model)
    taken = (time.perf_counter() - start) * 1000
    if status == cp_model.INFEASIBLE:
        return None, taken
    assert status == cp_model.OPTIMAL, solver.status_name(status)
    return solver, taken


def fewest(piece, played, hand_over, players):
    may = lambda p: hand_over and not piece.parts[p]["stays"]
    units = piece.units(played, may)
    conflicts = piece.conflicts(units)
    graph = nx.Graph(conflicts)
    graph.add_nodes_from(range(len(units)))
    clique, _ = nx.max_weight_clique(graph, weight=None)
    seats = range(len(units) if players is None else len(players))
    if players is None:
        greedy = nx.greedy_color(graph, strategy="DSATUR")
        seats = range(max(greedy.values(), default=-1) + 1)
    model = cp_model.CpModel()
    used = [model.new_bool_var("") for _ in seats]
    x = [[model.new_bool_var("") for _ in seats] for _ in units]
    for u, unit in enumerate(units):
        model.add_exactly_one(x[u])
        for p in seats:
            model.add_implication(x[u][p], used[p])
            if players is not None and not piece.can(players[p], unit):
                model.add(x[u][p] == 0)
    for a, b in conflicts:
        for p in seats:
            model.add_at_most_one([x[a][p], x[b][p]])
    if players is None:
        for p, unit in enumerate(clique):
            model.add(x[unit][p] == 1)
        for p in list(seats)[1:]:
            model.add_implication(used[p], used[p - 1])
    else:
        same = {}
        for p in seats:
            key = tuple(piece.can(players[p], unit) for unit in units)
            if key in same:
                model.add_implication(used[p], used[same[key]])
            same[key] = p
    model.minimize(sum(used))
    solver, taken = solve(model)
    return (None if solver is None else round(solver.objective_value)), taken


def least(values):
    there = [value for value in values if value is not None]
    return min(there) if there else None


def leave_out(piece, hand_over, players):
    """Fewest vital parts lost, fewest spare ones, least time, over all ways to choose; and the time taken."""
    best, total = None, 0.0
    for played in piece.choices():
        may = lambda p: hand_over and not piece.parts[p]["stays"]
        units = piece.units(played, may)
        # A group of bound parts may lose some of its parts, so units are single spans or parts here
        # and the bond is a rule that holds where both are played.
        singles = []
        for p in played:
            bound = any(p in g and len([q for q in g if q in played]) > 1 for g in piece.case["one_player"])
            spans = piece.parts[p]["spans"]
            if may(p) and not bound:
                singles.extend((p, [(p, s)]) for s in spans)
            else:
                singles.append((p, [(p, s) for s in spans]))
        # Parts of a group with only one left behave as a lone part; such cases are not generated
        # together with handing over (see `case`).
        model = cp_model.CpModel()
        out = {p: model.new_bool_var("") for p in played}
        x = [[model.new_bool_var("") for _ in players] for _ in singles]
        for u, (p, unit) in enumerate(singles):
            model.add(sum(x[u]) + out[p] == 1)
            for w, player in enumerate(players):
                if not piece.can(player, unit):
                    model.add(x[u][w] == 0)
        for (a, (p, first)), (b, (q, second)) in itertools.combinations(enumerate(singles), 2):
            together = any(p in g and q in g for g in piece.case["one_player"])
            if p != q and together:
                for w in range(len(players)):
                    model.add(x[a][w] == x[b][w]).only_enforce_if([out[p].negated(), out[q].negated()])
            elif piece.collide(first, second):
                for w in range(len(players)):
                    model.add_at_most_one([x[a][w], x[b][w]])
        lost = {p: sum(e - s for s, e in piece.parts[p]["spans"]) for p in played}
        vital = sum(out[p] for p in played if not piece.parts[p]["spare"])
        spare = sum(out[p] for p in played if piece.parts[p]["spare"])
        got = []
        for goal in (vital, spare, sum(lost[p] * out[p] for p in played)):
            model.minimize(goal)
            solver, taken = solve(model)
            total += taken
            value = round(solver.objective_value)
            model.add(goal == value)
            got.append(value)
        best = got if best is None else min(best, got)
        if best[:2] == [0, 0]:
            break
    return best, total


def plan(piece, played, players, apart=(), most_parts=None):
    """Walks, most, least and earlier turns of the best plan, by all hands a player could be given.

    `apart` are pairs of players who never share a station, `most_parts` the most parts each may have. Nothing where
    not all parts can be played.
    """
    units = piece.units(played, lambda p: False)
    conflicts = {frozenset(pair) for pair in piece.conflicts(units)}
    hands = [[]]
    for u in range(len(units)):
        hands += [h + [u] for h in hands if not any(frozenset((u, v)) in conflicts for v in h)]
    hands = hands[1:]
    if len(hands) > 4000:
        return None, 0.0
    walks, lasts, parts_of = [], [], []
    for hand in hands:
        plays = sorted((s[0], s[1], p) for u in hand for p, s in units[u])
        spots = [p for _, _, p in plays]
        walks.append(sum(not piece.near(a, b) for a, b in zip(spots, spots[1:])))
        lasts.append(sum(e - s for s, e, _ in plays))
        parts_of.append({p for _, _, p in plays})
    model = cp_model.CpModel()
    y, had = {}, []
    there = [w for w, player in enumerate(players) if not player["absent"]]
    for w in there:
        for h, hand in enumerate(hands):
            few = not most_parts or most_parts[w] is None or len(parts_of[h]) <= most_parts[w]
            if few and all(piece.can(players[w], units[u]) for u in hand):
                y[w, h] = model.new_bool_var("")
                turns = sum(players[w]["had"][piece.parts[p]["station"]] for p in parts_of[h])
                had.append(turns * y[w, h])
    for u in range(len(units)):
        model.add_exactly_one(var for (w, h), var in y.items() if u in hands[h])
    has = lambda w, p: sum(var for (v, h), var in y.items() if v == w and p in parts_of[h])
    for one, other in apart:
        for p in played:
            for q in played:
                if piece.near(p, q):
                    model.add(has(one, p) + has(other, q) <= 1)
    top = sum(lasts[h] for h in range(len(hands)) if len(hands[h]) == 1) + 1
    most, few = model.new_int_var(0, top, ""), model.new_int_var(0, top, "")
    for w in there:
        mine = [(h, var) for (v, h), var in y.items() if v == w]
        model.add_at_most_one(var for _, var in mine)
        load = sum(lasts[h] * var for h, var in mine)
        model.add(most >= load)
        model.add(few <= load)
    got, total = [], 0.0
    for goal in (sum(walks[h] * var for (_, h), var in y.items()), most, -few, sum(had)):
        model.minimize(goal)
        solver, taken = solve(model)
        total += taken
        if solver is None:
            return None, total
        value = round(solver.objective_value)
        model.add(goal == value)
        got.append(value)
    got[2] = -got[2]
    return got, total


def handed(piece, played, players):
    """The fewest parts with more than one player."""
    model = cp_model.CpModel()
    plays = [(p, s) for p in played for s in piece.parts[p]["spans"]]
    x = [[model.new_bool_var("") for _ in players] for _ in plays]
    whole = {p: model.new_bool_var("") for p in played}
    for (p, _), row in zip(plays, x):
        model.add_exactly_one(row)
        for w, player in enumerate(players):
            if not piece.can(player, [(p, None)]):
                model.add(row[w] == 0)
    for (a, (p, s)), (b, (q, t)) in itertools.combinations(enumerate(plays), 2):
        for w in range(len(players)):
            if p == q:
                model.add(x[a][w] == x[b][w]).only_enforce_if(whole[p])
            elif piece.clash(p, s, q, t):
                model.add_at_most_one([x[a][w], x[b][w]])
    for p in played:
        if piece.parts[p]["stays"]:
            model.add(whole[p] == 1)
    model.minimize(sum(var.negated() for var in whole.values()))
    solver, taken = solve(model)
    return (None if solver is None else round(solver.objective_value)), taken


def case(rng):
    stations = rng.randint(2, 6)
    walks = [[0] * stations for _ in range(stations)]
    for a, b in itertools.permutations(range(stations), 2):
        walks[a][b] = rng.choice([0, 20, 30, 50, 80, 100])
    length = rng.choice([900, 1800, 2400])
    parts = []
    for _ in range(rng.randint(2, 12)):
        spans, at = [], rng.randrange(0, length // 2)
        for _ in range(rng.randint(1, 7)):
            lasts = rng.randint(5, max(6, length // rng.choice([4, 8, 20])))
            spans.append([at, at + lasts])
            at += lasts + rng.randint(1, length // 5)
            if at >= length:
                break
        parts.append({
            "station": rng.randrange(stations),
            "sticks": rng.randrange(3),
            "ready": [rng.choice([0, 0, 40]) for _ in spans] if rng.random() < 0.2 else [],
            "held": [[rng.randrange(3), rng.randrange(3)] for _ in spans] if rng.random() < 0.3 else [],
            "needs": rng.sample(range(4), rng.choice([0, 1, 1, 1, 2])),
            "spans": spans,
            "spare": rng.random() < 0.25,
            "stays": rng.random() < 0.2,
        })
    ids = list(range(len(parts)))
    mounted = [p for p in itertools.combinations(ids, 2) if rng.random() < 0.04]
    # Bound groups or handing over, alternatives outside both.
    bound = [rng.sample(ids, 2)] if rng.random() < 0.25 else []
    for group in bound:
        for p in group:
            parts[p]["stays"] = True
    loose = [p for p in ids if not any(p in g for g in bound)]
    instead = [rng.sample(loose, 2)] if len(loose) >= 4 and rng.random() < 0.3 else []
    played_before = rng.random() < 0.5
    players = []
    for _ in range(rng.randint(2, 7)):
        players.append({
            "can": sorted(rng.sample(range(4), rng.choice([2, 3, 4, 4]))),
            "absent": rng.random() < 0.08,
            "had": [rng.randrange(4) if played_before else 0 for _ in range(stations)],
        })
    return {
        "walks": walks, "sticks": rng.choice([0, 10, 30]),
        "hands": [rng.choice([0, 0, 0, 30]) for _ in range(stations)],
        "parts": parts, "mounted": mounted, "one_player": bound, "instead": instead,
        "players": players,
        "apart": [rng.sample(range(len(players)), 2) for _ in range(rng.choice([0, 1, 1, 2]))],
        "most": [rng.choice([None, None, 1, 2]) for _ in players],
    }


def percussion(rng, number):
    made = case(rng)
    piece, players = Piece(made), made["players"]
    optima, taken = {}, {}
    for hand_over in (False, True):
        way = "free" if hand_over else "fixed"
        for name, who, drop in (
            ("fewest", None, False), ("without_spares", None, True), ("roster", players, False),
        ):
            found = []
            for played in piece.choices():
                played = [p for p in played if not (drop and piece.parts[p]["spare"])]
                value, spent = fewest(piece, played, hand_over, who)
                found.append(value)
                taken[f"{way} {name}"] = taken.get(f"{way} {name}", 0.0) + spent
            optima[f"{way} {name}"] = least(found)
        optima[f"{way} out"], taken[f"{way} out"] = leave_out(piece, hand_over, players)
    everything = list(range(len(piece.parts)))
    spans = piece.units(everything, lambda p: True)
    graph = nx.Graph(piece.conflicts(spans))
    graph.add_nodes_from(range(len(spans)))
    optima["floor"] = len(nx.max_weight_clique(graph, weight=None)[0])
    optima["plan"] = optima["handed"] = None
    if not made["instead"]:
        if optima["fixed out"][:2] == [0, 0]:
            optima["plan"], taken["plan"] = plan(piece, everything, players)
            if optima["plan"] is not None:
                kept, taken["kept"] = plan(piece, everything, players, made["apart"], made["most"])
                optima["kept"] = kept or "not all"
        if optima["free out"][:2] == [0, 0] and not made["one_player"]:
            optima["handed"], taken["handed"] = handed(piece, everything, players)
    return {"id": f"percussion {number}", **made, "optima": optima, "ms": taken}


def network(rng, number):
    """Players to parts as a plain network: the most parts with a player, then the least cost of all seats."""
    parts, count = rng.randint(1, 14), rng.randint(1, 30)
    dense = rng.choice([0.1, 0.25, 0.5])
    players = [[[p, rng.choice([0, 0, 1, 2, 7])] for p in range(parts) if rng.random() < dense] for _ in range(count)]
    graph = nx.Graph()
    lefts = [("w", w) for w in range(count)]
    graph.add_nodes_from(lefts)
    graph.add_edges_from((("w", w), ("p", p)) for w, can in enumerate(players) for p, _ in can)
    matched = len(nx.bipartite.hopcroft_karp_matching(graph, lefts)) // 2
    outweighs = 1 + 7 * count
    net = nx.DiGraph()
    net.add_nodes_from(["s", "t"])
    for w, can in enumerate(players):
        net.add_edge("s", ("w", w), capacity=1, weight=0)
        for p, cost in can:
            net.add_edge(("w", w), ("p", p), capacity=1, weight=cost)
    for p in range(parts):
        net.add_edge(("p", p), ("first", p), capacity=1, weight=-outweighs)
        net.add_edge(("first", p), "t", capacity=1, weight=0)
        net.add_edge(("p", p), "t", capacity=count, weight=0)
    flow = nx.max_flow_min_cost(net, "s", "t")
    seated = sum(flow["s"].values())
    cost = nx.cost_of_flow(net, flow) + outweighs * matched
    return {"id": f"network {number}", "parts": parts, "players": players, "matched": matched, "seated": seated, "cost": cost}


def main():
    seed, count = int(sys.argv[1]), int(sys.argv[2])
    rng = random.Random(seed)
    cases = [percussion(rng, number) for number in range(count)]
    networks = [network(rng, number) for number in range(2 * count)]
    json.dump({"seed": seed, "cases": cases, "networks": networks}, sys.stdout, indent=1)


if __name__ == "__main__":
    main()
