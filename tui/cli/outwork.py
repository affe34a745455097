"""`outwork …`: work of other firms."""

from __future__ import annotations

from collections.abc import Iterator

from store.actions import outwork
from store.views.outside import away
from store.views.outside_values import OutworkLine
from tui import words
from tui.cli import json_outside
from tui.cli.answer import Answer, encoded
from tui.cli.call import Call
from tui.cli.days_typed import by_when
from tui.cli.text_floor import WIDTH
from tui.cli.typed import readings
from tui.cli.usage import READING, WRITING, Argument, Command, Option, WrongUsage
from tui.job.outside_words import day_words

PHASE = Argument("JOB.PHASE", "a phase of outwork, like 2417.6")
PROMISED = Option("promised", "WHEN", "a day or an instant on which the firm says that it is back")
CHASE = Option("chase", "DATE", "the day on which the firm is to be asked")


def show(call: Call) -> Answer:
    call.check_reader()
    found, zone = away(call.shop), call.terminal.zone
    if call.as_json:
        return Answer((encoded({"away": [json_outside.outwork(one, zone) for one in found]}),))
    return Answer(_lines(found, call) if found else ("Nothing is away.",))


def _lines(found: tuple[OutworkLine, ...], call: Call) -> Iterator[str]:
    zone, now = call.terminal.zone, call.terminal.clock.use()
    for one in found:
        yield words.cut(f"{one.job}.{one.phase} {one.name}, {one.vehicle}", WIDTH)
        yield words.cut(f"  {one.what}, at {one.firm}", WIDTH)
        said = [f"sent {words.day_time(one.sent_at, zone, now)}"]
        said += [f"promised {words.day_time(one.promised, zone, now)}"] if one.promised else []
        said += [f"to be asked {day_words(one.chase)}"] if one.chase else []
        said += [f"says: {one.said}"] if one.said else []
        yield words.cut(f"  {', '.join(said)}", WIDTH)


def send(call: Call) -> Answer:
    job, phase = call.typed.phase()
    promised, chase = by_when(call, "promised"), call.typed.date("chase")
    price = call.typed.number("price")
    return call.done(
        lambda shop, by: outwork.send(
            shop, by, job=job, phase=phase, what=call.typed.text("what"),
            firm=call.typed.text("firm"), promised=promised, chase=chase, price=price,
        )
    )  # fmt: skip


def chase(call: Call) -> Answer:
    job, phase = call.typed.phase()
    promised, again = by_when(call, "promised"), call.typed.date("chase")
    return call.done(
        lambda shop, by: outwork.chase(
            shop, by, job=job, phase=phase, said=call.typed.text("said"), promised=promised,
            chase=again,
        )
    )  # fmt: skip


def back(call: Call) -> Answer:
    job, phase = call.typed.phase()
    measured, answered = readings(call.typed.all("reading")), _answers(call)
    price = call.typed.number("price")
    return call.done(
        lambda shop, by: outwork.receive(
            shop, by, job=job, phase=phase, report=call.typed.maybe("report"), readings=measured,
            answers=answered, price=price,
        )
    )  # fmt: skip


def _answers(call: Call) -> dict[str, str]:
    """`[STEP=]CODE`: the step "" is the only decision."""
    found: dict[str, str] = {}
    for one in call.typed.all("answer"):
        step, sign, code = one.rpartition("=")
        if not code.strip() or (sign and not step.strip()) or step.strip() in found:
            raise WrongUsage(f"--answer {one}: write it CODE, or STEP=CODE, each step once.")
        found[step.strip()] = code.strip()
    return found


COMMANDS = (
    Command(
        ("outwork",), "Shows what is away at other firms, and when it was promised.", show,
        "outwork", (), READING,
    ),
    Command(
        ("outwork", "send"), "Work of a phase goes to another firm.", send,
        'outwork send 2417.6 --what "cylinder head to be refaced" --firm "Facing Works" '
        "--promised 2026-10-19 --chase 2026-10-16 --price 210 --as B12",
        (PHASE,),
        (
            Option("what", "TEXT", "what goes there, and what is to be done", needed=True),
            Option("firm", "TEXT", "to whom", needed=True),
            PROMISED, CHASE, Option("price", "MONEY", "as it was said"), *WRITING,
        ),
        more="The phase begins with it, where it has not begun by itself.",
    ),
    Command(
        ("outwork", "chase"), "The firm was asked how far it is.", chase,
        'outwork chase 2417.6 --said "one day later" --promised 2026-10-20 --as B12', (PHASE,),
        (
            Option("said", "TEXT", "what it answered", needed=True), PROMISED, CHASE, *WRITING,
        ),
    ),
    Command(
        ("outwork", "back"), "It is here again: its report is signed, the phase finished.", back,
        "outwork back 2417.6 --reading left=121.0 --reading right=120.8 --answer sound "
        "--price 230 --as B12",
        (PHASE,),
        (
            Option("report", "TEXT", "what the firm says of it"),
            Option("reading", "[STEP:][POSITION=]X", "a figure of the report, once a position",
                   many=True),
            Option("answer", "[STEP=]CODE", "the answer to a decision of the phase", many=True),
            Option("price", "MONEY", "what it came to"), *WRITING,
        ),
        more="Readings and answers go under the steps that ask for them; what is still open then "
        "keeps the phase open.",
    ),
)  # fmt: skip
