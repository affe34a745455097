"""What a command prints: lines for standard output, faults for the other, and the status."""

from __future__ import annotations

import json
import re
import sys
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeAlias

from store.edges.showable import bare

if TYPE_CHECKING:
    from store.actions.acting import Done

JsonValue: TypeAlias = "str | int | float | bool | Sequence[JsonValue] | Document | None"
Document: TypeAlias = "Mapping[str, JsonValue]"

STEERING = re.compile("[\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069\ud800-\udfff]")
"""What JSON may hold as it is and no terminal should; as its code it reads back the same."""
DONE, REFUSED, WRONG = 0, 1, 2
"""Exit status."""


@dataclass(frozen=True, slots=True)
class Answer:
    """What a command answers.

    Attributes:
        lines: for standard output.
        faults: for standard error, one line each.
        status: 0 done, 1 refused.
    """

    lines: Iterable[str] = ()
    faults: tuple[str, ...] = ()
    status: int = DONE


def encoded(document: Document) -> str:
    """A document on one line, keys in their order."""
    plain = (getattr(sys.stdout, "encoding", None) or "utf-8").lower().replace("-", "") != "utf8"
    text = json.dumps(document, ensure_ascii=plain, allow_nan=False, separators=(", ", ": "))
    return STEERING.sub(lambda hit: f"\\u{ord(hit[0]):04x}", text)


def shown(line: str) -> str:
    """What goes to a terminal: nothing in it steers one, wherever its texts came from."""
    return bare(line, kept="\n\t")


def of_done(done: Done, *, as_json: bool, text: str | None = None) -> Answer:
    """The answer of a writing command; `text` instead of what it says, where that is asked for."""
    if as_json:
        return Answer((encoded(
            {"recorded": list(done.recorded), "job": done.job, "says": done.says}
        ),))  # fmt: skip
    return Answer((done.says if text is None else text,))


def of_words(says: str, *, as_json: bool) -> Answer:
    """The answer of a command that wrote nothing into the ledger."""
    if as_json:
        return Answer((encoded({"recorded": [], "job": None, "says": says}),))
    return Answer((says,))


def hours(value: float) -> float:
    """Hours as a JSON number, finer than a thousandth."""
    return round(value, 5) + 0.0


def money(value: float | None) -> float | None:
    """Money as a JSON number, to the hundredth."""
    return None if value is None else round(value, 2) + 0.0
