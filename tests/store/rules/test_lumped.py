"""When two neighbouring phases count as one stretch of labour."""

from __future__ import annotations

from store.rules.lumped import Stint, lumped

H = 3600.0


def stint(
    seq: int,
    labour_h: float,
    *,
    book_h: float = 2.0,
    technician: str = "B12",
    clocks: tuple[tuple[float, float], ...] = (),
    signed: tuple[tuple[str, float], ...] = (),
) -> Stint:
    """A phase of a job; clocks in hours are its technician's, as are signatures where named."""
    times = [(since * H, until * H) for since, until in clocks]
    return Stint(
        seq, technician, book_h, labour_h, {technician: times},
        [(who, at * H) for who, at in signed],
    )  # fmt: skip


def test_a_phase_of_next_to_nothing_was_swallowed_by_its_neighbour() -> None:
    assert lumped([stint(2, 0.1), stint(3, 3.9), stint(5, 2.0)]) == {2: 3, 3: 2}
    assert lumped([stint(2, 2.0), stint(3, 3.9), stint(5, 0.1)]) == {3: 5, 5: 3}


def test_both_sides_may_be_swallowed_by_the_same() -> None:
    assert lumped([stint(1, 0.1), stint(2, 5.5), stint(3, 0.2)]) == {1: 2, 2: 1, 3: 2}


def test_a_quick_phase_beside_one_in_time_is_itself() -> None:
    assert lumped([stint(1, 0.1), stint(2, 1.9)]) == {}


def test_hours_that_are_nowhere_were_not_swallowed() -> None:
    assert lumped([stint(1, 0.1, book_h=8.0), stint(2, 2.1)]) == {}


def test_another_hand_swallows_nothing() -> None:
    assert lumped([stint(1, 0.1), stint(2, 3.9, technician="B14")]) == {}


def test_only_neighbours_are_lumped() -> None:
    assert lumped([stint(1, 0.1), stint(2, 2.0), stint(3, 3.9)]) == {}


def test_a_hold_point_signed_well_inside_the_neighbours_clock_tells() -> None:
    first = stint(1, 1.0, clocks=((8, 9),), signed=(("B12", 10.0),))
    assert lumped([first, stint(2, 3.0, clocks=((9, 12),))]) == {1: 2, 2: 1}
    second = stint(2, 1.0, clocks=((11, 12),), signed=(("B12", 9.5),))
    assert lumped([stint(1, 3.0, clocks=((8, 11),)), second]) == {1: 2, 2: 1}


def test_a_clock_pressed_a_little_late_tells_nothing() -> None:
    first = stint(1, 1.0, clocks=((8, 9),), signed=(("B12", 9.1),))
    assert lumped([first, stint(2, 3.0, clocks=((9, 12),))]) == {}


def test_a_second_name_from_the_next_phase_tells_nothing() -> None:
    first = stint(1, 1.0, clocks=((8, 9),), signed=(("B14", 10.0),))
    assert lumped([first, stint(2, 3.0, clocks=((9, 12),))]) == {}
