"""Numbers of pieces and days as they are typed."""

from __future__ import annotations

import pytest

from store.trouble import Refused
from tui.tools.typed import whole


def test_a_whole_number_is_read() -> None:
    assert whole(" 12 ") == 12


@pytest.mark.parametrize("typed", ["", "two", "1.5", "-3", "1e309", "nan", "9" * 5000])
def test_what_is_no_whole_number_is_refused_with_one_as_example(typed: str) -> None:
    with pytest.raises(Refused, match=r"no whole number\. Type one like 7"):
        whole(typed)
