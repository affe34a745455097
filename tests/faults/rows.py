"""All rows of the table of faults, in the order in which they stand in it."""

from __future__ import annotations

from tests.faults import crowd, cuts, kills, kills_files, kills_more, ssh, tampering
from tests.faults.row import Row

ROWS: tuple[Row, ...] = (
    *crowd.ROWS,
    *cuts.ROWS,
    *kills.ROWS,
    *kills_files.ROWS,
    *kills_more.ROWS,
    *ssh.ROWS,
    *tampering.ROWS,
)
