"""What tests of every kind share: the demo shop, made and taught once, and copied."""

from __future__ import annotations

import fcntl
import hashlib
import os
import shutil
from collections.abc import Callable, Iterator
from contextlib import closing
from functools import cache
from pathlib import Path

import pytest
from hypothesis import settings

from demo.making import OPENS_AT, make_demo
from store.file.learned.own import ShopLearner
from store.file.learned.turns import Turns
from store.file.shop import Shop

# Laws are tried on new cases by whoever develops, on the same ones where a change is judged; a busy
# machine breaks no law.
settings.register_profile("new cases", deadline=None)
settings.register_profile("same cases", deadline=None, derandomize=True)
# A learner in the background is begun by the tests that are about it, and by no other.
os.environ["HOISTBOOK_LEARNER"] = "off"
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # as the program starts itself
settings.load_profile("same cases" if os.environ.get("CI") else "new cases")


@pytest.fixture(scope="session", autouse=True)
def reckoned_once() -> Iterator[None]:
    """A PIN's scrypt is slow on purpose, and the same for the same PIN and salt: reckoned once."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(hashlib, "scrypt", cache(hashlib.scrypt))
        yield


@pytest.fixture(scope="session")
def together(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder that all workers share."""
    base = tmp_path_factory.getbasetemp()
    return base.parent if "PYTEST_XDIST_WORKER" in os.environ else base


def once(folder: Path, name: str, make: Callable[[Path], None]) -> Path:
    """Make a file for all workers: whoever comes first makes it, the others wait for it."""
    made, half = folder / f"{name}.shop", folder / f"{name}.half"
    with (folder / f"{name}.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not made.exists():
            make(half)
            half.rename(made)
    return made


@pytest.fixture(scope="session")
def demo_file(together: Path) -> Path:
    """The demo shop of seed 1 and 18 months, made once for all workers. Look, do not touch."""
    return once(together, "demo-18", lambda half: make_demo(half, seed=1, months=18).close())


@pytest.fixture(scope="session")
def taught_file(together: Path, demo_file: Path) -> Path:
    """The same with everything learned that it has to teach. Look, do not touch."""

    def taught(half: Path) -> None:
        shutil.copyfile(demo_file, half)
        with closing(Shop(half)) as shop:
            Turns(shop, ShopLearner(), lambda: OPENS_AT).keep_up()

    return once(together, "taught-18", taught)


@pytest.fixture
def demo_shop(taught_file: Path, tmp_path: Path) -> Iterator[Shop]:
    """A copy of the taught demo shop, open, for one test to do with as it likes."""
    copy = tmp_path / "demo.shop"
    shutil.copyfile(taught_file, copy)
    shop = Shop(copy)
    yield shop
    shop.close()
