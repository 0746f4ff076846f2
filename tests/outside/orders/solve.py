"""Solves the cases of instances.json with the solvers that they name, and says how long each took.

Seats: the most seats that can be filled, and of those ways the least cost (networkx, flow of least cost).
Orders: weeks with any number of units at a time (networkx, longest path), and the least lateness with one at a time
(OR-Tools CP-SAT, one worker).
"""

import json
import sys
import time

import networkx
from ortools.sat.python import cp_model


def seats(case):
    flow = networkx.DiGraph()
    for part, count in case["parts"]:
        flow.add_edge("part " + part, "end", capacity=count, weight=0)
    for number, ways in enumerate(case["players"]):
        flow.add_edge("start", number, capacity=1, weight=0)
        for part, cost in ways:
            flow.add_edge(number, "part " + part, capacity=1, weight=cost)
    found = networkx.max_flow_min_cost(flow, "start", "end")
    most = sum(found["start"].values())
    return {"max_seats": most, "min_cost_at_max": networkx.cost_of_flow(flow, found)}


def order(case):
    units = {unit["id"]: unit for unit in case["units"]}
    graph = networkx.DiGraph()
    graph.add_nodes_from(units)
    graph.add_edges_from((before, name) for name, unit in units.items() for before in unit["after"])
    if not networkx.is_directed_acyclic_graph(graph):
        return {"cyclic": True, "critical_path_weeks": None, "min_max_lateness": None}
    ends = {}
    for name in networkx.topological_sort(graph):
        ends[name] = max((ends[before] for before in units[name]["after"]), default=0) + units[name]["weeks"]
    model = cp_model.CpModel()
    whole = sum(unit["weeks"] for unit in units.values())
    starts = {name: model.new_int_var(0, whole, name) for name in units}
    late = model.new_int_var(-1000, 1000, "late")
    bars = []
    for name, unit in units.items():
        bars.append(model.new_fixed_size_interval_var(starts[name], unit["weeks"], name))
        model.add(late >= starts[name] + unit["weeks"] - unit["due"])
        for before in unit["after"]:
            model.add(starts[name] >= starts[before] + units[before]["weeks"])
    model.add_no_overlap(bars)
    model.minimize(late)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    if solver.solve(model) != cp_model.OPTIMAL:
        sys.exit(f"{case['id']} was not proven")
    return {"cyclic": False, "critical_path_weeks": max(ends.values()), "min_max_lateness": solver.value(late)}


def main(path):
    with open(path, encoding="utf-8") as file:
        cases = json.load(file)
    solved = {}
    for solve, what in ((seats, "seats"), (order, "orders")):
        for case in cases[what]:
            begun = time.perf_counter()
            found = solve(case)
            solved[case["id"]] = {**found, "microseconds": int((time.perf_counter() - begun) * 1e6)}
    json.dump(solved, sys.stdout)


main(sys.argv[1])
