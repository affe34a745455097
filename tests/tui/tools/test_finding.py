"""A kit is found by typing: the best match stands first."""

from __future__ import annotations

import pytest

from store.views.tools.values import KitNow
from tui.tools.finding import rank

KITS = (
    KitNow("flange-puller", "output flange puller", True, "free"),
    KitNow("pull", "hydraulic injector puller", False, "not hired"),
    KitNow("puller", "bearing set", False, "not hired"),
    KitNow("set", "puller for hubs", False, "not hired"),
)


@pytest.mark.parametrize(
    ("typed", "best"),
    [
        ("puller", "puller"), ("PULLER", "puller"), ("pull", "pull"),
        ("hydraulic", "pull"), ("flange-puller", "flange-puller"), ("puller f", "set"),
    ],
)  # fmt: skip
def test_a_code_goes_before_a_name_and_its_beginning_before_its_end(typed: str, best: str) -> None:
    assert min(KITS, key=lambda kit: rank(typed, kit)).code == best


def test_what_begins_so_goes_before_what_ends_so() -> None:
    order = sorted(KITS, key=lambda kit: rank("puller", kit))
    assert [kit.code for kit in order] == ["puller", "set", "flange-puller", "pull"]
