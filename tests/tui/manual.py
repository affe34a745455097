"""The table of keys as the manual has it."""

from __future__ import annotations

from tui.keys import TABLES, Meaning


def rows() -> list[str]:
    """One line a place: every id with its keys as they are built in."""
    return [
        f"| `{name.replace(' ', '-')}` | {', '.join(_words(line) for line in table.built)} |"
        for name, table in TABLES.items()
    ]


def _words(line: Meaning) -> str:
    return f"`{line.id}` {' '.join('Space' if key == ' ' else key for key in line.keys)}"
