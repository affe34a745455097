"""The line for authorized_keys: whatever the path, one shell word stays one word."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from store.trouble import Refused
from tests.tui.cli.made import Line
from tui.cli import ssh

printable = st.text(
    st.characters(codec="utf-8", exclude_categories=["C", "Z"], exclude_characters="/"), min_size=1
)


def unquoted(line: str) -> str:
    """The command as sshd reads it out of the line: backslash before a quote is taken away.

    Source: sshd(8), AUTHORIZED_KEYS FILE FORMAT, `command=`; from memory.
    """
    found = re.fullmatch(r'restrict,pty,command="((?:[^"\\]|\\.)*)"', line)
    assert found, line
    return re.sub(r"\\(.)", r"\1", found[1])


@given(printable)
def test_the_shell_that_sshd_starts_gets_the_path_whole(name: str) -> None:
    path = Path("/srv") / f"a b{name}" / "my.shop"
    words = shlex.split(unquoted(ssh.line("B12", path)))
    assert words[:3] == ["exec", "env", "HOISTBOOK_BADGE=B12"]
    assert words[-5:] == ["--shop", str(path), "open", "--as", "B12"]
    assert Path(words[3]).is_absolute()


@pytest.mark.parametrize("name", ["a\nb", "a\0b", "\u202e"])
def test_a_path_that_would_break_the_line_is_refused(name: str) -> None:
    with pytest.raises(Refused):
        ssh.line("B12", Path("/srv") / name)


def test_the_command_prints_it_for_a_badge_that_is_known(line: Line) -> None:
    ran = line.run("sshline", "t1")
    assert ran.status == 0
    assert ran.out.startswith("restrict,pty,command=")
    assert ran.out.endswith('open --as T1"\n')
    assert str(line.path) in ran.out
    assert line.does("sshline", "T1")["line"] == ran.out.strip()
