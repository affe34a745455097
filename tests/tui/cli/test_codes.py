"""Codes printed: what another reader sees in the squares is what the catcher takes."""

from __future__ import annotations

import re
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest
import zxingcpp

from store.rules.codes import Code, read
from tests.tui.cli.made import Line
from tui.cli import qr
from tui.cli.codes_list import Group, Printed, Sheet
from tui.cli.html_codes import page
from tui.cli.text_codes import lines

SCALE = 4
SHEET = Sheet(
    "a shop", "a note",
    (Group("badges", (Printed(Code("badge", "B12"), "B12 Ines"),
                      Printed(Code("step", "2417.4.12"), "4.12 Torque", "hold point"))),),
)  # fmt: skip


def seen(dark: np.ndarray[tuple[int, int], np.dtype[np.bool_]]) -> list[str]:
    """What the ZXing library reads in squares, dark ones true: an independent reader."""
    picture = np.where(np.kron(dark, np.ones((SCALE, SCALE), bool)), 0, 255).astype(np.uint8)
    return [one.text for one in zxingcpp.read_barcodes(picture)]


def squares(text: list[str], *, letters_are_dark: bool, wide: int = 1) -> list[str]:
    """What stands in blocks of a terminal."""
    upper, lower = ("▀█#", "▄█#")
    width = max(len(line) for line in text)
    rows: list[list[bool]] = []
    for line in text:
        cells = line.ljust(width)[::wide]
        rows.append([(one in upper) == letters_are_dark for one in cells])
        if wide == 1:
            rows.append([(one in lower) == letters_are_dark for one in cells])
    return seen(np.array(rows, bool))


@pytest.mark.parametrize("text", ["\tHBPCCDLE", "\tHSDFCJNFNCDHC", "\tHB" + "PX" * 12 + "BB"])
def test_another_reader_sees_the_code_in_every_form(text: str) -> None:
    rows = qr.modules(text)
    assert seen(np.array(rows, bool)) == [text]
    for light, ascii_only in ((False, False), (True, False), (False, True), (True, True)):
        drawn = qr.in_letters(rows, coloured=False, light=light, ascii_only=ascii_only)
        assert {len(line) for line in drawn} == {qr.width(rows, ascii_only=ascii_only)}
        found = squares(drawn, letters_are_dark=not light, wide=2 if ascii_only else 1)
        assert found == [text]
    coloured = qr.in_letters(rows, coloured=True, light=True, ascii_only=False)
    plain = [line.removeprefix(qr.ON_PAPER).removesuffix(qr.PLAIN) for line in coloured]
    assert squares(plain, letters_are_dark=True) == [text]


def test_the_quiet_zone_is_what_the_standard_asks_for() -> None:
    """ISO/IEC 18004: four modules on every side; 21 modules in the smallest code."""
    rows = np.array(qr.modules("\tHBPCCDLE"), bool)
    assert rows.shape == (21 + 8, 21 + 8)
    assert (np.pad(rows[4:-4, 4:-4], 4) == rows).all()


def of_path(found: str, size: int) -> list[str]:
    """What another reader sees in the path of a picture."""
    dark = np.zeros((size, size), bool)
    for x, y, many in re.findall(r"M(\d+) (\d+)h(\d+)v1h-\d+z", found):
        dark[int(y), int(x) : int(x) + int(many)] = True
    return seen(dark)


def test_the_page_holds_every_code_and_asks_nobody_for_anything() -> None:
    told = page(SHEET, "Wed 14 Oct")
    pictures = re.findall(r'viewBox="0 0 (\d+) \d+".*? d="([^"]*)"', told)
    found = [of_path(path, int(size)) for size, path in pictures]
    assert found == [[one.typed] for one in SHEET.codes]
    assert "B12 Ines" in told
    assert not re.search(r"https?:|url\(|@import|<script|<link|<img", told)


def test_text_of_people_is_text_on_the_page() -> None:
    evil = '<script>alert("1")</script> & \x1b[31m\x07'
    sheet = Sheet(evil, evil, (Group(evil, (Printed(Code("badge", "B1"), evil, evil),)),))
    told = page(sheet, evil)
    assert "<script" not in told
    assert "\x1b" not in told
    body = ElementTree.fromstring(told[told.index("<body>") : told.index("</html>")])
    assert (
        "".join(body.itertext()).count('<script>alert("1")</script> &') == 6
    )  # title, note, day, heading, name, note


@pytest.mark.parametrize("columns", [20, 60, 80, 200])
def test_no_line_is_wider_than_the_terminal_where_a_code_fits(columns: int) -> None:
    told = list(lines(SHEET, columns, coloured=False, light=False, ascii_only=False))
    assert max(len(line) for line in told) <= max(columns, 29)
    assert any("B12 Ines" in line for line in told)
    assert any("HSDFCJNFNCDHC" in line for line in told)


# -- the command


def test_badges_of_whoever_is_on_the_roll_lifts_and_kits(line: Line) -> None:
    found = line.does("codes")["codes"]
    assert [(one["kind"], one["names"]) for one in found] == [
        ("badge", "APP"), ("badge", "FOR"), ("badge", "OWN"), ("badge", "T1"), ("badge", "T2"),
        ("lift", "1"), ("lift", "2"), ("kit", "link"), ("kit", "locks"),
    ]  # fmt: skip
    for one in found:
        assert set(one) >= {"kind", "names", "code", "letters", "says"}
        assert one["code"] == "\t" + one["letters"]
        code = read(one["letters"])
        assert code is not None
        assert (code.kind, code.name) == (one["kind"], one["names"])


def test_a_job_with_its_phases_and_steps(line: Line) -> None:
    job = line.take()
    found = line.does("codes", "--job", job)["codes"]
    card = line.does("job", job)
    labour = [one for one in card["phases"] if one["kind"] == "labour"]
    assert found[0]["names"] == job
    assert [one["names"] for one in found if one["kind"] == "phase"] == [
        f"{job}.{one['number']}" for one in labour
    ]
    assert [one["names"] for one in found if one["kind"] == "step"] == [
        f"{job}.{phase['number']}.{step['step']}" for phase in card["phases"]
        for step in phase["steps"]
    ]  # fmt: skip


def test_squares_in_the_terminal_are_read_by_another_reader(line: Line) -> None:
    ran = line.run("codes")
    assert ran.status == 0
    assert "\x1b" not in ran.out, "no colour where nobody looks at a terminal"
    found = squares(ran.out.splitlines(), letters_are_dark=True)
    assert sorted(found) == sorted(one["code"] for one in line.does("codes")["codes"])


def test_a_page_is_written_whole_or_not_at_all(line: Line, tmp_path: Path) -> None:
    job = line.take()
    target = tmp_path / "codes.html"
    ran = line.run("codes", "--job", job, "--html", str(target))
    assert ran.status == 0
    assert str(target) in ran.out
    told = target.read_text("utf-8")
    assert told.count("<svg") == len(line.does("codes", "--job", job)["codes"])
    assert line.refused("codes", "--html", str(tmp_path / "none" / "x.html")).startswith("1 ")
    assert line.refused("codes", "--html", str(line.path)).startswith("1 ")
    assert line.refused("codes", "--job", "77").startswith("1 ")
    assert line.refused("codes", "--job", "x").startswith("2 ")
    assert [one.name for one in tmp_path.iterdir() if "half" in one.name] == []


def test_who_left_has_no_code_any_more(line: Line) -> None:
    line.acts(
        "OWN", "people", "add", "OLD", "--name", "Olu", "--role", "technician",
        "--from", "2020-01-01", "--until", "2020-02-01",
    )  # fmt: skip
    line.acts("OWN", "people", "add", "NEW", "--name", "Nel", "--role", "technician")
    names = [one["names"] for one in line.does("codes")["codes"]]
    assert "NEW" in names
    assert "OLD" not in names
