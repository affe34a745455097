"""Hours and money of a month by hand: its edges, the night on which clocks go back, an empty month,
one that still runs, and who may see whose hours."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from pathlib import Path

import pytest

from store.actions import clock, day_sheet, holding, people
from store.actions.hires import asked as hires
from store.actions.hires import back as hires_back
from store.actions.hires import here as hires_here
from store.file.books import book_on
from store.file.facts import calendar_of
from store.file.month.facts import facts
from store.sums.month.span import month_span
from store.views.day import day
from store.views.month.hours import held_of, hours_of
from store.views.month.lifts import lifts_of
from store.views.month.look import Look, Reader
from store.views.month.money import money_of
from store.views.month.odds import odds_of
from store.views.month.quotes import quotes_of
from store.views.month.spent_values import Held, Hours, Lifts, Money, OddsSeen, Quotes
from tests.store.actions.made import World, make
from tests.store.views.tools_shop import LOAN, Loans

OCTOBER, NOVEMBER = "2026-10", "2026-11"
RATE = 90.0


@dataclass
class Spent:
    """What a month came to."""

    hours: Hours
    held: Held
    money: Money
    lifts: Lifts
    quotes: Quotes
    odds: tuple[OddsSeen, ...]


def spent(world: World, month: str, *, reader: Reader = "owner", badge: str | None = None) -> Spent:
    """Look at a month now."""
    with world.shop.reading() as db:
        calendar = calendar_of(db)
        span = month_span(month, world.now, calendar.zone)
        look = Look(
            db, span, world.now, calendar, facts(db, span.until, world.now),
            book_on(db, span.last)[1], reader, badge,
        )  # fmt: skip
        return Spent(
            hours_of(look), held_of(look), money_of(look), lifts_of(look), quotes_of(look),
            odds_of(look),
        )  # fmt: skip


@pytest.fixture(name="world")
def world_fixture(tmp_path: Path) -> World:
    return make(tmp_path)


def to(world: World, month: int, on: int, hour: int, minute: int = 0) -> None:
    """Let the clock go on to a local time of the autumn of 2026."""
    world.now = datetime(2026, month, on, hour, minute, tzinfo=UTC) - timedelta(
        hours=2 if (month, on) < (10, 25) else 1
    )


def at(world: World, month: int, on: int, hour: int, minute: int = 0) -> None:
    """The next act takes place then: each takes a minute."""
    to(world, month, on, hour, minute)
    world.now -= timedelta(minutes=1)


def close(value: float | None) -> object:
    """To a millionth."""
    return pytest.approx(value, abs=1e-6)


def test_a_clock_over_midnight_of_the_months_end(world: World) -> None:
    """Saturday the 31st 22:00 to 2:00: two hours in each month, at 90; a day off has no break."""
    job = world.take()
    at(world, 10, 31, 22)
    world.on("T1", job, "1")
    at(world, 11, 1, 2)
    world.off("T1")
    to(world, 12, 1, 8)
    for month in (OCTOBER, NOVEMBER):
        found = spent(world, month)
        assert found.hours.on_jobs.value == close(2)
        assert found.money.labour_worked.value == close(2 * RATE)
        (way,) = found.hours.on_jobs.ways
        (leaf,) = way.ways[0].ways
        assert (way.job, leaf.badge, len(leaf.events)) == (job, "T1", 1)


def test_a_clock_over_the_night_on_which_clocks_go_back(world: World) -> None:
    """Sunday 25 October 0:30 to 4:30 by the wall clock: five hours."""
    job = world.take()
    world.now = datetime(2026, 10, 24, 22, 29, tzinfo=UTC)
    world.on("T1", job, "1")
    world.now = datetime(2026, 10, 25, 3, 29, tzinfo=UTC)
    world.off("T1")
    assert spent(world, OCTOBER).hours.on_jobs.value == close(5)


def test_a_break_is_cut_out_and_a_learner_is_no_labour(world: World) -> None:
    """Monday 8:00 to 14:00 less 45 minutes: 5.25 h of lead, the same as learner; 6 h indirect
    less the break."""
    job = world.take()
    at(world, 10, 13, 8)
    world.on("T1", job, "1")
    at(world, 10, 13, 8)
    clock.clock_on(world.shop, world.by("APP"), job=job, phase="1", part="learner")
    at(world, 10, 13, 8)
    clock.clock_indirect(world.shop, world.by("T2"), reason="tidying")
    for badge in ("T1", "APP", "T2"):
        at(world, 10, 13, 14)
        world.off(badge)
    found = spent(world, OCTOBER).hours
    assert found.on_jobs.value == close(5.25)
    assert found.learning.value == close(5.25)
    assert found.indirect.value == close(5.25)
    assert [way.says for way in found.indirect.ways] == ["tidying"]


def test_attended_by_the_calendar_less_absence_as_it_was_put_right(world: World) -> None:
    """Each month is its day sheets together; a working day has 8.25 h. T1 is away on one, T2's one
    was put right to 4 h."""
    shop = world.shop
    people.set_absence(
        shop, world.by("FOR"), badge="T1", since=datetime(2026, 10, 14, 22, tzinfo=UTC),
        until=datetime(2026, 10, 15, 22, tzinfo=UTC), why="ill",
    )  # fmt: skip
    to(world, 11, 2, 12)
    people.set_attendance(shop, world.by("FOR"), badge="T2", day=date(2026, 10, 16), hours=4)
    found = spent(world, OCTOBER).hours
    days = {one.badge: one for one in found.attended.ways}
    sheets = {
        badge: sum(
            day(shop, badge, date(2026, 10, n), world.now).attended_h
            for n in range(1, 32)
            if badge_here(world, badge, date(2026, 10, n))
        )
        for badge in ("T1", "T2", "APP")
    }
    assert {badge: one.value for badge, one in days.items()} == {
        badge: close(hours) for badge, hours in sheets.items()
    }
    full = sheets["APP"]
    assert sheets["T1"] == close(full - 8.25)
    assert sheets["T2"] == close(full - 4.25)
    (right,) = [one for one in days["T2"].ways if "put right" in one.says]
    assert (right.value, len(right.events)) == (4, 1)


def badge_here(world: World, badge: str, on: date) -> bool:
    """Whether somebody was employed that day."""
    since = world.one("select from_day from person where badge = ?", badge)
    return str(since) <= on.isoformat()


def test_a_foreman_attends_what_they_clock(world: World) -> None:
    """In the office nobody counts hours; an hour on a job is an hour attended."""
    job = world.take()
    at(world, 10, 13, 8)
    world.on("FOR", job, "1")
    at(world, 10, 13, 10)
    world.off("FOR")
    (own,) = [one for one in spent(world, OCTOBER).hours.attended.ways if one.badge == "FOR"]
    assert own.value == close(2)


def test_a_hold_over_two_months_is_held_once(world: World) -> None:
    """The job from Friday 30 October 10:00 to Monday 2 November 10:00; one of its phases besides
    from 11:00: 10:00 to 16:30 less the break, 5.75 h; 7:30 to 10:00, 2.5 h."""
    job = world.take()
    at(world, 10, 30, 10)
    holding.hold(world.shop, world.by("FOR"), job=job, phase=None, reason="parts")
    at(world, 10, 30, 11)
    holding.hold(world.shop, world.by("FOR"), job=job, phase="2", reason="person")
    at(world, 11, 2, 9)
    holding.release(world.shop, world.by("FOR"), job=job, phase="2")
    at(world, 11, 2, 10)
    holding.release(world.shop, world.by("FOR"), job=job)
    first, second = spent(world, OCTOBER), spent(world, NOVEMBER)
    assert [(name, one.value) for name, one in first.held.reasons] == [("parts", close(5.75))]
    assert [(name, one.value) for name, one in second.held.reasons] == [("parts", close(2.5))]
    (lift, *others) = second.lifts.lifts
    assert (lift.held_h, lift.dead_h, lift.worked_h) == (close(2.5), close(0), 0)
    assert all(one.empty_h == close(one.open_h) for one in others)


def test_a_lift_is_worked_dead_or_empty(world: World) -> None:
    """Monday the 12th: on the lift at 9:00, worked on 9:30 to 11:00, then nobody until 16:30."""
    at(world, 10, 12, 9)
    job = world.take()
    at(world, 10, 12, 9, 30)
    world.on("T1", job, "1")
    at(world, 10, 12, 11)
    world.off("T1")
    to(world, 10, 12, 18)
    lift = spent(world, OCTOBER).lifts.lifts[0]
    assert (lift.worked_h, lift.dead_h) == (close(1.5), close(0.5 + 1 + 3.75))
    assert lift.earned == close(1.5 * RATE)
    assert lift.worked_h + lift.dead_h + lift.empty_h == close(lift.open_h)
    assert lift.per_day == close(1.5 * RATE / lift.days)


def test_a_hire_over_two_months(world: World) -> None:
    """Thursday 29 October to Tuesday 3 November, six days: a week at 90 is cheaper than six at 24,
    carriage 24: 114, half of it in each month. Due on Monday, so a day late at 1.5 x 24. Nobody
    used it: idle two days in October, two in November, each 90/6."""
    loans = Loans(world)
    job = loans.job()
    at(world, 10, 29, 9)
    world.now -= timedelta(minutes=1)
    loans.ask(job, due=datetime(2026, 11, 2, 12, tzinfo=UTC))
    loans.receive("link", job)
    to(world, 10, 31, 12)
    assert spent(world, OCTOBER).money.deposits.value == close(100)
    at(world, 11, 3, 10)
    hires_back.send_back(world.shop, world.by("T1"), kit="link", job=job)
    to(world, 11, 4, 10)
    first, second = spent(world, OCTOBER).money, spent(world, NOVEMBER).money
    assert first.hire.value == close(57)
    assert second.hire.value == close(57 + 36)
    assert (first.late_fees.value, second.late_fees.value) == (0, close(36))
    assert (first.idle_days.value, second.idle_days.value) == (2, 2)
    assert (first.hire_idle.value, second.hire_idle.value) == (close(30), close(30))
    (way,) = second.hire.ways
    assert way.job == job
    assert LOAN in way.says
    assert len(way.events) == 3, "asked, received, sent back"


def test_a_month_that_still_runs(world: World) -> None:
    """A clock begun at 8:00 counts up to now, and nobody attended what has not come."""
    job = world.take()
    at(world, 10, 13, 8)
    world.on("T1", job, "1")
    to(world, 10, 13, 9, 30)
    found = spent(world, OCTOBER).hours
    assert found.on_jobs.value == close(1.5)
    mine = next(one for one in found.attended.ways if one.badge == "T1")
    assert mine.ways[-1].value == close(2), "7:30 to 9:30"
    assert found.left_running == ()
    to(world, 10, 14, 7)
    (left,) = spent(world, OCTOBER).hours.left_running
    assert (left.badge, left.job, left.stopped_at) == ("T1", job, None)
    assert spent(world, OCTOBER).hours.on_jobs.value == close(7.75), "to the shift's end"


def test_a_clock_left_running_and_put_right(world: World) -> None:
    """Seen the next morning; one who only worked longer and clocked off forgot nothing."""
    job = world.take()
    at(world, 10, 13, 8)
    world.on("T1", job, "1")
    at(world, 10, 13, 9)
    world.on("T2", job, "1")
    at(world, 10, 13, 17, 30)
    clock.clock_off(world.shop, world.by("T2", at=datetime(2026, 10, 13, 15, 29, tzinfo=UTC)))
    at(world, 10, 14, 8)
    running = world.one("select seq from clock where until is null")
    assert isinstance(running, int)
    day_sheet.correct_clock(
        world.shop, world.by("FOR"), clock=running, until=datetime(2026, 10, 13, 14, tzinfo=UTC)
    )
    (left,) = spent(world, OCTOBER).hours.left_running
    assert (left.badge, left.seq, left.stopped_at) == ("T1", running, world.now)


def test_an_empty_month(world: World) -> None:
    """Nothing was worked: hours attended, no ratio of nothing, no money, no verdict."""
    to(world, 12, 1, 8)
    found = spent(world, NOVEMBER)
    assert found.hours.on_jobs.value == 0
    assert found.hours.utilisation.value == 0
    assert found.hours.efficiency.value is None
    assert found.held.total.value == 0
    assert found.money.labour_sold.value == 0
    assert found.money.hire.value == 0
    assert found.money.not_charged == ()
    assert found.lifts.booked_ahead.value is None
    assert found.quotes.became_jobs is None
    assert found.quotes.says == "No quote was given."
    assert found.odds == ()


def test_whoever_is_no_owner_sees_nobody_elses_hours(world: World) -> None:
    """The shop's sums are the same; whose they are is not told, on any step down."""
    job = world.take()
    at(world, 10, 13, 8)
    world.on("T1", job, "1")
    at(world, 10, 13, 9)
    world.on("T2", job, "1")
    to(world, 10, 13, 12)
    whole, own = spent(world, OCTOBER), spent(world, OCTOBER, reader="technician", badge="T2")
    assert own.hours.attended.value == close(whole.hours.attended.value)
    assert own.hours.on_jobs.value == close(whole.hours.on_jobs.value)
    assert own.money.labour_worked.value == close(whole.money.labour_worked.value)
    assert [one.badge for one in own.hours.people] == ["T2"]
    told = repr((own.hours, own.money, own.lifts, own.held))
    assert "T2" in told
    assert "'T1'" not in told


def test_a_kit_of_unknown_price(world: World) -> None:
    """A kit asked for without known terms has no price, and says so: no nought is told."""
    job = world.take()
    hires.ask(world.shop, world.by("FOR"), kit="link", supplier="Other", job=job, why="tried")
    due = world.now + timedelta(days=2)
    hires_here.receive(world.shop, world.by("T1"), kit="link", job=job, due=due)
    found = spent(world, OCTOBER).money
    assert found.hire.value is None
    assert "1 of unknown price" in found.hire.explained
    assert "not known" in found.hire.ways[0].says
