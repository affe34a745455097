"""`move`, `lift …`, `place …`: where vehicles stand."""

from __future__ import annotations

from typing import cast

from store.actions import places
from tui.cli.answer import Answer
from tui.cli.call import Call
from tui.cli.usage import WRITING, Argument, Command, Option, WrongUsage

CODE = Argument("CODE", "code of the lift")
PLACE_KINDS = ("bench", "stand", "yard")


def move(call: Call) -> Answer:
    job = call.typed.job()
    lift, place = call.typed.maybe("lift"), call.typed.maybe("place")
    if (lift is None) == (place is None):
        raise WrongUsage("move takes --lift CODE or --place CODE, one of them.")
    return call.done(
        lambda shop, by: places.move(
            shop, by, job=job, place=lift or place or "", lift=lift is not None,
            part="unit" if call.typed.has("unit") else "body",
        )
    )  # fmt: skip


def withdraw(call: Call) -> Answer:
    return call.done(
        lambda shop, by: places.withdraw_lift(
            shop, by, code=call.typed.text("CODE"), reason=call.typed.text("reason")
        )
    )


def give_back(call: Call) -> Answer:
    return call.done(lambda shop, by: places.return_lift(shop, by, code=call.typed.text("CODE")))


def add_lift(call: Call) -> Answer:
    mass = call.typed.number("kg")
    return call.done(
        lambda shop, by: places.add_place(
            shop, by, code=call.typed.text("CODE"), kind="lift",
            lift_kind=call.typed.text("kind"), rated_kg=mass,
        )
    )  # fmt: skip


def inspect(call: Call) -> Answer:
    day, months = call.typed.date("date"), call.typed.whole("months")
    assert day is not None
    assert months is not None
    return call.done(
        lambda shop, by: places.inspect_lift(
            shop, by, code=call.typed.text("CODE"), day=day, months=months,
            source=call.typed.text("source"), inspector=call.typed.text("by"),
        )
    )  # fmt: skip


def look(call: Call) -> Answer:
    return call.done(
        lambda shop, by: places.look_over(
            shop, by, code=call.typed.text("CODE"), note=call.typed.maybe("note")
        )
    )


def add_place(call: Call) -> Answer:
    kind = cast("places.PlaceKind", call.typed.text("kind"))
    return call.done(
        lambda shop, by: places.add_place(shop, by, code=call.typed.text("CODE"), kind=kind)
    )


COMMANDS = (
    Command(
        ("move",), "Moves a vehicle to a lift or another place.", move,
        "move 2417 --lift 2 --as F1", (Argument("JOB", "its number"),),
        (
            Option("lift", "CODE", "onto this lift"),
            Option("place", "CODE", "to this bench, stand or yard"),
            Option("unit", "", "not the body but the unit taken out of it"),
            *WRITING,
        ),
        more="Refused where it sits fixed, the place is taken, or the lift is too weak.",
    ),
    Command(
        ("lift", "withdraw"), "Takes a lift out of service.", withdraw,
        'lift withdraw 3 --reason "lock does not engage" --as B12', (CODE,),
        (Option("reason", "TEXT", "why", needed=True), *WRITING),
    ),
    Command(
        ("lift", "return"), "Puts a lift back into service.", give_back, "lift return 3 --as F1",
        (CODE,), WRITING,
    ),
    Command(
        ("lift", "look"), "Writes down the daily look-over of a lift before use.", look,
        "lift look 3 --as B12", (CODE,),
        (Option("note", "TEXT", "what was seen"), *WRITING),
    ),
    Command(
        ("lift", "inspect"), "Writes down a lift's inspection by a competent person.", inspect,
        'lift inspect 3 --date 2026-10-01 --months 12 --source "local code" --by Vos --as F1',
        (CODE,),
        (
            Option("date", "DATE", "when it was", needed=True),
            Option("months", "N", "months until the next", needed=True),
            Option("source", "TEXT", "who asks for that interval", needed=True),
            Option("by", "TEXT", "who inspected it", needed=True),
            *WRITING,
        ),
    ),
    Command(
        ("lift", "add"), "Adds a lift; it comes last in the shop's order.", add_lift,
        "lift add 4 --kind two-post --kg 4000 --as O1", (Argument("CODE", "its new code"),),
        (
            Option("kind", "TEXT", "two-post, four-post, scissor …", needed=True),
            Option("kg", "KG", "rated capacity", needed=True),
            *WRITING,
        ),
    ),
    Command(
        ("place", "add"), "Adds a bench, a stand or a yard.", add_place,
        "place add Y1 --kind yard --as O1", (Argument("CODE", "its new code"),),
        (Option("kind", "KIND", f"one of {', '.join(PLACE_KINDS)}", needed=True,
                choices=PLACE_KINDS), *WRITING),
    ),
)  # fmt: skip
