"""The long run of the table of faults: `python -m tests.faults`.

Prints the table that stands in DEVELOPERS.md, as Markdown; ends with 1 if anything was lost.
"""

from __future__ import annotations

import argparse
import os
import sys
import tempfile
import time
from pathlib import Path
from random import Random

from tests.faults.row import Outcome, Row, Tries
from tests.faults.rows import ROWS

os.environ.setdefault("HOISTBOOK_LEARNER", "off")
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")

HEAD = (
    "| kind | tried | lost | recovered | made to happen | known to have "
    "| taken out to see it fail |"
)


def arguments() -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m tests.faults", description=__doc__)
    parser.add_argument("kind", nargs="*", help="beginnings of kinds; all without")
    parser.add_argument("--times", type=int, help="instead of each row's own number")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--unprotected", action="store_true",
                        help="take each row's protection out: it must be seen to fail")  # fmt: skip
    return parser.parse_args()


def asked(kinds: list[str]) -> list[Row]:
    """Return the rows whose kind begins so, all of no kinds.

    Raises:
        SystemExit: nothing begins so.
    """
    rows = [row for row in ROWS if not kinds or any(row.kind.startswith(one) for one in kinds)]
    if not rows:
        sys.exit("No kind begins so. There are: " + "; ".join(row.kind for row in ROWS))
    return rows


def tried(row: Row, options: argparse.Namespace) -> Outcome:
    """Run a row in a folder of its own on a real disk."""
    times = options.times or (max(row.bare, 1) if options.unprotected else row.long)
    with tempfile.TemporaryDirectory(prefix="hoistbook-fault-", dir="/var/tmp") as folder:
        return row.run(Tries(times, Random(options.seed), Path(folder), not options.unprotected))


def line(row: Row, found: Outcome) -> str:
    return (
        f"| {row.kind} | {found.tried:,} | {found.lost:,} | {found.recovered:,} | {row.made} "
        f"| {row.known} | {row.without} |"
    )


def main() -> int:
    """Try every row that was asked for.

    Returns:
        0 when nothing was lost, or with `--unprotected` when every row was seen to fail.
    """
    options, bad = arguments(), 0
    print(HEAD, "| " + " | ".join(["---"] * 7) + " |", sep="\n", flush=True)
    for row in asked(options.kind):
        if lacks := row.lacks():
            print(f"| {row.kind} | skipped: {lacks} | | | {row.made} | {row.known} "
                  f"| {row.without} |", flush=True)  # fmt: skip
            continue
        begun = time.monotonic()
        found = tried(row, options)
        print(line(row, found), flush=True)
        for note in (f"{time.monotonic() - begun:.0f} s, {found.beside:,} fell beside",
                     *found.notes):  # fmt: skip
            print(f"  {row.kind}: {note}", file=sys.stderr, flush=True)
        fine = found.seen_to_fail if options.unprotected else found.holds
        bad += not fine
    return 1 if bad else 0


if __name__ == "__main__":
    sys.exit(main())
