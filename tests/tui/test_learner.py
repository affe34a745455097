"""A learner of its own: begun by commands and keys, waited for by nobody, killed without harm."""

from __future__ import annotations

import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

from store.actions import jobs
from store.file.learned.alone import alone, side_file
from store.file.learned.kept import Forecast, forecasts
from store.file.shop import Shop
from store.file.verify import verify
from tests.tui.cli.made import PINS, Line, new_line, pins_file
from tests.tui.driver import terminal
from tests.tui.shops import Pen, worked_on
from tui import learner
from tui.learner import BEGUN, begin
from tui.parts.where import FLOOR

PATIENCE_S = 300


@pytest.fixture(name="on", autouse=True)
def on_fixture(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Learners are begun here, and none outlives its test."""
    monkeypatch.delenv(learner.VARIABLE)
    yield
    for one in BEGUN:
        one.kill()
        one.wait()
    BEGUN.clear()


@pytest.fixture(name="line")
def line_fixture(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Line:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    return new_line(tmp_path)


def ended() -> int:
    """Wait for the learner that was begun last; return its status."""
    return BEGUN[-1].wait(PATIENCE_S)


def known(path: Path, *numbers: str) -> dict[str, Forecast]:
    """The forecasts in a file."""
    shop = Shop(path)
    with shop.reading() as db:
        found = forecasts(db, numbers)
    shop.close()
    return found


def test_a_command_that_moves_a_forecast_leaves_it_to_a_learner(line: Line) -> None:
    job = line.take("--promise", "2035-01-01T12:00")
    assert ended() == 0
    first = known(line.path, job)[job]
    assert first.finish is not None
    assert first.seq == line.events()
    shown = line.does("job", job)
    assert shown["promise_chance"] == 0.95
    assert not side_file(line.path).exists()
    line.acts("T1", "clock", "on", f"{job}.1")
    assert ended() == 0
    assert known(line.path, job)[job].seq == line.events()
    assert verify(line.path).ok


def test_a_command_that_moves_none_begins_none(line: Line) -> None:
    line.acts("OWN", "rate", "set", "95")
    line.does("floor")
    assert BEGUN == []


def test_where_it_is_switched_off_none_is_begun(
    line: Line, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv(learner.VARIABLE, "off")
    assert known(line.path, line.take()) == {}
    assert BEGUN == []


def test_while_one_is_at_work_no_other_is_begun(line: Line) -> None:
    with alone(line.path) as mine:
        assert mine
        job = line.take()
        assert BEGUN == []
    assert begin(line.path)
    assert ended() == 0
    assert job in known(line.path, job)


def test_one_that_is_killed_leaves_it_to_the_next(line: Line) -> None:
    job = line.take()
    BEGUN[-1].kill()
    assert ended() != 0
    assert begin(line.path)
    assert ended() == 0
    assert job in known(line.path, job)
    assert verify(line.path).ok


def test_a_batch_learns_before_it_ends_and_begins_nobody(line: Line, tmp_path: Path) -> None:
    text = 'take --operation TC --family B4-M-F --vehicle "van" --lift 1 --mass 2000\n'
    ran = line.run(
        "batch", "-", "--pins", str(pins_file(tmp_path, PINS)), "--as", "FOR", stdin=text
    )
    assert (ran.status, ran.err) == (0, "")
    assert BEGUN == []
    job = ran.out.strip()
    assert job in known(line.path, job)


def test_a_batch_that_stops_leaves_it_to_a_learner(line: Line, tmp_path: Path) -> None:
    text = 'take --operation TC --family B4-M-F --vehicle "van" --lift 1 --mass 2000\nclose 7\n'
    ran = line.run(
        "batch", "-", "--pins", str(pins_file(tmp_path, PINS)), "--as", "FOR", stdin=text
    )
    assert ran.status == 1
    assert ended() == 0
    job = ran.out.strip()
    assert job in known(line.path, job)


def test_keys_tried_within_a_minute_teach_nothing(line: Line) -> None:
    job = line.take()
    line.acts("T1", "clock", "on", f"{job}.1")
    line.acts("T1", "finish", f"{job}.1")
    line.acts("T1", "day", "T1", "--confirm")
    assert ended() == 0
    found = line.does("learned")
    assert found["as_of_seq"] == line.events()
    assert (found["phases"], found["people"], found["doubted"]) == ([], [], [])
    assert "Nothing yet" in line.run("learned").out
    assert line.does("learned", "--anew") == found
    assert line.refused("learned", "--anew", "--keep-up").startswith("2 ")


async def test_a_key_that_moves_a_forecast_leaves_it_to_a_learner(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[Path] = []
    monkeypatch.setattr(learner, "begin", asked.append)
    pen = Pen()
    shop = worked_on(tmp_path / "made.shop", pen)
    async with terminal(shop, pen.now, first=FLOOR) as at:
        await at.keys("n")
        looked = len(asked)
        await at.keys("h", "F01", "Enter", "1", "Enter", "Enter")
        await at.settle()
    assert asked[looked:] == [shop.path]
    shop.close()


async def test_a_floor_with_old_forecasts_calls_the_learner_but_not_at_every_look(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[Path] = []
    monkeypatch.setattr(learner, "begin", asked.append)
    pen = Pen()
    shop = worked_on(tmp_path / "made.shop", pen)
    async with terminal(shop, pen.now, first=FLOOR) as at:
        await at.settle()
        assert asked == [shop.path]
        at.hands.turn(minutes=2)
        await at.screen.renew()
        assert asked == [shop.path]
        at.hands.turn(minutes=20)
        await at.screen.renew()
        await at.settle()
        assert asked == [shop.path, shop.path]
    shop.close()


NUMPY_FREE = """
import sys
from datetime import datetime
from pathlib import Path
from store.file.shop import Shop
from store.views.bay import bay
from store.views.floor import floor
from store.views.job import job_card
from tui.watch import Watch
shop = Shop(Path(sys.argv[1]))
now = datetime.fromisoformat(sys.argv[2])
found = floor(shop, now)
bay(shop, "B12", now)
job_card(shop, "1001", now)
Watch(shop).changed()
print([lane.job.promise_chance for lane in found.lanes if lane.job])
print(sorted({"numpy", "scipy", "pandas", "pydantic", "sqlite_utils"} & set(sys.modules)))
"""


def test_stored_forecasts_are_read_without_arrays(tmp_path: Path) -> None:
    pen = Pen()
    shop = worked_on(tmp_path / "made.shop", pen)
    jobs.promise(shop, pen.by(), job="1001", at=pen.now.replace(year=2035))

    class Still:
        """The shop's clock."""

        sleeps = False

        def look(self) -> object:
            return pen.now

        use = look

    learner.take_in(shop, Still())  # type: ignore[arg-type]  # pyright: ignore[reportArgumentType]
    shop.close()
    ran = subprocess.run(
        [sys.executable, "-c", NUMPY_FREE, str(shop.path), pen.now.isoformat()],
        capture_output=True, text=True, check=True, cwd=Path(__file__).parents[2],
    )  # fmt: skip
    chances, loaded = ran.stdout.splitlines()
    assert "0.95" in chances
    assert loaded == "[]"
