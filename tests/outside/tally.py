#!/usr/bin/env python3
"""Settles both samples by its own simple means, and compares every figure with tallybin's.

    tally.py TALLYBIN

Independence is the point: the files are read with openpyxl and pandas, descriptions with one
regular expression and a table of words made for these two samples, and the sums follow the rules
in plain Python. Required, shipped, counted, damaged, covered, short and extra are compared item by
item and stage by stage, the findings and the totals too. Exits with 1 and the differences.
"""

import json
import re
import subprocess
import sys
import tomllib
from collections import Counter, defaultdict
from fractions import Fraction
from pathlib import Path

import openpyxl
import pandas

SAMPLES = Path(__file__).resolve().parents[2] / "samples"

# ---------------------------------------------------------------- what a description asks for
# The words of the samples, longest first where one holds another, and the item they stand for.

WORDS = [
    ("wedge anchor", "anchor wedge"),
    ("jam nut", "nut jam"),
    ("jn", "nut jam"),
    ("plate washer", "washer plate"),
    ("carriage bolt", "bolt carriage"),
    ("cb", "bolt carriage"),
    ("nylon-insert lock nut", "nut nylon-insert lock"),
    ("nylon insert lock nut", "nut nylon-insert lock"),
    ("nln", "nut nylon-insert lock"),
    ("hex nut", "nut hex"),
    ("hn", "nut hex"),
    ("hex bolt", "bolt hex"),
    ("hhcs", "bolt hex"),
    ("split lock washer", "washer split lock"),
    ("flat washer, sae", "washer sae flat"),
    ("sae flat washer", "washer sae flat"),
    ("fw sae", "washer sae flat"),
    ("flat washer, uss", "washer uss flat"),
    ("uss flat washer", "washer uss flat"),
    ("fw uss", "washer uss flat"),
    ("flat washer", "washer flat"),
    ("plain washer", "washer flat"),
    ("threaded rod", "rod threaded"),
    ("atr", "rod threaded"),
    ("lag scr", "screw lag"),
    ("deck scr", "screw deck"),
    ("wood scr", "screw wood"),
    ("pan head machine screw", "screw pan"),
    ("pan head screw", "screw pan"),
    ("phms", "screw pan"),
    ("socket head cap screw", "screw socket"),
    ("shcs", "screw socket"),
]

NUMBER = r"(\d+-\d+/\d+|\d+/\d+|\d*\.\d+|\d+)"
METRIC = re.compile(rf"\bm(\d+)(?: ?x ?\d[.,]\d+)?(?: ?x ?(\d+))?", re.I)
INCH = re.compile(rf"(?<![\w./])(#?){NUMBER}(?:-\d+)?(?: x {NUMBER})?(?![\w./])", re.I)
PART = re.compile(r"\b(?:TB|BW)-\d+\b")


def number(text):
    """`3-3/4`, `3.750`, `1/2` as an exact fraction; .38 is the trade's rounding of 3/8."""
    if text == ".38":
        return Fraction(3, 8)
    whole, _, rest = text.rpartition("-")
    return (Fraction(whole) if whole else 0) + Fraction(rest)


def key(description, part_number=""):
    """What a description asks for: a part's number, or kind and style, diameter, length."""
    part = PART.search(f"{description} {part_number}")
    if part:
        return part[0]
    low = description.lower().replace("hex nuts", "hex nut").replace("washers", "washer")
    low = low.replace("bolts", "bolt").replace("lock nuts", "lock nut")
    head = next((head for word, head in WORDS if re.search(rf"\b{word}", low)), None)
    if head is None:
        raise SystemExit(f"tally.py: no word of its table in {description!r}")
    # Grades would pass for sizes.
    bare = re.sub(r"18-8|gr(ade)? ?\d|a307|a2-70|8\.8|class \d+", "", low)
    metric = METRIC.search(bare)
    if metric:
        return f"{head} M{metric[1]}" + (f" x {metric[2]}" if metric[2] else "")
    inch = INCH.search(bare)
    diameter = "#" + inch[2] if inch[1] else str(number(inch[2]))
    return f"{head} {diameter}" + (f" x {number(inch[3])}" if inch[3] else "")


# ---------------------------------------------------------------- reading the files


def footbridge():
    """Required lines (stage, key, pieces, bag), pieces to bring, slip and back orders, count by key and
    bag, bags not received, and what came in a later parcel, after the count."""
    folder = SAMPLES / "footbridge"
    job = tomllib.loads((folder / "job.toml").read_text())
    rows = openpyxl.load_workbook(folder / "parts-list.xlsx", data_only=True)["Parts list"]
    required, to_bring, stage, column = [], Counter(), None, None
    for row in rows.iter_rows(values_only=True):
        if "Description" in row:
            column = {heading: index for index, heading in enumerate(row)}
            continue
        if column is None or row[column["Line"]] is None:
            continue
        cell = lambda heading: row[column[heading]]
        stage = cell("Stage") or stage
        option, use = cell("Option"), cell("Use")
        if option:
            wanted, name = option.split(": ")
            if name not in job["with"] + job["without"]:
                raise SystemExit(f"tally.py: the job does not say whether {name!r} is built")
            if (name in job["with"]) != (wanted == "with"):
                continue
        item = key(cell("Description"), cell("Part no.") or "")
        pieces = cell("Qty per place") * cell("Places") * job["kits"]
        if use in ("sold separately", "consumable"):
            to_bring[item] += pieces
        elif use is None:
            required.append((stage, item, pieces, cell("Bag") or ""))
        elif use != "carried over":
            raise SystemExit(f"tally.py: use {use!r} is not known here")

    slip = pandas.read_csv(folder / "packing-slip.csv", skiprows=7, dtype=str, keep_default_na=False)
    shipped, back_ordered = Counter(), Counter()
    for _, row in slip.iterrows():
        item = key(row["DESCRIPTION"], row["PART NO"])
        if row["U/M"] == "GAL":
            # Half a gallon is no count of pieces: the item is named, and nothing is summed.
            shipped[item, row["BAG"]] += 0
            continue
        each = {"EA": 1, "C": 100, "PK": int(row["PACK OF"] or 0)}[row["U/M"]]
        shipped[item, row["BAG"]] += int(row["QTY SHIP"]) * each
        if int(row["B/O"]):
            back_ordered[item] += int(row["B/O"]) * each

    count = pandas.read_excel(folder / "bench-count.xlsx", sheet_name=None, header=None, dtype=object)
    counted = {}
    sheet = count["Count sheet"]
    top = next(i for i, row in sheet.iterrows() if "Good" in row.values)
    sheet.columns = sheet.iloc[top]
    for _, row in sheet.iloc[top + 1 :].iterrows():
        if pandas.isna(row["Item"]):
            continue
        item = key(row["Item"], "" if pandas.isna(row["Part no."]) else row["Part no."])
        bag = "" if pandas.isna(row["Bag"]) else row["Bag"]
        good, damaged = (None if pandas.isna(row[c]) else int(row[c]) for c in ("Good", "Damaged"))
        if good is not None or damaged is not None:
            counted[item, bag] = (good, damaged or 0)
    missing = {row[0] for row in count["Bags"].values if row[-1] == "no"}
    later = Counter()
    slip = pandas.read_csv(folder / "second-parcel.csv", skiprows=6, dtype=str, keep_default_na=False)
    for _, row in slip.iterrows():
        later[key(row["DESCRIPTION"], row["PART NO"]), row["BAG"]] += int(row["QTY SHIP"])
    return required, to_bring, shipped, back_ordered, counted, missing, later


def shop():
    """The footbridge with what was found loose, the shop's bins, and by how much its rules let
    which item be longer."""
    folder = SAMPLES / "footbridge"
    *lines, counted, missing, later = footbridge()
    found = pandas.read_csv(folder / "found-loose.csv")
    counted |= {(key(row["Description"]), ""): (row["Good"], 0) for _, row in found.iterrows()}
    bins = pandas.read_csv(folder / "shop-bins.csv")
    stock = Counter({key(row["Item"]): row["On hand"] for _, row in bins.iterrows()})
    slip = pandas.read_csv(folder / "packing-slip.csv", skiprows=7, dtype=str)
    rules = tomllib.loads((folder / "shop-job.toml").read_text())["substitutes"]
    named = {rule["for"]: slip[slip["PART NO"] == rule["for"]]["DESCRIPTION"].iloc[0] for rule in rules}
    longer = {key(named[rule["for"]]): number(rule["longer_by"]) for rule in rules}
    return *lines, counted, missing, later, stock, longer


def shelter():
    folder = SAMPLES / "shelter"
    kits = tomllib.loads((folder / "job.toml").read_text())["kits"]
    table = pandas.read_csv(folder / "parts.csv", sep=";", decimal=",", keep_default_na=False)
    required = [
        (row["Stage"], key(row["Item"], row["Part no."]), row["No. off"] * kits, "")
        for _, row in table.iterrows()
    ]
    shipped = Counter()
    for line in (folder / "packing-note.txt").read_text().splitlines():
        found = re.match(r"(?:(\d+) boxes of )?(\d+) (?:x |pcs |off )?(.*(?:M\d|BW-).*)", line)
        if found:
            shipped[key(found[3]), ""] += int(found[1] or 1) * int(found[2])
    return required, Counter(), shipped, Counter(), None, set(), Counter()


# ---------------------------------------------------------------- settling


def settle(
    required, to_bring, shipped, back_ordered, counted, missing, later, stock=Counter(), longer={}
):
    """The account by the rules of the trade: every figure by item and by stage."""
    items = defaultdict(Counter)
    stages = {}
    findings = Counter()
    for _, item, pieces, _ in required:
        items[item]["required"] += pieces
    for item, pieces in to_bring.items():
        items[item]["to_bring"] += pieces
    for (item, _), pieces in [*shipped.items(), *later.items()]:
        items[item]["shipped"] += pieces
    for (item, _), (good, damaged) in (counted or {}).items():
        items[item]["counted"] += good or 0
        items[item]["damaged"] += damaged
        items[item]["was counted"] = 1

    # A bag's count stands where there is one; else the slip is believed, unless the bag never came. What
    # came after the count is believed.
    there = Counter(later)
    for item, bag in {*shipped, *(counted or {})}:
        good, _ = (counted or {}).get((item, bag), (None, 0))
        if good is not None:
            there[item, bag] += good
        elif bag not in missing:
            there[item, bag] += shipped[item, bag]
    pool = Counter()
    for (item, _), pieces in there.items():
        pool[item] += pieces

    left = pool.copy()
    for stage, item, pieces, _ in required:
        covered = min(pieces, left[item])
        left[item] -= covered
        sums = stages.setdefault(stage, Counter())
        for sum_ in (sums, items[item]):
            sum_["covered"] += covered
            sum_["short"] += pieces - covered
        sums["short of " + item] += pieces - covered
        sums["required"] += pieces

    # The shop fills what is then short, the item itself before a longer one that a rule allows.
    stock = stock.copy()
    for stage, item, *_ in required:
        for spare in sorted(stock, key=lambda spare: spare != item):
            (one, _, long), (other, _, asked) = spare.partition(" x "), item.partition(" x ")
            by = Fraction(long) - Fraction(asked) if long and asked and one == other else None
            if spare == item or (by is not None and 0 < by <= longer.get(item, 0)):
                here = sum(n for s, i, n, _ in required if (s, i) == (stage, item))
                pieces = min(stages[stage]["short of " + item], stock[spare], here)
                stock[spare] -= pieces
                for sums in (stages[stage], items[item]):
                    sums["from_stock" if spare == item else "substituted"] += pieces
                    sums["short"] -= pieces
                    sums["lent"] += pieces
                stages[stage]["short of " + item] -= pieces

    for item, sums in items.items():
        sums["extra"] = left[item]
        findings["extra", item] = left[item]
        findings["damaged", item] = sums["damaged"]
        unlisted = max(0, sums["required"] - sums["shipped"])
        findings["slip is short", item] = unlisted
        findings["back-ordered", item] = min(back_ordered[item], unlisted)
        if not sums["required"] and not sums["to_bring"]:
            findings["not on the list", item] = max(sums["shipped"], pool[item])
        if sums["was counted"] and not sums["shipped"]:
            findings["not on the slip", item] = sums["counted"] + sums["damaged"]
        bags = [at for at in (counted or {}) if at[0] == item]
        lacking = sum(shipped[at] - sum(filter(None, counted[at])) for at in bags)
        findings["box is short", item] = max(0, lacking)
    # What one bag lacks and another has over, bent pieces counted as there.
    due = Counter()
    for _, item, pieces, bag in required:
        if bag:
            due[item, bag] += pieces
    for item in items:
        bags = {bag for at, bag in {*due, *there} if at == item and bag} - missing
        held = {b: there[item, b] + (counted or {}).get((item, b), (0, 0))[1] for b in bags}
        lacks = sum(max(0, due[item, b] - held[b]) for b in bags)
        over = sum(max(0, held[b] - due[item, b] - later[item, b]) for b in bags)
        if any(due[item, b] for b in bags):
            findings["in the wrong bag", item] = min(lacks, over)
    # What is over of one length against what is short of another of its family, nearest first.
    over = {i: s["extra"] for i, s in items.items() if s["extra"]}
    # Damaged pieces explain a lack first.
    short = {i: max(0, s["short"] + s["lent"] - s["damaged"]) for i, s in items.items()}
    pairs, offers = [], dict(over)
    for a in over:
        for b in short:
            (one, _, long), (other, _, wanted) = a.partition(" x "), b.partition(" x ")
            if long and wanted and one == other:
                pairs.append((abs(Fraction(long) - Fraction(wanted)), a, b))
    for _, a, b in sorted(pairs):
        pieces = min(over[a], short[b])
        over[a], short[b] = over[a] - pieces, short[b] - pieces
        findings["wrong size packed", b] += pieces
    # What is longer by an inch at most is offered for what is still short; the heads and threads agree.
    for by, a, b in sorted(pairs):
        longer_one = Fraction(a.partition(" x ")[2]) > Fraction(b.partition(" x ")[2])
        if longer_one and by <= 1 and items[b]["short"]:
            findings["offered", b] += min(offers[a], items[b]["short"])
    for bag in missing:
        lost = {item: n for (item, b), n in shipped.items() if b == bag}
        findings["box not received", bag] = sum(lost.values())
        for item, pieces in lost.items():
            findings["box not received", item] += pieces
    return items, stages, {finding: pieces for finding, pieces in findings.items() if pieces}


# ---------------------------------------------------------------- comparing


def of_json(item):
    """The key of an item as tallybin's JSON describes it."""
    if item["kind"] == "part":
        return item["part_number"]
    head = f"{item['kind']} {item['style']}".lower()
    head = {"screw machine": "screw pan"}.get(head, head)
    length = item["length"] and (item["length"] if item["unit"] == "mm" else number(item["length"]))
    return f"{head} {item['diameter']}" + (f" x {length}" if length else "")


def compare(name, tallybin, read, job="job.toml"):
    theirs = json.loads(
        subprocess.run(
            [tallybin, "reconcile", SAMPLES / name / job, "--format", "json"],
            check=True, stdout=subprocess.PIPE,
        ).stdout
    )
    lines = read()
    items, stages, findings = settle(*lines)
    wrong = []

    def same(what, ours, tallys):
        if ours != tallys:
            wrong.append(f"  {what}: {ours} by hand, {tallys} by tallybin")

    listed = {of_json(item): item for item in theirs["items"]}
    same("items listed once", len(theirs["items"]), len(listed))
    for missing in sorted(items.keys() ^ listed.keys()):
        who = "tallybin" if missing in items else "this tally"
        wrong.append(f"  {missing}: not known to {who}")
    fields = ["required", "shipped", "damaged", "covered", "substituted", "from_stock", "short", "extra"]
    for item in items.keys() & listed.keys():
        for field in fields + ["to_bring"]:
            same(f"{item}, {field}", items[item][field], listed[item][field] or 0)
        counted = items[item]["counted"] if items[item]["was counted"] else None
        same(f"{item}, counted", counted, listed[item]["counted"])
    for field in fields + ["counted"]:
        same(f"total {field}", sum(sums[field] for sums in items.values()), theirs["totals"][field])

    built = [stage for stage in theirs["stages"] if stage["required"]]
    same("stages in order", list(stages), [stage["name"] for stage in built])
    for stage in built:
        for field in ("required", "covered", "substituted", "from_stock", "short"):
            same(f"stage {stage['name']}, {field}", stages[stage["name"]][field], stage[field])
    stop = next((stage for stage, sums in stages.items() if sums["short"]), None)
    same("stops at", stop, theirs["stops_at"])

    said = Counter()
    for item in theirs["items"]:
        for finding in item["findings"]:
            said[finding["finding"], of_json(item)] += finding["pieces"]
    for finding in theirs["findings"]:
        # About the job as a whole: the note begins with the bag's name.
        said[finding["finding"], re.sub(r"^[Bb]ag ", "", finding["note"]).split()[0]] += finding["pieces"]
    for finding in sorted(findings.keys() | said.keys()):
        same(": ".join(finding), findings.get(finding, 0), said[finding])

    sums = {field: sum(sums[field] for sums in items.values()) for field in fields}
    print(f"{name}: {len(items)} items, {len(stages)} stages,", ", ".join(f"{k} {v}" for k, v in sums.items()))
    print("\n".join(wrong) if wrong else "  agrees with tallybin in every figure")
    return wrong


def main():
    tallybin = Path(sys.argv[1]).resolve()
    wrong = compare("footbridge", tallybin, footbridge)
    wrong += compare("footbridge", tallybin, shop, "shop-job.toml")
    if wrong + compare("shelter", tallybin, shelter):
        sys.exit(1)


if __name__ == "__main__":
    main()
