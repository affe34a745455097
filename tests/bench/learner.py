"""How soon a finished phase is known, what a refit costs, what a look costs. Run by hand:

    python -m tests.bench.learner [MONTHS | DEMO.shop]

On a demo shop with so many months behind it (6 if not said), or on a copy of one that is there.
Told beside what the same machine took, in the same minute, to start this Python and import arrays:
that much no process of its own can save.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Callable
from contextlib import suppress
from datetime import timedelta
from pathlib import Path
from statistics import median
from time import perf_counter

from demo.making import make_demo
from store.actions import clock, phases
from store.file.change import By, new_key
from store.file.learned.kept import forecasts
from store.file.learned.own import ShopLearner
from store.file.learned.turns import Turns
from store.file.shop import Shop
from store.trouble import Trouble
from store.views.floor import floor
from tui.learner import BEGUN, VARIABLE, begin
from tui.now import ShopClock

TURNS = 5
START = [sys.executable, "-c", "import numpy, scipy.linalg, scipy.sparse, scipy.special, pydantic"]


def timed(act: Callable[[], object]) -> float:
    """Seconds that something takes."""
    start = perf_counter()
    act()
    return perf_counter() - start


def finished(shop: Shop, at: ShopClock) -> str | None:
    """Clock on a phase of some job on a lift and finish it; return the job's number."""
    now = at.use()
    for lane in floor(shop, now).lanes:
        if lane.job is None or lane.job.phase is None or lane.job.held:
            continue
        job, phase = lane.job.number, lane.job.phase.number
        with suppress(Trouble):
            clock.clock_over(shop, By("A02", "bench", now, pin="2468", key=new_key()),
                             job=job, phase=phase)  # fmt: skip
            now += timedelta(seconds=1)
            phases.finish(shop, By("A02", "bench", now, pin="2468", key=new_key()),
                          job=job, phase=phase)  # fmt: skip
            return job
    return None


def until_known(shop: Shop, job: str) -> float:
    """Begin the learner as a key does; return seconds until the job's forecast knows the ledger."""
    with shop.reading() as db:
        seq = db.execute("select max(seq) from ledger").fetchone()[0]
    start = perf_counter()
    begin(shop.path)
    while True:
        with shop.reading() as db:
            found = forecasts(db, [job]).get(job)
        if found is None or found.seq >= seq:
            return perf_counter() - start


def opened(asked: str, path: Path) -> Shop:
    """A demo shop of so many months, or a copy of one."""
    if asked.isdecimal():
        return make_demo(path, seed=1, months=int(asked))
    shutil.copyfile(asked, path)
    return Shop(path)


def main() -> None:
    """Print the table."""
    asked = sys.argv[1] if len(sys.argv) > 1 else "6"
    os.environ.pop(VARIABLE, None)
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # as the program starts its own
    folder = Path(tempfile.mkdtemp(prefix="hoistbook-bench-"))
    shop = opened(asked, folder / "demo.shop")
    at = ShopClock(shop)
    now = at.use()
    without = median(timed(lambda: floor(shop, now)) for _ in range(TURNS))
    first = timed(lambda: Turns(shop, ShopLearner(), at.look).keep_up())
    with_them = median(timed(lambda: floor(shop, now)) for _ in range(TURNS))
    anchor = median(timed(lambda: subprocess.run(START, check=True)) for _ in range(TURNS))
    known: list[float] = []
    for _ in range(TURNS):
        job = finished(shop, at)
        if job is None:
            break
        known.append(until_known(shop, job))
        for one in BEGUN:
            one.wait()
    shop.close()
    shutil.rmtree(folder)
    print(f"demo shop: {asked}{'' if asked.endswith('.shop') else ' months'}")
    print(f"a Python with arrays, started and ended:     {anchor:6.2f} s")
    print(f"from a key to the job's new forecast:        {median(known):6.2f} s, "
          f"{median(known) / anchor:.1f} times that, {len(known)} phases finished")  # fmt: skip
    print(f"everything learned and every job forecast:   {first:6.2f} s")
    print(f"a look at the floor without forecasts:       {without * 1e3:6.1f} ms")
    print(f"a look at the floor with them:               {with_them * 1e3:6.1f} ms, "
          f"{with_them / without:.2f} times that")  # fmt: skip


if __name__ == "__main__":
    main()
