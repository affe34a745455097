"""`finish`, `hold`, `release`, `skip`, `reopen`: the state of a phase."""

from __future__ import annotations

from typing import cast

from store.actions import holding, phases
from tui.cli.answer import Answer
from tui.cli.call import Call
from tui.cli.usage import WRITING, Argument, Command, Option

PHASE = Argument("JOB.PHASE", "the phase, like 2417.4")
JOB_OR_PHASE = Argument("JOB[.PHASE]", "the job, or one phase of it")


def finish(call: Call) -> Answer:
    job, phase = call.typed.phase()
    return call.done(
        lambda shop, by: phases.finish(
            shop, by, job=job, phase=phase, why=call.typed.maybe("why")
        )
    )  # fmt: skip


def hold(call: Call) -> Answer:
    job, phase = call.typed.job_or_phase()
    until = call.instant("until")
    return call.done(
        lambda shop, by: holding.hold(
            shop, by, job=job, phase=phase, until=until,
            reason=cast("holding.Reason", call.typed.text("reason")),
            next_move=call.typed.maybe("next"), text=call.typed.maybe("text"),
        )
    )  # fmt: skip


def release(call: Call) -> Answer:
    job, phase = call.typed.job_or_phase()
    return call.done(lambda shop, by: holding.release(shop, by, job=job, phase=phase))


def skip(call: Call) -> Answer:
    job, phase = call.typed.phase()
    reason = call.typed.text("reason")
    return call.done(lambda shop, by: phases.skip(shop, by, job=job, phase=phase, reason=reason))


def reopen(call: Call) -> Answer:
    job, phase = call.typed.phase()
    return call.done(
        lambda shop, by: phases.reopen(
            shop, by, job=job, phase=phase, why=call.typed.maybe("why")
        )
    )  # fmt: skip


COMMANDS = (
    Command(
        ("finish",), "Finishes a phase; clocks on it stop.", finish, "finish 2417.4 --as B12",
        (PHASE,),
        (Option("why", "TEXT", "why it took longer than its cautious hours"), *WRITING),
        more="Refused while a hold point or decision in it is open.",
    ),
    Command(
        ("hold",), "Holds a phase or a whole job; clocks on it stop.", hold,
        "hold 2417.4 --reason parts --until 2026-10-16T09:00 --next supplier --as B12",
        (JOB_OR_PHASE,),
        (
            Option("reason", "R", f"one of {', '.join(holding.REASONS)}", needed=True,
                   choices=holding.REASONS),
            Option("until", "INSTANT", "when it is likely to go on"),
            Option("next", "WHO", "whose move it is"),
            Option("text", "TEXT", "what exactly is lacking"),
            *WRITING,
        ),
        more="Held already for the same reason, the end and the next move are told anew.",
    ),
    Command(
        ("release",), "Releases what holds a phase or a whole job.", release,
        "release 2417.4 --as B12", (JOB_OR_PHASE,), WRITING,
    ),
    Command(
        ("skip",), "Leaves a phase out.", skip,
        'skip 2417.4 --reason "done on the last visit" --as F1', (PHASE,),
        (Option("reason", "TEXT", "why it is not done", needed=True), *WRITING),
    ),
    Command(
        ("reopen",), "Opens a finished phase again: signatures on what was covered are void.",
        reopen, "reopen 2417.3 --as B12", (PHASE,),
        (Option("why", "TEXT", "why, in your words"), *WRITING),
    ),
)  # fmt: skip
