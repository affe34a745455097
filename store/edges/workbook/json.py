"""The work book as JSON, as the shop file keeps it: one book, one text."""

from __future__ import annotations

import json
from dataclasses import dataclass, fields
from typing import Any

from pydantic import TypeAdapter, ValidationError

from store.rules.book import Operation, Phase, WorkBook
from store.trouble import Trouble


class BadBookText(Trouble):
    """A stored work book cannot be read."""

    def __init__(self, says: str) -> None:
        super().__init__(
            f"The stored work book cannot be read ({says}). Restore the shop file from a backup."
        )


@dataclass(frozen=True, slots=True)
class _Lists:
    """What JSON objects would not keep: phases and operations in the order of the book."""

    phases: tuple[Phase, ...]
    operations: tuple[Operation, ...]


def to_json(book: WorkBook) -> str:
    """Canonical text: keys sorted, no blanks, phases and operations as lists in their order."""
    values = TypeAdapter(WorkBook).dump_python(book, mode="json")
    for each in fields(_Lists):
        values[each.name] = list(values[each.name].values())
    for phase in values["phases"]:
        _spare(phase)
    return json.dumps(
        values, sort_keys=True, separators=(",", ":"), ensure_ascii=False, allow_nan=False
    )


def _spare(phase: dict[str, Any]) -> None:
    """A book without hours for families keeps the text that it had before there were any."""
    for one in (phase, *phase["hours_for"]):
        if one["learned"] == 1.0:
            del one["learned"]
    if not phase["hours_for"]:
        del phase["hours_for"]


def from_json(text: str) -> WorkBook:
    """The book that `to_json` wrote.

    Raises:
        BadBookText: the text is something else.
    """
    try:
        values: dict[str, list[dict[str, str]]] = json.loads(text)
        by_code = {
            each.name: {item["code"]: item for item in values[each.name]} for each in fields(_Lists)
        }
        return TypeAdapter(WorkBook).validate_python({**values, **by_code})
    except (ValueError, KeyError, TypeError, ValidationError) as error:
        raise BadBookText(type(error).__name__) from error
