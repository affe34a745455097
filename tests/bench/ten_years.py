"""Ten years of data beside one month: what feels them, and what does not. By hand:

    python -m tests.bench.ten_years FOLDER [--entries 1000000] [--rounds 3] [--only NAME]

Both files are made once and kept in the folder (`years/halls.py` says how): the one of ten years
ends with the very entries of the one of a month, so that both have the same floor. Looks and acts
are measured in turns, each in a process of its own, so that both see the same minutes, and the
least of all counts; what takes long is done once. Acts are done to copies. Times are processor
time; of an act that is all but the waiting for the disk.
"""

from __future__ import annotations

import argparse
import json
import os
import shutil
import sqlite3
import subprocess
import sys
from collections.abc import Iterator
from contextlib import closing
from pathlib import Path

from tests.bench.years.halls import make_both
from tests.bench.years.long import LONG
from tests.bench.years.paints import PAINTS
from tests.bench.years.tasks import ACTS, LOOKS, ONCE

TIMES = 5
"""How often in one process."""
Found = dict[str, float]


def asked(module: str, *arguments: str) -> Found:
    """Run a module in a process of its own; what it says."""
    env = {**os.environ, "OPENBLAS_NUM_THREADS": "1", "HOISTBOOK_LEARNER": "off"}
    done = subprocess.run(
        [sys.executable, "-m", f"tests.bench.years.{module}", *arguments],
        env=env, stdout=subprocess.PIPE, text=True, check=True,
    )  # fmt: skip
    found: Found = json.loads(done.stdout.splitlines()[-1])
    return found


def in_turns(module: str, name: str, month: Path, years: Path, rounds: int, *more: str) -> None:
    """Measure one thing on both files in turns, and print its line."""
    found: dict[Path, list[Found]] = {month: [], years: []}
    for _ in range(rounds):
        for path in (month, years):
            found[path].append(asked(module, str(path), name, *more))
    told = [
        (min(one["s"] for one in each), max(one["mb"] for one in each)) for each in found.values()
    ]
    print(line(name, *told), flush=True)


def line(name: str, month: tuple[float, float], years: tuple[float, float]) -> str:
    """One row of the table."""
    (s, mb), (many_s, many_mb) = month, years
    ratios = f"{many_s / s:.2f} x | {many_mb / mb:.2f} x"
    return f"| {name} | {_time(s)} | {_time(many_s)} | {mb:.0f} | {many_mb:.0f} | {ratios} |"


def _time(seconds: float) -> str:
    return f"{seconds * 1000:.1f} ms" if seconds < 1 else f"{seconds:.1f} s"


def sizes(path: Path) -> str:
    """What is in a file."""
    with closing(sqlite3.connect(path)) as db:
        many = [db.execute(f"select count(*) from {name}").fetchone()[0]
                for name in ("job", "phase", "ledger")]  # fmt: skip
        since = db.execute("select min(happened_at) from ledger").fetchone()[0][:10]
    jobs, phases, entries = many
    return (
        f"{jobs:,} jobs, {phases:,} phases, {entries:,} entries since {since}, "
        f"{path.stat().st_size / 1e6:,.0f} MB"
    )


def work_copies(*paths: Path) -> Iterator[Path]:
    """Copies to act on."""
    for path in paths:
        copy = path.with_suffix(".work")
        for name in (copy, copy.with_name(f"{copy.name}-wal"), copy.with_name(f"{copy.name}-shm")):
            name.unlink(missing_ok=True)
        shutil.copyfile(path, copy)
        yield copy


def main() -> None:
    """Print the table."""
    ask = argparse.ArgumentParser(description=__doc__)
    ask.add_argument("folder", type=Path)
    ask.add_argument("--entries", type=int, default=1_000_000)
    ask.add_argument("--rounds", type=int, default=3)
    ask.add_argument("--only", action="append", help="names of lines; all others are left out")
    say = ask.parse_args()
    month, years = make_both(say.folder, say.entries)
    print(f"one month: {sizes(month)}\nten years: {sizes(years)}\n")
    print("| | one month | ten years | MB | MB | time | memory |\n|---|---|---|---|---|---|---|")

    def wanted(names: Iterator[str] | list[str]) -> list[str]:
        return [one for one in names if not say.only or one in say.only]

    for name in wanted(list(PAINTS)):
        in_turns("paints", name, month, years, say.rounds)
    for name in wanted(list(LOOKS)):
        times = "1" if name in ONCE else str(TIMES)
        in_turns("tasks", name, month, years, 1 if name in ONCE else say.rounds, times)
    acts = wanted(list(ACTS))
    if acts:
        work = list(work_copies(month, years))
        for name in acts:
            in_turns("tasks", name, work[0], work[1], say.rounds, str(3 * TIMES))
    longs = wanted(list(LONG))
    if longs:
        work = list(work_copies(month, years))
        for name in longs:
            in_turns("long", name, work[0], work[1], 1, str(say.folder))


if __name__ == "__main__":
    main()
