"""Each kind of fault, a few times over; and again with its protection taken out, to see it fail.

The long run, and the table: `python -m tests.faults`.
"""

from __future__ import annotations

from pathlib import Path
from random import Random

import pytest

from tests.faults.row import Row, Tries
from tests.faults.rows import ROWS

SEED = 1
BARE = tuple(row for row in ROWS if row.bare)


def named(row: Row) -> str:
    return row.kind


def needing(row: Row) -> None:
    """Skip what cannot be tried here, with a word of what it needs."""
    if lacks := row.lacks():
        pytest.skip(lacks)


@pytest.mark.parametrize("row", ROWS, ids=named)
def test_nothing_is_lost(row: Row, tmp_path: Path) -> None:
    needing(row)
    found = row.run(Tries(row.quick, Random(SEED), tmp_path))
    assert found.tried >= row.quick, found
    assert found.holds, found


@pytest.mark.parametrize("row", BARE, ids=named)
def test_without_its_protection_it_is_seen_to_fail(row: Row, tmp_path: Path) -> None:
    needing(row)
    found = row.run(Tries(row.bare, Random(SEED), tmp_path, protected=False))
    assert found.seen_to_fail, found


def test_no_kind_stands_twice_and_each_says_how_it_is_tried() -> None:
    assert len({row.kind for row in ROWS}) == len(ROWS)
    for row in ROWS:
        assert min(len(row.made), len(row.known), len(row.without)) > 20, row.kind
        assert 0 < row.quick <= row.long, row.kind
