"""`hire arrived`, `hire deposit`, `hire invoice`: what follows when a kit was sent back."""

from __future__ import annotations

from store.actions.hires import asked as hires
from store.actions.hires.kits_found import ANY
from tui.cli.answer import Answer
from tui.cli.call import Call
from tui.cli.usage import WRITING, Argument, Command, Option

KIT = Argument("KIT", "its code in the work book")
FOR = Option("job", "JOB|any", "for which job it was hired, where that is not plain")
NOTE = Option("note", "TEXT", "what the supplier says of it")


def whose(call: Call, name: str = "job") -> str | None:
    """The job that was typed, or `any`; None where none was."""
    typed = call.typed.maybe(name)
    if typed is None:
        return None
    return ANY if typed.strip().lower() == ANY else call.typed.job(name)


def _amount(call: Call, name: str = "amount") -> float:
    return call.typed.number(name) or 0.0


def arrived(call: Call) -> Answer:
    typed = call.typed
    return call.done(
        lambda shop, by: hires.arrived(
            shop, by, kit=typed.text("KIT"), job=whose(call), note=typed.maybe("note")
        )
    )


def deposit(call: Call) -> Answer:
    amount, typed = _amount(call), call.typed
    return call.done(
        lambda shop, by: hires.deposit(
            shop, by, kit=typed.text("KIT"), job=whose(call), amount=amount,
            note=typed.maybe("note"),
        )
    )  # fmt: skip


def invoice(call: Call) -> Answer:
    amount, late = _amount(call), _amount(call, "late-fee")
    extras, typed = _amount(call, "extras"), call.typed
    return call.done(
        lambda shop, by: hires.invoice(
            shop, by, kit=typed.text("KIT"), job=whose(call), amount=amount, late_fee=late,
            extras=extras, note=typed.maybe("note"),
        )
    )  # fmt: skip


AMOUNT = Option("amount", "MONEY", "how much", needed=True)
SETTLED = (
    Command(
        ("hire", "arrived"), "The supplier has a kit again, and has looked it through.", arrived,
        "hire arrived LS --as B12", (KIT,), (FOR, NOTE, *WRITING),
    ),
    Command(
        ("hire", "deposit"), "The deposit of a kit came back.", deposit,
        "hire deposit LS --amount 300 --as F1", (KIT,), (AMOUNT, FOR, NOTE, *WRITING),
    ),
    Command(
        ("hire", "invoice"), "What a hire came to.", invoice,
        "hire invoice LS --amount 214.50 --late-fee 34 --as F1", (KIT,),
        (
            Option("amount", "MONEY", "all of it, the parts below included", needed=True),
            Option("late-fee", "MONEY", "of that: for going back late"),
            Option("extras", "MONEY", "of that: pieces, damage, cleaning"), FOR, NOTE, *WRITING,
        ),
    ),
)  # fmt: skip
