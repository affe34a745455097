"""Every gauge of the work book shows something that its hold point takes."""

from __future__ import annotations

from functools import cache
from random import Random

import pytest

from demo.founding import workbook_text
from demo.gauges import can_be_out, shown, typed_limits
from store.edges.workbook.model import load
from store.rules.book import Step, WorkBook
from store.rules.readings import Verdict, judge


@cache
def book() -> WorkBook:
    return load(workbook_text())


def measured() -> list[tuple[str, Step]]:
    """Hold points with readings, by where they stand."""
    in_phases = [
        (f"{phase.code}.{step.code}", step)
        for phase in book().phases.values()
        for step in phase.steps
    ]
    everywhere = [(step.code, step) for step in book().hold_points]
    return [(name, step) for name, step in in_phases + everywhere if step.readings]


def verdict(step: Step, values: dict[str, float]) -> Verdict:
    limits = {one.code: typed_limits(one) for one in step.readings if one.typed}
    return judge(step.readings, values, limits=limits, lift_rated_kg=4000.0)


@pytest.mark.parametrize(("name", "step"), measured(), ids=[name for name, _ in measured()])
def test_what_is_shown_lies_inside_the_limits_or_outside_as_asked(name: str, step: Step) -> None:
    dice = Random(name)
    for _ in range(200):
        assert verdict(step, shown(dice, step, 2000.0)).ok
    if can_be_out(step):
        for _ in range(200):
            found = verdict(step, shown(dice, step, 2000.0, out=True))
            assert found.faults
            assert not found.missing
            assert not found.unknown
