"""What a new shop is asked, one line each, and the plan that the answers make."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from typing import Any, TypeVar

from store.actions.founding import LiftPlan, ShopPlan
from store.trouble import Refused
from tui.cli.founding import (
    machine_zone,
    read_break,
    read_currency,
    read_lift,
    read_shift,
    read_zone,
)
from tui.cli.starter import offered, read_starter, starter_book
from tui.cli.usage import WrongUsage

Read = TypeVar("Read")
PIN, AGAIN = "pin", "again"


@dataclass(frozen=True, slots=True)
class Question:
    """One line to answer.

    Attributes:
        id: of the answer.
        label: what is asked.
        facts: what one must know.
        proposed: stands there at first.
        secret: it is not shown.
    """

    id: str
    label: str
    facts: tuple[str, ...]
    proposed: str = ""
    secret: bool = False


def questions() -> list[Question]:
    """All of them, in their order."""
    return [
        Question("name", "name of the shop", ("As it stands over the door.",)),
        Question("zone", "time zone", ("Its clocks go by it.",), machine_zone()),
        Question("currency", "currency", ("Three letters.",), "EUR"),
        Question("shift", "shifts", ("Days and times; several are parted by a semicolon.",
                 "Like mon-thu 07:30-16:30; fri 07:30-14:00"), "mon-fri 07:30-16:30"),
        Question("break", "breaks", ("The same; empty where there are none.",),
                 "mon-fri 12:00-12:45"),
        Question("lift", "lifts", ("Code, kind and rated kilograms as on the plate;",
                 "several are parted by a semicolon; empty where there is none yet."),
                 "1:two-post:4000"),
        Question("starter", "work to begin with", _starter_facts(), "all"),
        Question("owner", "the owner's name", ("Who may add people, lifts and prices: you?",)),
        Question("badge", "the owner's badge", ("Two to eight letters and digits; you sign in "
                 "with it.",), "O1"),
        Question(PIN, "the owner's PIN", ("Four to twelve digits. It stands for your name where "
                 "a badge is not enough.",), secret=True),
        Question(AGAIN, "the PIN again", ("Twice, so that no slip locks you out.",), secret=True),
    ]  # fmt: skip


def _starter_facts() -> tuple[str, ...]:
    listed = ", ".join(f"{code} {name}" for code, name in offered())
    return (f"All, none, or codes: {listed}.",
            "They are the demo's: put their hours right before you sell by them.")  # fmt: skip


def checked(question: Question, text: str, answers: Mapping[str, str]) -> str:
    """The answer, where it can be taken.

    Raises:
        Refused: saying what is wrong with it.
    """
    try:
        _READERS[question.id](text, answers)
    except WrongUsage as wrong:
        raise Refused(str(wrong)) from None
    return text


def plan(answers: Mapping[str, str]) -> ShopPlan:
    """The shop that the answers describe."""
    return ShopPlan(
        answers["name"], read_zone(answers["zone"]), read_currency(answers["currency"]),
        _each(answers["shift"], read_shift), _each(answers["break"], read_break),
        _lifts(answers["lift"]), answers["badge"].upper(), answers["owner"], answers[PIN],
        book=starter_book(read_starter(answers["starter"]), answers["name"]),
    )  # fmt: skip


def _each(text: str, read: Callable[[str], Read]) -> list[Read]:
    return [read(one.strip()) for one in text.split(";") if one.strip()]


def _lifts(text: str) -> Sequence[LiftPlan]:
    lifts = _each(text, read_lift)
    codes = [lift.code.upper() for lift in lifts]
    twice = next((code for code in codes if codes.count(code) > 1), None)
    if twice:
        raise Refused(f"Two lifts have the code {twice}. Give each its own.")
    return lifts


def _some(text: str, answers: Mapping[str, str]) -> None:
    if not text:
        raise Refused("Nothing was typed. Type it, or Esc goes back to the question before.")


def _shifts(text: str, answers: Mapping[str, str]) -> None:
    if not _each(text, read_shift):
        raise Refused("A shop works some time. Type one like mon-fri 07:30-16:30.")


def _badge(text: str, answers: Mapping[str, str]) -> None:
    if not (2 <= len(text) <= 8 and text.isascii() and text.isalnum()):
        raise Refused("A badge is two to eight letters and digits, like O1.")


def _pin(text: str, answers: Mapping[str, str]) -> None:
    if not (text.isdecimal() and text.isascii() and 4 <= len(text) <= 12):
        raise Refused("A PIN is 4 to 12 digits. Type it again.")


def _again(text: str, answers: Mapping[str, str]) -> None:
    if text != answers[PIN]:
        raise Refused("The two are not the same. Type it again; Esc goes back to the first.")


_READERS: Mapping[str, Callable[[str, Mapping[str, str]], Any]] = {
    "name": _some,
    "zone": lambda text, answers: read_zone(text),
    "currency": lambda text, answers: read_currency(text),
    "shift": _shifts,
    "break": lambda text, answers: _each(text, read_break),
    "lift": lambda text, answers: _lifts(text),
    "starter": lambda text, answers: read_starter(text),
    "owner": _some,
    "badge": _badge,
    PIN: _pin,
    AGAIN: _again,
}
