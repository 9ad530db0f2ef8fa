"""Sizes that a spreadsheet turned into dates, back to sizes.

Typed: a CSV of sizes is opened by LibreOffice with the detection of special numbers on, as a person
would open it, and saved as xlsx, ods and xls.

Stored: every standard diameter, mixed number up to 12 in and standard callout of which a spreadsheet of
US locale makes a date (Journal of Accountancy, November 2001, "Translate Fractions in Excel"; two-figure
years from 30 on are of the last century: from memory), as date cells in both date systems: in xlsx by
openpyxl, in xls and ods by LibreOffice out of those, in xlsb by hand ([MS-XLSB]), since nothing at hand
writes it.

`tallybin read` must find the size in each cell, or list it among the readings of its doubt. Usage:
dates.py TALLYBIN
"""

import datetime
import json
import struct
import subprocess
import sys
import tempfile
import zipfile
from fractions import Fraction
from pathlib import Path

import openpyxl
from openpyxl.utils.datetime import CALENDAR_MAC_1904, CALENDAR_WINDOWS_1900

# Import options of a CSV: comma, double quote, UTF-8, from line 1, en-US, quoted fields no text,
# detect special numbers.
IMPORT = "CSV:44,34,76,1,,1033,false,true"


def show(value):
    whole, part = divmod(value, 1)
    if not part:
        return f"{whole}"
    return f"{whole}-{part}" if whole else f"{part}"


def sizes():
    """Typed text, and the canonical text of the size."""
    for n in range(1, 17):
        if n % 16:
            yield show(Fraction(n, 16)), show(Fraction(n, 16))
    for n in range(9, 97):
        if n % 8:
            yield show(Fraction(n, 8)), show(Fraction(n, 8))
    for text in ["1/4-20", "5/16-18", "3/8-16", "7/16-14", "1/2-13", "9/16-12", "5/8-11", "3/4-10",
                 "7/8-9", "1/4-28", "5/16-24", "3/8-24", "1/2-20", "5/8-18", "3/4-16"]:
        yield text, text
    for text in ["4-40", "6-32", "8-32", "10-24", "10-32", "12-24"]:
        yield text, f"#{text}"


# Coarse and fine threads up to 2 in: ASME B1.1, from memory.
THREADS = """
    0-80 1-64 1-72 2-56 2-64 3-48 3-56 4-40 4-48 5-40 5-44 6-32 6-40 8-32 8-36 10-24 10-32 12-24 12-28
    1/4-20 1/4-28 5/16-18 5/16-24 3/8-16 3/8-24 7/16-14 7/16-20 1/2-13 1/2-20 9/16-12 9/16-18 5/8-11
    5/8-18 3/4-10 3/4-16 7/8-9 7/8-14 1-8 1-12 1-1/8-7 1-1/8-12 1-1/4-7 1-1/4-12 1-3/8-6 1-3/8-12
    1-1/2-6 1-1/2-12 1-3/4-5 2-4.5
""".split()
YEAR = 2026


def stored(typed):
    """The date that is stored for what is typed, or None where it stays text."""
    try:
        numbers = [int(number) for number in typed.replace("/", "-").split("-")]
    except ValueError:
        return None
    century = lambda year: year + (2000 if year < 30 else 1900)
    match numbers:
        case [month, day]:
            tries = [(YEAR, month, day), *([(century(day), month, 1)] if day < 100 else [])]
        case [month, day, year] if year < 100:
            tries = [(century(year), month, day)]
        case _:
            return None
    for year, month, day in tries:
        try:
            return datetime.date(year, month, day)
        except ValueError:
            pass
    return None


def dated():
    """What is typed, what it was, the date that it becomes. Lengths go by eighths up to 6 in and by
    quarters up to 12 in, as hardware is stocked (common practice, no source)."""
    diameters = {thread.rsplit("-", 1)[0] for thread in THREADS if "/" in thread}
    lengths = {show(Fraction(n, 8)) for n in range(1, 12 * 8) if n % 8 and (n <= 48 or n % 2 == 0)}
    for text in sorted(diameters | lengths):
        if date := stored(text):
            yield text, text, date
    for text in THREADS:
        if date := stored(text):
            yield text, text if "/" in text or text in ("1-8", "1-12") else f"#{text}", date


# ---------------------------------------------------------------- xlsb


def record(kind, data=b""):
    """A record of [MS-XLSB] 2.1.4: type and length in seven-bit steps."""
    head = bytes([kind]) if kind < 128 else bytes([kind & 0x7F | 0x80, kind >> 7])
    assert len(data) < 128
    return head + bytes([len(data)]) + data


def wide(text):
    return struct.pack("<I", len(text)) + text.encode("utf-16-le")


def xlsb(path, cells, in_1904):
    """A workbook whose one sheet holds these rows of texts, numbers and dates."""
    relations = "http://schemas.openxmlformats.org/package/2006/relationships"
    kinds = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
    rels = lambda kind, target: (
        f'<Relationships xmlns="{relations}"><Relationship Id="rId1" Type="{kinds}/{kind}" '
        f'Target="{target}"/></Relationships>')
    first = datetime.date(1904, 1, 1) if in_1904 else datetime.date(1899, 12, 30)
    rows = b""
    for number, row in enumerate(cells):
        rows += record(0, struct.pack("<I", number) + bytes(21))
        for column, value in enumerate(row):
            is_date = isinstance(value, datetime.date)
            at = struct.pack("<II", column, int(is_date))
            if isinstance(value, str):
                rows += record(6, at + wide(value))
            else:
                rows += record(5, at + struct.pack("<d", (value - first).days if is_date else value))
    # Formats 0 and 16, the latter a day and a month.
    styles = record(0x269, struct.pack("<I", 2))
    styles += b"".join(record(0x2F, struct.pack("<HH", 0, format) + bytes(12)) for format in (0, 16))
    book = record(0x83) + record(0x99, struct.pack("<II", int(in_1904), 0) + wide(""))
    book += record(0x8F) + record(0x9C, bytes(8) + wide("rId1") + wide("List")) + record(0x90)
    book += record(0x9D, bytes(12)) + record(0x84)
    sheet = record(0x81) + record(0x94, bytes(16)) + record(0x91) + rows + record(0x92) + record(0x82)
    types = '<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types"/>'
    with zipfile.ZipFile(path, "w") as out:
        out.writestr("[Content_Types].xml", types)
        out.writestr("_rels/.rels", rels("officeDocument", "xl/workbook.bin"))
        out.writestr("xl/workbook.bin", book)
        out.writestr("xl/_rels/workbook.bin.rels", rels("worksheet", "worksheets/sheet1.bin"))
        out.writestr("xl/styles.bin", styles)
        out.writestr("xl/worksheets/sheet1.bin", sheet)


# ---------------------------------------------------------------- both


def lost(tallybin, path, cases):
    """The cells whose size is not found, and how many were dates."""
    read = subprocess.run([tallybin, "read", path, "--format", "json"], capture_output=True, check=True)
    lines = json.loads(read.stdout)
    assert len(lines) == len(cases), (path, len(lines), len(cases))
    wrong, dates = [], 0
    for line, (text, size, *_) in zip(lines, cases):
        made_date = [d for d in line["doubts"] if "made the date" in d]
        dates += bool(made_date)
        item = line["diameter"] or ""
        item += f"-{line['thread']}" if line["thread"] else ""
        listed = made_date and size in made_date[0].split(": ")[1].replace("read as ", "").split(" or ")
        if not listed and item != size:
            wrong.append(f"{text!r} read as {item!r} {line['doubts']}")
    for what in wrong[:10]:
        print(f"{path.name}: {what}")
    print(f"{path.name}: {len(cases)} sizes, {dates} of them dates, {len(wrong)} lost")
    return wrong, dates


def convert(folder, to, paths, *options):
    subprocess.run(
        ["soffice", f"-env:UserInstallation=file://{folder}/office", "--headless", *options, "--convert-to", to,
         "--outdir", folder, *paths],
        check=True, capture_output=True)


def main():
    tallybin = sys.argv[1]
    failed = False
    with tempfile.TemporaryDirectory() as folder:
        folder = Path(folder)
        cases = list(sizes())
        typed = folder / "typed.csv"
        typed.write_text("Qty,Description,Size\n" + "".join(f"4,bolt,{text}\n" for text, _ in cases))
        for kind in ["xlsx", "ods", "xls"]:
            convert(folder, kind, [typed], f"--infilter={IMPORT}")
            wrong, dates = lost(tallybin, folder / f"typed.{kind}", cases)
            # LibreOffice makes dates of fewer sizes than others do.
            failed |= bool(wrong) or dates < 10

        cases = list(dated())
        made = []
        for year, epoch in [(1900, CALENDAR_WINDOWS_1900), (1904, CALENDAR_MAC_1904)]:
            book = openpyxl.Workbook()
            book.epoch = epoch
            rows = [("Qty", "Description", "Size"), *((4, "bolt", date) for *_, date in cases)]
            for row in rows:
                book.active.append(row)
            made.append(folder / f"{year}.xlsx")
            book.save(made[-1])
            xlsb(folder / f"{year}.xlsb", rows, year == 1904)
        for kind in ["xls", "ods"]:
            convert(folder, kind, made)
        for path in made:
            for kind in ["xlsx", "xls", "ods", "xlsb"]:
                wrong, dates = lost(tallybin, path.with_suffix(f".{kind}"), cases)
                failed |= bool(wrong) or dates < len(cases)
    sys.exit(failed)


if __name__ == "__main__":
    main()
