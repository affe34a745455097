"""What is to be remembered of a job, in somebody's own words."""

from __future__ import annotations

from store.actions.acting import Acting, Done, acting
from store.actions.jobs_now import job_row
from store.edges.events.jobs import JobNoted, JobNoteTakenBack
from store.file.change import By
from store.file.ledger import Row
from store.file.shop import Shop
from store.trouble import Refused


def note(shop: Shop, by: By, *, job: str, text: str) -> Done:
    """Write a note on a job, whatever its state: a customer rings after the hand-over, too.

    Raises:
        NoSuch: no such job.
        Refused: there is nothing to note.
    """
    with acting(shop, by, "note job") as doing:
        job_row(doing.db, job)
        doing.change.job = job
        said = text.strip()
        if not said:
            raise Refused("Say what is to be remembered.")
        doing.record(JobNoted(job=job, text=said))
        return doing.done(f"Noted on {job}: {said}.", job=job)


def note_gone(doing: Acting, row: Row, event: JobNoted) -> None:
    """Take a note back; it stays on record as withdrawn."""
    doing.record(JobNoteTakenBack(job=event.job, noted=row.seq))
