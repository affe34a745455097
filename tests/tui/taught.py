"""A shop that learned from an imported past, for what is told of work that nobody has begun."""

from __future__ import annotations

import shutil
import tempfile
from datetime import datetime, timedelta
from functools import lru_cache
from pathlib import Path

from store.actions.history import import_history
from store.file.shop import Shop
from store.learn.records import Record
from store.rules.routes import lay
from store.views.book import book_now
from tests.tui.driver import Hands
from tests.tui.shops import Pen, worked_on
from tui.learner import take_in

FAMILY = "B4-M-F"


def past(shop: Shop, now: datetime, jobs: int = 12) -> list[Record]:
    """Clutches and seals of the last months, each phase a little over or under the book."""
    book = book_now(shop, now).book
    found: list[Record] = []
    for job in range(jobs):
        operation = "CL" if job % 3 else "RS"
        route = lay(book, operations=[operation], family=FAMILY, options={}, grade=2)
        at = now - timedelta(days=90 - 5 * job)
        for seq, one in enumerate(route, 1):
            if one.phase.kind != "labour":
                continue
            hours = one.book.middle * (0.8 + 0.05 * ((job * 7 + seq * 3) % 11))
            found.append(
                Record(
                    f"P{job}", operation, FAMILY, one.phase.code, seq, "B12",
                    at.timestamp(), (at + timedelta(hours=hours)).timestamp(),
                    one.book.middle, hours, 2, one.phase.phase_class, 1, None, False, one.serves,
                )
            )  # fmt: skip
            at += timedelta(hours=hours)
    return found


def taught(path: Path, pen: Pen) -> Shop:
    """The shop with three jobs, and what it learned; a copy, since learning takes its time."""
    template, now, made = _template()
    shutil.copy(template, path)
    pen.now, pen.made = now, made
    return Shop(path)


@lru_cache(maxsize=1)
def _template() -> tuple[Path, datetime, int]:
    path, pen = Path(tempfile.mkdtemp(prefix="hoistbook-test-")) / "made.shop", Pen()
    shop = worked_on(path, pen)
    import_history(shop, pen.by("F01"), records=past(shop, pen.now), source="old.csv")
    take_in(shop, Hands(pen.now))
    shop.close()
    return path, pen.now, pen.made
