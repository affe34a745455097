"""Whatever is changed in a shop file by other means than an action, verify names it."""

from __future__ import annotations

import json
import sqlite3
import tempfile
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from store.actions.settings import erase_customer
from store.file.chain import Chain
from store.file.layout import derived_tables, make_tables
from store.file.ledger import COLUMNS, Row
from store.file.verify import verify
from store.trouble import Trouble
from tests.store.actions.made import World
from tests.store.file.edits import Value, found_wrong, ledger, signed, tampering, write
from tests.store.made import CUSTOMER, busy_shop


def schema() -> dict[str, list[tuple[str, str, int]]]:
    """Name, type and place in the primary key of every column that is checked, by table."""
    db = sqlite3.connect(":memory:")
    make_tables(db)
    db.execute("create table pin_private (person text primary key, n, r, p, salt text, hash text)")
    return {
        table: db.execute("select name, type, pk from pragma_table_info(?)", [table]).fetchall()
        for table in (*derived_tables(), "pin_private")
    }


SCHEMA = schema()
DERIVED_COLUMNS = [(table, name) for table, columns in SCHEMA.items() for name, _, _ in columns]
LEDGER_COLUMNS = COLUMNS.split(", ")


def another(value: Value, declared: str) -> Value:
    """A value of the same type that no row has."""
    if isinstance(value, str) or (value is None and declared.lower() == "text"):
        return f"{value or ''}x"
    return (value or 0) + 1000


def test_a_busy_shop_is_what_its_ledger_says_and_fills_every_table(world: World) -> None:
    empty = [name for name in derived_tables() if not world.one(f"select count(*) from {name}")]
    assert not empty
    verdict = verify(world.shop.path)
    assert (verdict.ok, verdict.events, verdict.seq) == (True, world.events(), None), verdict
    assert verdict.table is None


def test_a_shop_in_use_is_verified_beside_its_writers(world: World) -> None:
    with world.shop.changing(world.by("FOR")) as change:
        change.db.execute("update shop set name = 'not yet committed'")
        assert verify(world.shop.path).ok
        change.db.execute("update shop set name = 'Made'")


@pytest.mark.parametrize("table, column", DERIVED_COLUMNS, ids=str)
def test_a_changed_column_is_named(path: Path, table: str, column: str) -> None:
    columns = SCHEMA[table]
    names = [name for name, _, _ in columns]
    keys = [name for name, _, pk in columns if pk]
    declared = next(kind for name, kind, _ in columns if name == column)
    with tampering(path) as db:
        rows = db.execute(f"select * from {table} order by {', '.join(keys)}").fetchall()
        row = dict(zip(names, rows[len(rows) // 2], strict=True))
        where = " and ".join(f"{key} = ?" for key in keys)
        new = another(row[column], declared)
        done = db.execute(
            f"update {table} set {column} = ? where {where}", [new, *(row[key] for key in keys)]
        )
        assert done.rowcount == 1
    verdict = found_wrong(path)
    assert verdict.table == table, verdict
    if table == "pin_private":
        assert str(row["person"]) in verdict.says
    elif column in keys:
        assert "row " in verdict.says
        assert str(new) in verdict.says or str(row[column]) in verdict.says
    else:
        assert f"column {column}:" in verdict.says
        for key in keys:
            assert f"{key} {row[key]}" in verdict.says


@pytest.mark.parametrize("column", LEDGER_COLUMNS)
@pytest.mark.parametrize("which", [0, 40, -1])
def test_a_changed_column_of_the_ledger_is_named(path: Path, column: str, which: int) -> None:
    with tampering(path) as db:
        row = ledger(db)[which]
        db.execute(
            f"update ledger set {column} = ? where seq = ?",
            [another(getattr(row, column), ""), row.seq],
        )
    verdict = found_wrong(path)
    assert verdict.table == "ledger"
    assert verdict.seq in (row.seq, row.seq + 1, row.seq + 1000)


@pytest.mark.parametrize("table", [*derived_tables(), "pin_private"])
def test_a_row_taken_out_is_named(path: Path, table: str) -> None:
    keys = [name for name, _, pk in SCHEMA[table] if pk]
    with tampering(path) as db:
        row = db.execute(f"select {', '.join(keys)} from {table} limit 1").fetchone()
        where = " and ".join(f"{key} = ?" for key in keys)
        assert db.execute(f"delete from {table} where {where}", row).rowcount == 1
    verdict = found_wrong(path)
    assert verdict.table == table
    for value in row:
        assert str(value) in verdict.says


@pytest.mark.parametrize("table", [*derived_tables(), "pin_private"])
def test_a_row_put_in_is_named(path: Path, table: str) -> None:
    columns = SCHEMA[table]
    with tampering(path) as db:
        unique = ("badge", "code") if table in ("person", "place", "kit") else ()
        row = [
            another(value, kind) if pk or name in unique else value
            for (name, kind, pk), value in zip(
                columns, db.execute(f"select * from {table}").fetchall()[0], strict=True
            )
        ]
        if table == "clock":
            row[1] = "p-somebody"
        db.execute(f"insert into {table} values ({', '.join('?' * len(row))})", row)
    verdict = found_wrong(path)
    assert verdict.table == table
    key = next(value for (_, _, pk), value in zip(columns, row, strict=True) if pk)
    assert str(key) in verdict.says


def test_a_removed_entry_leaves_a_gap(path: Path) -> None:
    with tampering(path) as db:
        db.execute("delete from ledger where seq = 50")
    verdict = found_wrong(path)
    assert (verdict.table, verdict.seq) == ("ledger", 51)
    assert "entry 50 is missing" in verdict.says


@pytest.mark.parametrize("seq", [0, -1, -50])
def test_an_entry_before_the_first_is_found(path: Path, seq: int) -> None:
    with tampering(path) as db:
        row = ledger(db)[49]
        write(db, row._replace(seq=seq, key="f" * 24))
    verdict = found_wrong(path)
    assert (verdict.table, verdict.seq) == ("ledger", seq)


def test_entries_cut_off_at_the_end_are_missed_by_the_tables(path: Path) -> None:
    with tampering(path) as db:
        last = db.execute("select max(seq) from ledger where key not like '%.%'").fetchone()[0]
        db.execute("delete from ledger where seq >= ?", [last])
    assert found_wrong(path).table in derived_tables()


def test_two_entries_that_changed_places_are_found(path: Path) -> None:
    with tampering(path) as db:
        rows = ledger(db)
        one, other = rows[60], rows[61]
        db.execute("delete from ledger where seq in (?, ?)", [one.seq, other.seq])
        write(db, one._replace(seq=other.seq))
        write(db, other._replace(seq=one.seq))
    assert found_wrong(path).seq == one.seq


def test_an_entry_put_in_at_the_end_by_hand_is_found(path: Path) -> None:
    with tampering(path) as db:
        last = ledger(db)[-1]
        write(db, last._replace(seq=last.seq + 1, key=f"{last.key}00"))
    assert found_wrong(path).seq == last.seq + 1


def test_an_entry_changed_and_signed_anew_breaks_the_next_one(path: Path) -> None:
    with tampering(path) as db:
        row = ledger(db)[45]
        write(db, signed(row, terminal="elsewhere"))
    assert found_wrong(path).seq == row.seq + 1


def test_a_whole_tail_signed_anew_does_not_fit_the_tables(path: Path) -> None:
    with tampering(path) as db:
        rows = ledger(db)
        at = next(n for n, row in enumerate(rows) if row.kind == "rate-set")
        payload = json.loads(rows[at].payload)
        payload["per_hour"] += 1
        new = json.dumps(payload, sort_keys=True, separators=(",", ":"))
        previous = rows[at].previous
        for row in rows[at:]:
            changed = signed(
                row, previous=previous, payload=new if row is rows[at] else row.payload
            )
            previous = changed.hash
            write(db, changed)
    verdict = found_wrong(path)
    assert verdict.table == "rate"
    assert "column per_hour" in verdict.says


def add_signed(path: Path, **new: str | int) -> None:
    """One more entry like the last, rightly chained and signed."""
    with tampering(path) as db:
        last = ledger(db)[-1]
        follows: dict[str, str | int] = {
            "seq": last.seq + 1, "key": "f" * 24, "previous": last.hash, **new,
        }  # fmt: skip
        write(db, signed(last, **follows))


@pytest.mark.parametrize(
    "new, words",
    [
        ({"recorded_at": "2026-10-12T00:00:00.000000+00:00"}, "was recorded before"),
        ({"happened_at": "2026-10-31T00:00:00.000000+00:00"}, "happened after"),
        ({"recorded_at": "2026-10-31 00:00:00"}, "is no instant"),
        ({"happened_at": "yesterday"}, "is no instant"),
        ({"kind": "tea-made", "payload": "{}"}, "is no tea-made"),
        ({"kind": "shop-founded"}, "begins with shop-founded"),
        ({"kind": "job-closed", "payload": '{"confirms":[],"job":"9999","more":1}'}, "is no job"),
        ({"kind": "job-closed", "payload": '{"confirms": [], "job": "1001"}'}, "not in the form"),
        ({"kind": "job-closed", "payload": '{"job":"1001","confirms":[]}'}, "not in the form"),
        ({"kind": "job-closed", "payload": "{"}, "is no job-closed"),
        ({"kind": "rate-set", "payload": '{"from_day":"2026-10-12","per_hour":NaN}'}, "is no rate"),
        ({"terminal": "one\ntwo"}, "cannot be"),
        ({"stepped_back": -1}, "cannot be"),
        ({"kind": "customer-known", "payload": f'{{"customer":"{CUSTOMER}"}}'}, "does not fit"),
        ({"key": "f" * 24 + ".x"}, "does not fit"),
    ],
    ids=str,
)
def test_an_entry_that_no_action_writes_is_found_though_it_is_signed(
    path: Path, new: dict[str, str | int], words: str
) -> None:
    add_signed(path, **new)
    verdict = found_wrong(path)
    assert verdict.table == "ledger"
    assert words in verdict.says, verdict.says


def test_a_key_used_twice_is_found_even_where_the_table_would_allow_it(path: Path) -> None:
    with tampering(path) as db:
        first, second = ledger(db)[:2]
    chain = Chain()
    assert chain.fault(first) is None
    says = chain.fault(signed(second, key=first.key))
    assert says is not None
    assert first.key in says


@pytest.mark.parametrize(
    "sql, name",
    [
        ("drop trigger ledger_is_never_edited", "ledger_is_never_edited"),
        ("drop trigger ledger_is_never_shortened", "ledger_is_never_shortened"),
        ("drop trigger ledger_grows_at_its_end", "ledger_grows_at_its_end"),
        ("drop index clock_one_running", "clock_one_running"),
        ("create table mine (a)", "mine"),
        ("create trigger t after insert on clock begin delete from hold; end", "t"),
        ("alter table person add column pay real", "person"),
        ("drop table kit", "kit"),
    ],
)
def test_a_changed_schema_is_named(path: Path, sql: str, name: str) -> None:
    db = sqlite3.connect(path)
    db.execute(sql)
    db.commit()
    db.close()
    verdict = found_wrong(path)
    assert verdict.table == name
    assert "schema" in verdict.says


HIDDEN = (
    "create trigger ledger_is_never_shortened before delete on ledger\n"
    "begin select raise(abort, 'the ledger --'); select ('\n is never shortened'); end"
)


def test_what_is_hidden_behind_a_mark_of_a_comment_is_no_comment(path: Path) -> None:
    db = sqlite3.connect(path)
    db.execute("drop trigger ledger_is_never_shortened")
    db.execute(HIDDEN)
    db.commit()
    db.close()
    assert found_wrong(path).table == "ledger_is_never_shortened"


@pytest.mark.parametrize(
    "sql",
    [
        "delete from _sqlite_migrations where name = '0002_learned'",
        "drop table _sqlite_migrations",
        "create trigger t before insert on _sqlite_migrations begin delete from ledger; end",
    ],
)
def test_a_changed_list_of_scripts_is_found(path: Path, sql: str) -> None:
    db = sqlite3.connect(path)
    db.execute(sql)
    db.commit()
    db.close()
    assert "schema" in found_wrong(path).says


def test_the_sentence_names_an_entry_by_number_day_act_and_person(path: Path) -> None:
    with tampering(path) as db:
        row = ledger(db)[70]
        db.execute("update ledger set payload = '{}' where seq = ?", [row.seq])
    assert found_wrong(path).says == (
        f"In the ledger entry {row.seq} of {row.recorded_at[:10]} ({row.kind} by {row.badge}) was "
        "changed: it does not fit its own hash."
    )


def test_a_customer_erased_by_an_event_is_no_fault_and_a_name_that_stays_is(world: World) -> None:
    path = world.shop.path
    with world.shop.beside() as db:
        theirs = "select * from customer_private where customer = ?"
        kept = tuple(db.execute(theirs, [CUSTOMER]).fetchone())
    erase_customer(world.shop, world.by("FOR"), customer=CUSTOMER)
    assert world.all(theirs, CUSTOMER) == []
    assert verify(path).ok
    with world.shop.beside() as db:
        db.execute("insert into customer_private values (?, ?, ?)", kept)
    verdict = found_wrong(path)
    assert verdict.table == "customer_private"
    assert CUSTOMER in verdict.says


def test_a_name_of_nobody_known_is_found(world: World) -> None:
    with world.shop.beside() as db:
        db.execute("insert into customer_private values ('c-99999999', 'Who', '1')")
    assert found_wrong(world.shop.path).table == "customer_private"


def test_text_that_is_none_is_named(path: Path) -> None:
    with tampering(path) as db:
        db.execute("update place set code = cast(x'ff41' as text) where code = 'Y'")
    verdict = found_wrong(path)
    assert verdict.table == "place"
    assert "cannot be read" in verdict.says


def test_an_index_that_lies_is_found(path: Path) -> None:
    with tampering(path) as db:
        db.execute("pragma writable_schema = on")
        root = db.execute("select rootpage from sqlite_master where name = 'job_live'").fetchone()
        other = db.execute("select rootpage from sqlite_master where name = 'hold_job'").fetchone()
        db.execute("update sqlite_master set rootpage = ? where name = 'hold_job'", root)
        db.execute("update sqlite_master set rootpage = ? where name = 'job_live'", other)
    assert "pages" in found_wrong(path).says


def test_a_torn_file_is_said_to_be_damaged(path: Path) -> None:
    with path.open("r+b") as file:
        file.seek(8192)
        file.write(b"\xff" * 200_000)
    try:
        says = verify(path).says
    except Trouble as trouble:
        says = str(trouble)
    assert "damaged" in says


def test_a_schema_that_is_no_text_any_more_is_said_to_be_damaged(path: Path) -> None:
    content = path.read_bytes()
    at = content.index(b"turn integer not null") + len(b"turn integer not ")
    path.write_bytes(content[:at] + b"\xee" + content[at + 1 :])
    assert "schema cannot be read" in found_wrong(path).says


@given(st.data())
@settings(max_examples=40, deadline=None)
def test_any_single_edit_of_the_ledger_is_found(data: st.DataObject) -> None:
    with tempfile.TemporaryDirectory() as folder:
        world = busy_shop(Path(folder))
        world.shop.close()
        with tampering(world.shop.path) as db:
            rows = ledger(db)
            row = data.draw(st.sampled_from(rows))
            column = data.draw(st.sampled_from(LEDGER_COLUMNS))
            new = data.draw(edit_of(getattr(row, column)))
            db.execute(f"update ledger set {column} = ? where seq = ?", [new, row.seq])
        verdict = found_wrong(world.shop.path)
        assert verdict.table == "ledger"
        assert verdict.seq is not None
        assert row.seq <= verdict.seq


def edit_of(value: str | int) -> st.SearchStrategy[str | int]:
    """A value that differs, often by one sign only."""
    if isinstance(value, int):
        return st.integers(10**6, 10**9)
    signs = st.characters(exclude_categories=["Cs"], exclude_characters="\0")
    places = st.integers(0, max(0, len(value) - 1))

    def put(at: int, sign: str) -> str:
        return value[:at] + sign + value[at + 1 :]

    def other(new: str) -> bool:
        return new != value

    return st.one_of(st.builds(put, places, signs), st.text(signs)).filter(other)


@given(st.data())
@settings(max_examples=25, deadline=None)
def test_an_edit_signed_by_whoever_made_it_is_found_too(data: st.DataObject) -> None:
    """All but the last entry: what nobody has chained to yet is as good as just recorded."""
    with tempfile.TemporaryDirectory() as folder:
        world = busy_shop(Path(folder))
        world.shop.close()
        with tampering(world.shop.path) as db:
            row: Row = data.draw(st.sampled_from(ledger(db)[:-1]))
            column = data.draw(st.sampled_from(["badge", "terminal", "payload", "kind", "key"]))
            new = data.draw(edit_of(getattr(row, column)))
            write(db, signed(row, **{column: new}))
        verdict = found_wrong(world.shop.path)
        assert verdict.seq in (row.seq, row.seq + 1)


def test_the_file_is_left_as_it_was(path: Path) -> None:
    before = path.read_bytes()
    assert verify(path).ok
    assert path.read_bytes() == before
    assert [one.name for one in path.parent.iterdir()] == [path.name]
