#!/usr/bin/env python3
"""Feeds sizes of published standards to `tallybin read`, which must read each without a doubt.

    series.py TALLYBIN

Sizes, threads, lengths and widths across flats come from the data folder of the PyPI package
bd_warehouse (Apache-2.0): ISO 4014 and ISO 4032 (hex bolts and nuts), ISO 4762 (socket heads),
and the Unified threads of its tap-hole chart (ASME B1.1).
"""

import json
import subprocess
import sys
import tempfile
from fractions import Fraction
from importlib.util import find_spec
from pathlib import Path

import pandas

DATA = Path(find_spec("bd_warehouse").submodule_search_locations[0]) / "data"

# ASME B1.1 has threads for these, but no bolts are sold in them: a doubt is right (common practice,
# no source).
SECONDARY = ["11/16", "13/16", "15/16"]


def table(name):
    table = pandas.read_csv(DATA / name, dtype=str)
    return table.rename(columns=str.strip)


def lengths(standard):
    """The lengths in which a standard's screws are sold."""
    sold = table("nominal_screw_lengths.csv").set_index("Screw_Type")["Nominal_Sizes"][standard]
    return sold.split(",")


def screws(file, standard):
    """Each size of a standard with each of its lengths: diameter, thread, length, flats."""
    for _, row in table(file).iterrows():
        short, long = row[f"{standard}:short"], row[f"{standard}:long"]
        if pandas.notna(short) and pandas.notna(long):
            diameter, thread = row["Size"].split("-")
            for length in lengths(standard):
                if float(short) <= float(length) <= float(long):
                    yield diameter, thread, length, row[f"{standard}:s"]


def cases():
    """Written line, and what it must read as."""
    for diameter, pitch, length, flats in screws("hex_head_parameters.csv", "iso4014"):
        want = dict(kind="bolt", diameter=diameter, length=length, unit="mm", wrench=flats)
        yield f"4 {diameter} x {length} hex bolt ISO 4014", want
        yield f"4 pcs {diameter}x{pitch}x{length} hex bolts", want | {"thread": pitch}
        yield f"(4) hex bolt {diameter}-{pitch} x {length}, 8.8", want | {"thread": pitch, "grade": "8.8"}
    for diameter, pitch, length, _ in screws("socket_head_cap_parameters.csv", "iso4762"):
        want = dict(kind="screw", style="socket", diameter=diameter, length=length, unit="mm")
        yield f"4 {diameter}-{pitch} x {length} SHCS", want | {"thread": pitch}
    for _, row in table("hex_nut_parameters.csv").dropna(subset="iso4032:s").iterrows():
        diameter, pitch = row["Size"].split("-")
        want = dict(kind="nut", style="hex", diameter=diameter, wrench=row["iso4032:s"])
        yield f"4 {diameter} hex nuts ISO 4032", want
        yield f"4 hex nuts {diameter}x{pitch}", want | {"thread": pitch}
    for size in table("tap_hole_sizes.csv")["Size"]:
        diameter, thread = size.split("-")
        if not diameter.startswith("M") and diameter not in SECONDARY:
            want = dict(kind="nut", style="hex", diameter=diameter, thread=thread, unit="in")
            yield f"4 hex nuts {size}", want
            yield f"4 hex bolts {size} x 3", want | dict(kind="bolt", length="3")


def same(want, got):
    """Sizes agree as numbers: the tables write 1.0 and 1 alike."""
    try:
        return Fraction(want) == Fraction(got)
    except (ValueError, TypeError):
        return want == got


def main():
    tallybin = Path(sys.argv[1]).resolve()
    lines = list(cases())
    with tempfile.TemporaryDirectory() as scratch:
        file = Path(scratch) / "sizes.txt"
        file.write_text("".join(f"{text}\n" for text, _ in lines))
        printed = subprocess.run(
            [tallybin, "read", file, "--format", "json"], check=True, stdout=subprocess.PIPE
        ).stdout
    read = {}
    for item in json.loads(printed):
        read.setdefault(item["row"], []).append(item)
    wrong = []
    for row, (text, want) in enumerate(lines, 1):
        want = dict(quantity=4, status="read", doubts=[]) | want
        items = read.get(row, [])
        if len(items) != 1:
            wrong.append(f"{text}: {len(items)} items")
            continue
        for field, value in want.items():
            if not same(value, items[0][field]):
                wrong.append(f"{text}: {field} is {items[0][field]!r}, not {value!r}")
    print(f"{len(lines)} sizes of ISO 4014, ISO 4762, ISO 4032 and ASME B1.1: {len(wrong)} differences")
    print("\n".join(wrong[:60]))
    if wrong or not lines:
        sys.exit(1)


if __name__ == "__main__":
    main()
