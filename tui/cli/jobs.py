"""`take`, `small`, `promise`, `close`, `note`, `mark`: a job's life."""

from __future__ import annotations

from datetime import datetime
from typing import cast, get_args

from store.actions import jobs, notes
from store.trouble import Refused
from store.views.job import job_card
from store.views.likely import hand_over
from tui.cli.answer import Answer, of_done
from tui.cli.call import Call
from tui.cli.outsiders import CUSTOMER, customer_of
from tui.cli.taking import TAKING, grade_of
from tui.cli.usage import WRITING, Argument, Command, Option, WrongUsage

JOB = Argument("JOB", "its number")
VEHICLE = Option("vehicle", "TEXT", "number plate, or how you call it", needed=True)
LIFT = Option("lift", "CODE", "the lift it goes on; else it waits")


def take(call: Call) -> Answer:
    typed = call.typed
    promise, grade = call.instant("promise"), grade_of(call)
    ceiling, mass = typed.number("ceiling"), typed.number("mass")
    customer = customer_of(call)
    done = call.act(
        lambda shop, by: jobs.take(
            shop, by, operations=typed.all("operation"), family=typed.text("family"),
            vehicle=typed.text("vehicle"), options=typed.pairs("option"), grade=grade,
            promise=promise, lift=typed.maybe("lift"), ceiling=ceiling, mass_kg=mass,
            basis=cast("jobs.Basis", typed.maybe("basis") or "fixed price"),
            complaint=typed.maybe("complaint"), customer=customer,
        )
    )  # fmt: skip
    return of_done(done, as_json=call.as_json, text=done.job)


def small(call: Call) -> Answer:
    typed = call.typed
    hours = typed.number("hours")
    done = call.act(
        lambda shop, by: jobs.take_small(
            shop, by, text=typed.text("text"), vehicle=typed.text("vehicle"), hours=hours,
            lift=typed.maybe("lift"),
        )
    )  # fmt: skip
    return of_done(done, as_json=call.as_json, text=done.job)


def promise(call: Call) -> Answer:
    job, at, chance = call.typed.job(), call.instant("INSTANT"), call.typed.number("chance")
    if (at is None) == (chance is None):
        raise WrongUsage("promise takes an instant, or --chance P from which one follows.")
    if chance is not None:
        at = _at_chance(call, job, chance)
    assert at is not None
    return call.done(lambda shop, by: jobs.promise(shop, by, job=job, at=at, chance=chance))


def _at_chance(call: Call, job: str, chance: float) -> datetime:
    """The instant by which the job is done with that chance, of the nineteen that are known."""
    if not 0.05 <= chance <= 0.95:
        raise WrongUsage("--chance is between 0.05 and 0.95: 0.8 is 8 in 10.")
    instants = job_card(call.shop, job, call.terminal.clock.use()).job.finish_quantiles
    if not instants:
        raise Refused(f"{job} has no work left: promise an instant, like 2026-10-15T16:00.")
    step = -(-round(chance * 10_000) // 500)
    return hand_over(instants[step - 1])


def close(call: Call) -> Answer:
    job = call.typed.job()
    return call.done(lambda shop, by: jobs.close(shop, by, job=job))


def note(call: Call) -> Answer:
    job, text = call.typed.job(), call.typed.text("TEXT")
    return call.done(lambda shop, by: notes.note(shop, by, job=job, text=text))


def mark(call: Call) -> Answer:
    job, phase = call.typed.job_or_phase()
    why = call.typed.text("why")
    return call.done(
        lambda shop, by: jobs.mark_not_teaching(shop, by, job=job, phase=phase, why=why)
    )


COMMANDS = (
    Command(
        ("take",), "Takes a job, agreed at once from its estimate; prints its number.", take,
        'take --operation CL --family B4-M-F --vehicle "panel van" --lift 1 --as F1', (),
        (
            *TAKING, VEHICLE,
            Option("promise", "INSTANT", "what the customer was told"), LIFT,
            Option("basis", "BASIS", "who pays an overrun", choices=get_args(jobs.Basis)),
            Option("ceiling", "MONEY", "the most that the customer pays"),
            Option("mass", "KG", "gross mass: the lift's capacity is checked against it"),
            Option("complaint", "TEXT", "what the customer said"),
            *CUSTOMER, *WRITING,
        ),
    ),
    Command(
        ("small",), "Takes a small job of one phase; prints its number.", small,
        'small --text "bulb changed" --vehicle "old saloon" --hours 0.5 --as B12', (),
        (
            Option("text", "TEXT", "what is to be done", needed=True), VEHICLE,
            Option("hours", "H", "its estimate, hours"), LIFT, *WRITING,
        ),
    ),
    Command(
        ("promise",), "Writes down what the customer was told, anew.", promise,
        "promise 2417 2026-10-15T16:00 --as F1",
        (JOB, Argument("INSTANT", "when it will be ready", needed=False)),
        (
            Option("chance", "P", "instead: the instant that holds with this chance, like 0.8"),
            *WRITING,
        ),
    ),
    Command(
        ("close",), "Closes a job: done and handed over; its clocks count as confirmed.", close,
        "close 2417 --as F1", (JOB,), WRITING,
        more="Refused while something of it is open, or a clock is left running; says what.",
    ),
    Command(
        ("note",), "Writes down what is to be remembered of a job, closed ones too.", note,
        'note 2417 "the customer wants the old parts back" --as B12',
        (JOB, Argument("TEXT", "what is to be remembered")), WRITING,
    ),
    Command(
        ("mark",), "Keeps a job, or one of its phases, out of what is learned.", mark,
        'mark 2417.4 --why "taught an apprentice" --as F1',
        (Argument("JOB[.PHASE]", "the job, or one phase of it"),),
        (Option("why", "TEXT", "why it does not teach", needed=True), *WRITING),
    ),
)  # fmt: skip
