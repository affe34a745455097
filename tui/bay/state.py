"""What a screen adds to the bay's values: what the pad does now and what was just said."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import NamedTuple


class PadKey(NamedTuple):
    """What a digit does now; a hot one is what is most likely wanted next."""

    words: str
    hot: bool = False


PAD: Mapping[str, PadKey] = {
    "7": PadKey("steps"),
    "8": PadKey("up"),
    "9": PadKey("help"),
    "4": PadKey("hold: cannot go on"),
    "5": PadKey("found something"),
    "6": PadKey("other bay work"),
    "1": PadKey("clock on or off", hot=True),
    "2": PadKey("over to ..."),
    "3": PadKey("step done", hot=True),
    "0": PadKey("undo last"),
    ".": PadKey("called away"),
    "-": PadKey("day sheet"),
}
SCAN = "scan a job, phase, step, kit or badge at any time"


@dataclass(frozen=True, slots=True)
class BayState:
    """All defaults: the home screen, nothing said.

    Attributes:
        pad: by digit, laid out as under the glove; a missing digit leaves its place empty.
        step: which of the steps not done one stands on, from 0.
        said: what was just done or refused; instead of the person's newest entry. A refusal
            begins with `!`.
        scan: the last line's left end.
        stale: the time of the values in words when the file can no longer be read.
    """

    pad: Mapping[str, PadKey] = field(default_factory=lambda: PAD)
    step: int = 0
    said: str | None = None
    scan: str = SCAN
    stale: str | None = None
