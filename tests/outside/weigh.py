#!/usr/bin/env python3
"""Counts by weight against a simulation of the weighing.

    weigh.py TALLYBIN

For each point of a grid of piece variation, sample size, batch size and scale resolution, draws
samples and batches of pieces of known number with numpy, rounds their weights to the scale's
steps, and has `tallybin weigh` count them. The chance of an exact count that it states must be
the share of counts that are exact, within 2 points, at every point of the grid; and where its
standard error is under a piece, it must be the spread of the counts before rounding, within 8 %.
The model is that of S. H. Steiner and R. J. MacKay, "Scale Counting" (Metrologia, 2004).
"""

import csv
import itertools
import json
import subprocess
import sys
import tempfile
from pathlib import Path

import numpy

VARIATIONS = [0.002, 0.005, 0.01, 0.03]  # standard deviation of a piece over its mean
SAMPLES = [5, 20, 60]
BATCHES = [12, 60, 250]
STEPS = [0.001, 0.2, 0.8]  # of the scale, in pieces
TRIALS = 8000
PIECE = 20.0  # grams
HEADINGS = ["item", "sample pieces", "sample weight", "batch weight", "unit", "resolution", "variation"]


def weighings(rng, cv, sample, batch, step):
    """True counts, sample and batch weights of many trials, as the scale shows them."""
    # What a piece weighs is unknown to the one who weighs, and a batch is not a whole multiple of
    # its sample: from trial to trial, weights fall anywhere between the steps of the scale.
    mean = PIECE * rng.uniform(0.5, 1.5, TRIALS)
    batches = rng.integers(round(batch * 0.75), round(batch * 1.25), TRIALS, endpoint=True)
    resolution = step * PIECE
    yield batches
    for pieces in (numpy.full(TRIALS, sample), batches):
        # The sum of many normal pieces is normal.
        weight = mean * (pieces + cv * numpy.sqrt(pieces) * rng.standard_normal(TRIALS))
        yield numpy.round(weight / resolution) * resolution


def main(binary):
    rng = numpy.random.default_rng(20251)
    grid = list(itertools.product(VARIATIONS, SAMPLES, BATCHES, STEPS))
    worst_chance, worst_spread, failures = 0.0, 0.0, []
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "grid.csv"
        with path.open("w", newline="") as file:
            out = csv.writer(file)
            out.writerow(HEADINGS)
            for point in grid:
                cv, sample, batch, step = point
                for true, light, heavy in zip(*weighings(rng, *point)):
                    weights = f"{light:.6f}", f"{heavy:.6f}"
                    out.writerow([true, sample, *weights, "g", step * PIECE, cv * 100])
        run = [binary, "weigh", "--csv", str(path), "--format", "json"]
        counts = json.loads(subprocess.run(run, check=True, capture_output=True).stdout)
    assert len(counts) == len(grid) * TRIALS, "one object a weighing"
    for i, point in enumerate(grid):
        found = counts[i * TRIALS : (i + 1) * TRIALS]
        true = numpy.array([int(count["item"]) for count in found])
        exact = numpy.mean([count["count"] for count in found] == true)
        stated = numpy.mean([count["chance_exact"] for count in found])
        off = numpy.array([count["estimate"] for count in found]) - true
        error = numpy.sqrt(numpy.mean([count["standard_error"] ** 2 for count in found]))
        spread = numpy.sqrt(numpy.mean(off**2))
        worst_chance = max(worst_chance, abs(exact - stated))
        if abs(exact - stated) > 0.02:
            failures.append(f"{point}: exact {exact:.3f}, stated {stated:.3f}")
        if error < 1:
            worst_spread = max(worst_spread, abs(spread / error - 1))
            if abs(spread / error - 1) > 0.08:
                failures.append(f"{point}: spread {spread:.3f}, stated {error:.3f}")
    print("\n".join(failures))
    print(f"{len(grid)} points of {TRIALS}: chance off by {worst_chance:.3f} at most, spread by {worst_spread:.3f}")
    return bool(failures)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
