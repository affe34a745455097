"""The card of the estate while its customer is sought and its head is at a machine shop."""

from __future__ import annotations

from dataclasses import replace
from datetime import date

from store.views.outside_values import AdviceLine, CallLine, JobMoney, OutworkLine, UsedMoney
from store.views.values import JobCard, SupplementLine
from tests.tui.made import on
from tests.tui.made_card import card

CALLS = (
    CallLine(on("Tue 15:00"), "Ruth", "telephone", False, "nobody", None),
    CallLine(on("Wed 08:10"), "Ruth", "telephone", False, "left word with her brother",
             on("Wed 14:00")),
)  # fmt: skip
AWAY = OutworkLine(
    "2409", "estate", "5", "machine shop", "cylinder head to be refaced", "Facing Works",
    on("Mon 13:20"), on("Thu 16:00"), date(2026, 10, 14), "seats look worn, looking again", 210.0,
    None, None, (), True,
)  # fmt: skip
BACK = replace(
    AWAY, phase="3", name="covers off", what="pump tested", firm="Pump House", promised=None,
    chase=None, said=None, price=85.5, back_at=on("Tue 09:00"), report="delivers as it should",
    readings=(("bar", 3.2),), away=False,
)  # fmt: skip
ADVICE = (
    AdviceLine(1, 4711, "2", "hoses hard", 0.4, on("Mon 11:00"), "Ines", "declined",
               on("Tue 12:40"), True, "the customer", "telephone"),
    AdviceLine(2, 4712, "3", "engine mounts soft", None, on("Tue 11:30"), "Per"),
)  # fmt: skip
MONEY = JobMoney(
    "ceiling", 1620.0, 72.0, None, 1900.0, UsedMoney(999.0, 85.5, 120.0, 15.0, 1219.5),
    (1985.5, 2190.0), 85.5, 100.0, 28.0,
)  # fmt: skip
LINES = (
    SupplementLine(1, "broken stud", 3.5, 210.0, "asked", "3", on("Tue 14:10"), "Ruth"),
    SupplementLine(2, "two clips", 0.0, 45.0, "asked", "3", on("Tue 14:12"), "Ruth"),
)


def outside_card() -> JobCard:
    """All of it on one card."""
    return replace(
        card(), supplements=LINES, calls=CALLS, outwork=(BACK, AWAY), advice=ADVICE, money=MONEY,
        price_basis="ceiling",
    )  # fmt: skip
