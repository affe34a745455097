"""`calendar`, `holiday`, `rate`, `setting`: what the owner sets."""

from __future__ import annotations

from store.actions import settings
from tui.cli.answer import Answer
from tui.cli.call import Call
from tui.cli.spans import span
from tui.cli.typed import number
from tui.cli.usage import WRITING, Argument, Command, Option

DATE = Argument("DATE", "the day, like 2026-12-25")
FROM = Option("from", "DATE", "holds from this day on; else from today")
SHIFT = Option("shift", "TEXT", 'when the shop works, like "mon-fri 07:30-16:30"', many=True)
BREAK = Option("break", "TEXT", 'when it rests, like "mon-fri 12:00-12:45"', many=True)


def calendar(call: Call) -> Answer:
    first = call.typed.date("from")
    shifts = [span(one, "--shift") for one in call.typed.all("shift")]
    breaks = [span(one, "--break") for one in call.typed.all("break")]
    return call.done(
        lambda shop, by: settings.set_calendar(
            shop, by, shifts=shifts, breaks=breaks, from_day=first
        )
    )


def set_holiday(call: Call) -> Answer:
    day = call.typed.date("DATE")
    assert day is not None
    return call.done(
        lambda shop, by: settings.set_holiday(shop, by, day=day, name=call.typed.text("name"))
    )


def clear_holiday(call: Call) -> Answer:
    day = call.typed.date("DATE")
    assert day is not None
    return call.done(lambda shop, by: settings.clear_holiday(shop, by, day=day))


def rate(call: Call) -> Answer:
    price, first = number(call.typed.text("MONEY"), "MONEY"), call.typed.date("from")
    return call.done(lambda shop, by: settings.set_rate(shop, by, per_hour=price, from_day=first))


def setting(call: Call) -> Answer:
    name = call.typed.text("NAME").replace("-", " ")
    value = _value(call.typed.text("VALUE"))
    return call.done(lambda shop, by: settings.change_setting(shop, by, name=name, value=value))


def _value(text: str) -> float | bool:
    if text in ("yes", "no"):
        return text == "yes"
    found = number(text, "VALUE, if it is not yes or no")
    return int(found) if found.is_integer() and abs(found) < 1e9 else found


COMMANDS = (
    Command(
        ("calendar", "set"), "Sets the week's shifts and breaks from a day on.", calendar,
        'calendar set --shift "mon-fri 07:30-16:30" --break "mon-fri 12:00-12:45" --as O1', (),
        (
            Option(SHIFT.name, SHIFT.value, SHIFT.says, many=True, needed=True), BREAK, FROM,
            *WRITING,
        ),
    ),
    Command(
        ("holiday", "set"), "Closes the shop on a day.", set_holiday,
        'holiday set 2026-12-25 --name "Christmas Day" --as O1', (DATE,),
        (Option("name", "TEXT", "what for", needed=True), *WRITING),
    ),
    Command(
        ("holiday", "clear"), "Opens the shop on a holiday after all.", clear_holiday,
        "holiday clear 2026-12-25 --as O1", (DATE,), WRITING,
    ),
    Command(
        ("rate", "set"), "Sets the price of an hour of labour from a day on.", rate,
        "rate set 92.50 --from 2027-01-01 --as O1",
        (Argument("MONEY", "the price, in the shop's currency"),), (FROM, *WRITING),
    ),
    Command(
        ("setting", "set"), "Changes one of the shop's settings.", setting,
        "setting set cautious 0.85 --as O1",
        (Argument("NAME", "its name, spaces or hyphens"), Argument("VALUE", "a number, yes or no")),
        WRITING,
    ),
)  # fmt: skip
