"""The work book in the shop file: a new version from its TOML."""

from __future__ import annotations

from store.actions.acting import Acting, Done, acting
from store.edges.events.book import BookLoaded, KitKnown
from store.edges.workbook.json import to_json
from store.edges.workbook.model import load
from store.file.change import By
from store.file.shop import Shop
from store.rules.book import WorkBook
from store.trouble import Refused


class BookChanged(Refused):
    """Somebody else loaded another version since this one was looked at."""

    def __init__(self, upon: int, now: int) -> None:
        self.upon, self.now = upon, now
        super().__init__(
            f"The work book has changed since: version {now} holds, this was made from version "
            f"{upon}. Nothing was written. Look at it again, then do it once more."
        )


def load_workbook(
    shop: Shop, by: By, *, source: str, routes_tried: bool = False, upon: int | None = None
) -> Done:
    """Load a work book: jobs taken from today on use it, older ones keep theirs.

    Args:
        source: the TOML text.
        upon: the version that it was made from, where it was made from one.
        routes_tried: it comes with its tests, which have laid every route of it.

    Raises:
        BadWorkBook: with all faults; nothing was loaded.
        BookChanged: another version than `upon` holds.
        Refused: it is the same as the one that holds.
    """
    book = load(source, routes_tried=routes_tried)
    content = to_json(book)
    with acting(shop, by, "load work book") as doing:
        newest = doing.db.execute(
            "select version, content from book order by version desc limit 1"
        ).fetchone()
        if upon is not None and (newest is None or newest["version"] != upon):
            raise BookChanged(upon, 0 if newest is None else newest["version"])
        if newest is not None and newest["content"] == content:
            raise Refused(
                f"This is the same as work book {newest['version']}, which holds already."
            )
        version = 1 if newest is None else newest["version"] + 1
        record_book(doing, version, source, book, content)
        operations = len(book.operations)
        return doing.done(
            f"Work book {version} loaded: {operations} operation{'s' if operations != 1 else ''}, "
            f"{len(book.phases)} phases."
        )


def record_book(
    doing: Acting, version: int, source: str, book: WorkBook, content: str | None = None,
    cause: str | None = None,
) -> None:  # fmt: skip
    """Write a version of the work book down, and its tools; it holds from the act's day on."""
    doing.record(
        BookLoaded(
            version=version, from_day=doing.today.isoformat(), source=source,
            content=content or to_json(book), cause=cause,
        )
    )  # fmt: skip
    _know_kits(doing, book)


def _know_kits(doing: Acting, book: WorkBook) -> None:
    known = {row["code"]: row for row in doing.db.execute("select kit, code, name, owned from kit")}
    for kit in book.kits:
        there = known.get(kit.code)
        if there is None or (there["name"], bool(there["owned"])) != (kit.name, kit.owned):
            doing.record(
                KitKnown(
                    kit=there["kit"] if there else doing.change.new_id("k"),
                    code=kit.code, name=kit.name, owned=kit.owned,
                )
            )  # fmt: skip
