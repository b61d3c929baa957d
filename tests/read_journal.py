#!/usr/bin/env python3
"""Reads a backup or an image of a journal by hardware-notes/journal-format.md alone, with nothing but the standard library.

Prints the sections as `yarn-scale table` does, or with `weighings` behind the file the weighings; and on standard error how many records each
part holds and what is missing. The exit code is 1 if something is.
"""

import csv
import sys

from journal_reader.containers import MAGIC, MARKS, PAIRS, VISITS, of_backup, of_image
from journal_reader.journal import Journal

COLUMNS = "pair name place section sock yarn construction stitches used_mg u_mg at_s utc_s utc amended late doubtful".split()


def main():
    with open(sys.argv[1], "rb") as file:
        data = file.read()
    journal = Journal(*(of_backup(data) if data.startswith(MAGIC) else of_image(data)))
    out = csv.writer(sys.stdout)
    if sys.argv[2:] == ["weighings"]:
        out.writerow(["at_s", "utc_s", "utc", "gross_mg", "u_mg", "bowl"])
        for at, mg, u, bowl in journal.visits:
            out.writerow([at, "", "", mg, f"{u:.9g}", bowl])
    else:
        out.writerow(COLUMNS)
        for pair in sorted(journal.rows):
            for row in journal.rows[pair]:
                flags = {key: str(value).lower() for key, value in row.items() if isinstance(value, bool)}
                whole = {"pair": pair, "name": journal.names.get(pair, "")} | row | flags
                out.writerow([whole.get(column, "") for column in COLUMNS])
    wrong = 0
    for part, name in ((PAIRS, "finished pairs"), (MARKS, "marks"), (VISITS, "weighings")):
        count, missing, torn = journal.counts[part]
        end = ", something unreadable at the end" if torn else ""
        print(f"{name}: {count} records, {missing} missing{end}", file=sys.stderr)
        wrong += missing + torn
    sys.exit(1 if wrong else 0)


main()
