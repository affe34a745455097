"""What an open hold point or an unanswered decision stands in the way of."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.rules.blocking import (
    Gate,
    PhaseAt,
    blocking_deed,
    blocking_phase,
    blocking_step,
    blocks_from,
    who_signs,
)
from store.rules.book import Step


def _route(*states: str) -> list[PhaseAt]:
    """Phases A, B, C ... in order, with these states."""
    return [
        PhaseAt(str(n), float(n), chr(64 + n), state) for n, state in enumerate(states, start=1)
    ]


def _gate(phase: str, *blocks: str, state: str = "open", position: float = 1.0) -> Gate:
    spec = Step(code="G", text="g", kind="hold point", blocks=blocks)
    return Gate(phase, str(int(position)), position, state, spec)


FIVE = _route(*["to come"] * 5)


@pytest.mark.parametrize(
    ("blocks", "shut"),
    [
        ((">",), "345"),
        (("*",), "345"),
        ((), "345"),
        (("D",), "45"),
        (("E", "D"), "45"),
        (("D", "hand-over"), "45"),
        (("hand-over",), ""),
        (("A",), "345"),
        (("X",), "345"),
    ],
)
def test_it_blocks_what_it_names_and_all_that_follows(blocks: tuple[str, ...], shut: str) -> None:
    gate = _gate("2", *blocks)
    found = "".join(one.phase for one in FIVE if blocking_phase([gate], FIVE, one.phase))
    assert found == shut


def test_a_named_phase_that_was_left_out_still_blocks_what_follows() -> None:
    route = _route("finished", "under way", "to come", "skipped", "to come")
    gate = _gate("2", "D")
    assert blocking_phase([gate], route, "3") is None
    assert blocking_phase([gate], route, "5") is gate


def test_the_next_phase_is_the_next_that_is_done() -> None:
    route = _route("finished", "under way", "skipped", "to come")
    assert blocks_from(_gate("2", ">"), route) == 4.0


def test_a_gate_of_a_phase_left_out_blocks_nothing() -> None:
    route = _route("finished", "skipped", "to come")
    assert blocking_phase([_gate("2", ">")], route, "3") is None


def test_the_first_open_gate_in_the_route_is_named() -> None:
    gates = [_gate("3", ">"), _gate("1", ">", state="done"), _gate("2", ">")]
    found = blocking_phase(gates, FIVE, "5")
    assert found is gates[2]


@pytest.mark.parametrize("state", ["open", "half", "out"])
def test_only_a_done_gate_lets_the_next_step_be_signed(state: str) -> None:
    gate = _gate("2", ">", state=state, position=2.0)
    assert blocking_step([gate], "2", 3.0) is gate
    assert blocking_step([gate], "2", 1.0) is None
    assert blocking_step([gate], "3", 3.0) is None
    assert blocking_step([_gate("2", state="done", position=2.0)], "2", 3.0) is None


def test_a_deed_waits_for_the_gates_that_name_it() -> None:
    gates = [_gate("2", "first-start"), _gate("3", "hand-over")]
    assert blocking_deed(gates, FIVE, "first-start") is gates[0]
    assert blocking_deed(gates, FIVE, "hand-over") is gates[1]
    assert blocking_deed(gates, FIVE, "move") is None


def test_who_signs_says_all_it_takes() -> None:
    two = Step(code="G", text="g", kind="hold point", signs=2, needs=("high voltage",))
    assert who_signs(two) == "a technician and a second person with high voltage"
    last = Step(code="G", text="g", kind="hold point", by="foreman", not_by_fitter=True)
    assert who_signs(last) == "the foreman who did not do the work"


@given(
    st.lists(st.sampled_from(["to come", "under way", "finished", "skipped"]), min_size=2,
             max_size=9),
    st.data(),
)  # fmt: skip
def test_leaving_a_phase_out_never_opens_the_way_to_a_later_one(
    states: list[str], data: st.DataObject
) -> None:
    route = _route(*states)
    own = data.draw(st.sampled_from(route))
    named = data.draw(st.sampled_from(route))
    gone = data.draw(st.sampled_from(route))
    if own.state == "skipped" or gone is own:
        return
    gate = _gate(own.phase, named.code)
    less = [
        PhaseAt(one.phase, one.position, one.code, "skipped") if one is gone else one
        for one in route
    ]
    for one in route:
        live = one is not gone and one.state != "skipped"
        if live and blocking_phase([gate], route, one.phase):
            assert blocking_phase([gate], less, one.phase)
