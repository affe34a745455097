"""Finished phases from outside: taken in whole, beside the shop's own, and out again."""

from __future__ import annotations

from store.actions import history, jobs
from store.actions.trouble import MayNot
from store.actions.undo import taking_back as undo
from store.file.past_work import past_work
from store.file.verify import verify
from store.learn.records import Record
from tests.store.actions.made import World
from tests.store.made_past import finished


def test_what_was_imported_teaches_as_it_was_read(world: World) -> None:
    records = [
        finished("88", 1, grade=3, phase_class="strip", people=2, lumped_with=2),
        finished("88", 2, lumped_with=1, serves=("CH", "CL"), surprise_h=0.25, technician="Ö. B."),
        finished("old 9", 1, cut_off=True, started=1.7e9 + 0.123456, closed=1.7e9 + 0.123457),
    ]
    done = history.import_history(world.shop, world.by("FOR"), records=records, source="old.csv")
    assert done.says == "3 finished phases of 2 jobs imported from old.csv."
    assert done.can_undo
    with world.shop.reading() as db:
        assert past_work(db) == records
    assert verify(world.shop.path).ok


def test_one_file_is_one_entry_of_many_events(world: World) -> None:
    records = [finished("7", seq) for seq in range(1, 2 * history.ROWS + 2)]
    done = history.import_history(world.shop, world.by("OWN"), records=records, source="o.csv")
    assert len(done.recorded) == 3
    newest = world.all("select seq, last from entry order by seq desc limit 1")
    assert newest == [(done.recorded[0], done.recorded[-1])]
    undo.undo(world.shop, world.by("OWN"))
    assert world.one("select count(*) from past_phase") == 0
    assert verify(world.shop.path).ok


def test_what_is_here_already_is_refused_whole(world: World) -> None:
    job = world.take()
    first = [finished("88", 1), finished("88", 2)]
    history.import_history(world.shop, world.by("FOR"), records=first, source="a.csv")

    def bring(*records: Record) -> None:
        history.import_history(
            world.shop, world.by("FOR"), source="b.csv",
            records=[finished("90", 1), *records],
        )  # fmt: skip

    world.refused(lambda: bring(finished("88", 2)), "b.csv", "job 88 seq 2 was imported before")
    world.refused(lambda: bring(finished(job, 7)), f"job {job} is a job of this shop")
    world.refused(lambda: bring(finished("88", 3, template="TC")), "as CL on B4-M-F before")
    bring(finished("88", 3))


def test_nothing_to_import_is_said(world: World) -> None:
    world.refused(
        lambda: history.import_history(world.shop, world.by("FOR"), records=[], source="a.csv"),
        "a.csv holds no finished phase",
    )


def test_a_technician_imports_nothing(world: World) -> None:
    world.refused(
        lambda: history.import_history(
            world.shop, world.by("T1"), records=[finished()], source="a.csv"
        ),
        "foreman or owner",
        kind=MayNot,
    )


def test_a_new_job_takes_no_number_of_an_imported_one(world: World) -> None:
    records = [finished(str(number)) for number in (1001, 1002, 1004)]
    history.import_history(world.shop, world.by("FOR"), records=records, source="a.csv")
    assert world.take() == "1003"
    done = jobs.take_small(world.shop, world.by("T1"), text="lamp", vehicle="car")
    assert done.job == "1005"
