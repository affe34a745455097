"""The line that waits to come in, put in order: which job, and before which."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

from store.file.shop import By, Shop
from store.trouble import Refused
from store.views.values import Floor, Job
from tui.deeds import Deed
from tui.floor.acts import KEYS, which_job
from tui.keys import filled
from tui.parts.choosing import Page, Row, choose
from tui.parts.painted import Painted
from tui.parts.people import somebody
from tui.parts.prompt import Option
from tui.parts.typed_search import matching
from tui.words import chance, cut, day_time, evened

if TYPE_CHECKING:
    from store.actions.acting import Done

LAST = "0"
MARGIN = 6
"""Cells beside the words of an answer."""


def put_in_line(job: str, before: str | None, seen: Sequence[str] | None) -> Deed:
    """Let a job come in before another one that waits; None: last.

    Args:
        seen: the line as whoever decides saw it; None where they decided about these two only.
    """

    def do(shop: Shop, by: By) -> Done:
        from store.actions import lining_up

        return lining_up.put_in_line(shop, by, job=job, before=before, seen=seen)

    return do


async def put_in_order(screen: Painted[Floor], view: Floor) -> None:
    """Put a job that waits elsewhere in the line.

    Raises:
        Back: left with Esc.
        Refused: fewer than two wait, or the action says why not.
    """
    line = view.waiting
    if not line:
        raise Refused(filled("Nobody waits to come in. {floor.new} takes a new job."))
    if len(line) == 1:
        raise Refused(f"Only {line[0].number} waits to come in: there is no order to change.")
    await somebody(screen)
    seen = [one.number for one in line]
    job = await _which(screen, view)
    before = await _before(screen, view, job)
    await screen.act(put_in_line(job.number, before, seen))


async def _which(screen: Painted[Floor], view: Floor) -> Job:
    """One of those that wait, with what its customer was told: by a digit, or of many by typing."""
    title, line = "the line: which job comes in earlier or later?", view.waiting
    if len(line) > len(KEYS):
        return await which_job(screen, line, title)
    rows = [
        (
            f"{one.number}  {one.vehicle}",
            _promised(view, one),
            ", ".join(one.lacks) or "can come in",
        )
        for one in line
    ]
    chosen = await screen.talk.pick(title, _options(screen, rows))
    return line[KEYS.index(chosen)]


def _options(screen: Painted[Floor], rows: Sequence[Sequence[str]]) -> list[Option]:
    """A digit for each row, its columns under those of the others."""
    room, more = screen.board_size[0] - MARGIN, screen.session.signs.more
    columns = [evened(list(one)) for one in zip(*rows, strict=True)]
    words = ("".join(row).rstrip() for row in zip(*columns, strict=True))
    return [Option(key, cut(row, room, more)) for key, row in zip(KEYS, words, strict=False)]


def _promised(view: Floor, job: Job) -> str:
    """`22 Oct 16:00 likely 8 in 10`"""
    if job.promise is None:
        return "no promise"
    when = day_time(job.promise, view.calendar.zone, view.at)
    if job.promise_chance is None:
        return when
    found = chance(job.promise_chance)
    return f"{when} {found.short} {found.tenths}".rstrip()


async def _before(screen: Painted[Floor], view: Floor, job: Job) -> str | None:
    """The job behind its new place; None is last. Where it stands now is no answer."""
    line = view.waiting
    here = [one.number for one in line].index(job.number)
    others = [one for n, one in enumerate(line) if n not in (here, here + 1)]
    title = f"{job.number} {job.vehicle}: comes in"
    if len(others) >= len(KEYS):
        return await _by_typing(screen, others, title, is_last=here == len(line) - 1)
    rows = [(f"before {one.number}  {one.vehicle}", _promised(view, one)) for one in others]
    options = _options(screen, rows) if rows else []
    if here < len(line) - 1:
        options.append(Option(LAST, "last"))
    chosen = await screen.talk.pick(title, options)
    return None if chosen == LAST else others[KEYS.index(chosen)].number


async def _by_typing(
    screen: Painted[Floor], others: Sequence[Job], title: str, *, is_last: bool
) -> str | None:
    rows: list[Job | None] = [*others, *([] if is_last else [None])]
    page = Page(title, "number, vehicle", "No such job waits. Type less, or Esc goes back.")
    chosen = await choose(screen, page, lambda text: matching(text, rows, _text), _row)
    return None if chosen is None else chosen.number


def _text(job: Job | None) -> str:
    return "last" if job is None else f"{job.number} {job.vehicle} {job.work}"


def _row(job: Job | None) -> Row:
    if job is None:
        return Row("last", "after all others")
    return Row(f"before {job.number}", f"{job.vehicle}   {job.work}")
