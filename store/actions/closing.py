"""The end of a job: refused while anything of it is open, and all of that named."""

from __future__ import annotations

from store.actions.acting import Acting
from store.actions.jobs_now import JobRow
from store.edges.events.jobs import JobClosed
from store.file.still_open import still_open
from store.trouble import Refused

NOT_AGREED = ("enquiry", "booked", "arrived", "quoted")
"""States of a job that nobody has agreed to yet: it is declined or turned away, not closed."""


def refuse_open(doing: Acting, row: JobRow, what: str) -> None:
    """Refuse the end of a job while anything of it is open.

    Args:
        what: `closed` or `handed over`.

    Raises:
        Refused: naming all of it.
    """
    if row.state in NOT_AGREED:
        raise Refused(
            f"{row.job} cannot be {what}: nothing was agreed. Take it, decline it or turn it away."
        )
    found = still_open(doing.db, row.job, doing.at)
    if found:
        raise Refused(f"{row.job} cannot be {what}: {'; '.join(found)}.")


def close_job(doing: Acting, job: str) -> None:
    """Close a job of which nothing is open: its clocks count as confirmed from now on."""
    found = doing.db.execute(
        "select seq from clock where job = ? and not confirmed order by seq", [job]
    )
    doing.record(JobClosed(job=job, confirms=[row[0] for row in found]))
