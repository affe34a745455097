"""The intake by keys: from vehicle and work to a job, and every key on the way."""

from __future__ import annotations

import json
import subprocess
import sys
from collections.abc import Iterator
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from store.file.shop import Shop
from store.file.verify import verify
from store.views.estimate import estimate
from store.views.job import job_card
from store.views.ledger import ledger
from tests.tui.cli.made import run
from tests.tui.driver import Terminal, terminal
from tests.tui.shops import PIN, Pen, founded, kinds, last
from tests.tui.taught import FAMILY, taught
from tui.colours import ANSI, DARK, Paint
from tui.intake.reckoner import Reckoner
from tui.intake.screen import IntakeScreen
from tui.parts.where import BAY, FLOOR, INTAKE
from tui.signs import ASCII, UNICODE
from tui.words import chance, day_time, hours, tenth, zone_of

ZONE = zone_of("Europe/Amsterdam")
TALL = (120, 50)


@pytest.fixture
def shop(tmp_path: Path, pen: Pen) -> Iterator[Shop]:
    made = taught(tmp_path / "made.shop", pen)
    yield made
    made.close()


def form(at: Terminal) -> Any:
    screen = at.screen
    assert isinstance(screen, IntakeScreen)
    return screen.form


def flat(at: Terminal) -> str:
    return " ".join(at.text.split())


async def asked(at: Terminal, work: str = "cl+rs") -> None:
    """Vehicle, family and work are said."""
    await at.keys("old saloon, 1.5 t", "Enter", "b4m", "Enter", work, "Enter")


async def test_a_job_of_two_operations_is_taken_as_it_was_shown(shop: Shop, pen: Pen) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=FLOOR, badge="F01", size=TALL) as at:
        assert "number plate, or how you call it" in await at.keys("F5")
        await asked(at)
        shown = estimate(shop, pen.now, operations=["CL", "RS"], family=FAMILY)
        assert f"sharing saves {hours(shown.saves_h)}" in flat(at)
        await at.keys("Enter", PIN, "Enter")
        assert "1004 taken" in at.said
        assert "Marsh Lane Works" in at.text
    new = [line for line in ledger(shop) if line.seq > before]
    agreed = next(line for line in new if line.kind == "estimate-agreed")
    assert agreed.payload["total"]["quantiles"][9] == pytest.approx(shown.total.middle, abs=1e-3)
    assert agreed.payload["says"] == shown.says
    assert agreed.payload["source"].startswith("learned")
    told = next(line for line in new if line.kind == "promised")
    assert told.payload["chance"] == 0.8
    card = job_card(shop, "1004", pen.now)
    assert card.job.promise == next(at for one, at in shown.promise if one == 0.8)
    assert card.job.state == "waiting"
    assert verify(shop.path).ok


async def test_the_screen_says_what_estimate_json_says(
    shop: Shop, pen: Pen, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.delenv("HOISTBOOK_BADGE", raising=False)
    words = ["estimate", "--operation", "CL", "--operation", "RS", "--family", FAMILY, "--at",
             pen.now.isoformat(), "--by", "2026-10-22T16:00", "--json"]  # fmt: skip
    async with terminal(shop, pen.now, first=INTAKE, badge="F01", size=(170, 60)) as at:
        await asked(at)
        await at.keys("p", "2026-10-22 16:00", "Enter")
        ran = run("--shop", str(shop.path), *words)
        assert ran.status == 0, ran
        said, text = json.loads(ran.out), flat(at)
        for line in said["route"]:
            start = f" {line['phase']} {line['name'][:20]}"
            row = " ".join(next(one for one in at.lines if one.startswith(start)).split())
            if line["kind"] == "labour":
                middle, cautious = (line["estimate_hours"][k] for k in ("middle", "cautious"))
                assert f"{tenth(line['book_hours'])} {tenth(middle)} {tenth(cautious)}" in row
        total = said["total_hours"]
        assert f"8 in 10 between {tenth(total['q10'])} and {hours(total['q90'])}" in text
        assert f"sharing saves {hours(said['shared_access_saves_hours'])}" in text
        for one in said["promise"]:
            if one["chance"] in (0.5, 0.8, 0.9, 0.95):
                date = datetime.fromisoformat(one["finish"])
                assert day_time(date, ZONE, pen.now) in text
        by = chance(said["by"]["chance"])
        assert any(f"{word} {by.tenths}".rstrip() in text for word in (by.word, by.short))
        for one in said["extras"]:
            assert f"now +{tenth(one['adds_hours'])} h; later, alone, {hours(one['alone_hours'])}" \
                in text  # fmt: skip
        forks = [way for fork in said["forks"] for way in fork["ways"] if way["ends"]]
        assert forks
        assert all(f"then {hours(w['total_hours']['middle'])} spent" in text for w in forks)


async def test_arrows_choose_the_promise_from_nothing_to_safe(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=INTAKE, badge="F01") as at:
        await asked(at)
        assert form(at).chance == 0.8
        seen = [form(at).chance]
        for key in ("right", "right", "right", "left", "left", "left", "left", "left"):
            await at.keys(key)
            seen.append(form(at).chance)
        assert seen == [0.8, 0.9, 0.95, 0.95, 0.9, 0.8, 0.5, None, None]
        before = last(shop)
        await at.keys("Enter", PIN, "Enter")
    assert "promised" not in kinds(shop, before)


async def test_a_day_is_typed_and_gets_its_chance(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=INTAKE, badge="F01") as at:
        await asked(at)
        assert "is no time" in await at.keys("p", "soon", "Enter") or "is no time" in at.said
        await at.keys("Esc")
        assert form(at).day is None
        await at.keys("p", *["backspace"] * 4, "today 16:00", "Enter")
        assert "will break" in at.text
        await at.keys("Enter", PIN, "Enter")
    card = job_card(shop, "1004", pen.now)
    assert card.job.promise is not None
    assert day_time(card.job.promise, ZONE, pen.now) == "Wed 16:00"


async def test_esc_goes_back_and_what_was_typed_is_there(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=FLOOR, badge="F01") as at:
        await at.keys("F5", "old sal", "Esc")
        assert "Marsh Lane Works" in at.text
        assert "old sal" in await at.keys("F5")
        await at.keys("oon", "Enter", "b4m", "Enter", "cl", "Enter", "g", "Esc")
        assert "Marsh Lane Works" in at.text
        await at.keys("j")
        assert "old saloon" in at.text
        assert "rusty or neglected" in at.text
        assert form(at).work == ("CL",)
        await at.keys("c", "Esc", "Esc")
        assert form(at) if isinstance(at.screen, IntakeScreen) else True


async def test_from_the_bay_and_back_to_it(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=BAY, badge="B12", lift="1") as at:
        assert "new job" in await at.keys("F5")
        assert "Ines" in await at.keys("Esc")
        before = last(shop)
        await at.keys("F5", "little red one", "Enter", "Enter", "rear lamp", "Enter")
        assert "A small job: one phase, 1.0 h, the usual" in at.text
        await at.keys("h", "0.5", "Enter")
        assert "one phase, 0.5 h" in at.text
        await at.keys("Enter")
        assert "taken" in at.said
    assert kinds(shop, before)[:2] == ["vehicle-known", "job-opened"]


async def test_a_technician_looks_and_is_told_who_may_agree(shop: Shop, pen: Pen) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=INTAKE, badge="B13") as at:
        await asked(at, "cl")
        assert "takes a foreman or the owner" in flat(at)
        await at.keys("Enter")
        assert "it takes the foreman or owner" in at.said
    assert last(shop) == before


async def test_nobody_looks_and_is_asked_for_a_badge_when_it_is_agreed(
    shop: Shop, pen: Pen
) -> None:
    async with terminal(shop, pen.now, first=FLOOR) as at:
        await at.keys("F5")
        await asked(at, "cl")
        assert "Who does this?" in await at.keys("Enter")
        await at.keys("F01", "Enter", PIN, "Enter")
        assert "1004 taken" in at.said


async def test_what_is_known_changes_the_route_at_once(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=INTAKE, badge="F01", size=TALL) as at:
        await asked(at)
        assert "? seat sound?" in at.text
        assert "Repair sleeve" not in at.text.split("check")[0]
        await at.keys("o")
        assert "seal seat on the crank" in at.text
        await at.keys("5", "2")
        assert form(at).options == {"seat": "sleeve"}
        assert "▪ seat sleeve" in at.text
        assert "Repair sleeve" in at.text
        await at.keys("o", "5", "0")
        assert form(at).options == {}
        await at.keys("a", "backspace", "Enter")
        assert form(at).work == ("CL",)
        assert "seat" not in at.text.split("phase")[0]


async def test_both_builds_side_by_side_and_a_digit_takes_one(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=INTAKE, badge="F01") as at:
        await asked(at)
        text = await at.keys("w")
        assert "side by side" in text
        assert "1 of " in text
        assert "1 sound: seal alone" in text
        assert "2 groove" in text
        await at.keys("down")
        assert "2 of " in at.text
        await at.keys("q")
        assert "digits" in at.said
        await at.keys("up", "2")
        assert form(at).options == {"seat": "sleeve"}
        assert "side by side" not in at.text


async def test_neighbouring_work_is_taken_along_by_one_key(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=INTAKE, badge="F01") as at:
        await asked(at, "cl")
        text = await at.keys("x")
        assert "rear main seal" in text
        assert "later, alone" in text
        await at.keys("1")
        assert form(at).work == ("CL", "RS")


async def test_a_free_lift_or_waiting(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=INTAKE, badge="F01") as at:
        await asked(at, "cl")
        await at.keys("l")
        assert "lift 3, scissor 3.0 t" in at.text
        assert "goes on 3 now" in await at.keys("1")
        await at.keys("l", "0")
        assert form(at).lift is None
        await at.keys("l", "1", "Enter", PIN, "Enter")
        assert "1004 is on lift 3" in at.said


async def test_a_vehicle_too_heavy_is_offered_no_lift(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=INTAKE, badge="F01") as at:
        await at.keys("tipper 3.4 t", "Enter", "b4m", "Enter", "cl", "Enter", "l")
        assert "No lift is free that carries it" in at.said
        assert "3 too weak" in at.text


async def test_a_vehicle_that_was_here_needs_no_family(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=INTAKE, badge="F01") as at:
        text = await at.keys("grey")
        assert "estate, grey" in text
        await at.keys("down", "Enter")
        assert (form(at).family, form(at).mass) == (FAMILY, 1700)
        assert "work: code or words" in at.text


async def test_a_family_never_seen_says_why_its_range_is_wide(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=INTAKE, badge="F01", size=TALL) as at:
        await asked(at, "cl")
        screen = at.screen
        assert isinstance(screen, IntakeScreen)
        known = screen.found
        await at.keys("f", "x9-m-f")
        assert "a family never seen here" in at.text
        await at.keys("Enter")
        assert "No job here on X9-M-F yet" in at.text
        assert "none on this family" in at.text
        new = screen.found
        assert known is not None
        assert new is not None
        wide = [one.total.quantiles[17] / one.total.quantiles[1] for one in (known, new)]
        assert wide[1] > wide[0]


async def test_what_cannot_be_is_said_and_the_field_stays(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=INTAKE, badge="F01") as at:
        await at.keys("Enter")
        assert "Say which vehicle" in at.said
        await at.keys("van", "Enter", "zz", "Enter")
        assert "is no family" in at.said
        await at.keys("backspace", "backspace", "b4-m-f", "Enter")
        assert "nothing fits" not in at.text
        await at.keys("zzz")
        assert "small job" in at.text
        await at.keys("backspace", "backspace", "backspace", "Enter", "Enter")
        assert "Which work? a says it." in at.said
        await at.keys("x")
        assert "Say the work and the family first: a and f." in at.said


async def test_told_grade_and_a_key_that_means_nothing(shop: Shop, pen: Pen) -> None:
    before = last(shop)
    async with terminal(shop, pen.now, first=INTAKE, badge="F01", size=TALL) as at:
        await asked(at, "cl")
        await at.keys("t", "leaks, and a noise", "Enter")
        assert "told: leaks, and a noise" in at.text
        await at.keys("g", "g")
        assert "been apart before" in at.text
        assert "is no key of the intake" in await at.keys("z") or at.said
        assert "keys: intake" in await at.keys("F1")
        await at.keys("Esc", "Enter", PIN, "Enter")
    opened = next(one for one in ledger(shop) if one.seq > before and one.kind == "job-opened")
    assert opened.payload["complaint"] == "leaks, and a noise"
    assert opened.payload["grade"] == 4


async def test_the_mouse_picks_what_fits_dates_and_fields(shop: Shop, pen: Pen) -> None:
    async def click(at: Terminal, words: str) -> None:
        row = next(n for n, line in enumerate(at.lines) if words in line)
        await at.pilot.click(offset=(at.lines[row].index(words) + 1, row))
        await at.settle()

    async with terminal(shop, pen.now, first=INTAKE, badge="F01", size=TALL) as at:
        await at.keys("van", "Enter", "b4")
        await click(at, FAMILY)
        assert form(at).family == FAMILY
        await at.keys("cl", "Enter")
        await click(at, "likely 9 in 10")
        assert form(at).chance == 0.9
        await click(at, "while open")
        assert "take along" in at.text
        await at.keys("Esc")
        await click(at, "family")
        assert "family: engine" in at.text
        await click(at, "vehicle")
        assert at.screen.prompt is None
        await at.keys("Esc")
        assert form(at).family == FAMILY


async def test_phases_scroll_where_they_do_not_fit(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=INTAKE, badge="F01", size=(80, 20)) as at:
        await asked(at)
        assert "more below" in at.text
        await at.keys(*["down"] * 30)
        assert "more below" not in at.text
        assert "above" in at.text
        await at.keys(*["up"] * 30)
        assert "1 reception" in at.text


async def test_a_shop_without_a_past_shows_the_book_and_no_date(tmp_path: Path, pen: Pen) -> None:
    shop = founded(tmp_path / "new.shop", pen)
    try:
        async with terminal(shop, pen.now, first=INTAKE, badge="F01") as at:
            assert "number plate" in at.text
            await at.keys("van", "Enter")
            assert "No family was here yet" in at.text
            await at.keys("b4-m-f", "Enter", "cl", "Enter")
            assert "nothing was learned of dates" in at.text
            assert "From the work book alone" in at.text
            assert "book only" in at.text
            await at.keys("right")
            assert "no date to choose yet" in at.said
            before = last(shop)
            await at.keys("p", "fri 16:00", "Enter")
            assert "unknown" in at.text
            await at.keys("Enter", PIN, "Enter")
        assert "promised" in kinds(shop, before)
    finally:
        shop.close()


async def test_what_changes_elsewhere_is_worked_out_anew(shop: Shop, pen: Pen) -> None:
    async with terminal(shop, pen.now, first=INTAKE, badge="F01") as at:
        await asked(at, "cl")
        screen = at.screen
        assert isinstance(screen, IntakeScreen)
        before = screen.found
        assert before is not None
        at.hands.turn(hours=30)
        screen.read()
        await at.settle()
        after = screen.found
        assert after is not None
        assert before.promise[0] < after.promise[0]


async def test_without_room_for_a_process_it_is_worked_out_here(
    shop: Shop, pen: Pen, monkeypatch: pytest.MonkeyPatch
) -> None:
    def no_room(self: Reckoner, loop: object) -> None:
        raise OSError("no room")

    monkeypatch.setattr(Reckoner, "_begun", no_room)
    async with terminal(shop, pen.now, first=INTAKE, badge="F01") as at:
        await asked(at, "cl")
        assert "likely 8 in 10" in at.text


def test_the_process_next_door_ends_with_its_pipe(shop: Shop) -> None:
    ran = subprocess.run(
        [sys.executable, "-m", "tui.intake.next_door", str(shop.path)], input=b"",
        capture_output=True, check=False, cwd=Path(__file__).parents[3],
    )  # fmt: skip
    assert (ran.returncode, ran.stdout, ran.stderr) == (0, b"", b"")


@pytest.mark.parametrize("size", [(59, 19), (60, 20), (80, 24), (112, 30), (200, 50)])
@pytest.mark.parametrize("plainly", [False, True], ids=["unicode", "ascii"])
async def test_every_size_is_filled_exactly(
    shop: Shop, pen: Pen, size: tuple[int, int], plainly: bool
) -> None:
    async with terminal(
        shop, pen.now, first=INTAKE, badge="F01", size=size, signs=ASCII if plainly else UNICODE,
        paint=Paint(ANSI if plainly else DARK),
    ) as at:  # fmt: skip
        for keys in (("van",), ("Enter", "b4m"), ("Enter", "cl rs"), ("Enter",), ("w",), ("Esc",)):
            await at.keys(*keys)
            assert len(at.lines) == size[1]
            assert {len(line) for line in at.lines} == {size[0]}
            if plainly:
                assert at.text.isascii(), [line for line in at.lines if not line.isascii()]
