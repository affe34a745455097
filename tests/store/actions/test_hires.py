"""Hired kits: asked for, received, kept longer, sent back; what cannot be is refused."""

from __future__ import annotations

from datetime import datetime

import pytest

from store.actions import jobs, settings
from store.actions.acting import Done
from store.actions.hires import asked as hires
from store.actions.trouble import NoSuch
from store.file.verify import verify
from store.trouble import Refused
from tests.store.actions.made import BOOK, World

OWNED = BOOK.replace(
    'name = "chain link tool"\nowned = false', 'name = "chain link tool"\nowned = true'
)
COUNTED = BOOK.replace(
    'name = "locking set"', 'name = "locking set"\ncontains = ["pin", "pin", "bar"]'
)
CAPTIVE = BOOK.replace('kit = "link"', 'kit = "link"\ncaptive_to = "B4"')


def load(world: World, book: str) -> None:
    from store.actions import books

    books.load_workbook(world.shop, world.by("FOR"), source=book)


def ask(
    world: World,
    kit: str = "link",
    job: str | None = None,
    why: str | None = "for the shelf",
    **more: datetime,
) -> Done:
    """Ask for a kit, for the shelf where no job needs one."""
    return hires.ask(
        world.shop, world.by("FOR"), kit=kit, supplier="Loan", job=job, why=why, **more
    )


def receive(world: World, kit: str = "link", **more: object) -> Done:
    return hires.receive(world.shop, world.by("T1"), kit=kit, **more)  # type: ignore[arg-type]  # what is tried


def send_back(world: World, kit: str = "link", **more: object) -> Done:
    return hires.send_back(world.shop, world.by("T1"), kit=kit, **more)  # type: ignore[arg-type]  # what is tried


def hire(world: World) -> dict[str, object]:
    row = world.all(
        "select kit, job, due, received_at is null, complete, sent_at is null, sent_complete, "
        "pieces, note from hire"
    )[0]
    names = ("kit", "job", "due", "asked", "complete", "out", "sent_complete", "pieces", "note")
    return dict(zip(names, row, strict=True))


def test_a_kit_is_asked_for_comes_is_kept_longer_and_goes_back(world: World) -> None:
    job = world.take(lift=None)
    done = ask(world, job=job, why=None, expected=world.at(12, day=1), due=world.at(15, day=3))
    assert done.job == job
    assert done.says == (
        f"chain link tool asked for at Loan for {job}, expected Tue 13 Oct, goes back Thu 15 Oct."
    )
    assert "it goes back Thu 15 Oct" in receive(world).says
    hires.extend(world.shop, world.by("FOR"), kit="link", due=world.at(15, day=4))
    assert "went back to Loan, 4 pieces counted" in send_back(world, pieces=4).says
    assert hire(world) == {
        "kit": "link", "job": job, "due": "2026-10-16T13:00:00.000000+00:00", "asked": 0,
        "complete": 1, "out": 0, "sent_complete": 1, "pieces": 4, "note": None,
    }  # fmt: skip
    assert verify(world.shop.path).ok


def test_only_what_the_work_book_has_and_the_shop_does_not_own_is_hired(world: World) -> None:
    world.refused(lambda: ask(world, "nope"), "no kit nope", "link, locks", kind=NoSuch)
    load(world, OWNED)
    world.refused(
        lambda: hires.ask(world.shop, world.by("FOR"), kit="link", supplier="Loan"),
        "The shop owns chain link tool", "a second one with --why",
    )  # fmt: skip
    world.refused(
        lambda: hires.ask(world.shop, world.by("FOR"), kit="locks", supplier=" ", why="shelf"),
        "Say at which supplier's",
    )
    world.refused(lambda: ask(world, "locks", job="77"), "no job 77", kind=NoSuch)


def test_one_kit_is_hired_once_for_one_job(world: World) -> None:
    job, other = world.take(lift=None), world.take(lift=None)
    ask(world, job=job)
    world.refused(lambda: ask(world, job=job), f"hired for {job} already, at Loan")
    ask(world, job=other)
    ask(world)
    world.refused(lambda: ask(world), "hired for the shop already")
    world.refused(lambda: receive(world, due=world.at(15, day=3)), "say --job")
    receive(world, job=other, due=world.at(15, day=3))


@pytest.mark.parametrize(
    ("day", "words"),
    [(5, "the shop is closed then: open again Mon 19 Oct"), (-1, "in the past"), (400, "a year")],
)
def test_a_day_that_cannot_be_is_refused(world: World, day: int, words: str) -> None:
    world.refused(lambda: ask(world, due=world.at(12, day=day)), words)
    ask(world)
    world.refused(lambda: receive(world, due=world.at(12, day=day)), words)
    receive(world, due=world.at(12, day=1))
    world.refused(
        lambda: hires.extend(world.shop, world.by("FOR"), kit="link", due=world.at(12, day=day)),
        words,
    )


def test_a_holiday_is_a_closed_day_too(world: World) -> None:
    settings.set_holiday(world.shop, world.by("OWN"), day=world.at(12, day=2).date(), name="fair")
    world.refused(lambda: ask(world, due=world.at(12, day=2)), "closed then: open again Thu 15 Oct")


def test_a_kit_does_not_go_back_before_it_came(world: World) -> None:
    ask(world)
    world.refused(lambda: send_back(world), "has not come yet", "hire cancel link")
    world.refused(
        lambda: ask(world, "locks", expected=world.at(12, day=3), due=world.at(12, day=2)),
        "before it is here",
    )
    receive(world, due=world.at(12, day=1))
    world.refused(lambda: receive(world), "is here since Mon 12 Oct")
    send_back(world)
    world.refused(lambda: send_back(world), "There is no hire of link", kind=NoSuch)


def test_nobody_knows_of_a_kit_without_a_day_to_send_it_back(world: World) -> None:
    ask(world)
    world.refused(lambda: receive(world), "Say when chain link tool goes back")
    world.refused(
        lambda: hires.extend(world.shop, world.by("FOR"), kit="locks", due=world.at(9, day=1)),
        "no hire of locks", kind=NoSuch,
    )  # fmt: skip


def test_the_same_day_is_no_other_day(world: World) -> None:
    ask(world, due=world.at(15, day=3))
    world.refused(
        lambda: hires.extend(world.shop, world.by("FOR"), kit="link", due=world.at(15, day=3)),
        "goes back Thu 15 Oct already",
    )


def test_what_lacks_of_a_kit_is_said_on_receipt_and_when_it_goes_back(world: World) -> None:
    load(world, COUNTED)
    ask(world, "locks", due=world.at(15, day=3))
    world.refused(lambda: receive(world, "locks", complete=False), "Say what lacks")
    assert "Tell Loan now" in receive(world, "locks", complete=False, note="one pin").says
    world.refused(lambda: send_back(world, "locks", pieces=2), "has 3 pieces and 2 were counted")
    world.refused(lambda: send_back(world, "locks", pieces=-1), "0 or more")
    send_back(world, "locks", pieces=2, complete=False, note="one pin")
    assert (hire(world)["complete"], hire(world)["sent_complete"]) == (0, 0)


def test_a_kit_in_use_or_fixed_on_an_open_unit_does_not_go_back(world: World) -> None:
    load(world, CAPTIVE)
    world.to(8)
    job = _at_b2(world)
    ask(world, job=job)
    receive(world, due=world.at(15, day=3))
    world.on("T2", job, "4")
    world.refused(lambda: send_back(world), f"is in use on {job}.4")
    world.finish("T2", job, "4")
    world.refused(lambda: send_back(world), f"is fixed on the open unit of {job}.4")


def _at_b2(world: World) -> str:
    job = world.take()
    world.do("T2", job, "1")
    world.on("T2", job, "2")
    world.sign("T2", job, "HL", readings={"gross": 2000})
    world.sign("T2", job, "GB-off:1")
    world.sign("T2", job, "LK", readings={"a": 0.1, "b": 0.12})
    world.sign("T1", job, "LK")
    world.finish("T2", job, "2")
    world.on("T2", job, "3")
    world.sign("T2", job, "BU", answer="A")
    world.finish("T2", job, "3")
    return job


def test_a_job_is_not_closed_while_a_kit_of_it_is_out(world: World) -> None:
    world.to(8)
    job = jobs.take_small(world.shop, world.by("T1"), text="lamp", vehicle="car").job or ""
    world.do("T1", job, "1")
    ask(world, job=job, due=world.at(15, day=3))

    def close() -> Done:
        return jobs.close(world.shop, world.by("FOR"), job=job)

    world.refused(close, "kit link (chain link tool) is asked for at Loan")
    receive(world)
    world.refused(close, "kit link (chain link tool) is still here: send it back to Loan")
    send_back(world)
    assert close().says == f"{job} is closed."


def test_a_kit_that_was_asked_for_is_called_off(world: World) -> None:
    ask(world, due=world.at(15, day=3))
    done = hires.cancel(world.shop, world.by("FOR"), kit="link")
    assert "is not wanted any more: tell Loan" in done.says
    assert world.one("select count(*) from hire") == 0
    ask(world, due=world.at(15, day=3))
    receive(world)
    world.refused(
        lambda: hires.cancel(world.shop, world.by("FOR"), kit="link"), "is here: send it back",
        kind=Refused,
    )  # fmt: skip
    assert verify(world.shop.path).ok
