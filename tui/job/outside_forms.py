"""Forms of the card about customers and other firms, by the id of their key."""

from __future__ import annotations

from collections.abc import Awaitable, Callable
from typing import Any

from store.views.values import JobCard
from tui.job.advising import advise
from tui.job.calling import tried
from tui.job.outworking import outwork
from tui.parts.painted import Painted

FORMS: dict[str, Callable[[Painted[Any], JobCard], Awaitable[None]]] = {
    "tried": tried, "outwork": outwork, "advice": advise,
}  # fmt: skip
