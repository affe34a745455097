"""Small histories for laws: jobs that overlap, faults, lumps, cut-off phases, equal instants."""

from __future__ import annotations

import math
from dataclasses import replace

from hypothesis import strategies as st

from store.learn.records import CLASSES, People, Record

HOUR_S = 3600
SOON_S = 40 * HOUR_S
"""Jobs begin within so many seconds of one another."""
OPERATIONS = {"CL": ("off", "clutch", "on"), "TB": ("belt", "set"), "CL+TB": ("off", "belt", "on")}
FAMILIES = ("B4-M-F", "D4-M-R", "old")
BADGES = ("B12", "B17", "B20")

ratios = st.one_of(st.floats(0.5, 2.0), st.sampled_from([0.03, 1.0, 7.0]))
people = st.sampled_from(
    [
        People(),
        People(experience={"B17": "apprentice 1"}),
        People(employed={"B12": ((0.0, None),), "B17": ((0.0, 200.0 * HOUR_S),)}),
    ]
)


@st.composite
def jobs(make: st.DrawFn, number: int, most: int = 3) -> list[Record]:
    """One job whose phases follow one another. Instants are whole quarters of an hour."""
    template = make(st.sampled_from(sorted(OPERATIONS)))
    family, grade = make(st.sampled_from(FAMILIES)), make(st.sampled_from([None, None, 2, 4]))
    at = make(st.integers(0, SOON_S // 900)) * 900
    found: list[Record] = []
    for seq, phase in enumerate(OPERATIONS[template][:most], 1):
        book = make(st.sampled_from([0.5, 1.0, 2.5]))
        hours = book * make(ratios)
        closed = at + max(1, math.ceil(hours * 4)) * 900
        found.append(
            Record(
                f"J{number}", template, family, phase, seq, make(st.sampled_from(BADGES)),
                float(at), float(closed), book, hours, grade,
                make(st.sampled_from([None, *CLASSES])),
                cut_off=make(st.integers(0, 9)) == 0,
                surprise_h=make(st.sampled_from([None, None, 0.0, hours / 3])),
            )
        )  # fmt: skip
        at = closed + make(st.sampled_from([0, 0, 900]))
    if len(found) > 1 and make(st.integers(0, 5)) == 0:
        found[1] = replace(found[1], lumped_with=1)
    return found


@st.composite
def histories(make: st.DrawFn, least: int = 2, most: int = 4) -> list[Record]:
    """A few jobs, as rows in no order."""
    count = make(st.integers(least, most))
    rows = [one for number in range(count) for one in make(jobs(number))]
    return make(st.permutations(rows))
