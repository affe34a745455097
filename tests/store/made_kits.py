"""A small shop whose jobs want tool kits, with nothing in the way of any phase."""

from __future__ import annotations

from collections.abc import Generator, Sequence
from contextlib import contextmanager
from datetime import datetime
from pathlib import Path

from store.actions import books
from store.file.facts import calendar_of
from store.file.learned.own import ShopLearner
from store.file.learned.turns import Turns
from store.views.tools.kit_needs import JobNeed, kit_needs
from tests.store.actions.made import World, make

BOOK = """
name = "Work with kits"

[families.engine]
B4 = "petrol, four"

[families.gearbox]
M = "manual"

[families.axles]
F = "front"

[[kit]]
code = "lock"
name = "locking set"
owned = false

[[kit]]
code = "link"
name = "link tool"
owned = false

[[kit]]
code = "gauge"
name = "gauge"
owned = true

[[phase]]
code = "K1"
name = "open"
class = "strip"
hours = [3.0, 4.0, 6.0]
[[phase.step]]
code = "DEEP"
kind = "decision"
text = "How deep is it?"
[[phase.step.answer]]
code = "yes"
text = "deep"
odds = "7 in 10"
sets = { deep = "yes" }
[[phase.step.answer]]
code = "no"
text = "only the seal"
odds = "3 in 10"
sets = { deep = "no" }

[[phase]]
code = "K2"
name = "fix"
hours = [1.0, 2.0, 4.0]
kit = [{ kit = "lock", captive_to = "K4" }, { kit = "link" }]

[[phase]]
code = "K3"
name = "mend"
hours = [4.0, 6.0, 12.0]
kit = [{ kit = "link" }]

[[phase]]
code = "K4"
name = "shut"
hours = [1.0, 2.0, 3.0]

[[phase]]
code = "K5"
name = "dry"
kind = "standing"
hours = 12.0

[[phase]]
code = "K6"
name = "set"
hours = [1.0, 2.0, 3.0]
kit = [{ kit = "gauge" }]

[[phase]]
code = "K7"
name = "back"
class = "refit"
hours = [2.0, 3.0, 4.0]
kit = [{ kit = "link" }]

[[operation]]
code = "KT"
name = "work with kits"
route = [
    "K1", "K2", "K3", "K4", "K5",
    { phase = "K6", when = { option = { deep = "yes" } } },
    "K7",
]
[[operation.option]]
code = "deep"
text = "deep"
values = ["yes", "no"]
assume = "yes"
""".replace("\nhours", '\nplace = "ground"\nhours')
SLOWER = BOOK.replace("hours = [4.0, 6.0, 12.0]", "hours = [12.0, 18.0, 36.0]")
"""The same, mending three times as slow."""


@contextmanager
def kit_shop(folder: Path, book: str = BOOK) -> Generator[World]:
    """The shop, open, at eight on its first day."""
    made = make(folder)
    books.load_workbook(made.shop, made.by("FOR"), source=book)
    made.to(8, 0)
    yield made
    made.shop.close()


def take(world: World) -> str:
    """A job that wants kits; it needs no lift."""
    return world.take("KT", lift=None)


def turns(world: World) -> Turns:
    """The shop's learner, at its clock."""
    return Turns(world.shop, ShopLearner(), lambda: world.now)


def needs(world: World, kits: Sequence[str] | None = None) -> dict[str, tuple[JobNeed, ...]]:
    """Who wants which kit when."""
    with world.shop.reading() as db:
        return kit_needs(db, calendar_of(db), world.now, kits)


def middle(instants: Sequence[datetime]) -> datetime:
    """Half of them are earlier."""
    return sorted(instants)[len(instants) // 2]


def starts(need: JobNeed) -> list[datetime]:
    """In the draws in which it is needed."""
    return [since for since, until in need.draws if since < until]


def ends(need: JobNeed) -> list[datetime]:
    """In the draws in which it is needed."""
    return [until for since, until in need.draws if since < until]
