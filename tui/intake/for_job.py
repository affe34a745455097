"""The intake for a job that the desk knows: its vehicle, work and complaint stand in the form."""

from __future__ import annotations

import asyncio
from dataclasses import replace
from typing import TYPE_CHECKING, Any

from store.views.desk.at_desk import AtDesk, VehicleFacts, VisitLine, at_desk, seen_before
from tui.desk import deeds
from tui.desk.words import visits_words
from tui.intake.state import Before, Form

if TYPE_CHECKING:
    from datetime import datetime

    from tui.parts.painted import Painted


async def known_of(screen: Painted[Any], job: str) -> AtDesk:
    """What the desk knows of a job.

    Raises:
        Refused: there is no such job.
    """
    session = screen.session
    sees = session.sees_customers
    return await asyncio.to_thread(
        lambda: at_desk(session.shop, job, session.now(), customers=sees)
    )


def form_of(here: AtDesk) -> Form:
    """The form as the desk knows the job."""
    vehicle = here.vehicle
    return Form(
        vehicle=vehicle.plate or vehicle.label, mass_kg=vehicle.mass_kg, family=here.family,
        work=tuple(code for code, _ in here.operations), told=here.complaint or "",
        options=here.options, grade=here.grade, customer=here.customer,
    )  # fmt: skip


def call_of(form: Form) -> deeds.Call:
    """What the form says, as it is taken down."""
    return deeds.Call(
        form.label, form.told or form.small or None, form.customer, form.work, form.family,
        dict(form.options), form.grade,
    )  # fmt: skip


def is_as_kept(form: Form, here: AtDesk) -> bool:
    """Whether the form says nothing of the work that the desk does not know."""
    kept = form_of(here)
    return kept == replace(
        form, lift=kept.lift, chance=kept.chance, day=kept.day, customer=kept.customer,
        vehicle=kept.vehicle if form.label == kept.label else form.vehicle,
        small_h=kept.small_h,
    )  # fmt: skip


def before_of(
    vehicle: VehicleFacts, visits: tuple[VisitLine, ...], now: datetime, zone: str
) -> Before | None:
    """That a vehicle was here before; None where it was not."""
    if not visits:
        return None
    says = visits_words(vehicle, visits, now, zone)
    return Before(says.removeprefix("here before: "), any(one.fresh for one in visits))


async def before_by_name(screen: Painted[Any], text: str) -> Before | None:
    """The same for a vehicle that was typed."""
    session, now = screen.session, screen.session.now()
    found = await asyncio.to_thread(lambda: seen_before(session.shop, text, now))
    return None if found is None else before_of(*found, now, screen.zone)
