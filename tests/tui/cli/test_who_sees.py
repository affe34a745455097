"""What a command that only reads shows to whom: names, telephones, costs, hours of others."""

from __future__ import annotations

import shlex
from collections.abc import Iterator
from pathlib import Path

import pytest

from store.views.nameless import SOMEBODY
from tests.store.made import busy_shop
from tests.tui.cli.made import Ran, run
from tests.tui.cli.reading_lines import OF_A_JOB, OF_THE_SHOP, reading_lines
from tui import now
from tui.cli import commands

PRIVATE = ("Kim Invented", "Robin Invented", "0123 456789")
"""People outside the shop, as the busy shop knows them, and a telephone."""
WITHOUT_READER = {
    "demo", "init", "open", "browser", "batch", "backup", "restore",
}  # fmt: skip
"""They show nothing of a shop, or hand out the whole file to whoever can open it."""


class Readers:
    """The busy shop, and whoever reads in it."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder / "out"
        self.folder.mkdir()
        world = busy_shop(folder)
        self.now, self.path = world.now, world.shop.path
        self.jobs = [
            str(one[0]) for one in world.all("select job from job where customer is not null")
        ]
        world.shop.close()

    def run(self, line: str, badge: str) -> Ran:
        """Run a line; the answer has what was written into files too."""
        ran = run("--shop", str(self.path), *shlex.split(line), *(["--as", badge] if badge else []))
        assert ran.status in (0, 1, 2), ran
        return Ran(ran.status, ran.out + "".join(self._files()), ran.err)

    def _files(self) -> Iterator[str]:
        for one in sorted(self.folder.rglob("*")):
            if one.is_file() and one.suffix != ".toml":
                yield one.read_text("utf-8")
                one.unlink()


@pytest.fixture(name="readers")
def readers_fixture(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Readers:
    monkeypatch.delenv("HOISTBOOK_BADGE", raising=False)
    readers = Readers(tmp_path)
    monkeypatch.setattr(now, "machine_now", lambda: readers.now)
    return readers


def test_every_command_that_reads_is_tried() -> None:
    words = " ".join((*OF_A_JOB, *OF_THE_SHOP))
    reading = {
        one.name for one in commands.every()
        if not one.option("pin-stdin") and one.name not in WITHOUT_READER
    }  # fmt: skip
    assert {one for one in reading if f" {one}" not in f" {words}"} == set()


def test_a_technician_sees_no_name_and_no_telephone_of_a_customer(readers: Readers) -> None:
    for line in reading_lines(readers.folder, "T1", readers.jobs):
        ran = readers.run(line, "T1")
        shown = [one for one in PRIVATE if one in ran.out + ran.err]
        assert shown == [], (line, ran.err)
    for line in ("desk", "job 1005", "record 1004"):
        ran = readers.run(line, "APP")
        assert [one for one in PRIVATE if one in ran.out] == [], line


@pytest.mark.parametrize("badge", ["FOR", "OWN", ""])
def test_whoever_speaks_with_customers_sees_them(readers: Readers, badge: str) -> None:
    assert "Kim Invented" in readers.run("desk", badge).out
    assert "Robin Invented" in readers.run("job 1005", badge).out
    assert "Robin Invented" in readers.run("job 1005 --json", badge).out
    assert "Robin Invented" in readers.run("advice 1005", badge).out


def test_a_technician_is_told_that_somebody_gave_the_word(readers: Readers) -> None:
    assert SOMEBODY in readers.run("job 1005", "T1").out
    assert "1 Names of customers" in f"1 {readers.run('customer 1008', 'T1').err}"


@pytest.mark.parametrize("line", ["costs 2026-10", "prices 2026-10 --rate 98"])
def test_costs_and_prices_are_the_owners(readers: Readers, line: str) -> None:
    for badge in ("T1", "APP", "FOR"):
        ran = readers.run(line, badge)
        assert (ran.status, ran.out) == (1, "")
        assert "the owner's" in ran.err
    assert readers.run(line, "OWN").status == readers.run(line, "").status == 0


def test_a_day_is_shown_to_its_person_and_to_whoever_may_put_it_right(readers: Readers) -> None:
    for badge in ("T1", "APP"):
        ran = readers.run("day T2 --date 2026-10-12", badge)
        assert (ran.status, ran.out) == (1, "")
        assert "foreman or owner" in ran.err
    for badge in ("T2", "FOR", "OWN", ""):
        assert "gearbox off" in readers.run("day T2 --date 2026-10-12", badge).out


def test_how_fast_others_work_is_the_owners(readers: Readers) -> None:
    readers.run("learned", "")
    for badge, others in (("OWN", True), ("", True), ("FOR", False), ("T1", False)):
        out = readers.run("learned --json", badge).out
        assert ('"badge": "T2", "ratio"' in out) is others, badge
    assert '"badge": "T2", "ratio"' in readers.run("learned --json", "T2").out
