"""What is read for a month and written out of it, away from the event loop."""

from __future__ import annotations

from pathlib import Path

from store.file.shop import Shop
from store.trouble import Refused
from store.views.ledger import ledger
from store.views.month.values import Month
from store.views.month.way import Way
from tui.month.state import Line


def entries(shop: Shop, way: Way) -> Line:
    """The entries of the ledger that a line comes from."""
    found: list[Line] = []
    for seq in way.events:
        entry = next(iter(ledger(shop, since_seq=seq)), None)
        if entry is None or entry.seq != seq:
            raise Refused(f"Entry {seq} is not in the ledger of this shop.")
        says = f"entry {seq}, {entry.badge}: {entry.says}"
        found.append(Line(Way(says, None, _job(entry.payload, way), at=entry.happened_at), "n"))
    return Line(Way("entries"), "n", "As they were written down.", tuple(found))


def _job(payload: dict[str, object], way: Way) -> str | None:
    job = payload.get("job")
    return job if isinstance(job, str) else way.job


def write_report(shop: Shop, found: Month, target: Path) -> str:
    """Write the page, and the tables into a folder beside it; what was written, in words.

    Raises:
        Trouble: it cannot be written; what was there is as it was.
    """
    from store.file.text_out import write_text
    from tui.cli.csv_month import TABLES, write_tables
    from tui.cli.month import check_page
    from tui.papers.month_html import month_html

    folder = target.with_suffix("")
    check_page(target)
    write_tables(found, folder)
    write_text(target, month_html(found))
    return f"Written: {target}, and {len(TABLES)} tables in {folder}."
