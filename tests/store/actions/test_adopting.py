"""The book says what was learned: by one act, from enough, and taken back by one."""

from __future__ import annotations

import pytest

from store.actions import adopting, books
from store.actions.adopting import Adopted
from store.actions.books import BookChanged
from store.actions.trouble import MayNot
from store.actions.undo import taking_back as undo
from store.file.books import book_of
from store.file.learned.branches import as_it_stands, of_route
from store.file.learned.hand import hands
from store.file.verify import verify
from store.rules.book import Hours, Phase
from store.rules.routes import lay
from tests.store.actions.made import BOOK, World
from tests.store.made_told import told_of


def newest(w: World) -> int:
    found = w.one("select max(version) from book")
    assert isinstance(found, int)
    return found


def phase(w: World, code: str) -> Phase:
    with w.shop.reading() as db:
        return book_of(db, newest(w)).phases[code]


def test_one_phase_says_what_was_learned_and_nothing_else_moves(world: World) -> None:
    told_of(world, ("TC", "B1", None, 0.6, 1.23, 12))
    before, version = str(world.one("select source from book")), newest(world)
    done = adopting.adopt(world.shop, world.by("OWN"), lines=[Adopted("TC", "B1")], upon=version)
    # .7, 1 and 1.5 times 1.23 h are 0.861, 1.23 and 1.845 h: in tenths 0.9, 1.2 and 1.8
    assert phase(world, "B1").hours == Hours(0.9, 1.2, 1.8)
    after = str(world.one("select source from book order by version desc"))
    assert set(before.splitlines()) ^ set(after.splitlines()) == {
        "hours = [0.4, 0.6, 1.0]", "hours = [0.9, 1.2, 1.8]", "learned = 2.0",
    }  # fmt: skip
    assert "from 12 times" in done.says
    assert done.can_undo
    cause = world.one(
        "select payload ->> '$.cause' from ledger where kind = 'book-loaded' order by seq desc"
    )
    assert cause == ("what was learned: B1 inspect 0.6 h (0.4 to 1), now 1.2 h (0.9 to 1.8)")
    assert verify(world.shop.path).ok


def test_a_family_gets_hours_of_its_own_and_a_new_job_takes_them(world: World) -> None:
    told_of(world, ("TC", "B1", "B4-M-F", 0.6, 1.2, 9))
    adopting.adopt(world.shop, world.by("FOR"), lines=[Adopted("TC", "B1", "B4-M-F")])
    assert phase(world, "B1").hours == Hours(0.4, 0.6, 1.0)
    job = world.take()
    book_h = world.one("select book_h from phase where job = ? and code = 'B1'", job)
    assert book_h == 1.2


def test_the_learner_goes_on_in_hours_from_before_the_book_was_adopted(world: World) -> None:
    """The work is the same: a book that says so now makes no phase longer than it was learned."""
    told_of(world, ("TC", "B1", None, 0.6, 1.2, 9))
    old = world.take()
    adopting.adopt(world.shop, world.by("OWN"))
    told_of(world, ("TC", "B1", None, 0.6, 1.5, 9))
    adopting.adopt(world.shop, world.by("OWN"), lines=[Adopted("TC", "B1")])
    new = world.take(lift="2")
    with world.shop.reading() as db:
        pieces = {
            job: {one.planned.phase: one.planned.book_h for one in as_it_stands(hand).pieces}
            for job, hand in hands(db, [old, new], world.now).items()
        }
        laid = lay(book_of(db, newest(world)), operations=["TC"], family="B4-M-F", options={},
                   grade=2)  # fmt: skip
    assert {pieces[job]["B1"] for job in (old, new)} == {0.6}
    assert world.one("select book_h from phase where job = ? and code = 'B1'", new) == 1.5
    ahead = {one.planned.phase: one.planned.book_h for one in of_route(laid).pieces}
    assert ahead["B1"] == pytest.approx(0.6)


def test_a_job_that_was_taken_keeps_its_book(world: World) -> None:
    job = world.take()
    told_of(world, ("TC", "B1", None, 0.6, 1.2, 9))
    adopting.adopt(world.shop, world.by("OWN"))
    assert world.one("select book_h from phase where job = ? and code = 'B1'", job) == 0.6


def test_several_at_once_are_one_version_and_one_undo(world: World) -> None:
    told_of(world, ("TC", "B1", None, 0.6, 1.2, 9), ("TC", "GB-off", None, 2.4, 3.0, 9),
            ("TC", "G0", None, 0.5, 0.5, 20))  # fmt: skip
    version = newest(world)
    done = adopting.adopt(world.shop, world.by("OWN"))
    assert newest(world) == version + 1
    assert "2 phases: B1, GB-off" in done.says
    undo.undo(world.shop, world.by("OWN"))
    assert newest(world) == version + 2
    assert world.one("select source from book order by version desc") == world.one(
        "select source from book where version = ?", version
    )
    assert (phase(world, "B1").hours.middle, phase(world, "GB-off").hours.middle) == (0.6, 2.4)
    assert verify(world.shop.path).ok


def test_hours_that_another_phase_saved_are_brought_back_to_the_phase_alone(world: World) -> None:
    """B1 takes half beside G0: 0.3 h. It took 0.6 h there, twice that; alone it takes 1.2 h."""
    beside = '\n[[reduction]]\nbeside = "G0"\nphases = ["B1"]\nfactor = 0.5\n'
    books.load_workbook(world.shop, world.by("OWN"), source=BOOK + beside)
    world.to(8)
    job = world.take()
    world.do("T2", job, "1")
    with world.shop.beside() as db:
        db.execute("update phase set state = 'finished', finished_at = '2026-10-12' "
                   "where code = 'B1'")  # fmt: skip
    told_of(world, ("TC", "B1", None, 0.3, 0.6, 9))
    adopting.adopt(world.shop, world.by("OWN"), lines=[Adopted("TC", "B1")])
    assert phase(world, "B1").hours.middle == 1.2


@pytest.mark.parametrize(
    "line, says",
    [
        (Adopted("TC", "B9"), "has no phase B9"),
        (Adopted("XX", "B1"), "has no operation XX"),
        (Adopted("WP", "B1"), "B1 is no phase of WP"),
        (Adopted("TC", "G0"), "Nothing was learned of G0 reception yet"),
        (Adopted("TC", "B1", "V8-A-4"), "of these families something is: B4-M-F"),
        (Adopted("TC", "B1", "B4"), "is no family"),
        (Adopted("TC", "GB-off"), "finished 7 times: too few"),
        (Adopted("TC", "GB-on"), "and so does what was learned"),
    ],
)
def test_what_cannot_be_adopted_is_refused_with_its_reason(
    world: World, line: Adopted, says: str
) -> None:
    told_of(world, ("TC", "B1", None, 0.6, 1.2, 9), ("TC", "B1", "B4-M-F", 0.6, 1.2, 9),
            ("TC", "GB-off", None, 2.4, 3.0, 7), ("TC", "GB-on", None, 2.8, 2.84, 30))  # fmt: skip
    lines = [Adopted("TC", "B1"), line]
    world.refused(lambda: adopting.adopt(world.shop, world.by("OWN"), lines=lines), says)


def test_nothing_is_adopted_where_nothing_is_sure(world: World) -> None:
    world.refused(lambda: adopting.adopt(world.shop, world.by("OWN")), "nothing to adopt")
    world.refused(lambda: adopting.adopt(world.shop, world.by("OWN"), lines=[]), "Name a phase")
    told_of(world, ("TC", "B1", None, 0.6, 1.2, 30), sure="likely")
    world.refused(lambda: adopting.adopt(world.shop, world.by("OWN")), "nothing to adopt")


def test_two_people_at_once_the_second_is_told_and_nothing_is_written(world: World) -> None:
    told_of(world, ("TC", "B1", None, 0.6, 1.2, 9))
    upon = newest(world)
    other = BOOK.replace("Small shop", "Another name")
    books.load_workbook(world.shop, world.by("FOR"), source=other, upon=upon)
    lines = [Adopted("TC", "B1")]
    world.refused(
        lambda: adopting.adopt(world.shop, world.by("OWN"), lines=lines, upon=upon),
        "has changed since", kind=BookChanged,
    )  # fmt: skip
    assert phase(world, "B1").hours.middle == 0.6


def test_a_technician_adopts_nothing(world: World) -> None:
    told_of(world, ("TC", "B1", None, 0.6, 1.2, 9))
    world.refused(lambda: adopting.adopt(world.shop, world.by("T1")), kind=MayNot)


def test_a_book_that_was_changed_again_since_is_not_taken_back(world: World) -> None:
    told_of(world, ("TC", "B1", None, 0.6, 1.2, 9))
    adopting.adopt(world.shop, world.by("OWN"))
    other = BOOK.replace("Small shop", "Another name")
    books.load_workbook(world.shop, world.by("FOR"), source=other)
    world.refused(lambda: undo.undo(world.shop, world.by("OWN")), "was loaded since")
