"""A technician's day, from the first key to the last, at 80x24 and by keys alone.

One shop, one Tuesday. The hour is set by hand, so that every figure can be said to the second; the
process that is killed is a real one on a real line.
"""

from __future__ import annotations

import signal
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import datetime, timedelta
from pathlib import Path

import pytest

from store.actions import settings
from store.actions.hires import asked as hires
from store.edges.events.shop import WeekSpan
from store.file.shop import Shop
from store.file.verify import verify
from store.views.bay import bay
from store.views.day import day
from store.views.floor import floor
from store.views.job import job_card
from store.views.ledger import ledger
from store.views.tools.page import tools
from store.views.values import DayClock, JobCard, PhaseLine
from tests.end_to_end.pty_terminal import program
from tests.store.actions.made import WEEK, World, make
from tests.tui.cli.made import new_line
from tests.tui.driver import Terminal, terminal
from tui.now import machine_now

SECOND_H = 1 / 3600


@dataclass(slots=True)
class Walk:
    """Somebody before a terminal, and the shop behind it."""

    world: World
    at: Terminal

    def time(self, hour: int, minute: int = 0, second: int = 0) -> None:
        """It is that time on Tuesday."""
        self.at.hands.now = self.world.at(hour, minute, day=1) + timedelta(seconds=second)

    async def keys(self, *keys: str, within: int | None = None) -> str:
        """Press keys, no more than so many; return the screen as one line of words."""
        assert within is None or len(keys) <= within
        return " ".join((await self.at.keys(*keys)).split())

    async def over(self, where: str) -> str:
        """Over to a phase: two keys."""
        offered = await self.keys("2")
        return await self.keys(digit_of(offered, where))

    def card(self, job: str) -> JobCard:
        return job_card(self.world.shop, job, self.at.hands.now)

    def phase(self, job: str, number: str) -> PhaseLine:
        return next(one for one in self.card(job).phases if one.number == number)

    def clocks(self, badge: str = "T1") -> tuple[DayClock, ...]:
        """Of Tuesday."""
        now = self.at.hands.now
        return day(self.world.shop, badge, now.date(), now).clocks

    def kinds(self, since: int) -> list[str]:
        """Kinds of what was written since."""
        return [one.kind for one in ledger(self.world.shop, since_seq=since + 1)]


def digit_of(offered: str, where: str) -> str:
    """The key that stands before a phase in a list of choices."""
    words = offered.split()
    return next(
        words[n - 1]
        for n, word in enumerate(words)
        if word == where and len(words[n - 1]) == 1 and words[n - 1].isdigit()
    )


@pytest.fixture(name="world")
def world_fixture(tmp_path: Path) -> Iterator[World]:
    """Monday: T1 began 1001 at ten past two and went home; 1002 stands before its inspection."""
    world = make(tmp_path)
    settings.set_calendar(
        world.shop, world.by("OWN"),
        shifts=[WeekSpan(days=WEEK, start="07:30", end="16:30")],
        breaks=[WeekSpan(days=WEEK, start="10:00", end="10:15"),
                WeekSpan(days=WEEK, start="12:00", end="12:30")],
        from_day=world.now.date(),
    )  # fmt: skip
    for lift in "123":
        world.take(lift=lift)
    world.to(8)
    for number in ("1001", "1002", "1003"):
        _hired(world, number)
    world.do("T2", "1002", "1")
    world.sign("T2", "1002", "HL", readings={"gross": 2000.0})
    world.on("T2", "1002", "2")
    world.sign("T2", "1002", "LK", readings={"gap.a": 0.1, "gap.b": 0.12})
    world.sign("FOR", "1002", "LK")
    world.finish("T2", "1002", "2")
    world.to(14, 9)
    world.on("T1", "1001", "1")
    yield world
    world.shop.close()


def _hired(world: World, job: str) -> None:
    """Its link tool is here: in a shop that keeps its hires nothing is begun without one."""
    hires.ask(
        world.shop, world.by("FOR"), kit="link", supplier="Loan", job=job,
        due=world.now + timedelta(days=4),
    )  # fmt: skip
    hires.receive(world.shop, world.by("T1"), kit="link", job=job)


async def test_the_day(world: World) -> None:
    async with terminal(world.shop, world.at(7, 26, day=1), lift="1") as at:
        walk = Walk(world, at)
        await left_running(walk)
        await begins(walk)
        await behind_a_hold_point(walk)
        await measured_wrong(walk)
        await surprised(walk)
        await over_and_helped(walk)
        await signed_again(walk)
        await another_build(walk)
        await wrong_job(walk)
        await called_away(walk)
        await waits_for_parts(walk)
        await sweeps(walk)
        await confirms(walk)
        await goes_home(walk)
    assert verify(world.shop.path).ok


async def left_running(walk: Walk) -> None:
    """07:26: asked once, first thing."""
    text = " ".join((await walk.at.sign_in("T1")).split())
    assert "1001.1 reception, since Mon 14:10." in text
    assert "The shift ended Mon 16:30: 2.3 h count so far." in text
    assert "1 Mon 16:30 2.3 h shift's end 2 Mon 16:00 1.8 h 3 Mon 15:30 1.3 h" in text
    assert "Both times are kept" in text
    text = await walk.keys("4", "soon", "Enter")
    assert "soon is no time of day. Type one like 14:05 or 1405." in text
    await walk.keys(*["backspace"] * 4, "Esc")
    assert "LEFT RUNNING" in await walk.keys("1")
    text = await walk.keys("Enter", within=1)
    assert "NO CLOCK" in text
    assert "last on Mon 16:30" in text
    assert "When did you stop?" not in text
    labour = 2 + 20 / 60
    assert walk.phase("1001", "1").labour_h == pytest.approx(labour, abs=SECOND_H)
    shown = next(one for one in floor(walk.world.shop, walk.at.hands.now).lanes if one.lift == "1")
    assert shown.job
    assert shown.job.labour_h == pytest.approx(labour, abs=SECOND_H)
    last = bay(walk.world.shop, "T1", walk.at.hands.now, "1").last
    assert last
    assert last.labour_h == pytest.approx(labour, abs=SECOND_H)
    text = await walk.keys("Enter", within=1)
    assert "took 2.3 h, over the cautious 0.7 h. Why?" in text
    assert "interrupted" in text
    assert "took longer because interrupted often" in await walk.keys("5", within=1)


async def begins(walk: Walk) -> None:
    """07:28 and 07:30: what am I on, what is next, what is dangerous, what blocks me; one key."""
    walk.time(7, 28)
    text = " ".join((await walk.at.look_again()).split())
    assert "NO CLOCK 1001.2 gearbox off" in text
    assert "NOW ◊ 2.1 sign: Raised: pads at the points, locks resting" in text
    assert "◊ 2.3 sign: Engine locked, pins seated" in text
    walk.time(7, 30)
    text = await walk.keys("1", within=1)
    assert "CLOCK RUNS since 07:30" in text
    assert "open ! heavy unit out, out of balance" in text
    assert [(one.since, one.until) for one in walk.clocks()] == [(walk.world.at(7, 30, 1), None)]
    await walk.keys("3", "2000", "Enter", "3")


async def behind_a_hold_point(walk: Walk) -> None:
    """08:10: refused, and the sentence says all that one must know; no other key gets round it."""
    walk.time(8, 10)
    before = walk.world.events()
    await walk.keys("down", "3")
    sentence = (
        "1001.2.4 Covers marked and away waits for the hold point 1001.2.3 (Engine locked, pins "
        "seated), to be signed by a technician and a second person, measured: pin gap."
    )
    assert sentence in " ".join(walk.at.said.split())
    assert "NOW ▸ 2.4" in await walk.keys("x", "Esc")
    await walk.keys("7", "down", "Enter", "3", "Esc")
    assert "is not finished before the hold point 1001.2.3" in await walk.keys("Enter")
    assert walk.world.events() == before


async def measured_wrong(walk: Walk) -> None:
    """08:20: kept, held, and the finding has the reading in it already."""
    walk.time(8, 20)
    before = walk.world.events()
    text = await walk.keys("up", "3", "0.42", "Enter", "0.30", "Enter")
    assert "outside its limits, and the phase is held" in text
    assert "The reading is kept." in text
    assert walk.kinds(before) == ["step-signed", "clocked-off", "held"]
    reading = walk.phase("1001", "2").steps[2].signed[-1].readings
    assert reading == (("a", 0.42), ("b", 0.3))
    text = await walk.keys("1", "1")
    assert "what was found?" not in text
    assert "pin gap 0.42 mm at a: 0.05 to 0.30 mm allowed" in text.split("surprise")[1]


async def surprised(walk: Walk) -> None:
    """08:24: on the floor, a supplement waits, the finish moved, another phase may go on."""
    before = walk.card("1001")
    walk.time(8, 24)
    await walk.keys("Enter", "2", "Enter")
    after = walk.card("1001")
    asked = after.supplements
    assert [(one.hours, one.state) for one in asked] == [(2.0, "asked")]
    assert before.job.finish
    assert after.job.finish
    assert after.job.finish.middle > before.job.finish.middle
    text = await walk.keys("F3")
    assert "? ANSWER lift 1 1001 customer's word: pin gap 0.42 mm" in text
    assert "! 1001.2 gearbox off is held: the customer's word" in await walk.keys("F2", "1")
    assert "1 1001.3 inspect" in await walk.keys("2")
    await walk.keys("Esc")


async def over_and_helped(walk: Walk) -> None:
    """08:30 to 10:15: over in two keys to the second; a colleague helps; tea is no labour."""
    walk.time(8, 30, 11)
    text = await walk.over("1002.3")
    assert "CLOCK RUNS since 08:30" in text
    assert "1002.3 inspect" in text
    walk.time(9, 0, 7)
    assert "CLOCK RUNS since 09:00" in await walk.over("1003.1")
    one, two = walk.clocks()[-2:]
    assert one.until == two.since == walk.world.at(9, 0, 1) + timedelta(seconds=7)
    assert one.labour_h == pytest.approx((29 * 60 + 56) / 3600, abs=1e-6)
    walk.time(9, 15)
    await walk.at.sign_in("T2")
    text = await walk.over("1003.1")
    assert "1003.1 reception with T1 as helper" in text
    walk.time(9, 35)
    await walk.keys("1", within=1)
    assert [each.labour_h for each in walk.clocks("T2")] == [pytest.approx(1 / 3)]
    labour = (34 * 60 + 53) / 3600 + 1 / 3
    assert walk.phase("1003", "1").labour_h == pytest.approx(labour, abs=SECOND_H)
    await walk.at.sign_in("T1")
    walk.time(10, 30)
    await walk.keys("3")
    assert walk.clocks()[-1].labour_h == pytest.approx(1.5 - 0.25 - 7 / 3600, abs=1e-6)


async def signed_again(walk: Walk) -> None:
    """11:05: the same step once more is harmless, and says when it was signed."""
    walk.time(11, 5)
    before = walk.world.events()
    text = await walk.keys("7", "up", "up", "3")
    assert "was signed" in text
    assert "10:30" in text
    await walk.keys("Esc")
    assert walk.world.events() == before
    for minute in (30, 40):
        walk.time(11, minute)
        await walk.keys("1")


async def another_build(walk: Walk) -> None:
    """12:30: one answer changes the route, its hours and steps; what was done stays done."""
    walk.time(12, 30)
    await walk.over("1002.3")
    before = walk.card("1002")
    assert "shrunk on" in await walk.keys("3", "3")
    assert "link tool is not needed any more" in await walk.keys("2")
    assert _wants_back(walk) == ["1002"]
    after = walk.card("1002")
    names = [one.name for one in after.phases if one.state != "skipped"]
    assert "guides only" in names
    assert "chain set" not in names
    assert after.job.estimate.middle == pytest.approx(before.job.estimate.middle - 0.8)
    assert after.estimate_changes[-1].cause == "Which build? shrunk on"
    assert [one.state for one in after.phases[:2]] == ["finished", "finished"]
    assert after.job.labour_h == pytest.approx(before.job.labour_h)


def _wants_back(walk: Walk) -> list[str]:
    """Jobs whose link tool is to be sent back, as special tools show it."""
    kits = tools(walk.world.shop, walk.at.hands.now).kits
    link = next(one for one in kits if one.code == "link")
    return [
        one.job or "" for one in link.hires if one.job not in {job.job for job in link.needed_by}
    ]


async def wrong_job(walk: Walk) -> None:
    """12:55 to 13:10: the wrong job, put right in three keys; both truths kept."""
    walk.time(12, 55)
    await walk.over("1003.1")
    walk.time(13, 10)
    before = walk.world.events()
    seen = await walk.keys("-", "3", within=2)
    assert "12:55 to now was not 1003.1, but" in seen
    await walk.keys(digit_of(seen, "1001.3"), within=1)
    assert walk.kinds(before) == ["clock-corrected"]
    assert "clocked on 1003.1" in " ".join(one.says for one in ledger(walk.world.shop))
    assert "CLOCK RUNS since 12:55" in await walk.keys("Esc")
    assert walk.phase("1001", "3").labour_h == pytest.approx(0.25, abs=SECOND_H)
    own = 3.5 - 7 / 3600 - 0.25 - 10 / 60 - 0.5
    assert walk.phase("1003", "1").labour_h == pytest.approx(own + 1 / 3, abs=SECOND_H)


async def called_away(walk: Walk) -> None:
    """13:30 to 13:45: one key each way, and the quarter of an hour is not this job's."""
    walk.time(13, 30)
    text = await walk.keys(".", within=1)
    assert "AWAY since 13:30" in text
    assert "dot brings you back to 1001.3" in text
    walk.time(13, 45)
    assert "CLOCK RUNS since 13:45" in await walk.keys(".", within=1)
    labour = walk.phase("1001", "3").labour_h
    assert labour == pytest.approx(35 / 60, abs=SECOND_H)


async def waits_for_parts(walk: Walk) -> None:
    """15:50: held in two keys; when it is expected and whose move it is; no labour meanwhile."""
    walk.time(15, 50)
    await walk.keys("4", "1", within=2)
    labour = walk.phase("1001", "3").labour_h
    held = walk.phase("1001", "3").hold
    assert held
    assert held.reason == "parts"
    assert "1 Tue 16:30 2 Wed 07:30 3 Wed 16:30" in " ".join(walk.at.text.split())
    assert "Whose move is it?" in await walk.keys("4", "fri 10:00", "Enter")
    await walk.keys("1", within=1)
    held = walk.phase("1001", "3").hold
    assert held
    assert (held.until, held.next_move) == (walk.world.at(10, 0, 4), "supplier")
    walk.time(16)
    assert walk.phase("1001", "3").labour_h == labour


async def sweeps(walk: Walk) -> None:
    """16:00: time on no job, two keys."""
    text = await walk.keys("6", "1", within=2)
    assert "BAY WORK since 16:00" in text
    assert walk.clocks()[-1].reason == "tidying"


async def confirms(walk: Walk) -> None:
    """16:20: gaps with a proposal each; one key takes it, one confirms the day."""
    walk.time(16, 20)
    text = await walk.keys("-", within=1)
    assert "08:20 to 08:30 gap no job: say the reason" in text
    assert "11:30 to 11:40 gap went on with 1003.1" in text
    assert "15:50 to 16:00 gap no job: say the reason" in text
    text = await walk.keys("up", "3", "9", "2")
    assert "15:50 to 16:00 parts" in text
    await walk.keys(*["up"] * 6)
    text = await walk.keys("3", within=1)
    assert "11:30 to 11:40 gap" not in text
    assert "11:30 to 11:40 1003.1 reception" in text
    assert "Your clock on tidying still runs." in await walk.keys("Enter", within=1)
    assert "is confirmed" in await walk.keys("1", within=1)
    assert all(one.confirmed for one in walk.clocks())
    await walk.keys("Esc")


async def goes_home(walk: Walk) -> None:
    """16:30 and after: shown as left running, to everybody; counted to 16:30 only."""
    walk.time(16, 22)
    await walk.over("1003.1")
    walk.time(16, 30)
    at_end = walk.card("1003").job
    walk.time(16, 45)
    assert "LEFT RUNNING" in " ".join((await walk.at.look_again()).split())
    text = await walk.keys("Esc", "F3")
    assert "nobody signed in" in text
    assert "T1: left running on 1003.1" in text
    walk.time(21)
    later = walk.card("1003").job
    assert later.labour_h == at_end.labour_h
    assert later.remaining == at_end.remaining
    await walk.keys("Esc")
    assert "The shift ended Tue 16:30" in await walk.keys("T1", "Enter")


def running_since(path: Path) -> datetime:
    """When T1's clock began that runs now."""
    shop = Shop(path)
    try:
        clock = bay(shop, "T1", machine_now()).clock
    finally:
        shop.close()
    assert clock
    assert not clock.left_running
    return clock.since


def test_a_killed_process_loses_nothing(tmp_path: Path) -> None:
    """07:31: the clock has run since the key, what was signed is signed; half typed is nothing."""
    line = new_line(tmp_path)
    line.take()
    with program(line.path, "open", "--lift", "1") as at:
        at.wait("Scan your badge")
        at.keys("T1", "Enter")
        at.wait("NO CLOCK")
        before = line.events()
        at.keys("1", "3")
        at.wait("1.1 done")
        after = line.events()
        at.keys("4")
        at.wait("What lacks?")
        at.signal(signal.SIGKILL)
        assert at.ended() == -signal.SIGKILL
    assert line.events() == after > before
    began = running_since(line.path)
    with program(line.path, "open", "--as", "T1") as at:
        at.wait("CLOCK RUNS", "every step is done")
    assert running_since(line.path) == began
    assert line.run("verify").status == 0
