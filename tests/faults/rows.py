"""All rows of the table of faults, in the order in which they stand in it."""

from __future__ import annotations

from tests.faults import ssh, tampering
from tests.faults.row import Row

ROWS: tuple[Row, ...] = (*ssh.ROWS, *tampering.ROWS)
