"""`hindsight` without a file: the shop's own past in words, in figures, as JSON."""

from __future__ import annotations

import io
from dataclasses import replace
from datetime import UTC, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from store.learn.judged import DatesJudged, HoursJudged, Share
from store.learn.scores import wilson
from store.views.hindsight import Dates, Hindsight, Hours, Judged, OperationJudged
from tests.store.made_jobs import closed_job, plain_shop
from tests.tui.cli.made import Line
from tui.cli import json_hindsight, text_hindsight
from tui.cli import progress as progressing
from tui.cli.sentences import TOGETHER


def share(held: float, of: float) -> Share:
    """So many of so many."""
    return Share(held / of, *wilson(held, of))


HOURS = HoursJudged(
    200, 200, share(50, 200), share(104, 200), share(162, 200), share(150, 200), 0.212, 0.171, 0.44
)
DATES = DatesJudged(200, 200, share(162, 200), share(158, 200), share(24, 200), 0.5, 0.3, 0.59)
JUDGED = Judged(200, Hours(HOURS, HOURS, HOURS), Dates(DATES, DATES))
FOUND = Hindsight(
    datetime(2025, 4, 14, 6, tzinfo=UTC), datetime(2026, 10, 2, 12, tzinfo=UTC),
    ZoneInfo("Europe/Amsterdam"), 220, 2310, 20, 0.8, JUDGED, JUDGED,
    (OperationJudged("TC", "timing chain", HOURS, HOURS),),
)  # fmt: skip


def with_hours(judged: HoursJudged) -> Hindsight:
    """The same with other hours of whole jobs."""
    hours = replace(JUDGED.hours, jobs=judged)
    return replace(
        FOUND,
        every=replace(JUDGED, hours=hours),
        operations=(OperationJudged("TC", "timing chain", judged, judged),),
    )


def text(found: Hindsight) -> str:
    """What is printed, as one line."""
    return " ".join(" ".join(text_hindsight.lines(found)).split())


@pytest.fixture(name="past")
def past_fixture(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Line:
    """A command line at a shop with three closed jobs."""
    for name in ("HOISTBOOK_SHOP", "HOISTBOOK_BADGE"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "data"))
    world = plain_shop(tmp_path)
    for day in range(3):
        closed_job(world, day, parts_h=2.0 if day == 1 else None)
    world.shop.close()
    return Line(world.shop.path)


def test_a_past_is_told_in_words_and_as_json(past: Line) -> None:
    events = past.events()
    ran = past.run("hindsight")
    assert (ran.status, ran.err) == (0, "")
    assert ran.out.startswith("3 jobs from 12 Oct 2026 to 14 Oct 2026, 9 phases, asked again")
    assert "The first job only teaches; the other 2 are counted" in " ".join(ran.out.split())
    assert "EZ    easy                 2" in ran.out
    found = past.does("hindsight", "--as", "OWN")
    assert list(found) == [
        "from", "until", "jobs", "phases", "only_teach", "cautious", "promise", "all",
        "last_half", "by_operation", "says",
    ]  # fmt: skip
    assert (found["jobs"], found["phases"], found["only_teach"]) == (3, 9, 1)
    assert found["from"] == "2026-10-12T08:02:00+02:00"
    assert found["all"]["hours"]["phases"]["count"] == 6
    assert found["all"]["dates"]["begun"]["count"] == 6
    assert found["by_operation"][0]["operation"] == "EZ"
    assert " ".join(" ".join(found["says"]).split()[:12]) in " ".join(ran.out.split())
    assert past.events() == events


def test_a_shop_without_a_past_is_told_what_is_needed(line: Line) -> None:
    ran = line.run("hindsight")
    assert (ran.status, ran.err) == (0, "")
    assert ran.out.startswith("Nothing to look back on yet: it takes one closed job")
    assert max(len(one) for one in ran.out.splitlines()) <= 80
    found = line.does("hindsight")
    assert set(found) == {*json_hindsight.document(FOUND), "says"}
    assert (found["jobs"], found["all"], found["by_operation"]) == (0, None, [])
    assert found["says"] == [text_hindsight.NOTHING]


@pytest.mark.parametrize(
    "typed, says",
    [
        (("--out", "s.csv"), "2 hoistbook: hindsight --out SCORED.csv goes with HISTORY.csv"),
        (("--skip-bad",), "2 hoistbook: hindsight --skip-bad goes with HISTORY.csv"),
        (("--spans", "s.csv"), "2 hoistbook: hindsight --spans SPANS.csv goes with HISTORY.csv"),
        (("past.csv", "--out", "s.csv", "--as", "OWN"), "2 hoistbook: hindsight of a file reads"),
        (("past.csv",), "2 hoistbook: hindsight lacks --out SCORED.csv"),
        (("--as", "NOBODY"), "1 "),
    ],
)
def test_half_of_one_and_half_of_the_other_is_refused(
    line: Line, typed: tuple[str, ...], says: str
) -> None:
    assert line.refused("hindsight", *typed).startswith(says)


def test_whoever_watches_sees_how_far_it_is(past: Line, monkeypatch: pytest.MonkeyPatch) -> None:
    class Screen(io.StringIO):
        def isatty(self) -> bool:
            return True

    monkeypatch.setattr(progressing, "EVERY_S", -1.0)
    monkeypatch.setattr("tests.tui.cli.made.io.StringIO", Screen)
    ran = past.run("hindsight")
    assert ran.status == 0
    assert "\rhindsight [" in ran.err
    assert "100 %" in ran.err
    assert ran.err.endswith("\r\x1b[K")
    assert "\r" not in ran.out


def test_the_words_say_what_the_figures_say() -> None:
    said = text(FOUND)
    for each in (
        "220 jobs from 14 Apr 2025 to 2 Oct 2026, 2,310 phases",
        "The first 20 jobs only teach; the other 200 are counted",
        "The book's hours were enough for 25 % of the jobs.",
        "Half of the middle figures learned here should be enough: 52 % were (but for luck "
        "between 45 and 59 %), as it should be.",
        "8 in 10 of the cautious figures should be: 81 % were (but for luck between 75 and 86 %)",
        "Typical miss: 21 % of the hours by the book, 17 % by what was learned.",
        "44 % nearer to what came than the book",
        "would have kept 12 % of the promises",
        "8 in 10 promises by what was learned should be kept: 79 % would have been",
        "TC timing chain 200 25 % 52 % 81 % 75-86 21 % 17 % 44 %",
    ):
        assert each in said, each


@pytest.mark.parametrize(
    "held, of, says",
    [
        (6, 10, "too few jobs to tell"),
        (1, 10, "which is too few"),
        (81, 100, "as it should be"),
        (60, 100, "which is too few"),
        (98, 100, "which is more than it takes"),
    ],
)
def test_a_share_is_judged_by_what_luck_leaves_open(held: int, of: int, says: str) -> None:
    sentence = next(
        one
        for one in text_hindsight.says(with_hours(replace(HOURS, cautious=share(held, of))))
        if "cautious" in one
    )
    assert sentence.endswith(f"{says}.")


@pytest.mark.parametrize(
    "nearer, says",
    [
        (0.44, "44 % nearer to what came than the book"),
        (-0.2, "20 % further from what came than the book"),
        (-2.5, "3.5 times as far from what came as the book"),
        (None, "no nearer than the book, right every time"),
    ],
)
def test_nearness_has_its_words(nearer: float | None, says: str) -> None:
    found = with_hours(replace(HOURS, nearer=nearer))
    assert f"All that was said together: {says}." in text(found)
    told = json_hindsight.document(found)["by_operation"]
    assert str({"nearer_percent": None if nearer is None else 100 * nearer})[1:-1] in str(told)


def test_few_cases_are_counted_and_not_put_in_per_cent() -> None:
    few = HoursJudged(3, 3, share(0, 3), share(2, 3), share(3, 3), share(3, 3), 0.2, 0.1, 0.3)
    assert "TC timing chain 3 0 of 3 2 of 3 3 of 3 44-100" in text(with_hours(few))


def test_jobs_without_clocks_have_no_dates() -> None:
    bare = replace(JUDGED, dates=None)
    found = replace(FOUND, every=bare, last_half=bare)
    assert "Dates: None: of these jobs no clocks are known" in text(found)
    assert "plain" not in text(found)
    told = json_hindsight.document(found)["all"]
    assert str(told).endswith("'dates': None}")


def part(of: int, share_of: float) -> Share:
    """A share of so many."""
    return share(of * share_of, of)


shares = st.builds(part, st.integers(1, 9999), st.floats(0, 1))
judged = st.builds(
    HoursJudged, st.integers(1, 9999), st.integers(1, 99999), shares, shares, shares, shares,
    st.floats(0, 9), st.floats(0, 9), st.none() | st.floats(-9, 1),
)  # fmt: skip


names = st.text(st.characters(exclude_characters=TOGETHER), max_size=60)


@given(judged, names, st.sampled_from([0.55, 0.8, 0.95]))
def test_it_fits_into_eighty_columns(hours: HoursJudged, name: str, cautious: float) -> None:
    found = with_hours(hours)
    named = replace(found.operations[0], operation="CL+TC", name=name)
    for line in text_hindsight.lines(replace(found, operations=(named,), cautious=cautious)):
        assert cell_len(line) <= 80, line
        assert TOGETHER not in line
