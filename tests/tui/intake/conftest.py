"""The screen's process next door is split off a ready one; `end_to_end` starts it from nothing."""

from __future__ import annotations

import subprocess
from collections.abc import Iterator
from types import SimpleNamespace

import pytest

from tests.tui.intake.split_door import Split, get_ready
from tui.intake import reckoner


@pytest.fixture(autouse=True)
def split_off(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    get_ready()
    pipes = {"PIPE": subprocess.PIPE, "DEVNULL": subprocess.DEVNULL}
    with monkeypatch.context() as patch:
        patch.setattr(reckoner, "subprocess", SimpleNamespace(Popen=Split, **pipes))
        yield
