"""A file of this machine named at a screen: the one place where what is typed becomes a path."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any, TypeVar

from store.trouble import Refused
from tui.parts.painted import Painted
from tui.parts.when import some

T = TypeVar("T")


async def ask_file(
    screen: Painted[Any],
    title: str,
    read: Callable[[Path], T],
    *,
    text: str = "",
    facts: Sequence[str] = (),
) -> T:
    """Have a file named; what cannot be one is explained and asked again.

    Args:
        read: makes the answer of the path, or raises Trouble with what is wrong.
        text: stands there at first.

    Raises:
        Back: Esc.
        Refused: this line reaches no files.
    """
    screen.session.refuse_files()
    return await screen.talk.type(
        title, "file", lambda typed: _read(typed, read), text=text, facts=facts
    )


async def ask_target(
    screen: Painted[Any], title: str, *, text: str = "", ends: str = "", facts: Sequence[str] = ()
) -> Path:
    """Have a file named that is to be written; never the shop file.

    Args:
        ends: what its name ends with, where that matters.

    Raises:
        Back: Esc.
        Refused: this line reaches no files.
    """
    shop = screen.session.shop.path

    def read(path: Path) -> Path:
        if path.resolve().name.startswith(shop.resolve().name):
            raise Refused("That is the shop file. Type another name.")
        if ends and path.suffix.lower() not in (ends, ends[:-1]):
            raise Refused(f"The page is an {ends} file. Type a name that ends so.")
        return path

    return await ask_file(screen, title, read, text=text, facts=facts)


def _read(typed: str, read: Callable[[Path], T]) -> T:
    try:
        return read(Path(some(typed)).expanduser())
    except (OSError, RuntimeError, ValueError) as error:  # too long; the home of nobody
        why = error.strerror if isinstance(error, OSError) else None
        raise Refused(f"{typed[:40]} cannot be a file here: {why or error}.") from None
