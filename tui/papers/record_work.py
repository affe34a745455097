"""What was done, measured and signed, as the record's paper says it."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import tzinfo

from store.views.record.values import Point, PointSigned, Record, Value, WorkDone
from tui.papers.paper import Block, Heading, Row, Table, Words
from tui.papers.said import at, number


def work(found: Record, zone: tzinfo) -> Iterator[Block]:
    """What was done, stretch by stretch."""
    yield Heading("What was done")
    hours = found.labour_h is not None
    heads = ("Work", "State", "By", "Finished", *(("Hours",) if hours else ()))
    yield Table("", heads, tuple(_done(one, zone, hours=hours) for one in found.done))


def _done(one: WorkDone, zone: tzinfo, *, hours: bool) -> Row:
    became: str = one.became
    if one.note and (hours or one.became != "done"):
        longer = "took longer, " if one.became == "done" else ""
        became += f": {longer}{one.note}"
    when = at(one.at, zone) if one.at and one.became == "done" else "-"
    cells = (f"{one.number} {one.name}", became, ", ".join(one.people) or "-", when)
    return Row((*cells, f"{one.hours or 0.0:.1f}") if hours else cells)


def ways(found: Record, zone: tzinfo) -> Iterator[Block]:
    """Which way the work went, and why."""
    if not found.ways:
        return
    yield Heading("Which way the work went, and why")
    yield Words(
        "Some things show only when a vehicle is apart. What was found or decided then, in order.",
        note=True,
    )
    rows = tuple(Row((one.text, one.became, one.who, at(one.at, zone))) for one in found.ways)
    yield Table("", ("Found or asked", "What came of it", "By", "When"), rows)


def measured(found: Record, zone: tzinfo) -> Iterator[Block]:
    """Values that were measured, with what was allowed."""
    rows = tuple(
        Row(
            (f"{point.text}: {value.name}", _value(value), value.allowed or "-",
             value.source or "-", _fate(signed)),
            void=signed.void,
        )
        for point in found.points
        for signed in point.signed
        for value in signed.values
    )  # fmt: skip
    if not rows:
        return
    yield Heading("Measured")
    yield Words(
        "Where the limits come from stands beside them; the shop's work book is its own list of "
        "what each kind of work takes and allows. The vehicle maker's data decide.",
        note=True,
    )
    yield Table("", ("What", "Measured", "Allowed", "Limits from", "Verdict"), rows)


def _value(value: Value) -> str:
    found = "; ".join(
        f"{f'{place}: ' if place else ''}{number(one)}" for place, one in value.places
    )
    return f"{found} {value.unit}".strip()


def _fate(signed: PointSigned) -> str:
    if signed.void:
        outside = "" if signed.in_limits else "outside its limits; "
        return f"{outside}no longer counts{f': {signed.void_why}' if signed.void_why else ''}"
    if signed.as_is:
        return f"outside its limits; let stand: {signed.as_is}"
    return "within limits" if signed.in_limits else "outside its limits; measured again"


def signed(found: Record, zone: tzinfo) -> Iterator[Block]:
    """Who put their name under what, before the work went on."""
    rows = [row for point in found.points for row in _signatures(point, zone)]
    if not rows:
        return
    yield Heading("Signed before the work went on")
    yield Words(
        "At some points the work waits until somebody has checked and signed, at some of them two "
        "people. A name no longer counts when what it stands for was opened again; then the check "
        "was done and signed anew.",
        note=True,
    )
    yield Table("", ("Checked", "Work", "Signed by", "When", "Remark"), tuple(rows))


def _signatures(point: Point, zone: tzinfo) -> Iterator[Row]:
    for one in point.signed:
        fate = _fate(one) if one.void or one.as_is or not one.in_limits else ""
        yield Row((point.text, point.phase, one.who, at(one.at, zone), fate or "-"), void=one.void)
    if not point.signed and point.kind == "hold point":
        yield Row((point.text, point.phase, "nobody", "-", "not signed"))
