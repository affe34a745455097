"""`qualify`, `quote`, `agree`, `decline`, `turn-away`, `comeback`, `erase`, `quotes`."""

from __future__ import annotations

from collections.abc import Sequence
from typing import cast, get_args

from store.actions import comebacks, jobs
from store.actions.desk import acts
from store.actions.desk.check import Result
from tui.cli.answer import Answer, encoded
from tui.cli.call import Call
from tui.cli.desk import JOB
from tui.cli.typed import number
from tui.cli.usage import NOW, READING, WRITING, Argument, Command, Option, WrongUsage

BASIS = Option("basis", "BASIS", "who pays an overrun", choices=get_args(jobs.Basis))
CEILING = Option("ceiling", "MONEY", "the most that the customer pays, with --basis ceiling")
MEANS = Option("means", "TEXT", "how: telephone, in person, in writing")
BY = Option("by", "TEXT", "who said so: the customer, or a name, which stays outside the ledger")
WHY = Option("why", "TEXT", "the reason", needed=True)


def qualify(call: Call) -> Answer:
    job, text = call.typed.job(), call.typed.maybe("text")
    result = cast("Result", call.typed.text("result"))
    return call.done(lambda shop, by: acts.judge_check(shop, by, job=job, result=result, text=text))


def quote(call: Call) -> Answer:
    typed, job = call.typed, call.typed.job()
    promise, until, ceiling = call.instant("promise"), typed.date("until"), typed.number("ceiling")
    ways = _ways(typed.all("way"))
    return call.done(
        lambda shop, by: acts.quote(
            shop, by, job=job, ways=ways, basis=_basis(call), ceiling=ceiling, promise=promise,
            means=typed.maybe("means"), until=until, rough=typed.has("rough"),
            extras=typed.all("extra"),
        )
    )  # fmt: skip


def _basis(call: Call) -> jobs.Basis | None:
    return cast("jobs.Basis | None", call.typed.maybe("basis"))


def _ways(texts: Sequence[str]) -> list[acts.Way] | None:
    """`CL+RS` or `TC:build=B,disc=new`."""
    return [_way(one) for one in texts] or None


def _way(text: str) -> acts.Way:
    codes, sign, options = text.partition(":")
    pairs = [one.partition("=") for one in options.split(",")] if sign else []
    operations = [one.strip() for one in codes.split("+") if one.strip()]
    if not operations or any(not (key.strip() and value.strip()) for key, _, value in pairs):
        raise WrongUsage("--way is written CODE+CODE, or CODE:K=V,K=V, like TC:build=B.")
    return acts.Way(operations, {key.strip(): value.strip() for key, _, value in pairs})


def agree(call: Call) -> Answer:
    typed, job = call.typed, call.typed.job()
    basis = cast("jobs.Basis", typed.text("basis"))
    ceiling, free, chance = typed.number("ceiling"), typed.number("free"), typed.number("chance")
    promise, quoted = call.instant("promise"), typed.whole("quote")
    ahead = [_ahead(one) for one in typed.all("ahead")]
    return call.done(
        lambda shop, by: acts.agree(
            shop, by, job=job, basis=basis, said_by=typed.maybe("by") or "",
            means=typed.maybe("means") or "", ceiling=ceiling, quote=quoted,
            operations=typed.all("operation") or None, ahead=ahead, free_hand=free,
            promise=promise, chance=chance,
        )
    )  # fmt: skip


def _ahead(text: str) -> acts.AnsweredAhead:
    """`ABOUT=ANSWER` or `ABOUT=ANSWER=MONEY`."""
    parts = [one.strip() for one in text.split("=")]
    if len(parts) not in (2, 3) or not all(parts):
        raise WrongUsage(
            "--ahead is written ABOUT=ANSWER, with money ABOUT=ANSWER=MONEY, like "
            '"stud breaks=go on=150".'
        )
    money = number(parts[2], "--ahead") if len(parts) == 3 else None
    return acts.AnsweredAhead(about=parts[0], answer=parts[1], money=money)


def decline(call: Call) -> Answer:
    typed, job = call.typed, call.typed.job()
    return call.done(
        lambda shop, by: acts.decline(
            shop, by, job=job, why=typed.text("why"), said_by=typed.maybe("by"),
            means=typed.maybe("means"),
        )
    )  # fmt: skip


def turn_away(call: Call) -> Answer:
    job, why = call.typed.job(), call.typed.text("why")
    return call.done(lambda shop, by: acts.turn_away(shop, by, job=job, why=why))


def comeback(call: Call) -> Answer:
    typed, job = call.typed, call.typed.job()
    of, phase = typed.job_or_phase("of")
    fault = cast("comebacks.Fault", typed.maybe("fault") or "not known yet")
    pays = cast("comebacks.Pays", typed.maybe("pays") or "shop")
    return call.done(
        lambda shop, by: acts.come_back(
            shop, by, job=job, of=of, phase=phase, cause=typed.text("cause"), fault=fault,
            pays=pays,
        )
    )  # fmt: skip


def erase(call: Call) -> Answer:
    typed = call.typed
    if typed.has("CUSTOMER") == typed.has("job"):
        raise WrongUsage("erase takes a customer's id, or --job JOB for the customer of that job.")
    found = (
        acts.customer_id(call.shop, typed.job("job"))
        if typed.has("job")
        else typed.text("CUSTOMER")
    )
    return call.done(lambda shop, by: acts.erase_customer(shop, by, customer=found))


def quotes(call: Call) -> Answer:
    from store.views.quotes import quotes_and_outcomes
    from tui.cli import json_desk, text_desk

    months = call.typed.whole("months")
    if months is not None and not 1 <= months <= 240:
        raise WrongUsage("--months is 1 to 240.")
    found = quotes_and_outcomes(call.shop, call.reading_at(), 12 if months is None else months)
    if call.as_json:
        return Answer((encoded(json_desk.outcomes(found, call.terminal.zone)),))
    return Answer(text_desk.outcomes(found))


COMMANDS = (
    Command(
        ("qualify",), "Says what the qualifying check came to.", qualify,
        "qualify 2417 --result pass --as F1", (JOB,),
        (
            Option("result", "RESULT", "what it came to", needed=True, choices=get_args(Result)),
            Option("text", "TEXT", "the conditions, or why it failed"), *WRITING,
        ),
        more="Passed only when its phases are finished and signed and no clock runs on them.",
    ),
    Command(
        ("quote",), "Gives a quote, or by voice a rough range: hours and money, both ways of a "
        "fork.", quote,
        "quote 2417 --basis ceiling --ceiling 1800 --means telephone --until 2026-10-30 --as F1",
        (JOB,),
        (
            Option("rough", "", "a range told by voice; the job stays in its state"),
            BASIS, CEILING, Option("promise", "INSTANT", "by when it would be done"), MEANS,
            Option("until", "DATE", "the last day on which it holds"),
            Option("way", "CODE+CODE[:K=V,…]", "a way to quote; else the chosen work", many=True),
            Option("extra", "TEXT", "neighbouring work offered with it", many=True), *WRITING,
        ),
    ),
    Command(
        ("agree",), "Writes the customer's word down: the estimate is frozen, the job waits.",
        agree,
        'agree 2417 --basis ceiling --ceiling 1800 --by "the customer" --means telephone --as F1',
        (JOB,),
        (
            Option("basis", "BASIS", "who pays an overrun", needed=True,
                   choices=get_args(jobs.Basis)),
            CEILING, BY, MEANS,
            Option("quote", "N", "which quote; else the newest that is open"),
            Option("operation", "CODE", "what of it is agreed, where it is a part", many=True),
            Option("ahead", "ABOUT=ANSWER", "an answer in advance, with =MONEY", many=True),
            Option("free", "MONEY", "up to which extra work needs no call"),
            Option("promise", "INSTANT", "what the customer was told"),
            Option("chance", "P", "the chance that the promise was chosen at"), *WRITING,
        ),
    ),
    Command(
        ("decline",), "The customer does not want it; the vehicle goes back.", decline,
        'decline 2417 --why "too dear" --by "the customer" --means telephone --as F1', (JOB,),
        (WHY, BY, MEANS, *WRITING),
    ),
    Command(
        ("turn-away",), "The shop does not do it; the vehicle goes back.", turn_away,
        'turn-away 2417 --why "valves may have touched" --as F1', (JOB,), (WHY, *WRITING),
    ),
    Command(
        ("comeback",), "Links a job to the old one that it comes back from; it never teaches.",
        comeback,
        'comeback 2417 --of 2290.8 --cause "seal leaks again" --fault ours --pays shop --as F1',
        (JOB,),
        (
            Option("of", "JOB[.PHASE]", "the old job, or the phase to blame", needed=True),
            Option("cause", "TEXT", "what it is, or seems to be", needed=True),
            Option("fault", "FAULT", "whose", choices=get_args(comebacks.Fault)),
            Option("pays", "WHO", "who pays; else the shop", choices=get_args(comebacks.Pays)),
            *WRITING,
        ),
    ),
    Command(
        ("quotes",), "Shows quotes and what became of them, hours quoted, agreed and worked.",
        quotes, "quotes --months 6", (),
        (Option("months", "N", "so many months back; else 12"), NOW, *READING),
    ),
    Command(
        ("erase",), "Erases a customer's name and telephone; the technical record stays.", erase,
        "erase --job 2417 --as F1",
        (Argument("CUSTOMER", "the customer's id, as the ledger has it", needed=False),),
        (Option("job", "JOB", "instead: the customer of that job"), *WRITING),
        more="Refused while a job of that customer is open. A backup made before still has them.",
    ),
)  # fmt: skip
