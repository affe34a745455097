"""Rows of the table: PINs that are guessed at, by many at once, over restarts and set clocks."""

from __future__ import annotations

import subprocess
import sys
from contextlib import closing
from datetime import timedelta
from pathlib import Path
from random import Random

from store.file.pins import FIRST_WAIT_S, FREE_TRIES, LONGEST_WAIT_S, Uptime
from store.file.shop import By, Shop
from store.file.verify import verify
from tests.faults.guesser import LOOKED_AT, MADE_TO_WAIT, WRONG, guess
from tests.faults.row import Outcome, Row, Tries
from tests.faults.small_shop import START, small_shop

BADGE, ROOT = "OWN", Path(__file__).parents[2]
EACH = 4
"""Guesses of each process."""
MOST = 30
"""Processes at once."""
NO_RESTART = "the one start"


def many_at_once(tries: Tries) -> Outcome:
    """Processes that begin to guess at the same moment: together they have the tries of one.

    The whole takes less than the first wait, so what is looked at beyond is too much; where the
    machine was slower than that, it counts for nothing.
    """
    many = min(MOST, -(-tries.times // EACH))
    shop = small_shop(tries.folder)
    shop.close()
    said: list[str] = []
    rounds = 0
    while len(said) < tries.times:
        rounds += 1
        with closing(Shop(shop.path)) as anew, anew.beside() as db:
            db.execute("delete from pin_tries")
        said += _guessed_by(many, shop.path, protected=tries.protected)
    lost = max(0, said.count(LOOKED_AT) - FREE_TRIES * rounds) + said.count("let in")
    fine = verify(shop.path).ok
    return Outcome(len(said), 0, lost, (len(said) - lost) * fine, (f"{many} processes at once",))


def _guessed_by(many: int, path: Path, *, protected: bool) -> list[str]:
    words = [sys.executable, "-m", "tests.faults.guesser", str(path), BADGE, str(EACH),
             "yes" if protected else "no"]  # fmt: skip
    workers = [
        subprocess.Popen(
            words, cwd=ROOT, text=True, stdin=subprocess.PIPE, stdout=subprocess.PIPE
        )
        for _ in range(many)
    ]  # fmt: skip
    for one in workers:
        assert one.stdout is not None
        assert one.stdout.readline() == "ready\n"
    for one in workers:
        assert one.stdin is not None
        one.stdin.write("go\n")
        one.stdin.flush()
    said = [line for one in workers for line in one.communicate()[0].splitlines()]
    assert all(one.returncode == 0 for one in workers)
    return said


def over_restarts(tries: Tries) -> Outcome:
    """One guess a process after the other, while the machine's clock is set to and fro.

    Waits are known from the table of the contributor guide; uptime goes on whatever the clock says.
    """
    shop = small_shop(tries.folder)
    shop.close()
    wrong, last_s, up_s, lost = 0, 0.0, 1000.0, 0
    notes: list[str] = []
    for _ in range(tries.times):
        up_s += _pause(tries.dice)
        wait_s = _wait_after(wrong)
        should = LOOKED_AT if up_s - last_s >= wait_s else MADE_TO_WAIT
        did = _one_guess(shop.path, tries.dice, up_s, believed=not tries.protected)
        if did != should:
            lost += 1
            notes.append(f"{up_s - last_s:.0f} s after {wrong} wrong ones: {did}")
        if did == LOOKED_AT:
            wrong, last_s = wrong + 1, up_s
    return Outcome(tries.times, 0, lost, tries.times - lost, tuple(notes[:5]))


def _pause(dice: Random) -> float:
    return dice.choice((1, 5, 20, 100, 500, 1000))


def _wait_after(wrong: int) -> int:
    if wrong < FREE_TRIES:
        return 0
    doubled: int = FIRST_WAIT_S * 2 ** (wrong - FREE_TRIES)
    return min(LONGEST_WAIT_S, doubled)


def _one_guess(path: Path, dice: Random, up_s: float, *, believed: bool) -> str:
    """Open the file anew and guess; with the protection out, the clock is all there is."""
    now = START + timedelta(seconds=dice.choice((-1, 1)) * 10 ** dice.uniform(0, 8))
    up = None if believed else Uptime(NO_RESTART, up_s)
    with closing(Shop(path)) as shop:
        return guess(shop, By(BADGE, "t1", now, pin=WRONG, up=up))


ROWS = (
    Row(
        "PINs guessed by many at once",
        "processes that all begin to type wrong PINs of one badge at the same moment",
        "each says of every guess whether it was looked at or made to wait",
        "the count in the shop file, kept by each process for itself: each has three guesses",
        many_at_once, quick=12, long=360, bare=12,
    ),
    Row(
        "PINs guessed with a clock that is set",
        "wrong PINs, each from a fresh opening of the file, while the machine's clock is set to "
        "and fro by up to three years",
        "the instant of each guess; how long the machine has run is given with it",
        "the machine's uptime, so that its clock is believed: waits end early or never",
        over_restarts, quick=12, long=300, bare=12,
    ),
)  # fmt: skip
