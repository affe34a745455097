"""The first work book of a shop: the demo's operations, some of them, or its small example.

What is chosen is copied into the shop file; nothing of the demo's is read again afterwards.
"""

from __future__ import annotations

import tomllib
from collections.abc import Sequence
from functools import cache
from importlib.resources import files

from store.trouble import Refused

ALL, NONE = "all", "none"
SMALL = "CP"
"""The operation of the small example, which is a book of its own."""


@cache
def _text(name: str) -> str:
    return files("demo").joinpath(name).read_text("utf-8")


def small_example() -> str:
    """A book of one operation with notes, to be copied and changed."""
    return _text("starter.toml")


@cache
def offered() -> tuple[tuple[str, str], ...]:
    """Code and name of each operation that a shop can begin with."""
    raw = tomllib.loads(_text("workbook.toml"))
    small = tomllib.loads(small_example())
    return tuple((str(one["code"]), str(one["name"]))
                 for one in (*raw["operation"], *small["operation"]))  # fmt: skip


def read_starter(text: str) -> tuple[str, ...]:
    """Codes of the operations that a text names; () for none.

    Raises:
        Refused: one is not offered, or the small example is named among others.
    """
    words = text.replace(",", " ").replace(";", " ").split()
    if [one.lower() for one in words] in ([NONE], []):
        return ()
    known = [code for code, _ in offered()]
    if [one.lower() for one in words] == [ALL]:
        return tuple(code for code in known if code != SMALL)
    wanted = [one.upper() for one in words]
    unknown = next((one for one in wanted if one not in known), None)
    if unknown is not None:
        raise Refused(f"{unknown[:20]} is not offered. Name some of {', '.join(known)}, or all.")
    if SMALL in wanted and len(set(wanted)) > 1:
        raise Refused(f"{SMALL} is a small book of its own: name it alone, or leave it out.")
    return tuple(code for code in known if code in wanted)


def starter_book(codes: Sequence[str], name: str) -> str | None:
    """The work book of these operations under the shop's name; None where none is wanted."""
    from store.edges.workbook.edit import name_book
    from store.edges.workbook.keep import keep

    if not codes:
        return None
    whole = small_example() if SMALL in codes else keep(_text("workbook.toml"), codes)
    return name_book(whole, f"Work book of {name}")
