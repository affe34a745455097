"""Steps of the work book as plain values, built from their JSON without a checker.

Screens need them before their first paint, when the checker is not loaded yet; what is in the
ledger was checked when it went in.
"""

from __future__ import annotations

import json
from functools import lru_cache
from typing import Any

from store.rules.book import Answer, Reading, Step, When

STEP_LISTS = ("needs", "blocks", "opens", "closes")


@lru_cache(maxsize=4096)
def step_from(text: str, blocks: str | None = None) -> Step:
    """Return the step that a JSON text of the work book describes.

    Args:
        blocks: JSON list of what it blocks as called in one job's route; None leaves the book's.
    """
    raw: dict[str, Any] = json.loads(text)
    if blocks is not None:
        raw["blocks"] = json.loads(blocks)
    raw["when"] = When()
    for name in STEP_LISTS:
        raw[name] = tuple(raw.get(name, ()))
    raw["readings"] = tuple(_reading(one) for one in raw.get("readings", ()))
    raw["answers"] = tuple(Answer(**one) for one in raw.get("answers", ()))
    return Step(**raw)


def _reading(raw: dict[str, Any]) -> Reading:
    fields = dict(raw)
    fields["positions"] = tuple(raw.get("positions", ()))
    return Reading(**fields)
