"""Being somebody without privileges, also where the tests run as the machine's administrator."""

from __future__ import annotations

import ctypes
import os
import shutil
import tempfile
from collections.abc import Generator
from contextlib import contextmanager
from pathlib import Path

NOBODY = 65534


@contextmanager
def open_folder() -> Generator[Path]:
    """A folder that everybody may enter."""
    folder = Path(tempfile.mkdtemp(prefix="hoistbook-test-"))
    folder.chmod(0o755)
    yield folder
    folder.chmod(0o755)
    shutil.rmtree(folder)


@contextmanager
def unprivileged() -> Generator[None]:
    """Touch files with the rights of nobody; whoever has no privileges stays who they are."""
    if os.geteuid() != 0:
        yield
        return
    library = ctypes.CDLL(None)
    library.setfsuid(NOBODY)
    try:
        yield
    finally:
        library.setfsuid(0)
