"""`verify` against what was kept elsewhere, and what it says of files that others can read."""

from __future__ import annotations

import shutil
from pathlib import Path

from tests.store.file.edits import tampering, write_anew
from tests.store.file.people import open_folder
from tests.tui.cli.made import Line


def test_the_hash_that_verify_shows_is_found_again(line: Line) -> None:
    before = line.does("verify")
    shown = before["last"][:16]
    assert shown in line.run("verify").out
    line.acts("OWN", "rate", "set", "77")
    after = line.does("verify", "--noted", shown, "--noted", before["last"])
    assert after["ok"] is True
    assert after["last"] != before["last"]
    assert f"entry {before['events']:,} of" in after["says"]


def test_a_ledger_that_was_written_anew_is_found_against_note_and_backup(
    line: Line, tmp_path: Path
) -> None:
    line.acts("OWN", "rate", "set", "77")
    noted, saved = line.does("verify")["last"], tmp_path / "saved.shop"
    line.does("backup", str(saved))
    at = line.events()
    write_anew(line.path, at, badge="FOR")
    assert line.does("verify")["ok"] is True
    for words in (("--noted", noted), ("--against", str(saved))):
        says = line.refused("verify", *words)
        assert says.startswith("1 ")
        ran = line.run("verify", *words, "--json")
        assert (ran.status, ran.json["ok"], ran.json["table"]) == (1, False, "ledger")
        assert ran.json["says"] in says
    assert f"entry {at} of" in line.refused("verify", "--against", str(saved))


def test_what_cannot_be_compared_with_is_refused_with_what_to_do(
    line: Line, tmp_path: Path
) -> None:
    assert "16 digits at least" in line.refused("verify", "--noted", "8270")
    assert "hoistbook backup" in line.refused("verify", "--against", str(tmp_path / "none"))


def test_an_edited_row_is_one_line_and_status_1(line: Line) -> None:
    with tampering(line.path) as db:
        db.execute("update person set role = 'owner' where badge = 'T1'")
    says = line.refused("verify")
    assert says.startswith("1 Table person, row person ")
    assert "column role: the file says owner, the ledger technician" in says
    verdict = line.run("verify", "--json").json
    assert (verdict["ok"], verdict["table"], verdict["last"]) == (False, "person", None)


def test_a_file_that_others_can_read_is_no_fault_of_it_but_said(line: Line) -> None:
    assert line.does("verify")["open_to_others"] is None
    with open_folder() as folder:
        there = Line(folder / "shop.shop")
        shutil.copy(line.path, there.path)
        there.path.chmod(0o644)
        ran = there.run("verify")
        assert (ran.status, ran.err) == (0, "")
        assert f"chmod o= {there.path}" in ran.out
        assert there.does("verify")["open_to_others"] in ran.out
