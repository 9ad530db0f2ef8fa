#!/usr/bin/env python3
"""Works out from the footbridge's files what can be claimed, and compares it with the claim as CSV.

    claim.py TALLYBIN

The files are read with openpyxl and pandas, the sums are those of tally.py. What an item lacks is laid,
in this order, to what proves it: the slip lists fewer (of which what was to follow is asked after), pieces
are damaged, a bag did not come, the box held fewer. Each line's pieces, its figures and the rows that it
rests on are compared.
"""

import csv
import re
import subprocess
import sys
import tempfile
from collections import Counter, defaultdict
from pathlib import Path

import openpyxl
import pandas

from tally import SAMPLES, footbridge, key, settle

FOLDER = SAMPLES / "footbridge"


def rows():
    """By item: the rows of each file that speak of it."""
    found = defaultdict(set)
    sheet = openpyxl.load_workbook(FOLDER / "parts-list.xlsx", data_only=True)["Parts list"]
    column = None
    for number, row in enumerate(sheet.iter_rows(values_only=True), 1):
        if "Description" in row:
            column = {heading: index for index, heading in enumerate(row)}
        elif column and row[column["Line"]] is not None:
            cell = lambda heading: row[column[heading]]
            if cell("Option") in (None, "with: handrail mesh", "without: approach ramp") and not cell("Use"):
                found[key(cell("Description"), cell("Part no.") or "")].add(("parts-list.xlsx", number))
    for name, head in (("packing-slip.csv", 7), ("second-parcel.csv", 6)):
        slip = pandas.read_csv(FOLDER / name, skiprows=head, dtype=str, keep_default_na=False)
        for index, line in slip.iterrows():
            if line["U/M"] != "GAL":
                found[key(line["DESCRIPTION"], line["PART NO"])].add((name, index + head + 2))
    sheet = openpyxl.load_workbook(FOLDER / "bench-count.xlsx", data_only=True)["Count sheet"]
    column = None
    for number, row in enumerate(sheet.iter_rows(values_only=True), 1):
        if "Good" in row:
            column = {heading: index for index, heading in enumerate(row)}
        elif column and row[column["Item"]]:
            if row[column["Good"]] is not None or row[column["Damaged"]] is not None:
                item = key(row[column["Item"]], row[column["Part no."]] or "")
                found[item].add(("bench-count.xlsx", number))
    return found


def claimable():
    """(why, item) and pieces, and the items' sums."""
    read = footbridge()
    items, _, findings = settle(*read)
    _, _, shipped, back_ordered, _, missing, _ = read
    claimed = Counter()
    for item, sums in items.items():
        lacking = sums["short"]

        def take(pieces):
            nonlocal lacking
            taken = min(pieces, lacking)
            lacking -= taken
            return taken

        unlisted = take(findings.get(("slip is short", item), 0))
        to_follow = min(unlisted, back_ordered[item])
        claimed["back-ordered", item] += to_follow
        claimed["damaged", item] += take(sums["damaged"])
        lost = sum(pieces for (at, bag), pieces in shipped.items() if at == item and bag in missing)
        claimed["bag not received", item] += take(lost)
        claimed["missing", item] += unlisted - to_follow + take(lacking)
    return {at: pieces for at, pieces in claimed.items() if pieces}, items


def addresses(text):
    """`parts-list.xlsx, sheet Parts list, rows 16, 37-38; ...` as (file, row)."""
    found = set()
    for part in text.split("; "):
        file, runs = re.match(r"([^,]+),.*?(?:rows?|lines?) ([\d, -]+)$", part).groups()
        for run in runs.split(", "):
            first, _, last = run.partition("-")
            found |= {(file, row) for row in range(int(first), int(last or first) + 1)}
    return found


def main():
    tallybin = Path(sys.argv[1]).resolve()
    with tempfile.TemporaryDirectory() as scratch:
        path = Path(scratch) / "claim.csv"
        subprocess.run(
            [tallybin, "reconcile", FOLDER / "job.toml", "--claim", path], check=True, stdout=subprocess.DEVNULL
        )
        records = list(csv.reader(path.open(encoding="utf-8-sig", newline="")))
    expected, items = claimable()
    evidence, wrong, told = rows(), [], Counter()
    columns = None
    for record in records:
        if record[:2] == ["No.", "Why"]:
            columns = record
            continue
        if not columns or len(record) != len(columns) or not record[0].isdigit():
            continue
        line = dict(zip(columns, record))
        if line["Why"] not in ("missing", "damaged", "back-ordered", "bag not received"):
            continue
        name, _, number = line["Item"].partition("; No. ")
        item = key(name, number)
        told[line["Why"], item] += int(record[7])
        for field, ours in (("Required", "required"), ("On the slip", "shipped")):
            if int(line[field]) != items[item][ours]:
                wrong.append(f"  {item}: {field} {line[field]}, by hand {items[item][ours]}")
        if addresses(line["Where it says so"]) != evidence[item]:
            wrong.append(f"  {item}: {line['Where it says so']}, by hand {sorted(evidence[item])}")
    for at in sorted(expected.keys() | told.keys()):
        if expected.get(at, 0) != told[at]:
            wrong.append(f"  {at}: {told[at]} claimed, {expected.get(at, 0)} by hand")
    print(f"claim: {len(told)} lines, {sum(told.values())} pieces")
    print("\n".join(wrong) if wrong else "  agrees with the files, line by line and row by row")
    sys.exit(bool(wrong))


if __name__ == "__main__":
    main()
