"""Works out what work would take, one question at a time, as long as somebody listens.

It is this module run by itself, `python -m tui.intake.next_door FILE`: questions come in through
its standard input, answers go out part by part. It ends when the pipe is closed.
"""

from __future__ import annotations

import os
import pickle
import select
import sys
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

from store.file.shop import Shop
from store.trouble import Trouble
from store.views.estimate import Depth, get_ready
from tui.intake.reckoned import LENGTH, Question, packed, reckon

PARTS: tuple[Depth, ...] = ("hours", "dates", "whole")


def _questions() -> Iterator[Question]:
    """What is asked, until the pipe is closed."""
    while True:
        head = _read(LENGTH.size)
        body = _read(LENGTH.unpack(head)[0]) if head else b""
        if not body:
            return
        yield pickle.loads(body)


def _read(many: int) -> bytes:
    """So many bytes; none where the pipe was closed before."""
    found = b""
    while len(found) < many:
        more = os.read(0, many - len(found))
        if not more:
            return b""
        found += more
    return found


def _is_gone() -> bool:
    """Whether nobody listens any more; an answer that nobody wants is not worked out."""
    ready, _, _ = select.select([0], [], [], 0.0)
    return bool(ready)


def main() -> int:
    """Answer until the pipe is closed."""
    shop = Shop(Path(sys.argv[1]))
    out = sys.stdout.buffer
    with suppress(Trouble):
        get_ready(shop)
    with suppress(BrokenPipeError):
        for question in _questions():
            for depth in PARTS:
                part = reckon(shop, question, depth)
                out.write(packed(part))
                out.flush()
                if part.found is None or _is_gone():
                    break
    shop.close()
    return 0


if __name__ == "__main__":
    sys.exit(main())
