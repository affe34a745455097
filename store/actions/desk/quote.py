"""What the customer is told that it would take: hours and money, both ways of a fork; kept."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import date, datetime

from store.actions.acting import Acting, Done, acting
from store.actions.agreeing import Basis
from store.actions.desk.work import open_job
from store.actions.quote_ways import Way, WayHours, ways_of
from store.actions.words import hours_words
from store.edges.events.desk import QuoteGiven
from store.edges.events.jobs import StateChanged
from store.edges.instants import to_text
from store.file.change import By
from store.file.facts import rate_on
from store.file.shop import Shop
from store.trouble import Refused


def quote(
    shop: Shop,
    by: By,
    *,
    job: str,
    ways: Sequence[Way] | None = None,
    basis: Basis | None = None,
    ceiling: float | None = None,
    promise: datetime | None = None,
    means: str | None = None,
    until: date | None = None,
    rough: bool = False,
    extras: Sequence[str] = (),
) -> Done:
    """Give a quote, or by voice a rough range; a later one follows it.

    Args:
        ways: None is the chosen work as it is planned, then what the other answers to its
            decisions would make of it.
        ceiling: the most that the customer pays, with the basis `ceiling`.
        promise: by when it would be done.
        means: how it was told: telephone, in person, in writing.
        until: last day on which it holds.
        rough: a range by voice; the job stays in its state.
        extras: neighbouring work that was offered with it.

    Raises:
        NoSuch: no such job.
        Refused: the work or the family is not chosen; the promise or the last day is past; a
            ceiling lacks; the check failed; the job is agreed already.
    """
    worked = ways_of(shop, by.at or by.now, job, ways)
    with acting(shop, by, "give quote") as doing:
        row = open_job(doing, job)
        refuse_terms(doing, basis, ceiling, promise)
        _refuse_last_day(doing, until)
        if not worked:
            raise Refused(
                f"Say first what {job} is about, and the family: "
                f"hoistbook work {job} --operation CODE --family KEY."
            )
        if not rough:
            refuse_failed(doing, job)
        number, rate = _next(doing, job), rate_on(doing.db, doing.today)
        doing.record(
            QuoteGiven(
                job=job, quote=number, rough=rough, ways=[one.quoted(rate) for one in worked],
                basis=basis, ceiling=ceiling, promise=to_text(promise) if promise else None,
                means=" ".join((means or "").split()) or None,
                until=until.isoformat() if until else None, extras=list(extras),
            )
        )  # fmt: skip
        if not rough and row.state != "quoted":
            doing.record(StateChanged(job=job, state="quoted"))
        return doing.done(_words(doing, job, number, worked, rate, rough=rough), job=job)


def refuse_terms(
    doing: Acting, basis: Basis | None, ceiling: float | None, promise: datetime | None
) -> None:
    """Refuse terms that cannot be.

    Raises:
        Refused: a ceiling without the basis or the basis without it; a promise that is past.
    """
    if basis == "ceiling" and ceiling is None:
        raise Refused("An estimate with a ceiling says the ceiling: --ceiling MONEY.")
    if ceiling is not None and basis != "ceiling":
        raise Refused("A ceiling goes with --basis ceiling.")
    if promise is not None and promise <= doing.at:
        raise Refused("The promise lies in the past. Give a later time.")


def refuse_failed(doing: Acting, job: str) -> None:
    """Refuse money on a vehicle that failed its check.

    Raises:
        Refused: saying why it failed.
    """
    row = doing.db.execute(
        "select check_result, check_text from job where job = ?", [job]
    ).fetchone()
    if row["check_result"] == "fail":
        raise Refused(
            f"{job} failed its check: {row['check_text']}. Choose other work, decline it, or turn "
            "it away."
        )


def _refuse_last_day(doing: Acting, until: date | None) -> None:
    if until is not None and until < doing.today:
        raise Refused("The last day of the quote is past. Give a later one.")


def _next(doing: Acting, job: str) -> int:
    found = doing.db.execute(
        "select coalesce(max(quote), 0) + 1 from quote where job = ?", [job]
    ).fetchone()
    return int(found[0])


def _words(
    doing: Acting, job: str, number: int, ways: Sequence[WayHours], rate: float | None, *,
    rough: bool,
) -> str:  # fmt: skip
    currency = doing.db.execute("select currency from shop").fetchone()[0]
    first = ways[0].figures
    says = f"{hours_words(first.middle)}, cautious {hours_words(first.cautious)}"
    if rate is not None:
        says += f", {rate * first.middle:,.2f} to {rate * first.cautious:,.2f} {currency}"
    kind = "told roughly" if rough else f"quote {number}"
    others = [f"{one.way.text}: {hours_words(one.figures.middle)}" for one in ways[1:]]
    more = f" Otherwise: {'; '.join(others)}." if others else ""
    return f"{job}, {kind}: {says}.{more}"
