"""What a technician does at the line, by keys: each with what acknowledges it on the glass."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import count
from random import Random

from store.views.values import Bay
from tests.end_to_end.pty_terminal import PtyTerminal

OFF_ON = ("clocked-off", "clocked-on")
OFF_AWAY = ("clocked-off", "clocked-indirect")
SIGNED = ("step-signed",)
TAKEN_BACK = 0.7
"""Of steps, so that some are left for the next."""
RECEPTION = "1"
"""The phase of every job that nothing blocks."""


@dataclass(frozen=True, slots=True)
class Act:
    """One act.

    Attributes:
        keys: typed without a pause: what comes ahead of a form lands in the form.
        says: the glass shows it once it is done, and not before.
        kinds: of its entries, in their order; all of them or none.
        word: stands in what is recorded.
        back: the key from where it leads.
    """

    keys: tuple[str, ...]
    says: str
    kinds: tuple[str, ...]
    word: str = ""
    back: str = ""


def clocked(view: Bay) -> tuple[str, ...]:
    """What the glass must show of the clock as the shop file has it."""
    clock = view.clock
    if clock is None:
        return ("NO CLOCK",)
    if clock.job is not None:
        return ("CLOCK RUNS", f"{clock.job}.{clock.phase}")
    return ("AWAY" if view.away_from else "BAY WORK",)


class Hands:
    """Does one thing after another, as the dice fall."""

    def __init__(self, dice: Random) -> None:
        self._dice, self._numbers = dice, count(1)

    def next(self, view: Bay, last: Act | None) -> Act:
        """What is done next at a bay, after what the glass acknowledged last."""
        clock = view.clock
        if last is not None and last.kinds == SIGNED and self._dice.random() < TAKEN_BACK:
            return Act(("0",), "Taken back: signed", ("undone", "signature-taken-back"))
        if clock is not None and clock.reason == "away":
            return Act((".",), "is back on", OFF_ON)
        if clock is None or clock.job is None:
            return next(self._over(view))
        return self._dice.choice(list(self._on_a_job(view, clock.job)))

    def _on_a_job(self, view: Bay, job: str) -> Iterator[Act]:
        word = f"seen{next(self._numbers)}x{self._dice.randrange(10**6)}"
        yield Act((".",), "was called away", OFF_AWAY)
        yield Act(("6", "1"), "clocked on tidying", OFF_AWAY)
        yield Act(("5", "3", word, "Enter", "Enter"), f"reported, {word}", ("found",), word)
        yield Act(("F4", job, "Enter", "n", word, "Enter"), f"Noted on {job}: {word}",
                  ("job-noted",), word, back="F2")  # fmt: skip
        yield from self._over(view)
        yield from _step(view, job)

    def _over(self, view: Bay) -> Iterator[Act]:
        running = (view.clock.job, view.clock.phase) if view.clock else (None, None)
        others = [one for one in view.choices if (one.job, one.phase) != running][:9]
        fit = [n for n, one in enumerate(others, 1) if one.phase == RECEPTION]
        if fit:
            digit = self._dice.choice(fit)
            yield Act(("2", str(digit)), f"over to {others[digit - 1].job}.{RECEPTION}", OFF_ON)


def _step(view: Bay, job: str) -> Iterator[Act]:
    """The next step of the reception, which holds no hold point."""
    phase = next((one for one in view.card.phases if one.number == view.phase), None) \
        if view.card is not None else None  # fmt: skip
    todo = [one for one in phase.steps if one.state != "done"] if phase else []
    if phase is not None and todo and phase.number == RECEPTION and todo[0].kind == "step":
        yield Act(("3",), f"{RECEPTION}.{todo[0].step} done", SIGNED)


def press(at: PtyTerminal, act: Act) -> None:
    """Type its keys."""
    at.keys(*act.keys)


def acknowledged(at: PtyTerminal, act: Act) -> bool:
    """Whether the glass says that it is done."""
    return act.says in at.flat
