"""Numerals in thousands of spellings, against Python's fractions and pint.

Plain inch and metric sizes are written as people write them (common practice, no source), read by
`tallybin read --format json`, and the diameter and length compared with what `fractions.Fraction` and
`pint` (units worked out in fractions) make of the same figures. Usage: numerals.py TALLYBIN
"""

import csv
import json
import random
import subprocess
import sys
import tempfile
from fractions import Fraction
from pathlib import Path

import pint

UNITS = pint.UnitRegistry(non_int_type=Fraction)
VULGAR = {Fraction(1, 2): "½", Fraction(1, 4): "¼", Fraction(3, 4): "¾", Fraction(1, 8): "⅛",
          Fraction(3, 8): "⅜", Fraction(5, 8): "⅝", Fraction(7, 8): "⅞"}


def inch_spellings(value):
    """A length in inches as figures, without a unit."""
    whole, part = divmod(value, 1)
    if not part:
        return [f"{whole}", f"{whole}.0", f"{whole}.00"]
    fraction = f"{part.numerator}/{part.denominator}"
    texts = []
    if whole:
        texts += [f"{whole}-{fraction}", f"{whole} {fraction}", f"{whole}–{fraction}",
                  f"{whole}-{fraction.replace('/', chr(0x2044))}", f"{whole} - {fraction}"]
    else:
        texts += [fraction, fraction.replace("/", "\u2044"), fraction.replace("/", "\u2215")]
    if part in VULGAR:
        texts += [f"{whole or ''}{VULGAR[part]}", f"{whole or ''} {VULGAR[part]}".strip()]
    exact = value.denominator <= 8
    if exact:
        decimal = f"{float(value):.3f}".rstrip("0")
        assert Fraction(decimal) == value
        texts += [decimal, f"{float(value):.3f}"] + ([decimal.lstrip("0")] if not whole else [])
    return texts


def inch_cases(random_):
    diameters = [Fraction(n, 16) for n in (4, 5, 6, 7, 8, 10, 12, 14)]
    lengths = [Fraction(n, 8) for n in range(4, 49)] + [Fraction(n, 4) for n in range(25, 48)]
    for diameter in diameters:
        for length in lengths:
            if length <= diameter:
                continue
            for long in inch_spellings(length):
                thick = random_.choice(inch_spellings(diameter))
                mark = random_.choice(["", '"', " in", " in.", "in", " inch", "''", "\u2033"])
                join = random_.choice([" x ", "x", " X ", " × ", " by ", "*", " x"])
                text = f"{thick}{mark}{join}{long}{mark}"
                yield f"{text} hex bolt", show_inch(diameter), show_inch(length), "in"
    for feet in range(1, 11):
        for inches in [Fraction(0), Fraction(3), Fraction(6), Fraction(7, 2), Fraction(21, 4)]:
            length = (feet * UNITS.foot + inches * UNITS.inch).to("inch").magnitude
            texts = [f"{feet}'-{plain(inches)}\"", f"{feet} ft {plain(inches)} in", f"{feet}' {plain(inches)}\""]
            if not inches:
                texts = [f"{feet}'", f"{feet} ft", f"{feet} feet", f"{feet}ft"]
            for text in texts:
                yield f"1/2-13 x {text} threaded rod", "1/2", show_inch(length), "in"


def metric_cases(random_):
    pitches = {6: "1", 8: "1.25", 10: "1.5", 12: "1.75", 16: "2", 20: "2.5", 24: "3"}
    for diameter, pitch in pitches.items():
        for length in [16, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 120, 150, 200]:
            for thick in [f"M{diameter}", f"m{diameter}", f"{diameter} mm", f"{diameter}mm",
                          f"M{diameter}x{pitch}", f"M{diameter}-{pitch}", f"M{diameter} x {pitch}"]:
                join = random_.choice([" x ", "x", " X ", " × "])
                centimetres = Fraction(length, 10)
                for text, unit in [(f"{length}", "mm"), (f"{length}mm", "mm"), (f"{length} mm", "mm"),
                                   (f"{length}.0", "mm"), (f"{plain_decimal(centimetres)} cm", "cm")]:
                    figure = Fraction(text.split()[0].removesuffix("mm"))
                    expected = (figure * UNITS(unit)).to("mm").magnitude
                    yield f"{thick}{join}{text} hex bolt", f"M{diameter}", f"{expected}", "mm"
        for metres in ["1", "2", "3", "1.5", "0.5"]:
            expected = (Fraction(metres) * UNITS.metre).to("mm").magnitude
            yield f"M{diameter} x {metres} m threaded rod", f"M{diameter}", f"{expected}", "mm"


def show_inch(value):
    whole, part = divmod(value, 1)
    if not part:
        return f"{whole}"
    return f"{whole}-{part}" if whole else f"{part}"


def plain(value):
    return show_inch(value).replace("-", " ")


def plain_decimal(value):
    return f"{float(value):.1f}".removesuffix(".0")


def main():
    tallybin = sys.argv[1]
    random_ = random.Random(20)
    cases = [*inch_cases(random_), *metric_cases(random_)]
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "numerals.csv"
        with path.open("w", encoding="utf-8", newline="") as file:
            rows = csv.writer(file)
            rows.writerow(["Qty", "Description"])
            rows.writerows([4, text] for text, *_ in cases)
        read = subprocess.run([tallybin, "read", path, "--format", "json"], capture_output=True, check=True)
    lines = json.loads(read.stdout)
    assert len(lines) == len(cases), (len(lines), len(cases))
    wrong = []
    for line, (text, diameter, length, unit) in zip(lines, cases):
        found = (line["diameter"], line["length"], line["unit"])
        # The length of a piece that is no usual one is doubted, and right.
        doubts = [d for d in line["doubts"] if "not a usual length" not in d]
        if found != (diameter, length, unit) or doubts or line["quantity"] != 4:
            wrong.append((text, found, (diameter, length, unit), doubts))
    for text, found, expected, doubts in wrong[:20]:
        print(f"{text!r}: found {found}, wanted {expected} {doubts}")
    print(f"{len(cases)} spellings, {len(wrong)} wrong")
    sys.exit(bool(wrong))


if __name__ == "__main__":
    main()
