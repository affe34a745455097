"""The action layer against the small model; the long run is a row of the table of faults."""

from __future__ import annotations

from hypothesis import settings
from hypothesis.stateful import run_state_machine_as_test

from tests.store.actions.machine import ShopMachine

QUICK = settings(max_examples=10, stateful_step_count=40)


def test_whatever_people_do_becomes_what_the_model_says() -> None:
    run_state_machine_as_test(ShopMachine, settings=QUICK)
