"""The record of a job as a paper: for somebody who has never seen this program."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import tzinfo

from store.views.follow_ups import FollowUp
from store.views.record.values import ExtraWork, Record
from tui.papers.agreed import agreed_rows
from tui.papers.paper import Block, Facts, Heading, Items, Paper, Row, Table, Words
from tui.papers.record_work import measured, signed, ways, work
from tui.papers.said import DECIDE, GRADES, amount, at, given, on_day
from tui.words import distance, zone_of

NOT_SAID = "not written down"


def record_paper(found: Record) -> Paper:
    """Return all that goes with the vehicle, in the order in which it is read."""
    zone = zone_of(found.zone)
    return Paper(
        title="Record of the work on your vehicle" if found.went else "Record so far",
        about=f"{found.vehicle.label}, job {found.job}, {found.shop}",
        blocks=tuple(_blocks(found, zone)),
        foot=f"{found.shop}, job {found.job}. Written on {at(found.at, zone)}. {DECIDE}",
    )


def _blocks(found: Record, zone: tzinfo) -> Iterator[Block]:
    yield from _state(found)
    yield from _visit(found, zone)
    yield from _before(found, zone)
    yield from _agreed(found, zone)
    yield from work(found, zone)
    yield from ways(found, zone)
    yield from measured(found, zone)
    yield from signed(found, zone)
    yield from _parts(found)
    yield from _outwork(found, zone)
    yield from _advice(found, zone)
    yield from _handed(found, zone)
    yield from _follows(found)
    yield from _comebacks(found, zone)


def _state(found: Record) -> Iterator[Block]:
    if found.handed is None and found.went is not None:
        yield Words("This job was closed without a hand-over written down.")
    if found.open:
        yield Words("The vehicle is not handed over yet. Still open:")
        yield Items(found.open)


def _visit(found: Record, zone: tzinfo) -> Iterator[Block]:
    one = found.vehicle
    rows = [
        ("Work", found.work),
        ("Came", at(found.came, zone)),
        ("Handed over" if found.handed else "Closed", at(found.went, zone) if found.went else ""),
        ("Vehicle", one.label),
        ("Identification number (VIN)", one.vin or ""),
        ("Number plate", one.plate or ""),
        ("Engine code", one.engine or ""),
        ("Gearbox code", one.gearbox or ""),
        ("Odometer when it came", distance(*one.odometer_in) if one.odometer_in else ""),
        ("Odometer when it left", distance(*one.odometer_out) if one.odometer_out else ""),
        ("Condition when it came", GRADES[found.grade]),
        ("Customer", found.customer or ""),
    ]
    yield Heading("Vehicle and visit")
    yield Facts(tuple((name, value) for name, value in rows if value))


def _before(found: Record, zone: tzinfo) -> Iterator[Block]:
    rows = [("In the customer's words", found.complaint or ""),
            ("Warning lamps and faults when it came", found.lamps or "")]  # fmt: skip
    if found.check is not None:
        when = f", {at(found.check.at, zone)}" if found.check.at else ""
        rows.append(("Check before the work", f"{found.check.text}{when}"))
        rows.append(("What came of it", found.check.note or ""))
    said = tuple((name, value) for name, value in rows if value)
    if said:
        yield Heading("What was wrong")
        yield Facts(said)


# -- what was agreed


def _agreed(found: Record, zone: tzinfo) -> Iterator[Block]:
    yield Heading("What was agreed")
    if not found.agreed:
        yield Words("Nothing was agreed.")
    for one in found.agreed:
        rows = agreed_rows(one, found.currency, zone, unsaid=NOT_SAID, estimated=True)
        yield Facts(tuple(rows))
    if found.extras:
        yield Table(
            "Extra work (supplement): what nobody had quoted, and the answer to it",
            ("Extra work", "Asked", "Answer"),
            tuple(
                Row((one.text, at(one.asked_at, zone), _answer(one, found.currency, zone)))
                for one in found.extras
            ),
        )
    else:
        yield Words("No extra work was asked for.")


def _answer(one: ExtraWork, currency: str, zone: tzinfo) -> str:
    price = f", {amount(one.money, currency)}" if one.money is not None else ""
    when = f", {at(one.answered_at, zone)}" if one.answered_at else ""
    who = given(one.by, one.means)
    return f"{one.answer}{price}{when}{f', {who}' if who else ''}"


# -- parts, other firms, advice


def _parts(found: Record) -> Iterator[Block]:
    yield Heading("Renewed parts")
    if not found.parts:
        yield Words("No renewed part is written down.")
        return
    yield Table(
        "", ("Part", "Batch or serial number", "Where from", "State"),
        tuple(
            Row((one.text, one.batch or "-", one.supplier or "-", one.became))
            for one in found.parts
        ),
    )  # fmt: skip


def _outwork(found: Record, zone: tzinfo) -> Iterator[Block]:
    if not found.outwork:
        return
    yield Heading("Done by other firms")
    for one in found.outwork:
        rows = [
            ("What", one.what), ("Firm", one.firm), ("Sent", at(one.sent_at, zone)),
            ("Back", at(one.back_at, zone) if one.back_at else "not yet"),
            ("Its report", one.report or NOT_SAID),
        ]  # fmt: skip
        rows += [(f"Measured: {name}", f"{value:g}") for name, value in one.readings]
        yield Facts(tuple(rows))


def _advice(found: Record, zone: tzinfo) -> Iterator[Block]:
    refused = [one for one in found.extras if one.answer == "refused"]
    yield Heading("Advised and not done")
    if not found.advice and not refused:
        yield Words("Nothing was advised that was not done.")
        return
    rows = [
        Row((
            one.text, at(one.at, zone), one.answer,
            at(one.answered_at, zone) if one.answered_at else "-",
            "yes" if one.risk_told else "not written down",
            given(one.by, one.means) or "-",
        ))
        for one in found.advice
        if one.answer != "agreed"
    ]  # fmt: skip
    rows += [
        Row((
            one.text, at(one.asked_at, zone), "declined",
            at(one.answered_at, zone) if one.answered_at else "-", "not written down",
            given(one.by, one.means) or "-",
        ))
        for one in refused
    ]  # fmt: skip
    yield Table(
        "What we recommended, and the answer",
        ("Advice", "Advised", "Answer", "Answered", "Risk told", "Who answered"), tuple(rows),
    )  # fmt: skip


# -- the hand-over and what follows


def _handed(found: Record, zone: tzinfo) -> Iterator[Block]:
    yield Heading("Hand-over")
    rows: list[tuple[str, str]] = []
    if found.last_check is not None:
        check = found.last_check
        when = f", {at(check.at, zone)}" if check.at else ""
        rows.append(("Checked last by", f"{', '.join(check.who)}: {check.text}{when}"))
    one = found.handed
    if one is not None:
        rows += [
            ("Handed over by", f"{one.by}, {at(one.at, zone)}"),
            ("Taken by", one.to or NOT_SAID),
            ("Fluids filled", "; ".join(one.fluids)),
            ("Faults stored before", one.faults_before or NOT_SAID),
            ("Faults stored after", one.faults_after or NOT_SAID),
            ("How to drive it at first", one.run_in or ""),
            ("Warranty", _warranty(found)),
            ("Old parts", one.old_parts or NOT_SAID),
            ("Tools counted", "; ".join(f"{name} {n} of {of}" for name, n, of in one.kits)),
            ("Tool piece missing", one.missing or ""),
            ("Photographs", one.photographs or ""),
        ]
    if found.labour_h is not None:
        rows.append(("Labour", f"{found.labour_h:.1f} hours"))
    said = tuple((name, value) for name, value in rows if value)
    if said:
        yield Facts(said)
    else:
        yield Words("Not yet." if found.went is None else "Not written down.")


def _warranty(found: Record) -> str:
    one = found.handed
    if one is None or (one.warranty_until is None and one.warranty_distance is None):
        return NOT_SAID
    unit = (found.vehicle.odometer_out or found.vehicle.odometer_in or (0.0, "km"))[1]
    parts = [f"until {on_day(one.warranty_until)}"] if one.warranty_until else []
    if one.warranty_distance is not None:
        parts.append(f"{distance(one.warranty_distance, unit)} from the hand-over")
    return " or ".join(parts) + (", whichever comes first" if len(parts) > 1 else "")


def _follows(found: Record) -> Iterator[Block]:
    yield Heading("What follows")
    if not found.follow_ups:
        yield Words("Nothing was set to follow.")
        return
    yield Table(
        "What is to be done after the hand-over, and when at the latest",
        ("What", "When", "Who", "State"),
        tuple(
            Row((one.what, _when(one), one.who, _became(one)), void=one.state == "dropped")
            for one in found.follow_ups
        ),
    )


def _when(one: FollowUp) -> str:
    parts = [f"by {on_day(one.day)}"] if one.day else []
    if one.distance is not None:
        parts.append(f"at {distance(one.distance, one.unit)}")
    return " or ".join(parts) + (", whichever is first" if len(parts) > 1 else "")


def _became(one: FollowUp) -> str:
    if one.state == "open":
        return "to come"
    became = "not to be done" if one.state == "dropped" else "done"
    return f"{became}: {one.outcome}"


def _comebacks(found: Record, zone: tzinfo) -> Iterator[Block]:
    if found.comeback_of is None and not found.comebacks:
        return
    yield Heading("The same trouble again")
    if found.comeback_of is not None:
        one = found.comeback_of
        yield Words(f"This visit follows job {one.of}: {one.cause}. Whose fault: {one.fault}.")
    for one in found.comebacks:
        yield Words(
            f"The vehicle came back with it as job {one.job} on {at(one.at, zone)}: {one.cause}. "
            f"Whose fault: {one.fault}."
        )
