"""A job card with parts and kits in every state."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta

from store.rules.readiness import Lack, Ready
from store.views.parts_values import HireOut, KitOnCard, PartOnCard
from store.views.values import JobCard
from tests.tui.made import NOW
from tests.tui.made_card import card as made_card

DAY = timedelta(days=1)
HIRE = HireOut(
    "h-00000001", "LS", "locking set", "Loan", "2417", NOW - DAY, NOW, NOW + DAY, NOW, True, None
)


def part(line: int, text: str = "seal", **more: object) -> PartOnCard:
    """A part line that the work book renews, for phase 4."""
    base = PartOnCard(line, text, "4", True, "wanted", None, None, None, None, None, None)
    return replace(base, **more)  # type: ignore[arg-type]  # fields of a part


PARTS = (
    part(1), part(2, state="ordered", expected=NOW + DAY, supplier="Factor"),
    part(3, state="ordered", expected=NOW - DAY), part(4, state="ordered"),
    part(5, state="here"), part(6, state="wrong", note="for the other side"),
    part(7, state="returned"), part(8, state="fitted", batch="L 4711"),
    part(9, state="not needed"), part(10, phase="9", left_out=True),
)  # fmt: skip
KITS = (
    KitOnCard("LS", "locking set", False, "here", None, ("4",), HIRE),
    KitOnCard("PR", "press", False, "not asked", None, ("5",)),
    KitOnCard("JK", "jack", True, "elsewhere", "2409", ("5",)),
    KitOnCard("GA", "gauge", False, "asked", None, ("5",), replace(HIRE, received_at=None)),
)  # fmt: skip


LACKS = Ready(
    (Lack("parts", "parts 6 of 8, wrong"), Lack("kit", "kit: press"), Lack("lift", "a lift"))
)


def card(parts: tuple[PartOnCard, ...] = PARTS, kits: tuple[KitOnCard, ...] = KITS) -> JobCard:
    """The card of a job that is in, with parts and kits in every state."""
    return replace(made_card(), parts=parts, tools=kits)


def waiting_card() -> JobCard:
    """The same of one that waits to come in."""
    of = card()
    job = replace(of.job, state="waiting", in_since=None, place="Y", ready=LACKS, lacks=LACKS.words)
    return replace(of, job=job)
