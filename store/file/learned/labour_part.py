"""What work really takes here, from every finished phase whose clocks were confirmed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from store.file.learned.cases import Cases, digest
from store.file.learned.kept import Part

if TYPE_CHECKING:
    from store.learn.labour.labour import Labour

NAME, VERSION = "labour", "1"


def learn(cases: Cases, known: Part | None) -> Part:
    """Fit from the beginning, so that the same cases teach the same."""
    mark = digest(cases.records, cases.people)
    if known is not None and known.digest == mark:
        return Part(NAME, VERSION, cases.at, known.cases, mark)
    from store.learn.labour.kept import pack
    from store.learn.labour.labour import learned

    content = pack(learned(cases.records, cases.people, cases.as_of), cases.live)
    return Part(NAME, VERSION, cases.at, len(cases.records), mark, content)


def read(part: Part) -> Labour:
    """Return what was learned.

    Raises:
        ValueError: the bytes are not what this version keeps.
    """
    from store.learn.labour.kept import unpack

    return unpack(part.content or b"")
