"""Random concerts to choose and purchases to make, each with the optimum that OR-Tools CP-SAT proves.

A concert: a set of pieces of the greatest value such that
  pieces    kmin <= their number <= kmax
  length    tmin <= sum(duration_s) + gap_s * (number - 1) <= tmax
  money     sum(price_cents of those not owned) <= budget_cents
  style     at most max_per_style of one, at least min_styles different ones
  key       at most max_per_tonic of one, at least min_tonics different ones
  composer  at most max_per_composer by one
  grade     their mean at most avg_grade_max_x10, at most max_hard from hard_from_x10 up
  ends      one that can open and another that can close
  players   every piece needs at most players_percussion
  pairs     no two of `conflicts`, all of `required`
A schedule: jobs of whole weeks, so many at a time, none broken off, each behind those it waits for; the fewest late
ones, and of those plans the fewest weeks late in all. In a week of `breaks` nothing goes on.
A purchase: offers of the least price that hold every item, each seller's fee once unless what is bought there
costs free_from_cents or more.
"""

import json
import random
import sys
import time

from ortools.sat.python import cp_model

STYLES = ["march", "lyrical", "overture", "folk song", "dance", "holiday", "novelty", "chorale"]


def solver():
    found = cp_model.CpSolver()
    found.parameters.num_workers = 1
    found.parameters.max_time_in_seconds = 600
    return found


def concert(rng, number, count):
    pieces = [
        {
            "id": f"p{at}",
            "duration_s": rng.randint(80, 480),
            "grade_x10": rng.choice([5, 10, 15, 20, 25, 30, 35]),
            "style": rng.choice(STYLES),
            "tonic": rng.randrange(12),
            "composer": f"c{rng.randrange(max(4, count // 6))}",
            "owned": rng.random() < 0.6,
            "price_cents": rng.randrange(4000, 13000, 500),
            "opener": rng.random() < 0.3,
            "closer": rng.random() < 0.3,
            "percussion": rng.randint(2, 6),
            "value": rng.randint(1, 99),
        }
        for at in range(count)
    ]
    kmin = rng.randint(3, 5)
    tmin = rng.randint(900, 1900)
    case = {
        "id": f"concert-{number}",
        "n": count,
        "pieces": pieces,
        "constraints": {
            "kmin": kmin,
            "kmax": kmin + rng.randint(0, 3),
            "gap_s": rng.choice([0, 30, 60, 90]),
            "tmin": tmin,
            "tmax": tmin + rng.randint(60, 400),
            "budget_cents": rng.randrange(0, 35000, 2500),
            "max_per_style": rng.randint(1, 2),
            "min_styles": rng.randint(1, 4),
            "max_per_tonic": rng.randint(1, 3),
            "min_tonics": rng.randint(1, 4),
            "max_per_composer": rng.randint(1, 2),
            "avg_grade_max_x10": rng.choice([15, 18, 20, 25]),
            "hard_from_x10": 30,
            "max_hard": rng.randint(0, 2),
            "players_percussion": rng.randint(3, 6),
        },
        "conflicts": [[f"p{a}", f"p{b}"] for a, b in (rng.sample(range(count), 2) for _ in range(count // 5))],
        "required": [f"p{rng.randrange(count)}"] if rng.random() < 0.2 else [],
    }
    start = time.perf_counter()
    value = best_concert(case)
    case["answers"] = {"optimal_value": value, "cpsat_ms": round((time.perf_counter() - start) * 1000, 1)}
    return case


def best_concert(case):
    limits, model = case["constraints"], cp_model.CpModel()
    pieces = case["pieces"]
    x = {piece["id"]: model.new_bool_var(piece["id"]) for piece in pieces}
    number = sum(x.values())
    model.add(number >= limits["kmin"])
    model.add(number <= limits["kmax"])
    length = sum((piece["duration_s"] + limits["gap_s"]) * x[piece["id"]] for piece in pieces)
    model.add(length >= limits["tmin"] + limits["gap_s"])
    model.add(length <= limits["tmax"] + limits["gap_s"])
    to_buy = [piece for piece in pieces if not piece["owned"]]
    model.add(sum(piece["price_cents"] * x[piece["id"]] for piece in to_buy) <= limits["budget_cents"])
    for name, most, least in [
        ("style", "max_per_style", "min_styles"),
        ("tonic", "max_per_tonic", "min_tonics"),
        ("composer", "max_per_composer", None),
    ]:
        kinds = []
        for kind in sorted({piece[name] for piece in pieces}, key=str):
            own = [x[piece["id"]] for piece in pieces if piece[name] == kind]
            model.add(sum(own) <= limits[most])
            there = model.new_bool_var(f"{name} {kind}")
            model.add(sum(own) >= there)
            kinds.append(there)
        if least:
            model.add(sum(kinds) >= limits[least])
    model.add(sum((piece["grade_x10"] - limits["avg_grade_max_x10"]) * x[piece["id"]] for piece in pieces) <= 0)
    hard = [x[piece["id"]] for piece in pieces if piece["grade_x10"] >= limits["hard_from_x10"]]
    model.add(sum(hard) <= limits["max_hard"])
    openers = [x[piece["id"]] for piece in pieces if piece["opener"]]
    closers = [x[piece["id"]] for piece in pieces if piece["closer"]]
    either = [x[piece["id"]] for piece in pieces if piece["opener"] or piece["closer"]]
    model.add(sum(openers) >= 1)
    model.add(sum(closers) >= 1)
    model.add(sum(either) >= 2)
    for piece in pieces:
        if piece["percussion"] > limits["players_percussion"]:
            model.add(x[piece["id"]] == 0)
    for one, other in case["conflicts"]:
        model.add(x[one] + x[other] <= 1)
    for one in case["required"]:
        model.add(x[one] == 1)
    model.maximize(sum(piece["value"] * x[piece["id"]] for piece in pieces))
    found = solver()
    status = found.solve(model)
    assert status in (cp_model.OPTIMAL, cp_model.INFEASIBLE), status
    return round(found.objective_value) if status == cp_model.OPTIMAL else None


def purchase(rng, number):
    items, sellers = rng.randint(4, 16), rng.randint(1, 4)
    offers = [{"seller": rng.randrange(sellers), "price": rng.randint(2000, 9000), "items": [item]} for item in range(items)]
    for _ in range(rng.randint(5, 25)):
        held = sorted(rng.sample(range(items), rng.randint(1, min(8, items))))
        offers.append({"seller": rng.randrange(sellers), "price": rng.randint(1500, 4000) * len(held), "items": held})
    charges = [
        {"fee": rng.choice([0, 595, 895, 1250, 1800]), "free_from_cents": rng.choice([None, 10000, 20000, 30000])}
        for _ in range(sellers)
    ]
    model = cp_model.CpModel()
    x = [model.new_bool_var(f"o{at}") for at in range(len(offers))]
    for item in range(items):
        model.add(sum(x[at] for at, offer in enumerate(offers) if item in offer["items"]) >= 1)
    cost = sum(x[at] * offer["price"] for at, offer in enumerate(offers))
    for seller, charge in enumerate(charges):
        own = [at for at, offer in enumerate(offers) if offer["seller"] == seller]
        pays, free = model.new_bool_var(f"pays {seller}"), model.new_bool_var(f"free {seller}")
        if charge["free_from_cents"] is None:
            model.add(free == 0)
        else:
            model.add(sum(x[at] * offers[at]["price"] for at in own) >= charge["free_from_cents"] * free)
        for at in own:
            model.add(pays + free >= x[at])
        cost += pays * charge["fee"]
    model.minimize(cost)
    found = solver()
    start = time.perf_counter()
    assert found.solve(model) == cp_model.OPTIMAL
    took = round((time.perf_counter() - start) * 1000, 1)
    return {
        "id": f"purchase-{number}",
        "items": items,
        "offers": offers,
        "charges": charges,
        "answers": {"optimal_cents": round(found.objective_value), "cpsat_ms": took},
    }


def schedule(rng, number):
    count, hands, weeks = rng.randint(4, 11), rng.randint(1, 3), 60
    breaks = sorted(rng.sample(range(1, 20), rng.randint(0, 3)))
    jobs = [
        {
            "takes": rng.randint(1, 4),
            "due": rng.randint(1, 12) if rng.random() < 0.8 else None,
            "after": sorted(rng.sample(range(at), min(at, rng.choice([0, 0, 1, 2])))),
        }
        for at in range(count)
    ]
    # By when something that takes so long is done, for each week it may begin in.
    def done(start, takes):
        week = start
        while takes:
            takes -= week not in breaks
            week += 1
        return week

    for job in jobs:
        job["ends"] = [done(start, job["takes"]) for start in range(weeks)]
    model = cp_model.CpModel()
    spans, ends, lates, overs = [], [], [], []
    for at, job in enumerate(jobs):
        start = model.new_int_var(0, weeks - 1, f"s{at}")
        end = model.new_int_var(0, weeks + 20, f"e{at}")
        model.add_element(start, job["ends"], end)
        length = model.new_int_var(0, weeks, f"l{at}")
        spans.append(model.new_interval_var(start, length, end, f"i{at}"))
        ends.append(end)
        for before in job["after"]:
            model.add(start >= ends[before])
        if job["due"] is not None:
            over = model.new_int_var(0, weeks + 20, f"o{at}")
            late = model.new_bool_var(f"late{at}")
            model.add(over >= end - job["due"])
            model.add(over == 0).only_enforce_if(late.Not())
            lates.append(late)
            overs.append(over)
    model.add_cumulative(spans, [1] * count, hands)
    model.minimize(1000 * sum(lates) + sum(overs))
    found = solver()
    begun = time.perf_counter()
    assert found.solve(model) == cp_model.OPTIMAL
    took = round((time.perf_counter() - begun) * 1000, 1)
    best = round(found.objective_value)
    return {
        "id": f"schedule-{number}",
        "hands": hands,
        "jobs": jobs,
        "answers": {"late": best // 1000, "weeks": best % 1000, "cpsat_ms": took},
    }


def main():
    rng = random.Random(int(sys.argv[1]))
    concerts = [concert(rng, number, 50 if number % 3 else 300) for number in range(30)]
    # Shelves as large as anybody's, drawn apart so that the others stay what they are.
    large = random.Random(int(sys.argv[1]) + 1)
    concerts += [concert(large, 30 + number, 500 if number < 15 else 5000) for number in range(18)]
    purchases = [purchase(rng, number) for number in range(30)]
    schedules = [schedule(rng, number) for number in range(60)]
    json.dump({"instances": concerts, "purchases": purchases, "schedules": schedules}, sys.stdout)


if __name__ == "__main__":
    main()
