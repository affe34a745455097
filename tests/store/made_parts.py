"""Parts and hired kits of the busy shop: a line in every state, a hire of every kind."""

from __future__ import annotations

from store.actions import parts
from store.actions.hires import asked as hires
from store.actions.undo import taking_back as undo
from store.rules.part_states import PartState
from tests.store.actions.made import World


def get_ready(world: World, job: str) -> None:
    """List, order and receive for one job that goes on."""
    _parts(world, job)
    _hires(world, job)


def _parts(world: World, job: str) -> None:
    shop = world.shop
    parts.list_parts(shop, world.by("T1"), job=job, texts=["of another job"])
    undo.undo(shop, world.by("T1"))
    done = parts.list_parts(
        shop, world.by("T1"), job=job, texts=["oil, 6 l", "stud", "cover", "spring", "bolts"]
    )
    assert done.job == job
    first = world.one("select max(line) from part where job = ?", job)
    assert isinstance(first, int)
    oil, stud, cover, spring, bolts = range(first - 4, first + 1)
    parts.move_parts(
        shop, world.by("FOR"), job=job, lines=[oil, stud, cover, spring], state="ordered",
        expected=world.at(12, day=2), supplier="Factor", price=12.5,
    )  # fmt: skip
    _turn(world, job, [oil, cover, spring], "here")
    parts.move_parts(
        shop, world.by("T1"), job=job, lines=[oil], state="fitted", batch="L 4711", note="5.8 l"
    )
    _turn(world, job, [cover, spring], "wrong")
    _turn(world, job, [spring], "returned")
    _turn(world, job, [bolts], "not needed")
    _turn(world, job, [stud], "here")
    undo.undo(shop, world.by("T1"))


def _turn(world: World, job: str, lines: list[int], state: PartState) -> None:
    parts.move_parts(world.shop, world.by("T1"), job=job, lines=lines, state=state)


def _hires(world: World, job: str) -> None:
    """One sent back, one on hand, one asked for, one called off."""
    shop, due = world.shop, world.at(15, day=4)
    hires.ask(
        shop, world.by("FOR"), kit="link", supplier="Loan", job=job, expected=world.at(12, day=1),
        why="another build may come",
    )  # fmt: skip
    hires.receive(shop, world.by("T1"), kit="link", complete=False, note="a pin lacks", due=due)
    hires.extend(shop, world.by("FOR"), kit="link", due=world.at(15, day=3))
    undo.undo(shop, world.by("FOR"))
    hires.send_back(shop, world.by("T1"), kit="link", complete=False, pieces=6, note="a pin lacks")
    hires.ask(
        shop, world.by("FOR"), kit="locks", supplier="Loan", job=job, due=due, why="for the shelf"
    )
    hires.receive(shop, world.by("T1"), kit="locks")
    hires.ask(shop, world.by("FOR"), kit="link", supplier="Loan", why="for the shelf")
    hires.cancel(shop, world.by("FOR"), kit="link")
    hires.ask(
        shop, world.by("FOR"), kit="link", supplier="Elsewhere", expected=world.at(12, day=1),
        why="for the shelf",
    )  # fmt: skip
