"""A line that came in by an SSH key: one badge, and no file but the shop's, whatever is pressed."""

from __future__ import annotations

import random
import re
from pathlib import Path

import pytest
from textual.worker import WorkerFailed

from store.actions import people
from store.file.shop import Shop
from store.views.ledger import ledger
from tests.tui.bay.test_screen import to_raised
from tests.tui.driver import Terminal, terminal
from tests.tui.scanner import scan
from tests.tui.shops import PIN, Pen, last
from tests.tui.test_every_key import WAYS, pressed
from tui.keys import TABLES
from tui.opening import of_key
from tui.parts.keyline import NAMES
from tui.parts.where import BAY, FLOOR

TUI = Path(__file__).parents[2] / "tui"
FILES_ASKED: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("the month's report", ("F7", "w")),
    ("the dates for a calendar", ("F6", "i")),
    ("the work book written", ("F3", "b", "w")),
    ("a work book loaded", ("F3", "b", "l")),
    ("a work book loaded by its name", ("F9", "loads a work book from a file", "Enter")),
    ("old jobs", ("F9", "takes in old jobs from a table", "Enter")),
    ("a job card", ("F9", "writes a job card to print", "Enter")),
)
"""Every way to a file from the screens: their names, and their keys from anywhere."""
MANY = 300
"""Random keys of a run."""


@pytest.fixture(name="folder", autouse=True)
def folder_fixture(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Home and working folder of whoever is at the line."""
    home = tmp_path / "home"
    home.mkdir()
    monkeypatch.chdir(home)
    monkeypatch.setenv("HOME", str(home))
    return home


def who(at: Terminal) -> str | None:
    found = at.app.session.who
    return found.badge if found else None


# -- one badge


async def test_no_other_badge_signs_in_typed_or_scanned(shop: Shop, pen: Pen) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=BAY, badge="B12", key_badge="B12") as at:
        assert "no other" in await at.keys("B13", "Enter")
        for key in ("Esc", "F3"):
            await at.keys(key)
            await scan(at, "badge F01")
            assert "This line is for the badge B12 and no other." in " ".join(at.said.split())
            assert who(at) == "B12"
        await at.keys("F2", "Esc")
        assert "This line is for the badge B12: Enter signs in." in at.text
        assert who(at) is None
        for keys in (("OWN", "Enter"), ("HBCF",)):
            await at.keys(*keys)
            assert who(at) is None
        await scan(at, "badge B13")
        assert who(at) is None
        assert "Ines" in await at.keys("Enter")
        assert who(at) == "B12"
    assert last(shop) == before


async def test_whoever_acts_after_signing_off_is_the_one_of_the_key(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=FLOOR, key_badge="B12") as at:
        assert "Ines" in await at.keys("F2")
        assert who(at) == "B12"


async def test_a_silence_signs_off_to_a_door_that_lets_nobody_else_in(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=BAY, badge="B12", key_badge="B12") as at:
        at.app.fall_silent()
        await at.settle()
        assert who(at) is None
        await at.keys("B13", "Enter")
        assert who(at) is None


async def test_another_name_takes_its_pin_where_no_act_asks_for_one(shop: Shop, pen: Pen) -> None:
    """An apprentice at the line has a colleague sign: on a shared terminal the badge is enough."""
    to_raised(shop, pen)
    signs: dict[str | None, bool] = {}
    for key_badge in ("B14", None):
        async with terminal(shop, pen.now, first=BAY, badge="B14", key_badge=key_badge) as at:
            await scan(at, "step 1001.2.1")
            assert "who signs?" in await at.keys("2100", "Enter")
            before = last(shop)
            await at.keys("B13", "Enter")
            signs[key_badge] = last(shop) > before
            if key_badge is not None:
                assert "This takes Tomas's PIN." in at.text
                await at.keys("Esc")
    assert signs == {"B14": False, None: True}


def test_the_environment_ties_a_line_only_to_the_badge_that_it_opens_with() -> None:
    assert of_key({"HOISTBOOK_BADGE": "b12 "}, "B12") == "B12"
    assert of_key({"HOISTBOOK_BADGE": "B12"}, "F01") is None
    assert of_key({}, "B12") is None
    assert of_key({"HOISTBOOK_BADGE": "B12"}, None) is None


# -- no file


@pytest.mark.parametrize("keys", [keys for _, keys in FILES_ASKED], ids=[n for n, _ in FILES_ASKED])
async def test_no_way_leads_to_a_file(
    shop: Shop, pen: Pen, folder: Path, keys: tuple[str, ...]
) -> None:
    """As the owner, who may do all of it: a shared terminal asks for the file, a key's does not."""
    for key_badge in (None, "OWN"):
        async with terminal(shop, pen.now, first=FLOOR, badge="OWN", key_badge=key_badge) as at:
            await at.keys(*keys)
            if _asked(at) == "file":
                assert key_badge is None
                continue
            assert key_badge == "OWN", (at.said, at.text)
            assert "reaches no files" in " ".join(at.said.split())
    assert not list(folder.iterdir())


def _asked(at: Terminal) -> str:
    prompt = at.screen.prompt
    return prompt.field.label if prompt is not None and prompt.field is not None else ""


REACHING = {
    "typed": r"expanduser|expandvars",
    "process": r"Popen|subprocess\.run|\bos\.(system|exec|fork|spawn)|\bpty\.|\.suspend"
    r"|open_url|deliver_",
    "opens": r"read_text|read_bytes|write_bytes|mkdir|(?<!def )(?<![\w.])open\(|write_text\("
    r"|write_tables\(|read_history\(",
}
"""How a module reaches the machine: by names that nothing else in it bears."""
NOT_BY_A_KEY = ("cli/", "browser/", "settings.py", "now.py", "__main__.py")
"""The command line, the browser's server, the settings read at the start, the machine's time."""


def test_every_way_from_a_screen_to_a_file_or_a_process_is_known() -> None:
    """What is typed becomes a path in one place; two modules begin processes of this program."""
    texts = {
        name: path.read_text("utf-8")
        for path in TUI.rglob("*.py")
        if not (name := path.relative_to(TUI).as_posix()).startswith(NOT_BY_A_KEY)
    }
    found = {
        kind: {name for name, text in texts.items() if re.search(pattern, text)}
        for kind, pattern in REACHING.items()
    }
    assert found["typed"] == {"parts/on_disk.py"}
    assert found["process"] == {"learner.py", "intake/reckoner.py"}
    assert found["opens"] == {
        "book/forms.py", "month/deeds.py", "parts/card_out.py", "parts/setting_up.py",
        "parts/importing.py", "tools/dates_file.py",
    }  # fmt: skip


async def test_random_keys_leave_no_file_and_nobody_else(
    shop: Shop, pen: Pen, folder: Path
) -> None:
    dice = random.Random(7)
    every = sorted({key for table in TABLES.values() for line in table for key in line.keys})
    ways = sorted(WAYS.values())
    there = {one.name for one in shop.path.parent.iterdir()} | {"made.shop-wal", "made.shop-shm"}
    async with terminal(shop, pen.now, first=BAY, badge="OWN", key_badge="OWN") as at:
        for _ in range(MANY // 20):
            for key in (*dice.choice(ways), *dice.choices(every, k=19), "Esc"):
                if key in NAMES.values() or len(key) > 1:
                    await at.keys(key)
                else:
                    at.app.line.put(pressed(key))
            await at.keys("../out.html", "Enter", "Esc", "Esc")
            if not at.app.is_running:
                break
            await scan(at, "badge F01")
            assert who(at) in (None, "OWN")
    assert not list(folder.iterdir())
    assert {one.name for one in shop.path.parent.iterdir()} <= there
    by = {one.badge for one in ledger(shop) if one.terminal == "bay-1"}
    assert by <= {"OWN"}


# -- no secret


async def test_a_bug_prints_its_traceback_without_the_pin(
    shop: Shop, pen: Pen, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def broken(*_: object, **__: object) -> object:
        raise ZeroDivisionError("a bug")

    monkeypatch.setattr(people, "set_pin", broken)
    with pytest.raises(WorkerFailed):
        async with terminal(shop, pen.now, first=FLOOR, badge="OWN") as at:
            await at.keys("F9", "sets your PIN", "Enter", "97531", "Enter", "97531", "Enter")
    said = "".join(capsys.readouterr())
    assert "97531" not in said
    assert PIN not in said
