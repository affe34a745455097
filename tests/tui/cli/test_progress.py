"""The line that says how far a long command has come."""

from __future__ import annotations

import io
import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st

from tui.cli import progress as progressing
from tui.cli.progress import line, progress


class Screen(io.StringIO):
    """Standard error as a terminal."""

    def isatty(self) -> bool:
        return True


def test_it_says_what_how_far_and_how_long() -> None:
    assert line("hours", 0, 200, 9.0) == f"hours [{' ' * 30}]   0 %"
    assert line("hours", 50, 200, 1.0) == f"hours [{'#' * 7}{' ' * 23}]  25 %"
    assert line("hours", 50, 200, 25.0) == f"hours [{'#' * 7}{' ' * 23}]  25 %, 1:15 left"
    assert line("hours", 200, 200, 60.0) == f"hours [{'#' * 30}] 100 %, 0:00 left"


@given(
    st.text(alphabet="abc", max_size=40), st.integers(0, 10**6), st.integers(0, 10**6),
    st.floats(0, 1e6),
)  # fmt: skip
def test_it_fits_on_the_narrowest_screen(what: str, done: int, whole: int, passed_s: float) -> None:
    shown = line(what, done, whole, passed_s)
    assert shown.isascii()
    assert len(shown) <= 79


def test_nobody_watches_a_pipe(capsys: pytest.CaptureFixture[str]) -> None:
    with progress("hours") as watched:
        assert watched is None
    assert capsys.readouterr().err == ""


def test_whoever_watches_sees_one_line_that_goes_away(monkeypatch: pytest.MonkeyPatch) -> None:
    screen, now = Screen(), iter([0.0, 0.05, 5.0])
    monkeypatch.setattr(sys, "stderr", screen)
    monkeypatch.setattr(progressing, "monotonic", lambda: next(now))
    with progress("hours") as watched:
        assert watched is not None
        watched(1, 10)
        watched(5, 10)
    shown = screen.getvalue()
    assert shown.count("%") == 1
    assert " 50 %, 0:05 left" in shown
    assert shown.endswith("\r\x1b[K")
