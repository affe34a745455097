"""`sign` and `limits`: names under steps, hold points and decisions."""

from __future__ import annotations

from store.actions import steps
from tui.cli.answer import Answer
from tui.cli.call import Call
from tui.cli.typed import readings
from tui.cli.usage import WRITING, Argument, Command, Option, WrongUsage

STEP = Argument("JOB.PHASE.STEP", "the step, like 2417.4.3")


def sign(call: Call) -> Answer:
    job, phase, step = call.typed.step()
    measured = readings(call.typed.all("reading"))
    return call.done(
        lambda shop, by: steps.sign(
            shop, by, job=job, phase=phase, step=step, readings=measured,
            answer=call.typed.maybe("answer"), as_is=call.typed.maybe("as-is"),
        )
    )  # fmt: skip


def limits(call: Call) -> Answer:
    job, phase, step = call.typed.step()
    low, high = call.typed.number("low"), call.typed.number("high")
    if low is None and high is None:
        raise WrongUsage("limits lacks --low X or --high X. Give one of them, or both.")
    return call.done(
        lambda shop, by: steps.type_limits(
            shop, by, job=job, phase=phase, step=step, reading=call.typed.text("READING"),
            low=low, high=high, source=call.typed.text("source"),
        )
    )  # fmt: skip


COMMANDS = (
    Command(
        ("sign",), "Puts your name under a step, hold point or decision.", sign,
        "sign 2417.4.3 --reading left=0.12 --reading right=0.14 --as B12", (STEP,),
        (
            Option("reading", "[POSITION=]X", "what was measured, once a position", many=True),
            Option("answer", "CODE", "the answer to a decision"),
            Option("as-is", "REASON", "a foreman lets a reading outside its limits stand"),
            *WRITING,
        ),
        more="The second signature of a hold point is the same command by another person.",
    ),
    Command(
        ("limits",), "Types the limits of a reading for this job, with their source.", limits,
        'limits 2417.4.3 end-float --low 0.05 --high 0.30 --source "service data, page 12" '
        "--as B12",
        (STEP, Argument("READING", "code of the reading")),
        (
            Option("low", "X", "least allowed value"),
            Option("high", "X", "greatest allowed value"),
            Option("source", "TEXT", "where the limits were taken from", needed=True),
            *WRITING,
        ),
    ),
)  # fmt: skip
