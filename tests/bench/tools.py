"""How long a look at the special tools takes, with 24 lifts in use and 30 kits, by learned draws.

    python -m tests.bench.tools

Processor time of this process, so that other work on the machine counts less; the ratio is to one
look at the floor in the same run.
"""

from __future__ import annotations

import tempfile
import time
from collections.abc import Callable
from datetime import timedelta
from pathlib import Path

from store.actions import places
from store.actions.hires import asked as hires
from store.actions.hires import suppliers
from store.views.floor import floor
from store.views.tools.page import tools
from tests.store.actions.made import BOOK, World, make
from tests.store.made_acts import learner
from tests.store.views.tools_shop import TERMS, Loans

LIFTS, KITS, OWNED, HIRED = 24, 30, 6, 12


def main() -> None:
    """Print the table."""
    world = full_floor(Path(tempfile.mkdtemp()))
    learner(world).keep_up()
    look = timed(lambda: floor(world.shop, world.now))
    found = tools(world.shop, world.now)
    ms = timed(lambda: tools(world.shop, world.now))
    wanted = sum(len(one.needed_by) for one in found.kits)
    print(f"{'one look at the floor':52}{look:9.1f} ms")
    print(f"{len(found.kits)} kits, {wanted} stretches, {len(found.advice)} advised, "
          f"{len(found.clashes)} clashes: {ms:.1f} ms, {ms / look:.2f} looks")  # fmt: skip


def timed(does: Callable[[], object], times: int = 7) -> float:
    """The median of its milliseconds of processor time."""
    each: list[float] = []
    for _ in range(times):
        begin = time.process_time()
        does()
        each.append((time.process_time() - begin) * 1000)
    return sorted(each)[times // 2]


def full_floor(folder: Path) -> World:
    """A job on each lift; each needs two kits, and every other hired kit is on hand."""
    world = make(folder)
    world.to(8)
    for n in range(4, LIFTS + 1):
        places.add_place(
            world.shop, world.by("OWN", minutes=0.1), code=str(n), kind="lift",
            lift_kind="two-post", rated_kg=4000,
        )  # fmt: skip
    loans = Loans(world)
    loans.book(_book())
    for n in range(OWNED, KITS):
        suppliers.offer(
            world.shop, world.by("FOR", minutes=0.1), kit=f"k{n}", supplier="Loan",
            day=TERMS.rates.day, carriage=TERMS.rates.carriage,
        )  # fmt: skip
    taken = [world.take(f"O{n}", str(n + 1)) for n in range(LIFTS)]
    for n in range(HIRED):
        hires.ask(
            world.shop, world.by("FOR", minutes=0.1), kit=f"k{OWNED + n}", supplier="Loan",
            job=taken[OWNED + n], expected=world.now + timedelta(minutes=1),
            due=world.at(15, 30, day=1),
        )  # fmt: skip
        hires.receive(world.shop, world.by("T1", minutes=2), kit=f"k{OWNED + n}")
    return world


def _book() -> str:
    kits = "".join(
        f'[[kit]]\ncode = "k{n}"\nname = "kit {n}"\nowned = {str(n < OWNED).lower()}\n'
        for n in range(KITS)
    )
    phases = "".join(
        f'[[phase]]\ncode = "P{n}"\nname = "work {n}"\nhours = [2.0, 5.0, 14.0]\n'
        f'place = ["bench", "lift"]\n[[phase.kit]]\nkit = "k{n}"\n'
        f'[[phase.kit]]\nkit = "k{(n + 6) % KITS}"\n'
        f'[[operation]]\ncode = "O{n}"\nname = "operation {n}"\n'
        f'route = ["G0", "P{n}", "B1", "B4", "Z1", "Z2"]\n'
        for n in range(LIFTS)
    )
    return BOOK.replace('[[kit]]\ncode = "locks"', f'{kits}[[kit]]\ncode = "locks"') + phases


if __name__ == "__main__":
    main()
