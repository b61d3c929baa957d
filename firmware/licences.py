#!/usr/bin/env python3
"""Licences of every crate that is built from, and the notices of those in the device's image.

    firmware/licences.py                every crate's licence is one of ALLOWED, or it fails
    firmware/licences.py --notices      prints the notices of the crates in the image, for a release

Needs cargo and nothing else; what Cargo.lock pins and a build takes is what is judged.
"""

import json
import pathlib
import re
import subprocess
import sys

ROOT = pathlib.Path(__file__).resolve().parent.parent
DEVICE = "thumbv6m-none-eabi"
ALLOWED = {
    "0BSD",
    "Apache-2.0",
    "Apache-2.0 WITH LLVM-exception",
    "BSD-2-Clause",
    "BSD-3-Clause",
    "BSL-1.0",
    "CC0-1.0",
    "ISC",
    "MIT",
    "MIT-0",
    "Unicode-3.0",
    "Unicode-DFS-2016",  # its older name
    "Unlicense",
    "Zlib",
}
NOTICE = re.compile(r"^(licen[cs]e|copying|notice|unlicense)", re.IGNORECASE)


def allowed(expression):
    """Whether an SPDX expression can be met by ALLOWED alone: AND needs both sides, OR one. The old slash means OR."""
    tokens = re.findall(r"\(|\)|[^\s()]+", expression.replace("/", " OR "))

    def either():
        good = both()
        while tokens and tokens[0] == "OR":
            tokens.pop(0)
            good = both() or good
        return good

    def both():
        good = one()
        while tokens and tokens[0] == "AND":
            tokens.pop(0)
            good = one() and good
        return good

    def one():
        token = tokens.pop(0)
        if token == "(":
            good = either()
            tokens.pop(0)
            return good
        if tokens[:1] == ["WITH"]:
            token = f"{token} WITH {tokens[1]}"
            del tokens[:2]
        return token in ALLOWED

    return either() and not tokens


IMAGE = ["-p", "yarn-scale-firmware", "--target", DEVICE, "--no-default-features", "--features", "device"]


def cargo(*arguments):
    return subprocess.run(["cargo", *arguments], cwd=ROOT, check=True, capture_output=True, text=True).stdout


def built(*arguments):
    """Name and version, and licence, of the crates that are built; `cargo metadata` alone also names what no feature asks for."""
    lines = cargo("tree", "--locked", "--prefix", "none", "--format", "{p}|{l}", *arguments).splitlines()
    pairs = {line.removesuffix(" (*)").rsplit("|", 1)[0]: line.removesuffix(" (*)").rsplit("|", 1)[1] for line in lines if "|" in line}
    return {" ".join(name.split()[:2]): licence for name, licence in pairs.items()}


def check():
    seen = built("--workspace", "--edges", "normal,build,dev") | built(*IMAGE, "--edges", "normal,build")
    wrong = [f"{name}: {licence or 'none given'}" for name, licence in sorted(seen.items()) if not licence or not allowed(licence)]
    # The judge itself, tried on what must not pass.
    assert not allowed("GPL-3.0-only") and not allowed("MIT AND GPL-2.0") and allowed("(GPL-2.0 OR MIT) AND ISC")
    for line in wrong:
        print(f"not allowed: {line}", file=sys.stderr)
    print(f"{len(seen)} crates, {len(wrong)} with a licence that is not allowed")
    return 1 if wrong else 0


def notices():
    """Each crate of the image with its licence, then each text once with the crates that it stands in."""
    print("This program is built from these crates:\n")
    texts = {}
    packages = json.loads(cargo("metadata", "--format-version", "1", "--locked", "--filter-platform", DEVICE))["packages"]
    packages = {f"{package['name']} v{package['version']}": package for package in packages}
    for name in sorted(built(*IMAGE, "--edges", "normal,no-proc-macro")):
        package = packages[name]
        folder = pathlib.Path(package["manifest_path"]).parent
        folder = ROOT if folder.is_relative_to(ROOT) else folder
        found = sorted(path for path in folder.iterdir() if path.is_file() and NOTICE.match(path.name))
        for path in found:
            texts.setdefault(path.read_text(errors="replace").strip(), []).append(name)
        told = "" if found else f"; without a text of its licence, by {', '.join(package['authors']) or 'authors not named'}"
        print(f"{name}: {package['license']} {package['repository'] or ''}{told}")
    for text, names in texts.items():
        print(f"\n==== {', '.join(names)}\n\n{text}")


if __name__ == "__main__":
    if sys.argv[1:] == ["--notices"]:
        notices()
    else:
        sys.exit(check())
