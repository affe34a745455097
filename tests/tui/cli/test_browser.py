"""`browser`: what it refuses before anything is served."""

from __future__ import annotations

import socket
import sys

import pytest

from tests.tui.cli.made import Line

WRONG: dict[tuple[str, ...], str] = {
    ("--port", "0"): "--port is 1 to 65535",
    ("--port", "65536"): "--port is 1 to 65535",
    ("--host", "0.0.0.0"): "--address https://",
    ("--address", "floor.example"): "https://floor.example",
}


@pytest.mark.parametrize("words", WRONG, ids=" ".join)
def test_what_cannot_be_is_refused(line: Line, words: tuple[str, ...]) -> None:
    assert WRONG[words] in line.refused("browser", *words)


def test_without_the_extra_package_it_says_which(
    line: Line, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setitem(sys.modules, "tui.browser.server", None)
    assert 'pip install "hoistbook[browser]"' in line.refused("browser")


def test_a_port_that_is_taken_is_said(line: Line) -> None:
    with socket.socket() as other:
        other.bind(("127.0.0.1", 0))
        other.listen()
        port = other.getsockname()[1]
        ran = line.run("browser", "--port", str(port))
    assert ran.status == 1
    assert f"Port {port} cannot be had" in ran.err
    assert "try --port" in ran.err
