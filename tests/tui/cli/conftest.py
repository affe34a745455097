"""What the tests of the command line share."""

from __future__ import annotations

from tests.tui.cli.made import line_fixture

__all__ = ["line_fixture"]
