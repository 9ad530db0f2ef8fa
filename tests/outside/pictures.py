#!/usr/bin/env python3
"""Draws the pictures of the README: the Summary and Bins sheets of the footbridge's workbook.

    pictures.py TALLYBIN [--all DIR]

Writes samples/pictures/summary.png, bins.png and labels.png; with --all, a picture of every page to
DIR, to look at. LibreOffice makes a PDF of the workbook and pdftoppm pictures of its pages.

Either way the drawings on the labels are measured in the PDF, by the ink of their outlines: those said
to be of true size must be so to half a millimetre. And the type of all sheets that are worked from: it must be
9 points or more.
"""

import argparse
import subprocess
import tempfile
from pathlib import Path

import openpyxl
import pdfplumber

SAMPLES = Path(__file__).resolve().parents[2] / "samples"
DPI = "80"
MM = 25.4 / 72
INCH = 25.4
# Pieces of the footbridge that fit their labels at true size: size, kind, length and height in mm.
# ASME B18.2.1: a 1/2 hex bolt's head is 3/4 across flats and 11/32 high. ASME B18.2.2: a 1/2 hex nut is
# 3/4 across flats. A regular hexagon is 2/sqrt(3) of its flats across corners.
TRUE_SIZE = {
    ("1/2-13 x 1-3/4", "hex bolt"): ((1.75 + 11 / 32) * INCH, 0.75 * INCH),
    ("1/2-13", "hex nut"): (0.75 * INCH * 2 / 3**0.5, 0.75 * INCH),
}
# And one that is too large for its label, so that it is not drawn: 1-1/8 across flats.
TOO_LARGE = ("3/4-10", "jam nut")


def pages(pdf):
    """The text of each page."""
    text = subprocess.run(["pdftotext", "-layout", pdf, "-"], check=True, stdout=subprocess.PIPE)
    return text.stdout.decode().split("\f")[:-1]


def draw(pdf, page, stem):
    subprocess.run(
        ["pdftoppm", "-png", "-r", DPI, "-f", str(page), "-l", str(page), "-singlefile", pdf, stem],
        check=True,
    )


def measure(pdf):
    """The drawings on the labels of a PDF: what stands on each label, and the extent of its ink in mm."""
    found = {}
    with pdfplumber.open(pdf) as book:
        for page in book.pages:
            for image in page.images:
                middle = (image["x0"] + image["x1"]) / 2
                sides = max(0, middle - 100), min(page.width, middle + 100)
                above = page.crop((sides[0], image["top"] - 40, sides[1], image["top"] + 3)).extract_text()
                below = page.crop((sides[0], image["bottom"] - 3, sides[1], image["bottom"] + 70)).extract_text()
                dots = 600
                box = image["x0"], image["top"], image["x1"], image["bottom"]
                ink = page.crop(box, strict=False).to_image(resolution=dots).original.convert("L")
                left, top, right, bottom = ink.point(lambda grey: 255 * (grey < 128)).getbbox()
                size = above.splitlines()[-1], below.splitlines()[0].split(",")[0]
                # Less the thickness of the line: an outline is drawn along its middle.
                line = 0.3
                extent = (right - left) * INCH / dots - line, (bottom - top) * INCH / dots - line
                scale = "true size" if "true size" in below else "less"
                found[size] = scale, extent
    return found


def labels_are_to_scale(pdf):
    found = measure(pdf)
    for piece, size in TRUE_SIZE.items():
        said, extent = found.get(piece, (None, None))
        if said != "true size" or any(abs(a - b) > 0.5 for a, b in zip(extent, size)):
            raise SystemExit(f"pictures.py: {piece} should be {size} mm, true size: {said}, {extent} of {list(found)}")
    if TOO_LARGE in found:
        raise SystemExit(f"pictures.py: {TOO_LARGE} is drawn, and has no room at true size")
    print(f"labels: {len(found)} drawings, {len(TRUE_SIZE)} measured to half a millimetre")


def type_is_legible(pdf):
    """No sheet that is worked from may print its words smaller than 9 points on letter paper; Bins and Labels
    have type of several sizes, and Every line is looked things up in."""
    with pdfplumber.open(pdf) as book:
        for number, page in enumerate(book.pages, 1):
            words = page.extract_words(extra_attrs=["size"])
            foot = " ".join(word["text"] for word in words if word["top"] > page.height - 50)
            if not foot.endswith(f"Page {number} of {len(book.pages)}") or "Every line" in foot or " Bins " in foot:
                continue
            smallest = min(word["size"] for word in words if word["top"] < page.height - 50)
            if smallest < 8.95:
                raise SystemExit(f"pictures.py: page {number} is printed in {smallest:.1f} points: {foot}")
    print("type: no smaller than 9 points")


def main():
    ask = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    ask.add_argument("tallybin", type=Path)
    ask.add_argument("--all", type=Path, help="draw every page here instead")
    args = ask.parse_args()
    with tempfile.TemporaryDirectory() as scratch:
        report = Path(scratch) / "report.xlsx"
        subprocess.run(
            [args.tallybin.resolve(), "reconcile", SAMPLES / "footbridge" / "job.toml", "-o", report],
            check=True, stdout=subprocess.DEVNULL,
        )
        subprocess.run(
            ["soffice", f"-env:UserInstallation=file://{scratch}/profile", "--headless",
             "--convert-to", "pdf", "--outdir", scratch, report],
            check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, timeout=300,
        )
        pdf = report.with_suffix(".pdf")
        texts = pages(pdf)
        labels_are_to_scale(pdf)
        type_is_legible(pdf)
        if args.all:
            args.all.mkdir(parents=True, exist_ok=True)
            for page in range(1, len(texts) + 1):
                draw(pdf, page, args.all / f"page-{page:02}")
            return
        (SAMPLES / "pictures").mkdir(exist_ok=True)
        book = openpyxl.load_workbook(report)
        for sheet in ("Summary", "Bins"):
            title = str(book[sheet]["A1"].value)
            page = next(page for page, text in enumerate(texts, 1) if title in text)
            draw(pdf, page, SAMPLES / "pictures" / sheet.lower())
        page = next(page for page, text in enumerate(texts, 1) if "drawn true size" in text)
        draw(pdf, page, SAMPLES / "pictures" / "labels")


if __name__ == "__main__":
    main()
