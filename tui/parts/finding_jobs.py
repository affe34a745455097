"""Finding any job or vehicle by typing, the closed ones too; and kits."""

from __future__ import annotations

import asyncio
from datetime import datetime
from typing import Any

from store.file.shop import Shop
from store.views.find import FoundJob, every_job
from store.views.tools.page import kits_now
from store.views.tools.values import KitNow
from tui.keys import filled
from tui.parts.choosing import Page, Row, choose
from tui.parts.painted import Painted
from tui.parts.typed_search import among, index
from tui.parts.where import Where
from tui.tools.finding import kit_row, kit_text

PAGE = Page(
    "find a job or a vehicle", "number, plate, words",
    "No job is called so. Type less, or Esc goes back.",
)  # fmt: skip
ANYTHING = Page(
    "find a job, a vehicle or a kit", "number, plate, words",
    "No job is called so. Nor is a kit. Type less, or Esc goes back.",
)  # fmt: skip
NO_JOBS = PAGE._replace(none="No job was taken yet. Esc, then {floor.new} takes the first.")


async def find_job(screen: Painted[Any], title: str = PAGE.title) -> str:
    """Have a job found; its number.

    Raises:
        Back: Esc.
        Trouble: the file cannot be read.
    """
    session = screen.session
    sees = session.sees_customers
    jobs = await asyncio.to_thread(
        lambda: index(every_job(session.shop, customers=sees), _text)
    )  # fmt: skip
    page = PAGE if jobs else NO_JOBS
    page = page._replace(title=title, none=filled(page.none))
    found = await choose(screen, page, lambda text: among(text, jobs), _row)
    return found.number


async def find_anything(screen: Painted[Any]) -> Where:
    """Have a job, a vehicle or a kit found; where it stands.

    Raises:
        Back: Esc.
        Trouble: the file cannot be read.
    """
    session = screen.session
    sees = session.sees_customers
    jobs, kits = await asyncio.to_thread(lambda: _every(session.shop, session.now(), sees))

    def find(text: str) -> list[FoundJob | KitNow]:
        """Jobs; kits where something is typed."""
        return [*among(text, jobs), *(among(text, kits) if text else [])]

    page = ANYTHING if jobs or kits else NO_JOBS
    page = page._replace(none=filled(page.none))
    found = await choose(screen, page, find, _any_row)
    if isinstance(found, KitNow):
        return Where("tools", kit=found.code)
    return Where("job", found.number)


def _every(
    shop: Shop, now: datetime, sees: bool
) -> tuple[list[tuple[FoundJob, str]], list[tuple[KitNow, str]]]:
    """Jobs, and kits, each with its words."""
    jobs = index(every_job(shop, customers=sees), _text)
    return jobs, index(kits_now(shop, now), kit_text)


def _any_row(found: FoundJob | KitNow) -> Row:
    return kit_row(found) if isinstance(found, KitNow) else _row(found)


def _text(job: FoundJob) -> str:
    said = (
        job.number, job.vehicle, job.plate, job.vin, job.family, job.work, job.complaint,
        job.customer, job.state,
    )  # fmt: skip
    return " ".join(word for word in said if word)


def _row(job: FoundJob) -> Row:
    plate = job.plate if job.plate and job.plate not in job.vehicle else None
    words = "   ".join(word for word in (job.vehicle, plate, job.work, job.customer) if word)
    where = job.place if job.place and not job.over else job.state.replace("-", " ")
    return Row(job.number, words, where, "dim" if job.over else "text")
