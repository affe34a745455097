"""Wrong input of every kind gets one clear line, status 1 or 2, and changes nothing."""

from __future__ import annotations

import random
from pathlib import Path

import pytest

from tests.tui.cli.made import Line, Ran, run
from tui.cli import commands
from tui.cli.usage import Command

NASTY = (
    "", " ", "-1", "0", "nan", "inf", "1e999", "9" * 30, "x" * 5000, "a\nb", "a\0b", "\udcff",
    "🚐", "\u202eabc", "--", "--as", "1001.1.1.1", "1.1", "'; drop table job; --", "/etc",
    "2026-02-30T10:00", "9999-12-31T23:59", "0001-01-01T00:00", "2026-03-29T02:30", "=", "a=", "%s",
)  # fmt: skip
"""Values that nobody means, and some that people do mean elsewhere."""
TRIES = 24
"""Command lines tried of each command: always the same, drawn from all that there are."""
GOOD = {
    "JOB": "1001", "NUMBER": "1001", "JOB.PHASE": "1001.1", "JOB[.PHASE]": "1001.1",
    "JOB.PHASE.STEP": "1001.2.1", "READING": "gross", "BADGE": "T1", "CODE": "2", "SEQ": "40",
    "REASON": "parts", "JOB.PHASE|REASON": "tidying", "INSTANT": "2100-01-01T10:00",
    "DATE": "2099-12-24", "MONEY": "80", "NAME": "cautious", "VALUE": "0.7",
    "CUSTOMER": "c-0123456789abcdef00", "reason": "parts", "kind": "bench", "text": "words",
    "operation": "TC", "family": "B4-M-F", "vehicle": "van", "name": "Kim", "role": "technician",
    "for": "welding", "until": "2099-01-02T08:00", "from": "2026-01-01T08:00", "why": "because",
    "date": "2026-01-01", "months": "12", "source": "sheet", "by": "Vos", "kg": "3000",
    "shift": "mon-fri 07:30-16:30", "low": "1", "hold-point": "LK",
}  # fmt: skip
GOOD_HERE = {
    ("finding", "kind"): "advice", ("lift add", "kind"): "two-post", ("lift add", "CODE"): "9",
    ("place add", "CODE"): "9", ("people qualify", "until"): "2099-01-01",
    ("people add", "BADGE"): "N7", ("clock enter", "until"): "2026-01-01T08:30",
    ("lift withdraw", "reason"): "frays", ("skip", "reason"): "done",
    ("people alone", "reason"): "I",
}  # fmt: skip
TRIED = [
    one for one in commands.every()
    if one.name not in ("demo", "init", "open", "batch", "restore", "backup", "workbook check",
                        "workbook load")
]  # fmt: skip


def good(command: Command, name: str) -> str:
    """A value that is right there."""
    return GOOD_HERE.get((command.name, name)) or GOOD.get(name, "1")


def lines_of(command: Command) -> list[list[str]]:
    """Command lines with one nasty value each."""
    words = [good(command, one.name) for one in command.arguments]
    needed = [
        word for one in command.options if one.needed
        for word in (f"--{one.name}", good(command, one.name))
    ]  # fmt: skip
    found: list[list[str]] = []
    for index in range(len(words)):
        for nasty in NASTY:
            spoilt = [*words[:index], nasty, *words[index + 1 :]]
            found.append([*command.words, *spoilt, *needed])
    for option in command.options:
        if option.value:
            found += [
                [*command.words, *words, *needed, f"--{option.name}", nasty] for nasty in NASTY
            ]
    return found


FAULT_LISTS = ("hindsight", "history import")
"""They say a line a fault, and each of their files may have one."""


def is_one_clean_line(ran: Ran, *, or_more: bool = False) -> bool:
    """One line says it, and nothing was printed as an answer."""
    lines = ran.err.count("\n")
    enough = lines >= 1 if or_more else lines == 1
    return ran.out == "" and enough and "Traceback" not in ran.err


@pytest.mark.parametrize("command", TRIED, ids=[one.name for one in TRIED])
def test_no_value_anywhere_gets_more_than_one_line_or_writes_half(
    line: Line, command: Command
) -> None:
    line.take()
    lines = lines_of(command)
    if len(lines) > TRIES:
        lines = random.Random(command.name).sample(lines, TRIES)
    before = line.events()
    for argv in lines:
        who = [] if any(word == "--as" for word in argv) else ["--as", "OWN"]
        takes_pin = any(one.name == "pin-stdin" for one in command.options)
        takes_as = any(one.name == "as" for one in command.options)
        ran = line.run(
            *argv, *(who if takes_as else []), *(["--pin-stdin"] if takes_pin else []),
            stdin="2468\n1357\n" if command.name == "people pin" else "2468\n",
        )  # fmt: skip
        assert ran.status in (0, 1, 2), argv
        after = line.events()
        if ran.status:
            many = command.name in FAULT_LISTS
            assert is_one_clean_line(ran, or_more=many), (argv, ran)
            assert after == before, argv
        before = after
    assert line.does("verify")["ok"]


@pytest.fixture(name="job")
def job_fixture(line: Line) -> str:
    """A job whose first phase is finished, and T1 clocked on its second."""
    job = line.take()
    line.acts("T1", "clock", "on", f"{job}.1")
    line.acts("T1", "finish", f"{job}.1")
    line.acts("T1", "clock", "on", f"{job}.2")
    return job


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ("clock on JOB.2 --as T1", "1 Ines is still clocked on JOB.2"),
        ("clock on JOB.1 --as T2", "1 JOB.1 reception is finished"),
        ("clock on JOB.3 --as T2", "hold point"),
        ("clock on JOB.99 --as T2", "1 There is no phase JOB.99"),
        ("clock on 4711.1 --as T2", "1 There is no job 4711"),
        ("clock on JOB.2 --as NOBODY", "1 Nobody here has the badge NOBODY"),
        ("clock on JOB.2", "2 hoistbook: clock on lacks --as BADGE"),
        ("clock off --as T2", "1 Tomas has no clock running"),
        ("clock off --as T1 --at 2099-01-01T10:00", "1 That time has not come yet"),
        ("clock off --as T1 --at 2000-01-01T10:00", "1 The clock on JOB.2 started"),
        ("clock off --as T1 --at 2026-03-29T02:30", "1 '2026-03-29T02:30' is skipped"),
        ("clock off --as T1 --at 2026-10-25T02:30", "happens twice"),
        ("clock off --as T1 --at noon", "2 hoistbook: --at INSTANT: 'noon'"),
        ("clock indirect dreaming --as T1", "2 hoistbook: REASON is one of tidying"),
        ("clock back --as T1", "1 Ines is not away"),
        ("move JOB --lift 7 --as FOR", "1 There is no lift 7. There are: 1, 2"),
        ("move JOB --as FOR", "2 hoistbook: move takes --lift CODE or --place CODE"),
        ("finish JOB.1 --as T1", "1 JOB.1 reception is finished"),
        ("finish JOB.2 --as T1", "hold point"),
        ("sign JOB.2.99 --as T1", "1 There is no step JOB.2.99"),
        ("sign JOB.2 --as T1", "2 hoistbook: 'JOB.2' is no step"),
        ("hold JOB.2 --reason parts --until 2000-01-01T10:00 --as T1", "1 The expected end"),
        ("hold JOB.2 --reason parts --until 2199-01-01T10:00 --as T1", "lies years ahead"),
        ("release JOB --as T1", "1 JOB is not held"),
        ("skip JOB.3 --reason x --as T1", "takes the foreman or owner"),
        ("supplement approve JOB --as FOR --pin-stdin", "1 JOB has no extra work"),
        ("finding JOB.2 --kind surprise --text x --hours 0 --as T1", "more than 0"),
        ("promise JOB 2000-01-01T10:00 --as FOR --pin-stdin", "1 The promise lies in the past"),
        ("promise JOB --as FOR", "2 hoistbook: promise takes an instant"),
        ("promise JOB --chance 2 --as FOR", "2 hoistbook: --chance is between"),
        ("close JOB --as FOR --pin-stdin", "1 JOB cannot be closed:"),
        ("take --operation ZZ --family B4-M-F --vehicle v --as FOR --pin-stdin", "no operation"),
        ("take --operation TC --family B4 --vehicle v --as FOR --pin-stdin", "no family"),
        ("take --operation TC --family B4-M-F --vehicle v --option a --as FOR", "2 hoistbook"),
        ("take --operation TC --family B4-M-F --vehicle v --lift 1 --as FOR --pin-stdin", "taken"),
        ("small --text x --vehicle v --hours 0 --as T1", "1 A small job takes more than 0"),
        ("correct 1 --remove --as T1", "1 There is no clock 1"),
        ("correct 1 --as T1", "2 hoistbook: correct lacks what is right"),
        ("correct 1 --remove --split 2026-01-01T10:00 --as T1", "not both"),
        ("undo --as APP", "1 Lev has nothing to take back"),
        ("day T1 --date 2026-02-30", "2 hoistbook: --date DATE"),
        ("day ZZ", "1 Nobody here has the badge ZZ"),
        ("day", "2 hoistbook: day lacks a badge"),
        ("floor --as ZZ", "1 Nobody here has the badge ZZ"),
        ("job 4711", "1 There is no job 4711"),
        ("job x", "2 hoistbook: 'x' is no job"),
        ("ledger --job 4711", "1 There is no job 4711"),
        ("estimate --operation TC --family B4-M-F --badge ZZ", "1 Nobody here has the badge ZZ"),
        ("workbook check /nonexistent", "1 /nonexistent: No such file"),
        ("workbook load /etc --as FOR", "1 /etc: Is a directory"),
        ("people add T1 --name x --role technician --as OWN --pin-stdin", "Ines's"),
        ("people add N1 --name x --role boss --as OWN", "2 hoistbook: --role is one of"),
        ("people change OWN --role technician --as OWN --pin-stdin", "at least one owner"),
        ("people absence T1 --why x --as FOR", "2 hoistbook: people absence takes"),
        ("sshline ZZ", "1 Nobody here has the badge ZZ"),
        ("setting set colour 3 --as OWN --pin-stdin", "1 There is no setting colour"),
        ("setting set cautious yes --as OWN --pin-stdin", "takes a number"),
        ("calendar set --shift all-day --as OWN", "2 hoistbook: --shift"),
        ("holiday clear 2099-01-01 --as OWN --pin-stdin", "is no holiday"),
        ("rate set free --as OWN", "2 hoistbook: MONEY"),
        ("erase c-0123456789abcdef00 --as FOR --pin-stdin", "1 There is nothing kept"),
        ("lift return 1 --as FOR --pin-stdin", "in service"),
        ("open", "1 The screens need a terminal"),
        ("demo", "1 The screens need a terminal"),
        ("demo --no-open", "is a real shop"),
        ("init --name x --zone UTC --currency EUR --shift mon --owner A:B --pin-stdin", "is there"),
    ],
)  # fmt: skip
def test_a_refusal_says_what_is_wrong(line: Line, job: str, words: str, says: str) -> None:
    said = line.refused(*words.replace("JOB", job).split())
    assert says.replace("JOB", job) in said


def test_files_that_are_no_shop(tmp_path: Path) -> None:
    text = tmp_path / "text.shop"
    text.write_text("not a shop\n")
    empty = tmp_path / "empty.shop"
    empty.touch()
    for path in (text, empty, tmp_path, tmp_path / "none.shop", text / "below", Path("a\0b")):
        for argv in (("floor", "--json"), ("clock", "off", "--as", "T1"), ("verify",)):
            ran = run(*argv, "--shop", str(path))
            assert ran.status == 1, (path, ran)
            assert is_one_clean_line(ran), (path, ran)
    assert text.read_text() == "not a shop\n"
    assert empty.stat().st_size == 0


@pytest.mark.parametrize(
    ("lacks", "says"),
    [
        ("--name", "--name TEXT"), ("--zone", "--zone ZONE"), ("--shift", "--shift"),
        ("--owner", "--owner BADGE:NAME"), ("--pin-stdin", "--pin-stdin"),
    ],
)  # fmt: skip
def test_init_without_a_terminal_says_what_lacks(tmp_path: Path, lacks: str, says: str) -> None:
    argv = founding(**{lacks: None})
    ran = run("--shop", str(tmp_path / "new.shop"), *argv, stdin="2468\n")
    assert ran.status == 2
    assert is_one_clean_line(ran)
    assert says in ran.err
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    ("option", "value", "status"),
    [
        ("--zone", "Mars/Base", 1), ("--currency", "EURO", 2), ("--shift", "always", 2),
        ("--break", "noon", 2), ("--lift", "1", 2), ("--lift", "1:x:-5", 1), ("--lift", "1:x:y", 2),
        ("--owner", "Olga", 2), ("--owner", "Ö:Olga", 1), ("--rate", "much", 2),
        ("--rate", "-3", 1),
        ("--name", "x" * 5000, 1), ("--from", "2026-13-01", 2), ("--lift", "#:x:1", 1),
    ],
)  # fmt: skip
def test_init_makes_all_of_it_or_nothing(
    tmp_path: Path, option: str, value: str, status: int
) -> None:
    argv = founding(**{option: value})
    ran = run("--shop", str(tmp_path / "new.shop"), *argv, stdin="2468\n")
    assert ran.status == status, ran
    assert is_one_clean_line(ran), ran
    assert list(tmp_path.iterdir()) == []


def test_init_refuses_a_pin_that_is_none(tmp_path: Path) -> None:
    for stdin in ("12\n", "abcd\n", "\n"):
        ran = run("--shop", str(tmp_path / "new.shop"), *founding(), stdin=stdin)
        assert ran.status in (1, 2)
        assert is_one_clean_line(ran)
        assert list(tmp_path.iterdir()) == []


def founding(**changed: str | None) -> list[str]:
    """The words of `init`, some left out or otherwise."""
    options: dict[str, str | None] = {
        "--name": "Marsh Lane", "--zone": "Europe/Amsterdam", "--currency": "EUR",
        "--shift": "mon-fri 07:30-16:30", "--owner": "OWN:Olga", "--pin-stdin": "",
        **changed,
    }  # fmt: skip
    words = [
        [name, value] if value else [name] for name, value in options.items() if value is not None
    ]
    return ["init", *(word for each in words for word in each)]
