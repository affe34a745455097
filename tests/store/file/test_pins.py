"""PINs: the key derivation against published values, and the waiting after wrong tries."""

from __future__ import annotations

import hashlib
import sqlite3
from contextlib import suppress
from typing import Any

import pytest

from store.actions import jobs
from store.actions.trouble import WrongPin
from store.file.pins import (
    LONGEST_WAIT_S,
    Secret,
    Uptime,
    derived,
    fits,
    keep_secret,
    make_secret,
    note_right,
    note_waiting,
    note_wrong,
    read_secret,
    scrypt,
    wait_s,
)
from tests.store.actions.made import World

# RFC 7914, section 12, 64 bytes each: read in stored test suites that quote it. We ask for the
# first 32 bytes, which are the same: the last step gives out blocks of 32 bytes one by one.
RFC_7914 = [
    (
        "", "", 16, 1, 1,
        "77d6576238657b203b19ca42c18a0497f16b4844e3074ae8dfdffa3fede21442"
        "fcd0069ded0948f8326a753a0fc81f17e8d3e0fb2e0d3628cf35e20c38d18906",
    ),
    (
        "password", "NaCl", 1024, 8, 16,
        "fdbabe1c9d3472007856e7190d01e9fe7c6ad7cbc8237830e77376634b373162"
        "2eaf30d92e22a3886ff109279d9830dac727afb94a83ee6d8360cbdfa2cc0640",
    ),
    (
        "pleaseletmein", "SodiumChloride", 16384, 8, 1,
        "7023bdcb3afd7348461c06cd81fd38ebfda8fbba904f8e3ea9b543f6545da1f2"
        "d5432955613f0fcf62d49705242a9af9e61e85dc0d651e40dfcf017b45575887",
    ),
]  # fmt: skip
IDS = ["nothing", "1024/8/16", "16384/8/1"]


@pytest.mark.parametrize("pin, salt, n, r, p, expected", RFC_7914, ids=IDS)
def test_keys_are_derived_by_scrypt(
    pin: str, salt: str, n: int, r: int, p: int, expected: str
) -> None:
    assert scrypt(pin, salt.encode(), n=n, r=r, p=p) == expected[:64]
    whole = hashlib.scrypt(pin.encode(), salt=salt.encode(), n=n, r=r, p=p, maxmem=2**26, dklen=64)
    assert whole.hex() == expected


def test_the_parameters_we_use_are_those_of_the_third_value() -> None:
    pin, salt, *_, expected = RFC_7914[2]
    assert make_secret(pin, salt.encode()).hash == expected[:64]


def _fits(secret: Secret, pin: str) -> bool:
    return fits(secret, derived(secret, "p-x", pin))


def test_only_the_right_pin_fits() -> None:
    secret = make_secret("2468", b"0123456789abcdef")
    assert _fits(secret, "2468")
    assert not any(_fits(secret, wrong) for wrong in ("2469", "24680", "", "٢٤٦٨"))


def test_the_ledgers_check_covers_every_part_of_the_row() -> None:
    secret = Secret(16384, 8, 1, "aa", "bb")
    checks = {
        secret.check("p-1"), secret.check("p-2"),
        Secret(16385, 8, 1, "aa", "bb").check("p-1"), Secret(16384, 9, 1, "aa", "bb").check("p-1"),
        Secret(16384, 8, 2, "aa", "bb").check("p-1"), Secret(16384, 8, 1, "ab", "bb").check("p-1"),
        Secret(16384, 8, 1, "aa", "bc").check("p-1"),
    }  # fmt: skip
    assert len(checks) == 7
    by_hand = hashlib.sha256(b"p-1\n16384\n8\n1\naa\nbb").hexdigest()
    assert secret.check("p-1") == by_hand


def test_a_new_pin_takes_the_old_ones_place(world: World) -> None:
    with world.shop.beside() as db:
        for pin in ("1111", "2222"):
            keep_secret(db, "p-x", make_secret(pin, b"salt"))
        found = read_secret(db, "p-x")
        assert found is not None
        assert _fits(found, "2222")
        assert read_secret(db, "p-nobody") is None


AT = "2026-10-12T08:00:00.000000+00:00"
LATER, EARLIER = "2031-01-01T00:00:00.000000+00:00", "2026-10-12T05:00:00.000000+00:00"


def test_each_wrong_try_after_the_third_doubles_the_wait(world: World) -> None:
    waits: list[int] = []
    with world.shop.beside() as db:
        for _ in range(10):
            waits.append(wait_s(db, "p-x", AT, None))
            note_wrong(db, "p-x", AT, None)
        assert waits == [0, 0, 0, 30, 60, 120, 240, 480, LONGEST_WAIT_S, LONGEST_WAIT_S]
        assert wait_s(db, "p-x", "2026-10-12T08:14:00.000000+00:00", None) == 60
        assert wait_s(db, "p-x", "2026-10-12T08:15:00.000000+00:00", None) == 0
        note_right(db, "p-x")
        assert wait_s(db, "p-x", AT, None) == 0


@pytest.mark.parametrize("now", [AT, LATER, EARLIER])
def test_a_clock_that_is_set_ends_no_wait_and_makes_none_longer(world: World, now: str) -> None:
    with world.shop.beside() as db:
        for _ in range(3):
            note_wrong(db, "p-x", AT, Uptime("a", 1000.0))
        waits = [wait_s(db, "p-x", now, Uptime("a", 1000.0 + s)) for s in (0, 10, 29.4, 30, 1e6)]
        assert waits == [30, 20, 1, 0, 0]


def test_over_a_new_start_of_the_machine_its_clock_is_believed(world: World) -> None:
    with world.shop.beside() as db:
        for _ in range(3):
            note_wrong(db, "p-x", AT, Uptime("a", 1000.0))
        assert wait_s(db, "p-x", "2026-10-12T08:00:20.000000+00:00", Uptime("b", 5.0)) == 10
        assert wait_s(db, "p-x", LATER, Uptime("b", 5.0)) == 0


@pytest.mark.parametrize("started", ["a", "b", None])
def test_a_clock_that_stood_years_ahead_locks_for_no_longer_than_a_wait(
    world: World, started: str | None
) -> None:
    """Counted while the clock stood ahead; it was put right, and whoever comes is told to wait."""

    def up(s: float) -> Uptime | None:
        return None if started is None else Uptime(started, 1000.0 + s)

    with world.shop.beside() as db:
        for _ in range(3):
            note_wrong(db, "p-x", LATER, Uptime("a", 1000.0))
        assert wait_s(db, "p-x", AT, up(0)) == 30
        note_waiting(db, "p-x", AT, up(0))
        assert wait_s(db, "p-x", "2026-10-12T08:00:20.000000+00:00", up(20)) == 10
        note_waiting(db, "p-x", "2026-10-12T08:00:20.000000+00:00", up(20))
        assert wait_s(db, "p-x", "2026-10-12T08:00:30.000000+00:00", up(30)) == 0


def test_waiting_is_noted_for_nobody_who_did_not_try(world: World) -> None:
    with world.shop.beside() as db:
        note_waiting(db, "p-x", AT, Uptime("a", 1.0))
        assert db.execute("select count(*) from pin_tries where person = 'p-x'").fetchone()[0] == 0


def test_a_key_is_derived_before_the_file_is_locked_and_judged_behind_it(
    world: World, monkeypatch: pytest.MonkeyPatch
) -> None:
    job = world.take(lift=None)
    world.shop.proven.clear()
    free: list[bool] = []
    other = sqlite3.connect(world.shop.path, isolation_level=None, timeout=0)

    def noting(*given: Any, **more: Any) -> str:
        with suppress(sqlite3.OperationalError):
            other.execute("begin immediate")
            free.append(other.in_transaction)
            other.execute("rollback")
        return scrypt(*given, **more)

    monkeypatch.setattr("store.file.pins.scrypt", noting)
    with pytest.raises(WrongPin):
        jobs.promise(world.shop, world.by("FOR", pin="1357"), job=job, at=world.at(9, 0, 5))
    assert world.one("select wrong from pin_tries") == 1
    jobs.promise(world.shop, world.by("FOR"), job=job, at=world.at(9, 0, 5))
    jobs.promise(world.shop, world.by("FOR"), job=job, at=world.at(9, 0, 6))
    other.close()
    assert free == [True, True], "once for each PIN, and others could write"
