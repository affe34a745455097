"""Kinds of event about the owner's month: what an hour costs the shop."""

from __future__ import annotations

from typing import Annotated

from pydantic import Field

from store.edges.events.base import Event, Seq
from store.edges.events.desk import Money

Month = Annotated[str, Field(pattern=r"^[0-9]{4}-(0[1-9]|1[0-2])$")]
"""`2026-09`."""


class MonthCosts(Event):
    """What a month cost the shop, as its owner types it; said again, the newest stands."""

    kind = "month-costs"
    month: Month
    wages: Money
    """Of everybody who works here, with what goes to others on top."""
    overheads: Money
    """Rent, power, insurance, what wears out: not parts, not hires, not outwork."""


class MonthCostsTakenBack(Event):
    """Costs that were typed by mistake: what stood before stands again."""

    kind = "month-costs-taken-back"
    entry: Seq
