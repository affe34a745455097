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
from tui.words import evened

if TYPE_CHECKING:
    from store.actions.acting import Done

LAST = "0"


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
    line = list(view.waiting)
    if not line:
        raise Refused(filled("Nobody waits to come in. {floor.new} takes a new job."))
    if len(line) == 1:
        raise Refused(f"Only {line[0].number} waits to come in: there is no order to change.")
    await somebody(screen)
    seen = [one.number for one in line]
    job = await which_job(screen, line, "the line: which job comes in earlier or later?")
    before = await _before(screen, line, job)
    await screen.act(put_in_line(job.number, before, seen))


async def _before(screen: Painted[Floor], line: Sequence[Job], job: Job) -> str | None:
    """The job behind its new place; None is last. Where it stands now is no answer."""
    here = [one.number for one in line].index(job.number)
    others = [one for n, one in enumerate(line) if n not in (here, here + 1)]
    title = f"{job.number} {job.vehicle}: comes in"
    if len(others) >= len(KEYS):
        return await _by_typing(screen, others, title, is_last=here == len(line) - 1)
    names = evened([f"before {one.number}  {one.vehicle}" for one in others])
    options = [Option(key, name) for key, name in zip(KEYS, names, strict=False)]
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
