"""Which job comes in next: the order of the line that waits, and who may change it."""

from __future__ import annotations

from typing import cast

import pytest

from store.actions import places
from store.actions.acting import Done
from store.actions.lining_up import put_in_line
from store.actions.trouble import MayNot, NoSuch
from store.actions.undo import taking_back as undo
from store.file.line_now import line_now
from store.file.verify import verify
from store.views.floor import floor
from store.views.ready import waiting_jobs
from store.views.waiting_line import waiting_line
from tests.store.actions.made import World


def put(
    w: World, job: str, before: str | None, *, by: str = "FOR", seen: list[str] | None = None
) -> Done:
    """Put a job elsewhere in the line."""
    return put_in_line(w.shop, w.by(by), job=job, before=before, seen=seen)


def line(w: World) -> list[str]:
    """The line as the actions see it."""
    with w.shop.reading() as db:
        return [one.job for one in line_now(db)]


@pytest.fixture(name="four")
def four_fixture(world: World) -> list[str]:
    """Four jobs that wait, at eight o'clock."""
    world.to(8)
    return [world.take("WP", None) for _ in range(4)]


def test_jobs_wait_in_the_order_of_coming_in_until_one_is_put_elsewhere(
    world: World, four: list[str]
) -> None:
    a, b, c, d = four
    assert line(world) == four
    assert put(world, d, b).says == f"{d} comes in before {b}. The line: {a}, {d}, {b}, {c}."
    assert put(world, a, None, by="OWN").says == f"{a} comes in last. The line: {d}, {b}, {c}, {a}."
    put(world, c, d)
    assert line(world) == [c, d, b, a]
    assert verify(world.shop.path).ok


def test_every_reader_of_the_line_has_the_same_order(world: World, four: list[str]) -> None:
    a, b, c, d = four
    put(world, c, a)
    wanted = [c, a, b, d]
    assert [one.number for one in floor(world.shop, world.now).waiting] == wanted
    assert [one.number for one in waiting_jobs(world.shop, world.now)] == wanted
    seen = waiting_line(world.shop, world.now)
    assert [one.number for one in seen.jobs] == wanted
    assert seen.moved is not None
    assert (seen.moved.job, seen.moved.before, seen.moved.by) == (c, a, "For")
    free = next(one for one in floor(world.shop, world.now).lanes if one.job is None)
    assert list(free.takes) == wanted, "the next for a lift"


def test_whoever_comes_later_waits_behind_all_and_who_left_keeps_no_place(
    world: World, four: list[str]
) -> None:
    a, b, c, d = four
    put(world, a, None)
    late = world.take("WP", None)
    assert line(world) == [b, c, d, a, late]
    places.move(world.shop, world.by("FOR"), job=b, place="1", lift=True)
    assert line(world) == [c, d, a, late]
    seen = waiting_line(world.shop, world.now)
    assert seen.moved is not None
    places.move(world.shop, world.by("FOR"), job=a, place="2", lift=True)
    assert waiting_line(world.shop, world.now).moved is None, "it waits no more"


def test_what_cannot_be_is_refused_in_one_line_and_leaves_no_trace(
    world: World, four: list[str]
) -> None:
    a, b, c, _ = four
    on = world.take("WP", "1")
    world.refused(lambda: put(world, on, a), f"{on} is on lift: it does not wait to come in")
    world.refused(lambda: put(world, a, on), "it does not wait")
    world.refused(lambda: put(world, a, a), "cannot come in before itself")
    world.refused(lambda: put(world, b, c), f"{b} comes in before {c} already: the line is")
    world.refused(lambda: put(world, four[3], None), "comes in last already")
    world.refused(lambda: put(world, a, None, by="T1"), "foreman or owner")
    before = world.tables()
    for job, other in (("999", a), (a, "999")):
        with pytest.raises(NoSuch):
            put(world, job, other)
    with pytest.raises(MayNot):
        put(world, a, None, by="APP")
    assert world.tables() == before
    assert line(world) == four


def test_a_second_foreman_is_told_that_the_first_was_there(world: World, four: list[str]) -> None:
    a, b, c, d = four
    put(world, c, a, by="OWN")
    said = world.refused(lambda: put(world, d, b, seen=four), f"put {c} before {a} in the line")
    assert "Look again" in said
    put(world, d, b, seen=[c, a, b, d])
    places.move(world.shop, world.by("FOR"), job=a, place="1", lift=True)
    put(world, c, None, seen=[c, a, d, b])
    assert line(world) == [d, b, c], "who came in meanwhile changes nothing of the order"


def test_an_order_is_taken_back_once_unless_it_was_put_anew(world: World, four: list[str]) -> None:
    a, b, c, d = four
    put(world, d, a)
    assert undo.undo(world.shop, world.by("FOR")).says == f"Taken back: {d} comes in before {a}."
    assert line(world) == four
    put(world, d, a)
    world.refused(lambda: put(world, d, a, seen=four), "put")
    put(world, d, c, by="OWN")
    world.refused(lambda: undo.undo(world.shop, world.by("FOR")), "decided anew since")
    assert line(world) == [a, b, d, c]
    assert verify(world.shop.path).ok


def test_between_two_neighbours_there_is_always_room(world: World, four: list[str]) -> None:
    """Sixty moves into the same gap halve it more often than a float can."""
    a, b, c, d = four
    put(world, d, b)
    for n in range(60):
        moved, other = (c, d) if n % 2 == 0 else (d, c)
        put(world, moved, b)
        assert line(world) == [a, other, moved, b]
    moves = cast("int", world.one("select count(*) from line_move"))
    assert moves > 61, "the places of others were laid anew on the way"
    undo.undo(world.shop, world.by("FOR"))
    assert verify(world.shop.path).ok
