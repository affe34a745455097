"""Special tools by keys: every act on a kit, a hire and a supplier, and what is refused."""

from __future__ import annotations

import json
from datetime import date
from pathlib import Path

import pytest

from store.actions.hires import asked as hires
from store.actions.hires import suppliers
from store.file.shop import Shop
from store.file.verify import verify
from store.views.tools.hires_back import hires_back, supply
from store.views.tools.page import tools
from store.views.tools.values import KitNow
from tests.store.actions.made import make
from tests.store.actions.test_kit_gate import at_chain, keeps
from tests.tui.driver import Terminal, terminal
from tests.tui.scanner import scan
from tests.tui.shops import PIN, Pen, kinds, last
from tui.floor.screen import FloorScreen
from tui.job.screen import JobScreen
from tui.parts.where import BAY, FLOOR, TOOLS, Where
from tui.tools.screen import ToolsScreen
from tui.tools.state import FOLD

ENTER = "Enter"
CLEAR = ["backspace"] * 20


def kit(shop: Shop, pen: Pen, code: str) -> KitNow:
    """A kit as it is now."""
    return next(one for one in tools(shop, pen.now).kits if one.code == code)


def terms(shop: Shop, pen: Pen, code: str = "link") -> None:
    """A supplier who offers a kit."""
    suppliers.know(shop, pen.by(), name="Levers", lead_days=1)
    suppliers.offer(
        shop, pen.by(), kit=code, supplier="Levers", day=24, week=90, carriage=15, deposit=200
    )


def asked(shop: Shop, pen: Pen, code: str = "link", job: str | None = "1002") -> str:
    """A kit that is on its way; the id of its hire."""
    hires.ask(
        shop, pen.by("F01"), kit=code, supplier="Levers", job=job,
        expected=pen.now.replace(hour=12),
        due=pen.now.replace(day=16, hour=12),
    )  # fmt: skip
    return kit(shop, pen, code).hires[0].hire


def received(shop: Shop, pen: Pen, code: str = "link", job: str | None = "1002") -> str:
    """A kit that is here; the id of its hire."""
    hire = asked(shop, pen, code, job)
    hires.receive(shop, pen.by("B12"), hire=hire)
    return hire


async def to_kit(at: Terminal, code: str) -> str:
    """Stand on a kit by typing its name."""
    return await at.keys("f", code, ENTER)


async def proven(at: Terminal) -> str:
    """Type the PIN where it is asked for."""
    return await at.keys(PIN, ENTER) if "PIN" in at.text else at.text


async def test_a_supplier_is_made_known_with_how_it_counts(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=TOOLS, badge="F01") as at:
        await at.keys("t", "Levers", ENTER)
        assert "to the day it is handed to the carrier" in at.text
        await at.keys("1", *CLEAR, "16:00", ENTER, "2", "3", "4", *CLEAR, "2", ENTER)
        await at.keys("5", *CLEAR, "1", ENTER, "6", *CLEAR, "2", ENTER, "7", *CLEAR, "30", ENTER)
        await at.keys(ENTER)
        await proven(at)
        assert "Levers: delivered 1 working day after asking" in at.said
    house = supply(shop).houses["Levers"]
    assert (f"{house.cut_off:%H:%M}", house.counts, house.weekend) == ("16:00", "arrival", "half")
    assert (house.late, house.lead_days, house.back_days, house.cleaning) == (2, 1, 2, 30)


async def test_what_a_kit_costs_there_and_to_buy(shop: Shop, pen: Pen) -> None:
    suppliers.know(shop, pen.by(), name="Levers")
    async with terminal(shop, pen.now, first=TOOLS, badge="F01") as at:
        await to_kit(at, "link")
        await at.keys("p", "1", "24", ENTER, "2", "90", ENTER, "3", "260", ENTER, "4", "3", ENTER)
        await at.keys("5", "15", ENTER, "6", "200", ENTER, ENTER)
        await proven(at)
        assert "chain link tool at Levers: 24" in at.said
        await at.keys("p", "y", "640", ENTER, "2", "25", ENTER, "3", "6", ENTER, ENTER)
        assert "640" in at.said
        text = await at.keys(ENTER)
        assert "24 a day, 90 a week, 260 a month, at least 3 days" in text
        assert "640, 25 a year to keep, lasts 6 years" in text
        await at.keys("Esc", "p", "1", "2")
        assert "not hired out by Levers any more" in at.said
    known = supply(shop)
    assert known.offers == {}
    price = known.prices["link"]
    assert (price.buy, price.upkeep, price.life_years) == (640, 25, 6)
    assert verify(shop.path).ok


async def test_a_kit_is_asked_for_as_it_is_proposed_by_enter_alone(shop: Shop, pen: Pen) -> None:
    terms(shop, pen)
    async with terminal(shop, pen.now, first=TOOLS, badge="F01") as at:
        await to_kit(at, "link")
        text = await at.keys("k")
        assert "Levers: 24 a day, 90 a week, carriage 15 each way, deposit 200." in text
        assert "1002" in text
        await at.keys(ENTER)
        await proven(at)
        assert "chain link tool asked for at Levers for 1002" in at.said
        assert "Taken back" in await at.keys("u")
    assert kit(shop, pen, "link").hires == ()
    assert verify(shop.path).ok


async def test_supplier_job_and_days_are_changed_before_it_is_asked_for(
    shop: Shop, pen: Pen
) -> None:
    terms(shop, pen)
    async with terminal(shop, pen.now, first=TOOLS, badge="F01") as at:
        await to_kit(at, "gauges")
        await at.keys("k", "1", "z", "Other", ENTER, "2", "a", "3", "thu", ENTER, "4", "fri", ENTER)
        await at.keys("5", "for practice", ENTER)
        assert "for practice" in at.text
        await at.keys(ENTER)
        await proven(at)
        assert "asked for at Other, expected Thu 15 Oct, goes back Fri 16 Oct" in at.said, at.text
    (hire,) = kit(shop, pen, "gauges").hires
    assert (hire.supplier, hire.job, hire.note) == ("Other", None, "for practice")


async def test_what_nobody_needs_is_not_asked_for_without_a_reason(shop: Shop, pen: Pen) -> None:
    terms(shop, pen, "gauges")
    async with terminal(shop, pen.now, first=TOOLS, badge="F01") as at:
        await to_kit(at, "gauges")
        await at.keys("k", ENTER)
        await proven(at)
        assert "With a reason it is hired all the same." in at.said
        assert "--" not in at.said
    assert kit(shop, pen, "gauges").hires == ()


async def test_each_piece_is_looked_for_and_what_lacks_is_mended_later(
    shop: Shop, pen: Pen
) -> None:
    terms(shop, pen)
    asked(shop, pen)
    async with terminal(shop, pen.now, first=TOOLS, badge="B12") as at:
        await to_kit(at, "link")
        text = await at.keys("r")
        assert "3 pieces, all are there" in text
        text = await at.keys("2", "s", "S-17", ENTER, "v", "2027-03-31", ENTER)
        assert "anvil" in text
        assert "LACKS" in text
        assert "1 of them lack" in text
        await at.keys(ENTER)
        assert "not complete: anvil" in at.said
        assert "m on its line" in at.said
        assert "NOT WHOLE" in at.text
        (hire,) = kit(shop, pen, "link").hires
        assert (hire.missing, hire.serial, hire.valid_until) == (
            ("anvil",), "S-17", date(2027, 3, 31),
        )  # fmt: skip
        await at.keys("m", ENTER)
        assert "is whole now" in at.said
    assert kit(shop, pen, "link").hires[0].whole
    assert verify(shop.path).ok


async def test_the_wrong_variant_and_what_is_on_no_list(shop: Shop, pen: Pen) -> None:
    terms(shop, pen)
    asked(shop, pen)
    async with terminal(shop, pen.now, first=TOOLS, badge="B12") as at:
        await to_kit(at, "link")
        await at.keys("r", "w", "n", "for another chain", ENTER, "d", *CLEAR, "thu", ENTER, ENTER)
        assert "the wrong variant" in at.said
    (hire,) = kit(shop, pen, "link").hires
    assert hire.wrong
    assert hire.note == "for another chain"


async def test_a_technician_receives_and_sends_back_but_hires_nothing(shop: Shop, pen: Pen) -> None:
    terms(shop, pen)
    received(shop, pen)
    async with terminal(shop, pen.now, first=TOOLS, badge="B12") as at:
        await to_kit(at, "link")
        await at.keys("x", "thu", ENTER)
        assert at.said.startswith("!")
        text = await at.keys("b")
        assert "3 pieces: press, anvil and riveting pins." in text
        assert "by 15:30 counts for that day" in text
        text = await at.keys("2", ENTER, "pins", ENTER)
        assert "2 of 3" in text
        await at.keys("3", "4", "key bent", ENTER, ENTER)
        assert "went back to Levers, 2 pieces counted" in at.said
        assert "pins" in at.said
        assert "Taken back" in await at.keys("u")
    assert kit(shop, pen, "link").hires[0].here


async def test_a_hire_is_kept_until_the_day_that_stands_there_or_is_typed(
    shop: Shop, pen: Pen
) -> None:
    terms(shop, pen)
    received(shop, pen)
    async with terminal(shop, pen.now, first=TOOLS, badge="F01") as at:
        await to_kit(at, "link")
        text = await at.keys("x")
        assert "It was to go back Fri" in text
        await at.keys(*CLEAR, "sun", ENTER)
        assert "closed on Sun" in at.text
        await at.keys(*CLEAR, "mon", ENTER)
        await proven(at)
        assert "goes back Mon 19 Oct: tell Levers" in at.said
    (hire,) = kit(shop, pen, "link").hires
    assert hire.due is not None
    assert f"{hire.due:%d %H:%M}" == "19 13:30", "a day is meant by the supplier's cut-off"


async def test_the_day_that_the_forecast_proposes_is_taken_by_enter_alone(
    shop: Shop, pen: Pen
) -> None:
    """A kit that is likely needed beyond today's due hour: the table says what each day costs."""
    terms(shop, pen)
    hires.ask(
        shop, pen.by("F01"), kit="link", supplier="Levers", job="1002",
        expected=pen.now.replace(hour=8), due=pen.now.replace(hour=10),
    )  # fmt: skip
    hires.receive(shop, pen.by("B12"), hire=kit(shop, pen, "link").hires[0].hire)
    advice = kit(shop, pen, "link").advice
    assert advice is not None
    assert advice.best.do == "extend"
    best = next(one for one in advice.days if one.back_by == advice.best.until)
    assert best.total == min(one.total for one in advice.days if one.total is not None)
    async with terminal(shop, pen.now, first=TOOLS, badge="F01") as at:
        text = await to_kit(at, "link")
        assert "EXTEND" in text
        assert f"Thu 15 costs {round(best.total or 0)}:" in text
        text = await at.keys("x")
        assert "goes back (Enter: Thu 15:30)" in text
        await at.keys(ENTER)
        await proven(at)
        assert "goes back Thu 15 Oct: tell Levers" in at.said
    assert kit(shop, pen, "link").hires[0].due == advice.best.until
    assert verify(shop.path).ok


async def test_a_hire_is_given_to_any_job_and_to_one(shop: Shop, pen: Pen) -> None:
    terms(shop, pen)
    received(shop, pen)
    async with terminal(shop, pen.now, first=TOOLS, badge="F01") as at:
        await to_kit(at, "link")
        await at.keys("g", "a")
        await proven(at)
        assert "is for any job now" in at.said
        text = await at.keys("g")
        assert "1002.6" in text
        await at.keys("1")
        assert "is for 1002 now" in at.said
        await at.keys("g", "o", "1003", ENTER)
        assert "1003 has no phase to come that needs" in at.said


async def test_what_was_asked_for_is_called_off(shop: Shop, pen: Pen) -> None:
    terms(shop, pen)
    asked(shop, pen)
    async with terminal(shop, pen.now, first=TOOLS, badge="F01") as at:
        await to_kit(at, "link")
        await at.keys("c")
        await proven(at)
        assert "is not wanted any more: tell Levers" in at.said
        await at.keys("c")
        assert "Nobody asked for chain link tool." in at.said


async def test_what_went_back_is_settled_line_by_line(shop: Shop, pen: Pen) -> None:
    terms(shop, pen)
    hires.send_back(shop, pen.by("B12"), hire=received(shop, pen), pieces=3)
    before = last(shop)
    async with terminal(shop, pen.now, first=TOOLS, badge="F01") as at:
        text = at.text
        assert "» chain link tool" in text
        assert "still to come" in text
        await at.keys(*["down"] * 30)
        assert "sent to Levers" in at.text
        await at.keys("a", "all well", ENTER)
        assert "Levers" in at.said
        await at.keys("d", *CLEAR, "150", ENTER, "a scratch", ENTER)
        await proven(at)
        assert "150" in at.said
        await at.keys("v", "110", ENTER, "2", "36", ENTER, "3", "5", ENTER, ENTER)
        assert "came to 110" in at.said
        assert "» chain link tool" not in at.text
        await at.keys("v")
        assert "No hire waits for its invoice." in at.said
    assert kinds(shop, before) == ["hire-arrived-back", "deposit-returned", "hire-invoiced"]
    assert hires_back(shop) == ()
    assert verify(shop.path).ok


async def test_a_kit_of_the_shop_has_a_date(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=TOOLS, badge="B12") as at:
        await to_kit(at, "engine hoist")
        await at.keys("e", "soon", ENTER)
        assert "is no date" in at.text
        await at.keys(*CLEAR, "2027-03-31", ENTER, "inspector's slip 12", ENTER)
        await proven(at)
        assert "may be used until 2027-03-31" in at.said
        await to_kit(at, "link")
        await at.keys("e")
        assert "is hired: the date that it carries is written down when it comes" in at.said
    assert supply(shop).dates["hoist"] == date(2027, 3, 31)


def let_shop(shop: Shop, pen: Pen) -> None:
    """A shop that keeps its hires: phases of 1002 wait for kits."""
    terms(shop, pen)
    suppliers.offer(shop, pen.by(), kit="locks", supplier="Levers", day=18)


async def test_the_foreman_lets_a_phase_begin_without_its_kit(shop: Shop, pen: Pen) -> None:
    let_shop(shop, pen)
    before = last(shop)
    async with terminal(shop, pen.now, first=TOOLS, badge="F01") as at:
        await to_kit(at, "link")
        text = await at.keys("l")
        assert "1002.6" in text
        await at.keys("the chain stays on", ENTER)
        await proven(at)
        assert "may be begun without" in at.said
        assert "chain link tool" in at.said
    assert kinds(shop, before) == ["kit-let"]


@pytest.mark.parametrize(("first", "key"), [(Where("job", "1002"), "l"), (FLOOR, "q")])
async def test_the_same_word_is_one_key_away_on_card_and_floor(
    shop: Shop, pen: Pen, first: Where, key: str
) -> None:
    let_shop(shop, pen)
    async with terminal(shop, pen.now, first=first, badge="F01") as at:
        text = await at.keys(key)
        assert "which phase may begin without its kit?" in text
        await at.keys("1", "ours is lent", ENTER)
        await proven(at)
        assert "may be begun without" in at.said


@pytest.mark.parametrize(
    ("badge", "asked"),
    [("T2", "a foreman here lets it begin"), ("FOR", "begin all the same, and why")],
)
async def test_who_is_refused_for_a_kit_may_begin_by_the_foremans_word(
    tmp_path: Path, badge: str, asked: str
) -> None:
    world = make(tmp_path)
    world.to(8)
    job = at_chain(world)
    keeps(world)
    before = last(world.shop)
    async with terminal(world.shop, world.now, first=BAY, badge=badge) as at:
        await scan(at, f"phase {job}.4")
        assert "needs chain link tool (not hired)" in at.text
        assert asked in at.text
        assert "hoistbook" not in at.text
        await at.keys("Esc")
        assert "needs chain link tool (not hired)" in at.said
        assert last(world.shop) == before
        await scan(at, f"phase {job}.4")
        await at.keys("1", *(["FOR", ENTER] if badge == "T2" else []), "by hand", ENTER)
        await proven(at)
        assert "clocked on" in at.said
    assert kinds(world.shop, before) == ["kit-let", "clocked-on"]
    assert verify(world.shop.path).ok
    world.shop.close()


async def test_dates_are_written_for_a_calendar(shop: Shop, pen: Pen, tmp_path: Path) -> None:
    terms(shop, pen)
    received(shop, pen)
    target = tmp_path / "out.ics"
    async with terminal(shop, pen.now, first=TOOLS, badge="F01") as at:
        await at.keys("i", *["backspace"] * 200, str(target), ENTER)
        assert "written" in at.said
        await at.keys("i", *["backspace"] * 200, str(shop.path), ENTER)
        assert "That is the shop file" in at.text
    assert "BEGIN:VCALENDAR" in target.read_text("utf-8")


async def test_one_moves_by_keys_and_mouse_and_the_rest_unfolds(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=TOOLS, badge="F01", size=(120, 40)) as at:
        screen = at.screen
        assert isinstance(screen, ToolsScreen)
        first = screen.cursor
        await at.keys("n")
        assert screen.cursor != first
        await at.keys("page down")
        await at.keys(*["down"] * 30)
        assert screen.cursor == FOLD
        many = len(at.text.splitlines())
        await at.keys(ENTER)
        assert screen.open
        assert len(at.text.splitlines()) == many
        await at.keys(ENTER)
        assert screen.cursor == FOLD
        y = next(n for n, line in enumerate(at.lines) if "locking set" in line and n > 4)
        await at.pilot.click(offset=(6, y))
        await at.settle()
        assert screen.cursor == "locks"
        await at.pilot.click(offset=(6, y))
        await at.settle()
        assert "its pieces" in at.text
        await at.keys("Esc", "z")
        assert "A cell is" in at.said
        await at.keys("o")
        assert isinstance(at.app.screen, JobScreen)


async def test_it_is_reached_from_the_floor_and_by_f4(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        await at.keys("x")
        assert isinstance(at.app.screen, ToolsScreen)
        await at.keys("Esc")
        assert isinstance(at.app.screen, FloorScreen)
        text = await at.keys("F4", "dummy shaft")
        assert "setting gauges and bearing puller" in text
        await at.keys(ENTER)
        screen = at.app.screen
        assert isinstance(screen, ToolsScreen)
        assert screen.cursor == "gauges"
        assert "▸ setting gauges" in at.text


async def test_a_page_tells_all_of_a_kit_and_hands_other_keys_on(shop: Shop, pen: Pen) -> None:
    terms(shop, pen)
    received(shop, pen)
    async with terminal(shop, pen.now, first=TOOLS, badge="F01") as at:
        await to_kit(at, "link")
        text = await at.keys(ENTER)
        assert "── chain link tool (link)" in text
        assert "Levers" in text
        await at.keys("down", "up", " ")
        text = await at.keys("b")
        assert "pieces counted" in text


async def test_a_key_says_why_there_is_nothing_to_do(shop: Shop, pen: Pen) -> None:
    said = {
        "b": "is not here, so it cannot go back", "x": "is not hired", "r": "nobody asked for it",
        "m": "Nothing lacks of", "c": "Nobody asked for", "a": "No hire is still on its way back",
        "d": "No hire has a deposit that is out", "v": "No hire waits for its invoice",
        "F6": "These are the special tools", "l": "No phase of any job waits for a kit",
    }  # fmt: skip
    async with terminal(shop, pen.now, first=TOOLS, badge="F01") as at:
        await to_kit(at, "link")
        for key, words in said.items():
            await at.keys(key)
            assert words in at.said, key


def test_a_hire_that_went_back_has_what_is_to_come(shop: Shop, pen: Pen) -> None:
    terms(shop, pen)
    hires.send_back(shop, pen.by("B12"), hire=received(shop, pen), pieces=3)
    (back,) = hires_back(shop)
    assert back.to_come == ("arrival", "deposit", "invoice")
    assert (back.kit, back.deposit, back.supplier) == ("link", 200, "Levers")
    assert json.dumps(supply(shop).names) == '["Levers"]'
