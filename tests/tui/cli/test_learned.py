"""`learned`: what the past taught, in words of at most 80 columns and as JSON."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from rich.cells import cell_len

from store.learn.dates.told import HoldTold, PaceTold
from store.views.learned import Doubted, Learned, PersonTold, PhaseTold
from store.views.learned_odds import Odds
from store.views.learned_waits import AwayHere, HoldHere, PaceHere, Waits
from tests.store.made_jobs import closed_job, plain_shop
from tests.tui.cli.made import Line
from tui.cli.learned import document, lines
from tui.cli.sentences import items, wrapped
from tui.words import plain

HOLD = HoldHere(HoldTold("parts", 9, 35.0, 6.5, 27.4, 7, 1.4, 2.2), "Held for parts: long.")
UNSAID = HoldHere(HoldTold("tool", 2, None, 7.0, 23.0, 0, 1.2, 2.9), "Held for a tool: short.")
PACE = PaceHere(PaceTold(4700.0, 0.66, 0.73), 5.8, "A job gets 5.8 h of labour.")
DRY = AwayHere("E3", "dry", "standing", 2.0, 2.5, 9.0, 12, "dry: half take no longer than 2.5 h.")
SHOP = AwayHere("EW", "seat", "outwork", 8.0, 9.0, None, 2, "seat: took 8.0 to 10.0 h.")


def odds(times: int, code: str = "worn", *, rare: bool = True) -> Odds:
    """Of forty, the book says one in ten."""
    return Odds("E1", "LOOK", code, times, 40, 0.1, 0.12, rare, f"{code}: {times} of 40.")


def found(text: str = "open", doubts: int = 2, answers: tuple[Odds, ...] = ()) -> Learned:
    """What was learned, with a text from people in every place that may hold one."""
    return Learned(
        48_673, 3883,
        (PhaseTold("EZ", "E1", text, None, 0.6, 0.9, 0.5, 1.6, 31, 1.4, "sure", f"{text} takes."),),
        (PersonTold("T1", text, 1.1, 1.0, 1.2, 500, f"{text} takes."),),
        tuple(Doubted(str(n), "E1", text, "T1", 3.1, text, lumped=False) for n in range(doubts)),
        Waits(8.25, PACE, (HOLD, UNSAID), (DRY, SHOP)), answers,
    )  # fmt: skip


def text(of: Learned) -> str:
    """What is printed, as one line."""
    return " ".join(" ".join(lines(of)).split())


def test_a_shops_own_past_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("HOISTBOOK_SHOP", "HOISTBOOK_BADGE"):
        monkeypatch.delenv(name, raising=False)
    world = plain_shop(tmp_path)
    for day in range(3):
        closed_job(world, day, worn=day == 2, parts_h=3.0 if day == 1 else None)
    world.shop.close()
    line = Line(world.shop.path)
    told = line.does("learned")
    assert list(told) == ["as_of_seq", "phases", "people", "doubted", "waits", "odds"]
    assert list(told["waits"]) == ["day_hours", "pace", "holds", "away"]
    assert [one["reason"] for one in told["waits"]["holds"]] == ["parts"]
    assert [one["phase"] for one in told["waits"]["away"]] == ["E3", "EW"]
    assert [(one["code"], one["times"], one["of"]) for one in told["odds"]] == [
        ("sound", 2, 3), ("worn", 1, 3), ("stud", 0, 3),
    ]  # fmt: skip
    ran = line.run("learned")
    assert (ran.status, ran.err) == (0, "")
    assert ran.out.startswith("From 9 finished phases, up to entry ")
    assert "Waiting, in hours the shop is open; a shop day has 8.2 of them:" in ran.out
    assert max(cell_len(one) for one in ran.out.splitlines()) <= 80


def test_it_is_told_in_parts_with_their_headings() -> None:
    said = text(found(answers=(odds(9),)))
    for each in (
        "From 3,883 finished phases, up to entry 48,673.",
        "book 0.6 h; half take 0.9 h at most, 8 in 10 between 0.5 and 1.6 h",
        "People: open takes.",
        "Waiting, in hours the shop is open; a shop day has 8.2 of them: A job gets 5.8 h of "
        "labour. Held for parts: long. Held for a tool: short.",
        "Standing, in hours of the clock, nights too: dry: half",
        "Outwork, in hours the shop is open: seat: took",
        "furthest from the book's odds first: worn: 9 of 40.",
        "until they are put right: 0 open, T1, 3.1 h: open 1 open",
    ):
        assert each in said, each


def test_what_is_not_known_has_no_heading() -> None:
    bare = Learned(7, 3, (), (), (), Waits(8.0, None, (), ()), ())
    assert list(lines(bare)) == [
        "From 3 finished phases, up to entry 7.", "",
        "No phase differs from the book by more than chance would.",
    ]  # fmt: skip
    nothing = Learned(0, 0, (), (), (), Waits(8.0, None, (), ()), ())
    assert text(nothing).startswith("Nothing yet:")
    assert document(nothing)["waits"] == {"day_hours": 8.0, "pace": None, "holds": [], "away": []}


def test_odds_far_from_the_book_come_first_and_what_is_usual_is_left_out() -> None:
    answers = (odds(5, "near"), odds(14, "far"), odds(26, "usual", rare=False), odds(0, "never"))
    said = text(found(answers=answers))
    assert said.index("far: 14") < said.index("never: 0") < said.index("near: 5")
    assert "usual" not in said
    assert len(document(found(answers=answers))["odds"]) == 4  # type: ignore[arg-type]  # a list


def test_two_phases_under_one_clock_are_counted_and_the_last_are_shown() -> None:
    pairs = [Doubted(str(n // 2), "E1", "open", "T1", 1.0, "one clock", lumped=True)
             for n in range(40)]  # fmt: skip
    given = found(doubts=0)
    said = text(Learned(given.as_of_seq, 9, (), (), tuple(pairs), given.waits, ()))
    assert "Two phases under one clock (20): only their sum teaches" in said
    assert said.count("one clock") == 1 + 6
    assert "put right" not in said


def test_the_document_holds_figures_and_sentences() -> None:
    told = document(found(answers=(odds(9),)))
    assert told["waits"] == {
        "day_hours": 8.25,
        "pace": {
            "labour_hours_a_day": 5.8, "in_hands": 0.66, "worked_hours": 4700.0,
            "says": "A job gets 5.8 h of labour.",
        },
        "holds": [
            {
                "reason": "parts", "count": 9, "labour_hours_apart": 35.0, "middle": 6.5,
                "one_in_ten_over": 27.4, "said": 7, "times_as_said": 1.4,
                "one_in_ten_over_times": 2.2, "says": "Held for parts: long.",
            },
            {
                "reason": "tool", "count": 2, "labour_hours_apart": None, "middle": 7.0,
                "one_in_ten_over": 23.0, "said": 0, "times_as_said": None,
                "one_in_ten_over_times": None, "says": "Held for a tool: short.",
            },
        ],
        "away": [
            {
                "phase": "E3", "kind": "standing", "book_hours": 2.0, "middle": 2.5,
                "one_in_ten_over": 9.0, "count": 12, "says": DRY.says,
            },
            {
                "phase": "EW", "kind": "outwork", "book_hours": 8.0, "middle": 9.0,
                "one_in_ten_over": None, "count": 2, "says": SHOP.says,
            },
        ],
    }  # fmt: skip
    assert told["odds"] == [
        {
            "phase": "E1", "step": "LOOK", "code": "worn", "kind": "answer", "times": 9, "of": 40,
            "book_chance": 0.1, "chance": 0.12, "says": "worn: 9 of 40.",
        }
    ]  # fmt: skip


@given(st.text(min_size=1, max_size=200))
def test_no_text_makes_a_line_longer_than_eighty_columns(anything: str) -> None:
    for line in lines(found(anything)):
        assert cell_len(line) <= 80, line
        assert plain(line) == line, "a sign that no terminal shows"


def test_no_number_parts_from_its_unit() -> None:
    for width in range(12, 40):
        for line in wrapped("it took 12.5 h and that is 40 % more", width):
            assert not line.startswith(("h", "%"))


def test_further_lines_of_a_sentence_are_set_in() -> None:
    first, *rest = items(["word " * 40])
    assert first.startswith("  word")
    assert all(one.startswith("    word") for one in rest)
    assert rest
