"""The foreman's word that a phase may be begun without a kit that it needs."""

from __future__ import annotations

from store.actions.acting import Acting, Done, acting
from store.actions.hires.kit_gate import record_let, still_lacking
from store.actions.jobs_now import live_job, phase_row, refuse_workable_state
from store.actions.words import named
from store.edges.events.hires import KitLet, KitLetTakenBack
from store.file.change import By
from store.file.ledger import Row
from store.file.route_now import phases_of
from store.file.shop import Shop
from store.rules.kit_at_hand import KitNeed
from store.trouble import Refused


def let(shop: Shop, by: By, *, job: str, phase: str, why: str) -> Done:
    """Let a phase be begun without the kits that lack now.

    Raises:
        NoSuch: no such job or phase.
        Refused: it has begun, nothing that it needs lacks, or no reason is given.
    """
    with acting(shop, by, "let begin without kit") as doing:
        live_job(doing, job)
        row = phase_row(phases_of(doing.db, job), job, phase)
        refuse_workable_state(job, row)
        if row.state != "to come":
            raise Refused(f"{named(job, row)} has begun: it goes on without anybody's word.")
        lacks = still_lacking(doing, job, row)
        if not lacks:
            raise Refused(f"No kit stops {named(job, row)}: it can be begun.")
        record_let(doing, job, row, lacks, why)
        names = " and ".join(one.name for one in lacks)
        dated = " Its hold points are not signed all the same." if _dated(lacks) else ""
        return doing.done(f"{named(job, row)} may be begun without {names}.{dated}", job=job)


def _dated(lacks: tuple[KitNeed, ...]) -> bool:
    return any(one.at == "out of date" for one in lacks)


def let_back(doing: Acting, row: Row, event: KitLet) -> None:
    """Take such a word back.

    Raises:
        Refused: the phase has begun by it.
    """
    phase = phase_row(phases_of(doing.db, event.job), event.job, event.phase)
    if phase.state != "to come":
        raise Refused(f"{named(event.job, phase)} has begun since: that word stays.")
    doing.record(KitLetTakenBack(job=event.job, entry=row.seq))
