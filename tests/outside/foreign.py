#!/usr/bin/env python3
"""Odd files as other programs write them, each read or refused as it should be.

    foreign.py TALLYBIN

The files are made by openpyxl, pandas, LibreOffice and by hand. What each must read as is written
beside it: row, state, pieces, kind, style, diameter and length, worked out by reading the case, not
by running the program. For every file, read alone and settled as a required list, the rows must be
the sum of read, check, aside and other; the pieces required must be those of the lines read; and no
run may take over 5 seconds or 1 GB of memory. Exits with 1 and the differences.
"""

import datetime
import json
import resource
import subprocess
import sys
import tempfile
import time
import zipfile
from pathlib import Path

import openpyxl
import pandas
from openpyxl.cell.rich_text import CellRichText, TextBlock
from openpyxl.cell.text import InlineFont
from openpyxl.utils.datetime import CALENDAR_MAC_1904

MEMORY = 1 << 30
HEAD = ["Stage", "Description", "Qty"]
BOLT = ("Frame", "1/2-13 x 3 hex bolt", 4)
NUT = ("Frame", "1/2-13 hex nut", 5)
WASHER = ("Deck", "3/8 SAE flat washer", 16)
ROWS = [BOLT, NUT, WASHER]


def bolt(row, status="read", pieces=4):
    return (row, status, pieces, "bolt", "hex", "1/2", "3")


def nut(row, status="read", pieces=5):
    return (row, status, pieces, "nut", "hex", "1/2", None)


def washer(row, status="read", pieces=16):
    return (row, status, pieces, "washer", "SAE flat", "3/8", None)


def aside(row):
    return (row, "aside", None, None, None, None, None)


THREE = [bolt(2), nut(3), washer(4)]


class Case:
    """A file, and what it must come to: its lines, the rows that are none, and words that must be said
    (of a doubt, or of the refusal where `lines` is None)."""

    def __init__(self, name, path, lines, other=1, says="", role="required"):
        self.name, self.path, self.lines, self.other, self.says = name, path, lines, other, says
        self.role = role


def sheet(rows=ROWS, head=HEAD):
    book = openpyxl.Workbook()
    book.active.append(head)
    for row in rows:
        book.active.append(list(row))
    return book


def lines_of(rows, delimiter=",", end="\n"):
    return "".join(delimiter.join(map(str, row)) + end for row in [HEAD, *rows])


def convert(path, to, scratch):
    out = scratch / to.replace(":", "_")
    subprocess.run(
        ["soffice", f"-env:UserInstallation=file://{scratch}/profile", "--headless", "--convert-to", to,
         "--outdir", out, *(path if isinstance(path, list) else [path])],
        check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, timeout=300,
    )
    return out


def sheet_parts(path):
    """The parts of a workbook, the sheet's apart."""
    with zipfile.ZipFile(path) as old:
        parts = {name: old.read(name) for name in old.namelist()}
    return parts, "xl/worksheets/sheet1.xml"


def rewritten(source, target, change):
    """A copy of a workbook with the XML of its first sheet changed by hand."""
    parts, sheet1 = sheet_parts(source)
    parts[sheet1] = change(parts[sheet1].decode()).encode()
    with zipfile.ZipFile(target, "w", zipfile.ZIP_DEFLATED) as new:
        for name, part in parts.items():
            new.writestr(name, part)


# ---------------------------------------------------------------- workbooks


def workbooks(at):
    book = sheet()
    book.save(at / "plain.xlsx")
    yield Case("openpyxl, plain", at / "plain.xlsx", THREE)

    book = openpyxl.Workbook()
    page = book.active
    page.append(["Parts of the footbridge, kit 12"])
    page.merge_cells("A1:C1")
    page.append([])
    page.append(HEAD)
    for row in ROWS:
        page.append(list(row))
    page["A5"] = None
    page.merge_cells("A4:A5")
    book.save(at / "merged.xlsx")
    yield Case("merged title and stage", at / "merged.xlsx", [bolt(4), nut(5), washer(6)], other=3)

    book = sheet()
    book.active.row_dimensions[3].hidden = True
    book.active.column_dimensions["C"].hidden = True
    book.save(at / "hidden.xlsx")
    hidden = [bolt(2), nut(3, "check"), washer(4)]
    yield Case("a hidden row and column", at / "hidden.xlsx", hidden, says="the row is hidden in the sheet")

    book = sheet()
    book.active.auto_filter.ref = "A1:C4"
    book.active.auto_filter.add_filter_column(0, ["Deck"])
    for row in (2, 3):
        book.active.row_dimensions[row].hidden = True
    book.save(at / "filtered.xlsx")
    filtered = [bolt(2, "check"), nut(3, "check"), washer(4)]
    yield Case("a filtered table", at / "filtered.xlsx", filtered, says="the row is hidden in the sheet")

    book = sheet([BOLT, ("Frame", "1/2-13 hex nut", "=C2+1"), WASHER])
    book.save(at / "formula.xlsx")
    unstored = [bolt(2), nut(3, "check", None), washer(4)]
    yield Case("a formula without its value", at / "formula.xlsx", unstored, says="a formula without a stored value")
    yield Case("the same, with values by LibreOffice", at / "xlsx" / "formula.xlsx", THREE)

    book = sheet([("Frame", "=B4", 4), NUT, WASHER])
    book.save(at / "named.xlsx")
    yield Case("an item that is one", at / "named.xlsx", [aside(2), nut(3), washer(4)], says="a formula without its value")

    book = sheet([BOLT, ("Frame", "1/2-13 hex nut", "#N/A"), ("Deck", "#REF!", 16), WASHER])
    for cell in ("C3", "B4"):
        book.active[cell].data_type = "e"
    book.save(at / "errors.xlsx")
    errors = [bolt(2), aside(3), aside(4), washer(5)]
    yield Case("errors in cells", at / "errors.xlsx", errors)

    rich = CellRichText("1/2-13 x ", TextBlock(InlineFont(b=True), "3"), " hex bolt")
    book = sheet([("Frame", rich, 4), NUT, WASHER])
    book.save(at / "rich.xlsx")
    yield Case("a text of runs", at / "rich.xlsx", THREE)

    book = sheet([("Frame", "1/2-13 x 3 hex bolt", "4"), ("Frame", "1/2-13 hex nut", " 5 "), WASHER])
    book.save(at / "text-numbers.xlsx")
    yield Case("figures stored as text", at / "text-numbers.xlsx", THREE)

    for epoch, name in ((None, "1900"), (CALENDAR_MAC_1904, "1904")):
        book = openpyxl.Workbook()
        if epoch:
            book.epoch = epoch
        book.active.append(["Qty", "Size", "Item"])
        book.active.append([16, datetime.date(2002, 3, 8), "flat washer"])
        book.save(at / f"dates-{name}.xlsx")
        dated = [(2, "check", 16, "washer", "flat", "3/8", None)]
        yield Case(f"8 March for 3/8, from {name}", at / f"dates-{name}.xlsx", dated, says="3/8")

    blank = "".join(f'<row r="{row}"><c r="A{row}" s="0"/></row>' for row in range(5, 1_000_005))
    rewritten(at / "plain.xlsx", at / "formatted.xlsx", lambda xml: xml.replace("</sheetData>", blank + "</sheetData>"))
    yield Case("a million blank formatted rows", at / "formatted.xlsx", THREE)

    book = sheet()
    book.active["XFD1048576"] = "end"
    book.save(at / "corner.xlsx")
    # Nothing in the row's own columns: a stray word is no line.
    yield Case("a cell in the far corner", at / "corner.xlsx", THREE, other=1_048_576 - 3)

    pad = [None] * (16_384 - 3)
    book = sheet([[row[0], *pad, *row[1:]] for row in ROWS], ["Stage", *pad, "Description", "Qty"])
    book.save(at / "wide.xlsx")
    yield Case("16,384 columns", at / "wide.xlsx", THREE)

    long = "very " * 6551 + "long bracket"
    book = sheet([BOLT, ("Frame", long[:32_767], 5), WASHER])
    book.save(at / "long.xlsx")
    part = (3, "read", 5, "part", None, None, None)
    yield Case("a cell of 32,767 characters", at / "long.xlsx", [bolt(2), part, washer(4)])

    book = sheet([BOLT, ("Frame", "סוגר פינה", 5), ("Deck", "e\u0301querre re\u0301glable", 16)])
    book.active.sheet_view.rightToLeft = True
    book.save(at / "scripts.xlsx")
    scripts = [bolt(2), part, (4, "read", 16, "part", None, None, None)]
    yield Case("right to left, and combining marks", at / "scripts.xlsx", scripts)

    book = sheet()
    other = book.create_sheet("Old")
    other.append(HEAD)
    other.append(["Frame", "3/4-10 x 3 hex bolt", 99])
    other.sheet_state = "veryHidden"
    book.create_chartsheet("Chart")
    book.save(at / "sheets.xlsx")
    yield Case("a hidden sheet and a chart", at / "sheets.xlsx", THREE)

    for ending in ("xls", "ods", "xlsx"):
        yield Case(f"LibreOffice, {ending}", at / ending / f"plain.{ending}", THREE)
    # These formats do not tell the reader which rows are hidden.
    for ending in ("xls", "ods"):
        yield Case(f"hidden rows of {ending}", at / ending / f"hidden.{ending}", THREE)
        yield Case(f"merged cells of {ending}", at / ending / f"merged.{ending}", [bolt(4), nut(5), washer(6)], other=3)
        yield Case(f"far corner of {ending}", at / ending / f"far.{ending}", *FAR[ending])

    frame = pandas.DataFrame(ROWS, columns=HEAD)
    frame.to_excel(at / "pandas.xlsx", index=False)
    yield Case("pandas", at / "pandas.xlsx", THREE)
    frame.to_excel(at / "pandas-index.xlsx")
    yield Case("pandas, with its row numbers", at / "pandas-index.xlsx", THREE)


# A cell in the far corner of formats whose readers build the whole sheet: xls ends at row 65,536 and
# column 256, some 16 million cells; LibreOffice's ods at 1,048,576 and 16,384.
FAR = {
    "xls": (None, 0, "too large to be a list: the area of its sheets"),
    "ods": (None, 0, "too large to be a list: the area of its sheets"),
}


# ---------------------------------------------------------------- texts


def texts(at):
    def file(name, content):
        (at / name).write_bytes(content if isinstance(content, bytes) else content.encode())
        return at / name

    plain = lines_of(ROWS)
    yield Case("UTF-8 with a mark", file("mark.csv", b"\xef\xbb\xbf" + plain.encode()), THREE)
    yield Case("UTF-16, low byte first", file("utf16.csv", plain.encode("utf-16")), THREE)
    yield Case("UTF-16, high byte first", file("utf16be.csv", b"\xfe\xff" + plain.encode("utf-16-be")), THREE)
    yield Case("UTF-16 without a mark", file("utf16le.csv", plain.encode("utf-16-le")), THREE)
    yield Case("Windows-1252", file("1252.csv", plain.replace("1/2-13 x 3", "½-13 × 3").encode("cp1252")), THREE)
    for name, delimiter in (("semicolons", ";"), ("tabs", "\t"), ("bars", "|")):
        yield Case(name, file(f"{name}.csv", lines_of(ROWS, delimiter)), THREE)
    for name, end in (("carriage returns", "\r"), ("both", "\r\n")):
        yield Case(f"line ends: {name}", file(f"{name}.csv", lines_of(ROWS, end=end)), THREE)
    mixed = "Stage,Description,Qty\r\nFrame,1/2-13 x 3 hex bolt,4\nFrame,1/2-13 hex nut,5\rDeck,3/8 SAE flat washer,16"
    yield Case("line ends: every kind in one", file("ends.csv", mixed), THREE)
    nul = plain.replace("hex bolt", "hex\0bolt")
    yield Case("a NUL byte", file("nul.csv", nul), THREE)
    ragged = "Stage,Description,Qty,Note\nFrame,1/2-13 x 3 hex bolt,4\nFrame,1/2-13 hex nut,5,a,b,c,d\n\nDeck,3/8 SAE flat washer,16,\n"
    yield Case("ragged rows", file("ragged.csv", ragged), [bolt(2), nut(3, "check"), washer(5)], other=2)
    stray = plain.replace("1/2-13 x 3 hex", '"1/2-13 x 3" hex').replace("3/8 SAE", '3/8" SAE')
    yield Case("stray quotation marks", file("stray.csv", stray), THREE)
    unterminated = 'Stage,Description,Qty\nFrame,1/2-13 x 3 hex bolt,4\nFrame,"1/2-13 hex nut,5\nDeck,3/8 SAE flat washer,16\n'
    yield Case("a quotation that never ends", file("unterminated.csv", unterminated), THREE)
    quoted = '"Stage","Description","Qty"\n"Frame","1/2-13 x 3 hex bolt, zinc","4"\n"Frame","1/2-13 hex\nnut","5"\n"Deck","3/8 SAE flat washer","16"\n'
    yield Case("a cell of two lines", file("quoted.csv", quoted), [bolt(2), nut(3), washer(5)])
    delimiters = "Stage;Description;Qty\nFrame;1/2-13 x 3 hex bolt;4\nFrame;1/2-13 hex nut;5\nDeck;3/8 SAE flat washer, plain;16\n"
    yield Case("commas among semicolons", file("delimiters.csv", delimiters), THREE)
    commas = "Stage;Size;Item;Qty\nFrame;M8 x 1,25 x 40;hex bolt;4\nDeck;3,75;timber;2\n"
    metric = [(2, "read", 4, "bolt", "hex", "M8", "40"), (3, "check", 2, "part", None, None, None)]
    yield Case("decimal commas", file("commas.csv", commas), metric[:1] + [None])
    frame = pandas.DataFrame(ROWS, columns=HEAD)
    frame.loc[len(frame)] = ["Deck", "a title of its own", None]
    frame.to_csv(at / "floats.csv", index=False)
    floats = [*THREE, (5, "check", None, "part", None, None, None)]
    yield Case("pandas, whole figures as 4.0", at / "floats.csv", floats, says="no quantity stated")
    frame = pandas.DataFrame(ROWS, columns=HEAD)
    frame.to_csv(at / "numbered.csv", sep="\t", encoding="utf-16")
    yield Case("pandas, tabs in UTF-16 with its row numbers", at / "numbered.csv", THREE)
    announced = "sep=;\n" + lines_of(ROWS, ";")
    yield Case("a file that names its delimiter", file("announced.csv", announced), [bolt(3), nut(4), washer(5)], other=2)


# ---------------------------------------------------------------- refused


def refused(at):
    def file(name, content):
        (at / name).write_bytes(content)
        return at / name

    plain = (at / "plain.xlsx").read_bytes()
    yield Case("half a workbook", file("half.xlsx", plain[: len(plain) // 2]), None, says="damaged or cut short")
    yield Case("nothing", file("nothing.csv", b""), None, says="the file is empty")
    yield Case("a PDF", file("list.pdf", b"%PDF-1.7\n"), None, says="a PDF, not a list")
    yield Case("a picture's bytes", file("noise.csv", bytes(range(256)) * 40), None, says="neither a workbook nor text")
    for name, parts, says in (
        ("docx", ["[Content_Types].xml", "word/document.xml"], "a text document, not a list"),
        ("zip", ["photos/box.jpg"], "a zip that is no workbook"),
    ):
        with zipfile.ZipFile(at / f"letter.{name}", "w") as new:
            for part in parts:
                new.writestr(part, "<x/>")
        yield Case(f"a {name}", at / f"letter.{name}", None, says=says)


# ---------------------------------------------------------------- hostile


def bomb(part, at, name, parts):
    """A zip whose one part inflates to 1.5 GB, at a thousandth of that."""
    block = part * ((1 << 20) // len(part))
    with zipfile.ZipFile(at / name, "w", zipfile.ZIP_DEFLATED, compresslevel=1) as new:
        for other, content in parts.items():
            new.writestr(other, content)
        with new.open(BOMBED[name], "w", force_zip64=True) as out:
            out.write(HEADS.get(name, b""))
            for _ in range(1536):
                out.write(block)
    return at / name


BOMBED = {
    "rows.xlsx": "xl/worksheets/sheet1.xml",
    "cell.xlsx": "xl/worksheets/sheet1.xml",
    "blanks.xlsx": "xl/worksheets/sheet1.xml",
    "texts.xlsx": "xl/sharedStrings.xml",
    "tags.xlsx": "docProps/app.xml",
    "rows.ods": "content.xml",
}
HEADS = {
    "rows.xlsx": b"<worksheet><sheetData>",
    "blanks.xlsx": b'<worksheet><sheetData><row r="1"><c r="A1">',
}


def hostile(at):
    """Files that ask for far more than they hold; they are refused in a gigabyte of memory."""
    parts, sheet1 = sheet_parts(at / "xlsx" / "plain.xlsx")
    texts = parts.pop("xl/sharedStrings.xml")
    cells = parts.pop(sheet1)
    whole = {**parts, "xl/sharedStrings.xml": texts}
    yield Case("rows to 1.5 GB", bomb(b"<row/>", at, "rows.xlsx", whole), None, says="more rows than a sheet can")
    yield Case("blanks to 1.5 GB", bomb(b"<v></v>" + b" " * 1017, at, "blanks.xlsx", whole), None, says="a cell without end")
    yield Case("a cell of 1.5 GB", bomb(b"<c><v>", at, "cell.xlsx", whole), None, says="nested without end")
    yield Case("texts of 1.5 GB", bomb(b"<si/>", at, "texts.xlsx", {**parts, sheet1: cells}), None, says="too large to be a list")
    bare = {name: text for name, text in whole.items() if name != "docProps/app.xml"}
    yield Case("tags of 1.5 GB", bomb(b"<a/>", at, "tags.xlsx", {**bare, sheet1: cells}), None, says="too large to be a list")
    with zipfile.ZipFile(at / "ods" / "plain.ods") as old:
        other = {name: old.read(name) for name in old.namelist() if name != "content.xml"}
    yield Case("an ods of 1.5 GB", bomb(b"<table:table-row></table:table-row>", at, "rows.ods", other), None, says="more rows than are read of one file")
    for name, text, says in (
        ("line.csv", b"Stage,Description,Qty\n" + b"a," * (100 << 20), "a line without end"),
        ("line.txt", b"4 bolts and " * (16 << 20), "a line without end"),
        ("quote.csv", b'Stage,Description,Qty\nA,"' + b"bolt\n" * (20 << 20), "more rows than are read of one file"),
        ("zeros.csv", b"\0" * (300 << 20), "neither a workbook nor text"),
    ):
        (at / name).write_bytes(text)
        yield Case(f"{name}, {len(text) >> 20} MB", at / name, None, says=says)


# ---------------------------------------------------------------- holding them up to the program


def limited():
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))


def run(tallybin, *arguments):
    start = time.monotonic()
    ran = subprocess.run([tallybin, *arguments], capture_output=True, text=True, timeout=60, preexec_fn=limited)
    took = time.monotonic() - start
    return ran, [f"took {took:.1f} s"] if took > 5 else []


def check(tallybin, case):
    ran, wrong = run(tallybin, "read", "--as", case.role, case.path, "--format", "json")
    if case.lines is None:
        told = " ".join(ran.stderr.split())
        if ran.returncode != 2 or case.says not in told or "what to do: " not in told:
            wrong.append(f"not refused with {case.says!r}: {ran.returncode} {ran.stderr.strip()}")
        return wrong
    if ran.returncode != 0:
        return [*wrong, f"refused: {ran.stderr.strip()}"]
    items = json.loads(ran.stdout)
    fields = ["row", "status", "quantity", "kind", "style", "diameter", "length"]
    got = [tuple(item[field] for field in fields) for item in items]
    for want, line in zip(case.lines, got):
        if want is not None and want != line:
            wrong.append(f"{want} by hand, {line} by tallybin")
    if len(got) != len(case.lines):
        wrong.append(f"{len(case.lines)} lines by hand, {len(got)} by tallybin: {got}")
    said = "; ".join(doubt for item in items for doubt in item["doubts"])
    if case.says not in said:
        wrong.append(f"{case.says!r} is not said: {said}")

    ran, slow = run(tallybin, "reconcile", "--required", case.path, "--format", "json")
    wrong += slow
    if ran.returncode != 0:
        return [*wrong, f"not settled: {ran.stderr.strip()}"]
    account = json.loads(ran.stdout)
    tally = account["sources"][0]
    states = {state: len({item["row"] for item in items if item["status"] == state}) for state in ("read", "check", "aside")}
    states["other"] = case.other
    for state, rows in states.items():
        if tally[state] != rows:
            wrong.append(f"{state}: {rows} rows by hand, {tally[state]} by tallybin")
    if tally["rows"] != sum(states.values()):
        wrong.append(f"{tally['rows']} rows are not {states}")
    pieces = sum(line[2] or 0 for line in got)
    totals = account["totals"]
    if totals["required"] != pieces or totals["covered"] + totals["short"] != pieces:
        wrong.append(f"{pieces} pieces by hand: {totals}")
    return wrong


def main():
    tallybin = Path(sys.argv[1]).resolve()
    with tempfile.TemporaryDirectory() as scratch:
        at = Path(scratch)
        cases = list(workbooks(at))
        far = sheet()
        far.active["IV65536"] = 1
        far.save(at / "far.xlsx")
        plain, hidden, merged = (at / f"{name}.xlsx" for name in ("plain", "hidden", "merged"))
        for ending in ("xls", "ods"):
            convert([plain, hidden, merged, at / "far.xlsx"], ending, at)
        convert([plain, at / "formula.xlsx"], "xlsx", at)
        cases += texts(at)
        cases += refused(at)
        cases += hostile(at)
        failed = 0
        for case in cases:
            wrong = check(tallybin, case)
            failed += bool(wrong)
            for line in wrong:
                print(f"{case.name}: {line[:1000]}")
        print(f"foreign files: {len(cases)}, of which {failed} not as they should be")
        sys.exit(failed > 0)


if __name__ == "__main__":
    main()
