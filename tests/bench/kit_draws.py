"""How many draws of a kit's need are enough, and what they cost the learner and a look.

    python -m tests.bench.kit_draws [DEMO.shop] [--floor 200]

First: for each stretch of a shop's jobs that is still to begin, the delivery and return day that a
few draws recommend, priced by 4,000 draws of walks of their own: what they cost more than the days
that those recommend. Then, on a floor of 24 lifts, what it adds to a forecast to be asked about
kits. Processor time of this process.
"""

from __future__ import annotations

import argparse
import shutil
import tempfile
from collections.abc import Generator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date, datetime, timedelta
from pathlib import Path
from statistics import mean
from time import process_time

import pytest

from demo.making import make_demo
from store.file.facts import calendar_of
from store.file.kits.wanted import Wanted, kits_wanted
from store.file.learned import needs
from store.file.learned.due import LIVE
from store.file.learned.forecaster import ShopForecaster
from store.file.learned.kept import parts
from store.file.learned.kept_needs import KitNeed
from store.file.learned.moment import Moment, moment
from store.file.learned.own import VERSIONS
from store.file.shop import Shop
from store.learn.dates import forecast
from store.sums.hires.days import ShopDays
from store.sums.hires.needs import Need, need_of
from store.sums.hires.table import Asked, Table, laid
from store.sums.hires.terms import Rates, Terms
from store.sums.hires.window import best_window
from store.sums.working_time import Calendar
from store.views.tools.kit_needs import kit_needs
from tests.bench.helping import busy_floor, timed
from tests.store.made_acts import learner
from tui.now import ShopClock

TERMS = Terms(Rates(35.0, 140.0, None, 2, 25.0))
"""A small kit at usual terms. Common practice, no source."""
TRUTH, WALKS = 4000, 4096
FEW = (50, 100, 200, 400)
ONE = timedelta(days=1)


@dataclass(frozen=True, slots=True)
class Look:
    """A shop at one moment, with the jobs that want kits."""

    known: ShopForecaster
    here: Moment
    live: tuple[str, ...]
    wanted: Mapping[str, tuple[Wanted, ...]]

    def needs(self) -> dict[tuple[str, str, tuple[str, ...]], Need]:
        """Every stretch that nobody has begun, by job, kit and phases."""
        jobs = [job for job in self.live if job in self.wanted]
        begun = {
            (one.job, one.kit, one.phases)
            for each in self.wanted.values()
            for one in each
            if one.begun_at is not None
        }
        found = {
            (kit.job, kit.kit, one.phases): need_of(kit.job, pairs(self.here, kit, n))
            for said in self.known.forecasts(self.here, jobs, self.wanted)
            for kit in said.needs
            for n, one in enumerate(kit.stretches)
        }
        return {key: need for key, need in found.items() if key not in begun}


def pairs(here: Moment, kit: KitNeed, n: int) -> list[tuple[datetime, datetime]]:
    """The draws of one stretch as instants."""
    one, calendar = kit.stretches[n], here.calendar
    starts = calendar.each_after(kit.made_at, one.starts)
    ends = calendar.each_after(kit.made_at, one.ends)
    return list(zip(starts, ends, strict=True))


def look(shop: Shop, now: datetime) -> Look:
    """One look at a shop that has learned."""
    with shop.reading() as db:
        known = ShopForecaster(parts(db, VERSIONS, whole=True))
        live = tuple(row[0] for row in db.execute(LIVE))
        return Look(known, moment(db, live, now), live, kits_wanted(db))


@contextmanager
def as_many(draws: int, walks: int) -> Generator[None]:
    """So many draws are kept of so many walks."""
    with pytest.MonkeyPatch.context() as instead:
        instead.setattr(needs, "DRAWS", draws)
        instead.setattr(forecast, "DRAWS", walks)
        yield


def money(table: Table, days: tuple[date, date]) -> float:
    """What a delivery day and a return day are expected to cost."""
    places = [min(table.ground.days.index(day) if day in table.ground.days else 10**6,
                  len(table.ground.days) - 1) for day in days]  # fmt: skip
    return table.cost(places[0], places[1])[0].total


def recommended(asked: Asked, need: Need, first: date) -> tuple[date, date]:
    """Delivery and return day."""
    best = best_window(asked, [need], first).best
    return best.delivery, best.back


def regrets(at: Look) -> None:
    """Print what few draws cost."""
    asked = Asked(ShopDays(at.here.calendar), TERMS)
    first = at.here.calendar.day_of(at.here.now) + ONE
    with as_many(TRUTH, WALKS):
        truth = at.needs()
    best = {key: recommended(asked, need, first) for key, need in truth.items()}
    latest = {key: asked.days.after(max(days), 40) for key, days in best.items()}
    tables = {key: laid(asked, [need], first, latest[key]) for key, need in truth.items()}
    print(f"{len(truth)} stretches to come; the days that {TRUTH} draws recommend cost "
          f"{mean(money(tables[key], best[key]) for key in truth):.2f} on the mean")  # fmt: skip
    for many in FEW:
        with as_many(many, 512):
            few = at.needs()
        found = {key: recommended(asked, need, first) for key, need in few.items()}
        more = [money(tables[key], found[key]) / money(tables[key], best[key]) - 1 for key in truth]
        same = mean(found[key] == best[key] for key in truth)
        print(f"{many:6} draws: {100 * mean(more):5.2f} % more on the mean, "
              f"{100 * max(more):5.2f} % at worst; the same in {100 * same:3.0f} %")  # fmt: skip


def costs(many: int) -> None:
    """Print what kits add to a forecast, and what a look at them takes."""
    world = busy_floor(Path(tempfile.mkdtemp()), many)
    learner(world).take_in()
    at = look(world.shop, world.now)
    jobs = [job for job in at.live if job in at.wanted]
    print(f"a floor of {len(at.live)} jobs, {len(jobs)} of which want a kit")
    plain, asked = each(at, jobs[:1], 25)
    print(f"a forecast of one of them: {plain:.1f} ms, with its kits {asked:.1f} ms "
          f"({100 * (asked / plain - 1):+.1f} %)")  # fmt: skip
    whole, asked = each(at, at.live, 2)
    print(f"of all: {whole:.0f} ms, with kits {asked:.0f} ms ({100 * (asked / whole - 1):+.1f} %)")
    with world.shop.reading() as db:
        calendar: Calendar = calendar_of(db)
        _, one = timed(lambda: kits_wanted(db, jobs[:1]))
        found, all_of = timed(lambda: kit_needs(db, calendar, world.now))
    print(f"what one of them wants, read: {one:.1f} ms")
    print(f"a look at {sum(map(len, found.values()))} needs: {all_of:.1f} ms")


def each(at: Look, jobs: Sequence[str], times: int) -> tuple[float, float]:
    """Least milliseconds without and with kits, in turn."""
    least = [float("inf"), float("inf")]
    for _ in range(times):
        for n, wanted in enumerate(({}, at.wanted)):
            begun = process_time()
            at.known.forecasts(at.here, jobs, wanted)
            least[n] = min(least[n], 1e3 * (process_time() - begun))
    return least[0], least[1]


def main() -> None:
    """Print both tables."""
    asking = argparse.ArgumentParser()
    asking.add_argument("shop", nargs="?")
    asking.add_argument("--floor", type=int, default=200)
    asked, path = asking.parse_args(), Path(tempfile.mkdtemp()) / "demo.shop"
    if asked.shop:
        shutil.copyfile(asked.shop, path)
        shop = Shop(path)
    else:
        shop = make_demo(path, seed=1, months=6)
    now = ShopClock(shop).look()
    regrets(look(shop, now))
    shop.close()
    costs(asked.floor)


if __name__ == "__main__":
    main()
