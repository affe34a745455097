"""A new job at the desk at 80x24, from the first call to the agreed estimate, on real lines.

The customer describes a leak and a noise; two operations are likely. Between the two sittings at
the desk technicians work through the qualifying check. Time stands still in each sitting.
"""

from __future__ import annotations

import os
import re
from contextlib import AbstractContextManager
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from store.file.shop import Shop
from store.file.verify import verify
from store.views.estimate import estimate
from store.views.job import job_card
from store.views.ledger import ledger
from tests.end_to_end.pty_terminal import ROOT, PtyTerminal, program
from tests.tui.desk.ready import through_check
from tests.tui.shops import PIN, Pen
from tests.tui.taught import FAMILY, taught
from tui.words import tenth

SIZE = (80, 24)
JOB, SECOND = "1004", "1005"
OWNER, NUMBER = "Anna Berg", "0612 345 678"
VIN = "1M8GDM9AXKP042788"
"""The worked example of a check digit that is an X; see the test of the rule."""


def at_desk(path: Path, now: datetime, view: str = "floor") -> AbstractContextManager[PtyTerminal]:
    """The foreman at a line of her own, at an hour that stands still."""
    still = {
        "HOISTBOOK_TEST_NOW": now.isoformat(), "HOISTBOOK_LEARNER": "off",
        "PYTHONPATH": os.pathsep.join((str(Path(__file__).parent / "still"), str(ROOT))),
    }  # fmt: skip
    return program(path, "open", "--view", view, "--as", "F01", size=SIZE, **still)


def said(path: Path, kind: str, job: str = JOB) -> dict[str, Any]:
    """What the newest entry of that kind says of a job."""
    shop = Shop(path)
    try:
        return [
            one.payload for one in ledger(shop) if one.kind == kind and one.payload["job"] == job
        ][-1]
    finally:
        shop.close()


@pytest.fixture(name="pen")
def pen_fixture() -> Pen:
    return Pen()


@pytest.fixture(name="path")
def path_fixture(tmp_path: Path, pen: Pen) -> Path:
    taught(tmp_path / "made.shop", pen).close()
    return tmp_path / "made.shop"


def test_a_new_job_at_the_desk(path: Path, pen: Pen) -> None:
    with at_desk(path, pen.now) as at:
        at.wait("Marsh Lane Works")
        a_call(at)
        the_route_at_once(at, path, pen.now)
        what_if(at)
        while_it_is_open(at)
        a_promise(at)
        a_sheet(at)
        a_quote(at, path)
        booked_and_here(at, path)
        another_call(at)
    shop = Shop(path)
    for job in (JOB, SECOND):
        through_check_on(shop, pen, job)
    shop.close()
    pen.now += timedelta(minutes=5)
    with at_desk(path, pen.now, "desk") as at:
        judged(at)
        failed(at, path)
        agreed(at, path)
        frozen(at, path, pen.now)
    nothing_told(path)
    assert verify(path).ok


def a_call(at: PtyTerminal) -> None:
    """A leak and a noise: the vehicle, the words, whose it is; the work is not known yet."""
    at.keys("d")
    at.wait("desk Marsh Lane Works")
    at.keys("e", "old saloon", "Enter", "leaks oil, a noise when cold", "Enter", OWNER, "Enter",
            NUMBER, "Enter", "Enter")  # fmt: skip
    at.wait(f"{JOB} is an enquiry", "choose the work")


def the_route_at_once(at: PtyTerminal, path: Path, now: datetime) -> None:
    """Two operations; three letters of the family; access that both share is paid once; the check
    comes first, and what a failed one would have cost is said; the kits are ours or hired."""
    at.keys("w")
    at.wait("family: engine", "told: leaks oil")
    at.keys("b4m")
    at.wait(FAMILY)
    at.keys("Enter", "cl rs", "Enter")
    shown = at.wait("likely 8 in 10", "sharing saves", "12 jobs", "spent", "tools", "ours")
    shop = Shop(path)
    found = estimate(shop, now, operations=["CL", "RS"], family=FAMILY)
    shop.close()
    together = next(line for line in shown.splitlines() if line.startswith(" together"))
    assert f" {tenth(found.total.middle)} " in together
    assert f"sharing saves {tenth(found.saves_h)}" in together
    rows = [line for line in shown.splitlines() if line.startswith((" 1 ", " 2 ", " 3 "))]
    assert "reception" in rows[0]
    assert all("Qualifying check" in row for row in rows[1:3])


def what_if(at: PtyTerminal) -> None:
    """Both routes side by side: hours, odds, dates, what is more and what is less."""
    at.keys("w")
    at.wait("side by side", "how likely", "hours", "cautious", "more")
    at.keys("Esc")
    at.wait("together")


def while_it_is_open(at: PtyTerminal) -> None:
    """What neighbouring work adds now, and costs alone later."""
    at.keys("x")
    at.wait("while it is open", "now +", "later, alone")
    at.keys("Esc")
    at.wait("together")


def a_promise(at: PtyTerminal) -> None:
    """A chance gives the day, a day gives its chance; then eight in ten again."""
    at.keys("p", "2026-11-20 16:00", "Enter")
    at.wait("20 Nov 16:00")
    at.keys("left", "left", "left")
    at.wait("likely 8 in 10")


def a_sheet(at: PtyTerminal) -> None:
    """What the customer gets: no inside figures, the usual reservations."""
    at.keys("s")
    page = at.wait("ESTIMATE", "old saloon")
    assert "cautious" not in page
    assert "known from" not in page
    at.keys("Esc")
    at.wait("together")


def a_quote(at: PtyTerminal, path: Path) -> None:
    """Both prices of the fork, kept."""
    at.keys("q")
    at.wait("a quote", "as planned:", "both prices", "fixed price")
    at.keys("Enter")
    at.wait("Ruth's PIN")
    at.keys(PIN, "Enter")
    at.wait(f"{JOB}, quote 1", "1 quote unanswered")
    given = said(path, "quote-given")
    assert len(given["ways"]) > 1
    assert given["promise"] is not None


def booked_and_here(at: PtyTerminal, path: Path) -> None:
    """It comes the same day: odometer, VIN, grade by one key; then onto a lift for its check."""
    at.keys("b", "today", "Enter", "Enter")
    at.wait("is to come on Wed", "comes today", "1 arrives today")
    at.keys("a", "84,200", "Enter", "v", "1M8GDM9A1KP042788", "Enter", "3")
    at.wait("check digit")
    at.keys("a")
    at.wait("1M8GDM9A1KP042788", "84,200 km")
    at.keys("v", *["backspace"] * 17, VIN, "Enter", "3")
    at.wait(f"{JOB} is here.", "First the check")
    assert said(path, "grade-set")["grade"] == 3
    at.keys("c")
    at.wait("for its qualifying check", "lift 3")
    at.keys("Enter")
    at.wait(f"{JOB} is on lift 3")


def another_call(at: PtyTerminal) -> None:
    """Somebody else, with everything said at once; it is here too."""
    at.keys("e", "van, white", "Enter", "judders", "Enter", "Enter", "cl", "Enter", "b4-m-f",
            "Enter")  # fmt: skip
    at.wait(f"{SECOND} is an enquiry")
    at.keys("a", "Enter", "2")
    at.wait(f"{SECOND} is here.")
    at.keys("Esc")
    at.wait("lift")


def through_check_on(shop: Shop, pen: Pen, job: str) -> None:
    """Technicians work through a check on lift 3, one vehicle after the other."""
    from store.actions import places

    if job == SECOND:
        places.move(shop, pen.by("F01"), job=JOB, place="yard", lift=False)
        places.move(shop, pen.by("F01"), job=SECOND, place="3", lift=True)
    through_check(shop, pen, job)


def judged(at: PtyTerminal) -> None:
    """The desk says first what wants whom; one digit judges the check."""
    at.wait("SIGN", "judge the check", "2 checks to judge")
    stand_on(at, JOB)
    at.keys("k")
    at.wait("what did the check come to?", "1 pass", "3 fail")
    at.keys("2", "seal weeps at the sump too", "Enter")
    at.wait("Ruth's PIN")
    at.keys(PIN, "Enter")
    at.wait("pass with conditions, seal weeps", "1 check to judge")


def stand_on(at: PtyTerminal, job: str) -> None:
    """Go through what wants somebody until one stands on that job."""
    for _ in range(4):
        if re.search(rf"▸ {job}", at.text):
            return
        at.keys("n")
        at.idle(0.3)
    raise AssertionError(at.text)


def failed(at: PtyTerminal, path: Path) -> None:
    """The other one fails: what it cost is said, and it is turned away with its reason."""
    stand_on(at, SECOND)
    at.keys("k", "3", "not the clutch", "Enter")
    at.wait("Spent so far")
    at.keys("x", "6")
    at.wait("This cannot be undone")
    at.keys("Enter")
    at.wait(f"{SECOND} is turned away: failed the qualifying check")
    assert said(path, "state-changed", SECOND)["state"] == "turned-away"


def agreed(at: PtyTerminal, path: Path) -> None:
    """In whole, by whom, how, on which terms, with an answer ahead and a free hand."""
    at.keys("left", "left", "left")
    stand_on(at, JOB)
    at.keys("g")
    at.wait("all of it: clutch and flywheel + rear main seal", "quoted today", "promised")
    at.keys("2", *["backspace"] * 12, OWNER, "Enter", "5", "1", "2", "Enter", "6", "150", "Enter")
    at.wait("renew it", "up to 150")
    at.keys("Enter")
    at.wait(f"{JOB} agreed")
    word = said(path, "estimate-agreed")
    assert (word["by"], word["means"], word["quote"]) == ("the customer", "telephone", 1)
    assert word["ahead"][0]["answer"].startswith("renew it")
    assert word["free_hand"] == 150


def frozen(at: PtyTerminal, path: Path, now: datetime) -> None:
    """The card shows what was agreed; what changes it later will stand beside it."""
    at.keys("Enter")
    at.wait(f"{JOB} old saloon", "clutch and flywheel + rear main seal", "promised")
    shop = Shop(path)
    card = job_card(shop, JOB, now)
    shop.close()
    assert card.price_basis == "fixed price"
    assert card.estimate_changes[-1].middle == pytest.approx(
        said(path, "estimate-agreed")["total"]["quantiles"][9], abs=0.01
    )
    assert len(card.phases) > 3
    at.keys("Esc")
    at.wait("desk Marsh Lane Works")


def nothing_told(path: Path) -> None:
    """Name and number are in no entry of the ledger."""
    shop = Shop(path)
    told = "".join(str(one.payload) for one in ledger(shop))
    shop.close()
    assert OWNER not in told
    assert NUMBER not in told
