"""A small shop whose kits are hired at known terms, for what the view of tools says."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from datetime import datetime, time, timedelta
from typing import Any

from store.actions import books, parts
from store.actions.hires import asked as hires
from store.actions.hires import suppliers
from store.sums.hires.terms import House, Rates, Terms
from store.views.tools.page import tools
from store.views.tools.values import Advice, KitNow, Tools
from tests.store.actions.made import BOOK, World

LOAN = "Loan"
TERMS = Terms(
    Rates(day=24, week=90, minimum_days=1, carriage=12, deposit=100),
    House(time(15, 30), late=1.5, lead_days=1),
)
OWNED = BOOK.replace(
    'name = "chain link tool"\nowned = false', 'name = "chain link tool"\nowned = true'
)
CAPTIVE = BOOK.replace('kit = "link"', 'kit = "link"\ncaptive_to = "B4"')


def slower(hours: str) -> str:
    """The work book with other hours of the phase that needs the link tool."""
    return BOOK.replace('name = "chain set"\nhours = [1.1, 1.6, 2.6]',
                        f'name = "chain set"\nhours = {hours}')  # fmt: skip


@dataclass
class Loans:
    """A shop that hires at one supplier's."""

    world: World
    terms: Terms = TERMS
    house: House | None = None

    def __post_init__(self) -> None:
        """Write the terms down."""
        self.offer(self.terms)

    def offer(self, terms: Terms, kit: str = "link") -> None:
        """What the supplier asks from now on."""
        house, rates, by = terms.house, terms.rates, self.world.by
        if house != self.house:
            suppliers.know(
                self.world.shop, by("FOR"), name=LOAN, cut_off=house.cut_off, counts=house.counts,
                weekend=house.weekend, late=house.late, lead_days=house.lead_days,
                back_days=house.back_days, cleaning=house.cleaning,
            )  # fmt: skip
        self.house = house
        suppliers.offer(
            self.world.shop, by("FOR"), kit=kit, supplier=LOAN, day=rates.day, week=rates.week,
            month=rates.month, minimum_days=rates.minimum_days, carriage=rates.carriage,
            deposit=rates.deposit,
        )  # fmt: skip

    def book(self, source: str) -> None:
        """Another work book from now on."""
        books.load_workbook(self.world.shop, self.world.by("FOR"), source=source)

    def job(self) -> str:
        """A job that waits and has its parts: the link tool is needed in its phase 4."""
        job = self.world.take(lift=None)
        parts.move_parts(self.world.shop, self.world.by("T1"), job=job, lines=[1, 2], state="here")
        return job

    def hire(self, job: str | None, due: datetime, *, kit: str = "link") -> None:
        """Ask for a kit, which is here at once."""
        self.ask(job, due=due, kit=kit, expected=self.world.now + timedelta(minutes=5))
        self.receive(kit, job)

    def ask(
        self, job: str | None, *, kit: str = "link", expected: datetime | None = None,
        due: datetime | None = None,
    ) -> None:  # fmt: skip
        """Ask for a kit, whoever needs it."""
        hires.ask(
            self.world.shop, self.world.by("FOR"), kit=kit, supplier=LOAN, job=job,
            expected=expected, due=due, why="tried",
        )  # fmt: skip

    def receive(self, kit: str = "link", job: str | None = None, **more: Any) -> None:
        """It is here."""
        hires.receive(self.world.shop, self.world.by("T1"), kit=kit, job=job, **more)

    def look(self) -> Tools:
        """What the view says now."""
        return tools(self.world.shop, self.world.now)

    def kit(self, code: str = "link") -> KitNow:
        """One kit of it."""
        return next(one for one in self.look().kits if one.code == code)

    def advice(self, code: str = "link") -> Advice:
        """What is advised about it."""
        found = self.kit(code).advice
        assert found is not None
        return found


def at(terms: Terms, *, rates: Mapping[str, Any] | None = None, **house: Any) -> Terms:
    """The terms with something else in them."""
    return Terms(replace(terms.rates, **(rates or {})), replace(terms.house, **house))
