"""`hire …`: kits that are hired by the day, from asking to what they came to."""

from __future__ import annotations

from store.actions.hires import asked as hires
from store.actions.hires import kit_let
from store.actions.hires.kits_found import ANY
from tui.cli.answer import Answer
from tui.cli.call import Call
from tui.cli.days_typed import by_when
from tui.cli.hires_settled import SETTLED, whose
from tui.cli.suppliers import TERMS
from tui.cli.tools import ADVISE
from tui.cli.usage import WRITING, Argument, Command, Option, WrongUsage

KIT = Argument("KIT", "its code in the work book")
FOR = Option("job", "JOB|any", "for which job it is hired, where that is not plain")


def ask(call: Call) -> Answer:
    expected, due, typed = by_when(call, "expected"), by_when(call, "due"), call.typed
    return call.done(
        lambda shop, by: hires.ask(
            shop, by, kit=typed.text("KIT"), supplier=typed.maybe("supplier"), job=_job(call),
            expected=expected, due=due, why=typed.maybe("why"),
        )
    )  # fmt: skip


def _job(call: Call) -> str | None:
    return call.typed.job("job") if call.typed.has("job") else None


def receive(call: Call) -> Answer:
    due, valid, typed = by_when(call, "due"), call.typed.date("valid-until"), call.typed
    return call.done(
        lambda shop, by: hires.receive(
            shop, by, kit=typed.text("KIT"), job=whose(call), due=due,
            complete=not typed.has("incomplete"), note=_note(call), missing=typed.all("missing"),
            wrong=typed.has("wrong"), serial=typed.maybe("serial"), valid_until=valid,
        )
    )  # fmt: skip


def _note(call: Call) -> str | None:
    lacks, note = call.typed.maybe("incomplete"), call.typed.maybe("note")
    if lacks is not None and note is not None:
        raise WrongUsage("Give --incomplete or --note, one of them.")
    return lacks or note


def mend(call: Call) -> Answer:
    typed = call.typed
    return call.done(
        lambda shop, by: hires.mend(
            shop, by, kit=typed.text("KIT"), job=whose(call), note=typed.maybe("note")
        )
    )


def extend(call: Call) -> Answer:
    due = by_when(call, "due")
    assert due is not None
    return call.done(
        lambda shop, by: hires.extend(
            shop, by, kit=call.typed.text("KIT"), job=whose(call), due=due
        )
    )


def give(call: Call) -> Answer:
    to = whose(call, "to")
    return call.done(
        lambda shop, by: hires.give(
            shop, by, kit=call.typed.text("KIT"), job=whose(call), to=None if to == ANY else to
        )
    )


def give_back(call: Call) -> Answer:
    pieces, typed = call.typed.whole("pieces"), call.typed
    return call.done(
        lambda shop, by: hires.send_back(
            shop, by, kit=typed.text("KIT"), job=whose(call), pieces=pieces,
            complete=not typed.has("incomplete"), note=_note(call), dirty=typed.has("dirty"),
            damage=typed.maybe("damage"),
        )
    )  # fmt: skip


def cancel(call: Call) -> Answer:
    return call.done(
        lambda shop, by: hires.cancel(shop, by, kit=call.typed.text("KIT"), job=whose(call))
    )


def let(call: Call) -> Answer:
    job, phase = call.typed.phase()
    return call.done(
        lambda shop, by: kit_let.let(shop, by, job=job, phase=phase, why=call.typed.text("why"))
    )


LOOKED = (
    Option("incomplete", "TEXT", "it is not complete: what lacks"),
    Option("note", "TEXT", "what is to be remembered of it"),
)
COMMANDS = (
    ADVISE,
    Command(
        ("hire", "ask"), "A kit was asked for at a supplier's, at its terms of today.", ask,
        "hire ask LS --supplier Loan --job 2417 --expected 2026-10-15 --due 2026-10-20 --as F1",
        (KIT,),
        (
            Option("supplier", "TEXT", "who hires it out, where not only one offers it"),
            Option("job", "JOB", "for which job; else any may use it"),
            Option("expected", "WHEN", "on which it is to be here; else as long as they take"),
            Option("due", "WHEN", "when it is to be handed to the carrier again"),
            Option("why", "TEXT", "why, where no job needs it or the shop owns one"), *WRITING,
        ),
    ),
    Command(
        ("hire", "receive"), "A hired kit is here, looked through against its list.", receive,
        'hire receive LS --missing "pin, 8 mm" --as B12', (KIT,),
        (
            FOR, Option("missing", "PIECE", "a piece of its list that lacks", many=True),
            Option("wrong", "", "the wrong variant came"), *LOOKED,
            Option("serial", "TEXT", "its serial number"),
            Option("valid-until", "DATE", "of its calibration or inspection, where it has one"),
            Option("due", "WHEN", "when it goes back, where nobody said yet"), *WRITING,
        ),
        more="Look it through on the day it comes, not when it is needed.",
    ),
    Command(
        ("hire", "mend"), "What lacked of a kit came, or the right variant did.", mend,
        "hire mend LS --as B12", (KIT,),
        (FOR, Option("note", "TEXT", "what is to be remembered of it"), *WRITING),
    ),
    Command(
        ("hire", "extend"), "A hired kit goes back on another day.", extend,
        "hire extend LS --due 2026-10-22 --as F1", (KIT,),
        (Option("due", "WHEN", "the day or instant", needed=True), FOR, *WRITING),
    ),
    Command(
        ("hire", "give"), "A hired kit is for another job now, or for any.", give,
        "hire give LS --to 2420 --as F1", (KIT,),
        (Option("to", "JOB|any", "the job, or `any`", needed=True), FOR, *WRITING),
    ),
    Command(
        ("hire", "return"), "A hired kit was handed to the carrier, its pieces counted.",
        give_back, "hire return LS --pieces 7 --as B12", (KIT,),
        (
            Option("pieces", "N", "how many were counted"), FOR, *LOOKED,
            Option("dirty", "", "it was not clean"),
            Option("damage", "TEXT", "what is bent, broken or worn"), *WRITING,
        ),
        more="After the supplier's cut-off it counts for the next working day.",
    ),
    Command(
        ("hire", "cancel"), "A kit that was asked for is not wanted any more.", cancel,
        "hire cancel LS --as F1", (KIT,), (FOR, *WRITING),
    ),
    *SETTLED,
    TERMS,
    Command(
        ("hire", "let"), "A foreman lets a phase be begun without a kit that it needs.", let,
        'hire let 2417.4 --why "by hand, as the data says" --as F1',
        (Argument("JOB.PHASE", "the phase, like 2417.4"),),
        (Option("why", "TEXT", "why", needed=True), *WRITING),
    ),
)  # fmt: skip
