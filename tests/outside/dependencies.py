#!/usr/bin/env python3
"""What the program is built from, by cargo's own account of it.

    dependencies.py

Every package that is linked in or that helps to build must be under a licence of the list below, come
from crates.io, and be content with the Rust version that Cargo.toml promises. (That our own code keeps
to that version is clippy's to say, by its lint `incompatible_msrv`. Advisories need a data base that is
kept up to date, so they are looked up by hand before a release.)
"""

import json
import re
import subprocess
import sys

ALLOWED = {
    "0BSD", "Apache-2.0", "BSD-2-Clause", "BSD-3-Clause", "BSL-1.0", "CC0-1.0", "ISC", "MIT", "MIT-0", "Unicode-3.0",
    "Unlicense", "Zlib",
}
# Added to a licence, these only permit more.
EXCEPTIONS = {"LLVM-exception"}


def permitted(expression):
    """True where an SPDX expression can be met by allowed licences alone."""
    words = re.findall(r"\(|\)|[\w.+-]+", expression.replace("/", " OR "))

    def either():
        met = both()
        while words and words[0] == "OR":
            words.pop(0)
            met = both() or met
        return met

    def both():
        met = one()
        while words and words[0] == "AND":
            words.pop(0)
            met = one() and met
        return met

    def one():
        word = words.pop(0)
        if word == "(":
            met = either()
            words.pop(0)
        else:
            met = word in ALLOWED
        if words and words[0] == "WITH":
            words.pop(0)
            met = words.pop(0) in EXCEPTIONS and met
        return met

    return either() and not words


def version(text):
    return tuple(int(part) for part in (text.split(".") + ["0"])[:2])


def main():
    meta = json.loads(subprocess.check_output(["cargo", "metadata", "--format-version", "1", "--locked"]))
    packages = {package["id"]: package for package in meta["packages"]}
    nodes = {node["id"]: node for node in meta["resolve"]["nodes"]}
    root = meta["resolve"]["root"]
    ours = packages[root]["rust_version"]

    # What is only for tests is not shipped.
    shipped, left = set(), [root]
    while left:
        at = left.pop()
        if at not in shipped:
            shipped.add(at)
            left += [dep["pkg"] for dep in nodes[at]["deps"] if any(kind["kind"] != "dev" for kind in dep["dep_kinds"])]

    wrong = []
    for id_ in sorted(shipped - {root}):
        package = packages[id_]
        name = f"{package['name']} {package['version']}"
        if not package["license"] or not permitted(package["license"]):
            wrong.append(f"{name}: licence {package['license']}")
        if package["source"] != "registry+https://github.com/rust-lang/crates.io-index":
            wrong.append(f"{name}: comes from {package['source']}")
        wants = package["rust_version"]
        if wants and version(wants) > version(ours):
            wrong.append(f"{name}: wants Rust {wants}, Cargo.toml promises {ours}")
    direct = [dep for dep in packages[root]["dependencies"] if dep["kind"] is None]
    print("\n".join(wrong) if wrong else f"{len(direct)} direct and {len(shipped) - 1} packages in all: licences, source and Rust {ours} in order")
    sys.exit(bool(wrong))


if __name__ == "__main__":
    main()
