"""A phase is begun with its kits at hand, or by the foreman's word; what shows where one lacks."""

from __future__ import annotations

from datetime import date, timedelta

import pytest

from store.actions import books, clock, day_sheet
from store.actions.hires import asked as hires
from store.actions.hires import kit_dates, kit_let, suppliers
from store.actions.hires.kit_gate import KitLacks
from store.actions.trouble import MayNot
from store.actions.undo import taking_back as undo
from store.file.kits.now import needless
from store.file.verify import verify
from store.views.bay import bay
from store.views.floor import floor
from store.views.job import job_card
from store.views.values import Job
from tests.store.actions.made import BOOK, World

OWNED = BOOK.replace(
    'name = "chain link tool"\nowned = false', 'name = "chain link tool"\nowned = true'
)
POINTED = OWNED.replace(
    '[[phase.kit]]\nkit = "link"',
    '[[phase.kit]]\nkit = "link"\n[[phase.step]]\ncode = "CT"\nkind = "hold point"\n'
    'text = "Chain seated"\nblocks = [">"]',
)


def keeps(world: World) -> None:
    """The shop keeps its hires here from now on."""
    suppliers.know(world.shop, world.by("FOR"), name="Loan", lead_days=3)
    suppliers.offer(world.shop, world.by("FOR"), kit="link", supplier="Loan", day=20)


def at_chain(world: World, lift: str = "1") -> str:
    """A job of which everything before phase 4, which needs the link tool, is done."""
    job = up_to_decision(world, lift)
    world.sign("T2", job, "BU", answer="A")
    world.finish("T2", job, "3")
    return job


def up_to_decision(world: World, lift: str = "1") -> str:
    """A job on whose phase 3 the build is to be chosen."""
    job = world.take(lift=lift)
    world.do("T2", job, "1")
    world.on("T2", job, "2")
    world.sign("T2", job, "HL", readings={"gross": 2000})
    world.sign("T2", job, "GB-off:1")
    world.sign("T2", job, "LK", readings={"a": 0.1, "b": 0.12})
    world.sign("T1", job, "LK")
    world.finish("T2", job, "2")
    world.on("T2", job, "3")
    return job


@pytest.fixture
def chained(world: World) -> str:
    world.to(8)
    return at_chain(world)


def on(world: World, job: str, why: str | None = None, badge: str = "T2") -> object:
    return clock.clock_on(world.shop, world.by(badge), job=job, phase="4", why=why)


def hired(world: World, job: str | None) -> None:
    """On hand for a job, or for any."""
    hires.ask(world.shop, world.by("FOR"), kit="link", job=job, supplier="Loan", why="wanted")
    hires.receive(world.shop, world.by("T1"), kit="link", job=job or "any", due=world.at(15, day=3))


def of_floor(world: World, job: str) -> Job:
    found = floor(world.shop, world.now)
    lanes = [lane.job for lane in found.lanes if lane.job is not None]
    return next(one for one in (*lanes, *found.elsewhere, *found.waiting) if one.number == job)


def test_a_shop_that_keeps_no_hires_is_not_stopped(world: World, chained: str) -> None:
    on(world, chained)
    assert world.phase(chained, "4").state == "under way"


def test_the_refusal_says_which_kit_where_it_is_and_what_can_go_on(
    world: World, chained: str
) -> None:
    keeps(world)
    world.refused(
        lambda: on(world, chained), f"{chained}.4 chain set needs chain link tool (not hired)",
        f"hoistbook hire let {chained}.4 --why TEXT", kind=KitLacks,
    )  # fmt: skip
    hires.ask(world.shop, world.by("FOR"), kit="link", job=chained)
    world.refused(lambda: on(world, chained), "asked for at Loan, expected Thu")
    hires.receive(world.shop, world.by("T1"), kit="link", due=world.at(15, day=3), missing=["pin"])
    world.refused(lambda: on(world, chained), "here, not complete: pin lacks")
    hires.mend(world.shop, world.by("T1"), kit="link")
    on(world, chained)
    assert verify(world.shop.path).ok


def test_what_can_go_on_meanwhile_is_of_the_job_else_of_his_list(
    world: World, chained: str
) -> None:
    from store.actions.assigning import assign

    keeps(world)
    other = world.take("WP", lift="2")
    assign(world.shop, world.by("FOR"), job=other, phase=None, badge="T2")
    said = ""
    try:
        on(world, chained)
    except KitLacks as error:
        said = str(error)
    assert f"{chained}.5" in said
    assert "can go on meanwhile" in said


def test_a_kit_of_another_job_does_not_serve_until_it_is_given(world: World, chained: str) -> None:
    keeps(world)
    other = world.take(lift=None)
    hired(world, other)
    world.refused(lambda: on(world, chained), f"hired for {other} alone")
    hires.give(world.shop, world.by("FOR"), kit="link", to=None)
    on(world, chained)
    world.refused(
        lambda: hires.give(world.shop, world.by("FOR"), kit="link", to=other),
        f"is in use on {chained}.4: it cannot be given away yet",
    )


def test_one_kit_for_any_serves_one_job_at_a_time(world: World, chained: str) -> None:
    keeps(world)
    second = at_chain(world, lift="2")
    hired(world, chained)
    on(world, chained)
    hires.give(world.shop, world.by("FOR"), kit="link", to=None)
    world.refused(lambda: on(world, second, badge="T1"), f"chain link tool (on {chained})")
    hires.ask(world.shop, world.by("FOR"), kit="link", job=second, supplier="Loan")
    hires.receive(world.shop, world.by("T1"), kit="link", job=second, due=world.at(15, day=3))
    on(world, second, badge="T1")


def test_a_foreman_lets_it_begin_and_nobody_else(world: World, chained: str) -> None:
    keeps(world)
    world.refused(lambda: on(world, chained, "by hand"), "takes the foreman", kind=MayNot)
    world.refused(
        lambda: kit_let.let(world.shop, world.by("FOR"), job=chained, phase="4", why=" "),
        "Say why",
    )
    kit_let.let(world.shop, world.by("FOR"), job=chained, phase="4", why="by hand")
    world.refused(
        lambda: kit_let.let(world.shop, world.by("FOR"), job=chained, phase="4", why="by hand"),
        "No kit stops",
    )
    on(world, chained)
    world.refused(lambda: undo.undo(world.shop, world.by("FOR")), "has begun since")
    assert world.all("select phase, kits, why from kit_let") == [("4", '["link"]', "by hand")]


def test_a_foreman_who_begins_it_himself_says_why_and_takes_both_back(
    world: World, chained: str
) -> None:
    keeps(world)
    on(world, chained, "by hand", badge="FOR")
    undo.undo(world.shop, world.by("FOR"))
    assert world.phase(chained, "4").state == "to come"
    assert world.one("select count(*) from kit_let") == 0
    assert verify(world.shop.path).ok


def test_entries_made_afterwards_and_signatures_pass_the_same_gate(
    world: World, chained: str
) -> None:
    keeps(world)
    since = world.now
    world.now += timedelta(minutes=30)
    where = day_sheet.Where(chained, "4")

    def late() -> object:
        return day_sheet.enter_clock(
            world.shop, world.by("T2"), where=where, since=since, until=since + timedelta(minutes=9)
        )

    world.refused(late, "needs chain link tool", kind=KitLacks)
    world.refused(lambda: world.sign("T2", chained, "B2:1"), "needs chain link", kind=KitLacks)
    hired(world, chained)
    world.refused(late, "needs chain link tool", kind=KitLacks)
    here = world.now
    world.now += timedelta(minutes=30)
    day_sheet.enter_clock(
        world.shop, world.by("T2"), where=where, since=here, until=here + timedelta(minutes=9)
    )
    assert world.phase(chained, "4").state == "under way"


def test_the_shops_own_kit_stops_where_another_job_has_it(world: World) -> None:
    books.load_workbook(world.shop, world.by("FOR"), source=OWNED)
    world.to(8)
    first, second = at_chain(world), at_chain(world, lift="2")
    keeps(world)
    on(world, first)
    world.refused(lambda: on(world, second, badge="T1"), f"on {first}")
    world.finish("T2", first, "4")
    on(world, second, badge="T1")


def test_a_kit_out_of_date_is_not_worked_with_and_no_hold_point_is_signed_by_it(
    world: World,
) -> None:
    books.load_workbook(world.shop, world.by("FOR"), source=POINTED)
    world.to(8)
    job = at_chain(world)
    on(world, job)
    kit_dates.know_date(
        world.shop, world.by("T1"), kit="link", until=date(2026, 10, 9), source="its label"
    )
    says = "chain link tool must not be used: its date ran out on 2026-10-09"
    world.refused(lambda: world.sign("T2", job, "CT"), says, "hoistbook kit date link")
    card = job_card(world.shop, job, world.now)
    step = next(
        one for phase in card.phases for one in phase.steps
        if phase.number == "4" and one.kind == "hold point"
    )  # fmt: skip
    assert (step.caution, step.waits_for) == (says, says)
    world.off("T2")
    second = at_chain(world, lift="2")
    world.refused(lambda: on(world, second), "must not be used", kind=KitLacks)
    kit_dates.know_date(
        world.shop, world.by("T1"), kit="link", until=date(2027, 3, 1), source="test house"
    )
    world.sign("T2", job, "CT")


def test_an_answer_that_drops_its_phase_says_that_the_kit_goes_back(world: World) -> None:
    world.to(8)
    keeps(world)
    job = up_to_decision(world)
    hired(world, job)
    assert not spare(world)
    done = world.sign("T2", job, "BU", answer="B")
    assert "chain link tool is not needed any more: send it back to Loan." in done.says
    assert spare(world) == ["link"]
    undo.undo(world.shop, world.by("T2"))
    assert not spare(world)


def spare(world: World) -> list[str]:
    """Kits hired for jobs that needed them and do not any more."""
    with world.shop.reading() as db:
        return [row["kit"] for row in needless(db)]


def test_its_turn_shows_as_held_for_tool_without_an_entry(world: World, chained: str) -> None:
    keeps(world)
    hires.ask(world.shop, world.by("FOR"), kit="link", job=chained)
    job = of_floor(world, chained)
    assert job.hold is not None
    assert (job.hold.reason, job.hold.phase) == ("tool", "4")
    assert job.hold.text == "chain link tool: asked for at Loan, expected Thu"
    assert {one.number: one.state for one in job.labels}["4"] == "held"
    can = [one for one in job_card(world.shop, chained, world.now).phases if one.state == "held"]
    assert [one.number for one in can] == ["4"]
    from store.actions import holding

    world.refused(
        lambda: holding.release(world.shop, world.by("T2"), job=chained, phase="4"),
        "it goes on when that is at hand",
    )
    seen = bay(world.shop, "T2", world.now)
    assert seen.blocks == (
        f"{chained}.4 held for tool: chain link tool: asked for at Loan, expected Thu",
    )
    assert seen.choices[0].phase == "5"
    kit_let.let(world.shop, world.by("FOR"), job=chained, phase="4", why="by hand")
    assert of_floor(world, chained).hold is None
    assert bay(world.shop, "T2", world.now).blocks == ()
