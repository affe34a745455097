"""`workbook adopt`: the book says from now on what was learned."""

from __future__ import annotations

from collections.abc import Sequence

from tui import deeds
from tui.cli.answer import Answer
from tui.cli.call import Call
from tui.cli.usage import WRITING, Argument, Command, Option, WrongUsage

OPERATION = Argument("OPERATION", "its code, like CL; of an access phase the access's too", False)
PHASE = Argument(
    "PHASECODE", "the phase's code, like CL3; then more: CL CL3 TC TC4", False, many=True
)


def adopt(call: Call) -> Answer:
    """Take in what has not taught yet, then let the book say it."""
    typed = call.typed
    pairs = _pairs([*typed.all(OPERATION.name), *typed.all(PHASE.name)])
    family = typed.maybe("family")
    if typed.has("all") == bool(pairs):
        raise WrongUsage("workbook adopt takes OPERATION PHASECODE, or --all: one of them.")
    if family is not None and len(pairs) != 1:
        raise WrongUsage("--family goes with one OPERATION PHASECODE.")
    call.badge()  # whoever does not say who acts waits for no learner
    from tui.learner import take_in

    take_in(call.shop, call.terminal.clock)
    lines = [(operation, phase, family) for operation, phase in pairs] or None
    return call.done(deeds.adopt(lines))


def _pairs(words: Sequence[str]) -> list[tuple[str, str]]:
    if len(words) % 2:
        raise WrongUsage(f"{words[-1]!r} stands alone: after each OPERATION comes its PHASECODE.")
    return list(zip(words[::2], words[1::2], strict=True))


COMMANDS = (
    Command(
        ("workbook", "adopt"), "Lets the book say what was learned: a new version.", adopt,
        "workbook adopt CL CL3 --as A01", (OPERATION, PHASE),
        (
            Option("family", "KEY", "hours of this family only, like B4-M-F"),
            Option("all", "", "all that surely differs, as the month lists it"),
            *WRITING,
        ),
        more="Jobs that are taken keep the book they were taken with. undo brings the book "
        "before back, as the next version.",
    ),
)  # fmt: skip
