"""What can be wrong in the form of a work book apart from its routes: names, numbers, wholeness."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator
from itertools import chain

from store.edges.toml_lines import Path
from store.edges.workbook.fault import UNKNOWN, Fault, Found, odds_fault, twice, unknown
from store.edges.workbook.form import AccessForm, BookForm, OperationForm, SideForm, WhenForm
from store.edges.workbook.hours_faults import family_faults, least_hours, spread_faults
from store.edges.workbook.names import Names, names_of, placed_phases, placed_steps, placed_whens
from store.edges.workbook.steps import step_faults

MOST_DAYS, MOST_KM = 3650, 500_000.0
"""No follow-up is later than this."""
_CODE = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]*")


def form_faults(form: BookForm) -> list[Fault]:
    """Everything wrong that can be seen without laying a route."""
    names = names_of(form)
    return list(
        chain(
            _codes(form),
            _family_parts(form),
            _accesses(form),
            _hours(form),
            _phase_references(form, names),
            *(_operation(each, ("operation", i), names) for i, each in enumerate(form.operation)),
            _reductions(form, names),
            _whens(form, names),
            step_faults(form, names),
            _nothing_sold(form),
        )
    )


def _codes(form: BookForm) -> Found:
    lists = {
        "condition": [c.code for c in form.condition],
        "kit": [k.code for k in form.kit],
        "operation": [o.code for o in form.operation],
        "shared_step": [s.code or "" for s in form.shared_step],
    }
    for name, codes in lists.items():
        placed = [(code, (name, i, "code")) for i, code in enumerate(codes)]
        yield from twice(placed, name.replace("_", " "))
        yield from _shapes(placed)
    phases = [(phase.code, (*phase.path, "code")) for phase in placed_phases(form)]
    yield from chain(twice(phases, "phase"), _shapes(phases))
    options = [*_option_codes(form)]
    yield from chain(twice(options, "option"), _shapes(options))
    yield from twice(_step_codes(form), "step")
    yield from _shapes((p.step.code or "", (*p.path, "code")) for p in placed_steps(form))


def _option_codes(form: BookForm) -> Iterator[tuple[str, Path]]:
    """Two operations may ask the same of a vehicle, as long as both say the same."""
    alike: dict[str, tuple[int, str]] = {}
    for o, operation in enumerate(form.operation):
        for i, option in enumerate(operation.option):
            says = option.model_dump_json()
            first, before = alike.setdefault(option.code, (o, says))
            if first == o or before != says:
                yield option.code, ("operation", o, "option", i, "code")


def _step_codes(form: BookForm) -> Iterator[tuple[str, Path]]:
    """Steps by phase; two operations may add the same step to a phase, it comes once."""
    alike: dict[str, str] = {}
    for placed in placed_steps(form):
        if placed.phase is None or not placed.step.code:
            continue
        name = f"{placed.phase}.{placed.step.code}"
        content = placed.step.model_dump_json(exclude={"after"})
        if placed.operation and alike.get(name) == content:
            continue
        alike.setdefault(name, content)
        yield name, (*placed.path, "code")


def _shapes(codes: Iterable[tuple[str, Path]]) -> Found:
    for code, path in codes:
        if code and not code.startswith(UNKNOWN) and not _CODE.fullmatch(code):
            yield Fault(
                path, f"the code {code!r} cannot be typed: use letters, digits and hyphens only."
            )


def _family_parts(form: BookForm) -> Found:
    for part, codes in form.families:
        for code in codes:
            if not code.isalnum():
                says = (
                    f"the {part} code {code!r} cannot be part of a family key: letters and digits."
                )
                yield Fault(("families", part, code), says)


def _accesses(form: BookForm) -> Found:
    for i, access in enumerate(form.access):
        path: Path = ("access", i)
        if (access.off is None) != (access.on is None):
            there, lacks = ("on", "off") if access.off is None else ("off", "on")
            yield Fault(
                path,
                f"access {access.code!r} has `{there}` without `{lacks}`: add "
                f"[access.{lacks}], or write its hours directly when it has one side only.",
            )
        elif access.off is not None:
            yield from _both(access, path)


def _both(access: AccessForm, path: Path) -> Found:
    spare = access.model_fields_set - {"code", "name", "place", "off", "on"}
    for word in sorted(spare):
        yield Fault(
            (*path, word),
            f"`{word}` stands at access {access.code!r}, which has two sides: "
            "move it into [access.off] or [access.on].",
        )


def _hours(form: BookForm) -> Found:
    for phase in placed_phases(form):
        written = phase.form
        if (written.hours is None) == (written.days is None):
            yield Fault(
                phase.path,
                f"phase {phase.code!r} needs either `hours` or, for outwork, `days`: write one.",
            )
        if written.days is not None and written.kind not in (None, "outwork"):
            yield Fault(
                (*phase.path, "days"),
                f"`days` are for outwork, {phase.code!r} is {written.kind}: write `hours`.",
            )
        for word in ("hours", "days"):
            yield from spread_faults(getattr(written, word), (*phase.path, word), word)
        yield from family_faults(phase)
    for o, operation in enumerate(form.operation):
        for name in ("surprise", "neighbour"):
            for i, each in enumerate(getattr(operation, name)):
                path: Path = ("operation", o, name, i)
                yield from _not_negative(each.hours, (*path, "hours"), "hours")
                yield from odds_fault(each.odds, (*path, "odds"))


def _not_negative(number: float, path: Path, word: str) -> Found:
    if not math.isfinite(number) or number < 0:
        yield Fault(path, f"`{word}` must be a finite number, 0 or more.")


def _phase_references(form: BookForm, names: Names) -> Found:
    for phase in placed_phases(form):
        written, path = phase.form, phase.path
        yield from _conditions(written, path, names)
        for i, need in enumerate(written.kit):
            yield from unknown(need.kit, names.kits, (*path, "kit", i), "kit")
            if need.captive_to is not None:
                yield from unknown(need.captive_to, names.phases, (*path, "kit", i), "phase")
        for i, code in enumerate(written.contains):
            yield from unknown(code, names.phases, (*path, "contains", i), "phase")
    yield from _contained_in_circles(form)


def _conditions(written: SideForm, path: Path, names: Names) -> Found:
    for word in ("opens", "closes"):
        for i, code in enumerate(getattr(written, word)):
            yield from unknown(code, names.conditions, (*path, word, i), "condition")


def _contained_in_circles(form: BookForm) -> Found:
    inner = {phase.code: phase.form.contains for phase in placed_phases(form)}
    for phase in placed_phases(form):
        seen: set[str] = set()
        todo = list(phase.form.contains)
        while todo:
            code = todo.pop()
            if code not in seen:
                seen.add(code)
                todo += inner.get(code, [])
        if phase.code in seen:
            yield Fault(
                (*phase.path, "contains"),
                f"phase {phase.code!r} contains itself, going round: take one of them out.",
            )


def _operation(form: OperationForm, path: Path, names: Names) -> Found:
    if not form.route:
        yield Fault(path, f"operation {form.code!r} has no phase in its `route`: name them.")
    named = [
        *((use.phase, ("route", i)) for i, use in enumerate(form.route)),
        *((code, ("contains", i)) for i, code in enumerate(form.contains)),
        *((each.phase, ("extra", i, "phase")) for i, each in enumerate(form.extra)),
        *((each.phase, ("surprise", i, "phase")) for i, each in enumerate(form.surprise)),
        *((each.phase, ("neighbour", i, "phase")) for i, each in enumerate(form.neighbour)),
        *((each.phase, ("part", i, "phase")) for i, each in enumerate(form.part)),
    ]
    for code, place in named:
        yield from unknown(code, names.phases, (*path, *place), "phase")
    for i, neighbour in enumerate(form.neighbour):
        for j, code in enumerate(neighbour.phases):
            yield from unknown(code, names.phases, (*path, "neighbour", i, "phases", j), "phase")
    yield from _off_the_route(form, path, names)
    yield from _follow_ups(form, path)
    yield from _options(form, path)
    for word in ("surprise", "neighbour"):
        codes = [(e.code, (*path, word, i, "code")) for i, e in enumerate(getattr(form, word))]
        yield from chain(twice(codes, word), _shapes(codes))


def _off_the_route(form: OperationForm, path: Path, names: Names) -> Found:
    """Surprises, parts and the like at a phase that this operation never comes to."""
    route = {use.phase for use in form.route}
    for word in ("extra", "surprise", "neighbour", "part"):
        for i, each in enumerate(getattr(form, word)):
            if each.phase in names.phases and each.phase not in route:
                yield Fault(
                    (*path, word, i, "phase"),
                    f"phase {each.phase!r} is not in the route of {form.code!r}: "
                    f"name one that is, or add it to the route.",
                )


def _follow_ups(form: OperationForm, path: Path) -> Found:
    for i, each in enumerate(form.follow_up):
        place: Path = (*path, "follow_up", i)
        if each.days is None and each.distance is None:
            yield Fault(place, "a follow-up needs `days`, `distance` in km, or both: write when.")
        if each.days is not None and not 0 < each.days <= MOST_DAYS:
            yield Fault((*place, "days"), f"`days` must be 1 to {MOST_DAYS}.")
        if each.distance is not None and not 0 < each.distance <= MOST_KM:
            yield Fault(
                (*place, "distance"),
                f"`distance` must be more than 0 and at most {MOST_KM:,.0f} km.",
            )


def _options(form: OperationForm, path: Path) -> Found:
    for i, option in enumerate(form.option):
        place = (*path, "option", i)
        values = [(value, (*place, "values", j)) for j, value in enumerate(option.values)]
        yield from twice(values, "value")
        if option.assume not in option.values:
            yield from unknown(option.assume, option.values, (*place, "assume"), "value")


def _reductions(form: BookForm, names: Names) -> Found:
    book = {phase.code: least_hours(phase.form) for phase in placed_phases(form)}
    for i, each in enumerate(form.reduction):
        path: Path = ("reduction", i)
        yield from unknown(each.beside, names.phases, (*path, "beside"), "phase")
        if not 0 < each.factor <= 1 or not 0 <= each.minus < math.inf:
            yield Fault(path, "a reduction needs a factor above 0, up to 1, and minus 0 or more.")
        for j, code in enumerate(each.phases):
            yield from unknown(code, names.phases, (*path, "phases", j), "phase")
            hours = book.get(code)
            if hours is not None and 0 < hours <= each.minus / max(each.factor, 1e-9):
                yield Fault(
                    (*path, "phases", j),
                    f"nothing would be left of {code!r}: take less than its {hours:g} h off.",
                )


def _whens(form: BookForm, names: Names) -> Found:
    for when, path in placed_whens(form):
        yield from _when(when, path, names)


def _when(when: WhenForm, path: Path, names: Names) -> Found:
    for code, values in when.option.items():
        place = (*path, "option", code)
        yield from unknown(code, names.options, place, "option")
        for value in values if code in names.options else ():
            yield from unknown(value, names.options[code], place, f"value of {code!r}")
    for grade in when.grade:
        if grade not in (1, 2, 3, 4):
            yield Fault((*path, "grade"), f"there is no condition grade {grade}: write 1 to 4.")


def _nothing_sold(form: BookForm) -> Found:
    if not form.operation:
        yield Fault(("operation",), "the book has no operation: write one with [[operation]].")
