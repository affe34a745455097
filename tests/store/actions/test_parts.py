"""Parts of a job: listed, moved on, taken along by the route; each rule as a sentence."""

from __future__ import annotations

from datetime import datetime

import pytest

from store.actions import holding, parts, phases
from store.actions.trouble import NoSuch
from store.actions.undo import taking_back as undo
from store.file.verify import verify
from store.rules.part_states import PartState
from tests.store.actions.made import World


def lines(world: World, job: str) -> list[tuple[object, ...]]:
    """Line, text, phase and state of each."""
    return world.all("select line, text, phase, state from part where job = ? order by line", job)


def move(world: World, job: str, line: int, state: PartState, **more: str | float) -> str:
    done = parts.move_parts(
        world.shop, world.by("T1"), job=job, lines=[line], state=state, **more  # type: ignore[arg-type]  # texts and a price
    )  # fmt: skip
    return done.says


def ordered(world: World, job: str, line: int, expected: datetime | None = None) -> str:
    return parts.move_parts(
        world.shop, world.by("T1"), job=job, lines=[line], state="ordered", expected=expected
    ).says


def test_what_is_always_renewed_is_listed_when_a_job_is_taken(world: World) -> None:
    job = world.take(lift=None)
    assert lines(world, job) == [
        (1, "chain", "4", "wanted"), (2, "rear main seal", "8", "wanted"),
    ]  # fmt: skip
    assert world.all("select renewed from part") == [(1,), (1,)]
    assert lines(world, world.take("WP", lift=None)) == []


def test_parts_are_listed_by_anybody_for_a_phase_or_the_job(world: World) -> None:
    job = world.take(lift=None)
    done = parts.list_parts(
        world.shop, world.by("APP", pin=None), job=job, texts=[" stud ", "nut", "stud"], phase="2"
    )
    assert done.says == f"{job}.2 needs: 3 stud, 4 nut."
    parts.list_parts(world.shop, world.by("T1"), job=job, texts=["stud"])
    assert lines(world, job)[2:] == [
        (3, "stud", "2", "wanted"), (4, "nut", "2", "wanted"), (5, "stud", None, "wanted"),
    ]  # fmt: skip
    assert verify(world.shop.path).ok


def test_a_list_of_nothing_of_what_is_there_or_for_no_phase_is_refused(world: World) -> None:
    job = world.take(lift="1")

    def listing(*texts: str, phase: str | None = None, at: str = job) -> object:
        return parts.list_parts(world.shop, world.by("T1"), job=at, texts=texts, phase=phase)

    world.refused(lambda: listing(" "), "Say which part")
    world.refused(lambda: listing("Rear Main Seal", phase="8"), "line 2, wanted")
    world.refused(lambda: listing("x", phase="77"), "There is no phase", kind=NoSuch)
    world.refused(lambda: listing("x", at="77"), "There is no job 77", kind=NoSuch)
    world.refused(lambda: listing("x", "a\nb"), "one line")
    world.do("T1", job, "1")
    world.refused(lambda: listing("x", phase="1"), "is finished")


def test_a_part_is_ordered_comes_and_is_fitted(world: World) -> None:
    job = world.take(lift=None)
    says = ordered(world, job, 1, world.at(16, day=2))
    assert says == f"{job} ordered: 1 chain, expected Wed 14 Oct."
    move(world, job, 1, "here", supplier="Factor")
    assert move(world, job, 1, "fitted", batch="L 4711") == f"{job} fitted: 1 chain."
    assert world.all("select state, supplier, batch, expected from part where line = 1") == [
        ("fitted", "Factor", "L 4711", "2026-10-14T14:00:00.000000+00:00")
    ]


def test_what_is_ordered_without_a_day_is_said_and_told_anew_later(world: World) -> None:
    job = world.take(lift=None)
    assert "Nobody has said when they come" in ordered(world, job, 1)
    ordered(world, job, 1, world.at(16, day=2))
    assert "Nobody has said" in ordered(world, job, 2)
    move(world, job, 1, "ordered", supplier="Factor")
    assert world.one("select expected from part where line = 1") is None, "said anew without a day"


def test_what_was_never_here_is_neither_fitted_nor_returned(world: World) -> None:
    job = world.take(lift=None)
    world.refused(lambda: move(world, job, 1, "fitted"), "line 1, chain", "was never here")
    ordered(world, job, 1)
    world.refused(lambda: move(world, job, 1, "returned"), "was never here")
    move(world, job, 1, "wrong", note="for the other side")
    world.refused(lambda: move(world, job, 1, "fitted"), "Send it back")
    move(world, job, 1, "returned")
    ordered(world, job, 1)
    move(world, job, 1, "here")
    move(world, job, 1, "fitted")
    world.refused(lambda: move(world, job, 1, "fitted"), "that is fitted already")
    move(world, job, 1, "fitted", batch="7")


def test_bad_input_is_one_line_and_nothing_is_written(world: World) -> None:
    job = world.take(lift=None)

    def moving(*which: int, **more: object) -> object:
        return parts.move_parts(
            world.shop, world.by("T1"), job=job, lines=which, state="ordered", **more  # type: ignore[arg-type]  # what is tried
        )  # fmt: skip

    world.refused(lambda: moving(9), "no part line 9. It has 1 to 2.")
    world.refused(moving, "Say which lines")
    world.refused(lambda: moving(1, expected=world.now), "in the past")
    world.refused(lambda: moving(1, expected=world.at(8, day=900)), "years ahead")
    world.refused(lambda: moving(1, price=-1), "0 or more")
    world.refused(lambda: moving(1, price=float("nan")), "0 or more")
    empty = world.take("WP", lift=None)
    world.refused(lambda: move(world, empty, 1, "here"), "has no parts listed")


def test_several_lines_go_at_once_or_none_of_them(world: World) -> None:
    job = world.take(lift=None)
    move(world, job, 1, "here")
    both = [1, 2]
    world.refused(
        lambda: parts.move_parts(world.shop, world.by("T1"), job=job, lines=both, state="fitted"),
        "line 2, rear main seal, was never here",
    )
    assert [row[3] for row in lines(world, job)] == ["here", "wanted"]


def test_a_wrong_part_for_the_phase_under_way_says_how_to_hold_it(world: World) -> None:
    job = world.take(lift="1")
    parts.list_parts(world.shop, world.by("T1"), job=job, texts=["cover"], phase="1")
    move(world, job, 3, "here")
    world.on("T1", job, "1")
    assert f"hoistbook hold {job}.1 --reason parts" in move(world, job, 3, "wrong")
    holding.hold(world.shop, world.by("T1"), job=job, phase="1", reason="parts")


def test_a_part_moved_on_by_somebody_else_is_not_taken_back(world: World) -> None:
    job = world.take(lift=None)
    parts.list_parts(world.shop, world.by("T2"), job=job, texts=["stud"])
    move(world, job, 3, "here")
    world.refused(lambda: undo.undo(world.shop, world.by("T2")), "line 3 was moved on since")
    undo.undo(world.shop, world.by("T1"))
    undo.undo(world.shop, world.by("T2"))
    assert len(lines(world, job)) == 2


# -- the route takes its parts along


def decided(world: World, *, chain: PartState | None = None) -> str:
    """A job whose inspection asks which build it is; the chain is where it is by then."""
    world.to(8)
    job = world.take()
    world.do("T2", job, "1")
    world.on("T2", job, "2")
    world.sign("T2", job, "HL", readings={"gross": 2000})
    for code in ("GB-off:1",):
        world.sign("T2", job, code)
    world.sign("T2", job, "LK", readings={"a": 0.1, "b": 0.12})
    world.sign("T1", job, "LK")
    world.sign("T2", job, "GB-off:3")
    world.finish("T2", job, "2")
    world.on("T2", job, "3")
    world.sign("T2", job, "B1:1")
    if chain is not None:
        move(world, job, 1, chain)
    return job


def test_a_phase_that_falls_away_needs_its_parts_no_more_and_a_new_one_lists_its_own(
    world: World,
) -> None:
    job = decided(world)
    says = world.sign("T2", job, "BU", answer="B").says
    assert "Parts not needed any more: chain." in says
    assert "To renew: guides." in says
    assert lines(world, job) == [
        (1, "chain", "4", "not needed"), (2, "rear main seal", "8", "wanted"),
        (3, "guides", "4b", "wanted"),
    ]  # fmt: skip
    undo.undo(world.shop, world.by("T2"))
    assert lines(world, job) == [
        (1, "chain", "4", "wanted"), (2, "rear main seal", "8", "wanted"),
    ]  # fmt: skip
    assert verify(world.shop.path).ok


@pytest.mark.parametrize("state", ["ordered", "here"])
def test_what_was_bought_for_a_phase_that_falls_away_is_said_and_stays(
    world: World, state: PartState
) -> None:
    job = decided(world, chain=state)
    says = world.sign("T2", job, "BU", answer="B").says
    assert f"Not needed, but bought: 1 chain ({state})." in says
    assert lines(world, job)[0] == (1, "chain", "4", state)


def test_an_end_of_the_route_needs_nothing_of_what_falls_away(world: World) -> None:
    job = decided(world)
    says = world.sign("T2", job, "BU", answer="end").says
    assert "Parts not needed any more: chain." in says
    assert [row[3] for row in lines(world, job)] == ["not needed", "wanted"]


def test_parts_of_a_phase_that_somebody_leaves_out_lack_no_more(world: World) -> None:
    job = world.take(lift=None)
    parts.list_parts(world.shop, world.by("T1"), job=job, texts=["filler"], phase="7")
    phases.skip(world.shop, world.by("FOR"), job=job, phase="7", reason="dry")
    assert lines(world, job)[2][3] == "wanted"
