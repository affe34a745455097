"""Two terminals at the same moment: one gets it done, the other is told, nothing is doubled."""

from __future__ import annotations

import subprocess
import sys
import threading
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from store.actions import clock, holding, jobs, phases, places, steps
from store.actions.acting import Done
from store.actions.undo import taking_back as undo
from store.file.change import By
from store.file.shop import Shop
from store.file.trouble import AlreadyRecorded
from store.file.verify import verify
from store.trouble import Trouble
from tests.store.actions.made import World

Act = Callable[[Shop, By, str], Done]

ACTS: dict[str, tuple[str, Act]] = {
    "clock on": ("T1", lambda s, by, j: clock.clock_on(s, by, job=j, phase="1")),
    "finish": ("T1", lambda s, by, j: phases.finish(s, by, job=j, phase="1")),
    "sign": ("T1", lambda s, by, j: steps.sign(s, by, job=j, phase="1", step="1")),
    "hold": ("FOR", lambda s, by, j: holding.hold(s, by, job=j, phase="2", reason="parts")),
    "answer": ("FOR", lambda s, by, j: holding.answer_supplement(s, by, job=j, approve=True)),
    "move": ("FOR", lambda s, by, j: places.move(s, by, job=j, place="2", lift=True)),
    "undo": ("T2", lambda s, by, j: undo.undo(s, by)),
}


def _ready(w: World) -> str:
    w.to(8)
    job = w.take()
    w.on("T2", job, "1")
    holding.find(w.shop, w.by("FOR"), job=job, phase="3", kind="surprise", text="stud", hours=1)
    return job


@pytest.mark.parametrize("name", sorted(ACTS))
def test_of_eight_terminals_one_does_it(world: World, name: str) -> None:
    job = _ready(world)
    badge, act = ACTS[name]
    start, outcome = threading.Barrier(8), list[Done | Trouble]()
    before = world.events()

    def terminal(by: By) -> None:
        shop = Shop(world.shop.path)
        shop.proven = dict(world.shop.proven)
        try:
            start.wait()
            outcome.append(act(shop, by, job))
        except Trouble as trouble:
            outcome.append(trouble)
        finally:
            shop.close()

    threads = [
        threading.Thread(target=terminal, args=(world.by(badge, minutes=0),)) for _ in range(8)
    ]
    for one in threads:
        one.start()
    for one in threads:
        one.join()
    done = [one for one in outcome if isinstance(one, Done)]
    told = [one for one in outcome if isinstance(one, Trouble)]
    assert (len(done), len(told)) == (1, 7)
    assert world.events() == before + len(done[0].recorded)
    found = verify(world.shop.path)
    assert found.ok, found.says


def test_two_jobs_for_one_lift_and_two_numbers(world: World) -> None:
    world.to(8)
    start, outcome = threading.Barrier(4), list[Done | Trouble]()

    def terminal(by: By) -> None:
        shop = Shop(world.shop.path)
        shop.proven = dict(world.shop.proven)
        try:
            start.wait()
            outcome.append(jobs.take_small(shop, by, text="lamp", vehicle="car", lift="1"))
        except Trouble as trouble:
            outcome.append(trouble)
        finally:
            shop.close()

    threads = [
        threading.Thread(target=terminal, args=(world.by("T1", minutes=0),)) for _ in range(4)
    ]
    for one in threads:
        one.start()
    for one in threads:
        one.join()
    assert sum(isinstance(one, Done) for one in outcome) == 1
    assert world.one("select count(*) from job") == 1


SCRIPT = """
import sys
from datetime import datetime
from pathlib import Path
from store.actions import clock
from store.file.change import By
from store.file.shop import Shop
from store.trouble import Trouble
shop = Shop(Path(sys.argv[1]))
sys.stdin.readline()
try:
    by = By("T1", "p", datetime.fromisoformat(sys.argv[2]))
    clock.clock_on(shop, by, job=sys.argv[3], phase="1")
    print("done")
except Trouble as trouble:
    print("told", trouble)
"""


def test_of_four_processes_one_does_it(world: World) -> None:
    job = _ready(world)
    at = world.by("T1").now.isoformat()
    processes = [
        subprocess.Popen(
            [sys.executable, "-c", SCRIPT, str(world.shop.path), at, job],
            stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True,
            cwd=Path(__file__).parents[3],
        )
        for _ in range(4)
    ]  # fmt: skip
    for one in processes:
        assert one.stdin
        one.stdin.write("go\n")
        one.stdin.flush()
    said = [one.communicate()[0].split(" ")[0].strip() for one in processes]
    assert sorted(said) == ["done", "told", "told", "told"]


def test_a_second_try_with_the_same_key_is_harmless(world: World) -> None:
    job = _ready(world)
    by = world.by("T1")
    clock.clock_on(world.shop, by, job=job, phase="1")
    world.refused(
        lambda: clock.clock_on(world.shop, by, job=job, phase="1"), "recorded already",
        kind=AlreadyRecorded,
    )  # fmt: skip
    world.refused(
        lambda: clock.clock_off(world.shop, replace(by, badge="T2")), kind=AlreadyRecorded
    )


def test_an_act_that_fails_half_way_in_bulk_leaves_the_others(world: World) -> None:
    world.to(8)
    with world.shop.bulk():
        job = world.take()
        world.on("T1", job, "1")
        with pytest.raises(Trouble):
            clock.clock_over(world.shop, world.by("T1"), job=job, phase="4")
        world.off("T1")
    found = verify(world.shop.path)
    assert found.ok, found.says
    assert world.one("select count(*) from clock") == 1
