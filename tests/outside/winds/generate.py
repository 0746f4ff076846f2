"""Random bands and wind parts, each with the best seating that OR-Tools CP-SAT proves.

A player can play some parts, each at a price, and lacks what some of them ask. A part wants `least` players; it belongs to
a section, with a `rank` (0 for the first part) and a `place` (0 for the part that gets extra players last). What counts,
the first that differs decides:
  1. fewest parts that want players and have nobody
  2. fewest players lacking, over all parts
  3. most players seated
  4. least price
  5. least sum over the seats of a part, counted from 0, of seat * level + (rank if seat < least else places - 1 - place),
     where level is 1 more than the deepest rank or place + 1
  6. least sum of (ranks - rank) over players who sit where they lack what is asked
  7. least sum of rank * (least ability + 1 - ability) over those who sit, where an ability of 0 is the ablest
"""

import json
import random
import sys

from ortools.sat.python import cp_model


def case(rng, number):
    parts = []
    large = number % 4 == 0
    for section in range(rng.randint(1, 5 if large else 3)):
        size = rng.randint(1, 3)
        turned = rng.random() < 0.3
        for at in range(size):
            parts.append(
                {
                    "least": rng.choice([0, 1, 1, 1, 2]),
                    "section": section,
                    "rank": at,
                    "place": size - 1 - at if turned else at,
                }
            )
    players = []
    for _ in range(rng.randint(1, 24 if large else 9)):
        home = rng.randrange(max(part["section"] for part in parts) + 1)
        can = []
        for at, part in enumerate(parts):
            if part["section"] == home:
                can.append([at, rng.choice([0, 0, 0, 1])])
            elif rng.random() < 0.15:
                can.append([at, rng.choice([2, 60, 100])])
        lacks = [at for at, price in can if rng.random() < 0.25]
        players.append({"can": can, "lacks": lacks, "ability": rng.randrange(3)})
    found = {"id": f"band {number}", "parts": parts, "players": players}
    found["best"] = best(found)
    return found


def best(case):
    parts, players = case["parts"], case["players"]
    ranks = max(part["rank"] for part in parts) + 1
    places = max(part["place"] for part in parts) + 1
    level = max(ranks, places) + 1
    model = cp_model.CpModel()
    sits = {}
    for who, player in enumerate(players):
        for at, _ in player["can"]:
            sits[who, at] = model.new_bool_var(f"sits {who} {at}")
        model.add(sum(sits[who, at] for at, _ in player["can"]) <= 1)
    empty, lacking, even = [], [], []
    for at, part in enumerate(parts):
        here = [sits[who, at] for who in range(len(players)) if (who, at) in sits]
        seats = [model.new_bool_var(f"seat {at} {seat}") for seat in range(len(here))]
        for one, other in zip(seats, seats[1:]):
            model.add(one >= other)
        model.add(sum(seats) == sum(here))
        for seat, taken in enumerate(seats):
            order = part["rank"] if seat < part["least"] else places - 1 - part["place"]
            even.append((seat * level + order) * taken)
        if part["least"] > 0:
            empty.append(1 - seats[0] if seats else 1)
        wanted = [seats[seat] if seat < len(seats) else 0 for seat in range(part["least"])]
        lacking.append(part["least"] - sum(wanted))
    price = [cost * sits[who, at] for who, player in enumerate(players) for at, cost in player["can"]]
    above = [
        (ranks - parts[at]["rank"]) * sits[who, at]
        for who, player in enumerate(players)
        for at, _ in player["can"]
        if at in player["lacks"]
    ]
    least_able = max(player["ability"] for player in players)
    below = [
        parts[at]["rank"] * (least_able + 1 - player["ability"]) * sits[who, at]
        for who, player in enumerate(players)
        for at, _ in player["can"]
    ]
    grades = [sum(empty), sum(lacking), len(players) - sum(sits.values()), sum(price), sum(even), sum(above), sum(below)]
    answer = []
    for grade in grades:
        if isinstance(grade, int):
            answer.append(grade)
            continue
        model.minimize(grade)
        solver = cp_model.CpSolver()
        solver.parameters.num_workers = 1
        assert solver.solve(model) == cp_model.OPTIMAL
        value = round(solver.objective_value)
        answer.append(value)
        model.add(grade == value)
    return answer


def main():
    rng = random.Random(int(sys.argv[1]))
    json.dump({"cases": [case(rng, number) for number in range(120)]}, sys.stdout)


main()
