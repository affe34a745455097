"""The busy shop's line that waits: put in another order, and one order taken back."""

from __future__ import annotations

from store.actions.lining_up import put_in_line
from store.actions.undo import taking_back as undo
from tests.store.actions.made import World


def line_in_order(world: World) -> None:
    """One more job comes in before the other that waits; that it came in last never was."""
    shop = world.shop
    with shop.reading() as db:
        (first,) = db.execute("select job from job where state = 'waiting'").fetchone()
    later = world.take("WP", lift=None)
    put_in_line(shop, world.by("FOR"), job=later, before=first)
    put_in_line(shop, world.by("OWN"), job=later, before=None)
    undo.undo(shop, world.by("OWN"))
