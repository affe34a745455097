"""A foreman's morning by commands alone, at the hour at which it is walked by keys.

Every command runs in this process at twenty to eight, but for two that are typed at one moment at
two terminals. What the list of needs names is done by the command that stands beside it.
"""

from __future__ import annotations

import json
import os
import shlex
import subprocess
from pathlib import Path
from typing import Any

import pytest

from tests.end_to_end.foremans_shop import NOW, made
from tests.end_to_end.shell import PROGRAM, TOP, environment
from tests.tui.cli.made import Line
from tests.tui.shops import PIN
from tui import now

FOREMAN, OTHER, FITTER = "F01", "F02", "B12"
STILL = {
    "HOISTBOOK_TEST_NOW": NOW.isoformat(),
    "PYTHONPATH": os.pathsep.join((str(Path(__file__).parent / "still"), str(TOP))),
}
AFTERNOON = (
    ("14:40", "move 1002 --lift 5"), ("14:41", "clock on 1002.1"), ("14:55", "finish 1002.1"),
    ("14:56", "clock on 1002.2"), ("15:10", "sign 1002.2.6 --answer pass"),
    ("15:11", "finish 1002.2"), ("15:12", "clock on 1002.3"),
    ("15:20", "sign 1002.3.1 --reading 1500"), ("15:21", "sign 1002.3.2 --reading 12"),
    ("16:10", "sign 1002.3.7"), ("16:20", "clock off"),
)  # fmt: skip
"""What Ines did on the day before, when her other job was held: one name of two is still owed."""


@pytest.fixture(name="ruth")
def ruth_fixture(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Line:
    """The foreman's shop of that morning; a kit goes back today, a lift waits for a name."""
    shop = made(tmp_path / "commands.shop")
    shop.close()
    monkeypatch.setattr(now, "machine_now", lambda: NOW)
    line = Line(shop.path)
    for at, words in AFTERNOON:
        line.acts(FITTER, *shlex.split(words), "--at", f"2026-10-14T{at}")
    asked = ("--job", "1002", "--supplier", "Rietland tool hire", "--due", "2026-10-15")
    line.acts(FOREMAN, "hire", "ask", "link", *asked, "--at", "2026-10-14T08:10")
    line.acts(FITTER, "hire", "receive", "link", "--at", "2026-10-14T08:12")
    learn(line)
    return line


def learn(line: Line) -> None:
    """What a learner does beside the work."""
    assert line.run("learned", "--keep-up").status == 0


def text(line: Line, *words: str) -> str:
    """What a command says, its lines unfolded."""
    ran = line.run(*words)
    assert (ran.status, ran.err) == (0, ""), ran
    return " ".join(ran.out.split())


def need(line: Line, what: str, job: str | None = None) -> Any:
    """The line of the list of that kind."""
    listed = line.does("needs")["needs"]
    return next(one for one in listed if (one["what"], one["job"]) == (what, job))


def done_as_printed(line: Line, one: Any, **filled: str) -> Any:
    """Do what the list prints beside a line, capitals filled in; it is gone then."""
    words = [filled.get(word, word) for word in shlex.split(one["command"])[1:]]
    done = line.does(*words, "--pin-stdin")
    assert one["act"] not in {each["act"] for each in line.does("needs")["needs"]}
    return done


def test_a_foremans_morning_by_commands(ruth: Line) -> None:
    looks(ruth)
    opens_the_worst(ruth)
    is_answered(ruth)
    a_lock_that_does_not_engage(ruth)
    brings_the_next_in(ruth)
    corrects_a_clock(ruth)
    two_at_once(ruth)
    assert ruth.does("verify")["ok"]


def looks(ruth: Line) -> None:
    """Late, held, waiting for a name, due back today, breaking, free next, what helps most."""
    floor, seen = ruth.does("floor"), text(ruth, "floor")
    assert [one["job"]["number"] for one in floor["lanes"] if one["job"]] == [
        "1001",
        "1004",
        "1002",
    ]
    assert "phase held: approval, stud broken; PROMISE AT RISK; OVER; ANSWER" in seen
    assert "SIGN lift 5 1002.3.7 Second support under the unit" in seen
    assert "inspection of lift 4 was due Wed 7 Oct" in seen
    assert "Tomas: left running on 1004.1" in seen
    assert "lift 3 free scissor 3.0 t" in seen
    outs = [one["job"]["finish"]["middle"] for one in floor["lanes"] if one["job"]]
    assert len(outs) == 3
    worst = min(
        (one["job"] for one in floor["lanes"] if one["job"]), key=lambda job: job["promise_chance"]
    )
    assert worst["promise_chance"] < 0.15
    back = need(ruth, "kit back", "1002")
    assert back["due"]
    assert back["by"].startswith("2026-10-15")
    most = ruth.does("helps")["helps"][0]
    assert (most["need"]["what"], most["need"]["job"]) == ("answer", "1001")
    assert most["lift_hours"] > 2
    assert "lift 1 out" in text(ruth, "helps")
    done_as_printed(ruth, back, N="7")
    done_as_printed(ruth, need(ruth, "sign", "1002"))
    assert "SIGN lift 5" not in text(ruth, "floor")


def opens_the_worst(ruth: Line) -> None:
    """By which phase it is late, whose, since when, and what was agreed."""
    chain = text(ruth, "why", "1001")
    assert "promised Fri 07:42, will break" in chain
    assert "+- ANSWER the customer's word on stud broken, +2.0 h" in chain
    card = text(ruth, "job", "1001")
    assert "HELD 1001.1: approval (stud broken), customer moves next" in card
    assert "asked Wed 14:32 by Ines; waits for the word" in card
    assert "fixed price 891" in card
    assert "promised Wed 07:42 Olga: Fri 07:42" in card


def is_answered(ruth: Line) -> None:
    """The customer says yes: the phase goes on, and a day is told that holds 8 times in 10."""
    held = ruth.refused("clock", "on", "1001.1", "--as", FITTER, "--pin-stdin")
    assert "1001.1" in held
    said = done_as_printed(ruth, need(ruth, "answer", "1001"))["says"]
    assert said == "1001: approved: stud broken. 1001.1 can go on."
    learn(ruth)
    ruth.acts(FITTER, "clock", "on", "1001.1")
    ruth.acts(FOREMAN, "promise", "1001", "--chance", "0.8")
    card = ruth.does("job", "1001")
    assert card["phases"][0]["people"] == [FITTER]
    assert 0.7 < card["promise_chance"] < 0.95


def a_lock_that_does_not_engage(ruth: Line) -> None:
    """Out with its reason, the job moved; too weak is refused with both figures."""
    out = ruth.acts(FOREMAN, "lift", "withdraw", "2", "--reason", "lock does not engage")
    assert "1004 stands on it: move it" in out["says"]
    weak = ruth.refused("move", "1004", "--lift", "3", "--as", FOREMAN, "--pin-stdin")
    assert "3,400 kg" in weak
    assert "3,000 kg" in weak
    moved = ruth.acts(FOREMAN, "move", "1004", "--lift", "4")["says"]
    assert "Inspection was due 7 Oct 2026, lift 4" in moved
    lanes = {one["lift"]: one for one in ruth.does("floor")["lanes"]}
    assert (lanes["2"]["in_service"], lanes["4"]["job"]["number"]) == (False, "1004")


def brings_the_next_in(ruth: Line) -> None:
    """Kit and parts of the first that waits lack; the next is ready, and what it does is seen."""
    assert "lacks parts 4 of 4, not ordered; kit: hydraulic injector puller" in text(
        ruth, "ready", "1003"
    )
    assert "1 wanted seat washers for 8" in text(ruth, "parts", "1003")
    ruth.acts(FITTER, "parts", "here", "1005", "1", "2", "3", "4", "5")
    assert text(ruth, "ready", "1005").endswith("ready")
    learn(ruth)
    comes = need(ruth, "bring in", "1005")
    found = ruth.does("helps", "--all")["helps"]
    place = next(one["place"] for one in found if one["need"]["act"] == comes["act"])
    before = ruth.events()
    tried = ruth.does("helps", "--all", "--try", str(place))
    now_and_then = [
        {one["lift"]: one["job"] and one["job"]["number"] for one in tried[when]["lanes"]}
        for when in ("before", "after")
    ]
    assert [each["3"] for each in now_and_then] == [None, "1005"]
    assert {one["number"] for one in tried["after"]["waiting"]} == {"1003"}
    assert (tried["written"], ruth.events()) == (False, before)
    done_as_printed(ruth, comes)
    ruth.acts("B14", "clock", "on", "1005.1")
    assert ruth.does("floor")["lanes"][2]["job"]["number"] == "1005"


def corrects_a_clock(ruth: Line) -> None:
    """It ends with the shift; who said so and why is kept, and so is what was there before."""
    one = need(ruth, "clock", "1004")
    assert "2026-10-14T16:30:00+02:00" in one["command"]
    done_as_printed(ruth, one, **{"left running": "ill today"})
    lines = ruth.run("ledger", "--job", "1004", "--json").out.splitlines()
    entries = [json.loads(each) for each in lines]
    last = entries[-1]
    assert (last["badge"], last["payload"]["why"]) == (FOREMAN, "ill today")
    assert [each["badge"] for each in entries if each["kind"] == "clocked-on"] == ["B13"]
    assert "left running" not in text(ruth, "day", "B13", "--date", "2026-10-14")


def two_at_once(ruth: Line) -> None:
    """Two foremen at two terminals: it is done once, and the other is told so."""
    ruth.acts(FOREMAN, "lift", "return", "2")
    before = ruth.events()
    words = [*PROGRAM, "--shop", str(ruth.path), "move", "1003", "--lift", "2", "--pin-stdin"]
    both = [
        subprocess.Popen(
            [*words, "--as", badge], stdin=subprocess.PIPE, stdout=subprocess.PIPE,
            stderr=subprocess.PIPE, env=environment(**STILL), cwd=TOP, text=True,
        )
        for badge in (FOREMAN, OTHER)
    ]  # fmt: skip
    ends = [(*each.communicate(f"{PIN}\n", timeout=120), each.returncode) for each in both]
    (refused,) = [err for _, err, status in ends if status == 1]
    assert "1003 is on lift 2 already." in refused
    assert sum("1003 is on lift 2." in out for out, _, status in ends if status == 0) == 1
    assert ruth.events() == before + 1
