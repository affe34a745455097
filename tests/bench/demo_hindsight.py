"""How right the hours and dates would have been in the demo's own past, over many seeds. By hand:

    python -m tests.bench.demo_hindsight [--seeds 1,2,3] [--months 18]

Prints for each seed and for all together the share of forecasts whose 80 % range held, and of
promises at 8 in 10 that were kept, at agreement (booked) and at every start of a phase; beside them
the same of plain labour hours through the calendar, stretched by nothing, as what they replace.
"""

from __future__ import annotations

import argparse
import os
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from time import perf_counter

import numpy as np

from demo.making import make_demo
from store.file.facts import calendar_of
from store.file.past_spans import open_spans, people, spans
from store.file.past_work import past_work
from store.file.shop import Shop
from store.learn.dates.replay import Row
from store.learn.hindsight import Scored, both

REACH_S = 400 * 86_400.0


@dataclass(frozen=True, slots=True)
class Outcome:
    """One past, replayed."""

    seed: int
    hours: list[Scored]
    dates: list[Row]
    seconds: float


def replayed(seed: int, months: int, folder: Path) -> Outcome:
    """Make a demo shop and replay what it would have forecast."""
    path = folder / f"{seed}.db"
    make_demo(path, seed=seed, months=months)
    with Shop(path).reading() as db:
        records, happened, who = past_work(db), spans(db), people(db)
        first = min(one.started for one in happened)
        last = max(one.ended or one.started for one in happened)
        hours = open_spans(calendar_of(db), first, last + REACH_S)
    begun = perf_counter()
    said, dates = both(records, happened, hours, who)
    return Outcome(seed, said, dates, perf_counter() - begun)


def line(name: str, hours: Sequence[Scored], dates: Sequence[Row]) -> str:
    """One line of the table, in per cent."""
    y = np.array([one.open_hours for one in dates])
    q = np.array([one.quantiles for one in dates])
    naive = np.array([one.naive for one in dates])
    booked = np.array([one.moment == "booked" for one in dates])
    inside = (y >= q[:, 1]) & (y <= q[:, 17])
    kept = y <= q[:, 15]
    a = np.array([one.actual_hours for one in hours])
    h = np.array([one.quantiles for one in hours])
    right = (a >= h[:, 1]) & (a <= h[:, 17])
    shares = [
        right.mean(), inside.mean(), inside[booked].mean(), kept.mean(), kept[booked].mean(),
        (y <= naive).mean(), (y[booked] <= naive[booked]).mean(),
    ]  # fmt: skip
    middle = np.median(np.abs(np.log(q[:, 9] / np.maximum(y, 0.01))))
    plain = np.median(np.abs(np.log(naive / np.maximum(y, 0.01))))
    return (
        f"{name:>6} {int(booked.sum()):5} {len(dates):6} "
        + " ".join(f"{100 * one:8.1f}" for one in shares)
        + f" {100 * np.expm1(middle):8.0f} {100 * np.expm1(plain):8.0f}"
    )


def main(words: Sequence[str] | None = None) -> None:
    """Print the table."""
    ask = argparse.ArgumentParser(description=__doc__)
    ask.add_argument("--seeds", default="1,2,3,4,5,6,7,8,9,10")
    ask.add_argument("--months", type=int, default=18)
    say = ask.parse_args(words)
    print("  seed  jobs   rows    hours    dates   agreed  promise   agreed    naive   agreed"
          "   miss %  naive %")  # fmt: skip
    every: list[Outcome] = []
    with tempfile.TemporaryDirectory() as folder:
        for seed in say.seeds.split(","):
            one = replayed(int(seed), say.months, Path(folder))
            every.append(one)
            print(line(str(one.seed), one.hours, one.dates), f"{one.seconds:6.1f} s", flush=True)
    hours = [row for one in every for row in one.hours]
    dates = [row for one in every for row in one.dates]
    print(line("all", hours, dates))


if __name__ == "__main__":
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    main()
