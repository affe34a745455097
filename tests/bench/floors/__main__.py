"""How good the learned dates are on floors whose every parameter is known.

    python -m tests.bench.floors [--kinds own,urgent] [--jobs 40,300] [--shops 3] [--seed 1]
        [--rows 150] [--clones 100] [--keep FOLDER] [--write FOLDER]

Scores are mean pinball losses as ratios to the oracle's on the same rows, as the oracle's laws
expect them; `came`: by what came instead, where chance alone moves one shop by .06. Shares are per
cent of all rows of all shops; `law`: of the oracle's laws. `--keep` keeps what the oracle saw, the
dear part, for the next learner; `--write` writes each shop's files as the contract says, for the
command line.
"""

from __future__ import annotations

import argparse
import time
from collections.abc import Sequence
from pathlib import Path

import numpy as np

from store.learn import hindsight
from tests.bench.floors import shares
from tests.bench.floors.drawing import drawn
from tests.bench.floors.files import write
from tests.bench.floors.judge import Verdict, judged
from tests.bench.floors.kept import Asked
from tests.bench.floors.kinds import KINDS
from tests.bench.floors.past import Past, past

HEADING = (
    f"{'floor':10}{'jobs':>5}{'learner':>9}{'+-':>6}{'came':>7}{'naive':>7}{'past':>6} |"
    f"{'80 %':>6}{'booked':>7}{'law':>6}{'oracle':>7} |{'promise':>8}{'booked':>7} |{'s':>6}"
)


def main() -> None:
    """Print the tables."""
    asked = _asked()
    kinds = asked.kinds.split(",")
    print(HEADING, flush=True)
    floors: dict[str, list[shares.Shares]] = {kind: [] for kind in kinds}
    for jobs in map(int, asked.jobs.split(",")):
        every: list[Verdict] = []
        for kind in kinds:
            verdicts: list[Verdict] = []
            for seed in range(asked.seed, asked.seed + asked.shops):
                made, verdict = _shop(kind, seed, jobs, asked)
                verdicts.append(verdict)
                floors[kind].append(shares.shares(made))
            print(_line(kind, jobs, verdicts), flush=True)
            every += verdicts
        print(_line("all", jobs, every), flush=True)
    print(f"\nwhere the stays' open hours went, per cent\n{shares.heading()}")
    for kind, found in floors.items():
        print(shares.line(kind, found))
    print(shares.line("all", [one for found in floors.values() for one in found]))


def _shop(kind: str, seed: int, jobs: int, asked: argparse.Namespace) -> tuple[Past, Verdict]:
    shop = drawn(kind, seed)
    made = past(shop, seed, jobs)
    if asked.write is not None:
        write(made, asked.write / f"{kind}-{seed}-{jobs}")
    seen = Asked(asked.rows, asked.clones, asked.keep).oracle(shop, seed, jobs)
    return made, judged(made, seen, hindsight.dates)


def _line(kind: str, jobs: int, found: Sequence[Verdict]) -> str:
    ratios = np.array([one.learner / one.oracle for one in found])
    spread = ratios.std(ddof=1) / len(ratios) ** 0.5 if len(ratios) > 1 else float("nan")
    came = np.mean([one.learner_came / one.oracle_came for one in found])
    naive = np.mean([one.naive / one.oracle for one in found])
    nearest = np.mean([one.nearest / one.oracle for one in found])
    law = 100 * np.mean([one.law for one in found])
    booked = np.concatenate([one.booked for one in found]) > 0
    ranges = 100 * np.concatenate([one.in_range for one in found])
    kept = 100 * np.concatenate([one.kept for one in found])
    oracle = 100 * np.concatenate([one.oracle_in_range for one in found])
    seconds = np.mean([one.seconds for one in found])
    return (
        f"{kind:10}{jobs:5d}{ratios.mean():9.3f}{spread:6.3f}{came:7.2f}{naive:7.2f}"
        f"{nearest:6.2f} |"
        f"{ranges.mean():6.1f}{ranges[booked].mean():7.1f}{law:6.1f}{oracle.mean():7.1f} |"
        f"{kept.mean():8.1f}{kept[booked].mean():7.1f} |{seconds:6.1f}"
    )


def _asked() -> argparse.Namespace:
    read = argparse.ArgumentParser(description="How good the learned dates are.")
    read.add_argument("--kinds", default=",".join(KINDS))
    read.add_argument("--jobs", default="40,300")
    read.add_argument("--shops", type=int, default=3)
    read.add_argument("--seed", type=int, default=1)
    read.add_argument("--rows", type=int, default=150)
    read.add_argument("--clones", type=int, default=100)
    read.add_argument("--keep", type=Path, default=None)
    read.add_argument("--write", type=Path, default=None)
    return read.parse_args()


if __name__ == "__main__":
    begun = time.perf_counter()
    main()
    print(f"\n{time.perf_counter() - begun:.0f} s")
