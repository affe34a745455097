"""What tests of every kind share: the demo shop, made once and copied."""

from __future__ import annotations

import fcntl
import hashlib
import os
import shutil
from collections.abc import Iterator
from functools import cache
from pathlib import Path

import pytest
from hypothesis import settings

from demo.making import make_demo
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
def demo_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo shop of seed 1 and 18 months, made once for all workers. Look, do not touch."""
    base = tmp_path_factory.getbasetemp()
    folder = base.parent if "PYTEST_XDIST_WORKER" in os.environ else base
    made = folder / "demo-18.shop"
    with (folder / "demo-18.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not made.exists():
            half = folder / "demo-18.half"
            make_demo(half, seed=1, months=18).close()
            half.rename(made)
    return made


@pytest.fixture
def demo_shop(demo_file: Path, tmp_path: Path) -> Iterator[Shop]:
    """A copy of the demo shop, open, for one test to do with as it likes."""
    copy = tmp_path / "demo.shop"
    shutil.copyfile(demo_file, copy)
    shop = Shop(copy)
    yield shop
    shop.close()
