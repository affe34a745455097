"""What a technician of `shops.worked_on` has come to before something is tried at the bay."""

from __future__ import annotations

from collections.abc import Callable
from datetime import timedelta

from store.actions import clock, day_sheet, holding, steps
from store.file.shop import Shop
from tests.tui.shops import Pen

Make = Callable[[Shop, Pen], None]


def nothing(shop: Shop, pen: Pen) -> None:
    """Ines is on reception of 1001 and has signed nothing."""


def off(shop: Shop, pen: Pen) -> None:
    """Ines has stopped her clock after an hour."""
    clock.clock_off(shop, pen.by("B12", 60))


def away(shop: Shop, pen: Pen) -> None:
    clock.clock_away(shop, pen.by("B12"))


def held(shop: Shop, pen: Pen) -> None:
    holding.hold(shop, pen.by("B12"), job="1001", phase="1", reason="tool")


def in_check(shop: Shop, pen: Pen) -> None:
    """Reception is signed; the clock runs on the check, whose first step is a hold point."""
    for step in range(1, 6):
        steps.sign(shop, pen.by("B12"), job="1001", phase="1", step=str(step))
    clock.clock_over(shop, pen.by("B12"), job="1001", phase="2")


def to_decide(shop: Shop, pen: Pen) -> None:
    """The check's question is next."""
    in_check(shop, pen)
    steps.sign(shop, pen.by("B12"), job="1001", phase="2", step="1", readings={"gross": 2100.0})
    for step in "234":
        steps.sign(shop, pen.by("B12"), job="1001", phase="2", step=step)


def second_name(shop: Shop, pen: Pen) -> None:
    """Ines has signed a hold point that takes two names."""
    to_decide(shop, pen)
    steps.sign(shop, pen.by("B12"), job="1001", phase="2", step="5", answer="pass")
    clock.clock_over(shop, pen.by("B12"), job="1001", phase="3")
    steps.sign(shop, pen.by("B12"), job="1001", phase="3", step="1", readings={"value": 10.0})
    for step in "2345":
        steps.sign(shop, pen.by("B12"), job="1001", phase="3", step=step)
    steps.sign(shop, pen.by("B12"), job="1001", phase="3", step="6")


def wrong_job(shop: Shop, pen: Pen) -> None:
    """Over to 1002 by mistake a quarter of an hour ago."""
    clock.clock_over(shop, pen.by("B12", 30), job="1002", phase="1")
    pen.now += timedelta(minutes=15)


def overlap(shop: Shop, pen: Pen) -> None:
    """Two stopped clocks, the second entered over the end of the first."""
    began = pen.now
    off(shop, pen)
    day_sheet.enter_clock(
        shop, pen.by("B12"), where=day_sheet.Where(reason="tidying"),
        since=began + timedelta(minutes=30), until=pen.now,
    )  # fmt: skip
