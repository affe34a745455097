"""The table of roles by the command line: who may, who may not, and what is said to them."""

from __future__ import annotations

import shlex
import shutil
import sqlite3
from contextlib import closing
from datetime import timedelta
from pathlib import Path
from typing import get_args

import pytest

from store.rules.roles import TABLE, Act
from tests.store.actions.made import BOOK, PIN, World, make
from tests.store.actions.role_shops import newest, with_strangers
from tests.tui.cli.made import Ran, run
from tests.tui.cli.role_rows import ELSEWHERE, ROWS, Row
from tui import now
from tui.cli import commands
from tui.cli.parse import parse

BADGES = {"T1": "technician", "APP": "technician", "FOR": "foreman", "OWN": "owner"}
STRANGERS = {"GON": "Gone is not on the roll", "ZZ": "Nobody here has the badge ZZ"}
WRONG = "1357"
APPRENTICE = "is an apprentice and may not do this alone. Ask a skilled colleague"
PAST = (
    "job,template,variant,phase,seq,technician,started_at,closed_at,book_hours,actual_hours\n"
    "88,CL,B4-M-F,CL1,1,B12,2024-03-04T08:00:00+01:00,2024-03-04T11:00:00+01:00,2.0,2.5\n"
)


def command_of(row: Row) -> str:
    """The name of the command that a row is about."""
    typed = parse(shlex.split(row.line)).typed
    assert typed is not None
    return typed.command.name


def named(row: Row) -> str:
    return f"{row.act}: {command_of(row)}"


def test_every_act_and_every_command_that_writes_stands_in_a_row() -> None:
    assert {row.act for row in ROWS} == set(get_args(Act)) == set(TABLE)
    writing = {one.name for one in commands.every() if one.option("pin-stdin")}
    assert {command_of(row) for row in ROWS} | set(ELSEWHERE) == writing
    assert not {command_of(row) for row in ROWS} & set(ELSEWHERE)


class Trial:
    """A row's shop, and what is tried on it."""

    def __init__(self, row: Row, folder: Path) -> None:
        self.row, self.folder = row, folder
        world = make(folder)
        with_strangers(world)
        world.to(9)
        self.job = world.take(lift=None if row.waits else "1")
        for badge in BADGES if row.each else ("T2",):
            row.prepare(world, self.job, badge)
        self.now = world.now + timedelta(minutes=1)
        self.clocks = self._clocks(world)
        world.shop.close()
        self.path = world.shop.path
        self.before = self.ledger()

    def _clocks(self, world: World) -> dict[str, int]:
        if world.one("select count(*) from clock") == 0:
            return {}
        return {badge: newest(world, badge) for badge in (*BADGES, *STRANGERS, "T2")}

    def ledger(self) -> list[tuple[object, ...]]:
        """Every row of the ledger."""
        with closing(sqlite3.connect(self.path)) as db:
            return db.execute("select * from ledger order by seq").fetchall()

    def words(self, badge: str) -> list[str]:
        """The row's command line as somebody types it."""
        clock = self.clocks.get(badge, 0)
        return shlex.split(
            self.row.line.format(
                j=self.job, k=int(self.job) + 1, m=int(self.job) + 2, b=badge, c=clock,
                o=self.clocks.get("T2", 0), f=self.folder,
            )
        )  # fmt: skip

    def run(self, badge: str, pin: str | None, *, path: Path | None = None) -> Ran:
        """Run it as somebody, with a PIN or without."""
        who = ["--as", badge] if badge else []
        stdin = f"{pin}\n" * (pin is not None) + self.row.more
        piped = ["--pin-stdin"] if stdin else []
        words = self.words(badge or "T1")
        return run("--shop", str(path or self.path), *words, *who, *piped, stdin=stdin)

    def refused(self, badge: str, pin: str | None) -> str:
        """Run it where it must be refused in one line, with not a byte written; the line."""
        ran = self.run(badge, pin)
        assert ran.out == "", ran
        assert ran.err.count("\n") == 1, ran
        assert self.ledger() == self.before, ran
        return f"{ran.status} {ran.err}"

    def does(self, badge: str, pin: str | None) -> None:
        """Run it on a copy, where it must go through."""
        copy = self.folder / "copy.shop"
        for one in self.folder.glob("copy.shop*"):
            one.unlink()
        shutil.copy(self.path, copy)
        ran = self.run(badge, pin, path=copy)
        assert (ran.status, ran.err) == (0, ""), ran
        with closing(sqlite3.connect(copy)) as db:
            count = db.execute("select count(*) from ledger").fetchone()[0]
        assert count > len(self.before), ran


@pytest.fixture(name="trial")
def trial_fixture(
    request: pytest.FixtureRequest, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> Trial:
    for name in ("HOISTBOOK_SHOP", "HOISTBOOK_BADGE"):
        monkeypatch.delenv(name, raising=False)
    (tmp_path / "again.toml").write_text(BOOK.replace("Small shop", "Small shop, again"), "utf-8")
    (tmp_path / "past.csv").write_text(PAST, "utf-8")
    trial = Trial(request.param, tmp_path)
    monkeypatch.setattr(now, "machine_now", lambda: trial.now)
    return trial


def forbidden(act: Act, badge: str) -> str | None:
    """Who may instead, where somebody may not."""
    may = TABLE[act]
    if BADGES[badge] not in may.roles:
        return f"it takes the {' or '.join(sorted(may.roles))}"
    if badge == "APP" and not may.apprentice:
        return APPRENTICE
    return None


def _tries(trial: Trial, badge: str) -> None:
    row = trial.row
    who = forbidden(row.act, badge)
    pin = TABLE[row.act].pin or row.pin
    if who is not None:
        for typed in (PIN, None, WRONG):
            said = trial.refused(badge, typed)
            assert said.startswith("1 "), said
            apprentice = APPRENTICE if badge == "APP" else who
            assert (row.who or who) in said or apprentice in said, said
        return
    if pin:
        if not row.more:
            assert "takes" in trial.refused(badge, None)
        assert "That is not" in trial.refused(badge, WRONG)
    trial.does(badge, PIN if pin else None)


@pytest.mark.parametrize("trial", ROWS, indirect=True, ids=named)
def test_the_table_is_what_the_commands_do(trial: Trial) -> None:
    for badge, says in STRANGERS.items():
        assert says in trial.refused(badge, PIN)
    assert trial.refused("", None).startswith("2 hoistbook: ")
    for badge in BADGES:
        _tries(trial, badge)
