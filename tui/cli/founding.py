"""`init`: what a first run must know, from options or asked at the terminal."""

from __future__ import annotations

import os
import sys
from collections.abc import Callable
from pathlib import Path
from typing import TypeVar

from store.actions.founding import LiftPlan, ShopPlan, found_shop
from store.edges.events.shop import WeekSpan
from store.file.shop import By
from store.sums.working_time import Calendar
from store.trouble import Refused, Trouble
from tui.cli import pins as pin_ways
from tui.cli.call import Call
from tui.cli.spans import span
from tui.cli.starter import ALL, offered, read_starter, starter_book
from tui.cli.typed import number
from tui.cli.usage import WrongUsage
from tui.now import machine_now

Read = TypeVar("Read")


def found(call: Call, path: Path) -> str:
    """Make the shop; return what to do next.

    Raises:
        WrongUsage: something lacks and nobody can be asked.
        Trouble: it cannot be made; nothing was.
    """
    if path.exists():
        from store.file.trouble import ShopExists

        raise ShopExists(path)
    _refuse_lacking(call)
    if call.terminal.asks:
        sys.stderr.write(f"A new shop in {path}. What stands in brackets is taken by Enter.\n")
    plan = _plan(call)
    by = By(plan.owner_badge.upper(), call.terminal.name, machine_now())
    found_shop(path, by, plan).close()
    return f"{plan.name} is made: {path}. Next, {_next(plan)}"


def _next(plan: ShopPlan) -> str:
    """What one does first in a new shop."""
    badge = plan.owner_badge.upper()
    if plan.book is None:
        return (
            "a work book: hoistbook workbook starter > book.toml, change it, then hoistbook "
            f"workbook load book.toml --as {badge}"
        )
    return (
        "look at its work book: hoistbook workbook show; put its hours right: hoistbook workbook "
        f"set PHASE --hours L,B,H --as {badge}"
    )


def _refuse_lacking(call: Call) -> None:
    if call.terminal.asks:
        return
    typed = call.typed
    needed = {
        "name": "--name TEXT", "zone": "--zone ZONE", "currency": "--currency CODE",
        "shift": '--shift "mon-fri 07:30-16:30"', "owner": "--owner BADGE:NAME",
        "pin-stdin": "--pin-stdin",
    }  # fmt: skip
    lacking = [shown for name, shown in needed.items() if not typed.has(name)]
    if lacking:
        raise WrongUsage(f"init lacks, with no terminal to ask at: {', '.join(lacking)}.")


def _plan(call: Call) -> ShopPlan:
    typed = call.typed
    name = _one(call, "name", "Name of the shop", "My workshop", str)
    zone = _one(call, "zone", "Time zone", machine_zone(), read_zone)
    currency = _one(call, "currency", "Currency", "EUR", read_currency)
    shifts = _many(call, "shift", "Shift", "mon-fri 07:30-16:30", read_shift)
    breaks = _many(call, "break", "Break (- for none)", "mon-fri 12:00-12:45", read_break)
    lifts = _many(call, "lift", "Lift (- for none)", "1:two-post:4000", read_lift)
    codes = _starter(call)
    badge, owner = _one(call, "owner", "Owner, BADGE:NAME", None, read_owner)
    price = typed.maybe("rate")
    return ShopPlan(
        name, zone, currency, shifts, breaks, lifts, badge, owner, _pin(call, owner),
        rate_per_hour=None if price is None else number(price, "--rate MONEY"),
        from_day=typed.date("from"), book=starter_book(codes, name),
    )  # fmt: skip


def _starter(call: Call) -> tuple[str, ...]:
    """Operations to begin with; none where nobody is asked."""
    if not call.typed.has("starter") and not call.terminal.asks:
        return ()
    if not call.typed.has("starter"):
        listed = ", ".join(f"{code} {name}" for code, name in offered())
        sys.stderr.write(f"Operations to begin with, with hours to be put right: {listed}.\n")
    return _one(call, "starter", "Which (all, none, or codes)", ALL, read_starter)


def _one(
    call: Call, name: str, question: str, default: str | None, read: Callable[[str], Read]
) -> Read:
    given = call.typed.maybe(name)
    return read(given) if given is not None else _asked(question, default, read)


def _many(
    call: Call, name: str, question: str, default: str, read: Callable[[str], Read]
) -> list[Read]:
    given = call.typed.all(name)
    if given or not call.terminal.asks:
        return [read(one) for one in given]
    answer = _asked(question, default, lambda text: [] if text == "-" else [read(text)])
    while answer:
        more = _asked(f"One more {name} (Enter for none)", "-", str)
        if more == "-":
            break
        answer.append(read(more))
    return answer


def _asked(question: str, default: str | None, read: Callable[[str], Read]) -> Read:
    """Ask until the answer can be read."""
    hint = f" [{default}]" if default else ""
    while True:
        sys.stderr.write(f"{question}{hint}: ")
        sys.stderr.flush()
        line = sys.stdin.readline()
        if not line:
            raise Refused("Nothing more was typed; no shop was made.")
        text = line.strip() or default
        if not text:
            continue
        try:
            return read(text)
        except (Trouble, WrongUsage) as trouble:
            sys.stderr.write(f"! {trouble}\n")


def machine_zone() -> str:
    """The machine's own zone, where it says one."""
    if os.environ.get("TZ"):
        return os.environ["TZ"].removeprefix(":")
    _, sign, name = os.path.realpath("/etc/localtime").partition("zoneinfo/")
    return name if sign else "Europe/London"


def read_zone(text: str) -> str:
    """A time zone.

    Raises:
        Refused: there is none of that name.
    """
    Calendar(text, [])  # refuses a zone that is none
    return text


def read_currency(text: str) -> str:
    """A currency's three letters.

    Raises:
        WrongUsage: it is none.
    """
    code = text.upper()
    if not (len(code) == 3 and code.isascii() and code.isalpha()):
        raise WrongUsage(f"{text!r} is no currency: three letters, like EUR.")
    return code


def read_shift(text: str) -> WeekSpan:
    """When the shop works.

    Raises:
        WrongUsage: it names no days and times.
    """
    return span(text, "--shift")


def read_break(text: str) -> WeekSpan:
    """When the shop rests.

    Raises:
        WrongUsage: it names no days and times.
    """
    return span(text, "--break")


def read_lift(text: str) -> LiftPlan:
    """A lift: code, kind and kilograms.

    Raises:
        WrongUsage: it is none.
    """
    parts = [one.strip() for one in text.split(":")]
    if len(parts) != 3 or not all(parts):
        raise WrongUsage(f"{text!r} is no lift: code, kind and kilograms, like 1:two-post:4000.")
    return LiftPlan(parts[0], parts[1], number(parts[2], "--lift, kilograms"))


def read_owner(text: str) -> tuple[str, str]:
    badge, sign, name = (one.strip() for one in text.partition(":"))
    if not (badge and sign and name):
        raise WrongUsage(f"{text!r} names no owner: badge and name, like O1:Olga.")
    return badge.upper(), name


def _pin(call: Call, owner: str) -> str:
    if call.typed.has("pin-stdin"):
        return pin_ways.piped()[-1]
    while True:
        pin = pin_ways.ask(f"{owner}, 4 to 12 digits")
        if pin_ways.ask(f"{owner} again") == pin:
            return pin
        sys.stderr.write("! The two are not the same. Type the PIN again.\n")
