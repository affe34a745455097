"""`hire …`: kits that are hired by the day."""

from __future__ import annotations

from store.actions import hires
from tui.cli.answer import Answer
from tui.cli.call import Call
from tui.cli.days_typed import by_when
from tui.cli.tools import ADVISE
from tui.cli.usage import WRITING, Argument, Command, Option, WrongUsage

KIT = Argument("KIT", "its code in the work book")
FOR = Option("job", "JOB", "for which job it is hired, where that is not plain")


def ask(call: Call) -> Answer:
    expected, due = by_when(call, "expected"), by_when(call, "due")
    return call.done(
        lambda shop, by: hires.ask(
            shop, by, kit=call.typed.text("KIT"), supplier=call.typed.text("supplier"),
            job=_job(call), expected=expected, due=due,
        )
    )  # fmt: skip


def _job(call: Call) -> str | None:
    return call.typed.job("job") if call.typed.has("job") else None


def receive(call: Call) -> Answer:
    due = by_when(call, "due")
    return call.done(
        lambda shop, by: hires.receive(
            shop, by, kit=call.typed.text("KIT"), job=_job(call), due=due,
            complete=not call.typed.has("incomplete"), note=_note(call),
        )
    )  # fmt: skip


def _note(call: Call) -> str | None:
    lacks, note = call.typed.maybe("incomplete"), call.typed.maybe("note")
    if lacks is not None and note is not None:
        raise WrongUsage("Give --incomplete or --note, one of them.")
    return lacks or note


def extend(call: Call) -> Answer:
    due = by_when(call, "due")
    assert due is not None
    return call.done(
        lambda shop, by: hires.extend(shop, by, kit=call.typed.text("KIT"), job=_job(call), due=due)
    )


def give_back(call: Call) -> Answer:
    pieces = call.typed.whole("pieces")
    return call.done(
        lambda shop, by: hires.send_back(
            shop, by, kit=call.typed.text("KIT"), job=_job(call), pieces=pieces,
            complete=not call.typed.has("incomplete"), note=_note(call),
        )
    )  # fmt: skip


def cancel(call: Call) -> Answer:
    return call.done(
        lambda shop, by: hires.cancel(shop, by, kit=call.typed.text("KIT"), job=_job(call))
    )


LOOKED = (
    Option("incomplete", "TEXT", "it is not complete: what lacks"),
    Option("note", "TEXT", "what is to be remembered of it"),
)
COMMANDS = (
    ADVISE,
    Command(
        ("hire", "ask"), "A kit was asked for at a supplier's.", ask,
        "hire ask LS --supplier Loan --job 2417 --expected 2026-10-15 --due 2026-10-20 --as F1",
        (KIT,),
        (
            Option("supplier", "TEXT", "who hires it out", needed=True), FOR,
            Option("expected", "WHEN", "a day or an instant on which it is to be here"),
            Option("due", "WHEN", "when it is to be handed to the carrier again"), *WRITING,
        ),
    ),
    Command(
        ("hire", "receive"), "A hired kit is here, looked through against its list.", receive,
        "hire receive LS --as B12", (KIT,),
        (FOR, *LOOKED, Option("due", "WHEN", "when it goes back, where nobody said yet"), *WRITING),
    ),
    Command(
        ("hire", "extend"), "A hired kit goes back on another day.", extend,
        "hire extend LS --due 2026-10-22 --as F1", (KIT,),
        (Option("due", "WHEN", "the day or instant", needed=True), FOR, *WRITING),
    ),
    Command(
        ("hire", "return"), "A hired kit was handed to the carrier, its pieces counted.",
        give_back, "hire return LS --pieces 7 --as B12", (KIT,),
        (Option("pieces", "N", "how many were counted"), FOR, *LOOKED, *WRITING),
    ),
    Command(
        ("hire", "cancel"), "A kit that was asked for is not wanted any more.", cancel,
        "hire cancel LS --as F1", (KIT,), (FOR, *WRITING),
    ),
)  # fmt: skip
