"""Jobs at the desk of `shops.worked_on`, as far as somebody has come with them."""

from __future__ import annotations

import re
from datetime import timedelta

from store.actions import clock, phases, places, steps
from store.actions.desk import acts as desk
from store.file.shop import Shop
from store.views.job import job_card
from store.views.values import Asked, PhaseLine, StepLine
from tests.tui.shops import Pen

JOB = "1004"
OWNER = ("Anna Berg", "0612 345 678")
FAMILY = "B4-M-F"


def called(shop: Shop, pen: Pen, vehicle: str = "old saloon", family: str = "") -> None:
    """Somebody rang about a clutch."""
    desk.enquire(
        shop, pen.by("F01"), vehicle=vehicle, complaint="clutch judders", customer=OWNER,
        family=family,
    )  # fmt: skip


def chosen(shop: Shop, pen: Pen) -> None:
    """Its work is chosen: clutch and rear main seal."""
    called(shop, pen)
    desk.choose_work(shop, pen.by("F01"), job=JOB, operations=["CL", "RS"], family=FAMILY)


def here(shop: Shop, pen: Pen) -> None:
    """It is here; its check is laid."""
    chosen(shop, pen)
    desk.arrive(shop, pen.by("F01"), job=JOB, odometer=84_200, unit="km", place="yard")


def in_check(shop: Shop, pen: Pen) -> None:
    """Its check is finished, and nobody has judged it."""
    here(shop, pen)
    places.move(shop, pen.by("F01"), job=JOB, place="3", lift=True)
    through_check(shop, pen, JOB)


def quoted(shop: Shop, pen: Pen) -> None:
    """It passed, and was quoted."""
    in_check(shop, pen)
    desk.judge_check(shop, pen.by("F01"), job=JOB, result="pass")
    desk.quote(shop, pen.by("F01"), job=JOB, basis="fixed price", means="telephone")


def through_check(shop: Shop, pen: Pen, job: str) -> None:
    """Work, sign and finish every phase that is laid before the work is agreed."""
    while phase := _next_phase(shop, pen, job):
        clock.clock_on(shop, pen.by("B13", 10), job=job, phase=phase.number)
        for step in phase.steps:
            _sign(shop, pen, (job, phase.number), step)
        phases.finish(shop, pen.by("B13", 10), job=job, phase=phase.number)


def _next_phase(shop: Shop, pen: Pen, job: str) -> PhaseLine | None:
    card = job_card(shop, job, pen.now + timedelta(minutes=1))
    return next((one for one in card.phases if one.state in ("to come", "under way")), None)


def _sign(shop: Shop, pen: Pen, where: tuple[str, str], step: StepLine) -> None:
    job, phase = where
    readings = {one.name: _fitting(one) for one in step.asks} or None
    answer = step.answers[0][0] if step.kind == "decision" else None
    for badge in ("B13", "F01")[: step.signs]:
        steps.sign(
            shop, pen.by(badge), job=job, phase=phase, step=step.step, readings=readings,
            answer=answer,
        )  # fmt: skip


def _fitting(ask: Asked) -> float:
    """A value inside the limits, out of their words."""
    return float(re.findall(r"-?\d+(?:\.\d+)?", ask.limits.replace(",", ""))[0])
