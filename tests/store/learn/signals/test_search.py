"""What is told of a shop without a story, and of shops with one."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from random import Random

import pytest

from store.learn.records import Record
from store.learn.signals.found import ALPHA
from store.learn.signals.search import search
from tests.bench.signals.shop import BEGIN, YEAR, Doing, Shop, nothing

YEARS = 1.2


def worked(seed: int, code: str = "", factor: float = 1.0, since: float = 0.0) -> list[Record]:
    """A shop; from a time on everything about one code takes another factor."""

    def story(doing: Doing) -> float:
        about = code in (doing.phase, doing.operation, doing.family)
        return math.log(factor) * (about and doing.years >= since)

    return Shop(seed).worked(YEARS, story if code else nothing)


def usual(records: Sequence[Record], shared: str) -> str:
    """The commonest phase whose code begins so."""
    codes = [one.phase for one in records if one.phase.startswith(shared)]
    return max(sorted(set(codes)), key=codes.count)


@pytest.mark.parametrize("seed", [1, 2, 3])
def test_nothing_is_told_where_nothing_changes(seed: int) -> None:
    assert search(worked(seed)).found == ()


@pytest.mark.parametrize("seed", [1, 2])
def test_a_phase_made_faster_is_one_signal_with_its_date(seed: int) -> None:
    code = usual(worked(seed), "A")
    found = search(worked(seed, code, 0.6, since=0.7)).found
    assert [(one.kind, one.what, one.code) for one in found] == [("change", "phase", code)]
    one = found[0]
    assert abs(one.since - BEGIN - 0.7 * YEAR) < 40 * 86_400
    assert one.early <= one.since <= one.late
    assert one.after / one.before == pytest.approx(0.6, abs=0.12)
    assert one.chance <= ALPHA


def test_a_book_that_is_wrong_is_one_signal() -> None:
    found = search(worked(1, "O3", 1.4)).found
    assert [(one.kind, one.what, one.code) for one in found] == [("level", "operation", "O3")]
    assert found[0].after / found[0].before == pytest.approx(1.4, abs=0.15)


def test_a_new_book_is_no_change_of_the_work() -> None:
    """Hours stay, the book says other ones from some day on: nothing happened."""
    records = worked(2)
    code, middle = usual(records, "A"), BEGIN + 0.6 * YEAR
    rewritten = [
        replace(one, book_h=2 * one.book_h) if one.phase == code and one.closed > middle else one
        for one in records
    ]
    assert not [one for one in search(rewritten).found if one.kind == "change"]


def test_the_order_of_records_says_nothing() -> None:
    records = worked(1, "O3", 1.4)
    mixed = list(records)
    Random(4).shuffle(mixed)
    assert search(mixed) == search(records)


def test_a_few_jobs_are_no_verdict() -> None:
    records = [one for one in worked(1, "O3", 3.0) if int(one.job) < 9]
    assert search(records).found == ()
    assert search([]).found == ()
