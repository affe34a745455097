"""Reporting what was discovered: its kind by digit, in words, and the hours that it adds."""

from __future__ import annotations

from typing import Any

from tui import deeds
from tui.deeds import FindingKind
from tui.desk.reading import amount
from tui.parts.painted import Painted
from tui.parts.prompt import Option
from tui.parts.when import number, some

KINDS: dict[str, FindingKind] = {"1": "surprise", "2": "route-ends", "3": "advice"}
WORDS = (
    Option("1", "surprise: adds work"),
    Option("2", "route ends"),
    Option("3", "advice for later"),
)
TITLES = {"1": "surprise", "2": "the planned work is impossible", "3": "advice"}


async def report_finding(
    screen: Painted[Any], job: str, phase: str, *, text: str = "", priced: bool = False
) -> None:
    """Ask kind, words and hours; report it.

    Args:
        priced: what a surprise costs is asked too, where whoever is here speaks with customers.

    Raises:
        Back: left with Esc.
        Trouble: refused.
    """
    where = f"{job}.{phase}"
    facts = (text,) if text else ()
    kind = await screen.talk.pick(f"{where}: what was found?", WORDS, facts=facts)
    says = await screen.talk.type(
        f"{where}: {TITLES[kind]}", "what", some, text=text,
        facts=(*facts, "Say it so that the customer can be told."),
    )  # fmt: skip
    hours = None
    if kind != "2":
        hours = await screen.talk.type(
            f"{where}: {TITLES[kind]}", "hours it adds (Enter: not known)", _hours,
            facts=(says, "With hours a surprise waits for the customer's word."
                   if kind == "1" else "What it would take."),
        )  # fmt: skip
    price = None
    if priced and kind == "1" and screen.session.sees_customers:
        price = await screen.talk.type(
            f"{where}: {TITLES[kind]}", "money that is asked (Enter: hours x rate)", amount,
            facts=(says, "Hours, money or both: then it waits for the customer's word."),
        )  # fmt: skip
    await screen.act(deeds.find(job, phase, KINDS[kind], says, hours, price))


def _hours(text: str) -> float | None:
    return number(text, above=0.0) if text else None
