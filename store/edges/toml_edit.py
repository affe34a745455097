"""A TOML text changed at a few places: every letter elsewhere, comments too, stays as it was.

A library that reads TOML with its comments and writes it again was tried and left: it wrote tables
of the demo's work book twice. Here nothing is written again but what was meant.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Any

from store.edges.toml_lines import Path, Places, places_of

Edit = tuple[int, int, str]
"""From a letter to another, what stands there instead."""
_COMMENT = re.compile(r"[ \t]*#[^\n]*\n")
_REST_OF_LINE = re.compile(r"[^\n]*\n?")
_BLANK_LINES = re.compile(r"(?:[ \t]*\n)*")


@dataclass(slots=True)
class Source:
    """A TOML text, what it says, and where it says it; its lines end with LF alone."""

    text: str
    raw: dict[str, Any] = field(init=False)
    places: Places = field(init=False)

    def __post_init__(self) -> None:
        self.text = self.text.removeprefix("\ufeff").replace("\r\n", "\n")
        if self.text and not self.text.endswith("\n"):
            self.text += "\n"
        self.raw = tomllib.loads(self.text)
        self.places = places_of(self.text)

    def value(self, path: Path, new: str) -> Edit:
        """Put another value at a path."""
        start, end = self.places.values[path]
        return start, end, new

    def has(self, path: Path) -> bool:
        """Whether a value stands at a path."""
        return path in self.places.values

    def blocks(self, path: Path) -> list[tuple[int, int]]:
        """Every `[header]` at or under a path with what stands under it, as spans.

        The comment right above a header belongs to it; what stands under the last value does not.
        """
        tables = self.places.tables
        ends = [start for _, start in tables[1:]] + [len(self.text)]
        found: list[tuple[int, int]] = []
        for (table, start), end in zip(tables, ends, strict=True):
            if table[: len(path)] == path:
                found.append((self._with_comment(start), self._last_of(start, end)))
        return found

    def _last_of(self, start: int, end: int) -> int:
        inside = [stop for first, stop in self.places.values.values() if start <= first < end]
        last = max(inside, default=start)
        rest = _REST_OF_LINE.match(self.text, last)
        return rest.end() if rest else last

    def _with_comment(self, start: int) -> int:
        """Where the comment lines right above a header begin."""
        floor = max((stop for _, stop in self.places.values.values() if stop <= start), default=0)
        while start > floor:
            above = self.text.rfind("\n", 0, start - 1) + 1
            if above < floor or _COMMENT.fullmatch(self.text, above, start) is None:
                break
            start = above
        return start

    def without(self, path: Path) -> list[Edit]:
        """Take out everything at or under a path, with the blank lines that follow it."""
        found: list[Edit] = []
        for start, end in self.blocks(path):
            blank = _BLANK_LINES.match(self.text, end)
            found.append((start, blank.end() if blank else end, ""))
        return found

    def line_out(self, path: Path) -> Edit:
        """Take the whole line of a `key = value` out."""
        start, end = self.places.values[path]
        rest = _REST_OF_LINE.match(self.text, end)
        return self.text.rfind("\n", 0, start) + 1, rest.end() if rest else end, ""

    def under(self, path: Path) -> int:
        """Where something new under a table goes: after the last of what belongs to it."""
        return max(end for _, end in self.blocks(path))

    def made(self, edits: Iterable[Edit]) -> str:
        """The text with all edits; what lies inside something taken out falls with it."""
        parts: list[str] = []
        at = 0
        for start, end, new in sorted(edits, key=lambda edit: (edit[0], -edit[1])):
            if start < at:
                continue
            parts += [self.text[at:start], new]
            at = end
        return "".join([*parts, self.text[at:]])

    def copied(self, span: tuple[int, int], edits: Sequence[Edit]) -> str:
        """A part of the text with the edits that lie inside it."""
        start, end = span
        inside = [edit for edit in edits if start <= edit[0] and edit[1] <= end]
        return self.made([(0, start, ""), *inside, (end, len(self.text), "")])


def text_value(text: str) -> str:
    """A text as TOML writes it (TOML 1.0, basic string)."""
    escaped = text.replace("\\", "\\\\").replace('"', '\\"')
    shown = (one if one.isprintable() else f"\\U{ord(one):08x}" for one in escaped)
    return f'"{"".join(shown)}"'


def number_value(number: float) -> str:
    """A number as TOML writes it, with its point."""
    return repr(float(number))


def list_value(items: Iterable[str]) -> str:
    """Values in brackets."""
    return f"[{', '.join(items)}]"
