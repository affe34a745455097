"""Where the phases and operations of a work book stand in its TOML, by their codes."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from typing import Any, cast

from store.edges.toml_lines import Path
from store.trouble import Refused

Table = Mapping[str, Any]
CODE = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]{0,15}", re.ASCII)
"""What a new code may be."""


def phase_path(raw: Table, code: str) -> Path:
    """Where a phase is written; `GB-off` is one side of an access.

    Raises:
        Refused: the book has none of that code.
    """
    for i, phase in enumerate(tables_of(raw, "phase")):
        if phase.get("code") == code:
            return ("phase", i)
    for i, access in enumerate(tables_of(raw, "access")):
        name = str(access.get("code"))
        if name == code and "off" not in access:
            return ("access", i)
        for side in ("off", "on"):
            if side in access and code == f"{name}-{side}":
                return ("access", i, side)
    raise Refused(f"The work book has no phase {code}. See them: hoistbook workbook show.")


def operation_path(raw: Table, code: str) -> Path:
    """Where an operation is written.

    Raises:
        Refused: the book has none of that code.
    """
    for i, operation in enumerate(tables_of(raw, "operation")):
        if operation.get("code") == code:
            return ("operation", i)
    raise Refused(f"The work book has no operation {code}. See them: hoistbook workbook show.")


def coming_path(raw: Table, operation: str, code: str) -> Path:
    """Where a surprise or neighbouring work is written.

    Raises:
        Refused: the operation has none of that code.
    """
    path = operation_path(raw, operation)
    for word in ("surprise", "neighbour"):
        for i, one in enumerate(tables_of(value_at(raw, path), word)):
            if one.get("code") == code:
                return (*path, word, i)
    raise Refused(f"{operation} has no surprise and no neighbouring work {code}.")


def tables_of(raw: Table, name: str) -> Sequence[Table]:
    """The tables of that name; none where the book has none."""
    return cast("Sequence[Table]", raw.get(name, ()))


def value_at(raw: Table, path: Path) -> Any:
    """What stands at a path."""
    found: Any = raw
    for part in path:
        found = found[part]
    return found
