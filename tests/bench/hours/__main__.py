"""Forecasts of hours beside those of somebody who knows the truth, on simulated shops. By hand:

    python -m tests.bench.hours [--jobs 40,300] [--shops N] [--seed S] [--flavours a-clean,b-rust]

Prints, by flavour and length of history, the mean pinball loss of each method as a ratio to that of
the true distribution (1 cannot be reached: a learner must also learn), and how often the central
80 and 90 % ranges held. Methods that are not installed are named and left out. What happened in
these shops is scored as it was recorded, faults of the clocks included.
"""

from __future__ import annotations

import argparse
import csv
import sys
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from functools import partial
from itertools import product
from pathlib import Path

from tests.bench.hours.files import write_history
from tests.bench.hours.flavours import FLAVOURS
from tests.bench.hours.history import MAKES, simulate
from tests.bench.hours.judging import BASELINES, LEARNERS, judged, methods
from tests.bench.hours.table import Case, Outcome, lines

METHODS = "which to judge; roster is the learner told who was employed when"
LEARNER = "store.learn.hindsight:hours"


def asked(words: list[str] | None = None) -> argparse.Namespace:
    """What the command line asks for."""
    say = argparse.ArgumentParser(prog="python -m tests.bench.hours", description=__doc__)
    say.add_argument("--jobs", default="40,300", help="lengths of histories")
    say.add_argument("--shops", type=int, default=4, help="shops of each flavour")
    say.add_argument("--seed", type=int, default=1)
    say.add_argument("--flavours", default=",".join(_all()), help=", ".join(_all()))
    say.add_argument("--learner", default=LEARNER, help="MODULE:FUNCTION(records) -> rows")
    say.add_argument("--methods", default="learner,book,means,mixed", help=METHODS)
    say.add_argument("--procs", type=int, default=1)
    say.add_argument("--kinds", action="store_true", help="ratios by kind of row as well")
    say.add_argument("--out", type=Path, help="every shop's figures, as a CSV file")
    say.add_argument("--write", type=Path, help="write the histories into a folder, judge nothing")
    found = say.parse_args(words)
    for wish, known in ((found.flavours, _all()), (found.methods, [*LEARNERS, *BASELINES])):
        unknown = set(wish.split(",")) - set(known)
        if unknown:
            say.error(f"{', '.join(sorted(unknown))}: choose from {', '.join(known)}")
    return found


def _all() -> list[str]:
    return [f"{make}-{flavour}" for make, flavour in product(MAKES, FLAVOURS)]


def cases(say: argparse.Namespace) -> list[Case]:
    """Every shop that is to be judged."""
    kinds = [name.partition("-") for name in say.flavours.split(",")]
    sizes = [int(one) for one in say.jobs.split(",")]
    return [
        Case(make, flavour, jobs, say.seed, shop)
        for (make, _, flavour), jobs, shop in product(kinds, sizes, range(say.shops))
    ]


def here(names: list[str], learner: str) -> list[str]:
    """The methods that can run here; says which cannot."""
    found: list[str] = []
    for name in names:
        try:
            methods([name], learner)
            found.append(name)
        except ModuleNotFoundError as lacking:
            print(f"{name}: left out, {lacking.name} is not installed here")
    return found


def _judge(names: list[str], learner: str, case: Case) -> list[Outcome]:
    return judged(case, methods(names, learner))


def outcomes(say: argparse.Namespace, names: list[str]) -> Iterator[Outcome]:
    """Judge case after case, saying how far it is to whoever watches."""
    judge = partial(_judge, names, say.learner)
    todo = cases(say)
    with ProcessPoolExecutor(say.procs) as pool:
        found = pool.map(judge, todo) if say.procs > 1 else map(judge, todo)
        for n, of_case in enumerate(found, 1):
            if sys.stderr.isatty():
                print(f"\r{n} of {len(todo)} shops ", end="", file=sys.stderr, flush=True)
            yield from of_case


def write(say: argparse.Namespace) -> None:
    """The histories as files, with optional columns and (`-plain`) without."""
    say.write.mkdir(parents=True, exist_ok=True)
    for one in cases(say):
        records = simulate(one.make, one.flavour, one.jobs, (one.seed, one.shop)).records
        name = f"{one.make}-{one.flavour}-{one.jobs}-{one.seed}-{one.shop}"
        write_history(say.write / f"{name}.csv", records)
        write_history(say.write / f"{name}-plain.csv", records, further=False)


def keep(path: Path, found: list[Outcome]) -> None:
    """Every shop's figures, for comparisons in pairs."""
    with path.open("w", encoding="utf-8", newline="") as file:
        table = csv.writer(file)
        table.writerow(["shop", "jobs", "seed", "n", "method", "ratio", "held80", "held90", "s"])
        for one in found:
            of = one.case
            shop = [f"{of.make}-{of.flavour}", of.jobs, of.seed, of.shop, one.method]
            figures = (one.ratio, one.held80, one.held90, one.seconds)
            table.writerow([*shop, *(f"{value:.5f}" for value in figures)])


def _kept(passing: Iterator[Outcome], found: list[Outcome]) -> Iterator[Outcome]:
    """What passes, noted on the way."""
    for one in passing:
        found.append(one)
        yield one


def main() -> None:
    """Print the table."""
    say = asked()
    if say.write:
        write(say)
        return
    names = here(say.methods.split(","), say.learner)
    found: list[Outcome] = []
    for line in lines(_kept(outcomes(say, names), found), by_kind=say.kinds):
        print(line, flush=True)
    if say.out:
        keep(say.out, found)


if __name__ == "__main__":
    main()
