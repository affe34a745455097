"""A lift's day by hand, and the law that each moment is counted once."""

from __future__ import annotations

from collections import Counter

from hypothesis import given
from hypothesis import strategies as st

from store.sums.month.lifts import LiftTime, Stood, lift_time
from store.sums.spans import Stretch, merged

H = 3600.0


def at(*pieces: tuple[float, float]) -> list[Stretch]:
    """Hours as seconds."""
    return [(start * H, end * H) for start, end in pieces]


def test_a_day() -> None:
    """Open 8 to 12 and 13 to 17. A job stands there from 9 to 15, worked on 9 to 11, held 10:30 to
    12:30; over noon nothing counts. From 16 the lift is out of service.

    Worked 2, held 11 to 12, dead 13 to 15, out 16 to 17, empty 8 to 9 and 15 to 16.
    """
    stood = Stood("1", at((9, 15)), at((9, 11)), at((10.5, 12.5)))
    found = lift_time(at((8, 12), (13, 17)), at((16, 40)), [stood])
    assert found == LiftTime(8, worked_h=2, out_h=1, held_h=1, dead_h=2, empty_h=2)


def test_work_on_a_job_elsewhere_is_none_of_this_lift() -> None:
    """It left at 10: what was worked afterwards, and how it was held, was elsewhere."""
    stood = Stood("1", at((8, 10)), at((9, 12)), at((11, 12)))
    found = lift_time(at((8, 12)), [], [stood])
    assert (found.worked_h, found.held_h, found.dead_h, found.empty_h) == (1, 0, 1, 2)


pieces = st.lists(
    st.tuples(st.integers(0, 30), st.integers(1, 10)).map(lambda one: (one[0], one[0] + one[1])),
    max_size=4,
)


@given(pieces, pieces, st.lists(st.tuples(pieces, pieces, pieces), max_size=3))
def test_each_hour_is_one_thing(
    open_: list[tuple[int, int]],
    out: list[tuple[int, int]],
    jobs: list[tuple[list[tuple[int, int]], list[tuple[int, int]], list[tuple[int, int]]]],
) -> None:
    """Hour by hour: worked before out before held before dead before empty."""

    def among(hour: int, these: list[tuple[int, int]]) -> bool:
        return any(start <= hour < end for start, end in these)

    counts: Counter[str] = Counter()
    for hour in range(45):
        if among(hour, open_):
            here = [job for job in jobs if among(hour, job[0])]
            so = {
                "worked": any(among(hour, job[1]) for job in here),
                "out": among(hour, out),
                "held": any(among(hour, job[2]) for job in here),
                "dead": bool(here),
                "empty": True,
            }
            counts[next(name for name, true in so.items() if true)] += 1
    stood = [Stood(str(n), at(*a), at(*b), at(*c)) for n, (a, b, c) in enumerate(jobs)]
    found = lift_time(merged(at(*open_)), at(*out), stood)
    names = ("worked", "out", "held", "dead", "empty")
    assert [round(getattr(found, f"{name}_h"), 9) for name in names] == [
        counts[name] for name in names
    ]
    assert round(found.open_h, 9) == counts.total()
