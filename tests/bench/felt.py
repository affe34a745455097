"""Speed as felt at a terminal line, as ratios to a bare Textual app in the same minutes. By hand:

    python -m tests.bench.felt [SHOP.shop | --months 60] [--turns 7] [--idle 60]

Over a real pty: process start to the first useful paint of the bay and of the floor; a key to its
paint on the heaviest screen, the floor at 200x50; bytes of an idle minute, in which the clock ticks
once. Bare is an app of one widget that fills the glass and paints every line anew at a key.
Without a file a demo shop is made first, of five years.
"""

from __future__ import annotations

import argparse
import os
import sys
import tempfile
from collections.abc import Callable, Generator
from contextlib import AbstractContextManager, contextmanager
from pathlib import Path
from statistics import median
from time import monotonic

import pexpect  # type: ignore[import-untyped]  # it has no types of its own

from demo.making import make_demo
from tests.end_to_end.pty_terminal import PATIENCE_S, PtyTerminal, environment, program

BARE = """
from textual.app import App
from textual.widgets import Static

class Bare(App):
    count = 0

    def compose(self):
        yield Static(self.page(), id="page", markup=False)

    def page(self):
        return chr(10).join(f"{'ready' if not row else row} {self.count} " + "█▇▆▅▄▃▂▁ " * 18
                         for row in range(%d))

    def on_key(self, event):
        self.count += 1
        self.query_one("#page").update(self.page())

Bare().run()
"""
QUIET_S = 0.12
"""A paint is over when nothing came for so long."""
LARGE, SMALL = (200, 50), (80, 24)


@contextmanager
def bare(size: tuple[int, int]) -> Generator[PtyTerminal]:
    """The bare app on a line of its own."""
    child: pexpect.spawn[bytes] = pexpect.spawn(
        sys.executable, ["-c", BARE % size[1]],
        env=dict(environment()), dimensions=(size[1], size[0]), timeout=PATIENCE_S,
    )  # fmt: skip
    try:
        yield PtyTerminal(child, size)
    finally:
        child.close(force=True)


def until_seen(terminal: PtyTerminal, *words: str) -> float:
    """Seconds until words are on the glass."""
    start = monotonic()
    terminal.wait(*words)
    return monotonic() - start


def settled(terminal: PtyTerminal) -> tuple[float, int]:
    """Seconds until the last byte of what comes now, and how many bytes came."""
    start = last = monotonic()
    before = seen = terminal.sent
    while monotonic() - last < QUIET_S or terminal.sent == before:
        terminal.read(0.005)
        if terminal.sent != seen:
            seen, last = terminal.sent, monotonic()
        if monotonic() - start > PATIENCE_S:
            raise SystemExit("nothing was painted")
    return last - start, seen - before


def painted(terminal: PtyTerminal, keys: tuple[str, ...]) -> tuple[float, float]:
    """Median seconds from a key to its last byte, and median bytes."""
    found: list[tuple[float, int]] = []
    for key in keys:
        terminal.child.send(key)
        found.append(settled(terminal))
    return median(one for one, _ in found), median(many for _, many in found)


def idle(terminal: PtyTerminal, seconds: float) -> int:
    """Bytes while nobody presses anything and nothing happens."""
    before = terminal.sent
    terminal.idle(seconds)
    return terminal.sent - before


def starts(turns: int, shop: Path) -> None:
    """Print what starts take, in turn, so that all see the same machine."""

    def once(opens: Callable[[], AbstractContextManager[PtyTerminal]], *words: str) -> float:
        start = monotonic()
        with opens() as terminal:
            terminal.wait(*words)
            return monotonic() - start

    kinds: dict[str, Callable[[], float]] = {
        "bare app": lambda: once(lambda: bare(SMALL), "ready"),
        "bay": lambda: once(
            lambda: program(shop, "open", "--view", "bay", "--as", "B12"), "undo last"
        ),
        "floor": lambda: once(lambda: program(shop, "open", "--view", "floor"), "wants somebody"),
    }
    times: dict[str, list[float]] = {name: [] for name in kinds}
    for _ in range(turns):
        for name, take in kinds.items():
            times[name].append(take())
    least = median(times["bare app"])
    print(f"start to first useful paint (bare app {least * 1000:.0f} ms):")
    for name in ("bay", "floor"):
        print(f"  {name:6} {median(times[name]) / least:5.2f} x")


def keys(shop: Path, turns: int) -> None:
    """Print what a key costs on the heaviest screen."""
    with bare(LARGE) as terminal:
        terminal.wait("ready")
        terminal.idle(0.5)
        least, most_bytes = painted(terminal, ("x",) * (2 * turns))
    with program(shop, "open", "--view", "floor", size=LARGE) as terminal:
        terminal.wait("wants somebody")
        terminal.idle(2.0)
        print(f"a key to its paint at 200x50 (bare app {least * 1000:.0f} ms, {most_bytes:.0f} B):")
        for name, pressed in (("next lift", ("\x1b[B", "\x1b[A")), ("zoom", ("z", "z"))):
            took, many = painted(terminal, pressed * turns)
            print(f"  floor, {name:10} {took / least:5.2f} x, {many:6.0f} B")


def bytes_idle(shop: Path, seconds: float) -> None:
    """Print bytes of a time in which nothing happens."""
    for view, words, more in (
        ("bay", "undo last", ("--as", "B12")), ("floor", "wants somebody", ()),
    ):  # fmt: skip
        with program(shop, "open", "--view", view, *more) as terminal:
            terminal.wait(words)
            terminal.idle(3.0)
            print(f"{seconds:.0f} s of nothing on the {view}: {idle(terminal, seconds)} B")


def main() -> None:
    """Print the table."""
    ask = argparse.ArgumentParser(description=__doc__)
    ask.add_argument("shop", nargs="?", type=Path)
    ask.add_argument("--months", type=int, default=60)
    ask.add_argument("--turns", type=int, default=7)
    ask.add_argument("--idle", type=float, default=60.0)
    say = ask.parse_args()
    os.environ["HOISTBOOK_LEARNER"] = "off"
    with tempfile.TemporaryDirectory() as folder:
        shop: Path = say.shop or Path(folder) / "ten.shop"
        if say.shop is None:
            make_demo(shop, seed=1, months=say.months).close()
        print(f"{shop.stat().st_size / 1e6:.0f} MB")
        starts(say.turns, shop)
        keys(shop, say.turns)
        bytes_idle(shop, say.idle)


if __name__ == "__main__":
    main()
