"""The demo shop's clock goes on while somebody uses it; a real shop goes by the machine's."""

from __future__ import annotations

import stat
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest

from store.actions.founding import LiftPlan, ShopPlan, found_shop
from store.edges.events.shop import Demo, WeekSpan
from store.edges.instants import to_text
from store.file.shop import By, Shop
from tui import now as machine
from tui.now import ShopClock

OPENS = datetime(2026, 10, 14, 8, 40, tzinfo=UTC)
START = datetime(2031, 5, 1, 12, 0, tzinfo=UTC)


def shop_at(path: Path, *, demo: bool) -> Shop:
    """A shop, invented or real."""
    plan = ShopPlan(
        "Marsh Lane", "Europe/Amsterdam", "EUR",
        [WeekSpan(days=[1, 2, 3, 4, 5], start="07:30", end="16:30")], [],
        [LiftPlan("1", "two-post", 4000)], "OWN", "Olga", "2468",
    )  # fmt: skip
    made = Demo(seed=1, months=1, opens_at=to_text(OPENS)) if demo else None
    return found_shop(path, By("OWN", "t1", OPENS - timedelta(days=1)), plan, demo=made)


class Hand:
    """The machine's clock, turned by hand."""

    def __init__(self) -> None:
        self.now = START

    def __call__(self) -> datetime:
        return self.now

    def on(self, *, minutes: float) -> None:
        self.now += timedelta(minutes=minutes)


@pytest.fixture(name="hand")
def hand_fixture(monkeypatch: pytest.MonkeyPatch) -> Hand:
    hand = Hand()
    monkeypatch.setattr(machine, "machine_now", hand)
    return hand


def minutes_in(clock: ShopClock, *, use: bool = True) -> float:
    """Minutes since the demo's clock started."""
    return ((clock.use() if use else clock.look()) - OPENS).total_seconds() / 60


def test_it_starts_at_its_own_instant_whenever_it_is_opened(tmp_path: Path, hand: Hand) -> None:
    clock = ShopClock(shop_at(tmp_path / "d.shop", demo=True))
    assert minutes_in(clock, use=False) == 0
    hand.on(minutes=60 * 24 * 400)
    assert minutes_in(clock) == 0


def test_it_goes_on_while_somebody_uses_it(tmp_path: Path, hand: Hand) -> None:
    clock = ShopClock(shop_at(tmp_path / "d.shop", demo=True))
    clock.use()
    hand.on(minutes=14)
    assert minutes_in(clock) == 14
    hand.on(minutes=14)
    assert minutes_in(clock) == 28


def test_after_a_quarter_of_an_hour_it_stands_still_until_the_next_use(
    tmp_path: Path, hand: Hand
) -> None:
    clock = ShopClock(shop_at(tmp_path / "d.shop", demo=True))
    clock.use()
    hand.on(minutes=16)
    assert minutes_in(clock, use=False) == 15
    hand.on(minutes=600)
    assert minutes_in(clock, use=False) == 15
    assert minutes_in(clock) == 15
    hand.on(minutes=5)
    assert minutes_in(clock) == 20


def test_looking_is_no_use(tmp_path: Path, hand: Hand) -> None:
    clock = ShopClock(shop_at(tmp_path / "d.shop", demo=True))
    clock.use()
    for _ in range(20):
        hand.on(minutes=1)
        clock.look()
    assert minutes_in(clock, use=False) == 15


def test_every_process_has_the_same_clock(tmp_path: Path, hand: Hand) -> None:
    shop = shop_at(tmp_path / "d.shop", demo=True)
    first, second = ShopClock(shop), ShopClock(Shop(shop.path))
    first.use()
    hand.on(minutes=10)
    assert minutes_in(second) == 10
    hand.on(minutes=10)
    assert minutes_in(first, use=False) == 20


def test_it_never_falls_when_the_machines_clock_steps_back(tmp_path: Path, hand: Hand) -> None:
    clock = ShopClock(shop_at(tmp_path / "d.shop", demo=True))
    clock.use()
    hand.on(minutes=10)
    assert minutes_in(clock) == 10
    hand.on(minutes=-120)
    assert minutes_in(clock, use=False) == 10
    assert minutes_in(clock) == 10
    hand.on(minutes=3)
    assert minutes_in(clock) == 13


def test_two_uses_within_a_second_write_once(tmp_path: Path, hand: Hand) -> None:
    shop = shop_at(tmp_path / "d.shop", demo=True)
    clock = ShopClock(shop)
    clock.use()
    hand.on(minutes=0.5 / 60)
    clock.use()
    with shop.reading() as db:
        assert db.execute("select machine_at from demo_clock").fetchone()[0] == to_text(START)


def test_where_the_file_cannot_be_written_it_can_still_be_read(
    tmp_path: Path, hand: Hand, monkeypatch: pytest.MonkeyPatch
) -> None:
    from store.file.trouble import Busy

    shop = shop_at(tmp_path / "d.shop", demo=True)
    clock = ShopClock(shop)
    clock.use()
    hand.on(minutes=5)

    def busy() -> None:
        raise Busy

    monkeypatch.setattr(shop, "beside", busy)
    assert minutes_in(clock) == 5
    assert shop.path.stat().st_mode & stat.S_IRUSR


def test_a_real_shop_goes_by_the_machine(tmp_path: Path, hand: Hand) -> None:
    clock = ShopClock(shop_at(tmp_path / "r.shop", demo=False))
    assert clock.look() == START
    hand.on(minutes=300)
    assert clock.use() == START + timedelta(minutes=300)


def test_the_machines_own_instant_is_aware_and_in_utc() -> None:
    assert machine.machine_now().utcoffset() == timedelta()
