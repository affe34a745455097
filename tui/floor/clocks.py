"""Clocks put right from the floor: one that was left running, or somebody sent over."""

from __future__ import annotations

from datetime import datetime

from store.trouble import Refused
from store.views.values import Floor, Job, PersonNow, Stop
from tui import deeds
from tui.floor.acts import KEYS, all_jobs, which_job
from tui.keys import filled
from tui.parts.choosing import Page, Row, choose
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.prompt import Option
from tui.parts.typed_search import matching
from tui.parts.when import maybe, stopped_at
from tui.words import day_time, elapsed, evened, hours, local, time

OTHER_TIME, OTHER_JOB = "4", "0"
LIVE = ("to come", "under way")


async def put_right(screen: Painted[Floor], view: Floor, here: Job | None) -> None:
    """Say when a clock stopped that was left running, and why one knows.

    Raises:
        Back: left with Esc.
        Refused: none was left running.
    """
    left = [one for one in view.people if one.left_running]
    if not left:
        raise Refused(
            "No clock was left running. "
            + filled("{floor.send} sends somebody over to another phase.")
        )
    own = [one for one in left if here is not None and one.job == here.number] or left
    person = own[0] if len(own) == 1 else await _which(screen, view, left, "whose clock?")
    await somebody(screen)
    assert person.clock is not None
    until = await _until(screen, view, person)
    why = await screen.talk.type(
        f"{person.name}'s clock on {_where(person)} stopped {_when(view, until)}",
        "because (Enter: not said)", maybe,
    )  # fmt: skip
    await screen.act(deeds.end_clock(person.clock, until, why))


async def _until(screen: Painted[Floor], view: Floor, person: PersonNow) -> datetime:
    since = person.since
    assert since is not None
    options = [
        Option(key, _stop_words(view, stop, is_end=key == "1"), hot=key == "1")
        for key, stop in zip(KEYS, person.stops, strict=False)
    ]
    options.append(Option(OTHER_TIME, "another time ..."))
    title = f"{person.name}'s clock on {_where(person)} runs since {_when(view, since)}"
    chosen = await screen.talk.pick(
        title, options, facts=("When did it stop? Both times are kept: this one and now's.",)
    )
    if chosen != OTHER_TIME:
        return person.stops[KEYS.index(chosen)].at
    zone = view.calendar.zone
    return await screen.talk.type(
        title, "stopped at", lambda text: stopped_at(text, since, view.at, zone),
        facts=("A time like 15:20.",),
    )  # fmt: skip


def _stop_words(view: Floor, stop: Stop, *, is_end: bool) -> str:
    ended = ", the shift ended" if is_end else ""
    return f"{time(stop.at, view.calendar.zone)}{ended}: {hours(stop.labour_h)}"


def _when(view: Floor, at: datetime) -> str:
    zone = view.calendar.zone
    today = local(at, zone).date() == local(view.at, zone).date()
    return time(at, zone) if today else day_time(at, zone, view.at)


def _where(person: PersonNow) -> str:
    return f"{person.job}.{person.phase}" if person.job else person.reason or "no job"


async def send_over(screen: Painted[Floor], view: Floor, here: Job | None) -> None:
    """Have somebody's clock go over to another phase, at one instant.

    Raises:
        Back: left with Esc.
        Refused: nobody is here, or the clock was left running.
    """
    person = await _which(screen, view, list(view.people), "who goes over to another phase?")
    if person.left_running:
        raise Refused(
            f"{person.name}'s clock was left running. " + filled("{floor.fix} puts it right first.")
        )
    await somebody(screen)
    job, phase = await _phase(screen, view, person, here)
    await screen.act(deeds.send_over(person.badge, job, phase))


async def _which(
    screen: Painted[Floor], view: Floor, people: list[PersonNow], title: str
) -> PersonNow:
    if not people:
        raise Refused("Nobody is here yet.")
    if len(people) > len(KEYS):
        page = Page(title, "name", "Nobody is called so. Type less, or Esc goes back.")
        return await choose(
            screen, page, lambda text: matching(text, people, lambda one: one.name),
            lambda one: Row(one.name, _doing(view, one)),
        )  # fmt: skip
    options = [
        Option(key, name + _doing(view, one))
        for key, name, one in zip(KEYS, evened([p.name for p in people]), people, strict=False)
    ]
    return people[KEYS.index(await screen.talk.pick(title, options))]


def _doing(view: Floor, person: PersonNow) -> str:
    if person.since is None:
        return "no clock"
    if person.left_running:
        return f"left running on {_where(person)} since {_when(view, person.since)}"
    return f"on {_where(person)} for {elapsed(person.since, view.at)}"


async def _phase(
    screen: Painted[Floor], view: Floor, person: PersonNow, here: Job | None
) -> tuple[str, str]:
    """A phase of the job looked at, or of another one."""
    while True:
        if here is None and not all_jobs(view):
            raise Refused(filled("No job is in the house. {floor.new} takes one in."))
        if here is None:
            here = await which_job(screen, all_jobs(view), f"{person.name} goes over to which job?")
        live = [one for one in here.labels if one.state in LIVE]
        options = [
            Option(key, f"{here.number}.{one.number}  {one.name}   {one.state}")
            for key, one in zip(KEYS, live, strict=False)
        ]
        options.append(Option(OTHER_JOB, "another job ..."))
        chosen = await screen.talk.pick(
            f"{person.name} goes over to which phase of {here.number}?", options
        )
        if chosen != OTHER_JOB:
            return here.number, live[KEYS.index(chosen)].number
        here = None
