"""Entries about suppliers, prices and dates of kits taken back, and a kit called off by mistake."""

from __future__ import annotations

from store.actions.acting import Acting
from store.actions.undo.parts import hire_before
from store.edges.events.hires import (
    HireAsked,
    HireExtended,
    HireTakenBack,
    HireTerms,
    KitInspected,
    KitPriced,
    OfferKnown,
    SupplierKnown,
    TermsTakenBack,
)
from store.file.kits.now import OUT
from store.file.ledger import Row
from store.trouble import Refused

Told = SupplierKnown | OfferKnown | KitPriced | KitInspected
TABLE = {
    "supplier-known": "supplier", "offer-known": "offer", "kit-priced": "kit_price",
    "kit-inspected": "kit_date",
}  # fmt: skip
NAMES = ("supplier", "kit")


def terms_gone(doing: Acting, row: Row, event: Told) -> None:
    """Take back what was said of a supplier or a kit: it is as before. Hires keep their terms.

    Raises:
        Refused: it was said anew since.
    """
    said = vars(event)
    keys = [name for name in NAMES if name in said]
    where = " and ".join(f"{name} = ?" for name in keys)
    newer = doing.db.execute(
        f"select 1 from {TABLE[row.kind]} where {where} and seq > ?",
        [*(said[name] for name in keys), row.seq],
    ).fetchone()
    if newer is not None:
        raise Refused("That was said anew since: what is said now stays.")
    doing.record(TermsTakenBack(entry=row.seq))


def called_off_back(doing: Acting, row: Row, event: HireTakenBack) -> None:
    """A kit that was called off by mistake is asked for again, as it was.

    Raises:
        Refused: it is hired again for the same job since.
    """
    was = hire_before(doing, row, event.hire)
    if was is None:
        raise Refused("That entry took another one back: it stays.")
    again = doing.db.execute(
        f"select 1 from hire where kit = ? and job is ? and {OUT}", [was["kit"], was["job"]]
    ).fetchone()
    if again is not None:
        raise Refused(f"{was['kit']} was asked for again since: that stays.")
    terms = was["terms"]
    doing.record(
        HireAsked(
            hire=event.hire, kit=was["kit"], supplier=was["supplier"], job=was["job"],
            expected=was["expected"], due=was["first_due"],
            terms=None if terms is None else HireTerms.model_validate_json(terms),
            note=was["note"],
        ),
        happened_at=was["asked_at"],
    )  # fmt: skip
    if was["due"] != was["first_due"]:
        doing.record(HireExtended(hire=event.hire, due=was["due"]))
