"""The estimate as text."""

from __future__ import annotations

from collections.abc import Iterator

from store.views.estimate import Estimate, EstimateLine
from tui import words


def lines(found: Estimate) -> Iterator[str]:
    """The route with its hours, at most 80 columns."""
    yield f"{'':2}{'phase':<44}{'book':>7}{'est':>7}{'caut':>7}   from"
    for one in found.route:
        yield words.cut(_line(one), 80)
    total = found.total
    yield (
        f"  {'labour together':<44}{'':>7}{words.tenth(total.middle):>7}"
        f"{words.tenth(total.cautious):>7}"
    )
    low, high = total.quantiles[1], total.quantiles[17]
    yield f"  8 in 10 between {words.tenth(low)} and {words.hours(high)}"
    if found.saves_h > 0.005:
        yield f"  access shared saves {words.hours(found.saves_h)}"
    if found.labour_money is not None:
        yield f"  labour {words.money(found.labour_money)} {found.currency}"
    for kit in found.kits:
        owner = "ours" if kit.owned else "hired"
        yield words.cut(f"  kit {kit.kit}, {owner}, for phase {', '.join(kit.phases)}", 80)
    if found.options:
        assumed = ", ".join(f"{key}={value}" for key, value in found.options)
        yield words.cut(f"  taken as known: {assumed}", 80)


def _line(one: EstimateLine) -> str:
    name = one.name if one.kind == "labour" else f"{one.name} ({one.kind})"
    known = one.source if not one.finished_before else f"{one.finished_before} jobs"
    return (
        f"{one.phase:>4} {words.cut(name, 40):<41}{words.tenth(one.book_h):>7}"
        f"{words.tenth(one.figures.middle):>7}{words.tenth(one.figures.cautious):>7}   {known}"
    )
