"""What can be wrong in the hours of a phase, for every family and for some."""

from __future__ import annotations

import math
from itertools import combinations

from store.edges.toml_lines import Path
from store.edges.workbook.fault import UNKNOWN, Fault, Found
from store.edges.workbook.form import SideForm
from store.edges.workbook.names import PlacedPhase
from store.rules.family_hours import clash, pattern_of
from store.trouble import Refused


def spread_faults(numbers: list[float] | None, path: Path, word: str) -> Found:
    """Hours or days rise, and take some time."""
    if numbers is None:
        return
    if not all(map(math.isfinite, numbers)):
        yield Fault(path, f"`{word}` are not finite: write numbers like 1.5.")
    elif min(numbers) < 0:
        yield Fault(path, f"`{word}` are below 0: write how long it really takes.")
    elif not numbers[0] <= numbers[1] <= numbers[2]:
        yield Fault(path, f"`{word}` must rise: [low, book, high].")
    elif numbers[1] == 0:
        yield Fault(path, f"`{word}` are 0: leave the phase out, or write how long it takes.")


def family_faults(phase: PlacedPhase) -> Found:
    """Hours for families: what they are said for, and that one pattern wins for each vehicle."""
    written, path = phase.form, (*phase.path, "hours_for")
    if written.hours_for and written.hours is None and written.days is not None:
        yield Fault(path, f"{phase.code!r} is written in `days`: leave `hours_for` out.")
    yield from _learned(written.learned, (*phase.path, "learned"))
    good: list[tuple[str, Path]] = []
    for i, one in enumerate(written.hours_for):
        yield from spread_faults(one.hours, (*path, i, "hours"), "hours")
        yield from _learned(one.learned, (*path, i, "learned"))
        try:
            good.append((pattern_of(one.family), (*path, i)))
        except Refused as bad:
            if not one.family.startswith(UNKNOWN):
                yield Fault((*path, i, "family"), str(bad))
    for (first, _), (second, place) in combinations(good, 2):
        both = clash(first, second)
        if both is not None:
            yield Fault(
                (*place, "family"),
                f"{first!r} and {second!r} say equally much of {both}: make one more specific, "
                "or take one out.",
            )


def _learned(times: float, path: Path) -> Found:
    if not math.isfinite(times) or times <= 0:
        yield Fault(path, "`learned` is written by adopting, above 0: leave it out.")


def least_hours(form: SideForm) -> float | None:
    """The fewest book hours that a phase has on any vehicle; None where it has none."""
    found = [one.hours[1] for one in form.hours_for]
    if form.hours is not None:
        found.append(form.hours[1])
    return min(found, default=None)
