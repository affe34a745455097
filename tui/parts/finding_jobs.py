"""Finding any job or vehicle by typing, the closed ones too."""

from __future__ import annotations

import asyncio
from typing import Any

from store.views.find import FoundJob, every_job
from tui.keys import filled
from tui.parts.choosing import Page, Row, choose
from tui.parts.painted import Painted
from tui.parts.typed_search import among, index

PAGE = Page(
    "find a job or a vehicle", "number, plate, words",
    "No job is called so. Type less, or Esc goes back.",
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
