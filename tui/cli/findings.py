"""`finding` and `supplement`: what was discovered, and the customer's word on it."""

from __future__ import annotations

from typing import Literal, cast

from store.actions import holding
from store.file.job_money import AHEAD
from tui.cli.answer import Answer
from tui.cli.call import Call
from tui.cli.typed import whole
from tui.cli.usage import WRITING, Argument, Command, Option, WrongUsage

FindingKind = Literal["surprise", "route-ends", "advice"]
KINDS = ("surprise", "route-ends", "advice")


def finding(call: Call) -> Answer:
    job, phase = call.typed.phase()
    hours, money = call.typed.number("hours"), call.typed.number("money")
    return call.done(
        lambda shop, by: holding.find(
            shop, by, job=job, phase=phase, kind=cast("FindingKind", call.typed.text("kind")),
            text=call.typed.text("text"), hours=hours, code=call.typed.maybe("code"),
            money=money,
        )
    )  # fmt: skip


def approve(call: Call) -> Answer:
    return _answer(call, approve=True)


def refuse(call: Call) -> Answer:
    return _answer(call, approve=False)


def _answer(call: Call, *, approve: bool) -> Answer:
    job = call.typed.job()
    lines = [whole(one, "--line N") for one in call.typed.all("line")]
    ceiling = call.typed.number("ceiling") if approve else None
    return call.done(
        lambda shop, by: holding.answer_supplement(
            shop, by, job=job, approve=approve, lines=lines, told_by=call.typed.maybe("by"),
            means=_means(call, approve=approve), ceiling=ceiling,
        )
    )  # fmt: skip


def _means(call: Call, *, approve: bool) -> str | None:
    means = call.typed.maybe("means")
    if not approve or not call.typed.has("ahead"):
        return means
    if means is not None:
        raise WrongUsage("Give --ahead or --means: what was agreed ahead came by no call.")
    return AHEAD


def note(call: Call) -> Answer:
    job = call.typed.job()
    lines = [whole(one, "--line N") for one in call.typed.all("line")]
    return call.done(
        lambda shop, by: holding.note_answer(
            shop, by, job=job, lines=lines, told_by=call.typed.maybe("by"),
            means=call.typed.maybe("means"),
        )
    )  # fmt: skip


ANSWER = (
    Option("line", "N", "only this line; else all that were asked", many=True),
    Option("by", "TEXT", "who gave the word"),
    Option("means", "TEXT", "how: telephone, in person, in writing"),
    *WRITING,
)

COMMANDS = (
    Command(
        ("finding",), "Reports what was discovered.", finding,
        'finding 2417.4 --kind surprise --text "stud broken off" --hours 2 --as B12',
        (Argument("JOB.PHASE", "the phase it was discovered in"),),
        (
            Option("kind", "KIND", "surprise adds work, route-ends stops it, advice holds nothing",
                   needed=True, choices=KINDS),
            Option("text", "TEXT", "what it is", needed=True),
            Option("hours", "H", "labour that it adds: then the customer is asked"),
            Option("money", "MONEY", "that the customer is asked for; else hours x rate"),
            Option("code", "CODE", "the work book's surprise, where it is one"),
            *WRITING,
        ),
    ),
    Command(
        ("supplement", "approve"), "The customer agrees to extra work.", approve,
        "supplement approve 2417 --by Vos --means telephone --as F1",
        (Argument("JOB", "its number"),),
        (
            Option("ceiling", "MONEY", "a new ceiling that was agreed with it"),
            Option("ahead", "", "agreed ahead: it is within what needs no call"), *ANSWER,
        ),
    ),
    Command(
        ("supplement", "refuse"), "The customer refuses extra work.", refuse,
        "supplement refuse 2417 --line 2 --as F1", (Argument("JOB", "its number"),), ANSWER,
    ),
    Command(
        ("supplement", "note"), "Says afterwards who gave the word, and how it came.", note,
        "supplement note 2417 --by Vos --means telephone --as F1",
        (Argument("JOB", "its number"),),
        (
            Option("line", "N", "only this line; else those answered last", many=True),
            *ANSWER[1:],
        ),
    ),
)  # fmt: skip
