"""A whole job by keys on a real terminal, beside the same job by command line: one ledger.

Taken, worked, signed, measured wrong, surprised, supplemented, held, moved and closed. After each
act by command the keys that mean the same are pressed, and the next act begins when the second
ledger is as long as the first. Instants, keys of entries, ids made of them, terminals and hashes
differ; everything else must not.
"""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest

from store.file.shop import Shop
from store.views.job import job_card
from store.views.ledger import ledger
from store.views.values import Asked, JobCard, PhaseLine, StepLine
from tests.end_to_end.pty_terminal import PtyTerminal, program
from tests.tui.cli.made import PIN, Line, run
from tui.now import machine_now

BOOK = Path(__file__).parents[2] / "demo" / "workbook.toml"
FOUNDING = (
    "init", "--name", "Marsh Lane", "--zone", "Europe/Amsterdam", "--currency", "EUR",
    "--shift", "mon-sun 00:00-00:00", "--lift", "1:two-post:4000", "--lift", "2:two-post:4000",
    "--owner", "OWN:Olga", "--rate", "90", "--pin-stdin",
)  # fmt: skip
FILLING = (
    ("people", "add", "FOR", "--name", "Ruth", "--role", "foreman"),
    ("people", "add", "T1", "--name", "Ines", "--role", "technician"),
    ("people", "add", "T2", "--name", "Tomas", "--role", "technician"),
    ("people", "pin", "FOR"), ("people", "pin", "T1"), ("people", "pin", "T2"),
    ("workbook", "load", str(BOOK)), ("lift", "look", "1"), ("lift", "look", "2"),
)  # fmt: skip


@dataclass(slots=True)
class Both:
    """The same shop twice: one by command line, one by keys."""

    command: Line
    keys: Line
    at: PtyTerminal

    def does(self, badge: str, command: Sequence[str], keys: Sequence[str]) -> Any:
        """One act both ways; the second ledger must come to the length of the first."""
        answer = self.command.acts(badge, *command)
        want = self.command.events()
        self.at.keys(*keys)
        self.at.until(lambda: self.keys.events() >= want, f"what {' '.join(command)} records")
        assert self.keys.events() == want, self.at.text
        return answer


def facts(path: Path) -> list[tuple[str, str, str]]:
    """Badge, kind and payload of every event, without what may differ."""
    shop = Shop(path)
    try:
        return [(one.badge, one.kind, plain(one.payload)) for one in ledger(shop)]
    finally:
        shop.close()


def plain(payload: dict[str, Any]) -> str:
    """A payload as text, without instants and without ids made of an entry's key."""
    differs = r'"[a-z]-[0-9a-f]{16,}"|\d{4}-\d\d-\d\dT[\d:.+]+'
    return re.sub(differs, "-", json.dumps(payload, sort_keys=True))


def card_of(line: Line, job: str) -> JobCard:
    shop = Shop(line.path)
    try:
        return job_card(shop, job, machine_now())
    finally:
        shop.close()


@pytest.fixture(name="lines")
def lines_fixture(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> tuple[Line, Line]:
    monkeypatch.delenv("HOISTBOOK_BADGE", raising=False)
    first = Line(tmp_path / "command.shop")
    assert run("--shop", str(first.path), *FOUNDING, stdin=f"{PIN}\n").status == 0
    for act in FILLING:
        first.does(*act, "--as", "OWN", "--pin-stdin")
    second = Line(tmp_path / "keys.shop")
    shutil.copy(first.path, second.path)
    return first, second


def fitting(ask: Asked) -> str:
    """A value inside the limits, out of their words."""
    numbers = re.findall(r"-?\d+(?:\.\d+)?", ask.limits.split(", spread")[0])
    return numbers[0] if numbers else "10"


def test_a_whole_job_by_keys_leaves_the_same_ledger_as_by_command(
    lines: tuple[Line, Line],
) -> None:
    command, keys = lines
    with program(keys.path, "open", "--view", "floor", size=(100, 32)) as at:
        at.wait("Marsh Lane", "nobody signed in")
        both = Both(command, keys, at)
        taken(both)
        worked(both, "1001")
        closed(both, "1001")
        at.keys("Esc", "Esc", "Esc")
        assert at.ended() == 0
    assert facts(command.path) == facts(keys.path)
    for line in lines:
        assert line.run("verify").status == 0


def taken(both: Both) -> None:
    """The foreman takes it to wait, then calls it in, after a look at the lift."""
    both.does(
        "FOR",
        ("take", "--operation", "CL", "--family", "B4-M-F", "--vehicle", "panel van, long"),
        ("F5", "panel van, long", "Enter", "b4-m-f", "Enter", "cl", "Enter", "Enter",
         "FOR", "Enter", PIN, "Enter"),
    )  # fmt: skip
    both.does("FOR", ("lift", "withdraw", "2", "--reason", "lock does not engage"),
              ("2", "o", "1"))  # fmt: skip
    both.does("FOR", ("lift", "return", "2"), ("o",))
    both.does("FOR", ("move", "1001", "--lift", "1"), ("1", "c", "1", "Enter"))
    both.at.keys("Esc")
    both.at.wait("Scan your badge")
    both.at.keys("T1", "Enter")
    both.at.wait("NO CLOCK")


def worked(both: Both, job: str) -> None:
    """Ines works through the route as the work book lays it."""
    done: set[str] = set()
    for nth in range(40):
        card = card_of(both.command, job)
        phase = next((one for one in card.phases if one.state in ("to come", "under way")), None)
        if phase is None:
            assert nth > 5
            return
        assert phase.number not in done
        done.add(phase.number)
        if phase.kind != "labour":
            raise AssertionError(f"{phase.number} {phase.name} takes no labour")
        both.does("T1", ("clock", "on", f"{job}.{phase.number}"), ("1",))
        if nth == 1:
            interrupted(both, job, phase.number)
        for step in phase.steps:
            signed(both, job, phase, step)
        both.does("T1", ("finish", f"{job}.{phase.number}"), ("Enter",))


def interrupted(both: Both, job: str, phase: str) -> None:
    """Called away and back, sweeping, over and back, a slip taken back, held and released."""
    here = f"{job}.{phase}"
    both.does("T1", ("clock", "away"), (".",))
    both.does("T1", ("clock", "back"), (".",))
    both.does("T1", ("clock", "indirect", "tidying"), ("6", "1"))
    both.does("T1", ("undo",), ("0",))
    both.does("T1", ("hold", here, "--reason", "parts"), ("4", "1"))
    both.at.wait("Expected when?")
    both.does("T1", ("hold", here, "--reason", "parts", "--next", "supplier"),
              ("Enter", "1"))  # fmt: skip
    both.does("T1", ("release", here), ("4", "1"))
    both.does("T1", ("clock", "on", here), ("1",))


def signed(both: Both, job: str, phase: PhaseLine, step: StepLine) -> None:
    """One step, whatever it asks."""
    where = f"{job}.{phase.number}.{step.step}"
    if step.kind == "step":
        both.does("T1", ("sign", where), ("3",))
    elif step.kind == "decision":
        code = step.answers[0][0]
        both.does("T1", ("sign", where, "--answer", code), ("3", "1"))
    else:
        hold_point(both, job, phase, step)


def hold_point(both: Both, job: str, phase: PhaseLine, step: StepLine) -> None:
    """Limits, a reading outside them where that can be, readings, names."""
    where = f"{job}.{phase.number}.{step.step}"
    first: list[str] = ["3"]
    for code in dict.fromkeys(one.code for one in step.asks if one.untyped):
        both.does(
            "T1", ("limits", where, code, "--low", "8", "--high", "12", "--source", "data"),
            (*first, "8", "Enter", "12", "Enter", "data", "Enter"),
        )  # fmt: skip
        first = []
    if (phase.number, step.step) == ("2", "1"):
        surprised(both, job, phase, step)
        first = ["3", "1"]
    values = {ask.name: "10" if ask.untyped else fitting(ask) for ask in step.asks}
    given = [f"{name}={value}" for name, value in values.items()]
    by_command = [part for one in given for part in ("--reading", one)]
    by_keys = [part for value in values.values() for part in (value, "Enter")]
    if others_only(step):
        badge = "FOR" if "foreman" in step.who else "T2"
        both.does(badge, ("sign", where, *by_command),
                  (*first, *by_keys, badge, "Enter", PIN, "Enter"))  # fmt: skip
        return
    both.does("T1", ("sign", where, *by_command), (*first, *by_keys))
    if step.signs == 2:
        both.at.wait("a second name")
        both.does("T2", ("sign", where), ("T2", "Enter", PIN, "Enter"))


def others_only(step: StepLine) -> bool:
    """Whether whoever did the work may not sign."""
    return step.signs == 1 and ("foreman" in step.who or "did not do the work" in step.who)


def surprised(both: Both, job: str, phase: PhaseLine, step: StepLine) -> None:
    """A reading outside its limits, reported as a surprise, which the customer approves."""
    here, where = f"{job}.{phase.number}", f"{job}.{phase.number}.{step.step}"
    name = step.asks[0].name
    both.does("T1", ("sign", where, "--reading", f"{name}=9000"), ("3", "9000", "Enter"))
    both.at.wait("report it as a finding")
    text = card_of(both.command, job).holds[0].text or ""
    both.does(
        "T1", ("finding", here, "--kind", "surprise", "--text", text, "--hours", "2"),
        ("1", "1", "Enter", "2", "Enter"),
    )  # fmt: skip
    both.at.wait("waits for the customer's word")
    both.at.keys("Esc")
    both.at.wait("Scan your badge")
    both.at.keys("FOR", "Enter")
    both.at.wait("ANSWER", "Ruth, foreman")
    both.does(
        "FOR", ("supplement", "approve", job, "--means", "telephone"), ("a", "1", PIN, "Enter"),
    )  # fmt: skip
    both.at.wait("what is the customer told?")
    both.at.keys("Esc")
    both.at.wait("u undoes it")
    both.at.keys("F2")
    both.at.wait("NO CLOCK", "Ruth")
    both.at.keys("T1", "Enter")
    both.at.wait("Ines")
    both.does("T1", ("clock", "on", here), ("1",))


def closed(both: Both, job: str) -> None:
    """Moved out to make room, and closed; it is asked once."""
    both.at.keys("Esc")
    both.at.wait("Scan your badge")
    both.at.keys("FOR", "Enter")
    both.at.wait("Ruth, foreman")
    both.at.keys("1", "Enter")
    both.at.wait("how the estimate came to be")
    both.at.keys("x")
    both.at.wait("odometer (Enter: not read)")
    both.at.keys("84200", "Enter")
    both.at.wait("kits counted", "returned to the customer")
    both.at.keys("Enter")
    both.at.wait(f"Enter hand over and close {job}", "keep it open")
    both.does(
        "FOR",
        ("handover", job, "--odometer", "84200", "--old-parts", "returned to the customer",
         "--kits-complete"),
        ("Enter", PIN, "Enter"),
    )  # fmt: skip
    both.at.wait("is handed over and closed")
