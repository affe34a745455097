"""The busy shop's month: what it cost, said twice and once by mistake; a book that was adopted."""

from __future__ import annotations

from store.actions import adopting, month_costs
from store.actions.undo import taking_back as undo
from store.file.learned.kept import forget_all
from tests.store.actions.made import World
from tests.store.made_told import told_of


def month_told(world: World) -> None:
    """What was learned teaches the book once and is forgotten then; a month has its costs."""
    shop = world.shop
    month_costs.set_costs(shop, world.by("OWN"), month="2026-10", wages=8000, overheads=4000)
    month_costs.set_costs(shop, world.by("OWN"), month="2026-10", wages=8200.5, overheads=4000)
    month_costs.set_costs(shop, world.by("OWN"), month="2026-10", wages=82, overheads=0)
    undo.undo(shop, world.by("OWN"))
    told_of(world, ("TC", "B1", None, 0.6, 0.9, 12), ("TC", "B1", "H4-M-F", 0.6, 0.9, 12))
    adopting.adopt(shop, world.by("OWN"), lines=[adopting.Adopted("TC", "B1", "H4-M-F")])
    undo.undo(shop, world.by("OWN"))
    adopting.adopt(shop, world.by("OWN"))
    with shop.beside() as db:
        forget_all(db)
