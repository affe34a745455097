"""From what helps to the act and on, by commands of the real program."""

from __future__ import annotations

import shlex
from pathlib import Path

from tests.end_to_end.shell import Shell
from tests.store.made_acts import idle_shop


def test_the_command_printed_beside_a_need_does_it(tmp_path: Path) -> None:
    world = idle_shop(tmp_path)
    world.shop.close()
    shell = Shell(world.shop.path)
    assert shell.run("learned", "--keep-up").returncode == 0
    before = shell.does("needs")["needs"]
    helped = shell.does("helps")
    assert helped["seq"] is not None
    first = helped["helps"][0]
    tried = shell.run("helps", "--try", "1")
    assert "Nothing is written" in tried.stdout
    assert first["need"]["act"] in {one["act"] for one in before}
    words = shlex.split(first["need"]["command"])
    assert words[0] == "hoistbook"
    shell.does(*words[1:], pin=True)
    left = {one["act"] for one in shell.does("needs")["needs"]}
    assert first["need"]["act"] not in left
    shell.refused(*words[1:], "--pin-stdin", stdin="2468\n")
    assert first["need"]["act"] not in {one["need"]["act"] for one in shell.does("helps")["helps"]}
    assert " +- " in shell.run("why").stdout
    assert shell.does("verify")["ok"]
