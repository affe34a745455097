"""What is measured on a shop file: looks, acts, and what takes long. Each in a process of its own:

    python -m tests.bench.years.tasks FILE NAME TIMES

prints a JSON object: processor seconds (the least of so many, after one that does not count), and
the process's peak memory in MB. Processor time, and the least of it, so that other work on the
machine counts less.
"""

from __future__ import annotations

import json
import os
import sqlite3
import sys
import time
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

from store.actions import clock, jobs, phases
from store.actions.undo import taking_back as undo
from store.file.change import By, new_key
from store.file.shop import Shop
from store.trouble import Trouble
from tui.now import ShopClock

os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # as the program starts its own


@dataclass(slots=True)
class Bench:
    """A shop under measurement.

    Attributes:
        now: the shop's instant; acts move it on.
        old, new: a job of the first year with many phases, and one on a lift.
    """

    shop: Shop
    now: datetime
    old: str = ""
    new: str = ""
    seq: int = 0
    acts: int = 0

    def by(self, badge: str = "A02") -> By:
        """Who acts next: the foreman, a second later."""
        self.now += timedelta(seconds=1)
        return By(badge, "bench", self.now, pin="2468", key=new_key())

    def small(self) -> str:
        """Take a small job; its number."""
        self.acts += 1
        done = jobs.take_small(
            self.shop, self.by(), text="bulb", vehicle=f"bench {self.acts}", hours=0.2
        )
        assert done.job is not None
        return done.job


def opened(path: Path) -> Bench:
    """Open a file and look for what is measured in it."""
    shop = Shop(path)
    bench = Bench(shop, ShopClock(shop).use())
    with shop.reading() as db:
        bench.old, bench.new, bench.seq = (_one(db, sql) for sql in (
            "select job from phase join job using (job) where job.state = 'closed' and not small "
            "group by job order by number, count(*) desc limit 1",
            "select job from job_place where part = 'body' order by job limit 1",
            "select max(seq) from ledger",
        ))  # fmt: skip
    return bench


def _one(db: sqlite3.Connection, sql: str) -> Any:
    return db.execute(sql).fetchone()[0]


# -- looks


def _floor(bench: Bench) -> object:
    from store.views.floor import floor

    return floor(bench.shop, bench.now)


def _bay(bench: Bench) -> object:
    from store.views.bay import bay

    return bay(bench.shop, "B12", bench.now)


def _door(bench: Bench) -> object:
    from store.views.door import door

    return door(bench.shop, bench.now)


def _card(which: str) -> Callable[[Bench], object]:
    def card(bench: Bench) -> object:
        from store.views.job import job_card

        return job_card(bench.shop, getattr(bench, which), bench.now)

    return card


def _find(bench: Bench) -> object:
    from store.views.find import every_job

    return every_job(bench.shop, customers=True)


def _needs(bench: Bench) -> object:
    from store.views.needs import needs

    return needs(bench.shop, bench.now)


def _helps(bench: Bench) -> object:
    from store.views.helps import helps

    return helps(bench.shop, bench.now)


def _desk(bench: Bench) -> object:
    from store.views.desk.page import desk

    return desk(bench.shop, bench.now, names=True)


def _tools(bench: Bench) -> object:
    from store.views.tools.page import tools

    return tools(bench.shop, bench.now)


def _month(back: bool) -> Callable[[Bench], object]:
    def of(bench: Bench) -> object:
        from store.views.month.page import month, months

        listed = months(bench.shop, bench.now)
        return month(bench.shop, listed[len(listed) // 2 if back else 0].month, bench.now)

    return of


def _estimate(bench: Bench) -> object:
    from store.views.estimate import estimate

    return estimate(bench.shop, bench.now, operations=["CL"], family="D4-M-R",
                    options={"clutch": "plain"}, depth="hours")  # fmt: skip


def _ledger(bench: Bench) -> object:
    from store.views.ledger import ledger

    return list(ledger(bench.shop, since_seq=bench.seq - 50))


def _ledger_job(bench: Bench) -> object:
    from store.views.ledger import ledger

    return list(ledger(bench.shop, job=bench.new))


# -- acts; those that get ready for them are not counted


def _begun(bench: Bench) -> str:
    """A small job on which somebody is clocked."""
    job = bench.small()
    _clock_off(bench)
    clock.clock_on(bench.shop, bench.by(), job=job, phase="1")
    return job


def _clock_off(bench: Bench) -> None:
    with suppress(Trouble):  # nobody is clocked on
        clock.clock_off(bench.shop, bench.by())


def _clock(bench: Bench) -> Callable[[], object]:
    job = bench.small()
    _clock_off(bench)
    return lambda: clock.clock_on(bench.shop, bench.by(), job=job, phase="1")


def _finish(bench: Bench) -> Callable[[], object]:
    job = _begun(bench)
    return lambda: phases.finish(bench.shop, bench.by(), job=job, phase="1")


def _close(bench: Bench) -> Callable[[], object]:
    job = _begun(bench)
    phases.finish(bench.shop, bench.by(), job=job, phase="1")
    return lambda: jobs.close(bench.shop, bench.by(), job=job)


def _undo(bench: Bench) -> Callable[[], object]:
    _begun(bench)
    return lambda: undo.undo(bench.shop, bench.by())


LOOKS: dict[str, Callable[[Bench], object]] = {
    "floor": _floor, "bay": _bay, "sign-in": _door, "card, new job": _card("new"),
    "card, oldest job": _card("old"), "find (F4), all jobs": _find, "needs": _needs,
    "what helps most": _helps, "desk": _desk, "tools": _tools, "estimate, hours": _estimate,
    "month, this": _month(False), "month, of the middle": _month(True),
    "ledger, last 50": _ledger, "ledger of a job": _ledger_job,
}  # fmt: skip
ACTS: dict[str, Callable[[Bench], Callable[[], object]]] = {
    "clock on": _clock,
    "close a phase": _finish,
    "close a job": _close,
    "undo": _undo,
}
ONCE = ("month, this", "month, of the middle")
"""They keep what they read: done once in a process."""


def measured(path: Path, name: str, times: int) -> dict[str, float]:
    """Do it again and again."""
    bench = opened(path)
    spent: list[float] = []
    for _ in range(times + (times > 1)):
        if name in ACTS:
            act = ACTS[name](bench)
        else:
            act = lambda: LOOKS[name](bench)  # noqa: E731
        start = time.process_time()
        act()
        spent.append(time.process_time() - start)
    bench.shop.close()
    return {"s": min(spent[times > 1 :]), "mb": peak_mb()}


def peak_mb() -> float:
    """The most memory that this process ever had; `getrusage` would tell its parent's as well."""
    status = Path("/proc/self/status").read_text()
    return int(status.partition("VmHWM:")[2].split()[0]) / 1024


if __name__ == "__main__":
    print(json.dumps(measured(Path(sys.argv[1]), sys.argv[2], int(sys.argv[3]))))
