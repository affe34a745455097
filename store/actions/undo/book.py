"""A version of the work book taken back, and what a month cost."""

from __future__ import annotations

from store.actions.acting import Acting
from store.actions.books import record_book
from store.edges.events.book import BookLoaded
from store.edges.events.month import MonthCosts, MonthCostsTakenBack
from store.file.books import book_of
from store.file.ledger import Row
from store.trouble import Refused


def book_back(doing: Acting, row: Row, event: BookLoaded) -> None:
    """The book before holds again, as the next version; jobs taken in between keep theirs.

    Raises:
        Refused: another version was loaded since, or it was the first one.
    """
    newest = doing.db.execute("select max(version) from book").fetchone()[0]
    if newest != event.version:
        raise Refused(f"Work book {newest} was loaded since: it stays.")
    before = doing.db.execute(
        "select version, source, content from book where version < ? order by version desc limit 1",
        [event.version],
    ).fetchone()
    if before is None:
        raise Refused("That is the first work book: there is none to go back to. Load another one.")
    record_book(
        doing, event.version + 1, before["source"], book_of(doing.db, before["version"]),
        before["content"], f"work book {event.version} taken back: as version {before['version']}",
    )  # fmt: skip


def costs_back(doing: Acting, row: Row, event: MonthCosts) -> None:
    """What was said of a month before holds again.

    Raises:
        Refused: it was said anew since.
    """
    newer = doing.db.execute(
        "select 1 from month_cost where month = ? and seq > ?", [event.month, row.seq]
    ).fetchone()
    if newer is not None:
        raise Refused(f"The costs of {event.month} were said anew since: what is said now stays.")
    doing.record(MonthCostsTakenBack(entry=row.seq))
