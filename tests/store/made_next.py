"""The busy shop's lists of work: given, moved, taken away, and taken back."""

from __future__ import annotations

from store.actions.assigning import assign, reorder, unassign
from store.actions.undo import taking_back as undo
from tests.store.actions.made import World


def lists_of_work(world: World, job: str) -> None:
    """T1 has a phase and the whole job, T2 helps; what was given before stays on record."""
    shop = world.shop
    assign(shop, world.by("FOR"), job=job, phase="9", badge="T2")
    unassign(shop, world.by("FOR"), job=job, phase="9")
    assign(shop, world.by("FOR"), job=job, phase="5", badge="T2")
    assign(shop, world.by("FOR"), job=job, badge="T1", all_the_same=True)
    assign(shop, world.by("FOR"), job=job, phase="6", badge="T1")
    assign(shop, world.by("FOR"), job=job, phase="5", badge="T1", too=True)
    reorder(shop, world.by("FOR"), badge="T1", works=[(job, "5")])
    assign(shop, world.by("T2"), job=job, phase="8", badge="T2")
    undo.undo(shop, world.by("T2"))
