"""Who hires kits out to the demo shop, on which terms. Firms are invented.

Terms lie where workshops see them: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, fields
from datetime import date, datetime, time

from demo.pen import Pen
from demo.people import FOREMAN, OWNER
from store.actions.hires import kit_dates, suppliers
from store.file.shop import Shop
from store.sums.hires.terms import House, Rates


@dataclass(frozen=True, slots=True)
class Firm:
    """A supplier.

    Attributes:
        due: until when a kit is handed to the carrier.
        late_odds: how often a delivery comes a day late at least, where no story says otherwise.
        incomplete_odds: how often something lacks.
    """

    name: str
    terms: House
    late_odds: float
    incomplete_odds: float
    rates: Mapping[str, Rates]
    lacks: tuple[str, ...] = ("a pin lacks", "an adapter lacks", "wrong engine code came")

    @property
    def due(self) -> time:
        """Until when a kit is handed to the carrier."""
        return self.terms.cut_off


RIETLAND = Firm(
    "Rietland tool hire", House(time(15, 30), "hand-over", "free", 1.5, 1, 1, 40.0), 0.06, 0.045,
    {
        "press": Rates(38.0, 140.0, 420.0, 3, 22.0, 450.0),
        "driver-large": Rates(14.0, 52.0, 150.0, 3, 13.0, 150.0),
        "locks": Rates(24.0, 90.0, 260.0, 3, 16.0, 280.0),
        "link": Rates(16.0, 60.0, 175.0, 3, 14.0, 200.0),
        "gauges": Rates(46.0, 172.0, 500.0, 3, 28.0, 600.0),
        "counter-hold": Rates(13.0, 48.0, 140.0, 3, 13.0, 150.0),
        "puller": Rates(52.0, 195.0, 560.0, 3, 32.0, 700.0),
    },
)  # fmt: skip
KADE = Firm(
    "Kade kits", House(time(16, 0), "arrival", "counted", 1.0, 2, 1, 30.0), 0.09, 0.06,
    {
        "locks": Rates(19.0, 74.0, 205.0, 3, 12.0, 250.0),
        "link": Rates(13.0, 50.0, 140.0, 3, 12.0, 180.0),
        "puller": Rates(44.0, 165.0, 470.0, 3, 26.0, 650.0),
        "press": Rates(33.0, 125.0, 360.0, 3, 20.0, 400.0),
    },
)  # fmt: skip
OVERDIEP = Firm(
    "Overdiep lifting gear", House(time(15, 0), "hand-over", "half", 2.0, 3, 2, 60.0), 0.08, 0.04,
    {
        "lift-table": Rates(88.0, 330.0, 980.0, 7, 90.0, 1200.0),
        "counter-hold": Rates(15.0, 55.0, 160.0, 3, 15.0, 180.0),
    },
)  # fmt: skip
FIRMS = (RIETLAND, KADE, OVERDIEP)
BY_NAME = {one.name: one for one in FIRMS}
FOR_KIT = {
    "press": (RIETLAND.name, RIETLAND.name, KADE.name), "driver-large": (RIETLAND.name,),
    "locks": (RIETLAND.name, RIETLAND.name, KADE.name), "link": (RIETLAND.name, KADE.name),
    "gauges": (RIETLAND.name,), "puller": (RIETLAND.name, RIETLAND.name, KADE.name),
    "counter-hold": (RIETLAND.name, OVERDIEP.name), "lift-table": (OVERDIEP.name,),
}  # fmt: skip
"""Where each hired kit is asked for, as often as it stands there."""
PRICES = {
    "press": (1450.0, 40.0, 10.0), "driver-large": (260.0, 0.0, 12.0), "locks": (520.0, 25.0, 6.0),
    "link": (410.0, 20.0, 8.0), "gauges": (1850.0, 90.0, 10.0), "puller": (2150.0, 80.0, 8.0),
    "counter-hold": (280.0, 0.0, 12.0), "lift-table": (5200.0, 240.0, 12.0),
}  # fmt: skip
"""To buy, to keep for a year, and for how many years it serves."""
DATES = {"hoist": (10, 29), "beam": (4, 12), "straight-edge": (2, 20), "engine-table": (6, 16)}
"""Month and day until which owned kits are inspected or calibrated: that of the hoist ends soon."""


def make_known(shop: Shop, pen: Pen, now: datetime) -> None:
    """Say who hires out what, on which terms."""
    for one in FIRMS:
        suppliers.know(
            shop, pen.by(FOREMAN.badge, now, "office"), name=one.name,
            **{each.name: getattr(one.terms, each.name) for each in fields(House)},
        )  # fmt: skip
        for kit, rates in one.rates.items():
            suppliers.offer(
                shop, pen.by(FOREMAN.badge, now, "office"), kit=kit, supplier=one.name,
                **{each.name: getattr(rates, each.name) for each in fields(Rates)},
            )  # fmt: skip
    for kit, (buy, upkeep, years) in PRICES.items():
        act = pen.by(OWNER.badge, now, "office")
        suppliers.price(shop, act, kit=kit, buy=buy, upkeep=upkeep, life_years=years)
    for kit in DATES:
        inspect_kit(shop, pen, kit, next_date(kit, now.date()), now)


def next_date(kit: str, day: date) -> date:
    """Return the day until which a kit may be used that was inspected last."""
    month, of_month = DATES[kit]
    found = date(day.year, month, of_month)
    return found if found > day else date(day.year + 1, month, of_month)


def inspect_kit(shop: Shop, pen: Pen, kit: str, until: date, now: datetime) -> None:
    """Record that a kit was inspected."""
    kit_dates.know_date(
        shop, pen.by(OWNER.badge, now, "office"), kit=kit, until=until,
        source="Hollander lift inspections",
    )  # fmt: skip
