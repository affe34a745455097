"""How sure it is that a job's hired kits go back on their day."""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime

from store.sums.working_time import Calendar
from store.views.parts_values import KitOnCard
from store.views.tools.kit_needs import JobNeed, kit_needs


def with_chances(
    db: sqlite3.Connection, calendar: Calendar, now: datetime, job: str,
    kits: Sequence[KitOnCard],
) -> tuple[KitOnCard, ...]:  # fmt: skip
    """Return the kits of a job, hired ones with the chance of going back in time."""
    dated = {one.code for one in kits if one.hire is not None and one.hire.due is not None}
    if not dated:
        return tuple(kits)
    needs = kit_needs(db, calendar, now, dated)
    return tuple(_with_chance(one, job, needs.get(one.code, ())) for one in kits)


def _with_chance(kit: KitOnCard, job: str, needs: Sequence[JobNeed]) -> KitOnCard:
    due = None if kit.hire is None else kit.hire.due
    own = [one for one in needs if one.job == job]
    if due is None or not own:
        return kit
    late = sum(
        any(since < until and until > due for since, until in row)
        for row in zip(*(one.draws for one in own), strict=True)
    )
    return replace(kit, in_time=1 - late / len(own[0].draws))
