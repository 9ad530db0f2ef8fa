#!/usr/bin/env python3
"""Damaged copies of real files through the program, under a memory limit.

    mutate.py TALLYBIN [--cases N] [--seconds S] [--seed N]

The samples, and odd files of every format made from them by LibreOffice, are cut short, flipped,
spliced and filled with figures; the parts of workbooks are damaged inside, too, so that the damage
comes behind the checksums. Each is read, and settled as one of the job's lists with the report
written. Every run must end with 0, 1 or 2 within 5 seconds and 1 GB of memory; with 2 there must be a
message that says what to do, and no report; otherwise no word of a panic, rows that are the sum of
their states, and pieces that are the sum of what became of them. Exits with 1 and keeps the file of
each failure.
"""

import argparse
import io
import json
import random
import resource
import shutil
import subprocess
import sys
import tempfile
import time
import zipfile
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

SAMPLES = Path(__file__).resolve().parents[2] / "samples"
MEMORY = 1 << 30
PATIENCE = 5.0
# What a parser may trip over.
ODD = [
    b"", b"\0", b"\xff", b"\"", b"'", b"<", b">", b"&", b"&#0;", b"&#x110000;", b"<!DOCTYPE a>", b"<![CDATA[", b"-->", b"]]>",
    b"-1", b"0", b"1e308", b"-1e308", b"1e-320", b"NaN", b"inf", b"99999999999999999999", b"4294967295", b"4294967296",
    b"18446744073709551615", b"9223372036854775808", b"2147483648", b"65536", b"1/0", b"0/0", b"0-0/0", b"1/2-1/2-1/2",
    b"M0 x 0", b"#0", b"3/8", b"(((((((", b"x x x x x", b",,,,,,", b"\r", b"\n", b"\t", b"\xe2\x80\x8f", b"\xf0\x9d\x84\x9e",
    b"=1+1", b"4 4 4 4 5/8", b"twelve gross of 9999999", b"2 bags of 99999999999", b" c/w nut c/w nut c/w nut",
    b"A1", b"XFD1048576", b"XFE1", b"A0", b"table:number-rows-repeated=\"999999999\"", b"t=\"s\"", b"t=\"e\"", b"s=\"99\"",
]


def flip(data, dice):
    for _ in range(dice.choice([1, 1, 2, 8, 64])):
        data[dice.randrange(len(data))] = dice.randrange(256)
    return data


def cut(data, dice):
    return data[: dice.randrange(len(data))]


def drop(data, dice):
    start = dice.randrange(len(data))
    del data[start : start + dice.choice([1, 2, 16, 512])]
    return data


def double(data, dice):
    start, length = dice.randrange(len(data)), dice.choice([1, 16, 512])
    data[start:start] = data[start : start + length] * dice.choice([1, 2, 50])
    return data


def odd(data, dice):
    for _ in range(dice.choice([1, 1, 4])):
        start = dice.randrange(len(data) + 1)
        data[start : start + dice.choice([0, 1, 4])] = dice.choice(ODD)
    return data


def figures(data, dice):
    """Another figure in place of one that stands there."""
    digits = [i for i, byte in enumerate(data) if 48 <= byte < 58]
    for _ in range(dice.choice([1, 4, 20])):
        if digits:
            data[dice.choice(digits)] = dice.choice(b"0123456789-./,")
    return data


CHANGES = [flip, cut, drop, double, odd, odd, figures]


def splice(one, other, dice):
    return one[: dice.randrange(len(one))] + other[dice.randrange(len(other)) :]


def inside(data, dice):
    """A zip with one of its parts damaged, its checksums right."""
    try:
        with zipfile.ZipFile(io.BytesIO(bytes(data))) as old:
            parts = [(name, old.read(name)) for name in old.namelist()]
    except Exception:
        return data
    at = dice.randrange(len(parts))
    # Sheets and texts are what matters most.
    for _ in range(3):
        if any(word in parts[at][0] for word in ("sheet", "content", "Strings", "workbook")):
            break
        at = dice.randrange(len(parts))
    name, part = parts[at]
    if part:
        part = bytes(dice.choice(CHANGES)(bytearray(part), dice))
    parts[at] = (name, part)
    new = io.BytesIO()
    with zipfile.ZipFile(new, "w", zipfile.ZIP_DEFLATED) as zip_:
        for name, part in parts:
            zip_.writestr(name, part)
    return bytearray(new.getvalue())


def seeds(scratch):
    """Names and contents of files to damage; the other formats are LibreOffice's."""
    found = [path for kind in ("footbridge", "shelter") for path in sorted((SAMPLES / kind).iterdir())]
    found = [path for path in found if path.suffix in (".xlsx", ".csv", ".txt", ".toml")]
    if shutil.which("soffice"):
        for ending in ("xls", "ods", "xlsx"):
            subprocess.run(
                ["soffice", f"-env:UserInstallation=file://{scratch}/profile", "--headless", "--convert-to", ending,
                 "--outdir", scratch / "made", SAMPLES / "footbridge/parts-list.xlsx"],
                check=True, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, timeout=300,
            )
        found += sorted((scratch / "made").iterdir())
    return [(path, path.read_bytes()) for path in found]


def limited():
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    resource.setrlimit(resource.RLIMIT_CORE, (0, 0))


def run(arguments, cwd):
    start = time.monotonic()
    try:
        ran = subprocess.run(arguments, cwd=cwd, capture_output=True, timeout=60, preexec_fn=limited)
    except subprocess.TimeoutExpired:
        return None, "", ["runs on after 60 s"]
    took = time.monotonic() - start
    err = ran.stderr.decode(errors="replace")
    wrong = []
    if took > PATIENCE:
        wrong.append(f"took {took:.1f} s")
    if ran.returncode not in (0, 1, 2):
        wrong.append(f"ended with {ran.returncode}: {err[:500]}")
    if "panicked" in err or "overflowed its stack" in err or "RUST_BACKTRACE" in err:
        wrong.append(f"a panic: {err[:500]}")
    if ran.returncode == 2 and "what to do: " not in err:
        wrong.append(f"no message: {err[:500]}")
    return ran, err, wrong


def sums(account):
    wrong = []
    for source in account["sources"]:
        if source["rows"] != source["read"] + source["check"] + source["aside"] + source["other"]:
            wrong.append(f"rows do not add up: {source}")
    for what in [*account["items"], *account["stages"], account["totals"]]:
        if what["required"] != what["covered"] + what["substituted"] + what["from_stock"] + what["short"]:
            wrong.append(f"pieces do not add up: {str(what)[:300]}")
    totals = account["totals"]
    given = totals["used"] + totals["used_as_substitute"] + totals["discarded"] + totals["extra"]
    if totals["pool"] + totals["returned"] != given:
        wrong.append(f"the pool does not add up: {totals}")
    return wrong


def case(tallybin, files, seed, folder):
    """One damaged file through the program; what was wrong."""
    dice = random.Random(seed)
    path, data = dice.choice(files)
    changed = bytearray(data)
    for _ in range(dice.choice([1, 1, 1, 2, 3])):
        if not changed:
            break
        if data[:2] == b"PK" and dice.random() < 0.7:
            changed = inside(changed, dice)
        elif dice.random() < 0.1:
            changed = bytearray(splice(changed, dice.choice(files)[1], dice))
        else:
            changed = dice.choice(CHANGES)(changed, dice)
    here = folder / f"{seed}"
    here.mkdir()
    damaged = here / f"damaged{path.suffix}"
    damaged.write_bytes(changed)
    report = here / "report.xlsx"
    wrong = []
    if path.suffix == ".toml":
        for other in path.parent.iterdir():
            if other.suffix != ".toml":
                shutil.copy(other, here)
        arguments = [damaged]
    else:
        ran, err, wrong = run([tallybin, "read", damaged, "--format", "json"], here)
        role = dice.choice(["--required", "--required", "--shipped", "--counted"])
        arguments = [role, damaged]
        if role != "--required":
            arguments += ["--required", SAMPLES / "footbridge/parts-list.xlsx"]
    page = ["--html", here / "page.html", "--claim", here / "claim.csv"] if dice.random() < 0.3 else []
    ran, err, more = run([tallybin, "reconcile", *arguments, *page, "-o", report, "--format", "json"], here)
    wrong += more
    if ran and ran.returncode == 2 and report.exists():
        wrong.append("a report was written in spite of the error")
    if ran and ran.returncode in (0, 1):
        if not report.exists():
            wrong.append("no report was written")
        wrong += sums(json.loads(ran.stdout))
    left = [file.name for file in here.iterdir() if file.name.endswith(".tmp")]
    if left:
        wrong.append(f"left behind: {left}")
    if not wrong:
        shutil.rmtree(here)
    return wrong, ran.returncode if ran else None


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("tallybin", type=Path)
    parser.add_argument("--cases", type=int, default=10**9)
    parser.add_argument("--seconds", type=float, default=90)
    parser.add_argument("--seed", type=int, default=1)
    args = parser.parse_args()
    tallybin = args.tallybin.resolve()
    kept = Path(tempfile.mkdtemp(prefix="tallybin-mutate-"))
    files = seeds(kept)
    end = time.monotonic() + args.seconds
    done, failed, codes = 0, 0, {}
    with ThreadPoolExecutor(2) as pool:
        numbers = iter(range(args.seed * 1_000_000, args.seed * 1_000_000 + args.cases))
        while time.monotonic() < end:
            batch = [seed for seed, _ in zip(numbers, range(64))]
            if not batch:
                break
            for seed, (wrong, code) in zip(batch, pool.map(lambda seed: case(tallybin, files, seed, kept), batch)):
                done += 1
                codes[code] = codes.get(code, 0) + 1
                if wrong:
                    failed += 1
                    print(f"{kept / str(seed)}:", "; ".join(wrong)[:2000])
    print(f"{done} damaged files of {len(files)}, exit codes {codes}, {failed} not as they should be")
    if failed:
        sys.exit(1)
    shutil.rmtree(kept)


if __name__ == "__main__":
    main()
