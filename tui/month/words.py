"""Figures of a month in one line each, for the first page."""

from __future__ import annotations

from store.views.month.values import Month
from store.views.month.way import Figure
from tui.papers.month_words import told
from tui.words import counted, hours, money, tenth


def lost_words(found: Month) -> str:
    """Held by reason, comebacks, what nobody paid, clocks that ran on."""
    reasons = ", ".join(f"{reason} {_tenth(one)}" for reason, one in found.held.reasons[:3])
    total = told(found.held.total.value, "h", "")
    parts = [f"held {total}: {reasons}" if reasons else "nothing was held"]
    unpaid = sum(one.hours for one in found.money.not_charged)
    if unpaid >= 0.05:
        parts.append(f"{hours(unpaid)} worked, not charged")
    back = found.hours.comebacks
    if back:
        labour = hours(sum(one.labour_h for one in back))
        parts.append(f"{counted(len(back), 'comeback')}, {labour}")
    if found.hours.left_running:
        parts.append(f"{counted(len(found.hours.left_running), 'clock')} left running")
    return "; ".join(parts)


def _tenth(one: Figure) -> str:
    return tenth(one.value or 0.0)


def kits_words(found: Month) -> str:
    """What hires cost, and how much of it for nothing."""
    here = found.money
    parts = _sums((("hired", here.hire), ("idle", here.hire_idle), ("late fees", here.late_fees)))
    if not parts:
        return "nothing was hired" if here.hire.value == 0 else "what hires cost is not known"
    days = here.idle_days.value
    idle = f" ({tenth(days)} days)" if days and here.hire_idle.value else ""
    return ", ".join(f"{one}{idle if one.startswith('idle') else ''}" for one in parts)


def money_words(found: Month) -> str:
    """Labour worked and sold, work not billed; quotes and promises stand further down."""
    here = found.money
    parts = _sums((
        ("labour worked", here.labour_worked), ("sold", here.labour_sold),
        ("not billed", here.not_billed),
    ))  # fmt: skip
    return f"{', '.join(parts)} {found.currency}" if parts else "no rate is known: set one first"


def _sums(named: tuple[tuple[str, Figure], ...]) -> list[str]:
    return [f"{name} {money(round(one.value))}" for name, one in named if one.value]


def ratio_words(found: Month) -> str:
    """The three ratios, each with what it divides."""
    here = found.hours
    parts = [
        f"{name} {told(one.value, 'x', '')} ({says})"
        for name, one, says in (
            ("utilisation", here.utilisation, "on jobs / attended"),
            ("efficiency", here.efficiency, "told / took"),
            ("productivity", here.productivity, "told / attended"),
        )
        if one.value is not None
    ]
    return ", ".join(parts)
