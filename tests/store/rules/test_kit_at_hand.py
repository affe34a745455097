"""Where a kit is for a job: examples, and an assignment of kits to jobs tried by brute force."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, date, datetime, timedelta
from itertools import permutations
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.rules.kit_at_hand import Hired, KitFacts, KitNeed, all_words, kit_for, stops, where_words

DAY = date(2026, 10, 14)
NOW = datetime(2026, 10, 14, 8, tzinfo=UTC)
ZONE = ZoneInfo("Europe/Amsterdam")
OWN = Hired("Loan", job="1", received=True)
ANY = replace(OWN, job=None)
YESTERDAY = DAY - timedelta(days=1)
KIT = KitFacts("LS", "locking set", owned=False)
OURS = replace(KIT, owned=True)


@pytest.mark.parametrize(
    ("kit", "words"),
    [
        (KIT, "not hired"),
        (replace(KIT, hires=(OWN,)), "here"),
        (replace(KIT, hires=(ANY,)), "here"),
        (replace(KIT, hires=(replace(OWN, job="2"),)), "hired for 2 alone"),
        (replace(KIT, hires=(ANY,), users=("2",)), "on 2"),
        (replace(KIT, hires=(ANY,), users=("1",)), "here"),
        (replace(KIT, hires=(ANY, replace(OWN, job="2")), users=("2",)), "here"),
        (replace(KIT, hires=(replace(OWN, received=False),)),
         "asked for at Loan, nobody said when"),
        (replace(KIT, hires=(replace(OWN, received=False, expected=NOW + timedelta(days=1)),)),
         "asked for at Loan, expected Thu"),
        (replace(KIT, hires=(replace(OWN, received=False, expected=NOW - timedelta(days=9)),)),
         "asked for at Loan, late, it was expected 5 Oct"),
        (replace(KIT, hires=(replace(OWN, complete=False, missing=("pin", "bar")),)),
         "here, not complete: pin, bar lacks"),
        (replace(KIT, hires=(replace(OWN, complete=False),)), "here, not complete"),
        (replace(KIT, hires=(replace(OWN, wrong=True, complete=False),)),
         "the wrong variant came from Loan"),
        (replace(KIT, hires=(replace(OWN, valid_until=YESTERDAY),)),
         "must not be used: its date ran out on 2026-10-13"),
        (replace(KIT, hires=(replace(OWN, valid_until=DAY),)), "here"),
        (OURS, "here"),
        (replace(OURS, users=("2",)), "on 2"),
        (replace(OURS, users=("2", "2")), "on 2"),
        (replace(OURS, valid_until=YESTERDAY), "must not be used: its date ran out on 2026-10-13"),
        (replace(OURS, valid_until=YESTERDAY, hires=(OWN,)), "here"),
        (replace(OURS, users=("2",), hires=(ANY,)), "here"),
    ],
)  # fmt: skip
def test_where_a_kit_is_in_words(kit: KitFacts, words: str) -> None:
    assert where_words(kit_for("1", kit, DAY), NOW, ZONE) == words


def test_who_keeps_no_hires_is_stopped_by_a_date_alone() -> None:
    for kit, kept, stopped in (
        (KIT, True, True), (KIT, False, False), (replace(OURS, users=("2",)), False, False),
        (replace(OURS, valid_until=YESTERDAY), False, True), (OURS, True, False),
    ):  # fmt: skip
        assert stops(kit_for("1", kit, DAY), kept=kept) == stopped


def test_several_are_said_in_one_sentence() -> None:
    needs = [KitNeed("press", "in use", "2"), KitNeed("bar", "nowhere")]
    assert all_words(needs, NOW, ZONE) == "press (on 2); bar (not hired)"


JOBS = ("1", "2", "3", "4")
hires = st.builds(
    Hired, supplier=st.just("Loan"), job=st.sampled_from([*JOBS, None]), received=st.booleans(),
    complete=st.booleans(), wrong=st.booleans(),
    valid_until=st.sampled_from([None, YESTERDAY, DAY]),
)  # fmt: skip
kits = st.builds(
    KitFacts, code=st.just("LS"), name=st.just("locking set"), owned=st.booleans(),
    valid_until=st.sampled_from([None, YESTERDAY, DAY]),
    hires=st.lists(hires, max_size=4).map(tuple),
    users=st.lists(st.sampled_from(JOBS), max_size=3, unique=True).map(tuple),
)  # fmt: skip


def served(kit: KitFacts, jobs: tuple[str, ...]) -> bool:
    """Whether each of these jobs can have a kit of its own: every way of dealing them is tried."""
    units = [one.job for one in kit.hires if one.good(DAY)]
    if kit.owned and (kit.valid_until is None or kit.valid_until >= DAY):
        units.append(None)
    return any(
        all(unit in (None, job) for unit, job in zip(dealt, jobs, strict=True))
        for dealt in permutations(units, len(jobs))
    )


@given(kits)
def test_it_is_here_where_there_is_one_beside_those_that_others_work_with(kit: KitFacts) -> None:
    others = tuple(one for one in kit.users if one != "1")
    if served(kit, others):  # what others work with is there
        assert (kit_for("1", kit, DAY).at == "here") == served(kit, ("1", *others))
