"""A day or an instant, where a command takes either."""

from __future__ import annotations

import re
from datetime import datetime

from store.trouble import Refused
from tui.cli.call import Call
from tui.words import local

DAY = re.compile(r"\d{4}-\d\d-\d\d", re.ASCII)


def by_when(call: Call, name: str) -> datetime | None:
    """An instant that was typed; a day alone is the end of its last shift.

    Raises:
        WrongUsage: it is neither.
        Refused: the shop is closed on that day.
    """
    text = call.typed.maybe(name)
    if text is None or not DAY.fullmatch(text.strip()):
        return call.instant(name)
    from store.views.opening import end_of_day

    day = call.typed.date(name)
    assert day is not None
    try:
        return end_of_day(call.shop, day)
    except Refused:
        if day < local(call.terminal.clock.look(), call.terminal.zone).date():
            raise Refused(f"{day} lies in the past: give a later day.") from None
        raise
