"""Who does what next: whose list work stands on, in what order, and what speaks against it."""

from __future__ import annotations

from collections.abc import Callable
from datetime import date, datetime
from threading import Barrier, Thread

import pytest

from store.actions import clock, jobs, people, phases
from store.actions.acting import Done
from store.actions.assigning import WantsWord, assign, reorder, unassign
from store.actions.trouble import MayNot, NoSuch, NotEmployed, PinNeeded, UnknownBadge
from store.actions.undo import taking_back as undo
from store.file.shop import Shop
from store.file.verify import verify
from store.file.work_lists import lines_of
from store.trouble import Refused
from tests.store.actions.made import World


def give(
    w: World, badge: str, work: str, *, by: str = "FOR", front: bool = False, too: bool = False,
    all_the_same: bool = False,
) -> Done:  # fmt: skip
    """Give work, `1001` or `1001.2`, to somebody."""
    job, _, phase = work.partition(".")
    return assign(
        w.shop, w.by(by), job=job, phase=phase or None, badge=badge, at_front=front, too=too,
        all_the_same=all_the_same,
    )  # fmt: skip


def take_off(w: World, work: str, badge: str | None = None, *, by: str = "FOR") -> Done:
    """Take work off a list, or off all."""
    job, _, phase = work.partition(".")
    return unassign(w.shop, w.by(by), job=job, phase=phase or None, badge=badge)


def on_list(w: World, badge: str) -> list[str]:
    """A person's list."""
    with w.shop.reading() as db:
        person = db.execute("select person from person where badge = ?", [badge]).fetchone()[0]
        return [one.where for one in lines_of(db, person)]


@pytest.fixture(name="jobs_of")
def jobs_fixture(world: World) -> tuple[str, str]:
    """Two deep jobs on lifts 1 and 2, at eight o'clock."""
    world.to(8)
    return world.take(), world.take("WP", lift="2")


def test_work_goes_to_the_end_of_a_list_or_to_its_front(
    world: World, jobs_of: tuple[str, str]
) -> None:
    one, two = jobs_of
    says = give(world, "T1", f"{one}.2").says
    assert says == f"{one}.2 gearbox off is on T1's list, next."
    give(world, "T1", two)
    assert f"after {two}" in give(world, "T1", f"{one}.3").says
    assert on_list(world, "T1") == [f"{one}.2", two, f"{one}.3"]
    give(world, "T1", f"{two}.1", front=True)
    give(world, "T1", f"{one}.3", front=True)
    assert on_list(world, "T1") == [f"{one}.3", f"{two}.1", f"{one}.2", two]


def test_what_is_on_the_list_already_is_refused_with_who_gave_it(
    world: World, jobs_of: tuple[str, str]
) -> None:
    one, _ = jobs_of
    give(world, "T1", f"{one}.2")
    says = world.refused(lambda: give(world, "T1", f"{one}.2"), "on T1's list, given by For")
    assert "hoistbook next T1" in says
    world.refused(lambda: give(world, "T1", f"{one}.2", front=True), "already")


def test_whoever_had_it_has_it_no_more_unless_both_are_to(
    world: World, jobs_of: tuple[str, str]
) -> None:
    one, _ = jobs_of
    give(world, "T1", f"{one}.2")
    assert "instead of T1" in give(world, "T2", f"{one}.2").says
    assert (on_list(world, "T1"), on_list(world, "T2")) == ([], [f"{one}.2"])
    assert "with T2" in give(world, "T1", f"{one}.2", too=True).says
    assert (on_list(world, "T1"), on_list(world, "T2")) == ([f"{one}.2"], [f"{one}.2"])
    take_off(world, f"{one}.2", "T2")
    assert (on_list(world, "T1"), on_list(world, "T2")) == ([f"{one}.2"], [])
    give(world, "T2", f"{one}.2", too=True)
    take_off(world, f"{one}.2")
    assert (on_list(world, "T1"), on_list(world, "T2")) == ([], [])
    world.refused(lambda: take_off(world, f"{one}.2"), "on nobody's list")
    give(world, "T2", f"{one}.2")
    world.refused(lambda: take_off(world, f"{one}.2", "T1"), "on T2's list")


def test_nobody_unknown_or_gone_or_not_come_yet_is_given_work(
    world: World, jobs_of: tuple[str, str]
) -> None:
    one, _ = jobs_of
    world.refused(lambda: give(world, "T9", one), "Nobody here has the badge T9", kind=UnknownBadge)
    people.change_person(world.shop, world.by("OWN"), badge="T1", until_day=date(2026, 10, 9))
    world.refused(lambda: give(world, "T1", one), "not on the roll", kind=NotEmployed)
    people.add_person(
        world.shop, world.by("OWN"), badge="NEW", name="New", role="technician",
        from_day=date(2026, 11, 1),
    )  # fmt: skip
    world.refused(lambda: give(world, "NEW", one), "not on the roll", kind=NotEmployed)


def test_what_is_over_or_takes_no_hands_is_given_to_nobody(world: World) -> None:
    world.to(8)
    job = world.take()
    world.refused(lambda: give(world, "T1", "9999"), "no job 9999", kind=NoSuch)
    world.refused(lambda: give(world, "T1", f"{job}.77"), "no phase", kind=NoSuch)
    world.do("T1", job, "1")
    world.refused(lambda: give(world, "T1", f"{job}.1"), f"{job}.1 reception is finished")
    done = jobs.take_small(world.shop, world.by("T2"), text="a lamp", vehicle="car")
    small = done.job or ""
    world.do("T2", small, "1")
    world.refused(lambda: give(world, "T1", small), f"No phase of {small} is left")
    jobs.close(world.shop, world.by("FOR"), job=small)
    world.refused(lambda: give(world, "T1", small), "is closed")
    water = world.take("WP", lift="2")
    phases.skip(world.shop, world.by("FOR"), job=water, phase="3", reason="done before")
    world.refused(lambda: give(world, "T1", f"{water}.3"), "is not done in this job")
    standing = next(
        str(phase)
        for phase, kind in world.all("select phase, kind from phase where job = ?", water)
        if kind != "labour"
    )
    world.refused(lambda: give(world, "T1", f"{water}.{standing}"), "nobody works on it")


def test_an_apprentice_is_not_alone_where_a_hold_point_takes_a_skilled_name(
    world: World, jobs_of: tuple[str, str]
) -> None:
    one, _ = jobs_of
    give(world, "APP", f"{one}.1")
    world.refused(
        lambda: give(world, "APP", f"{one}.2"), "App is an apprentice", "takes a skilled colleague"
    )
    world.refused(lambda: give(world, "APP", one), "App is an apprentice")
    give(world, "T1", f"{one}.2")
    world.refused(lambda: give(world, "APP", f"{one}.2"), "App is an apprentice")
    give(world, "APP", f"{one}.2", too=True)
    world.refused(lambda: take_off(world, f"{one}.2", "T1"), "App is an apprentice")
    take_off(world, f"{one}.2")
    assert on_list(world, "APP") == [f"{one}.1"]


def test_a_phase_that_takes_a_qualification_is_refused_to_whoever_lacks_it(world: World) -> None:
    world.to(8)
    job, phase = needing(world)
    says = world.refused(
        lambda: give(world, "T1", f"{job}.{phase}"), "qualified for refrigerant", "Ask T2."
    )
    assert "T1 is not today" in says
    give(world, "T2", f"{job}.{phase}")
    give(world, "T1", f"{job}.{phase}", too=True)
    assert on_list(world, "T1") == [f"{job}.{phase}"]


def needing(world: World) -> tuple[str, str]:
    """A job with a phase that takes somebody qualified for refrigerant."""
    job = world.take()
    rows = world.all(
        "select phase, needs from phase join book_phase using (version, code) where job = ? "
        "and needs != '[]'",
        job,
    )
    return job, str(rows[0][0])


def test_a_whole_job_with_such_a_phase_takes_the_foremans_word(world: World) -> None:
    world.to(8)
    job, phase = needing(world)
    says = world.refused(lambda: give(world, "T1", job), "qualified for refrigerant",
                         "--all-the-same", kind=WantsWord)  # fmt: skip
    assert f"{job}.{phase}" in says
    done = give(world, "T1", job, all_the_same=True)
    assert "qualified for refrigerant" in done.says, "what was warned of is said all the same"
    assert on_list(world, "T1") == [job]


def away(w: World, badge: str, since: datetime, until: datetime) -> None:
    """On a course."""
    people.set_absence(w.shop, w.by("FOR"), badge=badge, since=since, until=until, why="course")


def test_somebody_away_when_it_is_likely_to_be_done_takes_the_foremans_word(
    world: World, jobs_of: tuple[str, str]
) -> None:
    one, two = jobs_of
    away(world, "T1", world.at(13), world.at(17, day=1))
    give(world, "T1", f"{one}.2")  # 2.4 h of this morning, and the other job 2.8 h
    says = world.refused(
        lambda: give(world, "T1", two), "T1 is away from Mon 12 Oct 13:00 to Tue 13 Oct 17:00",
        "(course)", kind=WantsWord,
    )  # fmt: skip
    assert f"when {two} is likely to be done" in says
    assert on_list(world, "T1") == [f"{one}.2"]
    give(world, "T1", two, all_the_same=True)
    away(world, "T2", world.at(7), world.at(17))
    world.refused(lambda: give(world, "T2", f"{two}.1"), "T2 is away", kind=WantsWord)


def test_a_day_off_long_before_or_after_is_nobodys_business(
    world: World, jobs_of: tuple[str, str]
) -> None:
    one, _ = jobs_of
    away(world, "T1", world.at(7, day=1), world.at(17, day=9))
    away(world, "T1", world.at(7, day=-5), world.at(17, day=-4))
    assert give(world, "T1", f"{one}.2").says.endswith("next.")


def test_two_lifts_at_one_hour_take_the_foremans_word(
    world: World, jobs_of: tuple[str, str]
) -> None:
    """Either phase is 2.4 h, and both jobs are promised for before noon."""
    one, two = jobs_of[0], world.take(lift="3")
    for job in (one, two):
        jobs.promise(world.shop, world.by("FOR"), job=job, at=world.at(11, 0))
    give(world, "T1", f"{one}.2")
    says = world.refused(
        lambda: give(world, "T1", f"{two}.2"),
        "T1 would be wanted on lift 1 and lift 3 at one hour", f"{two} is promised for Mon 12 Oct",
        kind=WantsWord,
    )  # fmt: skip
    assert f"{two}.2 would be done Mon 12 Oct 13:40" in says, says
    world.refused(
        lambda: give(world, "T1", f"{two}.2", front=True),
        "wanted on lift 3 and lift 1", f"{one}.2 would be done", kind=WantsWord,
    )  # fmt: skip
    give(world, "T2", f"{two}.2")
    give(world, "T1", f"{two}.2", all_the_same=True)


def test_what_the_clock_runs_on_comes_before_the_front(
    world: World, jobs_of: tuple[str, str]
) -> None:
    one, two = jobs_of
    jobs.promise(world.shop, world.by("FOR"), job=two, at=world.at(8, 45))
    give(world, "T2", f"{two}.1")
    world.on("T1", one, "1")
    world.refused(
        lambda: give(world, "T1", f"{two}.1", front=True), "lift 1 and lift 2", kind=WantsWord
    )
    world.off("T1")
    give(world, "T1", f"{two}.1", front=True)


def test_work_that_cannot_be_done_in_time_anyway_is_no_clash(
    world: World, jobs_of: tuple[str, str]
) -> None:
    one, two = jobs_of
    jobs.promise(world.shop, world.by("FOR"), job=two, at=world.at(8, 20))
    give(world, "T1", f"{one}.1")
    give(world, "T1", f"{two}.2")
    assert on_list(world, "T1") == [f"{one}.1", f"{two}.2"]


def test_a_technician_takes_on_what_is_nobodys_and_nothing_else(
    world: World, jobs_of: tuple[str, str]
) -> None:
    one, two = jobs_of
    world.shop.proven.clear()
    assign(world.shop, world.by("T1", pin=None), job=one, phase="2", badge="T1")
    assert on_list(world, "T1") == [f"{one}.2"]
    world.refused(lambda: give(world, "T2", f"{one}.2", by="T2"), "may not", kind=MayNot)
    world.refused(lambda: give(world, "T2", two, by="T1"), "may not", kind=MayNot)
    world.refused(lambda: give(world, "T1", f"{two}.1", by="T1", front=True), kind=MayNot)
    world.refused(
        lambda: assign(world.shop, world.by("FOR", pin=None), job=two, badge="T1"), kind=PinNeeded
    )
    take_off(world, f"{one}.2", "T1", by="T1")
    give(world, "T1", f"{one}.2")
    world.refused(lambda: take_off(world, f"{one}.2", "T1", by="T1"), "may not", kind=MayNot)


def test_a_list_is_put_in_order(world: World, jobs_of: tuple[str, str]) -> None:
    one, two = jobs_of
    for work in (f"{one}.1", f"{one}.2", two):
        give(world, "T1", work)
    done = reorder(world.shop, world.by("FOR"), badge="t1", works=[(two, None), (one, "2")])
    assert done.says == f"T1's list: {two}, {one}.2, {one}.1."
    assert on_list(world, "T1") == [two, f"{one}.2", f"{one}.1"]
    again = [(two, None)]
    world.refused(
        lambda: reorder(world.shop, world.by("FOR"), badge="T1", works=again), "in that order"
    )
    world.refused(
        lambda: reorder(world.shop, world.by("FOR"), badge="T1", works=[(one, "4")]),
        f"{one}.4 is not on T1's list",
    )
    world.refused(
        lambda: reorder(world.shop, world.by("FOR"), badge="T1", works=[(one, "1"), (one, "1")]),
        "twice",
    )
    world.refused(
        lambda: reorder(world.shop, world.by("T1"), badge="T1", works=[(one, "1")]), kind=MayNot
    )


def test_lines_end_by_themselves_and_are_there_again_when_it_is_opened_again(
    world: World, jobs_of: tuple[str, str]
) -> None:
    one, two = jobs_of
    for work in (f"{one}.1", f"{two}.3", two):
        give(world, "T1", work)
    world.do("T1", one, "1")
    phases.skip(world.shop, world.by("FOR"), job=two, phase="3", reason="done before")
    assert on_list(world, "T1") == [two]
    undo.undo(world.shop, world.by("FOR"))
    assert on_list(world, "T1") == [f"{two}.3", two]
    phases.reopen(world.shop, world.by("T1"), job=one, phase="1")
    assert on_list(world, "T1") == [f"{one}.1", f"{two}.3", two]
    assert verify(world.shop.path).ok


Act = Callable[[World, tuple[str, str]], object]
ACTS: dict[str, tuple[Act, Act]] = {
    "given": (lambda w, j: None, lambda w, j: give(w, "T1", f"{j[0]}.2")),
    "given instead": (
        lambda w, j: give(w, "T1", f"{j[0]}.2"), lambda w, j: give(w, "T2", f"{j[0]}.2"),
    ),
    "given too": (
        lambda w, j: give(w, "T1", f"{j[0]}.2"), lambda w, j: give(w, "T2", f"{j[0]}.2", too=True),
    ),
    "moved to the front": (
        lambda w, j: [give(w, "T1", work) for work in (f"{j[0]}.2", j[1])],
        lambda w, j: give(w, "T1", j[1], front=True),
    ),
    "taken away": (
        lambda w, j: [give(w, "T1", j[1]), give(w, "T2", j[1], too=True)],
        lambda w, j: take_off(w, j[1]),
    ),
    "put in order": (
        lambda w, j: [give(w, "T1", work) for work in (f"{j[0]}.1", f"{j[0]}.2", j[1])],
        lambda w, j: reorder(w.shop, w.by("FOR"), badge="T1", works=[(j[1], None)]),
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", ACTS)
def test_every_such_act_is_taken_back_whole(
    world: World, jobs_of: tuple[str, str], name: str
) -> None:
    before, act = ACTS[name]
    before(world, jobs_of)
    was = world.tables()["assignment"]
    act(world, jobs_of)
    assert world.tables()["assignment"] != was
    says = undo.undo(world.shop, world.by("FOR")).says
    assert says.startswith("Taken back: ")
    assert world.tables()["assignment"] == was
    assert verify(world.shop.path).ok


def test_what_was_decided_anew_since_stays(world: World, jobs_of: tuple[str, str]) -> None:
    one, two = jobs_of
    give(world, "T1", f"{one}.2")
    give(world, "T2", f"{one}.2", by="OWN")
    world.refused(lambda: undo.undo(world.shop, world.by("FOR")), "decided anew")
    take_off(world, f"{one}.2")
    give(world, "T2", f"{one}.2", by="OWN")
    world.refused(lambda: undo.undo(world.shop, world.by("FOR")), "decided anew")
    assert on_list(world, "T2") == [f"{one}.2"]
    assert on_list(world, "T1") == []
    assert two not in on_list(world, "T2")


def test_whoever_looked_before_somebody_else_decided_is_told(
    world: World, jobs_of: tuple[str, str]
) -> None:
    one, _ = jobs_of
    shop = world.shop

    def meant(badge: str, by: str, *seen: str) -> Done:
        return assign(shop, world.by(by), job=one, phase="2", badge=badge, seen=seen)

    meant("T1", "FOR")
    world.refused(lambda: meant("T2", "OWN"), "is on T1's list, given by For", "Look again")
    world.refused(lambda: meant("T1", "OWN"), "is on T1's list, given by For")
    meant("T2", "OWN", "T1")
    unassign(shop, world.by("OWN"), job=one, phase="2", seen=["T2"])
    world.refused(lambda: meant("T1", "FOR", "T2"), "taken off the list a moment ago")


def test_of_two_foremen_at_once_one_gives_it_and_the_other_is_told(
    world: World, jobs_of: tuple[str, str]
) -> None:
    one, _ = jobs_of
    ready, answers = Barrier(2), list[str]()

    def by_one(terminal: int, badge: str) -> None:
        shop = Shop(world.shop.path)
        by = world.by("FOR" if terminal else "OWN", minutes=0)
        ready.wait()
        try:
            answers.append(assign(shop, by, job=one, phase="2", badge=badge, seen=[]).says)
        except Refused as refused:
            answers.append(f"! {refused}")
        shop.close()

    threads = [Thread(target=by_one, args=(nth, f"T{nth + 1}")) for nth in (0, 1)]
    for each in threads:
        each.start()
    for each in threads:
        each.join()
    assert sorted(one.startswith("!") for one in answers) == [False, True], answers
    assert "Look again" in next(one for one in answers if one.startswith("!"))
    assert len(on_list(world, "T1") + on_list(world, "T2")) == 1
    assert verify(world.shop.path).ok


def test_a_running_clock_does_not_stand_in_the_way(world: World, jobs_of: tuple[str, str]) -> None:
    one, _ = jobs_of
    world.on("T1", one, "1")
    give(world, "T1", f"{one}.1")
    clock.clock_off(world.shop, world.by("T1"))
    assert on_list(world, "T1") == [f"{one}.1"]


def test_what_somebody_had_who_has_left_is_nobodys(world: World, jobs_of: tuple[str, str]) -> None:
    one, _ = jobs_of
    give(world, "T1", f"{one}.2")
    people.change_person(world.shop, world.by("OWN"), badge="T1", until_day=date(2026, 10, 12))
    world.to(8, 0, 1)
    world.refused(lambda: take_off(world, f"{one}.2"), "on nobody's list")
    done = assign(world.shop, world.by("T2", pin=None), job=one, phase="2", badge="T2", seen=[])
    assert done.says == f"{one}.2 gearbox off is on T2's list, next."
