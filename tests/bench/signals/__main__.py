"""How often the month tells of what is none, and how surely of what is. By hand:

    python -m tests.bench.signals [--seeds 20] [--years 2]

First shops in which nothing changes: one look at the end of each month of their last year, and how
many of them are told of anything false within it (the promise: 1 in 10 at most). Then a story in
each: the share found, other things told beside it, and by how many days the date is off.
"""

from __future__ import annotations

import argparse
import os
from collections.abc import Sequence
from statistics import median
from time import perf_counter

from store.learn.signals.search import search
from tests.bench.signals.shop import BEGIN, YEAR, Shop
from tests.bench.signals.stories import STORIES, Planted, punctual

LOOKS = 12


def a_year(seed: int, years: float) -> tuple[set[tuple[str, str]], float]:
    """Return what a shop without a story is told of in its last year; seconds of its last look."""
    records = Shop(seed).worked(years)
    told: set[tuple[str, str]] = {(one.what, one.code) for one in punctual(seed, years)}
    took = 0.0
    for look in range(LOOKS):
        until = BEGIN + (years - 1 + (look + 1) / LOOKS) * YEAR
        begun = perf_counter()
        found = search([one for one in records if one.closed < until])
        took = perf_counter() - begun
        told |= {(one.what, one.code) for one in found.found}
    return told, took


def calm(seeds: int, years: float) -> None:
    """Print the shops without a story."""
    loud, count, slowest = 0, 0, 0.0
    for seed in range(seeds):
        told, took = a_year(seed, years)
        loud, count, slowest = loud + bool(told), count + len(told), max(slowest, took)
        if told:
            print(f"  seed {seed}: {sorted(told)}", flush=True)
    print(f"no story: {loud} of {seeds} shop years told of {count} false; slowest look "
          f"{slowest:.1f} s", flush=True)  # fmt: skip


def row(name: str, planted: Sequence[Planted]) -> str:
    """One line of the table."""
    heard = [one for one in planted if one.heard is not None]
    beside = sum(
        (each.what, each.code) != (one.what, one.code) for one in planted for each in one.found
    )
    off = [one.days_off for one in planted if one.days_off is not None]
    missed = [one.jobs for one in planted if one.heard is None]
    return (
        f"{name:14} {len(heard):3} of {len(planted):3} {beside:7} "
        f"{median(off) if off else float('nan'):9.0f} {max(off, default=float('nan')):9.0f} "
        f"{median(one.jobs for one in planted):6.0f}  {sorted(missed)}"
    )


def main(words: Sequence[str] | None = None) -> None:
    """Print both tables."""
    ask = argparse.ArgumentParser(description=__doc__)
    ask.add_argument("--seeds", type=int, default=20)
    ask.add_argument("--years", type=float, default=2.0)
    say = ask.parse_args(words)
    print("story           found      beside  days off   at most   jobs  (jobs where missed)")
    for name, story in STORIES.items():
        print(row(name, [story(seed, say.years) for seed in range(say.seeds)]), flush=True)
    calm(say.seeds, say.years)


if __name__ == "__main__":
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    main()
