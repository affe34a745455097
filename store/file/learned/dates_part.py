"""How labour becomes days: the shop's waits, holds, standing and outwork, from its closed jobs."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from store.file.learned.cases import Cases, digest
from store.file.learned.kept import Part
from store.learn.dates.spans import OpenHours

if TYPE_CHECKING:
    from pydantic import TypeAdapter

    from store.learn.dates.learned import Learned

NAME, VERSION = "dates", "4"


@dataclass(frozen=True, slots=True)
class Dates:
    """What was learned, and the instant (POSIX seconds) from which its open hours are counted."""

    since: float
    learned: Learned


def learn(cases: Cases, known: Part | None) -> Part:
    """Play the past and count."""
    from store.learn.dates.events import events
    from store.learn.dates.learned import Learned
    from store.learn.dates.replay import plans_of
    from store.learn.dates.shop import Floor

    jobs = {one.job for one in cases.spans}
    records = tuple(one for one in cases.records if one.job in jobs)
    mark = digest(records, cases.spans)
    if known is not None and known.digest == mark:
        return Part(NAME, VERSION, cases.at, known.cases, mark)
    learned, since = Learned(), 0.0
    if records and cases.open:
        hours, since = OpenHours(cases.open), cases.open[0][0]
        floor = Floor(hours, learned, plans_of(records, cases.spans))
        told = [one for one in cases.spans if one.job in floor.plans]
        for event in events(records, told, hours):
            floor.take(event)
    learned.lately = type(learned.lately)()  # is told anew at every moment
    content = _adapter().dump_json((since, learned))
    return Part(NAME, VERSION, cases.at, len(records), mark, content)


def read(part: Part) -> Dates:
    """Return what was learned.

    Raises:
        ValueError: the bytes are not what this version keeps.
    """
    since, learned = _adapter().validate_json(part.content or b"")
    return Dates(since, learned)


def _adapter() -> TypeAdapter[tuple[float, Learned]]:
    from pydantic import TypeAdapter

    from store.learn.dates.learned import Learned

    return TypeAdapter(tuple[float, Learned])
