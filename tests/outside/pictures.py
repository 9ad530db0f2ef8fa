#!/usr/bin/env python3
"""Draws the pictures of the README: the Summary and Bins sheets of the footbridge's workbook.

    pictures.py TALLYBIN [--all DIR]

Writes samples/pictures/summary.png and bins.png; with --all, a picture of every page to DIR, to
look at. LibreOffice makes a PDF of the workbook and pdftoppm pictures of its pages.
"""

import argparse
import subprocess
import tempfile
from pathlib import Path

import openpyxl

SAMPLES = Path(__file__).resolve().parents[2] / "samples"
DPI = "80"


def pages(pdf):
    """The text of each page."""
    text = subprocess.run(["pdftotext", "-layout", pdf, "-"], check=True, stdout=subprocess.PIPE)
    return text.stdout.decode().split("\f")[:-1]


def draw(pdf, page, stem):
    subprocess.run(
        ["pdftoppm", "-png", "-r", DPI, "-f", str(page), "-l", str(page), "-singlefile", pdf, stem],
        check=True,
    )


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


if __name__ == "__main__":
    main()
