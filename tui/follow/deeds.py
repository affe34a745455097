"""What is done at the end of a job and after it, ready to be done by whoever proves to be there.

The actions are imported where they run: they bring models that a first paint does not need.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import TYPE_CHECKING

from store.file.shop import By, Shop
from tui.deeds import Deed

if TYPE_CHECKING:
    from store.actions.acting import Done


@dataclass(frozen=True, slots=True)
class Handing:
    """What is said at a hand-over.

    Attributes:
        read: odometer and its unit; None was not read.
        kits: pieces counted by code of the kit.
    """

    read: tuple[float, str] | None = None
    to: str | None = None
    old_parts: str | None = None
    fluids: tuple[str, ...] = ()
    faults_before: str | None = None
    faults_after: str | None = None
    run_in: str | None = None
    warranty_months: int | None = None
    warranty_distance: float | None = None
    kits: Mapping[str, int] = field(default_factory=dict[str, int])
    missing: str | None = None
    photographs: str | None = None
    follows: bool = True


def hand_over(job: str, said: Handing) -> Deed:
    """Hand a vehicle over and close its job."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import handing_over

        value, unit = said.read or (None, None)
        return handing_over.hand_over(
            shop, by, job=job, odometer=value, unit=unit, to=said.to, old_parts=said.old_parts,
            fluids=said.fluids, faults_before=said.faults_before, faults_after=said.faults_after,
            run_in=said.run_in, warranty_months=said.warranty_months,
            warranty_distance=said.warranty_distance, kits=said.kits, missing=said.missing,
            photographs=said.photographs, follow_ups=None if said.follows else (),
        )  # fmt: skip

    return do


def set_one(job: str, what: str, who: str, day: date | None, distance_km: float | None) -> Deed:
    """Set something to be done after a job."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import follow_ups
        from store.rules.follow_ups import ToDo

        line = ToDo(what, who, day, distance_km)
        return follow_ups.set_follow_ups(shop, by, job=job, lines=[line])

    return do


def move(job: str, line: int, day: date | None, distance: float | None, why: str | None) -> Deed:
    """Do it on another day, or at another distance."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import follow_ups

        return follow_ups.move_follow_up(
            shop, by, job=job, line=line, day=day, distance=distance, why=why
        )

    return do


def done(job: str, line: int, outcome: str, *, dropped: bool = False) -> Deed:
    """Say what came of it."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import follow_ups

        return follow_ups.follow_up_done(
            shop, by, job=job, line=line, outcome=outcome, dropped=dropped
        )

    return do
