"""`clock …`: labour on a phase, or on no job."""

from __future__ import annotations

from typing import cast, get_args

from store.actions import clock, day_sheet
from store.edges.events.base import Part
from tui.cli.answer import Answer
from tui.cli.call import Call
from tui.cli.typed import phase
from tui.cli.usage import WRITING, Argument, Command, Option, WrongUsage

PHASE = Argument("JOB.PHASE", "the phase, like 2417.4")
PARTS = get_args(Part)
PART = Option(
    "part", "PART", "lead does the work, helper lends a hand, learner learns", choices=PARTS
)
WHERE = Argument("JOB.PHASE|REASON", "the phase, or the reason of time on no job")
SINCE = Option("from", "INSTANT", "when it began")
UNTIL = Option("until", "INSTANT", "when it ended")
LET = Option("why", "TEXT", "why a foreman begins it without a kit that lacks")
WHY = Option("why", "TEXT", "why, in your words")


def part_of(call: Call) -> Part | None:
    """The part that was typed."""
    return cast("Part | None", call.typed.maybe("part"))


def where_of(text: str) -> day_sheet.Where:
    """`2417.4`, or a reason of time on no job."""
    if text in clock.INDIRECT:
        return day_sheet.Where(reason=text)
    if not text[:1].isdecimal():
        raise WrongUsage(
            f"{text!r} is neither a phase like 2417.4 nor one of {', '.join(clock.INDIRECT)}."
        )
    job, number = phase(text)
    return day_sheet.Where(job=job, phase=number)


def on(call: Call) -> Answer:
    job, number = call.typed.phase()
    return call.done(
        lambda shop, by: clock.clock_on(
            shop, by, job=job, phase=number, part=part_of(call), why=call.typed.maybe("why")
        )
    )


def over(call: Call) -> Answer:
    job, number = call.typed.phase()
    return call.done(
        lambda shop, by: clock.clock_over(
            shop, by, job=job, phase=number, part=part_of(call), badge=call.typed.maybe("of"),
            why=call.typed.maybe("why"),
        )
    )  # fmt: skip


def off(call: Call) -> Answer:
    return call.done(clock.clock_off)


def away(call: Call) -> Answer:
    return call.done(clock.clock_away)


def back(call: Call) -> Answer:
    return call.done(clock.clock_back)


def indirect(call: Call) -> Answer:
    reason = call.typed.text("REASON")
    return call.done(lambda shop, by: clock.clock_indirect(shop, by, reason=reason))


def enter(call: Call) -> Answer:
    where = where_of(call.typed.text(WHERE.name))
    since, until = call.instant("from"), call.instant("until")
    assert since is not None
    assert until is not None
    return call.done(
        lambda shop, by: day_sheet.enter_clock(
            shop, by, where=where, since=since, until=until, badge=call.typed.maybe("of"),
            part=part_of(call) or "lead", breaks_worked=call.typed.has("breaks-worked"),
            why=call.typed.maybe("why"),
        )
    )  # fmt: skip


COMMANDS = (
    Command(
        ("clock", "on"), "Starts your clock on a phase.", on, "clock on 2417.4 --as B12",
        (PHASE,), (PART, LET, *WRITING),
    ),
    Command(
        ("clock", "over"), "Stops your clock and starts it on another phase, at one instant.",
        over, "clock over 2420.2 --as B12", (PHASE,),
        (PART, Option("of", "BADGE", "whose clock it is, where it is not yours"), LET,
         *WRITING),
    ),
    Command(
        ("clock", "off"), "Stops your clock.", off, "clock off --as B12", (), WRITING,
        more="A clock left running past the shift's end asks when it stopped: give it with --at.",
    ),
    Command(
        ("clock", "away"), "Called away: your clock leaves its phase until `clock back`.",
        away, "clock away --as B12", (), WRITING,
    ),
    Command(
        ("clock", "back"), "Back from being called away: your clock goes on where it was.",
        back, "clock back --as B12", (), WRITING,
    ),
    Command(
        ("clock", "indirect"), "Starts your clock on no job; one that runs is stopped.",
        indirect, "clock indirect tidying --as B12",
        (Argument("REASON", f"one of {', '.join(clock.INDIRECT)}", choices=clock.INDIRECT),),
        WRITING,
    ),
    Command(
        ("clock", "enter"), "Enters a whole clock from memory.", enter,
        "clock enter 2417.4 --from 2026-10-14T08:00 --until 2026-10-14T09:30 --as B12", (WHERE,),
        (
            Option(SINCE.name, SINCE.value, SINCE.says, needed=True),
            Option(UNTIL.name, UNTIL.value, UNTIL.says, needed=True),
            Option("of", "BADGE", "whose clock it was, where it was not yours"), PART,
            Option("breaks-worked", "", "the shop's breaks inside it were worked through"), WHY,
            *WRITING,
        ),
    ),
)  # fmt: skip
