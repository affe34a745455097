"""What people typed, on its way into the ledger: checked at this one place, in words.

A text is one line of signs that can be shown. Line breaks, tabs and other control characters are
refused, not cleaned: a text that changes silently is not what somebody said. White space at
either end means nothing and is the terminal's to take off. The source of a work book is a file of
many lines and stays out of this.
"""

from __future__ import annotations

import re
from collections.abc import Generator, Iterator, Sequence
from contextlib import contextmanager
from typing import cast

from pydantic import ValidationError

from store.edges.events.base import Event, Piece
from store.edges.events.book import BookLoaded
from store.edges.showable import showable
from store.file.ledger import is_plain
from store.trouble import Refused

LONGEST = 2000
"""Signs of the longest text; more was pasted by mistake."""
BLANK = re.compile('" +"')
"""A text of nothing but spaces, in JSON written without spaces of its own."""


class BadText(Refused):
    """A text that is not one line of signs."""

    def __init__(self, where: str) -> None:
        super().__init__(
            f"The {where} holds a line break or a sign that cannot be shown. Type it on one line."
        )


class BadInput(Refused):
    """A value outside what can be."""


def may_be_unshowable(payload: str) -> bool:
    """Tell quickly whether an event's texts need a closer look: few do."""
    if not is_plain(payload) or ('" ' in payload and BLANK.search(payload) is not None):
        return True
    return len(payload) > LONGEST and max(map(len, payload.split('"'))) > LONGEST


def refuse_unshowable(event: Event) -> None:
    """Refuse an event whose texts are not single lines of signs.

    Raises:
        BadText, BadInput: naming the field.
    """
    if isinstance(event, BookLoaded):
        return
    for name in type(event).model_fields:
        for text in _texts(getattr(event, name)):
            if not showable(text):
                raise BadText(name.replace("_", " "))
            if len(text) > LONGEST or (text and not text.strip()):
                raise BadInput(
                    f"The {name.replace('_', ' ')} is blank, or longer than {LONGEST} signs. "
                    "Type it anew."
                )


def _texts(value: object) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, Piece):
        for name in type(value).model_fields:
            yield from _texts(getattr(value, name))
    elif isinstance(value, dict):
        for pair in cast("dict[object, object]", value).items():
            yield from _texts(pair)
    elif isinstance(value, (list, tuple)):
        for each in cast("Sequence[object]", value):
            yield from _texts(each)


@contextmanager
def in_words() -> Generator[None]:
    """Say in one line what no event or file can take.

    Raises:
        BadInput, BadText: naming the field, what is wrong and what can be.
    """
    try:
        yield
    except CANNOT_BE as error:
        raise put_into_words(error) from error


CANNOT_BE = (ValidationError, UnicodeEncodeError, OverflowError)
"""What is raised by a value that no event or file can take."""


def put_into_words(error: ValidationError | UnicodeEncodeError | OverflowError) -> Refused:
    """Return what one of them means, in one line."""
    if isinstance(error, UnicodeEncodeError):
        return BadText("text")
    if isinstance(error, OverflowError):
        return BadInput("That number is too large. Type it anew.")
    first = error.errors(include_url=False, include_context=False)[0]
    field = " ".join(str(part) for part in first["loc"]).replace("_", " ") or "input"
    return BadInput(f"The {field} cannot be that: {_reason(first['msg'])}.")


def _reason(message: str) -> str:
    says = message.replace("Input should be ", "it is to be ").replace(
        "String should ", "it is to "
    )
    return says.replace("should ", "is to ").replace("List is to", "it is to").rstrip(".")
