"""`card`: a job on paper, as text and as a page whose codes a scanner reads."""

from __future__ import annotations

import re
import shutil
import subprocess
from pathlib import Path
from typing import Any

import html5lib
import pytest
from rich.cells import cell_len

from store.rules.codes import MARK, Code, read, written
from tests.tui.cli.made import Line
from tests.tui.cli.test_codes import of_path


def job_of(line: Line) -> str:
    """A job half-way: a phase finished, a hold point signed, extra work asked for."""
    job = line.take()
    line.acts("T1", "clock", "on", f"{job}.1")
    line.acts("T1", "finish", f"{job}.1")
    line.acts("T1", "clock", "on", f"{job}.2")
    line.acts("T1", "sign", f"{job}.2.1", "--reading", "2000")
    line.acts("T1", "finding", f"{job}.2", "--kind", "surprise", "--text", "stud <b>broken</b>",
              "--hours", "2")  # fmt: skip
    return job


def test_the_text_has_boxes_fields_warnings_and_rows_for_hours(line: Line) -> None:
    job = job_of(line)
    text = line.run("card", job).out
    flat = " ".join(text.split())
    assert f"JOB {job}, panel van" in text
    assert "!! NOT AGREED: stud <b>broken</b>, 2.0 h. Not before the customer's word." in flat
    assert f"[x] 1 {phase_name(text, 1)}: finished" in text
    assert "[x] 2.1 HOLD POINT" in flat
    assert "(T1" not in flat
    assert "name 1: ____" in flat
    assert "name 2: ____" in flat
    assert "________ mm" in flat or "__________" in flat
    assert written(Code("phase", f"{job}.2")) in text
    assert "maker's service data" in flat
    assert "no signature" in flat
    assert len(re.findall(r"^_{12}  _{14}", text, re.MULTILINE)) == 14
    assert "T1 Ines" in text
    assert all(cell_len(one) <= 80 for one in text.splitlines())


def phase_name(text: str, number: int) -> str:
    """The name of a phase on the card."""
    found = re.search(rf"^\[.\] {number} (.*): ", text, re.MULTILINE)
    assert found is not None
    return found[1]


def test_the_page_needs_nothing_from_elsewhere_and_text_is_text(line: Line, tmp_path: Path) -> None:
    job = job_of(line)
    target = tmp_path / "card.html"
    says = line.does("card", job, "--html", str(target))["says"]
    assert says == f"Job card of {job}: {target}"
    page = target.read_text("utf-8")
    # an independent reader: the parsing algorithm of the HTML standard, every error of it raised
    parser: Any = html5lib.HTMLParser(strict=True)
    parser.parse(page)
    assert not re.search(r"https?:|url\(|@import|<script|<link|<img", page)
    assert "stud &lt;b&gt;broken" in page
    assert "<b>broken" not in page


def test_every_code_on_the_page_is_read_as_what_it_names(line: Line, tmp_path: Path) -> None:
    job = job_of(line)
    target = tmp_path / "card.html"
    line.does("card", job, "--html", str(target))
    document = line.does("card", job)
    named = {
        one["code"] for one in document["phases"] if one["code"] and one["state"] != "finished"
    }
    named |= {step["code"] for one in document["phases"] for step in one["steps"]
              if step["code"] and not step["done"]}  # fmt: skip
    pictures = re.findall(r'viewBox="0 0 (\d+) \d+".*? d="([^"]*)"', target.read_text("utf-8"))
    letters: set[str] = set()
    for size, path in pictures:
        (text,) = of_path(path, int(size))
        assert text.startswith(MARK)
        assert read(text[len(MARK) :]) is not None
        letters.add(text[len(MARK) :])
    assert letters == named | {written(Code("job", job))}


@pytest.mark.skipif(shutil.which("chromium") is None, reason="no browser here")
def test_it_prints_on_both_papers_without_a_page_cut_off(line: Line, tmp_path: Path) -> None:
    """In a real browser: pages of A4 and Letter, in PDF (ISO 32000, MediaBox in points)."""
    job = job_of(line)
    target = tmp_path / "card.html"
    line.does("card", job, "--html", str(target))
    page = target.read_text("utf-8")
    for size, box in (("A4", (595, 842)), ("letter", (612, 792))):
        wanted = tmp_path / f"{size}.html"
        wanted.write_text(page.replace("@page {", f"@page {{ size: {size};"), "utf-8")
        done = subprocess.run(
            ["chromium", "--headless", "--no-sandbox", "--disable-gpu", "--no-pdf-header-footer",
             f"--print-to-pdf={tmp_path / size}.pdf", wanted.as_uri()],
            capture_output=True, check=False, timeout=120,
        )  # fmt: skip
        pdf = (tmp_path / f"{size}.pdf").read_bytes()
        assert done.returncode == 0, done.stderr
        boxes = re.findall(rb"/MediaBox ?\[0 0 ([\d.]+) ([\d.]+)\]", pdf)
        assert boxes
        for width, height in boxes:
            assert (round(float(width)), round(float(height))) == pytest.approx(box, abs=2)


def test_what_cannot_be_is_one_line(line: Line, tmp_path: Path) -> None:
    job = line.take()
    assert "no job 9999" in line.refused("card", "9999")
    assert "no job" in line.refused("card", "x")
    assert "shop file" in line.refused("card", job, "--html", str(line.path))
    assert line.refused("card", job, "--html", str(tmp_path / "none" / "card.html"))
