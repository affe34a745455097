"""How far the ledger is, and which work book is the newest: whether what was read is still so."""

from __future__ import annotations

from dataclasses import dataclass

from store.file.shop import Shop


@dataclass(frozen=True, slots=True)
class Stand:
    """The newest entry, and the newest version of the work book; None where there is none."""

    seq: int
    book: int | None


def stand(shop: Shop) -> Stand:
    """Return where the shop stands.

    Raises:
        Trouble: the file cannot be read.
    """
    with shop.reading() as db:
        seq, book = db.execute(
            "select (select max(seq) from ledger), (select max(version) from book)"
        ).fetchone()
        return Stand(seq, book)
