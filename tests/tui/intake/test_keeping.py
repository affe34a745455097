"""The intake beside taking work at once: kept, booked, quoted, agreed for a job of the desk."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path
from typing import Any

import pytest

from store.actions import clock, jobs, phases
from store.actions.desk import acts as desk
from store.file.shop import Shop
from store.file.verify import verify
from store.views.desk.at_desk import at_desk
from store.views.estimate import estimate
from store.views.job import job_card
from store.views.ledger import ledger
from tests.tui.driver import Terminal, terminal
from tests.tui.shops import PIN, Pen, kinds, last
from tests.tui.taught import FAMILY, taught
from tui.desk.screen import DeskScreen
from tui.intake.screen import IntakeScreen
from tui.parts.where import DESK, FLOOR, INTAKE, Where

JOB = "1004"
TALL = (180, 50)
OF_JOB = Where("intake", JOB)


@pytest.fixture(name="shop")
def shop_fixture(tmp_path: Path, pen: Pen) -> Iterator[Shop]:
    made = taught(tmp_path / "made.shop", pen)
    yield made
    made.close()


def intake(at: Terminal) -> IntakeScreen:
    screen = at.screen
    assert isinstance(screen, IntakeScreen)
    return screen


def payload(shop: Shop, kind: str) -> dict[str, Any]:
    """What the newest entry of that kind says."""
    return [one.payload for one in ledger(shop) if one.kind == kind][-1]


def enquiry(shop: Shop, pen: Pen, *codes: str, vehicle: str = "old saloon") -> None:
    desk.enquire(
        shop, pen.by("F01"), vehicle=vehicle, complaint="leaks oil", operations=codes,
        family=FAMILY if codes else "",
    )  # fmt: skip


async def asked(at: Terminal, work: str = "cl+rs") -> None:
    """Vehicle, family and work are said."""
    await at.keys("old saloon", "Enter", "b4m", "Enter", work, "Enter")


async def test_one_key_keeps_it_as_an_enquiry_instead_of_taking_it(shop: Shop, pen: Pen) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=FLOOR, badge="F01", size=TALL) as at:
        await at.keys("F5")
        await asked(at)
        await at.keys("n", "Anna Berg", "Enter", "0612 345 678", "Enter")
        assert "for Anna Berg" in at.text
        await at.keys("t", "leaks oil", "Enter", "g", "k")
        assert f"{JOB} is an enquiry" in at.said
        assert "Marsh Lane Works" in at.text
        await at.keys("F5")
        assert intake(at).form.is_empty
    opened = payload(shop, "job-opened")
    assert (opened["state"], opened["operations"], opened["family"], opened["grade"]) == (
        "enquiry", ["CL", "RS"], FAMILY, 3,
    )  # fmt: skip
    assert "Berg" not in "".join(str(one.payload) for one in ledger(shop) if one.seq > before)
    assert verify(shop.path).ok


async def test_taken_at_once_it_has_its_owner_too(shop: Shop, pen: Pen) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=INTAKE, badge="F01") as at:
        await asked(at, "cl")
        await at.keys("n", "Anna Berg", "Enter", "0612 345 678", "Enter", "Enter", PIN, "Enter")
        assert f"{JOB} taken" in at.said
    assert kinds(shop, before)[-2:] == ["customer-known", "customer-of-job"]
    known = at_desk(shop, JOB, pen.now + timedelta(hours=1), customers=True)
    assert known.customer == ("Anna Berg", "0612 345 678")


async def test_it_is_kept_and_booked_at_once(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=INTAKE, badge="F01") as at:
        await asked(at, "cl")
        await at.keys("b", "someday", "Enter")
        assert "is no day" in at.said
        await at.keys(*["backspace"] * 7, "thu", "Enter", "Enter")
        assert "is to come on Thu" in at.said
    assert job_card(shop, JOB, pen.now + timedelta(hours=1)).job.state == "booked"


async def test_a_name_needs_somebody_who_may_see_it(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=INTAKE, badge="B13") as at:
        await asked(at, "cl")
        await at.keys("n")
        assert "foreman and owner" in at.said


async def test_for_a_job_of_the_desk_all_that_is_known_stands_in_the_form(
    shop: Shop, pen: Pen
) -> None:
    enquiry(shop, pen, "CL")
    async with terminal(shop, pen.now, first=OF_JOB, badge="F01", size=TALL) as at:
        form = intake(at).form
        assert (form.vehicle, form.family, form.work) == ("old saloon", FAMILY, ("CL",))
        assert "told: leaks oil" in at.text
        assert at.lines[0].startswith(f" {JOB}  what it takes")
        assert "likely 8 in 10" in at.text


async def test_what_an_enquiry_does_not_say_yet_is_asked(shop: Shop, pen: Pen) -> None:
    enquiry(shop, pen)
    before = last(shop)
    async with terminal(shop, pen.now, first=DESK, badge="F01") as at:
        await at.keys("up", "up", "w")
        assert "family: engine" in at.text
        await at.keys("b4m", "Enter", "cl", "Enter", "k")
        assert isinstance(at.app.screen, DeskScreen)
        assert f"{JOB} is about: clutch and flywheel" in at.said
    assert "job-opened" not in kinds(shop, before), "it is the same job"
    assert payload(shop, "work-chosen")["operations"] == ["CL"]


async def test_nothing_new_is_written_where_nothing_was_changed(shop: Shop, pen: Pen) -> None:
    enquiry(shop, pen, "CL")
    before = last(shop)
    async with terminal(shop, pen.now, first=OF_JOB, badge="F01") as at:
        await at.keys("k")
    assert last(shop) == before


async def test_each_job_has_its_own_form(shop: Shop, pen: Pen) -> None:
    enquiry(shop, pen, "CL")
    enquiry(shop, pen, "RS", vehicle="van")
    async with terminal(shop, pen.now, first=DESK, badge="F01") as at:
        await at.keys("F5", "a third one", "Esc")
        await at.keys("up", "up", "w", "g")
        assert intake(at).form.work == ("CL",)
        await at.keys("Esc", "down", "w")
        assert (intake(at).job, intake(at).form.work) == ("1005", ("RS",))
        assert intake(at).form.grade == 2
        await at.keys("Esc", "up", "w")
        assert intake(at).form.grade == 3, "what was typed is there when one returns"
        await at.keys("Esc", "F5")
        assert "a third one" in at.text


async def test_a_quote_has_both_prices_and_what_is_offered_with_it(shop: Shop, pen: Pen) -> None:
    enquiry(shop, pen)
    async with terminal(shop, pen.now, first=OF_JOB, badge="F01", size=TALL) as at:
        await at.keys("b4m", "Enter", "cl rs", "Enter")
        text = await at.keys("q")
        assert "as planned:" in text
        assert "sleeve" in text.split("a quote")[1]
        assert "both prices" in text
        await at.keys("4", "fri", "Enter", "5", "1", "Enter", "Enter", PIN, "Enter")
        assert "quote 1:" in at.said
    given = payload(shop, "quote-given")
    assert len(given["ways"]) > 1
    assert given["ways"][0]["operations"] == ["CL", "RS"]
    shown = estimate(shop, pen.now, operations=["CL", "RS"], family=FAMILY)
    assert given["ways"][0]["hours"]["middle"] == pytest.approx(shown.total.middle, abs=0.01)
    assert given["until"] == "2026-10-16"
    assert len(given["extras"]) == len(shown.extras) - 1
    assert given["promise"] is not None
    assert job_card(shop, JOB, pen.now + timedelta(hours=1)).job.state == "quoted"
    assert verify(shop.path).ok


async def test_a_quote_as_planned_alone_with_a_ceiling(shop: Shop, pen: Pen) -> None:
    enquiry(shop, pen, "CL", "RS")
    async with terminal(shop, pen.now, first=OF_JOB, badge="F01", size=TALL) as at:
        await at.keys("q", "1", "2", "2", "1,400", "Enter", "3", "3")
        text = at.text
        for words in ("as planned only", "estimate with a ceiling of 1,400", "in writing"):
            assert words in text
        await at.keys("6")
        assert "by arrows" in at.said
        await at.keys("Enter", PIN, "Enter")
    given = payload(shop, "quote-given")
    assert len(given["ways"]) == 1
    assert (given["basis"], given["ceiling"], given["means"]) == ("ceiling", 1400, "in writing")


async def test_a_rough_range_by_voice_leaves_the_job_an_enquiry(shop: Shop, pen: Pen) -> None:
    enquiry(shop, pen, "CL")
    async with terminal(shop, pen.now, first=OF_JOB, badge="F01") as at:
        await at.keys("q", "3", "4", "Enter", PIN, "Enter")
        assert "told roughly" in at.said
    assert payload(shop, "quote-given")["rough"] is True
    assert job_card(shop, JOB, pen.now + timedelta(hours=1)).job.state == "enquiry"


async def test_a_quote_for_a_new_customer_opens_one_enquiry_even_after_a_refusal(
    shop: Shop, pen: Pen
) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=INTAKE, badge="B13") as at:
        await asked(at, "cl")
        await at.keys("q", "Enter")
        assert "takes the foreman or owner" in at.said
        assert intake(at).job == JOB
        await at.keys("q", "Enter")
        assert "takes the foreman or owner" in at.said
    assert kinds(shop, before).count("job-opened") == 1


async def test_without_work_there_is_nothing_to_quote(shop: Shop, pen: Pen) -> None:
    enquiry(shop, pen)
    async with terminal(shop, pen.now, first=OF_JOB, badge="F01") as at:
        await at.keys("b4m", "Enter", "Enter", "q")
        assert "Say the work and the family first" in at.said


async def test_agreed_for_a_job_says_by_whom_and_freezes_what_was_shown(
    shop: Shop, pen: Pen
) -> None:
    enquiry(shop, pen, "CL")
    before = last(shop)
    async with terminal(shop, pen.now, first=OF_JOB, badge="F01", size=TALL) as at:
        shown = estimate(shop, pen.now, operations=["CL"], family=FAMILY)
        await at.keys("right")
        text = await at.keys("Enter")
        assert "the customer agreed" in text
        await at.keys("3", "2", "Enter", PIN, "Enter")
        assert f"{JOB} agreed" in at.said
    assert "job-opened" not in kinds(shop, before)
    agreed = payload(shop, "estimate-agreed")
    assert (agreed["by"], agreed["means"]) == ("the customer", "in person")
    assert agreed["total"]["quantiles"][9] == pytest.approx(shown.total.middle, abs=1e-3)
    told = payload(shop, "promised")
    assert told["chance"] == 0.9
    card = job_card(shop, JOB, pen.now + timedelta(hours=1))
    assert (card.job.state, card.price_basis) == ("waiting", "fixed price")
    assert card.estimate_changes[0].middle == pytest.approx(shown.total.middle, abs=1e-3)


async def test_a_vehicle_that_was_here_says_so_and_offers_the_same_trouble(
    shop: Shop, pen: Pen
) -> None:
    jobs.take_small(shop, pen.by("F01"), text="wipers", vehicle="old saloon")
    clock.clock_on(shop, pen.by("B13"), job=JOB, phase="1")
    clock.clock_off(shop, pen.by("B13", 30))
    phases.finish(shop, pen.by("B13"), job=JOB, phase="1")
    jobs.close(shop, pen.by("F01"), job=JOB)
    async with terminal(shop, pen.now, first=INTAKE, badge="F01", size=TALL) as at:
        await at.keys("old saloon", "Enter")
        assert f"{JOB} wipers, closed today" in at.text
        assert "m the same trouble again" in at.text
        await at.keys("Esc", "F5", "Esc")
        await at.keys("F5", "Enter", "wipers again", "Enter", "m")
        assert "comes back from" in at.text
        await at.keys("Enter", "1", *["backspace"] * 20, "arm bent", "Enter", "1", "Enter", PIN,
                      "Enter")  # fmt: skip
        assert "comes back from" in at.said
    linked = payload(shop, "comeback-linked")
    assert (linked["of"], linked["cause"], linked["pays"]) == (JOB, "arm bent", "shop")


async def test_the_sheet_is_read_as_the_customer_gets_it(shop: Shop, pen: Pen) -> None:
    enquiry(shop, pen, "CL")
    async with terminal(shop, pen.now, first=OF_JOB, badge="F01") as at:
        text = await at.keys("s")
        assert "ESTIMATE" in text
        await at.keys("Esc")
        assert intake(at).page is None
