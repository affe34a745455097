"""The invented floor as it is, and as if the owner of 2409 said yes now."""

from __future__ import annotations

from dataclasses import replace

from store.views.values import Ahead, Floor
from tests.tui.made import NOW, forecast, on
from tests.tui.made_floor import floor
from tests.tui.made_jobs import estate


def before() -> Floor:
    """As it is."""
    return floor()


def after() -> Floor:
    """2409 is not held any more, and is done half a day sooner."""
    held = estate()
    sooner = replace(
        held, held=None, hold=None, asked=(), flags=(),
        ahead=(
            Ahead("labour", "4", NOW, on("Thu 11:40")),
            Ahead("labour", "5", on("Thu 11:40"), on("Thu 15:40")),
            Ahead("labour", "6", on("Thu 15:40"), on("Fri 08:40")),
        ),
    )  # fmt: skip
    sooner = replace(forecast(sooner, "Fri 08:40", "Fri 10:55", "Thu 16:00"), promise_chance=0.31)
    here = floor()
    lanes = tuple(replace(one, job=sooner) if one.lift == "2" else one for one in here.lanes)
    wants = tuple(one for one in here.wants if one.job != "2409")
    return replace(here, lanes=lanes, wants=wants)
