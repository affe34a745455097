"""Which job comes in next: the order of the line that waits."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from store.actions.acting import Acting, Done, acting
from store.actions.jobs_now import live_job
from store.actions.words import clock_time
from store.edges.events.next import LineOrdered, LineOrderTakenBack
from store.edges.instants import from_text
from store.file.change import By
from store.file.ledger import Row
from store.file.line_now import InLine, last_move, line_now
from store.file.shop import Shop
from store.trouble import Refused

ROOM = 0.001
"""Seconds between two places of the line at least, where all of them are laid anew."""


def put_in_line(
    shop: Shop, by: By, *, job: str, before: str | None, seen: Sequence[str] | None = None
) -> Done:
    """Let a job that waits come in before another one, or after all others.

    Args:
        before: None: it comes in last.
        seen: the line as the actor saw it; None where they did not look.

    Raises:
        NoSuch: no job has that number.
        Refused: it, or the other one, does not wait; it is before itself; it stands there already;
            somebody put the line in another order meanwhile.
    """
    with acting(shop, by, "order line") as doing:
        line = line_now(doing.db)
        _refuse_unseen(doing, line, seen)
        _refuse_elsewhere(doing, line, before)
        _refuse_elsewhere(doing, line, job)  # last: it is the job that the entry is about
        if job == before:
            raise Refused(f"{job} cannot come in before itself. Name the job behind it.")
        wanted = _in_order(line, job, before)
        if wanted == [one.job for one in line]:
            raise Refused(f"{job} comes in {_where(before)} already: the line is {_list(wanted)}.")
        for event in _places(line, wanted, job, before, doing.at.timestamp()):
            doing.record(event)
        return doing.done(f"{job} comes in {_where(before)}. The line: {_list(wanted)}.", job=job)


def _refuse_unseen(doing: Acting, line: Sequence[InLine], seen: Sequence[str] | None) -> None:
    """Whoever came or went meanwhile changes nothing of the order of those who stayed."""
    there = [one.job for one in line]
    if seen is None or [one for one in seen if one in there] == [
        one for one in there if one in seen
    ]:
        return
    moved = last_move(doing.db)
    if moved is None:
        raise Refused("The line was put back in order a moment ago. Look again.")
    when = clock_time(from_text(moved.at), doing.calendar)
    raise Refused(
        f"{moved.by} put {moved.job} {_where(moved.before)} in the line {when}. Look again."
    )


def _refuse_elsewhere(doing: Acting, line: Sequence[InLine], job: str | None) -> None:
    if job is None:
        return
    row = live_job(doing, job)
    if job not in [one.job for one in line]:
        raise Refused(
            f"{job} is {row.state.replace('-', ' ')}: it does not wait to come in. "
            "See who does: hoistbook line."
        )


def _in_order(line: Sequence[InLine], job: str, before: str | None) -> list[str]:
    others = [one.job for one in line if one.job != job]
    place = len(others) if before is None else others.index(before)
    return [*others[:place], job, *others[place:]]


def _where(before: str | None) -> str:
    return "last" if before is None else f"before {before}"


LISTED = 6


def _list(jobs: Sequence[str]) -> str:
    """The head of the line, and how many more."""
    more = f" and {len(jobs) - LISTED} more" if len(jobs) > LISTED else ""
    return ", ".join(jobs[:LISTED]) + more


def _places(
    line: Sequence[InLine], wanted: Sequence[str], job: str, before: str | None, now: float
) -> Iterator[LineOrdered]:
    """The job's new place; where there is no room for one, the places of all others too.

    Whoever comes into the line later comes in after all of these, so what is last stands no
    further back than now.
    """
    was = {one.job: one.position for one in line}
    place, found = wanted.index(job), _between(line, wanted, job, now)
    first, last = sorted((place, [one.job for one in line].index(job)))
    passed = tuple(one for one in wanted[first : last + 1] if one != job)
    if found is not None:
        yield LineOrdered(job=job, before=before, position=found, passed=passed)
        return
    for one, position in zip(wanted, _anew(line), strict=True):
        if one == job:
            yield LineOrdered(job=job, before=before, position=position, passed=passed)
        elif was[one] != position:
            behind = next(iter(wanted[wanted.index(one) + 1 :]), None)
            yield LineOrdered(job=one, before=behind, position=position)


def _between(line: Sequence[InLine], wanted: Sequence[str], job: str, now: float) -> float | None:
    """A place between its two neighbours; None where they stand too close."""
    was, place = {one.job: one.position for one in line}, wanted.index(job)
    if place == 0:
        return was[wanted[1]] - 1.0
    low = was[wanted[place - 1]]
    if place == len(wanted) - 1:
        return max(low + ROOM, now)
    high = was[wanted[place + 1]]
    middle = (low + high) / 2
    return middle if low < middle < high else None


def _anew(line: Sequence[InLine]) -> list[float]:
    """Places with room between them that end where the line ends now."""
    last, gaps = line[-1].position, len(line) - 1
    step = max(ROOM, (last - line[0].position) / gaps)
    return [last - step * (gaps - nth) for nth in range(len(line))]


def line_order_back(doing: Acting, row: Row, event: LineOrdered) -> None:
    """Let a job have the place in the line that it had before.

    Raises:
        Refused: it was given another one since, or waits no more.
    """
    job = live_job(doing, event.job)
    last = doing.db.execute("select max(seq) from line_move where job = ?", [event.job]).fetchone()[
        0
    ]
    if last != row.seq or job.state != "waiting":
        raise Refused(f"When {event.job} comes in was decided anew since: that stays.")
    doing.record(LineOrderTakenBack(job=event.job, entry=row.seq, passed=event.passed))
