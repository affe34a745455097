"""What is to be remembered of a job."""

from __future__ import annotations

import pytest

from store.actions import jobs, notes
from store.actions.trouble import NoSuch
from store.actions.undo import taking_back as undo
from store.trouble import Refused
from store.views.job import job_card
from tests.store.actions.made import World


def small_closed(world: World) -> str:
    world.to(8)
    done = jobs.take_small(world.shop, world.by("T2"), text="Bulb", vehicle="blue estate")
    job = done.job or ""
    world.do("T2", job, "1")
    jobs.close(world.shop, world.by("FOR"), job=job)
    return job


def test_anybody_notes_what_is_to_be_remembered_and_may_take_it_back(world: World) -> None:
    world.to(8)
    job = world.take()
    notes.note(world.shop, world.by("APP"), job=job, text="wants the old parts back")
    done = notes.note(world.shop, world.by("APP"), job=job, text="of another job")
    assert done.can_undo
    undo.undo(world.shop, world.by("APP"))
    told = [(one.text, one.who) for one in job_card(world.shop, job, world.now).notes]
    assert told == [
        ("wants the old parts back", world.one("select name from person where badge = 'APP'"))
    ]


def test_a_closed_job_takes_notes_and_gives_them_back(world: World) -> None:
    job = small_closed(world)
    notes.note(world.shop, world.by("T2"), job=job, text="rang: the other bulb, too")
    undo.undo(world.shop, world.by("T2"))
    assert job_card(world.shop, job, world.now).notes == ()
    notes.note(world.shop, world.by("T2"), job=job, text="rang: the noise is gone")
    assert [one.text for one in job_card(world.shop, job, world.now).notes] == [
        "rang: the noise is gone"
    ]


@pytest.mark.parametrize("text", ["", "   ", "two\nlines"])
def test_a_note_that_says_nothing_or_is_no_line_leaves_no_trace(world: World, text: str) -> None:
    world.to(8)
    job = world.take()
    before = world.events()
    with pytest.raises(Refused):
        notes.note(world.shop, world.by("T1"), job=job, text=text)
    assert world.events() == before


def test_there_is_no_note_on_a_job_that_is_not_there(world: World) -> None:
    before = world.events()
    with pytest.raises(NoSuch):
        notes.note(world.shop, world.by("T1"), job="9999", text="lost")
    assert world.events() == before
