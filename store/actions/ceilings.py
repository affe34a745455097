"""The ceiling of a job, and the sum up to which extra work needs no call."""

from __future__ import annotations

from collections.abc import Sequence

from store.actions.acting import Acting, Done, acting
from store.actions.jobs_now import live_job
from store.actions.privates import word_of
from store.actions.words import money_words
from store.edges.events.desk import CeilingSet, DeskTakenBack
from store.file.change import By
from store.file.job_money import reckoned, terms_of
from store.file.ledger import Row
from store.file.shop import Shop
from store.sums.job_money import over
from store.trouble import Refused


def set_ceiling(shop: Shop, by: By, *, job: str, ceiling: float, told_by: str, means: str) -> Done:
    """Write down a new ceiling, with whose word it was.

    Raises:
        NoSuch: no such job.
        Refused: the job has no ceiling, it is that already, or it is nobody's word.
    """
    with acting(shop, by, "set ceiling") as doing:
        live_job(doing, job)
        terms = terms_of(doing.db, job)
        if terms.basis != "ceiling":
            raise Refused(f"{job} is no estimate with a ceiling: {terms.basis or 'not agreed'}.")
        if not told_by.strip() or not means.strip():
            raise Refused("Say whose word it is, and how it came: telephone, in writing ...")
        if terms.ceiling == ceiling:
            raise Refused(f"The ceiling of {job} is {money_words(ceiling)} already.")
        told = word_of(doing, job, told_by)
        doing.record(ceiling_with(job, ceiling, told, means.strip()))
        before = f", it was {money_words(terms.ceiling)}" if terms.ceiling is not None else ""
        return doing.done(f"The ceiling of {job} is {money_words(ceiling)}{before}.", job=job)


def ceiling_with(job: str, ceiling: float, told: str | None, means: str | None) -> CeilingSet:
    """Return what a new ceiling is written down as.

    Args:
        told: who gave the word, as the ledger may say it.

    Raises:
        Refused: nobody gave it.
    """
    if told is None or means is None:
        raise Refused("A new ceiling is somebody's word: say whose with --by, how with --means.")
    return CeilingSet(job=job, ceiling=ceiling, by=told, means=means)


def refuse_over(doing: Acting, job: str, more: float, ceiling: float | None) -> None:
    """Refuse extra work with which a job is expected to pass its ceiling.

    Args:
        more: money of the extra work.
        ceiling: a new one that was agreed with it; None keeps the one that there is.

    Raises:
        Refused: with what is expected and the ceiling, and what to do; or a ceiling is given
            where none was agreed.
    """
    terms = terms_of(doing.db, job)
    if ceiling is not None and terms.basis != "ceiling":
        raise Refused(f"{job} is no estimate with a ceiling: leave the ceiling out.")
    limit = terms.ceiling if ceiling is None else ceiling
    if terms.basis != "ceiling" or limit is None:
        return
    found = reckoned(doing.db, job, doing.now)
    expected = found.used.total + found.still if found.expected is None else found.expected[0]
    if over(limit, expected, more) > 0:
        raise Refused(
            f"With this {job} is expected to come to {money_words(expected + more)}; its ceiling "
            f"is {money_words(limit)}. Ask the customer for a higher one, then approve with "
            "--ceiling MONEY."
        )


def refuse_over_free_hand(doing: Acting, job: str, money: Sequence[float | None]) -> None:
    """Refuse extra work that goes beyond what needs no call.

    Raises:
        Refused: nothing was agreed ahead, its money is not known, or it is more than is left.
    """
    terms = terms_of(doing.db, job)
    if terms.free_hand is None or terms.free is None:
        raise Refused(f"Nothing was agreed ahead for {job}: ask the customer.")
    if any(one is None for one in money):
        raise Refused(f"{job}: what that costs is not known, so it was not agreed ahead. Ask.")
    asked = sum(one or 0.0 for one in money)
    if over(terms.free, asked) > 0:
        raise Refused(
            f"That is {money_words(asked)}, and of the {money_words(terms.free_hand)} agreed "
            f"ahead for {job} {money_words(terms.free)} is left. Ask the customer."
        )


def ceiling_back(doing: Acting, row: Row, event: CeilingSet) -> None:
    """Let the ceiling be what it was before.

    Raises:
        Refused: it was set, or the job agreed, anew since.
    """
    newer = doing.db.execute(
        "select 1 from ceiling_set where job = ?1 and seq > ?2 and not withdrawn union all "
        "select 1 from estimate where job = ?1 and seq > ?2 limit 1",
        [event.job, row.seq],
    ).fetchone()
    if newer is not None:
        raise Refused(f"The ceiling of {event.job} was agreed anew since: it stays.")
    doing.record(DeskTakenBack(job=event.job, entry=row.seq))
