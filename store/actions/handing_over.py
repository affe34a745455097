"""The vehicle goes back to its owner: the record is complete, and the job is closed with it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Literal

from store.actions.acting import Acting, Done, acting
from store.actions.closing import close_job, refuse_open
from store.actions.follow_ups import record_follow_ups
from store.actions.jobs_now import live_job
from store.actions.odometers import checked
from store.actions.privates import word_of
from store.edges.events.end import HandedOver
from store.file.at_hand_over import KitToCount, ended, kits_to_count
from store.file.change import By
from store.file.shop import Shop
from store.rules.follow_ups import ToDo, usual
from store.trouble import Refused

Counted = Mapping[str, int] | Literal["all there"] | None


def hand_over(
    shop: Shop,
    by: By,
    *,
    job: str,
    odometer: float | None = None,
    unit: str | None = None,
    to: str | None = None,
    old_parts: str | None = None,
    fluids: Sequence[str] = (),
    faults_before: str | None = None,
    faults_after: str | None = None,
    run_in: str | None = None,
    warranty_months: int | None = None,
    warranty_distance: float | None = None,
    kits: Counted = None,
    missing: str | None = None,
    photographs: str | None = None,
    follow_ups: Sequence[ToDo] | None = None,
) -> Done:
    """Hand a vehicle over and close its job, in one act.

    Args:
        odometer: as it is read now, in `unit` (`km` or `miles`; None is that of before).
        to: who takes it; a name is kept outside the ledger.
        old_parts: returned to the customer, kept, or sent in for their surcharge.
        fluids: by kind and litres.
        run_in: how it is to be driven at first.
        warranty_distance: in the unit of the odometer.
        kits: pieces counted by code of the kit, or `all there`.
        missing: why fewer were counted than the work book lists.
        photographs: where they are kept.
        follow_ups: None sets the usual ones, () none.

    Raises:
        NoSuch: no such job.
        Refused: anything of it is open, and all of it is named; the odometer runs backwards; a kit
            was not counted or lacks a piece; a follow-up is to be done at no time.
    """
    with acting(shop, by) as doing:
        row = live_job(doing, job)
        doing.may("close small job" if row.small else "hand over")
        refuse_open(doing, row, "handed over")
        counted = _counted(doing, job, kits, missing)
        reading = checked(doing, row.vehicle, odometer, unit)
        doing.record(
            HandedOver(
                job=job, to=word_of(doing, job, to), old_parts=_said(old_parts),
                fluids=[one.strip() for one in fluids if one.strip()],
                faults_before=_said(faults_before), faults_after=_said(faults_after),
                run_in=_said(run_in), warranty_months=warranty_months,
                warranty_distance=warranty_distance, kits=counted, missing=_said(missing),
                photographs=_said(photographs),
            )
        )  # fmt: skip
        if reading is not None:
            doing.record(reading)
        wanted = (
            _usual(doing, job, old_parts, warranty_months) if follow_ups is None else follow_ups
        )
        lines = record_follow_ups(doing, row, wanted)
        close_job(doing, job)
        return doing.done(f"{job} is handed over and closed. {_to_follow(len(lines))}", job=job)


def _said(text: str | None) -> str | None:
    return (text or "").strip() or None


def _to_follow(lines: int) -> str:
    return f"{lines} follow-ups set." if lines else "Nothing follows it."


def _usual(doing: Acting, job: str, old_parts: str | None, months: int | None) -> tuple[ToDo, ...]:
    was = replace(ended(doing.db, job), old_parts=old_parts, warranty_months=months)
    return usual(was, doing.today)


def _counted(doing: Acting, job: str, kits: Counted, missing: str | None) -> dict[str, int]:
    """Pieces by code of the kit.

    Raises:
        Refused: a kit was not counted, is none of this job, or lacks a piece and nothing says why.
    """
    wanted = {one.code: one for one in kits_to_count(doing.db, job)}
    if kits == "all there":
        return {code: len(one.pieces) for code, one in wanted.items()}
    given = dict(kits or {})
    strange = [code for code in given if code not in wanted]
    if strange:
        known = ", ".join(wanted) or "none"
        raise Refused(f"{job} has no kit {strange[0]} to count. It has: {known}.")
    not_counted = [one for code, one in wanted.items() if code not in given]
    if not_counted:
        raise Refused(
            f"Count the kits of {job} first, no piece stays in a vehicle: "
            f"{'; '.join(map(_listed, not_counted))}."
        )
    short = [one for code, one in wanted.items() if given[code] < len(one.pieces)]
    if short and not _said(missing):
        lacks = "; ".join(f"{given[one.code]} of {_listed(one)}" for one in short)
        raise Refused(f"A piece is missing: {lacks}. Find it, or say why it is not in the vehicle.")
    return given


def _listed(kit: KitToCount) -> str:
    return f"{kit.code} {kit.name}, {len(kit.pieces)}: {', '.join(kit.pieces)}"
