"""A screen names keys where an action names commands."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from tui.parts.in_keys import in_keys

ACTIONS = Path(__file__).parents[3] / "store" / "actions"


@pytest.mark.parametrize(
    "said, shown",
    [
        ("1001.2 check is held: parts. When it can go on: hoistbook release 1001.2.",
         "1001.2 check is held: parts. When it can go on: 4 on the bay, r on the floor."),
        ("Ines has no clock running. Start one: hoistbook clock on JOB.PHASE.",
         "Ines has no clock running. 1 starts one."),
        ("1001.3.2: the limits of bolts come from the maker's data for this vehicle. Type them "
         "first: hoistbook limits 1001.3.2 --reading nm --low X --high X --source TEXT.",
         "1001.3.2: the limits of bolts come from the maker's data for this vehicle. 3 asks for "
         "them first."),
        ("1001.2 is on T1's list already. See the list: hoistbook next T1.",
         "1001.2 is on T1's list already. k on the floor shows the lists."),
        ("Say first what 1004 is about, and the family: hoistbook work 1004 --operation CODE "
         "--family KEY.", "Say first what 1004 is about: w on the desk."),
        ("1004 is not here yet. When it is: hoistbook arrive 1004.",
         "1004 is not here yet. When it is: a on the desk."),
        ("The check of 1004: pass. Next: hoistbook quote 1004.",
         "The check of 1004: pass. Next: q quotes it."),
        ("1004 is here already, at 3. Move it with hoistbook move 1004.",
         "1004 is here already, at 3. m on the floor moves it."),
        ("Nothing of the kind.", "Nothing of the kind."),
    ],
)  # fmt: skip
def test_the_command_gives_way_to_the_key(said: str, shown: str) -> None:
    assert in_keys(said) == shown


def test_sentences_stay_whole() -> None:
    for text in re.findall(r'"([^"]*hoistbook[^"]*)"', "\n".join(
        path.read_text("utf-8") for path in ACTIONS.glob("*.py")
    )):  # fmt: skip
        assert in_keys(text).strip()
