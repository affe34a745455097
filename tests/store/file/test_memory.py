"""What a transaction remembers of routes is what stands in the file, after every act."""

from __future__ import annotations

import sqlite3
from contextlib import suppress
from pathlib import Path

import pytest

from demo.making import make_demo
from store.actions import jobs_now
from store.edges.events.holds import Released, SupplementAnswered
from store.edges.events.jobs import Placed
from store.edges.events.kinds import KINDS
from store.edges.events.labour import ClockedOn
from store.edges.events.route import RouteChanged, StepRef
from store.file import memory, route_now


def test_what_is_remembered_is_what_stands_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """A month of the demo is lived through; every look is compared with the file."""
    looks = 0
    remembered = route_now._remembered  # pyright: ignore[reportPrivateUsage]

    def compared(db: sqlite3.Connection, kept: memory.Memory, job: str) -> memory.Steps:
        nonlocal looks
        looks += 1
        found = remembered(db, kept, job)
        in_file = route_now._steps(db, job)  # pyright: ignore[reportPrivateUsage]
        assert found.all == in_file
        assert found.gates == [one for one in in_file if one.kind != "step"]
        assert [found.find(one.phase, one.step) for one in in_file] == in_file
        for number, row in kept.jobs.items():
            there = db.execute(f"select {jobs_now.JOB} from job where job = ?", [number])
            assert row == tuple(there.fetchone())
        assert route_now.phases_of(db, job) == route_now._phases(db, job)  # pyright: ignore[reportPrivateUsage]
        return found

    monkeypatch.setattr(route_now, "_remembered", compared)
    make_demo(tmp_path / "demo.shop", months=1).close()
    assert looks > 1000


def test_every_kind_that_is_listed_exists() -> None:
    listed = memory.KNOWN | memory.NEITHER
    assert listed <= set(KINDS)


PERSON = "p-00000000"


def kept_for(*jobs: str) -> memory.Memory:
    return memory.Memory(
        dict.fromkeys(jobs, ()), dict.fromkeys(jobs, ()), {one: memory.Steps([]) for one in jobs}
    )


def test_an_unknown_kind_makes_everything_old() -> None:
    kept = kept_for("1001", "1002")
    kept.after(Released(hold=7), "something-new")
    assert (kept.phases, kept.steps) == ({}, {})


def test_a_clock_makes_the_one_phase_old_that_begins_with_it() -> None:
    kept = kept_for("1001", "1002")
    clocked = ClockedOn(person=PERSON, job="1001", phase="1", part="lead")
    kept.after(clocked, clocked.kind)
    assert kept.stale == {}
    begun = clocked.model_copy(update={"begins": True})
    kept.after(begun, begun.kind)
    assert kept.stale == {"1001": {"1"}}
    assert set(kept.phases) == set(kept.steps) == {"1001", "1002"}


def test_an_answer_of_the_customer_makes_all_phases_of_its_job_old() -> None:
    kept = kept_for("1001", "1002")
    answered = SupplementAnswered(job="1001", lines=[1], answer="approved")
    kept.after(answered, answered.kind)
    assert set(kept.phases) == {"1002"}
    assert set(kept.steps) == {"1001", "1002"}


def test_steps_that_apply_no_more_make_their_route_old() -> None:
    kept = kept_for("1001", "1002")
    changed = RouteChanged(job="1001", cause="x", options={}, steps_gone=[("1", "2")])
    kept.after(changed, changed.kind)
    assert set(kept.phases) == set(kept.steps) == {"1002"}


def test_a_place_makes_one_route_old_where_signatures_die() -> None:
    kept = kept_for("1001", "1002")
    placed = Placed(job="1002", part="body", place=None, state="off-lift")
    kept.after(placed, placed.kind)
    assert set(kept.phases) == {"1001", "1002"}
    placed = placed.model_copy(update={"voids": [StepRef(phase="1", step="1")]})
    kept.after(placed, placed.kind)
    assert set(kept.phases) == {"1001"}
    assert set(kept.steps) == {"1001"}


def test_nothing_is_remembered_outside_a_transaction(tmp_path: Path) -> None:
    shop = make_demo(tmp_path / "demo.shop", months=1)
    with shop.reading() as db:
        assert memory.memory_of(db) is None
    with suppress(ValueError), shop.bulk():
        with shop.reading() as db:
            assert memory.memory_of(db) is not None
        raise ValueError
    with shop.beside() as db:
        assert memory.memory_of(db) is not None
    shop.close()
