"""A work book changed by a word: what was meant is otherwise, and nothing else, comments too."""

from __future__ import annotations

import tomllib
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from store.edges.toml_edit import Source, text_value
from store.edges.toml_lines import places_of
from store.edges.workbook import edit
from store.edges.workbook.copy import copy
from store.edges.workbook.keep import drop, keep
from store.edges.workbook.model import check, load
from store.rules.book import WorkBook
from store.rules.book_changes import changes
from store.rules.routes import lay
from store.trouble import Refused

DEMO = Path(__file__).parents[3] / "demo"
TEXT = (DEMO / "workbook.toml").read_text("utf-8")
SMALL = (DEMO / "starter.toml").read_text("utf-8")
BOOK = load(TEXT, routes_tried=True)
OPERATIONS = list(BOOK.operations)
PHASES = list(BOOK.phases)
COMING = [
    *(f"{one.code}.{each.code}" for one in BOOK.operations.values() for each in one.surprises),
    *(f"{one.code}.{each.code}" for one in BOOK.operations.values() for each in one.neighbours),
]
ANSWERS = [f"{code}.{step.code}.{answer.code}" for code, phase in BOOK.phases.items()
           for step in phase.steps for answer in step.answers]  # fmt: skip
hours = st.tuples(st.floats(0.1, 5), st.floats(0, 5), st.floats(0, 5)).map(
    lambda one: edit.Hours(
        round(one[0], 2), round(one[0] + one[1], 2), round(one[0] + one[1] + one[2], 2)
    )
)
odds = st.integers(1, 40).flatmap(lambda n: st.integers(n + 1, 60).map(lambda d: Fraction(n, d)))


def loaded(text: str) -> WorkBook:
    """The book, whose routes are the demo's and were tried."""
    return load(text, routes_tried=True)


def lines_changed(before: str, after: str) -> int:
    """Lines that are otherwise, in two texts of as many lines."""
    old, new = before.splitlines(), after.splitlines()
    assert len(old) == len(new)
    return sum(one != other for one, other in zip(old, new, strict=True))


def test_every_value_stands_where_it_is_said_to() -> None:
    """Read again by the standard reader, each piece of text is the value that it is."""
    raw = tomllib.loads(TEXT)
    for path, (start, end) in places_of(TEXT).values.items():
        found: object = raw
        for part in path:
            found = found[part]  # type: ignore[index]  # the paths are the text's own
        assert tomllib.loads(f"x = {TEXT[start:end]}")["x"] == found, path


def test_a_phase_takes_other_hours_and_not_a_letter_else_moves() -> None:
    after = edit.set_hours(TEXT, "CL3", edit.Hours(0.7, 1.1, 1.6))
    assert lines_changed(TEXT, after) == 1
    assert [(one.what, one.before, one.after) for one in changes(BOOK, load(after))] == [
        ("CL3 Clutch and release parts", "0.9 h (0.6 to 1.4)", "1.1 h (0.7 to 1.6)")
    ]
    assert check(after) == ()
    after = edit.set_hours(TEXT, "CL3", edit.read_hours("1.1", edit.written_hours(TEXT, "CL3")))
    assert [(one.before, one.after) for one in changes(BOOK, loaded(after))] == [("0.9 h", "1.1 h")]


def test_outwork_stays_in_days_and_one_side_of_an_access_is_a_phase() -> None:
    code = next(code for code, one in BOOK.phases.items() if one.kind == "outwork")
    before = edit.written_hours(TEXT, code)
    after = edit.set_hours(TEXT, code, edit.Hours(*(one + 1 for one in before)))
    assert loaded(after).phases[code].hours.low == (before.low + 1) * 8
    assert lines_changed(TEXT, edit.set_hours(TEXT, "GB-off", edit.Hours(1, 2, 3))) == 1


@settings(deadline=None, max_examples=8)
@given(st.sampled_from(PHASES), hours)
def test_whatever_hours_a_phase_gets_all_else_is_as_it_was(code: str, new: edit.Hours) -> None:
    after = edit.set_hours(TEXT, code, new)
    said = changes(BOOK, loaded(after))
    assert all(one.what.startswith(f"{code} ") for one in said)
    assert lines_changed(TEXT, after) <= 1
    assert edit.written_hours(after, code) == pytest.approx(new)
    assert set(TEXT.splitlines()) - set(after.splitlines()) <= {
        line for line in TEXT.splitlines() if line.startswith(("hours", "days"))
    }


def test_hours_for_a_family_are_a_line_below_the_phases_own() -> None:
    more = edit.Hours(2.0, 2.6, 3.4)
    after = edit.set_hours(TEXT, "CL3", more, "S6-*-R")
    assert check(after) == ()
    assert [tuple(one) for one in changes(BOOK, loaded(after))] == [
        ("CL3 Clutch and release parts for S6-*-R", "", "2.6 h (2 to 3.4)")
    ]
    assert set(after.splitlines()) - set(TEXT.splitlines()) == {
        'hours_for = [{ family = "S6-*-R", hours = [2.0, 2.6, 3.4] }]'
    }
    assert edit.written_hours(after, "CL3", " S6 - * - R ") == more
    assert edit.written_hours(after, "CL3", "B4-M-F") == edit.written_hours(TEXT, "CL3")
    other = edit.set_hours(after, "CL3", edit.Hours(1, 2, 3), "S6-*-R")
    assert lines_changed(after, other) == 1
    both = edit.set_hours(other, "CL3", more, "B4-M-F")
    assert lines_changed(other, both) == 1
    assert {one.family: one.hours.middle for one in loaded(both).phases["CL3"].hours_for} == {
        "S6-*-R": 2.0, "B4-M-F": 2.6,
    }  # fmt: skip


ONE = 'name = "b"\n[[operation]]\ncode = "OP"\nname = "op"\nroute = ["P"]\n[[phase]]\ncode = "P"\n'


@pytest.mark.parametrize(
    "rest",
    [
        "hours = 1  # an hour\nplace = 'lift'\n",
        "hours = [1,\n  2, 3]\n",
        "hours = 1",
        "  hours = 1\n",
        "hours = 1\nhours_for = []\n",
        'hours = 1\nhours_for = [\n  { family = "S6-*-R", hours = 2 }, # long\n]\n',
        'hours = 1\n[[phase.hours_for]]\nfamily = "S6-*-R"\nhours = 2 # long\n'
        "[[phase.step]]\ntext = 'x'\n",
    ],
)
def test_hours_for_a_family_are_added_however_the_book_is_written(rest: str) -> None:
    before, text = load(ONE + rest).phases["P"], ONE + rest
    for nth, family in enumerate(("S4-M-F", "B4-*-F"), 3):
        text = edit.set_hours(text, "P", edit.Hours(1, nth, 9), family)
    after = load(text).phases["P"]
    assert after.hours_for[: len(before.hours_for)] == before.hours_for
    own = [(one.family, one.hours.middle) for one in after.hours_for[len(before.hours_for) :]]
    assert own == [("S4-M-F", 3), ("B4-*-F", 4)]
    assert (after.hours, after.steps) == (before.hours, before.steps)
    assert [line.partition("#")[2] for line in text.splitlines() if "#" in line] == [
        line.partition("#")[2] for line in rest.splitlines() if "#" in line
    ]


def test_a_phase_in_one_line_and_a_side_of_an_access_take_them_too() -> None:
    text = ONE.replace('[[phase]]\ncode = "P"\n', "").replace(
        "route", 'part = [{ text = "t", phase = "P" }]\nroute'
    )
    text = 'phase = [{ code = "P", hours = 1 }]\n' + text
    after = load(edit.set_hours(text, "P", edit.Hours(1, 2, 3), "B4-M-F"))
    assert after.phases["P"].hours_for[0].hours.middle == 2
    after = loaded(edit.set_hours(TEXT, "GB-off", edit.Hours(1, 2, 3), "*-A-*"))
    assert [one.family for one in after.phases["GB-off"].hours_for] == ["*-A-*"]
    assert after.phases["GB-on"].hours_for == ()


def test_a_copy_and_what_is_kept_have_them_too() -> None:
    text = edit.set_hours(TEXT, "CL3", edit.Hours(1, 2, 3), "B4-M-F")
    assert loaded(copy(text, "CL", "VAN", "vans")).phases["VAN3"].hours_for[0].hours.middle == 2
    assert loaded(keep(text, ["CL"])).phases["CL3"].hours_for[0].family == "B4-M-F"


def test_what_was_learned_is_written_beside_the_hours_and_a_copy_begins_anew() -> None:
    once = edit.set_hours(TEXT, "CL3", edit.Hours(1, 2, 3), learned=2.5)
    twice = edit.set_hours(once, "CL3", edit.Hours(1, 2, 4), learned=3.0)
    assert set(twice.splitlines()) - set(TEXT.splitlines()) == {
        "hours = [1.0, 2.0, 4.0]", "learned = 3.0",
    }  # fmt: skip
    own = edit.set_hours(twice, "CL3", edit.Hours(1, 4, 5), "B4-M-F")
    assert loaded(own).phases["CL3"].hours_for[0].learned == 3.0
    own = edit.set_hours(own, "CL3", edit.Hours(1, 4, 5), "B4-M-F", learned=6.0)
    own = edit.set_hours(own, "CL3", edit.Hours(1, 5, 6), "S6-M-R", learned=7.5)
    phase = loaded(own).phases["CL3"]
    assert [phase.learned, *(one.learned for one in phase.hours_for)] == [3.0, 6.0, 7.5]
    assert check(own) == ()
    new = loaded(copy(own, "CL", "VAN", "vans")).phases["VAN3"]
    assert [new.learned, *(one.learned for one in new.hours_for)] == [1.0, 1.0, 1.0]
    assert new.hours_for[1].hours.middle == 5


def test_outwork_is_the_same_for_every_family() -> None:
    code = next(code for code, one in BOOK.phases.items() if one.kind == "outwork")
    with pytest.raises(Refused, match="same for every family"):
        edit.set_hours(TEXT, code, edit.Hours(1, 2, 3), "B4-M-F")


@settings(deadline=None, max_examples=8)
@given(st.sampled_from(COMING), odds)
def test_whatever_odds_a_surprise_gets_all_else_is_as_it_was(what: str, new: Fraction) -> None:
    after = edit.set_odds(TEXT, what, new)
    said = changes(BOOK, loaded(after))
    assert all(one.what.startswith(f"{what} ") for one in said)
    assert lines_changed(TEXT, after) <= 1


@settings(deadline=None, max_examples=8)
@given(st.sampled_from(ANSWERS), odds)
def test_whatever_odds_an_answer_gets_those_of_its_decision_add_to_one(
    what: str, new: Fraction
) -> None:
    after = edit.set_odds(TEXT, what, new)
    phase, step, answer = what.split(".")
    found = next(one for one in loaded(after).phases[phase].steps if one.code == step)
    assert sum(one.odds for one in found.answers) == pytest.approx(1, abs=1e-9)
    assert next(one.odds for one in found.answers if one.code == answer) == pytest.approx(
        float(new), rel=1e-5
    )
    said = changes(BOOK, loaded(after))
    assert all(one.what.startswith(f"{phase}.{step}.") for one in said)


def test_the_other_answers_share_what_is_left_as_before() -> None:
    after = edit.set_odds(TEXT, "CL1.fit.fail", Fraction(1, 6))
    said = {one.what.split(" ")[0]: one.after for one in changes(BOOK, loaded(after))}
    assert said == {
        "CL1.fit.pass": "49 in 66", "CL1.fit.conditions": "1 in 11", "CL1.fit.fail": "1 in 6",
    }  # fmt: skip


@pytest.mark.parametrize(
    "typed, found",
    [("1 in 8", (1, 8)), ("1:8", (1, 8)), ("1/8", (1, 8)), ("0.125", (1, 8)), ("12.5 %", (1, 8)),
     ("0,5", (1, 2)), ("0", (0, 1)), ("1", (1, 1))],
)  # fmt: skip
def test_odds_are_read_as_people_type_them(typed: str, found: tuple[int, int]) -> None:
    assert edit.read_odds(typed) == Fraction(*found)


@pytest.mark.parametrize("typed", ["", "x", "1 in 0", "9 in 8", "2", "-1", "1 in", "120 %"])
def test_no_odds_are_explained(typed: str) -> None:
    with pytest.raises(Refused, match=r"like 1 in 8"):
        edit.read_odds(typed)


@pytest.mark.parametrize(
    "typed, found",
    [("0.7, 1.1, 1.6", (0.7, 1.1, 1.6)), ("0.7,1.1,1.6", (0.7, 1.1, 1.6)),
     ("0,7; 1,1; 1,6", (0.7, 1.1, 1.6)), ("1 2 3", (1, 2, 3)), ("1,2,3", (1, 2, 3)),
     ("1.8", (1.2, 1.8, 2.8)), ("1,8", (1.2, 1.8, 2.8))],
)  # fmt: skip
def test_hours_are_read_as_people_type_them(typed: str, found: tuple[float, ...]) -> None:
    assert edit.read_hours(typed, edit.Hours(0.6, 0.9, 1.4)) == pytest.approx(found)


@pytest.mark.parametrize("typed", ["", "x", "3 2 1", "0", "1 2", "nan", "-1 1 2", "1 2 inf"])
def test_no_hours_are_explained(typed: str) -> None:
    with pytest.raises(Refused, match=r"[Hh]ours"):
        edit.read_hours(typed, edit.Hours(0.6, 0.9, 1.4))


NOT_THERE: list[tuple[Callable[[str], str], str]] = [
    (lambda text: edit.set_hours(text, "CL9", edit.Hours(1, 2, 3)), "no phase CL9"),
    (lambda text: edit.set_odds(text, "CL.nothing", Fraction(1, 8)), "no surprise"),
    (lambda text: edit.set_odds(text, "CL1.fit.maybe", Fraction(1, 8)), "no answer maybe"),
    (lambda text: edit.set_odds(text, "CL1.none.maybe", Fraction(1, 8)), "no decision"),
    (lambda text: edit.set_odds(text, "CL1", Fraction(1, 8)), "names no odds"),
    (lambda text: edit.rename(text, "XX", "x"), "no operation XX"),
    (lambda text: edit.add_part(text, "CL", "x", "TC2"), "no phase of CL"),
    (lambda text: copy(text, "CL", "TC", "x"), "taken already"),
    (lambda text: copy(text, "CL", "a b", "x"), "no code"),
    (lambda text: keep(text, ["XX"]), "no operation XX"),
    (lambda text: edit.new_operation(text, "CL", "x", [("a", 1)], book="b"), "taken"),
]


@pytest.mark.parametrize("act, says", NOT_THERE)
def test_what_is_not_there_is_named(act: Callable[[str], str], says: str) -> None:
    with pytest.raises(Refused, match=says):
        act(TEXT)


@pytest.mark.parametrize("operation", OPERATIONS)
def test_an_operation_is_copied_with_its_own_phases(operation: str) -> None:
    after = copy(TEXT, operation, "VAN", "the vans")
    book = load(after)
    old, new = book.operations[operation], book.operations["VAN"]
    assert old.name == BOOK.operations[operation].name
    shared = [use.phase for use in new.route if use.phase in BOOK.phases]
    assert [use.phase for use in old.route if use.phase in shared] == shared
    assert len(old.route) == len(new.route)
    assert all(book.phases[code] == BOOK.phases[code] for code in PHASES
               if not set(book.phases[code].contains) & set(book.phases) - set(BOOK.phases)
               and not _blocks_copy(book, code))  # fmt: skip
    for family in ("B4-M-F", "D4-A-4"):
        routes = [
            lay(book, operations=[code], family=family, options={}, grade=2)
            for code in (operation, "VAN")
        ]
        assert [one.book for one in routes[0]] == [one.book for one in routes[1]]
        assert [len(one.steps) for one in routes[0]] == [len(one.steps) for one in routes[1]]
        assert [[len(step.blocks) for step in one.steps] for one in routes[0]] == [
            [len(step.blocks) for step in one.steps] for one in routes[1]
        ]


def _blocks_copy(book: WorkBook, code: str) -> bool:
    new = set(book.phases) - set(BOOK.phases)
    return any(set(step.blocks) & new for step in book.phases[code].steps)


def test_hours_of_a_copy_are_its_own() -> None:
    after = edit.set_hours(copy(TEXT, "CL", "VAN", "vans"), "VAN3", edit.Hours(2, 3, 4))
    book = load(after)
    assert book.phases["VAN3"].hours.middle == 3
    assert book.phases["CL3"].hours.middle == 0.9


@pytest.mark.parametrize("operation", OPERATIONS)
def test_one_operation_alone_is_a_book_and_so_are_all_the_others(operation: str) -> None:
    alone = keep(TEXT, [operation])
    assert check(alone) == ()
    one = load(alone).operations
    assert list(one) == [operation]
    assert [use.phase for use in one[operation].route] == [
        use.phase for use in BOOK.operations[operation].route
    ]
    assert "common practice, no source" in alone, "what stands above the book stays"
    others = drop(TEXT, operation)
    assert check(others) == ()
    assert list(load(others).operations) == [one for one in OPERATIONS if one != operation]


@settings(deadline=None, max_examples=5)
@given(st.sets(st.sampled_from(OPERATIONS), min_size=1))
def test_any_operations_make_a_book_with_the_hours_they_had(some: set[str]) -> None:
    kept = keep(TEXT, some)
    assert check(kept) == ()
    book = load(kept)
    for code in some:
        routes = [lay(each, operations=[code], family="D4-M-4", options={}, grade=2)
                  for each in (BOOK, book)]  # fmt: skip
        assert [(one.phase.code, one.book) for one in routes[0]] == [
            (one.phase.code, one.book) for one in routes[1]
        ]
        assert [[step.text for step in one.steps] for one in routes[0]] == [
            [step.text for step in one.steps] for one in routes[1]
        ]


def test_everything_kept_is_the_book_itself_but_for_what_nothing_uses() -> None:
    assert {one.what for one in changes(BOOK, loaded(keep(TEXT, OPERATIONS)))} <= {"tools"}


def test_the_last_operation_stays() -> None:
    with pytest.raises(Refused, match="only operation"):
        drop(SMALL, "CP")


def test_a_part_a_name_and_an_operation_from_nothing() -> None:
    after = edit.add_part(SMALL, "CP", 'hose "upper"', "CP2")
    assert loaded(after).operations["CP"].parts[-1].text == 'hose "upper"'
    after = edit.rename(after, "CP", "pump\\and more")
    assert loaded(after).operations["CP"].name == "pump\\and more"
    phases = edit.read_phases("strip 2, heavy clutch 3,5, refit 1.5")
    assert phases == [("strip", 2.0), ("heavy clutch", 3.5), ("refit", 1.5)]
    after = edit.new_operation(after, "BR", "brakes", [("off", 1), ("on", 1.5)], book="x")
    assert check(after) == ()
    assert [use.phase for use in load(after).operations["BR"].route] == ["BR1", "BR2"]
    again = edit.new_operation(after, "BX", "more", edit.read_phases("off 1, CP4"), book="x")
    assert [use.phase for use in load(again).operations["BX"].route] == ["BX1", "CP4"]
    with pytest.raises(Refused, match="no phase strip"):
        edit.new_operation(after, "BX", "more", edit.read_phases("strip, off 1"), book="x")
    first = edit.new_operation("", "BR", "brakes", [("off", 1)], book="Our book")
    assert load(first).name == "Our book"


@pytest.mark.parametrize("typed", ["", "2", "strip x", "strip 0, refit 1", "strip 1, 2"])
def test_phases_without_hours_are_explained(typed: str) -> None:
    with pytest.raises(Refused, match="no phase with hours"):
        edit.read_phases(typed)


@given(st.text(max_size=40))
def test_any_text_is_written_so_that_it_reads_the_same(text: str) -> None:
    if any("\ud800" <= one <= "\udfff" for one in text):
        return
    assert tomllib.loads(f"x = {text_value(text)}")["x"] == text


def test_returns_of_another_machine_and_a_lacking_last_line_break_are_no_matter() -> None:
    text = SMALL.replace("\n", "\r\n").rstrip()
    after = edit.set_hours(text, "CP2", edit.Hours(1, 2, 3))
    assert loaded(after).phases["CP2"].hours.middle == 2
    assert Source(text).text.endswith("\n")


def test_two_operations_may_ask_the_same_of_a_vehicle_and_only_the_same() -> None:
    twice = copy(TEXT, "CL", "VAN", "vans")
    assert check(twice) == ()
    values = 'values = ["plain", "self-adjusting"]'
    assert twice.count(values) == 2
    other = twice[: twice.rindex(values)] + twice[twice.rindex(values) :].replace(
        values, 'values = ["plain", "self-adjusting", "double"]', 1
    )
    assert any("option 'clutch' is there twice" in one for one in check(other))
