"""Screens kept as plain text: `HOISTBOOK_GOLDEN=1 pytest tests/looks` writes them anew."""

from __future__ import annotations

import os
from collections.abc import Sequence
from pathlib import Path

SCREENS = Path(__file__).parent / "screens"


def compare(name: str, lines: Sequence[str]) -> None:
    """Fail where the screen differs from the one that is kept; look at it before keeping it."""
    kept = SCREENS / f"{name}.txt"
    shown = "".join(f"{line.rstrip()}\n" for line in lines)
    if os.environ.get("HOISTBOOK_GOLDEN"):
        SCREENS.mkdir(exist_ok=True)
        kept.write_text(shown, encoding="utf-8")
    assert shown == kept.read_text(encoding="utf-8"), f"{name} looks different; see {kept}"
