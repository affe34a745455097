"""Whether a job needs a kit, and how a kit is asked for: terms, supplier, days."""

from __future__ import annotations

import sqlite3
from collections.abc import Sequence

from store.actions.acting import Acting
from store.actions.hires.kits_found import offer_of, plain, supplier_named
from store.edges.events.hires import HireTerms
from store.file.kits.now import LIVE, OUT, needless, uses_of
from store.file.kits.terms import Offer, offers_now
from store.sums.hires.terms import Terms
from store.trouble import Refused

NEEDING = (
    "select job.job from job join phase using (job), json_each(phase.kits) as kit "
    f"where job.{LIVE} and phase.state in ('to come', 'under way') and kit.value = ?1 "
    "and (?2 is null or job.job = ?2) limit 1"
)


def needs_kit(doing: Acting, job: str | None, kit: str) -> bool:
    """Tell whether a job, or any that goes on, needs a kit for a phase that is not finished."""
    if doing.db.execute(NEEDING, [kit, job]).fetchone() is not None:
        return True
    return any(job in (None, use.job) for use in uses_of(doing.db, [kit]))


def refuse_needless(doing: Acting, row: sqlite3.Row, job: str | None) -> None:
    """Refuse to hire what the shop owns, or what no job needs.

    Raises:
        Refused: saying how it is hired all the same, with a reason.
    """
    if row["owned"]:
        raise Refused(
            f"The shop owns {row['name']}: it is not hired. Hire a second one with --why TEXT."
        )
    if not needs_kit(doing, job, row["code"]):
        whose = f"{job} has no phase" if job else "No job has a phase"
        raise Refused(
            f"{whose} to come that needs {row['name']}. Hire it all the same with --why TEXT."
        )


def needless_words(doing: Acting, job: str) -> str | None:
    """Say which hires of a job are not needed any more, and what is to be done with them."""
    return _not_needed(needless(doing.db, job))


def left_over_words(doing: Acting, job: str) -> str | None:
    """The same of a job that does not come about: all of its hires."""
    rows = doing.db.execute(
        "select hire.kit, hire.job, coalesce(name, hire.kit) as name, supplier, received_at "
        f"from hire left join kit on code = hire.kit where hire.job = ? and {OUT} "
        "order by asked_at, hire",
        [job],
    )
    return _not_needed(rows.fetchall())


def _not_needed(rows: Sequence[sqlite3.Row]) -> str | None:
    found = [
        f"{row['name']} is not needed any more: send it back to {row['supplier']}."
        if row["received_at"]
        else f"{row['name']} is not needed any more: hoistbook hire cancel {row['kit']} "
        f"--job {row['job']}."
        for row in rows
    ]
    return " ".join(found) or None


def refuse_twice(doing: Acting, kit: str, job: str | None) -> None:
    """Refuse a second hire of a kit for the same job, or a second one for any.

    Raises:
        Refused: naming the supplier.
    """
    again = doing.db.execute(
        f"select supplier from hire where kit = ? and job is ? and {OUT}", [kit, job]
    ).fetchone()
    if again is not None:
        where = f"for {job}" if job else "for the shop"
        raise Refused(f"{kit} is hired {where} already, at {again['supplier']}.")


def asked_at(doing: Acting, kit: str, supplier: str | None) -> tuple[str, Terms | None]:
    """Return the supplier meant, by its known name, and its terms for the kit as they are now.

    Raises:
        Refused: none was named, and not exactly one offers it.
    """
    if supplier is not None:
        if not plain(supplier):
            raise Refused("Say at which supplier's it was asked for.")
        named = supplier_named(doing, supplier)
        offer = offer_of(doing, kit, named)
        return named, None if offer is None else offer.terms
    offers = offers_now(doing.db).get(kit, ())
    if len(offers) != 1:
        raise Refused(f"Say at which supplier's it was asked for{_which(offers)}.")
    return offers[0].supplier, offers[0].terms


def unknown_words(doing: Acting, kit: str, supplier: str) -> str:
    """Say that nobody knows what a kit costs at a supplier's: a slip of the fingers is seen.

    A shop that keeps no prices of hires is not told.
    """
    if not offers_now(doing.db):
        return ""
    return (
        f" What it costs at {supplier} is not known: "
        f'hoistbook hire terms {kit} --supplier "{supplier}" --day MONEY.'
    )


def _which(offers: tuple[Offer, ...]) -> str:
    return f": {', '.join(one.supplier for one in offers)}" if offers else ""


def frozen(terms: Terms) -> HireTerms:
    """Return terms as a hire keeps them: what the supplier asks later does not touch it."""
    rates, house = terms.rates, terms.house
    return HireTerms(
        day=rates.day, week=rates.week, month=rates.month, minimum_days=rates.minimum_days,
        carriage=rates.carriage, deposit=rates.deposit, cut_off=f"{house.cut_off:%H:%M}",
        counts=house.counts, weekend=house.weekend, late=house.late, lead_days=house.lead_days,
        back_days=house.back_days, cleaning=house.cleaning,
    )  # fmt: skip
