#!/usr/bin/env python3
"""Deals random jobs out by general solvers, and compares what tallybin reaches.

    dealing.py TALLYBIN [JOBS]

The criteria, strictly in this order: the fewest pieces short; earlier stages before later ones; the
fewest substitutes; the fewest pieces of the shop's stock; the least difference of length in all. The
first two are settled by networkx (maximum flow), the others by its minimum-cost flow and, one after
another, by scipy's linear programming. Both sums of pieces are checked, too. Exits with 1 and the
first job that differs.
"""

import csv
import json
import random
import re
import subprocess
import sys
import tempfile
from collections import defaultdict
from fractions import Fraction
from pathlib import Path

import networkx
import numpy
from scipy.optimize import linprog

EIGHTHS = 8
STAGES = ["Sills", "Rails", "Hooks", "Deck"]
GRADES = ["Grade 2", "Grade 5", "Grade 8"]
# Below any real sum of the criterion that comes after.
FAR = 10**9


def text(item):
    kind, length, grade = item
    if kind != "bolt":
        return f"1/2 {kind} flat washer"
    return f"1/2-13 x {mixed(length)} hex bolt, {grade}"


def mixed(eighths):
    whole, rest = divmod(eighths, EIGHTHS)
    if rest == 0:
        return str(whole)
    part = str(Fraction(rest, EIGHTHS))
    return f"{whole}-{part}" if whole else part


def eighths_of(name):
    """The length in eighths that an item's text states; 0 where it states none."""
    found = re.search(r" x (\d+)(?:-(\d+)/(\d+))?(?=\s)", name)
    if not found:
        return 0
    part = Fraction(int(found[2]), int(found[3])) if found[2] else Fraction(0)
    return int((int(found[1]) + part) * EIGHTHS)


class Job:
    def __init__(self, dice):
        lengths = dice.sample(range(16, 40), dice.randint(2, 5))
        bolts = [("bolt", length, grade) for length in lengths for grade in dice.sample(GRADES, 2)]
        self.items = bolts + [("SAE", 0, ""), ("USS", 0, "")]
        some = lambda most: {i: dice.randint(0, 6) for i in dice.sample(self.items, dice.randint(1, most))}
        stages = STAGES[: dice.randint(1, len(STAGES))]
        self.wants = {
            (stage, item): pieces
            for stage in stages
            for item, pieces in some(len(self.items)).items()
            if pieces
        }
        self.stages = [stage for stage in stages if any(s == stage for s, _ in self.wants)]
        self.counted = {item: 0 for item in self.items} | some(len(self.items))
        self.stock = some(4) if dice.random() < 0.6 else {}
        self.rules = self.some_rules(dice)

    def some_rules(self, dice):
        """Rules: asked (item, or None for all bolts), limits, other washer, stages."""
        rules = []
        for asked in dice.sample([None, *self.items], dice.randint(0, min(4, len(self.items)))):
            stages = dice.sample(self.stages, 1) if self.stages and dice.random() < 0.4 else []
            rule = {"asked": asked, "longer": 0, "shorter": 0, "grades": 0, "use": None, "stages": stages}
            if asked and asked[0] != "bolt":
                # Without a limit two such rules would be a circle.
                rule["use"] = "USS" if asked[0] == "SAE" else "SAE"
                rule["stages"] = stages or self.stages[:1]
            else:
                rule["longer"] = dice.choice([0, 2, 4, 8])
                rule["shorter"] = dice.choice([0, 0, 1, 2])
                rule["grades"] = dice.choice([0, 0, 1, 2])
                if not (rule["longer"] or rule["shorter"] or rule["grades"]):
                    rule["longer"] = 2
            rules.append(rule)
        return rules

    def write(self, folder):
        def table(name, rows):
            with open(folder / name, "w", newline="") as out:
                csv.writer(out).writerows(rows)

        wants = [(stage, text(item), pieces) for (stage, item), pieces in self.wants.items()]
        table("parts.csv", [("Stage", "Description", "Qty"), *wants])
        table("count.csv", [("Description", "Good"), *((text(i), n) for i, n in self.counted.items())])
        table("stock.csv", [("Item", "On hand"), *((text(i), n) for i, n in self.stock.items())])
        rows = [("for", "use", "longer by", "shorter by", "grades up", "stages", "approved by")]
        for rule in self.rules:
            asked = text(rule["asked"]) if rule["asked"] else "hex bolt"
            use = f"{rule['use']} flat washer" if rule["use"] else ""
            by = lambda key: mixed(rule[key]) if rule[key] else ""
            limits = (by("longer"), by("shorter"), rule["grades"] or "")
            rows.append((asked, use, *limits, ";".join(rule["stages"]), "the bench"))
        table("rules.csv", rows)
        arguments = ["--required", "parts.csv", "--counted", "count.csv"]
        arguments += ["--stock", "stock.csv"] if self.stock else []
        return arguments + (["--substitutes", "rules.csv"] if self.rules else [])

    def allowed(self, stage, asked, used):
        """Whether a rule lets one item serve for another."""
        for rule in self.rules:
            if rule["stages"] and stage not in rule["stages"]:
                continue
            if rule["use"]:
                if rule["asked"] == asked and used[0] == rule["use"]:
                    return True
            elif asked[0] == used[0] == "bolt" and rule["asked"] in (None, asked):
                up = GRADES.index(used[2]) - GRADES.index(asked[2])
                by = used[1] - asked[1]
                if 0 <= up <= rule["grades"] and -rule["shorter"] <= by <= rule["longer"]:
                    return True
        return False

    def edges(self):
        """Supply, want, (substitutes, stock, difference of length)."""
        for supply in [("kit", i) for i in self.counted] + [("stock", i) for i in self.stock]:
            origin, used = supply
            for want in self.wants:
                stage, asked = want
                if used == asked:
                    yield supply, want, (0, int(origin == "stock"), 0)
                elif self.allowed(stage, asked, used):
                    yield supply, want, (1, int(origin == "stock"), abs(used[1] - asked[1]))

    def pieces(self, supply):
        origin, item = supply
        return (self.counted if origin == "kit" else self.stock)[item]


def best(job):
    """Pieces covered by stage, then the least of each cost; by networkx, checked by scipy."""
    edges = list(job.edges())
    covered, before = [], 0
    for upto in range(1, len(job.stages) + 1):
        graph = networkx.DiGraph()
        graph.add_nodes_from(["from", "to"])
        for supply, want, _ in edges:
            if want[0] in job.stages[:upto]:
                graph.add_edge("from", supply, capacity=job.pieces(supply))
                graph.add_edge(supply, want, capacity=FAR)
                graph.add_edge(want, "to", capacity=job.wants[want])
        through = networkx.maximum_flow_value(graph, "from", "to")
        covered.append(through - before)
        before = through
    graph = networkx.DiGraph()
    graph.add_node("from", demand=-before)
    graph.add_node("to", demand=before)
    for supply, want, (substitutes, stock, apart) in edges:
        weight = substitutes * FAR**2 + stock * FAR + apart
        graph.add_edge("from", supply, capacity=job.pieces(supply), weight=0)
        graph.add_edge(supply, want, capacity=FAR, weight=weight)
        graph.add_edge(want, ("stage", want[0]), capacity=job.wants[want], weight=0)
    for stage, pieces in zip(job.stages, covered):
        graph.add_edge(("stage", stage), "to", capacity=pieces, weight=0)
    least = networkx.cost_of_flow(graph, networkx.min_cost_flow(graph)) if before else 0
    costs = [least // FAR**2, least // FAR % FAR, least % FAR]
    if edges:
        programmed = by_program(job, edges, covered)
        if programmed != costs:
            raise SystemExit(f"dealing.py: networkx finds {costs}, scipy {programmed}")
    return covered, costs


def by_program(job, edges, covered):
    """The least of each cost in turn, each held while the next is sought."""
    at_most, limits, equal, totals = [], [], [], []
    rows = defaultdict(lambda: numpy.zeros(len(edges)))
    for at, (supply, want, _) in enumerate(edges):
        for key in (("supply", supply), ("want", want), ("stage", want[0])):
            rows[key][at] = 1
    for (kind, key), row in rows.items():
        if kind == "stage":
            equal.append(row)
            totals.append(covered[job.stages.index(key)])
        else:
            at_most.append(row)
            limits.append(job.pieces(key) if kind == "supply" else job.wants[key])
    found = []
    for criterion in range(3):
        cost = numpy.array([costs[criterion] for *_, costs in edges])
        solved = linprog(cost, A_ub=at_most, b_ub=limits, A_eq=equal, b_eq=totals, method="highs")
        if not solved.success:
            raise SystemExit(f"dealing.py: scipy finds no solution: {solved.message}")
        found.append(round(solved.fun))
        equal.append(cost)
        totals.append(found[-1])
    return found


def settled(tallybin, folder, arguments):
    run = subprocess.run(
        [tallybin, "reconcile", *arguments, "--format", "json"],
        cwd=folder, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
    )
    if run.returncode:
        raise SystemExit(f"dealing.py: tallybin refuses a job in {folder}:\n{run.stderr}")
    return json.loads(run.stdout)


def reached(job, account):
    """What tallybin reaches, in the same terms, after its sums."""
    of = {stage["name"]: stage for stage in account["stages"]}
    filled = lambda sums: sums["covered"] + sums["substituted"] + sums["from_stock"]
    for sums in [account["totals"], *account["stages"], *account["items"]]:
        assert sums["required"] == filled(sums) + sums["short"], sums
    totals = account["totals"]
    counted = totals["used"] + totals["used_as_substitute"] + totals["extra"]
    assert totals["counted"] == sum(job.counted.values()) == counted, totals
    stand_ins = [(item, s) for item in account["items"] for s in item["stand_ins"]]
    pieces = lambda keep: sum(s["pieces"] for _, s in stand_ins if keep(s))
    assert totals["substituted"] == pieces(lambda s: s["rule"]), totals
    assert totals["from_stock"] == pieces(lambda s: not s["rule"]), totals
    apart = sum(abs(eighths_of(s["text"]) - eighths_of(i["text"])) * s["pieces"] for i, s in stand_ins)
    costs = [totals["substituted"], pieces(lambda s: s["from_stock"]), apart]
    return [filled(of[stage]) for stage in job.stages], costs


def main():
    tallybin, jobs = Path(sys.argv[1]).resolve(), int(sys.argv[2]) if len(sys.argv) > 2 else 400
    dice = random.Random(2207)
    substitutes = lent = 0
    for number in range(jobs):
        job = Job(dice)
        if not job.wants:
            continue
        with tempfile.TemporaryDirectory() as folder:
            arguments = job.write(Path(folder))
            ours, theirs = best(job), reached(job, settled(tallybin, folder, arguments))
            if ours != theirs:
                print(f"job {number}: the solvers reach {ours}, tallybin {theirs}")
                for file in sorted(Path(folder).iterdir()):
                    print(f"--- {file.name}\n{file.read_text()}")
                sys.exit(1)
        substitutes, lent = substitutes + ours[1][0], lent + ours[1][1]
    print(f"{jobs} jobs, {substitutes} substitutes, {lent} pieces of stock: the optimum in every one")


if __name__ == "__main__":
    main()
