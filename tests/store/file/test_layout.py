"""A file of an older layout becomes ours by replaying its ledger, whatever its tables were."""

from __future__ import annotations

import shutil
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest

from store.file.layout import LAYOUT, PERMANENT, derived_tables, make_tables, statements
from store.file.migrations import SCRIPTS, run
from store.file.shop import Shop
from store.file.trouble import Damaged
from store.file.verify import verify
from tests.store.file.acts import one_line
from tests.store.file.edits import ledger, signed, tampering, write

ROOT = Path(__file__).parents[3]


def age(path: Path) -> None:
    """Make a file look as if an older program had written it."""
    db = sqlite3.connect(path, isolation_level=None)
    db.execute("pragma foreign_keys = off")
    db.execute("begin")
    db.execute("alter table person drop column experience")
    db.execute("alter table clock rename to labour_row")
    db.execute("drop table attendance")
    db.execute("create table no_longer_there (a text)")
    db.execute("insert into no_longer_there values ('x')")
    db.execute("delete from entry")
    db.execute("update job set state = 'waiting'")
    db.execute("create trigger older after insert on hold begin select 1; end")
    db.execute("pragma user_version = 0")
    db.execute("commit")
    db.close()


def dump(path: Path) -> list[str]:
    """Everything in a file that counts."""
    db = sqlite3.connect(path)
    lines = sorted(
        one for one in db.iterdump() if "_sqlite_migrations" not in one and "sqlite_seq" not in one
    )
    lines.append(str(db.execute("pragma user_version").fetchone()[0]))
    db.close()
    return lines


def test_an_older_file_is_replayed_into_the_tables_of_today(path: Path) -> None:
    before = dump(path)
    age(path)
    assert dump(path) != before
    Shop(path).close()
    assert dump(path) == before
    verdict = verify(path)
    assert verdict.ok, verdict


def test_what_stands_outside_the_ledger_is_kept(path: Path) -> None:
    db = sqlite3.connect(path)
    kept = {name: db.execute(f"select * from {name}").fetchall() for name in PERMANENT}
    db.close()
    assert kept["ledger"]
    assert kept["pin_private"]
    assert kept["customer_private"]
    age(path)
    Shop(path).close()
    db = sqlite3.connect(path)
    assert {name: db.execute(f"select * from {name}").fetchall() for name in PERMANENT} == kept
    db.close()


def test_an_older_file_whose_ledger_does_not_replay_is_left_as_it_was(path: Path) -> None:
    with tampering(path) as db:
        row = ledger(db)[30]
        write(db, signed(row, kind="tea-made"))
    age(path)
    before = dump(path)
    with pytest.raises(Damaged) as caught:
        Shop(path)
    assert f"entry {row.seq} of" in one_line(caught.value)
    assert dump(path) == before


OPEN = """
import sys
from pathlib import Path
from store.file.shop import Shop
print("ready", flush=True)
sys.stdin.readline()
shop = Shop(Path(sys.argv[1]))
with shop.reading() as db:
    print(db.execute("select count(*) from clock").fetchone()[0])
"""


def test_processes_that_open_an_older_file_at_once_all_find_it_whole(path: Path) -> None:
    db = sqlite3.connect(path)
    clocks = db.execute("select count(*) from clock").fetchone()[0]
    db.close()
    age(path)
    started = [
        subprocess.Popen(
            [sys.executable, "-c", OPEN, str(path)], cwd=ROOT, text=True,
            stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
        )
        for _ in range(3)
    ]  # fmt: skip
    for one in started:
        assert one.stdout is not None
        assert one.stdout.readline() == "ready\n"
    for one in started:
        assert one.stdin is not None
        one.stdin.write("go\n")
        one.stdin.flush()
    for one in started:
        said, complained = one.communicate()
        assert (one.returncode, said, complained) == (0, f"{clocks}\n", "")
    assert verify(path).ok


def test_an_older_file_is_brought_up_to_date_by_whoever_writes_first(path: Path) -> None:
    other = path.with_name("older.shop")
    shutil.copy(path, other)
    age(other)
    shop = Shop(path)
    other.replace(path)
    with shop.reading() as db:
        assert db.execute("select count(*) from attendance").fetchone()[0] > 0
        assert db.execute("pragma user_version").fetchone()[0] == LAYOUT
    shop.close()


def test_the_schema_is_cut_into_whole_statements() -> None:
    script = "create table a (b text); -- one; two\ncreate trigger t after insert on a\nbegin\n select 1;\nend;\n"  # noqa: E501  # as it stands in a file
    assert len(statements(script)) == 2


def test_every_table_is_either_derived_or_permanent() -> None:
    db = sqlite3.connect(":memory:")
    for name in SCRIPTS:
        run(db, name)
    make_tables(db)
    found = {name for (name,) in db.execute("select name from sqlite_master where type = 'table'")}
    assert found == set(PERMANENT) | set(derived_tables())
    assert not set(PERMANENT) & set(derived_tables())


def test_every_table_is_strict_and_has_a_key() -> None:
    db = sqlite3.connect(":memory:")
    for name in SCRIPTS:
        run(db, name)
    make_tables(db)
    for name, strict in db.execute(
        "select name, strict from pragma_table_list where schema = 'main'"
    ):
        if name.startswith("sqlite_"):
            continue
        assert strict, name
        assert any(pk for (pk,) in db.execute("select pk from pragma_table_info(?)", [name])), name
