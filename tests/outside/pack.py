#!/usr/bin/env python3
"""Packs kits of several orders from scarce stock, against scipy and by trying all.

    pack.py TALLYBIN

1. On random small jobs the number of whole kits is that of scipy's integer program (scipy.optimize.milp,
   HiGHS), and of all ways to that number, tried one by one, the one that favours the orders given first.
2. What is pulled is what the packed kits hold, and no bin gives more than it has.
3. What is to be ordered is what all the kits want beyond the stock.
4. Each packing slip of the sample, given back with --shipped, leaves nothing short and nothing over.
"""

import csv
import itertools
import json
import random
import subprocess
import sys
import tempfile
from collections import Counter
from pathlib import Path

import numpy
from scipy.optimize import Bounds, LinearConstraint, milp

SAMPLES = Path(__file__).resolve().parents[2] / "samples"
ITEMS = ["1/2-13 x 6 hex bolt", "1/2-13 hex nut", "1/2 USS flat washer", "3/8-16 x 4 carriage bolt"]
ROUNDS = 60


def run(tallybin, *arguments):
    done = subprocess.run([tallybin, *map(str, arguments), "--format", "json"], check=True, stdout=subprocess.PIPE)
    return json.loads(done.stdout)


def table(path, rows):
    with path.open("w", newline="") as file:
        csv.writer(file).writerows(rows)


def random_job(tallybin, folder, chance):
    orders = chance.randint(1, 4)
    wanted = [chance.randint(1, 4) for _ in range(orders)]
    uses = [[chance.choice([0, 1, 2, 3, 4, 8]) for _ in ITEMS] for _ in range(orders)]
    for use in uses:
        use[chance.randrange(len(ITEMS))] += 1
    bins = [(f"A-{n}", chance.choice(ITEMS), chance.randint(1, 14)) for n in range(8)]
    table(folder / "bins.csv", [("Bin", "Description", "On hand"), *bins])
    files = []
    for at, (kits, use) in enumerate(zip(wanted, uses)):
        lines = [(item, each) for item, each in zip(ITEMS, use) if each]
        table(folder / f"{at}.csv", [("Description", "Qty"), *lines])
        files.append(folder / f"{at}.toml")
        files[-1].write_text(f'name = "order {at}"\nkits = {kits}\nrequired = ["{at}.csv"]\n')
    stock = Counter()
    for _, item, pieces in bins:
        stock[item] += pieces

    packed = run(tallybin, "pack", *files, "--stock", folder / "bins.csv")
    kits = [order["packed"] for order in packed["orders"]]
    matrix = numpy.array(uses).T
    limits = [stock[item] for item in ITEMS]
    best = milp(
        -numpy.ones(orders), constraints=LinearConstraint(matrix, ub=limits),
        bounds=Bounds(0, wanted), integrality=numpy.ones(orders),
    )
    assert packed["exact"] and sum(kits) == round(-best.fun) == packed["at_most"], (wanted, uses, bins, kits)
    works = [
        ways for ways in itertools.product(*(range(n + 1) for n in wanted))
        if sum(ways) == sum(kits) and (matrix @ ways <= limits).all()
    ]
    assert tuple(kits) == max(works), (wanted, uses, bins, kits, max(works))

    for order, use in zip(packed["orders"], uses):
        told = [content["pieces"] for content in order["contents"]]
        assert sorted(told) == sorted(n for n in use if n)
    taken, given = Counter(), Counter()
    for pull in packed["pull"]:
        taken[pull["bin"]] += pull["take"]
        given[pull["order"]] += pull["take"]
    assert all(taken[name] <= pieces for name, _, pieces in bins)
    assert [given[at] for at in range(orders)] == [n * sum(use) for n, use in zip(kits, uses)]
    lacking = sum(max(0, sum(n * use[i] for n, use in zip(wanted, uses)) - limits[i]) for i in range(len(ITEMS)))
    assert lacking == sum(line["pieces"] for line in packed["to_order"])
    for order, use, n, many in zip(packed["orders"], uses, kits, wanted):
        left = [limit - row @ kits for limit, row in zip(limits, matrix)]
        lacks = sorted(each - have for each, have in zip(use, left) if each > have)
        told = sorted(lack["pieces"] for lack in order["next_lacks"])
        assert told == (lacks if n < many else []), (order, lacks)
    return len(works)


def sample(tallybin):
    folder = SAMPLES / "orders"
    jobs = [folder / f"{name}.toml" for name in ("boardwalk", "kiosk", "bench")]
    with tempfile.TemporaryDirectory() as scratch:
        packed = run(tallybin, "pack", *jobs, "--slips", scratch)
        assert [order["packed"] for order in packed["orders"]] == [1, 2, 3], packed["orders"]
        slips = 0
        for job in jobs:
            name = next(order["job"] for order in packed["orders"] if Path(order["file"]).name == job.name)
            stem = name.lower().replace(" ", "-")
            for slip in Path(scratch).glob(f"{stem}-kit-*.xlsx"):
                parts = folder / f"{job.stem}-parts.csv"
                totals = run(tallybin, "reconcile", "--required", parts, "--shipped", slip)["totals"]
                assert (totals["short"], totals["extra"]) == (0, 0) and totals["required"] == totals["shipped"]
                slips += 1
        assert slips == 6, slips
    return slips


def main():
    tallybin = Path(sys.argv[1]).resolve()
    chance, ways = random.Random(20260425), 0
    for _ in range(ROUNDS):
        with tempfile.TemporaryDirectory() as folder:
            ways += random_job(tallybin, Path(folder), chance)
    print(f"pack: {ROUNDS} random jobs as scipy packs them, the best of {ways} ways; {sample(tallybin)} slips read back")


if __name__ == "__main__":
    main()
