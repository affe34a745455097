"""Calibration and inspection dates of the shop's own kits, hoists and slings."""

from __future__ import annotations

from datetime import date, timedelta

from store.actions.acting import Done, acting
from store.actions.hires.kits_found import kit_row
from store.edges.events.hires import KitInspected
from store.file.change import By
from store.file.kits.terms import valid_until
from store.file.shop import Shop
from store.trouble import Refused

FURTHEST = timedelta(days=366 * 10)
"""No calibration holds longer: a day further away is a slip in the year."""


def know_date(shop: Shop, by: By, *, kit: str, until: date, source: str) -> Done:
    """Write down until when a kit of the shop may be used.

    Args:
        until: the last day.
        source: who did it, or what says so.

    Raises:
        NoSuch: no such kit.
        Refused: it is hired, nobody's word, or the day cannot be.
    """
    with acting(shop, by, "date kit") as doing:
        row = kit_row(doing, kit)
        if not row["owned"]:
            raise Refused(
                f"{row['name']} is hired: say the date that it carries when it comes, with "
                f"hoistbook hire receive {kit} --valid-until."
            )
        if not source.strip():
            raise Refused("Say who did it, or which paper says so.")
        if abs(until - doing.today) > FURTHEST:
            raise Refused(f"{until} lies more than ten years away: check the year.")
        if valid_until(doing.db).get(kit) == until:
            raise Refused(f"{row['name']} is dated {until} already: nothing was changed.")
        doing.record(KitInspected(kit=kit, valid_until=until.isoformat(), source=source.strip()))
        says = f"{row['name']} may be used until {until} ({source.strip()})."
        if until < doing.today:
            says = f"{row['name']} must not be used: its date ran out on {until}."
        return doing.done(says)
