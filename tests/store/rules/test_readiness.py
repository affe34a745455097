"""One sign: ready, or what lacks. Each thing alone, all of them together, and a law."""

from __future__ import annotations

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.rules.kit_at_hand import KitAt, KitNeed
from store.rules.readiness import Facts, Lack, LackKind, PartNeed, Ready, lacking

ZONE = ZoneInfo("Europe/Amsterdam")
NOW = datetime(2026, 10, 14, 8, 40, tzinfo=UTC)
"""A Wednesday, 10:40 in the shop."""
THURSDAY = NOW + timedelta(days=1)
READY = Facts(
    agreed=True, check="pass", parts=(PartNeed("here"), PartNeed("fitted")),
    kits=(KitNeed("locking set", "here"),), needs=(frozenset({"refrigerant"}),),
    people=(frozenset({"refrigerant", "high voltage"}), frozenset[str]()),
)  # fmt: skip


def words(facts: Facts) -> list[str]:
    return [one.words for one in lacking(facts, NOW, ZONE)]


def test_a_job_to_which_nothing_lacks_is_ready() -> None:
    assert words(READY) == []
    assert Ready().ready
    assert Ready().says == "ready"


@pytest.mark.parametrize(
    ("facts", "found"),
    [
        (replace(READY, check="to do"), ("checked", "qualifying check")),
        (replace(READY, check="fail"), ("checked", "check failed")),
        (replace(READY, agreed=False), ("agreed", "not agreed")),
        (replace(READY, people=()), ("person", "a person")),
        (replace(READY, people=(frozenset[str](),)), ("person", "person: refrigerant")),
        (
            replace(READY, needs=(frozenset({"refrigerant", "airbag"}),)),
            ("person", "person: airbag, refrigerant"),
        ),
    ],
)
def test_a_check_a_word_or_a_person_lacks(facts: Facts, found: tuple[LackKind, str]) -> None:
    assert lacking(facts, NOW, ZONE) == (Lack(*found),)


@pytest.mark.parametrize("check", [None, "pass", "pass with conditions"])
def test_a_check_that_is_part_of_the_work_or_was_passed_does_not_lack(check: str | None) -> None:
    assert words(replace(READY, check=check)) == []


@pytest.mark.parametrize(
    ("parts", "found", "expected"),
    [
        ((PartNeed("wanted"),), "parts 1 of 1, not ordered", None),
        ((PartNeed("ordered"),), "parts 1 of 1, no date", None),
        ((PartNeed("ordered", THURSDAY), PartNeed("here")), "parts 1 of 2, Thu", THURSDAY),
        (
            (PartNeed("ordered", NOW + timedelta(hours=2)), PartNeed("not needed")),
            "parts 1 of 1, today", NOW + timedelta(hours=2),
        ),
        (
            (PartNeed("ordered", NOW + timedelta(days=9)), PartNeed("ordered", THURSDAY)),
            "parts 2 of 2, 23 Oct", NOW + timedelta(days=9),
        ),
        (
            (PartNeed("ordered", NOW), PartNeed("ordered", THURSDAY)),
            "parts 2 of 2, late", THURSDAY,
        ),
        ((PartNeed("wrong", THURSDAY), PartNeed("wanted")), "parts 2 of 2, wrong", None),
        ((PartNeed("returned", THURSDAY),), "parts 1 of 1, not ordered", None),
        ((PartNeed("ordered", THURSDAY), PartNeed("ordered")), "parts 2 of 2, no date", None),
    ],
)  # fmt: skip
def test_parts_are_counted_with_what_wants_somebody_most(
    parts: tuple[PartNeed, ...], found: str, expected: datetime | None
) -> None:
    assert lacking(replace(READY, parts=parts), NOW, ZONE) == (Lack("parts", found, expected),)


@pytest.mark.parametrize("state", ["here", "fitted", "not needed"])
def test_a_part_that_is_here_or_not_needed_does_not_lack(state: str) -> None:
    assert words(replace(READY, parts=(PartNeed(state),))) == []


@pytest.mark.parametrize(
    ("kit", "found"),
    [
        (KitNeed("press", "nowhere"), "kit: press"),
        (KitNeed("press", "in use", job="2417"), "kit: press, on 2417"),
        (KitNeed("press", "incomplete"), "kit: press, not complete"),
        (KitNeed("press", "asked"), "kit: press, no date"),
        (KitNeed("press", "asked", expected=NOW), "kit: press, late"),
    ],
)
def test_a_kit_is_here_or_dated_or_lacks(kit: KitNeed, found: str) -> None:
    assert words(replace(READY, kits=(kit,))) == [found]
    assert words(replace(READY, kits=(KitNeed("press", "asked", expected=THURSDAY),))) == []


def test_all_that_lacks_is_said_in_the_order_in_which_it_is_seen_to() -> None:
    nothing = Facts(
        agreed=False, check="to do", parts=(PartNeed("wanted"),), kits=(KitNeed("a", "nowhere"),)
    )
    found = Ready(lacking(nothing, NOW, ZONE))
    assert [one.kind for one in found.lacks] == ["checked", "agreed", "parts", "kit", "person"]
    assert found.says == (
        "lacks qualifying check; not agreed; parts 1 of 1, not ordered; kit: a; a person"
    )
    assert not found.ready


QUALIFICATIONS = ("airbag", "high voltage", "refrigerant")
here = st.builds(PartNeed, st.sampled_from(["here", "fitted", "not needed"]))
quals = st.frozensets(st.sampled_from(QUALIFICATIONS))


@st.composite
def ready_jobs(draw: st.DrawFn) -> Facts:
    """A job to which nothing lacks."""
    people = draw(st.lists(quals, min_size=1, max_size=4))
    held = draw(st.lists(st.sampled_from(people), max_size=3))
    needs = [frozenset(one for one in sorted(each) if draw(st.booleans())) for each in held]
    kits = [KitNeed(f"kit {n}", "here") for n in range(draw(st.integers(0, 3)))]
    return Facts(
        agreed=True, check=draw(st.sampled_from([None, "pass", "pass with conditions"])),
        parts=tuple(draw(st.lists(here, max_size=5))), kits=tuple(kits), needs=tuple(needs),
        people=tuple(people),
    )  # fmt: skip


LOST_KITS: tuple[KitAt, ...] = ("asked", "in use", "incomplete", "nowhere")
lost_parts = st.sampled_from(["wanted", "ordered", "wrong", "returned"])


@given(ready_jobs())
def test_a_ready_job_is_ready(facts: Facts) -> None:
    assert words(facts) == []


@given(ready_jobs(), st.sampled_from(["checked", "agreed", "parts", "kit", "person"]), st.data())
def test_a_ready_job_with_one_thing_taken_away_lacks_exactly_that(
    facts: Facts, kind: LackKind, data: st.DataObject
) -> None:
    if kind == "checked":
        facts = replace(facts, check=data.draw(st.sampled_from(["to do", "fail"])))
    elif kind == "agreed":
        facts = replace(facts, agreed=False)
    elif kind == "parts":
        facts = replace(facts, parts=(*facts.parts, PartNeed(data.draw(lost_parts))))
    elif kind == "kit":
        lost = data.draw(st.sampled_from(LOST_KITS))
        facts = replace(facts, kits=(*facts.kits, KitNeed("lost", lost, "9")))
    else:
        facts = replace(facts, needs=(*facts.needs, frozenset({"what nobody holds"})))
    assert [one.kind for one in lacking(facts, NOW, ZONE)] == [kind]


@given(ready_jobs(), st.lists(lost_parts, min_size=1, max_size=4))
def test_so_many_parts_lack_as_were_taken_away(facts: Facts, lost: list[str]) -> None:
    wanted = [one for one in facts.parts if one.state != "not needed"]
    parts = (*facts.parts, *(PartNeed(one) for one in lost))
    (lack,) = lacking(replace(facts, parts=parts), NOW, ZONE)
    assert lack.words.startswith(f"parts {len(lost)} of {len(wanted) + len(lost)}, ")
