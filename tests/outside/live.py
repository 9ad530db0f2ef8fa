#!/usr/bin/env python3
"""Types counts into the Count sheet and lets LibreOffice work the rest out: what By stage and the
Summary then say must be what tallybin itself settles from the same sheet.

    live.py TALLYBIN

A cell may say "run again" or "can't say" where the tool knows better; it may never say otherwise. Where a
job has stock or substitute rules, it must say so of every item that they touch as soon as a figure is typed
that may change what the item gets, and of no other whose lines are all counted: which items these are is
worked out here, by settling counts that try each item's wants and each item's pieces in turn.
"""

import csv
import random
import sys
import tempfile
from collections import Counter
from pathlib import Path

import openpyxl

from workbook import SAMPLES, fail, heading_row, recalculated, reconcile

# Written beside the counts: two families of rules.
RULES = "rules.csv"
RULE_ROWS = [
    ("for", "use", "longer by", "grades up", "approved by"),
    ("hex bolt", "", "1", "1", "the bench"),
    ("1/2 carriage bolt", "", "1/2", "", "the bench"),
]

LISTS = {
    "footbridge": [
        "--required", SAMPLES / "footbridge" / "parts-list.xlsx",
        "--shipped", SAMPLES / "footbridge" / "packing-slip.csv",
        "--with", "handrail mesh", "--without", "approach ramp",
    ],
    "footbridge without a slip": [
        "--required", SAMPLES / "footbridge" / "parts-list.xlsx",
        "--with", "handrail mesh", "--without", "approach ramp",
    ],
    "footbridge with stock": [
        "--required", SAMPLES / "footbridge" / "parts-list.xlsx",
        "--shipped", SAMPLES / "footbridge" / "packing-slip.csv",
        "--stock", SAMPLES / "footbridge" / "shop-bins.csv",
        "--with", "handrail mesh", "--without", "approach ramp",
    ],
    "footbridge with substitutes": [
        "--required", SAMPLES / "footbridge" / "parts-list.xlsx",
        "--shipped", SAMPLES / "footbridge" / "packing-slip.csv",
        "--substitutes", RULES,
        "--with", "handrail mesh", "--without", "approach ramp",
    ],
    "footbridge with both": [
        "--required", SAMPLES / "footbridge" / "parts-list.xlsx",
        "--shipped", SAMPLES / "footbridge" / "packing-slip.csv",
        "--stock", SAMPLES / "footbridge" / "shop-bins.csv",
        "--substitutes", RULES,
        "--with", "handrail mesh", "--without", "approach ramp",
    ],
    "shelter": [
        "--required", SAMPLES / "shelter" / "parts.csv",
        "--shipped", SAMPLES / "shelter" / "packing-note.txt",
    ],
}


def fill(blank, filled, items, dice, share, exact):
    """Types a count into a share of the lines; `exact` types what is required."""
    book = openpyxl.load_workbook(blank)
    sheet = book["Count sheet"]
    top, columns = heading_row(sheet)
    column = dict(columns)
    lines = Counter(sheet.cell(row, column["Id"]).value for row in range(top + 1, sheet.max_row + 1))
    seen, typed, seen_typed = Counter(), 0, []
    for row in range(top + 1, sheet.max_row + 1):
        item = sheet.cell(row, column["Id"]).value
        if not item or dice.random() >= share:
            continue
        seen[item] += 1
        need = items[item]["required"] if seen[item] == lines[item] else 0
        sheet.cell(row, column["Good"]).value = need if exact else dice.choice([0, 2, 9, 40, 300])
        typed += 1
        seen_typed.append(item)
    book.save(filled)
    return typed, Counter(seen_typed), lines


def table(sheet, headings):
    """The rows below the headings, as far as they are numbered."""
    top, columns = headings
    for row in range(top + 1, sheet.max_row + 1):
        if not isinstance(sheet.cell(row, 1).value, (int, float)):
            return
        yield {name: sheet.cell(row, at).value for name, at in columns}


def stages_of(summary):
    """The Summary's stages: number to state and short."""
    rows = list(summary.iter_rows(values_only=True))
    first = next(i for i, row in enumerate(rows) if row[0] == "No." and row[2] == "State") + 1
    found = {}
    for row in rows[first:]:
        if not isinstance(row[0], (int, float)):
            return found
        found[int(row[0])] = (row[2], row[4], row[7])


def touched(tallybin, scratch, lists, items):
    """By item: those, itself among them, whose count may change what it gets beside its own pieces. Each
    item that is required is counted at nothing while all others are plenty, which shows who may serve it."""
    pairs = set()
    helped = set()
    for wanted in items.values():
        if not wanted["required"]:
            continue
        counts = scratch / "tried.csv"
        with open(counts, "w", newline="") as out:
            rows = csv.writer(out)
            rows.writerow(["Id", "Item", "Good"])
            for item in items.values():
                rows.writerow([item["id"], item["text"], 0 if item is wanted else 100_000])
        settled = reconcile(tallybin, *lists, "--counted", counts)
        for item in settled["items"]:
            for served in item["stand_ins"]:
                helped.add(item["id"])
                if not served["from_stock"]:
                    pairs.add((item["id"], served["item"]))
    group = {item: {item} for item in items}
    for a, b in pairs:
        merged = group[a] | group.setdefault(b, {b})
        for item in merged:
            group[item] = merged
    return {i: of for i, of in group.items() if i in helped or len(of) > 1}


def run_again(name, book, headings, items, typed, lines, in_play, told):
    """Says it where it must, and nowhere else."""
    by_text = {item["text"]: item for item in items.values()}
    for row in table(book["By stage"], headings):
        item = by_text[row["Item"]]["id"]
        says = "run again" in row["State"]
        if any(typed[other] for other in in_play.get(item, ())):
            if not says:
                fail(f"{name}: {row} does not say to run again, though a count of {in_play[item]} may change it")
            told["lines that must say run again"] += 1
        elif says and typed[item] in (0, lines[item]) and plain(items, item):
            fail(f"{name}: {row} says to run again, and nothing that was typed can change it")


def plain(items, item):
    """No other item of the job may be the same piece, as far as the texts tell: one size and kind."""
    own = items[item]
    fields = ("kind", "style", "diameter", "thread", "length", "grade", "finish", "part_number")
    def agrees(other):
        return all(own[f] is None or other[f] is None or own[f] == other[f] for f in fields)
    uses = own["required"] == sum(s["required"] for s in own["stages"])
    return uses and not any(agrees(other) for other in items.values() if other["id"] != item)


def compare(name, book, headings, account, told):
    by_text = {item["text"]: item for item in account["items"]}
    names = [stage["name"] for stage in account["stages"]]
    unsure, sure_short = set(), Counter()
    for row in table(book["By stage"], headings):
        stage = int(row["No."])
        if "run again" in row["State"]:
            unsure.add(stage)
            told["lines that say run again"] += 1
            continue
        share = next(s for s in by_text[row["Item"]]["stages"] if s["stage"] == names[stage - 1])
        if (row["Covered"], row["Short"]) != (share["covered"], share["short"]):
            fail(f"{name}: {row}, settled {share}")
        sure_short[stage] += share["short"] if row["State"].startswith("■") else 0
        told["lines"] += 1
    for number, (state, covered, short) in stages_of(book["Summary"]).items():
        stage = account["stages"][number - 1]
        if number not in unsure and (covered, short) != (stage["covered"], sure_short[number]):
            fail(f"{name}: stage {number} {covered} covered, {short} short, settled {stage}")
        wanted = {"●": "yes", "■": "no"}.get(state[0])
        if wanted and wanted != stage["ready"] and number not in unsure:
            fail(f"{name}: stage {number} is {state!r}, settled {stage}")
        told["stages" if wanted == stage["ready"] else "stages that cannot say"] += 1
    answer = next(
        cell for (cell, *_) in book["Summary"].iter_rows(values_only=True)
        if str(cell).startswith("May the job start?")
    )
    wanted = "yes" if "● YES" in answer else "no" if "■ NO" in answer else None
    if wanted and wanted != account["verdict"] and not unsure:
        fail(f"{name}: {answer!r}, settled {account['verdict']}: {account['reasons']}")
    if wanted == "no" and not unsure:
        number = names.index(account["stops_at"]) + 1
        if f"stage {number} of" not in answer:
            fail(f"{name}: {answer!r}, settled {account['stops_at']}")
    told[f"verdict {wanted or 'left open'}"] += 1


def main():
    tallybin = Path(sys.argv[1]).resolve()
    told = Counter()
    with tempfile.TemporaryDirectory() as scratch:
        scratch = Path(scratch)
        with open(scratch / RULES, "w", newline="") as out:
            csv.writer(out).writerows(RULE_ROWS)
        for name, lists in LISTS.items():
            lists = [scratch / RULES if of == RULES else of for of in lists]
            blank, filled = scratch / "blank.xlsx", scratch / "filled.xlsx"
            account = reconcile(tallybin, *lists, "-o", blank)
            headings = heading_row(openpyxl.load_workbook(blank)["By stage"])
            items = {item["id"]: item for item in account["items"]}
            others = "--stock" in lists or "--substitutes" in lists
            in_play = touched(tallybin, scratch, lists, items) if others else {}
            for seed, (share, exact) in enumerate([(0.3, False), (1, False), (0.5, True), (1, True)]):
                count, typed, lines = fill(blank, filled, items, random.Random(seed), share, exact)
                told["counts typed"] += count
                settled = reconcile(tallybin, *lists, "--counted", filled)
                book = openpyxl.load_workbook(recalculated(filled, scratch), data_only=True)
                compare(f"{name}, {seed}", book, headings, settled, told)
                if others:
                    run_again(f"{name}, {seed}", book, headings, items, typed, lines, in_play, told)
    print("live:", ", ".join(f"{count} {what}" for what, count in told.items()))


if __name__ == "__main__":
    main()
