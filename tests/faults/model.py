"""Random acts of random people, each foretold by a small model of a workshop."""

from __future__ import annotations

import hashlib
from collections.abc import Generator
from contextlib import contextmanager
from functools import cache

import pytest
from hypothesis import HealthCheck, Phase, core, settings
from hypothesis.stateful import run_state_machine_as_test

from store.actions import jobs_now
from tests.faults.row import Outcome, Row, Tries
from tests.store.actions.machine import ShopMachine

STEPS = 80
"""Of one shop; the next begins anew."""


def _nothing(*_: object) -> None: ...


@contextmanager
def _as_asked(tries: Tries) -> Generator[pytest.MonkeyPatch]:
    """A PIN is reckoned once; nothing blocks work where the protection is taken out."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(hashlib, "scrypt", cache(hashlib.scrypt))
        if not tries.protected:
            for look in ("refuse_blocked", "refuse_workable_hold"):
                patch.setattr(jobs_now, look, _nothing)
        yield patch


def run(tries: Tries) -> Outcome:
    """Let people act until it was often enough, or something came out otherwise than foretold."""

    class Counted(ShopMachine):
        acts = taken = 0

    how = settings(
        max_examples=max(4, min(60, tries.times // STEPS)), stateful_step_count=STEPS,
        deadline=None, database=None, phases=(Phase.generate,),
        suppress_health_check=[HealthCheck.too_slow], report_multiple_bugs=False, print_blob=True,
    )  # fmt: skip
    lost, notes = 0, list[str]()
    with _as_asked(tries) as patch:
        while Counted.acts < tries.times and not lost:
            patch.setattr(core, "global_force_seed", tries.dice.getrandbits(64))
            try:
                run_state_machine_as_test(Counted, settings=how)
            except Exception as wrong:  # whatever it is, it is not as foretold
                lost, notes = 1, [f"{type(wrong).__name__}: {wrong}"]
    notes.append(f"{Counted.taken:,} acts were taken, the others refused, each as foretold")
    return Outcome(Counted.acts, 0, lost, Counted.acts - lost, tuple(notes))


ROWS = (
    Row(
        kind="random acts against a small model",
        made="hypothesis lets five people do twenty kinds of act in a shop of three phases; a "
        "second model in plain values foretells each",
        known="the act was called; taken or refused, clocks, states, holds, places, labour to the "
        "minute and the ledger's length are compared",
        without="the looks at holds and open hold points before work: a clock runs past one, which "
        "the model refuses",
        run=run, quick=60, long=8_000, bare=4_000,
    ),
)  # fmt: skip
