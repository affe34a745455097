"""What work really takes here, from every finished phase whose clocks were confirmed."""

from __future__ import annotations

from dataclasses import asdict
from typing import TYPE_CHECKING

from store.file.learned.cases import Cases, digest, plain
from store.file.learned.kept import Part

if TYPE_CHECKING:
    from store.learn.labour.labour import Labour

NAME, VERSION = "labour", "1"
TOLD, TOLD_VERSION = "told", "1"
"""The same as facts for people: JSON, read without any array."""


def learn(cases: Cases, known: Part | None, told: Part | None) -> tuple[Part, Part]:
    """Fit from the beginning, so that the same cases teach the same; tell it, while all is there.

    Args:
        known, told: what was learned and told before.
    """
    mark = digest(cases.records, cases.people)
    many = len(cases.records)
    if known is not None and told is not None and known.digest == told.digest == mark:
        return (
            Part(NAME, VERSION, cases.at, many, mark),
            Part(TOLD, TOLD_VERSION, cases.at, many, mark),
        )
    from store.learn.labour.kept import pack
    from store.learn.labour.labour import learned
    from store.learn.labour.told import told as told_of

    labour = learned(cases.records, cases.people, cases.as_of)
    facts = plain(asdict(told_of(labour, cases.as_of)))
    return (
        Part(NAME, VERSION, cases.at, many, mark, pack(labour, cases.live)),
        Part(TOLD, TOLD_VERSION, cases.at, many, mark, facts),
    )


def read(part: Part) -> Labour:
    """Return what was learned.

    Raises:
        ValueError: the bytes are not what this version keeps.
    """
    from store.learn.labour.kept import unpack

    return unpack(part.content or b"")
