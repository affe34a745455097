"""Ten thousand random keys and more: `python -m tests.bench.random_keys [KEYS [SEED]]`.

Somebody who presses anything, on every screen of a small shop, with badges, PINs, texts, other
sizes of the terminal and minutes between. Whatever is raised ends the run with its traceback and
the seed; at the end the ledger is verified. The suite presses fewer.
"""

from __future__ import annotations

import asyncio
import os
import sys
import tempfile
from pathlib import Path
from time import perf_counter

from store.file.verify import verify
from tests.tui.shops import Pen, worked_on
from tests.tui.test_every_key import run_at_random
from tui.parts.where import SIGN_IN

KEYS, SEED = 10_000, 1
RUN = 2_000
"""Keys of one shop; then another is begun, before it is full of jobs."""


def main(keys: int, seed: int) -> None:
    """Press them and say how it went."""
    os.environ["HOISTBOOK_LEARNER"] = "off"
    pressed = 0
    while pressed < keys:
        many = min(RUN, keys - pressed)
        began = perf_counter()
        events = _one_shop(seed + pressed // RUN, many)
        pressed += many
        took = perf_counter() - began
        print(f"{pressed:>7} keys, {events:>4} entries written, {took:5.1f} s", flush=True)


def _one_shop(seed: int, many: int) -> int:
    with tempfile.TemporaryDirectory() as folder:
        path, pen = Path(folder) / "made.shop", Pen()
        shop = worked_on(path, pen)
        try:
            asyncio.run(run_at_random(shop, pen, SIGN_IN, seed, many))
        except BaseException:
            print(f"seed {seed}")
            raise
        finally:
            shop.close()
        verdict = verify(path)
        assert verdict.ok, f"seed {seed}: {verdict}"
        return verdict.events


if __name__ == "__main__":
    wanted = [int(one) for one in sys.argv[1:]]
    main(*(wanted + [KEYS, SEED][len(wanted) :]))
