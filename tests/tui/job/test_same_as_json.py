"""The card says what `job --json` says of the same instant: words, figures and chances."""

from __future__ import annotations

import json
from datetime import datetime
from typing import Any

import pytest

from store.actions import holding, notes, phases, steps
from store.file.learned.kept import keep_forecasts, newest_position
from store.file.shop import Shop
from store.views.job import job_card
from store.views.nameless import SOMEBODY
from store.views.values import JobCard
from tests.tui.driver import terminal
from tests.tui.floor.test_same_as_json import known, says
from tests.tui.made_card import card, van_card
from tests.tui.made_outside import outside_card
from tests.tui.made_told import told_card
from tests.tui.shops import Pen, first_steps
from tui.cli.json_job import document
from tui.job.paint import job_canvas, job_page
from tui.job.state import JobState
from tui.parts.where import Where
from tui.signs import UNICODE

SIZES = [(80, 400), (120, 400), (200, 400)]
"""High enough for a whole card."""


def clock(text: str, now: datetime) -> str:
    """`Thu 12:00` of an instant of the document; its date where that is far off."""
    at = datetime.fromisoformat(text)
    if abs((at.date() - now.date()).days) >= 6:
        return f"{at.day} {at:%b}"
    return f"{at:%a} {at:%H:%M}"


def spoken(rows: list[str]) -> str:
    """The card with single blanks, without what separates its two columns."""
    return " ".join(" ".join(rows).split())


def agrees(rows: list[str], said: dict[str, Any], *, width: int) -> None:
    """All that the document says of the job stands on its card."""
    now, text = datetime.fromisoformat(said["at"]), spoken(rows)
    assert said["number"] in rows[0]
    assert said["vehicle"] in rows[0]
    if said["promise"] is not None:
        assert f"promised {clock(said['promise'], now)}" in rows[1]
    if said["promise_chance"] is not None:
        assert any(word in rows[1] for word in says(said["promise_chance"]))
        tenth = round(said["promise_chance"] * 10)
        assert "in 10" not in rows[1] or f"{tenth} in 10" in rows[1] or tenth == 0
    left, estimate = said["remaining_hours"], said["estimate_hours"]
    assert f"left {left['middle']:.1f} to {left['cautious']:.1f}" in text or "nothing left" in text
    total = next(row.split() for row in rows if row.startswith("   all "))
    sums = [f"{estimate['middle']:.1f}", f"{estimate['cautious']:.1f}",
            f"{said['labour_hours']:.1f}"]  # fmt: skip
    assert total[2:5] == sums
    for phase in said["phases"]:
        phase_agrees(rows, phase, said, width=width)
    told_agrees(text, said, now)


def phase_agrees(
    rows: list[str], phase: dict[str, Any], said: dict[str, Any], *, width: int
) -> None:
    """Figures and people of one phase."""
    begins = f"{phase['number']} {phase['name']}"[: 16 if width < 112 else 24].rstrip()
    row = next(row for row in rows if row[3:].startswith(begins[:12]))
    figures = [f"{phase['book_hours']:.1f}"]
    if phase["kind"] == "labour" and phase["state"] != "skipped":
        figures += [f"{phase['estimate_hours'][which]:.1f}" for which in ("middle", "cautious")]
    if phase["labour_hours"]:
        figures.append(f"{phase['labour_hours']:.1f}")
    if width >= 112 and len(figures) > 2 and phase["state"] not in ("finished", "skipped"):
        figures.append(f"{phase['remaining_hours']['middle']:.1f}")
    name_end = 3 + (17 if width < 112 else 25)
    assert row[name_end:].split()[: len(figures)] == figures
    for badge in phase["people"]:
        name = said["names"][badge]
        assert name in row or name[:2].upper() in row or "+" in row


def told_agrees(text: str, said: dict[str, Any], now: datetime) -> None:
    """What was found, asked, noted, read and promised."""
    for line in said["supplements"]:
        extra = f"{line['hours']:.1f} h" if line["hours"] else f"{line['money']:g}"
        assert f"{line['line']} {line['text']}: +{extra}" in text
        assert f"asked {clock(line['asked_at'], now)} by {line['asked_by']}" in text
        if line["answered_at"]:
            assert f"{line['state']} {clock(line['answered_at'], now)}" in text
        for how in filter(None, (line["answered_by"], line["means"])):
            assert how in text or line["answered_by"] == SOMEBODY  # long: it may be cut
    for one in said["findings"]:
        on = f" on {one['phase']}" if one["phase"] else ""
        assert f"{clock(one['at'], now)} {one['by']} {one['kind']}{on}: {one['text']}" in text
    for one in said["notes"]:
        assert one["text"] in text
    for one in said["promises"]:
        told = clock(one["promise"], now) if one["promise"] else "taken back"
        assert f"{clock(one['at'], now)} {one['by']} {told}" in text
    for kit in said["kits"]:
        assert f"{kit['name']} {'owned' if kit['owned'] else 'hired'} {kit['state']}" in text
    outside_agrees(text, said, now)
    for change in said["estimate_changes"]:
        assert f"{clock(change['at'], now)} {change['middle']:.1f}" in text
    for tag in said["open_conditions"]:
        assert tag in text
    points = [s for p in said["phases"] for s in p["steps"] if s["kind"] == "hold point"]
    for signature in (one for step in points for one in step["signed"]):
        assert clock(signature["at"], now) in text or not signature["void"]
        for name, value in signature["readings"].items():
            assert (f"{value:g}" if name == "value" else f"{name} {value:g}") in text
        for why in filter(None, (signature["void_why"], signature["as_is"])):
            assert why in text


def outside_agrees(text: str, said: dict[str, Any], now: datetime) -> None:
    """What goes on with the customer and with other firms."""
    for one in said["calls"]:
        got = "reached" if one["reached"] else "not reached"
        assert f"{clock(one['at'], now)} {one['by']} {one['means']}, {got}" in text
        assert one["text"] in text
    for one in said["outwork"]:
        at = "at" if one["away"] else "by"
        assert f"{one['phase']} {one['name']}: {one['what']}, {at} {one['firm']}" in text
        for told in filter(None, (one["promised"], one["back_at"], one["sent_at"])):
            assert clock(told, now) in text or (one["back_at"] and told == one["promised"])
        for told in (one["said"] if one["away"] else one["report"], f"{one['price']:g}"):
            assert told in text
    for one in said["advice"]:
        assert f"{one['line']} {one['text']}" in text
        answered = one["answered_at"] and f"{one['answer']} {clock(one['answered_at'], now)}"
        assert (answered or "the customer was not asked yet") in text
    found = said["money"]
    if found is not None and found["ceiling"] is not None:
        for told in (found["ceiling"], found["used"]["total"], found["over"],
                     *found["expected"].values(), found["free_left"]):  # fmt: skip
            assert (f"{told:,.0f}" if told == int(told) else f"{told:,.2f}") in text


@pytest.mark.parametrize("size", SIZES)
def test_a_card_says_what_its_document_says(size: tuple[int, int]) -> None:
    for of in (card(), told_card(), van_card(), outside_card()):
        said = json.loads(json.dumps(document(of)))
        rows = job_canvas(of, size, UNICODE, JobState()).text()
        agrees(left_side(of, rows, size), said, width=min(size[0], 122 if size[0] > 179 else 999))


def left_side(of: JobCard, rows: list[str], size: tuple[int, int]) -> list[str]:
    """The first of two columns; the ledger beside it would stand between its words."""
    page = job_page(of, size[0], UNICODE, None)
    width = page.sheets[0].width
    return [row if n < 3 else row[:width] for n, row in enumerate(rows)]


@pytest.mark.parametrize("size", SIZES)
async def test_a_job_of_the_shop_is_shown_as_its_document_says(
    shop: Shop, pen: Pen, size: tuple[int, int]
) -> None:
    first_steps(shop, pen, "1001", "1", 5)
    phases.finish(shop, pen.by("B12", 45), job="1001", phase="1", why="rust")
    notes.note(shop, pen.by("B13"), job="1001", text="wants the old parts back")
    holding.find(shop, pen.by("B12"), job="1001", phase="2", kind="surprise", text="stud broken",
                 hours=1.5)  # fmt: skip
    holding.answer_supplement(
        shop, pen.by("F01"), job="1001", approve=True, told_by="the owner", means="telephone"
    )
    steps.sign(shop, pen.by("B13"), job="1001", phase="2", step="1", readings={"gross": 2100.0})
    with shop.beside() as db:
        assert keep_forecasts(db, [known(shop, pen, "1001", 17.0)], newest_position(db))
    of = job_card(shop, "1001", pen.now, names=False)  # nobody has signed in
    said = json.loads(json.dumps(document(of)))
    assert said["promise_chance"] is not None
    assert (said["notes"], said["findings"], said["supplements"], said["promises"]) != ([],) * 4
    async with terminal(shop, pen.now, first=Where("job", "1001"), size=size) as at:
        rows = left_side(of, at.lines, size)
        agrees(rows, said, width=min(size[0], 122 if size[0] > 179 else 999))
