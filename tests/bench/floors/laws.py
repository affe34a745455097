"""How long what is waited for takes: deliveries, appointments, outwork, standing.

Every law is causal: first comes what the shop is told, then what happens. `until` draws an end;
`later` draws it for somebody who sees that it has not come yet.
"""

from __future__ import annotations

import random
from dataclasses import dataclass

from tests.bench.floors.open_time import HOUR
from tests.bench.floors.shop import Firm, Reason, Shop, Supplier

TRIES = 400
"""Draws until one lies ahead; after that a running wait goes on as long again as it did."""


@dataclass(frozen=True, slots=True)
class Delivery:
    """Something ordered that is to come by `due`."""

    begun: int
    due: int
    late: float


@dataclass(frozen=True, slots=True)
class Appointment:
    """Something that is to be settled by `due`."""

    begun: int
    due: int
    keeps: float
    overrun: float


@dataclass(frozen=True, slots=True)
class Away:
    """Outwork at a firm since `begun`; `due` as the firm says it."""

    begun: int
    due: int
    firm: Firm


@dataclass(frozen=True, slots=True)
class Standing:
    """A cure of so many wall hours."""

    begun: int
    hours: float


Law = Delivery | Appointment | Away | Standing


def arranged(shop: Shop, rng: random.Random, reason: Reason, now: int) -> Delivery | Appointment:
    """What is arranged when a job is held: the law of its end."""
    if reason == "parts":
        return ordered(shop, rng, rng.choice(shop.suppliers), now)
    if reason == "tool":
        return ordered(shop, rng, shop.kit_supplier, now)
    usual = shop.appointments[reason]
    hours = rng.choices(usual.hours, usual.weights)[0]
    return Appointment(now, now + int(hours * HOUR), usual.keeps, usual.overrun)


def ordered(shop: Shop, rng: random.Random, supplier: Supplier, now: int) -> Delivery:
    """An order given now: from the shelf, for the next day or special."""
    turned = shop.time.day(now) >= supplier.turn
    late = supplier.late_after if turned else supplier.late
    kind = rng.random()
    if kind < supplier.from_shelf:
        return Delivery(now, now + int(rng.uniform(0.5, 5) * HOUR), late / 2)
    if kind < supplier.from_shelf + supplier.next_day:
        days = 1
    else:
        days = rng.randint(*supplier.special_days) + (supplier.longer if turned else 0)
    today = shop.time.day(now)
    after_cut_off = now - shop.time.days[today] > 0.75 * shop.time.length(today)
    return Delivery(now, _morning(shop, rng, today + days + after_cut_off), late)


def sent_out(shop: Shop, rng: random.Random, now: int) -> Away:
    """Outwork given to one of the firms."""
    firm = rng.choice(shop.firms)
    days = firm.least + round(0.8 * firm.more_days)
    return Away(now, shop.time.days[shop.time.day(now) + days] + 2 * HOUR, firm)


def until(shop: Shop, rng: random.Random, law: Law) -> int:
    """Draw the end (reading): at least one second after the beginning."""
    match law:
        case Delivery():
            end = _delivered(shop, rng, law)
        case Appointment():
            end = _settled(rng, law)
        case Away():
            end = _returned(shop, rng, law)
        case Standing():
            wall = shop.time.beginning(law.begun) + (law.hours + rng.uniform(0, 0.3)) * HOUR
            end = shop.time.reading(int(wall))
    return max(law.begun + 1, end)


def later(shop: Shop, rng: random.Random, law: Law, now: int) -> int:
    """Draw the end given that it has not come by now: by rejection, which is exact."""
    for _ in range(TRIES):
        end = until(shop, rng, law)
        if end > now:
            return end
    return now + 1 + int(rng.expovariate(1 / max(HOUR, now - law.begun)))


def _delivered(shop: Shop, rng: random.Random, law: Delivery) -> int:
    if rng.random() >= law.late:
        return law.due + int(rng.uniform(-0.5, 0.5) * HOUR)
    days = 1
    while rng.random() < 0.4:
        days += 1
    return _morning(shop, rng, shop.time.day(law.due) + days)


def _settled(rng: random.Random, law: Appointment) -> int:
    ahead = law.due - law.begun
    if rng.random() < law.keeps:
        return law.begun + int(ahead * rng.uniform(0.3, 1))
    return law.due + int(rng.expovariate(1 / (law.overrun * ahead)))


def _returned(shop: Shop, rng: random.Random, law: Away) -> int:
    firm, today = law.firm, shop.time.day(law.begun)
    days = firm.least + rng.gammavariate(firm.shape, firm.more_days / firm.shape)
    if today >= firm.turn:
        days *= firm.factor_after
    return _morning(shop, rng, today + max(1, round(days)))


def _morning(shop: Shop, rng: random.Random, day: int) -> int:
    return shop.time.days[day] + int(rng.uniform(0.2, 3) * HOUR)
