"""An act that is given back within its transaction leaves nothing, also not in memory."""

from __future__ import annotations

from store.edges.events.shop import RateSet
from store.file.verify import verify
from tests.store.actions.made import World
from tests.store.file.acts import set_rate

RATE = RateSet(from_day="2028-01-01", per_hour=91)


def given_back(world: World) -> None:
    """Write something and give it back, as an act does whose PIN is found wrong half way."""
    with world.shop.changing(world.by("OWN")) as change:
        before = change.last
        change.mark()
        change.record(RATE)
        change.take_back()
        assert (change.last, change.recorded) == (before, [])


def test_entries_that_were_given_back_are_not_missed_after_a_checkpoint(world: World) -> None:
    before = world.events()
    given_back(world)
    set_rate(world, 66)
    world.shop.settle()  # the file changes, and is held against what is known of it
    set_rate(world, 67)
    assert world.events() == before + 2


def test_the_next_act_of_the_same_transaction_follows_what_is_there(world: World) -> None:
    before = world.events()
    with world.shop.bulk():
        given_back(world)
        set_rate(world, 66)
    assert world.events() == before + 1
    assert verify(world.shop.path).ok
