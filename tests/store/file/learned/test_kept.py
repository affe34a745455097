"""What was learned stands beside the ledger: kept, proof of nothing, made again when lost."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing
from dataclasses import replace
from pathlib import Path

import pytest

from store.file.backup import backup, restore
from store.file.layout import LEARNED
from store.file.learned.kept import (
    Forecast,
    Part,
    PhaseLeft,
    Position,
    forecasts,
    forget_all,
    keep_forecasts,
    keep_parts,
    looked_at,
    newest_position,
    parts,
    turn,
)
from store.file.shop import Shop
from store.file.verify import verify
from tests.store.actions.made import World
from tests.store.file.learned.made import spread
from tests.store.made import busy_shop


@pytest.fixture(name="world")
def world_fixture(tmp_path: Path) -> Iterator[World]:
    made = busy_shop(tmp_path)
    yield made
    made.shop.close()


def known(world: World, job: str = "1001") -> Forecast:
    """A forecast as the learner makes one."""
    return Forecast(
        job, world.events(), 7, world.now, 4.25, spread(12.0), spread(30.0),
        {"3": PhaseLeft(1.5, spread(2.0)), "4b": PhaseLeft(0.0, spread(5.0))},
    )  # fmt: skip


def here(world: World) -> Position:
    """Where the ledger stands."""
    with world.shop.reading() as db:
        return newest_position(db)


def keep(world: World, *made: Forecast, at: Position | None = None) -> bool:
    """Write forecasts as the learner does."""
    with world.shop.beside() as db:
        return keep_forecasts(db, made, at or newest_position(db))


def read(shop: Shop, *jobs: str) -> dict[str, Forecast]:
    """Read forecasts as a view does."""
    with shop.reading() as db:
        return forecasts(db, jobs or ("1001",))


def test_a_forecast_is_read_as_it_was_made(world: World) -> None:
    assert read(world.shop) == {}
    made = known(world)
    assert keep(world, made)
    assert read(world.shop, "1001", "1002") == {"1001": made}


def test_a_newer_forecast_takes_the_place_of_an_older_one_and_never_the_other_way(
    world: World,
) -> None:
    made = known(world)
    keep(world, made)
    keep(world, replace(made, seq=made.seq - 1, labour_h=9.0))
    assert read(world.shop)["1001"].labour_h == 4.25
    keep(world, replace(made, labour_h=5.0))
    assert read(world.shop)["1001"].labour_h == 5.0


def test_each_writing_turns_so_that_screens_look_again(world: World) -> None:
    with world.shop.reading() as db:
        assert (turn(db), looked_at(db)) == (0, Position(0, ""))
    keep(world, known(world))
    keep(world)
    with world.shop.reading() as db:
        assert (turn(db), looked_at(db)) == (2, newest_position(db))


def test_what_was_learned_of_another_ledger_is_not_written(world: World) -> None:
    at = here(world)
    other = Position(at.seq, "f" * 64)
    assert not keep(world, known(world), at=other)
    with world.shop.beside() as db:
        assert not keep_parts(db, [Part("a", "1", other, 3, "d", b"x")], other)
        assert parts(db, {"a": "1"}) == {}
    assert read(world.shop) == {}


def test_a_part_is_read_only_by_the_version_that_made_it(world: World) -> None:
    at = here(world)
    made = Part("a", "1", at, 3, "d", b"x")
    with world.shop.beside() as db:
        assert keep_parts(db, [made], at)
        assert parts(db, {"a": "1"}, whole=True) == {"a": made}
        assert parts(db, {"a": "1"}) == {"a": replace(made, content=None)}
        assert parts(db, {"a": "2", "b": "1"}) == {}


def test_what_stays_as_it_is_knows_more_all_the_same(world: World) -> None:
    early = Position(5, str(world.one("select hash from ledger where seq = 5")))
    with world.shop.beside() as db:
        keep_parts(db, [Part("a", "1", early, 3, "d", b"x")], early)
        keep_parts(db, [Part("a", "1", early, 3, "d")], newest_position(db))
        found = parts(db, {"a": "1"}, whole=True)["a"]
    assert (found.at, found.content) == (here(world), b"x")


def test_closed_jobs_lose_their_forecast_with_the_next_writing(world: World) -> None:
    closed = world.one("select job from job where state = 'closed'")
    assert isinstance(closed, str)
    with world.shop.beside() as db:
        keep_forecasts(db, [known(world, closed)], newest_position(db))
    assert read(world.shop, closed) == {}


@pytest.mark.parametrize(
    "content", ["", "{}", "[]", '{"left": [1], "finish": null, "phases": {}}', "null"]
)
def test_a_row_that_cannot_be_read_is_as_none(world: World, content: str) -> None:
    keep(world, known(world))
    with world.shop.beside() as db:
        db.execute("update learned_forecast set content = ?", [content])
    assert read(world.shop) == {}


def test_rows_of_another_form_are_not_read(world: World) -> None:
    keep(world, known(world))
    with world.shop.beside() as db:
        db.execute("update learned_forecast set form = form + 1")
    assert read(world.shop) == {}


def drop(path: Path) -> None:
    """Lose what was learned."""
    with closing(sqlite3.connect(path)) as db:
        for name in LEARNED:
            db.execute(f"drop table {name}")


def test_verifying_takes_no_notice_of_what_was_learned(world: World) -> None:
    keep(world, known(world))
    with world.shop.beside() as db:
        db.execute("update learned_forecast set content = 'x', seq = 10")
        db.execute("insert into learned_part values ('a', '1', 9, 'no hash', 1, 'd', x'00')")
    world.shop.close()
    assert verify(world.shop.path).ok
    drop(world.shop.path)
    assert verify(world.shop.path).ok


def test_a_table_that_is_lost_is_as_empty_and_made_again(world: World) -> None:
    drop(world.shop.path)
    assert read(world.shop) == {}
    with world.shop.reading() as db:
        assert (turn(db), looked_at(db), parts(db, {"a": "1"})) == (0, Position(0, ""), {})
    made = known(world)
    assert keep(world, made)
    assert read(world.shop) == {"1001": made}
    assert verify(world.shop.path).ok


def test_a_file_from_before_there_was_anything_learned_gets_the_tables(world: World) -> None:
    world.shop.close()
    drop(world.shop.path)
    with closing(sqlite3.connect(world.shop.path)) as db:
        db.execute(
            "delete from _sqlite_migrations "
            "where name in ('0002_learned', '0004_help', '0005_need')"
        )
        db.execute("pragma user_version = 1")
        db.commit()
    shop = Shop(world.shop.path)
    with shop.reading() as db:
        there = {row[0] for row in db.execute("select name from sqlite_master")}
    shop.close()
    assert set(LEARNED) <= there
    assert verify(world.shop.path).ok


def test_a_backup_and_a_newer_layout_keep_what_was_learned(world: World, tmp_path: Path) -> None:
    made = known(world)
    keep(world, made)
    copy = tmp_path / "copy.shop"
    assert backup(world.shop, copy).ok
    with closing(sqlite3.connect(copy)) as db:
        db.execute("pragma user_version = 1")
        db.commit()
    back = tmp_path / "back.shop"
    restore(copy, back)
    shop = Shop(back)
    assert read(shop) == {"1001": made}
    shop.close()


def test_everything_learned_can_be_forgotten(world: World) -> None:
    at = here(world)
    keep(world, known(world))
    with world.shop.beside() as db:
        keep_parts(db, [Part("a", "1", at, 3, "d", b"x")], at)
        forget_all(db)
        assert parts(db, {"a": "1"}) == {}
    assert read(world.shop) == {}
