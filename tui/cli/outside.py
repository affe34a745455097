"""`call`, `ceiling` and `advice`: words from and to the customer."""

from __future__ import annotations

from collections.abc import Iterator
from typing import cast

from store.actions import advice, calls, ceilings
from store.trouble import Refused
from store.views.nameless import nameless_advice
from store.views.outside import advised
from store.views.outside_values import AdviceLine
from tui import words
from tui.cli import json_outside
from tui.cli.answer import Answer, encoded
from tui.cli.call import Call
from tui.cli.text_floor import WIDTH
from tui.cli.typed import number
from tui.cli.usage import WRITING, Argument, Command, Option, WrongUsage
from tui.job.outside_words import advice_words

JOB = Argument("JOB", "its number")
ANSWERS = ("declined", "later", "agreed")


def tried(call: Call) -> Answer:
    job, again = call.typed.job(), call.instant("again")
    return call.done(
        lambda shop, by: calls.note_call(
            shop, by, job=job, means=call.typed.text("means"), reached=call.typed.has("reached"),
            text=call.typed.maybe("text"), again=again,
        )
    )  # fmt: skip


def ceiling(call: Call) -> Answer:
    job, money = call.typed.job(), number(call.typed.text("MONEY"), "MONEY")
    return call.done(
        lambda shop, by: ceilings.set_ceiling(
            shop, by, job=job, ceiling=money, told_by=call.typed.text("by"),
            means=call.typed.text("means"),
        )
    )  # fmt: skip


def advise(call: Call) -> Answer:
    job, line = call.typed.job(), call.typed.whole("LINE")
    answer = call.typed.maybe("answer")
    if answer is None:
        return _shown(call, job, line)
    if line is None:
        raise WrongUsage(f"advice lacks LINE: which advice? See: hoistbook advice {job}.")
    hours = call.typed.number("hours")
    finding = _line(call, job, line).finding
    return call.done(
        lambda shop, by: advice.answer_advice(
            shop, by, job=job, finding=finding, answer=cast("advice.Answer", answer),
            risk_told=call.typed.has("risk-told"), told_by=call.typed.maybe("by"),
            means=call.typed.maybe("means"), hours=hours, phase=call.typed.maybe("phase"),
        )
    )  # fmt: skip


def _line(call: Call, job: str, line: int) -> AdviceLine:
    found = advised(call.shop, job)
    for one in found:
        if one.line == line:
            return one
    there = ", ".join(str(one.line) for one in found) or "none"
    raise Refused(f"{job} has no advice {line}. There is: {there}.")


def _shown(call: Call, job: str, line: int | None) -> Answer:
    found = (_line(call, job, line),) if line is not None else advised(call.shop, job)
    found = found if call.sees_names() else nameless_advice(found)
    if call.as_json:
        zone = call.terminal.zone
        return Answer((encoded({"advice": [json_outside.advice(one, zone) for one in found]}),))
    return Answer(_lines(found, call) if found else (f"Nothing was advised on {job}.",))


def _lines(found: tuple[AdviceLine, ...], call: Call) -> Iterator[str]:
    zone, now = call.terminal.zone, call.terminal.clock.use()
    for one in found:
        first, second = advice_words(one, zone, now)
        yield words.cut(first, WIDTH)
        yield words.cut(f"    {second}", WIDTH)


COMMANDS = (
    Command(
        ("call",), "Somebody tried to reach the customer.", tried,
        'call 2417 --means telephone --text "left word" --again 2026-10-14T14:00 --as F1', (JOB,),
        (
            Option("means", "TEXT", f"how: {', '.join(calls.MEANS)}, or your own words",
                   needed=True),
            Option("reached", "", "the customer was reached; else not"),
            Option("text", "TEXT", "what was said, or left"),
            Option("again", "INSTANT", "when to try again"), *WRITING,
        ),
    ),
    Command(
        ("ceiling",), "The customer agrees to another ceiling.", ceiling,
        "ceiling 2417 1400 --by customer --means telephone --as F1",
        (JOB, Argument("MONEY", "the new ceiling")),
        (
            Option("by", "TEXT", "who gave the word", needed=True),
            Option("means", "TEXT", "how: telephone, in person, in writing", needed=True), *WRITING,
        ),
    ),
    Command(
        ("advice",), "Shows what was advised on a job, or writes the customer's word on it down.",
        advise, "advice 2417 1 --answer declined --risk-told --means telephone --as F1",
        (JOB, Argument("LINE", "which advice", needed=False)),
        (
            Option("answer", "ANSWER", "declined, later or agreed", choices=ANSWERS),
            Option("risk-told", "", "the customer was told what may come of leaving it"),
            Option("by", "TEXT", "who gave the word; else the customer"),
            Option("means", "TEXT", "how it came"),
            Option("hours", "H", "that it takes, where it is agreed and nobody said"),
            Option("phase", "PHASE", "in which it is done, where that is another"),
            *WRITING,
        ),
        more="What is agreed becomes extra work that was approved.",
    ),
)  # fmt: skip
