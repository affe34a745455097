"""Routes: each phase once, own orders kept, accesses nested, hours as the parts say."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise
from math import isclose
from random import Random

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.rules.book import (
    Extra,
    Hours,
    KitNeed,
    Operation,
    Option,
    Phase,
    PhaseClass,
    Reduction,
    Step,
    Use,
    When,
    WorkBook,
)
from store.rules.route_order import NoOrder
from store.rules.routes import (
    RoutePhase,
    chosen,
    family_parts,
    holds,
    labour_h,
    lay,
    on_lift,
    shared_saving_h,
)
from store.trouble import Refused

PLAIN = Phase("", "", Hours(1, 1, 1))
NOTHING = Operation("", "", ())


def phase(code: str, hours: float = 1.0, as_is: Phase = PLAIN) -> Phase:
    """A phase like another; its code says whether it opens or shuts an access."""
    made = replace(as_is, code=code, name=code, hours=Hours(0.5 * hours, hours, 2 * hours))
    access, _, side = code.partition("-")
    if side == "off":
        return replace(made, access=access, side="off", phase_class="strip")
    return replace(made, access=access, side="on", phase_class="refit") if side == "on" else made


def book_of(
    phases: list[Phase],
    routes: dict[str, list[str]],
    *,
    hold_points: tuple[Step, ...] = (),
    reductions: tuple[Reduction, ...] = (),
    as_is: Operation = NOTHING,
) -> WorkBook:
    """A book of operations like another, with these routes."""
    operations = {
        code: replace(as_is, code=code, name=code, route=tuple(map(Use, route)))
        for code, route in routes.items()
    }
    return WorkBook(
        "test", {}, (), (), hold_points, {p.code: p for p in phases}, operations, reductions
    )


def codes(route: tuple[RoutePhase, ...]) -> list[str]:
    return [each.phase.code for each in route]


def laid(
    book: WorkBook, *operations: str, family: str = "B4-M-F", grade: int = 2, **options: str
) -> tuple[RoutePhase, ...]:
    return lay(book, operations=operations, family=family, options=options, grade=grade)


@pytest.mark.parametrize("key", ["", "B4", "B4-M", "B4--F", "B4-M-F-X", "-M-F"])
def test_a_family_that_has_not_three_parts_is_refused_with_the_remedy(key: str) -> None:
    with pytest.raises(Refused, match="B4-M-F"):
        family_parts(key)


def test_a_family_has_engine_gearbox_and_axles() -> None:
    assert family_parts("D4-A-4") == ("D4", "A", "4")


def test_a_condition_asks_for_every_field_that_is_filled() -> None:
    when = When(engine=("H*",), axles=("R", "4"), grade=(3, 4), option={"build": ("A",)})
    assert holds(when, family="H4-M-R", grade=3, options={"build": "A"})
    assert not holds(when, family="B4-M-R", grade=3, options={"build": "A"})
    assert not holds(when, family="H4-M-F", grade=3, options={"build": "A"})
    assert not holds(when, family="H4-M-R", grade=2, options={"build": "A"})
    assert not holds(when, family="H4-M-R", grade=3, options={"build": "B"})
    assert not holds(when, family="H4-M-R", grade=3, options={})
    assert holds(When(), family="H4-M-R", grade=3, options={})


def test_options_not_told_are_assumed_and_unknown_ones_refused() -> None:
    option = Option("build", "which", ("A", "B"), "A")
    book = book_of([phase("X")], {"P": ["X"]}, as_is=replace(NOTHING, options=(option,)))
    assert chosen(book, ["P"], {}) == {"build": "A"}
    assert chosen(book, ["P"], {"build": "B"}) == {"build": "B"}
    with pytest.raises(Refused, match=r"possible: build=A\|B"):
        chosen(book, ["P"], {"bild": "A"})
    with pytest.raises(Refused, match="possible: A, B"):
        chosen(book, ["P"], {"build": "C"})
    with pytest.raises(Refused, match="has no operation 'Q'"):
        chosen(book, ["Q"], {})
    with pytest.raises(Refused, match="at least one"):
        chosen(book, [], {})


def test_the_same_access_is_paid_once_and_what_comes_off_last_goes_on_first() -> None:
    phases = [phase(c) for c in ("A-off", "A-on", "B-off", "B-on", "X", "Y")]
    book = book_of(phases, {"P": ["A-off", "B-off", "X", "B-on", "A-on"],
                            "Q": ["A-off", "Y", "A-on"]})  # fmt: skip
    route = laid(book, "P", "Q")
    assert codes(route) == ["A-off", "B-off", "X", "Y", "B-on", "A-on"]
    assert [each.serves for each in route] == [
        ("P", "Q"), ("P",), ("P",), ("Q",), ("P",), ("P", "Q")]  # fmt: skip
    saving = shared_saving_h(book, operations=["P", "Q"], family="B4-M-F", options={}, grade=2)
    assert isclose(saving, 2.0)


def test_the_search_turns_back_where_the_first_way_would_not_nest() -> None:
    phases = [phase(c) for c in ("A-off", "A-on", "B-off", "B-on", "C-off", "C-on", "X")]
    book = book_of(phases, {"P": ["A-off", "A-on", "B-off", "B-on"],
                            "Q": ["C-off", "B-off", "X", "B-on", "C-on"]})  # fmt: skip
    route = codes(laid(book, "P", "Q"))
    assert_nested(route)
    assert len(route) == 7


def test_orders_that_contradict_each_other_are_refused() -> None:
    phases = [phase(c) for c in ("X", "Y", "A-off", "A-on", "B-off", "B-on")]
    circle = book_of(phases, {"P": ["X", "Y"], "Q": ["Y", "X"]})
    with pytest.raises(NoOrder, match="X"):
        laid(circle, "P", "Q")
    crossed = book_of(phases, {"P": ["A-off", "B-off", "A-on", "B-on"]})
    with pytest.raises(NoOrder, match="A-off"):
        laid(crossed, "P")


def test_a_contained_phase_falls_away_and_its_hold_points_follow_its_place() -> None:
    point = Step("H", "seated", kind="hold point", blocks=("B-on", "GONE"))
    phases = [
        phase("A-off", as_is=replace(PLAIN, contains=("B-off",))),
        phase("A-on", as_is=replace(PLAIN, contains=("B-on",))),
        phase("B-off"),
        phase("B-on"),
        replace(phase("X"), steps=(point,), kits=(KitNeed("locks", captive_to="B-on"),)),
    ]
    book = book_of(phases, {"P": ["A-off", "A-on"], "Q": ["B-off", "X", "B-on"]})
    route = laid(book, "P", "Q")
    assert codes(route) == ["A-off", "X", "A-on"]
    assert route[1].steps[0].blocks == ("A-on",)
    assert route[1].kits[0].captive_to == "A-on"
    assert route[0].serves == ("P", "Q")
    assert laid(book, "Q")[1].steps[0].blocks == ("B-on",)


def test_what_an_operation_does_on_its_way_is_not_done_for_another() -> None:
    book = book_of([phase("X"), phase("Y"), phase("Z")], {"P": ["X"]})
    more = Operation("Q", "q", (Use("Y"), Use("Z")), contains=("X",))
    book = WorkBook("t", {}, (), (), (), book.phases, {**book.operations, "Q": more})
    assert codes(laid(book, "P", "Q")) == ["Y", "Z"]
    assert codes(laid(book, "P")) == ["X"]


def test_a_phase_takes_less_beside_another() -> None:
    reductions = (Reduction("A", ("X",), factor=0.5), Reduction("B", ("X",), minus=1.0))
    phases = [phase("A"), phase("B"), phase("X", 4.0)]
    book = book_of(phases, {"P": ["A"], "Q": ["B"], "R": ["X"]}, reductions=reductions)
    hours = [laid(book, *ops)[-1].book for ops in (["R"], ["P", "R"], ["Q", "R"], ["P", "Q", "R"])]
    assert hours == [Hours(2, 4, 8), Hours(1, 2, 4), Hours(1.5, 3, 6), Hours(0.5, 1, 2)]


def test_standing_and_outwork_are_no_labour() -> None:
    phases = [
        phase("X"),
        replace(phase("S", 5.0), kind="standing"),
        replace(phase("O", 40.0), kind="outwork"),
    ]
    assert labour_h(laid(book_of(phases, {"P": ["X", "S", "O"]}), "P")) == 1.0


def test_steps_and_extras_come_in_order_and_only_where_they_apply() -> None:
    steps = (Step("1", "one"), Step("2", "two", when=When(axles=("R",))), Step("3", "three"))
    extras = (
        Extra("X", Step("a", "after one"), after="1"),
        Extra("X", Step("b", "after a"), after="1"),
        Extra("X", Step("c", "last")),
    )
    book = book_of(
        [replace(phase("X"), steps=steps)],
        {"P": ["X"], "Q": ["X"]},
        as_is=replace(NOTHING, extras=extras),
    )
    assert [s.code for s in laid(book, "P")[0].steps] == ["1", "a", "b", "3", "c"]
    both = laid(book, "P", "Q", family="B4-M-R")[0].steps
    assert [s.code for s in both] == ["1", "a", "b", "2", "3", "c"]


def test_hold_points_of_every_job_go_into_the_first_phase_and_the_first_on_a_lift() -> None:
    points = (
        Step("HL", "raised", kind="hold point", insert="first phase on a lift"),
        Step("HV", "isolated", kind="hold point", insert="first phase", when=When(engine=("H*",))),
    )
    phases = [
        replace(phase("G"), place=("road",), steps=(Step("1", "drive"),)),
        replace(phase("B"), place=("bench", "lift")),
        replace(phase("L"), place=("lift", "road"), steps=(Step("1", "look"),)),
    ]
    book = book_of(phases, {"P": ["G", "B", "L"]}, hold_points=points)
    route = laid(book, "P", family="H4-M-F")
    assert [[s.code for s in each.steps] for each in route] == [["1", "HV"], [], ["HL", "1"]]
    assert [s.code for s in laid(book, "P")[0].steps] == ["1"]
    assert [on_lift(p) for p in phases] == [False, False, True]


def test_an_engine_is_not_run_before_another_operation_has_signed_its_first_start() -> None:
    start = Step("fire", "first start", deed="first-start")
    guard = Step("HO", "oil pressure", kind="hold point", blocks=("first-start",))
    phases = [
        replace(phase("RUN"), after="drives", steps=(start,)),
        replace(phase("FIRST"), after="drives", steps=(guard, start)),
        replace(phase("BLEED"), after="drives"),
        phase("X"),
    ]
    book = book_of(phases, {"P": ["RUN"], "Q": ["X", "FIRST"], "R": ["BLEED"]})
    assert codes(laid(book, "P", "Q", "R")) == ["X", "BLEED", "FIRST", "RUN"]


# Laws, over any books whose operations open and shut accesses properly.

ACCESSES = ("A", "B", "C", "D")


@st.composite
def books(draw: st.DrawFn) -> WorkBook:
    """Operations over four shared accesses that always nest in one order, with own work inside."""
    names = [f"{access}-{side}" for access in ACCESSES for side in ("off", "on")]
    phases = {name: phase(name, draw(st.integers(1, 40)) / 10) for name in ["G0", *names, "END"]}
    routes: dict[str, list[str]] = {}
    for number in range(draw(st.integers(1, 4))):
        opened = sorted(draw(st.sets(st.sampled_from(ACCESSES))))
        route = ["G0", f"Q{number}"]
        phases[f"Q{number}"] = replace(phase(f"Q{number}"), qualifies=True, after="drives")
        for access in opened:
            route += [f"{access}-off", *_work(draw, phases, f"s{number}{access}", "strip")]
        for access in reversed(opened):
            route += [*_work(draw, phases, f"w{number}{access}", "work"), f"{access}-on"]
        routes[f"OP{number}"] = [*route, "END"]
    return book_of(list(draw(st.permutations(list(phases.values())))), routes)


def _work(draw: st.DrawFn, phases: dict[str, Phase], name: str, kind: PhaseClass) -> list[str]:
    codes = [f"{name}{n}" for n in range(draw(st.integers(0, 2)))]
    for code in codes:
        made = phase(code, draw(st.integers(1, 40)) / 10)
        phases[code] = replace(made, phase_class=kind)
    return codes


def assert_nested(route: list[str]) -> None:
    stack: list[str] = []
    for code in route:
        access, _, side = code.partition("-")
        if side == "off":
            stack.append(access)
        elif side == "on":
            assert stack.pop() == access, route
    assert stack == []


@given(books())
def test_every_own_order_is_kept_and_accesses_nest(book: WorkBook) -> None:
    route = codes(laid(book, *book.operations))
    place = {code: at for at, code in enumerate(route)}
    assert len(place) == len(route)
    for operation in book.operations.values():
        own = [place[use.phase] for use in operation.route]
        assert all(a < b for a, b in pairwise(own))
    assert_nested(route)


@given(books())
def test_qualifying_checks_come_right_after_reception(book: WorkBook) -> None:
    route = laid(book, *book.operations)
    checks = [each.phase.qualifies for each in route]
    assert checks == [
        False,
        *[True] * len(book.operations),
        *[False] * (len(checks) - 1 - sum(checks)),
    ]


@given(books(), st.randoms(use_true_random=False))
def test_the_order_of_the_operations_changes_nothing(book: WorkBook, random: Random) -> None:
    named = [*book.operations, *book.operations]
    random.shuffle(named)
    assert laid(book, *named) == laid(book, *book.operations)


@given(books())
def test_together_is_never_more_than_apart(book: WorkBook) -> None:
    together = labour_h(laid(book, *book.operations))
    apart = sum(labour_h(laid(book, code)) for code in book.operations)
    assert together <= apart + 1e-9
    saving = shared_saving_h(
        book, operations=list(book.operations), family="B4-M-F", options={}, grade=2
    )
    assert isclose(saving, apart - together, abs_tol=1e-9)
    kept = codes(laid(book, *book.operations))
    assert isclose(together, sum(book.phases[code].hours.middle for code in kept))
