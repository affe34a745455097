"""A wrong PIN is counted where it was found wrong: nobody can guess in between, nor undo it."""

from __future__ import annotations

from contextlib import AbstractContextManager

import pytest

from store.actions import settings
from store.actions.trouble import PinWaits, WrongPin
from store.file.change import By
from store.file.pins import FREE_TRIES, Uptime
from store.file.shop import Shop
from store.file.verify import verify
from tests.store.actions.made import World

WRONG = "135790"


def guess(world: World, up: Uptime | None = None) -> None:
    by = world.by("OWN", pin=WRONG)
    settings.set_rate(world.shop, By(by.badge, "t1", by.now, pin=WRONG, up=up, key=by.key),
                      per_hour=1)  # fmt: skip


def tries(world: World) -> object:
    return world.one("select wrong from pin_tries")


def test_the_count_is_in_the_file_when_the_lock_is_let_go(
    world: World, monkeypatch: pytest.MonkeyPatch
) -> None:
    begun: list[str] = []
    changing = Shop.changing

    def counted(shop: Shop, by: By) -> AbstractContextManager[object]:
        begun.append(by.badge)
        return changing(shop, by)

    def beside(_: Shop) -> AbstractContextManager[object]:
        raise AssertionError("a second transaction")

    monkeypatch.setattr(Shop, "changing", counted)
    monkeypatch.setattr(Shop, "beside", beside)
    with pytest.raises(WrongPin):
        guess(world)
    assert (begun, tries(world)) == (["OWN"], 1)


def test_a_wrong_pin_leaves_nothing_else_and_the_next_act_goes_through(world: World) -> None:
    before, tables = world.events(), world.tables()
    with pytest.raises(WrongPin):
        guess(world)
    assert (world.events(), world.tables()) == (before, tables)
    for _ in range(2):  # the second time it is proven already in this process
        settings.set_rate(world.shop, world.by("OWN"), per_hour=1)
        assert tries(world) is None
        with pytest.raises(WrongPin):
            guess(world)
    assert verify(world.shop.path).ok


def test_a_ledger_that_is_ahead_of_the_clock_ends_no_wait(world: World) -> None:
    """It was stamped while the clock stood a year ahead; the clock was put right since."""
    now = world.now
    settings.set_rate(world.shop, world.by("OWN", minutes=525_600), per_hour=1)
    world.shop.proven.clear()
    world.now = now
    for n in range(FREE_TRIES):
        with pytest.raises(WrongPin):
            guess(world, Uptime("a", 10.0 * n))
    with pytest.raises(PinWaits, match="Wait 30 seconds"):
        guess(world, Uptime("a", 10.0 * (FREE_TRIES - 1)))


def test_a_wait_that_was_counted_a_year_ahead_ends(world: World) -> None:
    now = world.now
    world.now = now.replace(year=now.year + 1)
    for _ in range(FREE_TRIES):
        with pytest.raises(WrongPin):
            guess(world)
    world.now = now
    for s in (0.0, 20.0):  # another start of the machine by now
        with pytest.raises(PinWaits):
            guess(world, Uptime("b", 100.0 + s))
    with pytest.raises(WrongPin):
        guess(world, Uptime("b", 131.0))
