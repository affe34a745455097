"""A list that is filled in: each line has its key, and Enter takes all of it as it stands.

What somebody filled in and left is there when they return, and after a refusal too; it goes when
it was done, or when somebody else signs in.
"""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Sequence
from typing import Any, NamedTuple, TypeVar

from rich.cells import cell_len

from store.trouble import Refused
from tui.parts.painted import Painted
from tui.parts.prompt import Option
from tui.parts.talk import Back
from tui.words import cut

S = TypeVar("S")
TAKE = "Enter"
GAP = 3


class Entry(NamedTuple):
    """One line: its key, what it is, and what it says now."""

    key: str
    label: str
    says: str


class Filling(NamedTuple):
    """What is filled in.

    Attributes:
        about: under which it is kept until it is done: a word and a job.
        verb: what Enter does.
    """

    about: tuple[str, str]
    title: str
    verb: str


async def fill_in(
    screen: Painted[Any],
    what: Filling,
    first: S,
    entries: Callable[[S], Sequence[Entry]],
    change: Callable[[str, S], Awaitable[S]],
    *,
    facts: Callable[[S], Sequence[str]] = lambda found: (),
    done_by: str = "",
) -> S:
    """Have a list filled in; what it says when Enter is pressed.

    Args:
        first: what it says where nothing was filled in before.
        change: what it says after a key of a line was pressed; Esc in it leaves it as it was.
        done_by: keys that are answer and end at once, beside Enter.

    Raises:
        Back: Esc; what was filled in is kept.
    """
    kept = screen.session.filled
    found: S = kept.get(what.about, first)
    while True:
        lines = list(entries(found))
        options = [*_options(screen, lines), Option(TAKE, what.verb, hot=True)]
        key = await screen.talk.pick(what.title, options, facts=facts(found))
        if key != TAKE:
            found = await _changed(screen, change(key, found), found)
        kept[what.about] = found
        if key in (TAKE, *done_by):
            return found


async def _changed(screen: Painted[Any], change: Awaitable[S], before: S) -> S:
    """What the list says after a question; Esc leaves it as it was, so does a refusal."""
    try:
        return await change
    except Back:
        return before
    except Refused as refused:
        screen.say_no(str(refused))
        return before


def forget(screen: Painted[Any], what: Filling) -> None:
    """It was done: the next one begins anew."""
    screen.session.filled.pop(what.about, None)


def _options(screen: Painted[Any], lines: Sequence[Entry]) -> list[Option]:
    wide = max((cell_len(line.label) for line in lines), default=0) + GAP
    room = screen.board_size[0] - wide - 10
    more = screen.session.signs.more
    return [
        Option(line.key, f"{line.label}{' ' * (wide - cell_len(line.label))}"
               f"{cut(line.says, room, more)}".rstrip())
        for line in lines
    ]  # fmt: skip
