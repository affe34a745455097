"""Whatever stands in the file, nothing that a command prints or writes steers a terminal."""

from __future__ import annotations

import json
import shlex
import unicodedata
from pathlib import Path

import pytest

from store.edges.showable import HIDDEN, OVERRIDES
from tests.store.made import busy_shop
from tests.tui.cli.made import run
from tests.tui.cli.reading_lines import reading_lines
from tests.tui.cli.steering import steering
from tui import now
from tui.cli.answer import encoded, shown


def raw(text: str, *, kept: str) -> list[str]:
    """The signs of a text that steer."""
    return [
        one for one in text
        if one not in kept and (unicodedata.category(one) in HIDDEN or one in OVERRIDES)
    ]  # fmt: skip


def test_no_text_of_the_file_steers_a_terminal(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    world = busy_shop(tmp_path)
    at, path = world.now, world.shop.path
    world.shop.close()
    monkeypatch.setattr(now, "machine_now", lambda: at)
    monkeypatch.delenv("HOISTBOOK_BADGE", raising=False)
    assert steering(path) > 100
    out = tmp_path / "out"
    out.mkdir()
    answered = 0
    for line in reading_lines(out, "", ["1001", "1005", "1008"]):
        ran = run("--shop", str(path), *shlex.split(line))
        assert raw(ran.out, kept="\n") == [], (line, ran.out)
        assert raw(ran.err, kept="\n") == [], (line, ran.err)
        assert "Traceback" not in ran.err, line
        if ran.status == 0 and line.endswith("--json"):
            for each in ran.out.splitlines():
                json.loads(each)
        answered += ran.status == 0
        for one in sorted(out.rglob("*")):
            if one.is_file():
                found = raw(one.read_bytes().decode("utf-8"), kept="\r\n")
                assert found == [], (line, one.name, found)
                one.unlink()
    assert answered > 40


def test_json_reads_back_what_it_may_not_hold_as_it_is() -> None:
    text = "a\x1bb\x9bc\u202ed\u2028e\x7ff"
    written = encoded({"text": text})
    assert raw(written, kept="") == []
    assert json.loads(written) == {"text": text}


def test_a_line_shows_what_it_holds_by_its_code() -> None:
    assert shown("a\x1b[2Jb\u202ec") == "a\\x1b[2Jb\\u202ec"
    assert shown("two\nlines\tand a tab, 修理 e\u0301 👩\u200d🔧") == (
        "two\nlines\tand a tab, 修理 e\u0301 👩\u200d🔧"
    )
