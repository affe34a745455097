"""From the first call to the waiting line by commands alone, each act a process of its own."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path

import pytest

from tests.end_to_end.shell import PIN, Shell, founded

SECRETS = ("Zweifelhaft", "5554321", "Ottokar")


@pytest.fixture(name="shell")
def shell_fixture(tmp_path: Path) -> Shell:
    return founded(tmp_path)


def leads(shell: Shell, *argv: str) -> str:
    """What the foreman does must be refused in one line; return it."""
    return shell.refused(*argv, "--as", "F1", "--pin-stdin", stdin=f"{PIN}\n")


def test_a_call_becomes_a_job_that_waits_for_a_lift(shell: Shell) -> None:
    asked = shell.run(
        "enquiry", "--vehicle", "grey estate", "--complaint", "water under it", "--as", "B12"
    )
    assert (asked.returncode, asked.stdout) == (0, "1001\n")
    shell.does("work", "1001", "--operation", "CP", "--family", "B4-M-F", "--as", "B12")
    told = shell.does("quote", "1001", "--rough", "--means", "telephone", "--as", "F1", pin=True)
    assert "told roughly" in told["says"]
    known = shell.run(
        "customer", "1001", "--customer-stdin", "--pin-stdin", "--as", "F1",
        stdin=f"{PIN}\nQuirina Zweifelhaft\n0676 5554321\n",
    )  # fmt: skip
    assert (known.returncode, known.stderr) == (0, "")
    assert "Zweifelhaft" not in known.stdout

    tomorrow = date.today() + timedelta(days=1)  # noqa: DTZ011  # the shop is open every day
    assert "past" in shell.refused("book", "1001", "2020-01-06", "--as", "B12")
    shell.does("book", "1001", tomorrow.isoformat(), "--note", "spare key", "--as", "B12")
    row = shell.does("desk")["rows"][0]
    assert (row["state"], row["arrives"], row["customer"]) == (
        "booked", tomorrow.isoformat(), "Quirina Zweifelhaft",
    )  # fmt: skip
    assert shell.does("desk", "--as", "B12")["rows"][0]["customer"] is None

    assert "17 signs" in shell.refused("arrive", "1001", "--vin", "123", "--as", "B12")
    here = shell.does(
        "arrive", "1001", "--odometer", "98000", "--unit", "km", "--grade", "3", "--vin", "1" * 17,
        "--plate", "ab-12", "--as", "B12",
    )  # fmt: skip
    assert "First the check: 1001.1" in here["says"]
    assert "here already" in shell.refused("arrive", "1001", "--as", "B12")
    assert "1001" in shell.refused("arrive", "--vehicle", "AB-12", "--as", "B12")
    assert "customer" in shell.refused("note", "1001", "Zweifelhaft wants it soon", "--as", "B12")

    assert "1001.2" in leads(shell, "qualify", "1001", "--result", "pass")
    for line in ("clock on 1001.1", "finish 1001.1", "clock on 1001.2"):
        shell.does(*line.split(), "--as", "B12")
    shell.does("sign", "1001.2.1", "--answer", "pass", "--as", "B12")
    done = shell.does("finish", "1001.2", "--as", "B12")
    assert "hoistbook qualify 1001" in done["says"]
    shell.does("qualify", "1001", "--result", "pass with conditions", "--text", "hoses old",
               "--as", "F1", pin=True)  # fmt: skip

    quoted = shell.does(
        "quote", "1001", "--basis", "ceiling", "--ceiling", "900", "--means", "telephone",
        "--until", (tomorrow + timedelta(days=20)).isoformat(), "--as", "F1", pin=True,
    )  # fmt: skip
    assert "quote 2" in quoted["says"]
    terms = ("--basis", "ceiling", "--ceiling", "900", "--means", "telephone")
    assert "who agreed" in leads(shell, "agree", "1001", *terms)
    shell.does(
        "agree", "1001", *terms, "--by", "Ottokar the son", "--ahead", "bolt breaks=go on=80",
        "--free", "100", "--as", "F1", pin=True,
    )  # fmt: skip

    card = shell.does("job", "1001")
    assert (card["state"], card["price_basis"]) == ("waiting", "ceiling")
    assert [one["number"] for one in card["phases"]] == ["1", "2", "3", "4", "5", "6", "7"]
    assert [one["state"] for one in card["phases"]][:3] == ["finished", "finished", "to come"]
    desk = card["desk"]
    assert (desk["agreement"]["by"], desk["agreement"]["means"]) == ("Ottokar the son", "telephone")
    assert desk["agreement"]["ahead"] == [{"about": "bolt breaks", "answer": "go on", "money": 80}]
    assert [one["state"] for one in desk["quotes"]] == ["followed", "agreed"]
    assert [one["number"] for one in shell.does("floor")["waiting"]] == ["1001"]
    found = shell.does("vehicle", "ab-12")
    assert (found["vin"], found["odometers"][0]["value"]) == ("1" * 17, 98000)
    text = shell.run("ledger", "--json").stdout
    assert not [one for one in SECRETS if one in text]
    assert shell.does("verify")["ok"]


def test_what_fails_its_check_goes_back_and_its_customer_is_erased(
    shell: Shell, tmp_path: Path
) -> None:
    here = shell.does(
        "arrive", "--vehicle", "old van", "--operation", "CP", "--family", "B4-M-F", "--name",
        "Quirina Zweifelhaft", "--telephone", "0676 5554321", "--as", "B12",
    )  # fmt: skip
    job = here["job"]
    for line in (f"clock on {job}.1", f"finish {job}.1", f"clock on {job}.2"):
        shell.does(*line.split(), "--as", "B12")
    failed = shell.does("qualify", job, "--result", "fail", "--text", "head gasket gone", "--as",
                        "F1", pin=True)  # fmt: skip
    assert "Spent so far" in failed["says"]
    assert "failed its check" in leads(
        shell, "agree", job, "--basis", "time", "--by", "customer", "--means", "telephone"
    )
    assert "clock of Ines" in leads(shell, "turn-away", job, "--why", "gasket")
    shell.does("clock", "off", "--as", "B12")
    assert job in leads(shell, "erase", "--job", job)
    shell.does("decline", job, "--why", "not worth it", "--by", "Ottokar", "--means", "telephone",
               "--as", "F1", pin=True)  # fmt: skip
    gone = shell.does("desk")["gone"][0]
    assert (gone["number"], gone["why"], gone["check"]["result"]) == (job, "not worth it", "fail")
    shell.does("erase", "--job", job, "--as", "F1", pin=True)
    backup = shell.run("backup", str(tmp_path / "fresh"))
    assert (backup.returncode, backup.stderr) == (0, "")
    for path in (shell.shop, shell.shop.with_name("e.shop-wal"), tmp_path / "fresh"):
        content = path.read_bytes() if path.exists() else b""
        assert not [one for one in SECRETS if one.encode() in content], path
    assert shell.does("verify")["ok"]


def test_a_vehicle_comes_back_on_the_shop(shell: Shell) -> None:
    shell.does("small", "--text", "bulb", "--vehicle", "grey car", "--as", "B12")
    for line in ("clock on 1001.1", "finish 1001.1", "close 1001"):
        shell.does(*line.split(), "--as", "B12")
    again = shell.does("arrive", "--vehicle", "grey car", "--complaint", "dark", "--as", "B12")
    assert "itself" in leads(shell, "comeback", again["job"], "--of", again["job"], "--cause", "x")
    linked = shell.does(
        "comeback", again["job"], "--of", "1001.1", "--cause", "socket burnt", "--fault", "ours",
        "--pays", "shop", "--as", "F1", pin=True,
    )  # fmt: skip
    assert linked["says"].startswith(f"{again['job']} comes back from 1001.1")
    card = shell.does("job", "1001")
    assert [one["job"] for one in card["desk"]["comebacks"]] == [again["job"]]
    assert shell.does("quotes")["quoted"] == 0
    assert shell.does("verify")["ok"]
