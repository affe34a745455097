"""Where in a TOML text each key stands, since the standard reader does not say.

Read only texts that the standard reader has accepted: nothing is checked here.
"""

from __future__ import annotations

import re
from bisect import bisect_left
from dataclasses import dataclass, field

Path = tuple[str | int, ...]

_BLANK = re.compile(r"(?:[ \t\r\n]|#[^\n]*)*")
_BARE = re.compile(r"[A-Za-z0-9_-]+")
_SCALAR = re.compile(r"[^,\]}#\n]*")
_STRINGS = (
    re.compile(r'"""(?:\\.|[^\\])*?"""(?:"{0,2})', re.DOTALL),
    re.compile(r"'''.*?'''(?:'{0,2})", re.DOTALL),
    re.compile(r'"(?:\\.|[^"\\])*"'),
    re.compile(r"'[^']*'"),
)


def lines_of(text: str) -> dict[Path, int]:
    """Line (from 1) of every table, key and list element, by its path."""
    return _Walk(text.replace("\r\n", "\n")).run()


@dataclass(frozen=True, slots=True)
class Places:
    """Where things stand in a text without carriage returns, as positions of letters.

    Attributes:
        values: by path, from the first letter of a value to the one after its last.
        tables: path and first letter of every `[header]`, from the top down.
    """

    values: dict[Path, tuple[int, int]]
    tables: tuple[tuple[Path, int], ...]


def places_of(text: str) -> Places:
    """Where every value and table of a text stands; it holds no carriage return."""
    walk = _Walk(text)
    walk.run()
    return Places(walk.values, tuple(walk.tables))


def line_of(lines: dict[Path, int], path: Path) -> int:
    """Line of the path, or of the nearest thing around it; 1 at the very top."""
    for length in range(len(path), 0, -1):
        if path[:length] in lines:
            return lines[path[:length]]
    return 1


@dataclass(slots=True)
class _Walk:
    text: str
    at: int = 0
    lines: dict[Path, int] = field(default_factory=dict[Path, int])
    counts: dict[Path, int] = field(default_factory=dict[Path, int])
    values: dict[Path, tuple[int, int]] = field(default_factory=dict[Path, tuple[int, int]])
    tables: list[tuple[Path, int]] = field(default_factory=list[tuple[Path, int]])
    ends: list[int] = field(init=False)

    def __post_init__(self) -> None:
        self.ends = [found.start() for found in re.finditer("\n", self.text)]

    def run(self) -> dict[Path, int]:
        table: Path = ()
        self._blank()
        while self.at < len(self.text):
            if self._peek("["):
                table = self._header()
            else:
                self._pair(table)
            self._blank()
        return self.lines

    def _header(self) -> Path:
        start, repeated = self.at, self.text.startswith("[[", self.at)
        self.at += 2 if repeated else 1
        *around, last = self._key()
        self.at += 2 if repeated else 1
        path: Path = (*self._inside((), around), last)
        if repeated:
            number = self.counts.get(path, -1) + 1
            self.counts[path] = number
            self.lines.setdefault(path, self._line(start))
            path = (*path, number)
        self.lines[path] = self._line(start)
        self.tables.append((path, start))
        return path

    def _inside(self, path: Path, keys: list[str]) -> Path:
        """A name on the way that is a list of tables means its last one."""
        for key in keys:
            path = (*path, key)
            if path in self.counts:
                path = (*path, self.counts[path])
        return path

    def _pair(self, table: Path) -> None:
        start = self.at
        path = table
        for key in self._key():
            path = (*path, key)
            self.lines.setdefault(path, self._line(start))
        self.at += 1  # the equals sign
        self._value(path)

    def _key(self) -> list[str]:
        keys: list[str] = []
        while True:
            self._blank()
            keys.append(self._word())
            self._blank()
            if not self._peek("."):
                return keys
            self.at += 1

    def _word(self) -> str:
        bare = _BARE.match(self.text, self.at)
        if bare:
            self.at = bare.end()
            return bare[0]
        return self._string()[1:-1]

    def _value(self, path: Path) -> None:
        self._blank()
        start = self.at
        self._any_value(path)
        end = self.at
        self.values[path] = (start, start + len(self.text[start:end].rstrip()))

    def _any_value(self, path: Path) -> None:
        if self._peek("["):
            self._list(path)
        elif self._peek("{"):
            self._table(path)
        elif self._peek('"') or self._peek("'"):
            self._string()
        else:
            found = _SCALAR.match(self.text, self.at)
            self.at = found.end() if found else len(self.text)

    def _list(self, path: Path) -> None:
        self.at += 1
        number = 0
        while self._more("]"):
            self.lines[(*path, number)] = self._line(self.at)
            self._value((*path, number))
            number += 1

    def _table(self, path: Path) -> None:
        self.at += 1
        while self._more("}"):
            self._pair(path)

    def _more(self, end: str) -> bool:
        self._blank()
        if self._peek(","):
            self.at += 1
            self._blank()
        if self._peek(end) or self.at >= len(self.text):
            self.at += 1
            return False
        return True

    def _string(self) -> str:
        for shape in _STRINGS:
            found = shape.match(self.text, self.at)
            if found:
                self.at = found.end()
                return found[0]
        self.at += 1
        return ""

    def _blank(self) -> None:
        found = _BLANK.match(self.text, self.at)
        self.at = found.end() if found else self.at

    def _peek(self, sign: str) -> bool:
        return self.text.startswith(sign, self.at)

    def _line(self, at: int) -> int:
        return bisect_left(self.ends, at) + 1
