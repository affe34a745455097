"""Work of another firm: sent, asked after, back; a result may change the route."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import date

import pytest

from store.actions import holding, outwork, phases
from store.actions.acting import Done
from store.actions.trouble import NoSuch
from store.actions.undo import taking_back as undo
from store.file.past_spans import own_spans
from store.file.verify import verify
from store.views.floor import floor
from store.views.job import job_card
from tests.store.actions.made import World
from tests.store.made_calls import load_away, take_away, to_firm

GOOD = {"left": 121.0, "right": 120.5}
SOUND = {"": "sound"}


@pytest.fixture
def job(world: World) -> Iterator[str]:
    """Its head is off and its work of another firm has begun by itself."""
    world.to(8)
    load_away(world)
    taken = take_away(world)
    to_firm(world, taken)
    yield taken
    assert verify(world.shop.path).ok


def send(w: World, job: str, firm: str = "Facing Works") -> Done:
    return outwork.send(
        w.shop, w.by("T2"), job=job, phase="3", what="head", firm=firm, price=210,
        promised=w.at(16, day=2), chase=date(2026, 10, 13),
    )  # fmt: skip


def chase(w: World, job: str, said: str = "tomorrow") -> Done:
    return outwork.chase(w.shop, w.by("T1"), job=job, phase="3", said=said, promised=w.at(9, day=3))


def back(w: World, job: str, **given: object) -> Done:
    return outwork.receive(w.shop, w.by("T2"), job=job, phase="3", **given)  # type: ignore[arg-type]


def row(w: World) -> tuple[object, ...]:
    return w.all(
        "select firm, promised, promised_now, chase, price, charged, said, back_at is not null "
        "from outwork order by seq desc"
    )[0]


def test_it_goes_away_and_what_the_firm_says_last_holds(world: World, job: str) -> None:
    send(world, job)
    assert row(world)[0] == "Facing Works"
    chase(world, job)
    _, promised, now, asked, *_ = row(world)
    assert (str(promised)[:10], str(now)[:10], asked) == ("2026-10-14", "2026-10-15", None)


def test_a_firm_is_written_as_it_was_first(world: World, job: str) -> None:
    send(world, job)
    undo.undo(world.shop, world.by("T2"))
    assert world.one("select count(*) from outwork") == 0
    send(world, job)
    back(world, job, readings=GOOD, answers=SOUND)
    other = take_away(world)
    to_firm(world, other)
    send(world, other, "facing  works")
    assert world.one("select count(distinct firm) from outwork") == 1


def test_the_report_is_signed_and_the_phase_finished(world: World, job: str) -> None:
    send(world, job)
    done = back(world, job, readings=GOOD | {"hardness": 90.0}, answers=SOUND, price=230)
    assert world.phase(job, "3").state == "finished"
    assert row(world)[5:] == (230.0, None, 1)
    assert "finished" in done.says
    assert world.one("select count(*) from signature where job = ? and phase = '3'", job) == 2
    assert '"hardness":90.0' in str(world.one("select readings from outwork"))


def test_a_result_may_change_the_route(world: World, job: str) -> None:
    send(world, job)
    before = {one[0] for one in world.all("select code from phase where job = ?", job)}
    assert "M4" not in before
    back(world, job, readings=GOOD, answers={"2": "cracked"})
    assert world.phase(job, "M4").state == "to come"


def test_what_lies_outside_its_limits_holds_the_phase_and_it_is_back(
    world: World, job: str
) -> None:
    send(world, job)
    done = back(world, job, readings={"left": 119.0, "right": 120.5})
    assert "held" in done.says
    assert row(world)[7] == 1
    assert world.phase(job, "3").state == "under way"
    assert world.one("select reason from hold where until is null") == "reading"


def test_what_the_report_does_not_say_keeps_the_phase_open(world: World, job: str) -> None:
    send(world, job)
    done = back(world, job, report="done")
    assert "not finished before" in done.says
    world.sign("T2", job, "FLAT", readings=GOOD)
    world.sign("T2", job, "HEAD", answer="sound")
    phases.finish(world.shop, world.by("T2"), job=job, phase="3")


def test_the_old_ways_to_end_such_a_phase_stay(world: World, job: str) -> None:
    world.sign("T2", job, "FLAT", readings=GOOD)
    world.sign("T2", job, "HEAD", answer="sound")
    send(world, job)
    phases.finish(world.shop, world.by("T2"), job=job, phase="3")
    world.refused(lambda: back(world, job), "Nothing of", "is away")


@pytest.mark.parametrize("act", ["send", "chase", "back"])
def test_each_is_taken_back_whole(world: World, job: str, act: str) -> None:
    if act != "send":
        send(world, job)
    if act == "back":
        chase(world, job)
    before = {name: rows for name, rows in world.tables().items() if name != "entry"}
    acts = {
        "send": lambda: send(world, job),
        "chase": lambda: outwork.chase(
            world.shop, world.by("T2"), job=job, phase="3", said="late", chase=date(2026, 10, 20)
        ),
        "back": lambda: back(
            world, job, readings=GOOD, answers={"": "cracked"}, price=3, report="seen"
        ),
    }
    assert acts[act]().can_undo
    undo.undo(world.shop, world.by("T2"))
    after = world.tables()
    for name in ("outwork", "phase", "step", "condition", "hold", "job"):
        assert after[name] == before[name], name


def test_sending_begins_a_phase_that_had_not(world: World, job: str) -> None:
    other = take_away(world)
    send(world, other)
    assert world.phase(other, "3").state == "under way"
    undo.undo(world.shop, world.by("T2"))
    assert world.phase(other, "3").state == "to come"


def test_refusals_leave_no_trace(world: World, job: str) -> None:
    ask = {"job": job, "phase": "3", "what": "head", "firm": "F"}

    def refuse(*words: str, phase: str = "3", **more: object) -> None:
        given = {**ask, "phase": phase, **more}
        world.refused(lambda: outwork.send(world.shop, world.by("T2"), **given), *words)  # type: ignore[arg-type]

    refuse("is no work of another firm", f"{job}.3", phase="1")
    refuse("has been", promised=world.at(7))
    refuse("years ahead", promised=world.at(7, day=3000))
    refuse("day to ask has been", chase=date(2026, 10, 11))
    refuse("Say what is sent", firm="  ")
    world.refused(
        lambda: outwork.send(world.shop, world.by("T2"), **{**ask, "phase": "9"}),  # type: ignore[arg-type]
        kind=NoSuch,
    )
    world.refused(lambda: chase(world, job), "Nothing of", "is away")
    holding.hold(world.shop, world.by("T2"), job=job, phase="3", reason="other")
    refuse("is held")
    holding.release(world.shop, world.by("T2"), job=job, phase="3")
    send(world, job)
    refuse("is at Facing Works already")
    world.refused(lambda: chase(world, job, " "), "Say what Facing Works answered")
    world.refused(lambda: back(world, job, answers={"7": "sound"}), "Say which decision")
    world.refused(lambda: back(world, job, readings=GOOD, answers={"2": "gone"}), "no answer gone")


def test_what_is_taken_back_too_late_stays(world: World, job: str) -> None:
    send(world, job)
    chase(world, job)
    world.refused(lambda: undo.undo(world.shop, world.by("T2")), "asked since")
    back(world, job)
    world.refused(lambda: undo.undo(world.shop, world.by("T1")), "come back since")


def test_the_firm_and_its_promise_go_into_the_past(world: World, job: str) -> None:
    send(world, job)
    with world.shop.reading() as db:
        before = next(one for one in own_spans(db, [job]) if one.kind == "outwork")
    chase(world, job)
    with world.shop.reading() as db:
        after = next(one for one in own_spans(db, [job]) if one.kind == "outwork")
    assert (before.reason, before.ended) == ("Facing Works", None)
    assert before.expected == world.at(16, day=2).timestamp()
    assert after.expected == world.at(9, day=3).timestamp()
    back(world, job, readings=GOOD, answers=SOUND)
    with world.shop.reading() as db:
        over = next(one for one in own_spans(db, [job]) if one.kind == "outwork")
    assert over.ended is not None
    assert over.expected == before.expected


def test_what_the_firm_promises_moves_the_end(world: World, job: str) -> None:
    before = job_card(world.shop, job, world.now).job.finish
    send(world, job)
    early = job_card(world.shop, job, world.now).job.finish
    outwork.chase(
        world.shop, world.by("T1"), job=job, phase="3", said="later", promised=world.at(16, day=8)
    )
    late = job_card(world.shop, job, world.now).job.finish
    assert before is not None
    assert early is not None
    assert late is not None
    assert early.middle < before.middle < late.middle
    wants = [one.says for one in floor(world.shop, world.at(17, day=8)).wants if one.word == "DUE"]
    assert wants == [f"{job}.3 ask Facing Works: head, was promised Tue 20 Oct 16:00"]
    assert not [one for one in floor(world.shop, world.now).wants if one.word == "DUE"]


def test_a_firm_is_to_be_asked_on_its_day(world: World, job: str) -> None:
    send(world, job)
    day = world.at(9, day=1)
    assert [one.says for one in floor(world.shop, day).wants if one.word == "DUE"] == [
        f"{job}.3 ask Facing Works: head, promised Wed 14 Oct 16:00"
    ]
