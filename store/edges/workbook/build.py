"""From the form of a work book to its plain values."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from contextlib import suppress
from typing import Literal, TypeVar

from store.edges.workbook.form import (
    AccessForm,
    BookForm,
    ExtraForm,
    OperationForm,
    PhaseForm,
    ReadingForm,
    SideForm,
    StepForm,
    WhenForm,
)
from store.rules.book import (
    Answer,
    Condition,
    Extra,
    FollowUp,
    Hours,
    HoursFor,
    Kit,
    KitNeed,
    Neighbour,
    Operation,
    Option,
    Part,
    Phase,
    PhaseClass,
    PlaceKind,
    Reading,
    Reduction,
    Step,
    Surprise,
    Use,
    When,
    WorkBook,
)
from store.rules.family_hours import pattern_of
from store.trouble import Refused

HOURS_A_DAY = 8.0
"""Outwork is written in working days of so many hours (common practice, no source)."""

Shared = Mapping[str, StepForm]
Side = Literal["off", "on"]
_Coded = TypeVar("_Coded", Phase, Operation)


def build(form: BookForm) -> WorkBook:
    """The book; of two things with one code the first counts, so that faulty forms build too."""
    shared = {step.code: step for step in reversed(form.shared_step) if step.code}
    phases = [phase for access in form.access for phase in _access(access, shared)]
    phases += [_phase(each, shared) for each in form.phase]
    known = {phase.code for phase in phases}
    operations = [_operation(each, shared, known) for each in form.operation]
    return WorkBook(
        name=form.name,
        families={
            "engine": form.families.engine,
            "gearbox": form.families.gearbox,
            "axles": form.families.axles,
        },
        conditions=tuple(Condition(c.code, c.text, tuple(c.forbids)) for c in form.condition),
        kits=tuple(Kit(k.code, k.name, k.owned, k.size, tuple(k.contains)) for k in form.kit),
        hold_points=tuple(_step(each, shared) for each in form.shared_step if each.insert),
        phases=_first_wins({phase.code: phase for phase in reversed(phases)}),
        operations=_first_wins({each.code: each for each in reversed(operations)}),
        reductions=tuple(
            Reduction(r.beside, tuple(r.phases), r.factor, r.minus) for r in form.reduction
        ),
    )


def _first_wins(backwards: dict[str, _Coded]) -> dict[str, _Coded]:
    return dict(reversed(backwards.items()))


def whole_step(form: StepForm, shared: Shared, number: int | None = None) -> StepForm:
    """The step with what it takes from the shared step that it uses.

    A step of a phase that has no code is called by its number in the phase, counted from 1.
    """
    base = shared.get(form.use or "")
    if base is None:
        plain = form.code is None and form.use is None and number is not None
        return form.model_copy(update={"code": str(number)}) if plain else form
    written = {name: getattr(form, name) for name in form.model_fields_set}
    taken = {name: getattr(base, name) for name in base.model_fields_set - {"insert"}}
    return form.model_copy(update={**taken, **written})


def when(form: WhenForm) -> When:
    """The condition as a value."""
    return When(
        engine=tuple(form.engine),
        gearbox=tuple(form.gearbox),
        axles=tuple(form.axles),
        grade=tuple(form.grade),
        option={code: tuple(values) for code, values in form.option.items()},
    )


def sides(access: AccessForm) -> tuple[tuple[str, Side | None, SideForm], ...]:
    """Phase code, side and form of each phase that the access stands for."""
    written: tuple[tuple[Side, SideForm | None], ...] = (("off", access.off), ("on", access.on))
    both: list[tuple[str, Side | None, SideForm]] = [
        (f"{access.code}-{side}", side, form) for side, form in written if form
    ]
    return tuple(both) or ((access.code, None, access),)


def _access(access: AccessForm, shared: Shared) -> list[Phase]:
    return [
        _made(
            form,
            shared,
            code=code,
            name=form.name or f"{access.name or access.code}{f' {side}' if side else ''}",
            access=access.code,
            side=side,
            place=form.place or access.place,
        )
        for code, side, form in sides(access)
    ]


def _phase(form: PhaseForm, shared: Shared) -> Phase:
    name = form.name or form.code
    return _made(form, shared, code=form.code, name=name, access=None, side=None, place=form.place)


def _made(
    form: SideForm,
    shared: Shared,
    *,
    code: str,
    name: str,
    access: str | None,
    side: Side | None,
    place: list[PlaceKind] | None,
) -> Phase:
    outwork = form.kind == "outwork" or (form.kind is None and form.days is not None)
    return Phase(
        code=code,
        name=name,
        hours=_hours(form),
        kind=form.kind or ("outwork" if outwork else "labour"),
        place=tuple(place or (["outside"] if outwork else ["lift"])),
        after=form.after,
        phase_class=form.phase_class or _usual_class(side),
        access=access,
        side=side,
        qualifies=form.qualifies,
        always=form.always,
        cautions=tuple(form.cautions),
        steps=tuple(_step(step, shared, i) for i, step in enumerate(form.step, 1)),
        kits=tuple(KitNeed(k.kit, when(k.when), k.captive_to) for k in form.kit),
        needs=tuple(form.needs),
        opens=tuple(form.opens),
        closes=tuple(form.closes),
        contains=tuple(form.contains),
        hours_for=tuple(_families(form)),
        learned=form.learned,
    )


def _families(form: SideForm) -> Iterator[HoursFor]:
    """A pattern that cannot be is passed over, so that the rest can be looked through."""
    for each in form.hours_for:
        with suppress(Refused):
            yield HoursFor(pattern_of(each.family), _spread(*each.hours), each.learned)


def _usual_class(side: Side | None) -> PhaseClass:
    if side == "off":
        return "strip"
    return "refit" if side == "on" else "work"


def _hours(form: SideForm) -> Hours:
    if form.days is not None:
        low, middle, high = (days * HOURS_A_DAY for days in form.days)
    else:
        low, middle, high = form.hours or (1.0, 1.0, 1.0)
    return _spread(low, middle, high)


def _spread(low: float, middle: float, high: float) -> Hours:
    return Hours(round(low, 4), round(middle, 4), round(high, 4))


def _step(form: StepForm, shared: Shared, number: int | None = None) -> Step:
    form = whole_step(form, shared, number)
    return Step(
        code=form.code or "",
        text=form.text or "",
        kind=form.kind,
        detail=form.detail,
        caution=form.caution,
        when=when(form.when),
        signs=form.signs,
        by=form.by,
        not_by_fitter=form.not_by_fitter,
        needs=tuple(form.needs),
        readings=tuple(map(_reading, form.reading)),
        blocks=tuple(form.blocks),
        void_on_lift=form.void_on_lift,
        opens=tuple(form.opens),
        closes=tuple(form.closes),
        deed=form.deed,
        answers=tuple(
            Answer(a.code, a.text, a.odds, a.sets, a.ends, a.advise) for a in form.answer
        ),
        insert=form.insert,
    )


def _reading(form: ReadingForm) -> Reading:
    return Reading(
        code=form.code,
        text=form.text,
        unit=form.unit,
        positions=tuple(form.positions),
        low=form.low,
        high=form.high,
        spread=form.spread,
        difference_low=form.difference_low,
        difference_high=form.difference_high,
        high_is=form.high_is,
        typed=form.typed,
    )


def _operation(form: OperationForm, shared: Shared, known: Collection[str]) -> Operation:
    """A phase that is not in the book is passed over, so that the rest can be looked through."""
    return Operation(
        code=form.code,
        name=form.name,
        route=tuple(Use(use.phase, when(use.when)) for use in form.route if use.phase in known),
        options=tuple(Option(o.code, o.text, tuple(o.values), o.assume) for o in form.option),
        extras=tuple(_extra(extra, shared) for extra in form.extra),
        surprises=tuple(
            Surprise(s.code, s.phase, s.text, s.odds, s.hours, when(s.when)) for s in form.surprise
        ),
        neighbours=tuple(
            Neighbour(n.code, n.text, n.odds, n.phase, n.hours, tuple(n.phases), when(n.when))
            for n in form.neighbour
        ),
        parts=tuple(Part(part.text, part.phase, when(part.when)) for part in form.part),
        contains=tuple(form.contains),
        follow_ups=tuple(
            FollowUp(f.what, f.who, f.days, f.distance, when(f.when)) for f in form.follow_up
        ),
        run_in=form.run_in,
    )


def _extra(form: ExtraForm, shared: Shared) -> Extra:
    return Extra(form.phase, _step(form, shared), form.after)
