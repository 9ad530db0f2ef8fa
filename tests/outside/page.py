#!/usr/bin/env python3
"""Looks at the HTML page as a phone, a desktop and a printer show it.

    page.py TALLYBIN [--keep DIR]

The pages of both samples, laid out by headless Chromium at 360 and 1200 pixels: nothing runs off to
the side, no type is small, every text stands out from what is behind it (the contrast of WCAG 2.2,
1.4.3), and the keyboard goes through the page in the order that the eye does. Printed to PDF, the
length gauge is measured with pdfplumber: the lengths and diameters that the captions name, the bank
card (ISO/IEC 7810, ID-1) and the ruler, to half a millimetre. With --keep, pictures of the pages are
left in DIR, to look at.
"""

import argparse
import json
import re
import subprocess
import sys
import tempfile
from fractions import Fraction
from html import unescape
from pathlib import Path

import pdfplumber

SAMPLES = Path(__file__).resolve().parents[2] / "samples"
WIDTHS = {"phone": 360, "desktop": 1200}
# Pixels: of type, and a pixel of grace for rounding at the right edge.
LEAST_TYPE = 12
GRACE = 1
LEAST_CONTRAST = 4.5
MM_PER_POINT = 25.4 / 72
# How far a drawing on paper may be off.
TOLERANCE_MM = 0.5
# ISO/IEC 7810, size ID-1.
CARD = (85.60, 53.98)
# Smallest type on paper, in points.
LEAST_POINTS = 6.5

failures = []


def fail(text):
    failures.append(text)
    print("WRONG:", text)


def chromium(*arguments):
    with tempfile.TemporaryDirectory() as profile:
        return subprocess.run(
            ["chromium", "--headless", "--no-sandbox", "--disable-gpu", "--disable-dev-shm-usage",
             "--hide-scrollbars", f"--user-data-dir={profile}", *arguments],
            check=True, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, timeout=120,
        ).stdout.decode()


# Runs in the page: what every text looks like, and what the keyboard can reach.
LOOK = r"""
<script>
addEventListener('load', () => {
  const rgb = text => { const [r, g, b, a = 1] = text.match(/[\d.]+/g).map(Number); return {r, g, b, a}; };
  const behind = node => {
    for (let at = node; at; at = at.parentElement) {
      const colour = rgb(getComputedStyle(at).backgroundColor);
      if (colour.a > 0) return colour;
    }
    return {r: 255, g: 255, b: 255, a: 1};
  };
  const light = ({r, g, b}) => {
    const [x, y, z] = [r, g, b].map(c => (c /= 255) <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4);
    return 0.2126 * x + 0.7152 * y + 0.0722 * z;
  };
  const texts = [];
  const walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  for (let node; (node = walk.nextNode());) {
    const holder = node.parentElement, words = node.textContent.trim();
    if (!words || holder.closest('script, style')) continue;
    const style = getComputedStyle(holder);
    const range = document.createRange();
    range.selectNodeContents(node);
    const boxes = [...range.getClientRects()].filter(box => box.width > 0);
    if (!boxes.length || style.visibility !== 'visible') continue;
    const svg = holder.closest('svg');
    // A drawing that is scaled scales its type.
    const scale = svg ? svg.getBoundingClientRect().width / svg.viewBox.baseVal.width : 1;
    const [a, b] = [light(rgb(svg ? style.fill : style.color)), light(behind(holder))];
    texts.push({
      words: words.slice(0, 60), size: parseFloat(style.fontSize) * scale, opaque: rgb(style.color).a === 1,
      contrast: (Math.max(a, b) + 0.05) / (Math.min(a, b) + 0.05), right: Math.max(...boxes.map(box => box.right)),
    });
  }
  const reached = [...document.querySelectorAll('a[href], button, input, select, textarea, [tabindex]')].map(at => {
    const box = at.getBoundingClientRect();
    return {words: at.textContent.trim(), top: box.top, left: box.left, order: at.tabIndex, href: at.getAttribute('href'),
      leads: !at.hash || !!document.getElementById(at.hash.slice(1))};
  });
  const outside = [...document.querySelectorAll('body *')].filter(at => at.getBoundingClientRect().right > innerWidth + 1)
    .map(at => at.tagName + '.' + at.className).slice(0, 5);
  const headings = [...document.querySelectorAll('h1, h2, h3')].map(at => Number(at.tagName[1]));
  parent.postMessage(JSON.stringify({width: innerWidth, scroll: document.documentElement.scrollWidth,
    texts, reached, outside, headings}), '*');
});
</script>
"""

# A window is no narrower than some 500 pixels, but a frame is as narrow as a phone.
FRAME = """<!DOCTYPE html><meta charset="utf-8"><iframe src="looked.html" width="{width}" height="900"
style="border:0"></iframe><pre></pre><script>
addEventListener('message', event => document.querySelector('pre').textContent = event.data);
</script>"""


def seen(page, width, scratch):
    """What the page looks like at a width."""
    text = page.read_text(encoding="utf-8")
    # The page lets nothing run: the copy that is looked at does.
    free = re.sub(r'<meta http-equiv="Content-Security-Policy"[^>]*>', "", text)
    if free == text:
        fail(f"{page.name}: it does not forbid scripts")
    (scratch / "looked.html").write_text(free.replace("</body>", LOOK + "</body>"), encoding="utf-8")
    frame = scratch / "frame.html"
    frame.write_text(FRAME.format(width=width), encoding="utf-8")
    dom = chromium("--virtual-time-budget=5000", "--window-size=1400,1000", "--dump-dom", frame.as_uri())
    found = re.search(r"<pre>(.+?)</pre>", dom, re.S)
    if not found:
        sys.exit(f"{page.name}: Chromium shows nothing at {width} pixels")
    return json.loads(unescape(found[1]))


def on_screen(page, scratch):
    for name, width in WIDTHS.items():
        at = f"{page.name}, {name}"
        look = seen(page, width, scratch)
        if look["width"] != width:
            fail(f"{at}: {look['width']} pixels wide")
        if look["scroll"] > width or look["outside"]:
            fail(f"{at}: {look['scroll']} pixels in {width}, past the edge {look['outside']}")
        for text in look["texts"]:
            if text["size"] < LEAST_TYPE - 0.01:
                fail(f"{at}: type of {text['size']:.1f} pixels: {text['words']}")
            if text["contrast"] < LEAST_CONTRAST or not text["opaque"]:
                fail(f"{at}: contrast {text['contrast']:.2f}: {text['words']}")
            if text["right"] > width + GRACE:
                fail(f"{at}: runs to {text['right']:.0f}: {text['words']}")
        # Without an order of its own the keyboard follows the text, and so must the eye.
        before = (-1, -1)
        for link in look["reached"]:
            here = (round(link["top"]), round(link["left"]))
            if link["order"] != 0 or here <= before or not link["words"] or not link["leads"]:
                fail(f"{at}: the keyboard at {link}")
            before = here
        levels = look["headings"]
        if levels[:1] != [1] or any(b > a + 1 for a, b in zip(levels, levels[1:])):
            fail(f"{at}: headings of levels {levels}")
        least = min(text["contrast"] for text in look["texts"])
        smallest = min(text["size"] for text in look["texts"])
        print(f"{at}: {len(look['texts'])} texts, type from {smallest:.1f} px, contrast from {least:.2f}, "
              f"{len(look['reached'])} links in order")


# ---------------------------------------------------------------- paper

NUMBERS = {"#4": 112, "#6": 138, "#8": 164, "#10": 190, "#12": 216, "#14": 242}
CAPTION = re.compile(
    r"^(?P<d>M[\d.]+|#\d+|[\d/-]+?)(?:-\d+(?![\d/])|x[\d.]+)? x (?P<l>[\d.]+(?:-\d+/\d+|/\d+)?) (?P<kind>.*(?:bolt|screw).*)$")


def mm(size, metric):
    """Millimetres of a size as printed: 5/8, 3-3/4, #10 (ASME B18.6.3), 60."""
    if size in NUMBERS:
        return NUMBERS[size] / 1000 * 25.4
    whole = sum(Fraction(part) for part in size.lstrip("M").split("-"))
    return float(whole) * (1 if metric else 25.4)


def lines_of(page):
    """The lines of text, with their tops and bottoms."""
    return [(line["text"], line["top"], line["bottom"]) for line in page.extract_text_lines()]


def near(found, wanted):
    return abs(found - wanted) <= TOLERANCE_MM


def on_paper(page, scratch):
    pdf = scratch / f"{page.stem}.pdf"
    chromium(f"--print-to-pdf={pdf}", "--no-pdf-header-footer", page.as_uri())
    measured, in_gauge, card, ruler = 0, False, False, False
    with pdfplumber.open(pdf) as book:
        words = ""
        for number, sheet in enumerate(book.pages, 1):
            at = f"{page.stem}.pdf, page {number}"
            text = sheet.extract_text()
            if not text.strip() and not sheet.rects:
                fail(f"{at}: blank")
            words += text + "\n"
            for c in sheet.chars:
                if c["text"].strip() and not (0 <= c["x0"] and c["x1"] <= sheet.width):
                    fail(f"{at}: {c['text']!r} is off the paper")
                    break
            small = {round(c["size"], 1) for c in sheet.chars if c["size"] < LEAST_POINTS}
            if small:
                fail(f"{at}: type of {small} points")
            above = 0.0
            shapes = sheet.rects + sheet.curves + sheet.lines
            for caption, top, bottom in lines_of(sheet):
                in_gauge |= caption == "Length gauge"
                if not in_gauge:
                    continue
                drawn = [s for s in shapes if above - 1 <= s["top"] and s["bottom"] <= top + 1]
                wide = [(s["x1"] - s["x0"]) * MM_PER_POINT for s in drawn]
                high = [(s["bottom"] - s["top"]) * MM_PER_POINT for s in drawn]
                if caption.startswith("Bank card"):
                    card = any(near(w, CARD[0]) and near(h, CARD[1]) for w, h in zip(wide, high))
                    above = bottom
                elif caption.startswith("Ruler"):
                    # Seven inches, and from one of its figures to the last.
                    ruler = any(near(w, 7 * 25.4) for w in wide)
                    above = bottom
                elif found := CAPTION.match(caption):
                    metric = found["d"].startswith("M")
                    length, diameter = mm(found["l"], metric), mm(found["d"], metric)
                    measured += 1
                    shank = [h for w, h in zip(wide, high) if near(w, length)]
                    if not any(near(h, diameter) for h in shank):
                        fail(f"{at}: {caption}: {length:.1f} by {diameter:.1f} mm is not drawn, "
                             f"but {[(round(w, 1), round(h, 1)) for w, h in zip(wide, high)]}")
                    above = bottom
    if not card or not ruler:
        fail(f"{page.stem}.pdf: card {card}, ruler {ruler}")
    for needed in ("May the job start?", "Before you build", "Length gauge", "licensed trades"):
        if needed not in words.replace("\n", " "):
            fail(f"{page.stem}.pdf: {needed!r} is not printed")
    if "Lines to check Before you build" in words.replace("\n", " "):
        fail(f"{page.stem}.pdf: the links of the screen are printed")
    print(f"{page.stem}.pdf: {len(book.pages)} pages, {measured} bolts and screws at their size")
    if not measured:
        fail(f"{page.stem}.pdf: nothing measured")
    return pdf


def main():
    ask = argparse.ArgumentParser(description=__doc__.splitlines()[0])
    ask.add_argument("tallybin", type=Path)
    ask.add_argument("--keep", type=Path, help="leave pictures of the pages here")
    args = ask.parse_args()
    with tempfile.TemporaryDirectory() as scratch:
        scratch = Path(scratch)
        for sample in ("footbridge", "shelter"):
            page = scratch / f"{sample}.html"
            subprocess.run(
                [args.tallybin.resolve(), "reconcile", SAMPLES / sample / "job.toml", "--html", page],
                check=True, stdout=subprocess.DEVNULL,
            )
            on_screen(page, scratch)
            pdf = on_paper(page, scratch)
            if args.keep:
                args.keep.mkdir(parents=True, exist_ok=True)
                subprocess.run(["pdftoppm", "-png", "-r", "70", pdf, args.keep / f"{sample}-paper"], check=True)
                for name, width in WIDTHS.items():
                    (scratch / "looked.html").write_text(page.read_text(encoding="utf-8"), encoding="utf-8")
                    frame = scratch / "frame.html"
                    frame.write_text(FRAME.format(width=width).replace('height="900"', 'height="4000"'))
                    chromium(f"--screenshot={args.keep / f'{sample}-{name}.png'}",
                             f"--window-size={max(width, 520)},4000", frame.as_uri())
    if failures:
        sys.exit(f"{len(failures)} things are wrong with the pages")


if __name__ == "__main__":
    main()
