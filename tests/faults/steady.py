"""Writes one act after the other until it is ended: `python -m tests.faults.steady FILE NAME`.

Says once that it has begun to: when its first act is durable.
"""

from __future__ import annotations

import sys
from datetime import timedelta
from itertools import count
from pathlib import Path

from store.actions import settings
from store.file.shop import By, Shop
from tests.faults.small_shop import PIN, START


def main() -> None:
    """Set a rate a second, by the shop's clock."""
    path, name = sys.argv[1:3]
    shop = Shop(Path(path))
    for n in count(1):
        by = By("OWN", name, START + timedelta(seconds=n), pin=PIN, key=f"{name}-{n:08}")
        settings.set_rate(shop, by, per_hour=n)
        if n == 1:
            print(n, flush=True)


if __name__ == "__main__":
    main()
