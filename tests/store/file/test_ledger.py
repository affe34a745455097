"""Hashes, keys and stamps of the ledger, against values from outside and worked out by hand."""

from __future__ import annotations

import hashlib
import sqlite3
from datetime import timedelta
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.actions import settings
from store.edges.events.labour import ClockedOn
from store.edges.events.places import PlaceAdded
from store.edges.events.shop import RateSet, SettingChanged
from store.edges.instants import from_text, to_text
from store.file.change import By, new_key
from store.file.ledger import FIRST, Row, canonical, digest, payload_of, rehash, rows
from store.file.trouble import AlreadyRecorded
from store.file.verify import verify
from store.trouble import Refused
from tests.store.actions.made import World
from tests.store.made import busy_shop


@pytest.mark.parametrize(
    "message, expected",
    [
        # FIPS 180-4, the example values that NIST publishes with it: read in stored test suites
        # that quote them, and known from memory.
        (b"", "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"),
        (b"abc", "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"),
        (
            b"abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq",
            "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1",
        ),
        (b"a" * 10**6, "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0"),
    ],
    ids=["nothing", "abc", "two blocks", "a million"],
)
def test_the_hash_function_is_sha_256(message: bytes, expected: str) -> None:
    assert hashlib.sha256(message).hexdigest() == expected


def test_the_hash_of_an_entry_is_that_of_its_eleven_lines() -> None:
    by_hand = (
        "hoistbook ledger 1\n"
        "7\n"
        "00112233445566778899aabb.1\n"
        "2026-10-12T05:30:00.000000+00:00\n"
        "2026-10-12T05:31:00.250000+00:00\n"
        "B12\n"
        "bay 2\n"
        "found\n"
        '{"finding":"advice","hours":0.7,"job":"1001","person":"p-0123456789abcdef","phase":"4b",'
        '"text":"Öl, \\"schwarz\\"\\nund dünn"}\n'
        "0\n"
        "0000000000000000000000000000000000000000000000000000000000000000"
    )
    payload = canonical(
        {
            "text": 'Öl, "schwarz"\nund dünn', "person": "p-0123456789abcdef", "job": "1001",
            "phase": "4b", "hours": 0.7, "finding": "advice",
        }
    )  # fmt: skip
    row = Row(
        7, "00112233445566778899aabb.1", "2026-10-12T05:30:00.000000+00:00",
        "2026-10-12T05:31:00.250000+00:00", "B12", "bay 2", "found", payload, 0, FIRST, "",
    )  # fmt: skip
    assert rehash(row) == hashlib.sha256(by_hand.encode("utf-8")).hexdigest()
    # the same lines through the sha256sum of GNU coreutils
    assert rehash(row) == "225933fdf63edee23424a31e62d8a73d7e3c7c0af9bc644aa574802463d4c203"


def test_every_line_of_an_entry_moves_its_hash() -> None:
    row: dict[str, str | int] = {
        "seq": 1, "key": "k", "happened_at": "h", "recorded_at": "r", "badge": "b",
        "terminal": "t", "kind": "kind", "payload": "{}", "stepped_back": 0, "previous": FIRST,
    }  # fmt: skip
    plain = digest(**row)  # type: ignore[arg-type]  # the values have their parameters' types
    moved = {
        digest(**{**row, name: 9 if isinstance(value, int) else value + "x"})  # type: ignore[arg-type]  # as above
        for name, value in row.items()
    }
    assert len(moved) == len(row)
    assert plain not in moved


def test_a_payload_has_one_form_whatever_the_order_of_its_keys() -> None:
    assert canonical({"b": 1, "a": [1.0, 1e-7, "é"]}) == canonical({"a": [1.0, 1e-7, "é"], "b": 1})
    assert canonical({"a": [1.0, 1e-7, "é"]}) == '{"a":[1.0,1e-07,"é"]}'


def test_what_stands_at_its_default_is_left_out() -> None:
    assert payload_of(SettingChanged(name="x", value=1)) == '{"name":"x","value":1}'


TEXTS = st.text(st.characters(exclude_categories=["Cs"])) | st.just('say "no" \\ \t\x00')


@given(TEXTS, st.integers(), st.none() | TEXTS, st.none() | st.floats(0.5, 1e5))
def test_an_event_is_written_as_the_canonical_form_writes_it(
    text: str, number: int, lift_kind: str | None, kg: float | None
) -> None:
    """Plain events are put together by hand: the bytes are the same. Nothing is checked here."""
    place = PlaceAdded.model_construct(
        place=text, code="A", place_kind="lift", position=number, lift_kind=lift_kind, rated_kg=kg
    )
    assert payload_of(place) == canonical(place.model_dump(exclude_defaults=True))


@given(TEXTS, st.booleans(), st.lists(TEXTS))
def test_flags_and_lists_are_written_so_too(text: str, flag: bool, opens: list[str]) -> None:
    on = ClockedOn.model_construct(
        person=text, job="1", phase="1", part="lead", begins=flag, opens=opens
    )
    assert payload_of(on) == canonical(on.model_dump(exclude_defaults=True))


def test_every_event_of_a_busy_shop_is_in_canonical_form(tmp_path: Path) -> None:
    world = busy_shop(tmp_path)
    with world.shop.reading() as db:
        for row in rows(db):
            assert canonical(row.event().model_dump(exclude_defaults=True)) == row.payload
    world.shop.close()


def test_half_a_sign_in_an_event_is_refused_in_words() -> None:
    event = SettingChanged.model_construct(name="\ud83d", value=1)
    with pytest.raises(Refused, match="Type it anew"):
        payload_of(event)


@pytest.mark.parametrize("number", [float("nan"), float("inf")])
def test_no_number_without_value_gets_into_a_payload(number: float) -> None:
    with pytest.raises(ValueError, match="not JSON compliant"):
        canonical({"hours": number})


def test_half_a_sign_is_refused_in_words() -> None:
    with pytest.raises(Refused, match="Type it anew"):
        canonical({"text": "\ud83d"})


@pytest.mark.parametrize(
    "sql",
    [
        "update ledger set badge = 'X' where seq = 3",
        "update ledger set hash = hash",
        "delete from ledger where seq = (select max(seq) from ledger)",
        "delete from ledger",
        "replace into ledger select * from ledger where seq = 3",
        "insert or replace into ledger select seq + 1, key, happened_at, recorded_at, badge, "
        "terminal, kind, payload, stepped_back, previous, hash from ledger "
        "where seq = (select max(seq) from ledger)",
        "insert into ledger select seq + 2, key || 'x', happened_at, recorded_at, badge, "
        "terminal, kind, payload, stepped_back, previous, hash from ledger "
        "where seq = (select max(seq) from ledger)",
    ],
)
def test_the_file_itself_refuses_to_edit_or_shorten_the_ledger(world: World, sql: str) -> None:
    db = sqlite3.connect(world.shop.path)  # as any tool opens it, without our settings
    before = db.execute("select * from ledger").fetchall()
    with pytest.raises(sqlite3.IntegrityError, match="the ledger"):
        db.execute(sql)
    assert db.execute("select * from ledger").fetchall() == before
    db.close()


def test_a_second_try_with_the_same_key_writes_nothing_twice(world: World) -> None:
    by = world.by("OWN")
    settings.change_setting(world.shop, by, name="cautious", value=0.9)
    before, tables = world.events(), world.tables()
    with pytest.raises(AlreadyRecorded) as caught:
        settings.change_setting(world.shop, by, name="cautious", value=0.9)
    assert (caught.value.key, caught.value.seq) == (by.key, before)
    assert str(before) in str(caught.value)
    assert (world.events(), world.tables()) == (before, tables)


def test_keys_of_two_acts_differ() -> None:
    assert len({new_key() for _ in range(1000)}) == 1000


@pytest.mark.parametrize("key", ["", "short", "with.dot.in.it", "line\nfeed" * 3, "x" * 65])
def test_a_key_of_another_form_is_a_fault_of_the_program(world: World, key: str) -> None:
    before = world.events()
    with (
        pytest.raises(ValueError, match="key of an act"),
        world.shop.changing(By("OWN", "t1", world.now, key=key)),
    ):
        pass
    assert world.events() == before


def test_events_of_one_act_share_its_key_and_are_one_entry(world: World) -> None:
    by, before = world.by("OWN"), world.events()
    with world.shop.changing(by) as change:
        for per_hour in (91, 92, 93):
            change.record(RateSet(from_day="2028-01-01", per_hour=per_hour))
    keys = world.all("select key from ledger where seq > ? order by seq", before)
    assert keys == [(by.key,), (f"{by.key}.1",), (f"{by.key}.2",)]
    entry = world.all("select seq, last from entry order by seq desc limit 1")
    assert entry == [(before + 1, before + 3)]
    assert verify(world.shop.path).ok


def test_a_badge_typed_small_is_the_same_person(world: World) -> None:
    settings.change_setting(world.shop, world.by("own"), name="cautious", value=0.9)
    last = world.all(
        "select ledger.badge, entry.person from ledger join entry using (seq) "
        "order by seq desc limit 1"
    )
    owner = world.one("select person from person where badge = 'OWN'")
    assert last == [("OWN", owner)]


def test_a_terminal_of_any_name_is_one_line_in_the_ledger(world: World) -> None:
    by = By("OWN", " bay\n\t2 ", world.now, pin="2468", key="a" * 24)
    settings.change_setting(world.shop, by, name="cautious", value=0.9)
    assert world.one("select terminal from ledger order by seq desc limit 1") == "bay 2"
    assert verify(world.shop.path).ok


def test_a_clock_that_stepped_back_stamps_no_earlier_and_says_so(world: World) -> None:
    last = world.one("select recorded_at from ledger order by seq desc limit 1")
    assert isinstance(last, str)
    behind = from_text(last) - timedelta(hours=1, seconds=0.4)
    by = By("OWN", "t1", behind, pin="2468", key="b" * 24)
    settings.change_setting(world.shop, by, name="cautious", value=0.9)
    stamps = world.all(
        "select recorded_at, happened_at, stepped_back from ledger order by seq desc limit 1"
    )
    assert stamps == [(last, last, 3600)]
    assert world.one("select count(*) from ledger where stepped_back < 0") == 0
    assert verify(world.shop.path).ok


def test_the_least_step_back_is_marked_too(world: World) -> None:
    last = world.one("select recorded_at from ledger order by seq desc limit 1")
    assert isinstance(last, str)
    by = By("OWN", "t1", from_text(last) - timedelta(microseconds=1), pin="2468", key="b" * 24)
    settings.change_setting(world.shop, by, name="cautious", value=0.9)
    assert world.one("select stepped_back from ledger order by seq desc limit 1") == 1


def test_once_the_clock_is_right_again_nothing_is_marked(world: World) -> None:
    settings.change_setting(world.shop, world.by("OWN"), name="cautious", value=0.9)
    assert world.one("select stepped_back from ledger order by seq desc limit 1") == 0


def test_nothing_happens_after_it_was_recorded(world: World) -> None:
    before, later = world.events(), to_text(world.now + timedelta(hours=1))

    def ahead() -> None:
        with world.shop.changing(world.by("OWN")) as change:
            change.record(RateSet(from_day="2028-01-01", per_hour=91), happened_at=later)

    with pytest.raises(ValueError, match="lies after"):
        ahead()
    assert world.events() == before
