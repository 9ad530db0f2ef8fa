#!/usr/bin/env python3
"""What the program writes: harmless, whole, and the same each time.

    outputs.py TALLYBIN [--kills N]

1. No cell of an input becomes a formula, a link, a tag or a path: the usual payloads in every
   column, looked for in the workbook, the claim as CSV and as a workbook, and the page.
2. The same inputs give the same bytes, times aside, on one processor and on all.
3. An old output stays whole where the new one cannot be written: a full or a read-only folder, no
   room for temporary files; a link is replaced and what it leads to stays.
4. A run that is interrupted (Ctrl-C, a closed terminal, a polite kill) at any moment leaves the old
   report or the new one, whole, and no temporary file; one that is killed outright leaves one of both.
5. Two runs at once on one output do not mix; without --force one of them is refused.
"""

import argparse
import csv
import html.parser
import os
import random
import re
import resource
import shutil
import signal
import subprocess
import sys
import tempfile
import time
import zipfile
from pathlib import Path

SAMPLES = Path(__file__).resolve().parents[2] / "samples"
# The usual ones: formulas as spreadsheets take them, also behind a tab or a line end; calls of other
# programs; links; tags; codes of a page's foot; paths.
PAYLOADS = [
    "=1+1", "+1+1", "-1+1", "@SUM(1+1)", "=cmd|'/C calc'!A0", "=HYPERLINK(\"http://example.test\",\"x\")", "\t=1+1",
    "=IMPORTXML(\"http://example.test\",\"//a\")", "{=1+1}", "=DDE(\"a\",\"b\",\"c\")", "\uff1d1+1", "http://example.test/a",
    "mailto:a@example.test", "javascript:alert(1)", "internal:'Summary'!A1", "external:c:/x.xlsx", "file:///etc/hostname",
    "<script>alert(1)</script>", "\"><img src=x onerror=alert(1)>", "'--><svg onload=alert(1)>", "</style><b>", "&lt;i&gt;",
    "&G&A&F", "../../outside", "..\\outside", "/tmp/outside", "CON", "a\u202eb",
]
STARTS = ("=", "+", "-", "@", "\t", "\r")
TIMES = re.compile(rb"\d{4}-\d\d-\d\d[T ]\d\d:\d\d(:\d\dZ)?")


def fail(message):
    sys.exit(f"outputs.py: {message}")


def run(tallybin, *arguments, cwd=None, code=0, **more):
    ran = subprocess.run([tallybin, *arguments], cwd=cwd, capture_output=True, text=True, **more)
    if ran.returncode != code:
        fail(f"{arguments}: {ran.returncode}, not {code}: {ran.stderr[:1000]}")
    if code == 2 and "what to do: " not in ran.stderr:
        fail(f"{arguments}: no message: {ran.stderr[:1000]}")
    return ran


# ---------------------------------------------------------------- 1


class Page(html.parser.HTMLParser):
    """Collects the text of a page, and whatever in it could act."""

    def __init__(self):
        super().__init__()
        self.text, self.acts = [], []

    def handle_starttag(self, tag, attributes):
        if tag in ("script", "img", "iframe", "object", "embed", "form", "base"):
            self.acts.append(tag)
        for name, value in attributes:
            if name.startswith("on") or (name in ("href", "src", "xlink:href") and not (value or "").startswith("#")):
                self.acts.append(f"{tag} {name}={value}")

    def handle_data(self, data):
        self.text.append(data)


def harmless_workbook(path):
    """The texts of a workbook, after a look for formulas, links and parts that its maker did not mean."""
    texts = []
    with zipfile.ZipFile(path) as book:
        if book.testzip():
            fail(f"{path}: damaged")
        for name in book.namelist():
            if name.endswith(".png") and book.read(name).startswith(b"\x89PNG"):
                continue
            part = book.read(name).decode()
            if "externalLink" in name or "TargetMode=\"External\"" in part or "vba" in name.lower():
                fail(f"{path}: {name} leads outside")
            for formula in re.findall(r"<f[^>]*>([^<]*)</f>", part):
                if any(word in formula for word in ("cmd", "HYPERLINK", "IMPORT", "DDE", "example.test", "outside", "1+1")):
                    fail(f"{path}: {name}: a formula of the input's: {formula}")
            texts += re.findall(r"<t(?: [^>]*)?>([^<]*)</t>", part)
            # The left of a page's foot is the job's name; && stands for one &.
            for foot in re.findall(r"<oddFooter>&amp;L&amp;8(.*?)&amp;C", part):
                if "&amp;" in foot.replace("&amp;&amp;", ""):
                    fail(f"{path}: {name}: a code in a page's foot: {foot}")
    return "\n".join(texts)


def injection(tallybin, scratch):
    here = scratch / "injection"
    here.mkdir()
    heads = ["Stage", "Description", "Part no.", "Qty", "Bag", "Note", "Place", "Use", "Torque", "Grade"]
    with (here / "parts.csv").open("w", newline="") as file:
        write = csv.writer(file)
        write.writerow(heads)
        write.writerow(["Frame", "Hex bolt, 1/2-13 x 3", "", 4, "A", "", "", "", "", ""])
        for index, payload in enumerate(PAYLOADS):
            write.writerow([payload, f"{payload} bracket", f"{payload}{index}", 2, payload, payload, payload, "", payload, payload])
            write.writerow([payload, payload, "", 2, payload, payload, payload, payload, payload, payload])
    with (here / "count.csv").open("w", newline="") as file:
        write = csv.writer(file)
        write.writerow(["Description", "Part no.", "Good", "Damaged", "Counted by", "Bag"])
        for index, payload in enumerate(PAYLOADS):
            write.writerow([f"{payload} bracket", f"{payload}{index}", 1, 1, payload, payload])
    quote = lambda text: '"' + text.replace("\\", "\\\\").replace('"', '\\"').replace("\t", "\\t") + '"'
    lines = [f"name = {quote('../../outside <script>&G =1+1')}", 'required = ["parts.csv"]', 'counted = ["count.csv"]', "[claim]"]
    lines += [f"{quote(f'{payload} {index}')} = {quote(payload)}" for index, payload in enumerate(PAYLOADS)]
    (here / "job.toml").write_text("\n".join(lines))
    outputs = ["report.xlsx", "claim.csv", "claim.xlsx", "page.html"]
    run(tallybin, "reconcile", "job.toml", "-o", "report.xlsx", "--claim", "claim.csv", "--html", "page.html", cwd=here)
    run(tallybin, "reconcile", "job.toml", "--claim", "claim.xlsx", cwd=here)
    made = sorted(path.name for path in here.iterdir())
    if made != sorted(["parts.csv", "count.csv", "job.toml", *outputs]):
        fail(f"other files than those asked for: {made}")
    found = harmless_workbook(here / "report.xlsx") + harmless_workbook(here / "claim.xlsx")
    with (here / "claim.csv").open(newline="", encoding="utf-8-sig") as file:
        cells = [cell for row in csv.reader(file) for cell in row]
    for cell in cells:
        if cell.startswith(STARTS) or cell.lstrip().startswith(STARTS):
            fail(f"claim.csv: {cell!r} would be a formula")
    page = Page()
    source = (here / "page.html").read_text()
    page.feed(source)
    if page.acts:
        fail(f"page.html could act: {page.acts}")
    for word in ("=HYPERLINK", "example.test", "outside"):
        for text, name in ((found, "the workbooks"), ("\n".join(cells), "claim.csv"), ("".join(page.text), "page.html")):
            if word not in text:
                fail(f"{word} is nowhere in {name}: nothing was tested")
    print(f"payloads: {len(PAYLOADS)} in every column, none of them acts")


# ---------------------------------------------------------------- 2


def without_times(path):
    if path.suffix == ".xlsx":
        with zipfile.ZipFile(path) as book:
            return [(name, TIMES.sub(b"", book.read(name))) for name in book.namelist()]
    return TIMES.sub(b"", path.read_bytes())


def same_bytes(tallybin, scratch, big):
    one = {next(iter(os.sched_getaffinity(0)))}
    runs = []
    for number, processors in enumerate([None, None, one]):
        here = scratch / f"same{number}"
        here.mkdir()
        set_ = (lambda: os.sched_setaffinity(0, one)) if processors else None
        outs = []
        for name, job in (("footbridge", [SAMPLES / "footbridge/job.toml"]), ("shelter", [SAMPLES / "shelter/job.toml"]), ("big", big)):
            report, claim, page = (here / f"{name}.{ending}" for ending in ("xlsx", "csv", "html"))
            arguments = ["reconcile", *job, "-o", report, "--claim", claim, "--html", page, "--format", "json"]
            ran = run(tallybin, *arguments, preexec_fn=set_)
            outs += [ran.stdout, *map(without_times, (report, claim, page))]
        runs.append(outs)
    for other in runs[1:]:
        for index, (a, b) in enumerate(zip(runs[0], other)):
            if a != b:
                fail(f"output {index} of the same inputs differs")
    print(f"the same bytes: {len(runs)} runs of {len(runs[0])} outputs, one of them on one processor")


# ---------------------------------------------------------------- 3


def whole(path, old=None):
    """True where a report is whole; or the old file, as it was."""
    content = path.read_bytes()
    if content == old:
        return True
    try:
        with zipfile.ZipFile(path) as book:
            return book.testzip() is None and "xl/workbook.xml" in book.namelist()
    except zipfile.BadZipFile:
        return False


def unchanged(path, old, what):
    if path.read_bytes() != old:
        fail(f"{what}: the old report is not whole")
    left = [other.name for other in path.parent.iterdir() if other != path]
    if left:
        fail(f"{what}: left behind {left}")


def no_room(limit):
    def set_():
        signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
        resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))

    return set_


def old_stays(tallybin, scratch, big):
    job, old, seen = SAMPLES / "footbridge/job.toml", b"the old report", []
    here = scratch / "old"
    here.mkdir()
    report = here / "report.xlsx"
    report.write_bytes(old)
    for limit in (0, 1, 4096, 20_000):
        for jobs in ([job], big):
            run(tallybin, "reconcile", *jobs, "-o", report, "--force", code=2, preexec_fn=no_room(limit))
            unchanged(report, old, f"a disk with {limit} bytes left")
    seen.append("no room")
    full = {**os.environ, "TMPDIR": str(here / "none")}
    run(tallybin, "reconcile", *big, "-o", report, "--force", code=2, env=full)
    unchanged(report, old, "no folder for temporary files")
    seen.append("no temporary folder")

    # Root may write anywhere, so the run is someone else's.
    as_whom = {"user": 65534, "group": 65534, "extra_groups": []} if os.getuid() == 0 else {}
    shared = scratch / "job"
    shutil.copytree(SAMPLES / "footbridge", shared)
    binary = shutil.copy(tallybin, scratch / "tallybin")
    for path in (scratch, here, shared):
        path.chmod(0o755)
    here.chmod(0o555)
    run(binary, "reconcile", shared / "job.toml", "-o", report, "--force", code=2, cwd="/", **as_whom)
    here.chmod(0o755)
    unchanged(report, old, "a read-only folder")
    seen.append("a read-only folder")

    if os.getuid() == 0 and shutil.which("mount"):
        small = scratch / "small"
        small.mkdir()
        if subprocess.run(["mount", "-t", "tmpfs", "-o", "size=16k", "tmpfs", small], stderr=subprocess.DEVNULL).returncode == 0:
            try:
                report_there = small / "report.xlsx"
                report_there.write_bytes(old)
                run(tallybin, "reconcile", job, "-o", report_there, "--force", code=2)
                unchanged(report_there, old, "a full file system")
                seen.append("a full file system")
            finally:
                subprocess.run(["umount", small], check=True)

    target, link = here / "elsewhere.xlsx", here / "link.xlsx"
    target.write_bytes(old)
    link.symlink_to(target)
    run(tallybin, "reconcile", job, "-o", link, code=2)
    run(tallybin, "reconcile", job, "-o", link, "--force")
    if target.read_bytes() != old or link.is_symlink() or not whole(link):
        fail("a link: what it led to was written over")
    seen.append("a link")
    for out in ("/dev/full", "/dev/null"):
        run(tallybin, "reconcile", job, "-o", out, "--force", code=2)
    with open("/dev/full", "w") as full_out:
        ran = subprocess.run([tallybin, "reconcile", job, "--format", "json"], stdout=full_out, stderr=subprocess.PIPE, text=True)
        if ran.returncode != 2 or "cannot be written" not in ran.stderr:
            fail(f"/dev/full as standard output: {ran.returncode} {ran.stderr}")
    seen.append("devices")
    print("the old report stays whole:", ", ".join(seen))


# ---------------------------------------------------------------- 4


def write_big(folder, rows):
    """Lists of so many rows, and the arguments that settle them."""
    dice = random.Random(7)
    for name, head in (("required", "Stage,Description,Qty,Bag"), ("shipped", "Stage,Description,Shipped,Bag")):
        with (folder / f"{name}.csv").open("w") as file:
            print(head, file=file)
            for row in range(rows):
                size = f"{dice.choice(['1/4-20', '3/8-16', '1/2-13', '5/8-11'])} x {dice.randint(1, 9)}"
                kind = dice.choice(["hex bolt", "carriage bolt", "hex nut", "flat washer"])
                print(f"Stage {dice.randint(1, 40)},{size if 'bolt' in kind else size.split()[0]} {kind},{dice.randint(1, 40)},{dice.randint(1, 60)}", file=file)
    return ["--required", folder / "required.csv", "--shipped", folder / "shipped.csv"]


def interrupted(tallybin, scratch, big, times):
    here = scratch / "killed"
    here.mkdir()
    report, old = here / "report.xlsx", b"the old report"
    start = time.monotonic()
    run(tallybin, "reconcile", *big, "-o", report)
    took = time.monotonic() - start
    dice, codes = random.Random(11), {}
    outright = signal.SIGKILL
    for turn in range(times):
        report.write_bytes(old)
        blow = [signal.SIGINT, signal.SIGTERM, signal.SIGHUP, outright][turn % 4]
        process = subprocess.Popen(
            [tallybin, "reconcile", *big, "-o", report, "--force"], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL,
            preexec_fn=lambda: [signal.signal(s, signal.SIG_DFL) for s in (signal.SIGINT, signal.SIGHUP)],
        )
        if turn % 2:
            time.sleep(dice.uniform(0, took * 1.1))
        else:
            # While the temporary file stands, or the run has ended.
            while process.poll() is None and not any(here.glob("*.tmp")):
                time.sleep(0.001)
            time.sleep(dice.uniform(0, took / 4))
        process.send_signal(blow)
        code = process.wait()
        codes[code] = codes.get(code, 0) + 1
        left = [path for path in here.iterdir() if path != report]
        if not whole(report, old):
            fail(f"{blow.name}: the report is half written")
        if left and blow != outright:
            fail(f"{blow.name}, exit code {code}: left behind {left}")
        for path in left:
            path.unlink()
        if code not in (0, 130, -blow):
            fail(f"{blow.name}: exit code {code}")
    if 130 not in codes:
        fail(f"no run was interrupted while it wrote: {codes}")
    print(f"interrupted {times} times: the old report or the new one, whole; exit codes {codes}")


# ---------------------------------------------------------------- 5


def at_once(tallybin, scratch, big):
    here = scratch / "at once"
    here.mkdir()
    report = here / "report.xlsx"
    jobs = [[SAMPLES / "footbridge/job.toml"], big, [SAMPLES / "shelter/job.toml"]]
    alone = []
    for job in jobs:
        run(tallybin, "reconcile", *job, "-o", report)
        alone.append(without_times(report))
        report.unlink()
    for turn in range(6):
        force = ["--force"] if turn % 2 else []
        running = [
            subprocess.Popen([tallybin, "reconcile", *job, "-o", report, *force], stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
            for job in jobs
        ]
        codes = sorted(process.wait() for process in running)
        if codes != ([0, 0, 0] if force else [0, 2, 2]):
            fail(f"three runs at once {force}: exit codes {codes}")
        if without_times(report) not in alone or len(list(here.iterdir())) != 1:
            fail("three runs at once: their reports are mixed")
        report.unlink()
    print("three runs at once on one output: one of the three reports, whole")


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("tallybin", type=Path)
    parser.add_argument("--kills", type=int, default=48)
    args = parser.parse_args()
    tallybin = args.tallybin.resolve()
    with tempfile.TemporaryDirectory() as scratch:
        scratch = Path(scratch)
        big = write_big(scratch, 10_000)
        injection(tallybin, scratch)
        same_bytes(tallybin, scratch, big)
        old_stays(tallybin, scratch, big)
        interrupted(tallybin, scratch, big, args.kills)
        at_once(tallybin, scratch, big)


if __name__ == "__main__":
    main()
