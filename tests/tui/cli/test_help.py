"""The help is complete: every command, every option, an example that can be run."""

from __future__ import annotations

import shlex

import pytest
from rich.cells import cell_len

from tests.tui.cli.made import run
from tui.cli import commands
from tui.cli.parse import parse
from tui.cli.usage import EVERYWHERE, Command

NAMES = """
demo init open browser
floor job estimate ledger
needs helps why clear line
desk enquiry work customer book arrive vehicle qualify quote agree decline turn-away comeback quotes erase
take small promise move ready parts parts_add parts_ordered parts_here parts_wrong parts_returned parts_fitted parts_drop hire_advise hire_ask hire_receive hire_mend hire_extend hire_give hire_return hire_cancel hire_arrived hire_deposit hire_invoice hire_terms hire_let tools supplier kit_price kit_date supplement_approve supplement_refuse supplement_note call ceiling advice outwork outwork_send outwork_chase outwork_back close handover followups followups_set followups_move followups_done followups_drop record sheet dates note mark
clock_on clock_over clock_off clock_away clock_back clock_indirect clock_enter
sign limits finish hold release skip reopen finding assign next
day undo correct card paper
lift_withdraw lift_return lift_look lift_inspect lift_add place_add
people people_add people_change people_pin people_qualify people_absence people_alone sshline codes
workbook_check workbook_load workbook_show workbook_starter workbook_set workbook_copy workbook_new workbook_rename workbook_drop workbook_part workbook_export workbook_adopt calendar_set holiday_set holiday_clear rate_set setting_set costs prices
month learned history_import history_export hindsight
verify backup restore batch
"""  # noqa: E501  # one line for each section of the help
LATER: tuple[str, ...] = ()
"""Commands of which there is nothing yet."""

EVERY = commands.every()


def test_the_commands_are_these_and_no_others() -> None:
    assert [one.name for one in EVERY] == [name.replace("_", " ") for name in NAMES.split()]


def test_help_names_every_command_once_and_none_that_is_not_there_yet() -> None:
    ran = run("--help")
    assert (ran.status, ran.err) == (0, "")
    lefts = [line[2:22].strip() for line in ran.out.splitlines() if line.startswith("  ")]
    for one in EVERY:
        assert lefts.count(one.name) == 1, one.name
    for later in LATER:
        assert later not in commands.MODULES
        assert f"\n  {later} " not in ran.out


@pytest.mark.parametrize("command", EVERY, ids=[one.name for one in EVERY])
def test_every_command_says_what_it_does_with_every_option_and_an_example(
    command: Command,
) -> None:
    ran = run(*command.words, "--help")
    assert (ran.status, ran.err) == (0, "")
    assert all(cell_len(line) <= 80 or line.startswith("example:") for line in ran.out.splitlines())
    assert command.says.split(":")[0].split()[0] in ran.out
    for option in (*command.options, *EVERYWHERE):
        assert option.shown() in ran.out
        assert option.says
    for argument in command.arguments:
        assert argument.name in ran.out
        assert argument.says
    assert f"example: hoistbook {command.example}" in ran.out


@pytest.mark.parametrize("command", EVERY, ids=[one.name for one in EVERY])
def test_every_example_can_be_typed_as_it_stands(command: Command) -> None:
    wanted = parse(shlex.split(command.example))
    assert wanted.command is command
    assert wanted.typed is not None


def test_a_group_lists_its_commands() -> None:
    out = run("clock", "--help").out
    assert all(one.name in out for one in EVERY if one.words[0] == "clock")


def test_the_version_is_one_line() -> None:
    ran = run("--version")
    assert ran.status == 0
    assert ran.out.startswith("hoistbook ")
    assert ran.out.count("\n") == 1
