"""What waits for what, by keys: the page, its digits, the job that waits."""

from __future__ import annotations

from pathlib import Path

from store.file.verify import verify
from store.views.needs import needs
from store.views.why import why
from tests.store.actions.made import PIN, make
from tests.store.made_acts import idle_shop, learner
from tests.tui.driver import terminal
from tui.job.screen import JobScreen
from tui.needs.why_paint import best_of
from tui.parts.where import BAY, FLOOR


async def test_a_digit_does_the_act_and_the_chain_is_shorter(tmp_path: Path) -> None:
    world = idle_shop(tmp_path)
    learner(world).keep_up()
    best = best_of(why(world.shop, world.now))
    nth = next(n for n, one in enumerate(best, 1) if one.need.act.kind == "release")
    act = best[nth - 1].need.act
    async with terminal(world.shop, world.now, first=FLOOR, badge="FOR") as at:
        assert "what waits for what" in await at.keys("y")
        assert act.says in at.text
        await at.keys(str(nth), "1")
        if "PIN" in at.text:
            await at.keys(PIN, "Enter")
        assert not at.said.startswith("!"), at.said
        assert "u undoes it." in at.said
        assert "what waits for what" in at.text
        assert act.name not in {one.act.name for one in needs(world.shop, world.now).needs}
        await at.keys("u")
    assert act.name in {one.act.name for one in needs(world.shop, world.now).needs}
    assert verify(world.shop.path).ok
    world.shop.close()


async def test_enter_opens_the_job_that_waits_and_esc_leaves(tmp_path: Path) -> None:
    world = idle_shop(tmp_path)
    jobs = [one.job for one in why(world.shop, world.now).chains]
    async with terminal(world.shop, world.now, first=FLOOR, badge="FOR") as at:
        before = at.text
        await at.keys("y", "down", "Esc")
        assert at.text == before
        await at.keys("y", "down", "Enter")
        assert isinstance(at.app.screen, JobScreen)
        assert jobs[1] in at.lines[0]
    world.shop.close()


async def test_it_lies_over_any_screen_by_its_name(tmp_path: Path) -> None:
    world = idle_shop(tmp_path)
    async with terminal(world.shop, world.now, first=BAY, badge="T1") as at:
        await at.keys("F9", "waits for what", "Enter")
        assert "each line waits for the one under it" in at.text
    world.shop.close()


async def test_where_nothing_waits_it_says_so(tmp_path: Path) -> None:
    world = make(tmp_path)
    async with terminal(world.shop, world.now, first=FLOOR, badge="FOR") as at:
        assert "Nothing waits for anything." in await at.keys("y")
        await at.keys("Enter")
        assert at.said.startswith("! Nothing waits for anything")
    world.shop.close()
