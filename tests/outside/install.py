#!/usr/bin/env python3
"""The program as `cargo install` leaves it.

    install.py TALLYBIN

Away from the project's folder it says its version and settles a small job; its completions are
loaded by bash and know the commands; its manual pages are set by groff without a warning.
"""

import json
import shutil
import subprocess
import sys
import tempfile
from pathlib import Path


def out(*arguments, **more):
    ran = subprocess.run(arguments, capture_output=True, text=True, **more)
    if ran.returncode:
        sys.exit(f"install.py: {arguments}: {ran.returncode}: {ran.stderr}")
    return ran.stdout


def main():
    tallybin = Path(sys.argv[1]).resolve()
    with tempfile.TemporaryDirectory() as scratch:
        (Path(scratch) / "parts.csv").write_text("Stage,Description,Qty\nDeck,1/2 x 3 hex bolt,8\n")
        version = out(tallybin, "--version")
        account = json.loads(out(tallybin, "reconcile", "--required", "parts.csv", "--format", "json", cwd=scratch))
        if not version.startswith("tallybin ") or account["totals"]["short"] != 8:
            sys.exit(f"install.py: {version} {account['totals']}")
    script = out(tallybin, "completions", "bash")
    load = script + '\nCOMP_WORDS=(tallybin re); COMP_CWORD=1; _tallybin tallybin re tallybin; echo "${COMPREPLY[@]}"'
    completed = out("bash", "--norc", "-c", load).split()
    if sorted(completed) != ["read", "reconcile"]:
        sys.exit(f"install.py: bash completes re to {completed}")
    pages = [[], ["reconcile"], ["read"], ["weigh"], ["completions"], ["man"]]
    groff = shutil.which("groff")
    for page in pages if groff else []:
        roff = out(tallybin, "man", *page)
        ran = subprocess.run([groff, "-man", "-Tutf8", "-ww", "-z"], input=roff, capture_output=True, text=True)
        if ran.returncode or ran.stderr:
            sys.exit(f"install.py: man {page}: {ran.stderr}")
    pages = f"{len(pages)} manual pages" if groff else "no groff, so no manual pages"
    print(f"installed: {version.strip()}, bash completions, {pages}")


if __name__ == "__main__":
    main()
