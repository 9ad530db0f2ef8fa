#!/usr/bin/env python3
"""Opens the workbook that tallybin writes as others do: with openpyxl, and with LibreOffice.

    workbook.py TALLYBIN

1. The sheets, frozen headings, print titles and page set-up; numbers in number cells, sizes and
   names as text, no date anywhere.
2. Text of the input that starts with =, +, - or @ stays text, in openpyxl and in LibreOffice.
3. The Count sheet, filled at random and passed back with --counted, gives just those counts.
4. A count far above what is due is marked by a shape as LibreOffice prints it, and no other is.
5. Every formula, recalculated from scratch by LibreOffice, equals the value stored. That the
   recalculation is a real one is proved on a planted wrong value, which must come back corrected.
"""

import csv
import datetime
import json
import random
import re
import subprocess
import sys
import tempfile
import zipfile
from collections import Counter
from pathlib import Path

import openpyxl

SAMPLES = Path(__file__).resolve().parents[2] / "samples"
SHEETS = [
    "Summary", "Shortages", "By stage", "Bins", "Count sheet", "Tightening", "Tools to bring", "Weights",
    "Questions on the list", "Check these lines", "Every line",
]
TABLES = [
    "Shortages", "By stage", "Count sheet", "Tightening", "Tools to bring", "Weights", "Questions on the list",
    "Check these lines", "Every line",
]
# Sheets of several tables, and the first heading of each.
MANY_TABLES = {"Summary": {"No.", "List"}}
NUMBERS = re.compile(r"^(Required|Covered|Short|Shipped|Counted good|Good|Damaged|Extra|Pieces|Quantity|Places|Row)$")
TEXTS = re.compile(r"^(Item|Size|Diameter|Length|Thread|Part no\.|Id|Bag|Stage|Text|As written)$")


def reconcile(tallybin, *arguments):
    """Runs the program; its JSON."""
    printed = subprocess.run(
        [tallybin, "reconcile", *arguments, "--format", "json", "--force"],
        check=True, stdout=subprocess.PIPE,
    ).stdout
    return json.loads(printed)


def fail(message):
    raise SystemExit(f"workbook.py: {message}")


def heading_row(sheet):
    """The row above the frozen pane's edge, and its headings with their columns."""
    edge = sheet.freeze_panes
    if edge is None:
        fail(f"{sheet.title}: no frozen headings")
    row = openpyxl.utils.cell.coordinate_from_string(edge)[1] - 1
    return row, [(cell.value, cell.column) for cell in sheet[row] if cell.value is not None]


# ---------------------------------------------------------------- 1


def layout(path):
    book = openpyxl.load_workbook(path)
    names = [name for name in book.sheetnames if name in SHEETS]
    if names != SHEETS:
        fail(f"the sheets are {book.sheetnames}")
    looked = Counter()
    for sheet in book:
        for row in sheet.iter_rows():
            for cell in row:
                is_date = getattr(cell, "is_date", False) and cell.value is not None
                if is_date or cell.data_type == "e":
                    fail(f"{sheet.title}!{cell.coordinate} holds {cell.value!r}")
        if not sheet.page_setup.paperSize and not sheet.sheet_properties.pageSetUpPr:
            fail(f"{sheet.title}: no page set-up")
    for name in TABLES:
        sheet = book[name]
        row, columns = heading_row(sheet)
        titles = (sheet.print_title_rows or "").replace("$", "")
        first, _, last = titles.partition(":")
        if not titles or not int(first) <= row <= int(last):
            fail(f"{name}: prints without its heading row {row} ({titles!r})")
        if not sheet.auto_filter.ref:
            fail(f"{name}: no filter")
        for heading, column in columns:
            for cells in sheet.iter_rows(min_row=row + 1, min_col=column, max_col=column):
                (cell,) = cells
                if cell.value is None:
                    continue
                said = cell.value in ("not counted", "no slip", "not stated", "can't say")
                if NUMBERS.match(heading) and cell.data_type not in "nf" and not said:
                    fail(f"{name}!{cell.coordinate}, {heading}: {cell.value!r} is no number")
                if TEXTS.match(heading) and cell.data_type != "s":
                    fail(f"{name}!{cell.coordinate}, {heading}: {cell.value!r} is no text")
                looked[name] += 1
    for name, firsts in MANY_TABLES.items():
        if name not in book.sheetnames:
            continue
        found = {table.column_names[0] for table in book[name].tables.values()}
        if found != firsts:
            fail(f"{name}: its tables begin with {found}")
        for table in book[name].tables.values():
            top = book[name][table.ref][0]
            if [cell.value for cell in top] != table.column_names:
                fail(f"{name}: the table {table.ref} is headed {table.column_names}")
    if "Claim" in book.sheetnames:
        claim = book["Claim"]
        headed = [cells[0].row for cells in claim.iter_rows() if cells[0].value == "No."]
        titles = (claim.print_title_rows or "").replace("$", "")
        if [titles] != [f"{row}:{row}" for row in headed]:
            fail(f"Claim: headings on rows {headed}, and {titles!r} on every page")
    print("layout:", ", ".join(f"{name} {cells} cells" for name, cells in looked.items()))


# ---------------------------------------------------------------- 2

HOSTILE = ['=1+1', '=HYPERLINK("x","y")', "+1+1", "-2+3", "@SUM(A1)", "=cmd|'/c calc'!A1"]


def hostile(tallybin, scratch):
    """A list whose descriptions, part numbers, bags and stages look like formulas."""
    source, report = scratch / "hostile.csv", scratch / "hostile.xlsx"
    with source.open("w", newline="") as file:
        write = csv.writer(file)
        write.writerow(["Stage", "Description", "Part no.", "Qty", "Bag", "Note"])
        write.writerow(["Frame", "Hex bolt, 1/2-13 x 3", "", 4, "A", ""])
        for text in HOSTILE:
            write.writerow([f"{text} stage", f"{text} bracket", f"{text}9", 2, f"{text}", f"{text} note"])
    reconcile(tallybin, "--required", source, "-o", report)
    seen = Counter()
    for path in (report, recalculated(report, scratch)):
        for sheet in openpyxl.load_workbook(path):
            for row in sheet.iter_rows():
                for cell in row:
                    text = str(cell.value or "")
                    for bad in HOSTILE:
                        if bad in text:
                            seen[bad] += 1
                        if bad in text and text[0] in "=+-@" and cell.data_type != "s":
                            fail(f"{path.name}, {sheet.title}!{cell.coordinate}: {text!r} is a formula")
    for bad in HOSTILE:
        if not seen[bad]:
            fail(f"{bad!r} is nowhere in the report")
    print(f"hostile text: {sum(seen.values())} cells, all text")


# ---------------------------------------------------------------- 3

COUNTED_ON = datetime.date(2026, 4, 14)


def fill(blank, filled, dice):
    """Fills a blank Count sheet at random; the good and damaged pieces by item, and rows left blank."""
    book = openpyxl.load_workbook(blank)
    sheet = book["Count sheet"]
    top, columns = heading_row(sheet)
    column = dict(columns)
    good, damaged, blanks = Counter(), Counter(), 0
    for row in range(1, top):
        if sheet.cell(row, 1).value == "Count date":
            sheet.cell(row, 2).value = COUNTED_ON
    for row in range(top + 1, sheet.max_row + 1):
        item = sheet.cell(row, column["Id"]).value
        for heading in ("Good", "Damaged", "Counted by"):
            if sheet.cell(row, column[heading]).value is not None:
                fail(f"Count sheet!{row}: {heading} is not blank")
        if not item or dice.random() < 0.2:
            blanks += 1
            continue
        pieces = dice.choice([0, 1, 7, 24, 100])
        good[item] += pieces
        sheet.cell(row, column["Good"]).value = pieces
        sheet.cell(row, column["Counted by"]).value = "the dice"
        if dice.random() < 0.2:
            damaged[item] += 2
            sheet.cell(row, column["Damaged"]).value = 2
    book.save(filled)
    return good, damaged, blanks


def round_trip(tallybin, job, scratch, seed):
    """What comes back of a Count sheet must be just what was written in it."""
    blank, filled = scratch / "blank.xlsx", scratch / "filled.xlsx"
    reconcile(tallybin, job, "-o", blank)
    good, damaged, blanks = fill(blank, filled, random.Random(seed))
    account = reconcile(tallybin, job, "--counted", filled)
    dates = [source["date"] for source in account["sources"] if source["role"] == "counted"]
    if dates != [COUNTED_ON.isoformat()]:
        fail(f"counted on {dates}; the sheet says {COUNTED_ON}")
    for item in account["items"]:
        want = good[item["id"]] if item["id"] in good else None
        if item["counted"] != want or item["damaged"] != damaged[item["id"]]:
            fail(
                f"{item['id']} {item['text']}: counted {item['counted']}, damaged {item['damaged']}; "
                f"the sheet says {want}, {damaged[item['id']]}"
            )
    if account["totals"]["counted"] != good.total() or not good:
        fail(f"counted in all {account['totals']['counted']}, on the sheet {good.total()}")
    print(f"round trip: {len(good)} items, {good.total()} pieces, {blanks} rows left blank")


# ---------------------------------------------------------------- 4


def far_above(tallybin, job, scratch):
    """What is typed into the Count sheet is marked where it is more than twice what is due, and 10 more."""
    blank, typed = scratch / "blank.xlsx", scratch / "typed.xlsx"
    account = reconcile(tallybin, job, "-o", blank)
    due = {item["id"]: item["required"] for item in account["items"]}
    book = openpyxl.load_workbook(blank)
    sheet = book["Count sheet"]
    top, columns = heading_row(sheet)
    column = dict(columns)
    rows = {}
    for row in range(top + 1, sheet.max_row + 1):
        if item := sheet.cell(row, column["Id"]).value:
            rows.setdefault(item, []).append(row)
    # Figures that are told from any other; an item of several bags is counted in one of them.
    far, near = {}, {}
    for number, (item, of_item) in enumerate(rows.items()):
        if due[item] == 0:
            continue
        most = max(2 * due[item], due[item] + 10)
        pieces = most if number % 3 else most + 1 + 10_000 + number
        (near if number % 3 else far)[item] = pieces
        sheet.cell(of_item[0], column["Good"]).value = pieces
    book.save(typed)
    subprocess.run(
        ["soffice", f"-env:UserInstallation=file://{scratch / 'profile'}", "--headless", "--convert-to", "pdf",
         "--outdir", scratch, typed],
        check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, timeout=300,
    )
    printed = subprocess.run(["pdftotext", "-layout", typed.with_suffix(".pdf"), "-"], check=True, stdout=subprocess.PIPE)
    marked = sorted(int(figure) for figure in re.findall(r"▲ (\d+)\b(?! piece)", printed.stdout.decode()))
    if marked != sorted(far.values()) or not near:
        fail(f"far above what is due: marked {marked}, not {sorted(far.values())}")
    print(f"far above: {len(far)} figures marked, {len(near)} at the limit are not")


# ---------------------------------------------------------------- 5

# LibreOffice recalculates a workbook on loading only where it is told to: 0 is always.
PROFILE = """<?xml version="1.0" encoding="UTF-8"?>
<oor:items xmlns:oor="http://openoffice.org/2001/registry">
<item oor:path="/org.openoffice.Office.Calc/Formula/Load"><prop oor:name="OOXMLRecalcMode"
 oor:op="fuse"><value>0</value></prop></item>
</oor:items>
"""


def recalculated(path, scratch):
    """The workbook as LibreOffice saves it after a hard recalculation."""
    profile, out = scratch / "profile", scratch / "recalculated"
    (profile / "user").mkdir(parents=True, exist_ok=True)
    (profile / "user" / "registrymodifications.xcu").write_text(PROFILE)
    subprocess.run(
        ["soffice", f"-env:UserInstallation=file://{profile}", "--headless", "--convert-to", "xlsx",
         "--outdir", out, path],
        check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, timeout=300,
    )
    return out / path.name


def differences(path, scratch):
    """Formula cells whose stored value is not the recalculated one, and how many formulas there are."""
    formulas = openpyxl.load_workbook(path)
    stored = openpyxl.load_workbook(path, data_only=True)
    fresh = openpyxl.load_workbook(recalculated(path, scratch), data_only=True)
    wrong, count = [], 0
    for sheet in formulas:
        for row in sheet.iter_rows():
            for cell in row:
                if cell.data_type == "f":
                    count += 1
                    a, b = (book[sheet.title][cell.coordinate].value for book in (stored, fresh))
                    if (a or 0) != (b or 0):
                        wrong.append(f"{sheet.title}!{cell.coordinate} {cell.value}: stored {a!r}, is {b!r}")
    return wrong, count


def plant(path, planted):
    """A copy with one more sheet, whose one formula is stored with a wrong value."""
    book = openpyxl.load_workbook(path)
    book.create_sheet("Planted")["A1"] = "=40+2"
    book.save(planted)
    with zipfile.ZipFile(planted) as old:
        parts = {name: old.read(name) for name in old.namelist()}
    changed = 0
    for name, part in parts.items():
        parts[name] = re.sub(rb"<f>40\+2</f><v ?/?>(</v>)?", b"<f>40+2</f><v>41</v>", part)
        changed += parts[name] != part
    if changed != 1:
        fail("the wrong value could not be planted")
    with zipfile.ZipFile(planted, "w", zipfile.ZIP_DEFLATED) as new:
        for name, part in parts.items():
            new.writestr(name, part)


def formulas(path, scratch):
    wrong, count = differences(path, scratch)
    if wrong:
        fail("formulas whose stored value is wrong:\n  " + "\n  ".join(wrong[:20]))
    planted = scratch / "planted.xlsx"
    plant(path, planted)
    caught, _ = differences(planted, scratch)
    if not any("Planted!A1" in line and "stored 41, is 42" in line for line in caught):
        fail(f"the planted wrong value was not caught: {caught}")
    print(f"recalculation: {count} formulas, all as stored; a planted wrong value was caught")


def main():
    tallybin = Path(sys.argv[1]).resolve()
    with tempfile.TemporaryDirectory() as scratch:
        scratch = Path(scratch)
        for name in ("footbridge", "shelter"):
            job, report = SAMPLES / name / "job.toml", scratch / f"{name}.xlsx"
            reconcile(tallybin, job, "-o", report)
            layout(report)
            formulas(report, scratch)
            far_above(tallybin, job, scratch)
            for seed in range(4):
                round_trip(tallybin, job, scratch, seed)
        hostile(tallybin, scratch)


if __name__ == "__main__":
    main()
