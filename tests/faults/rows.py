"""All rows of the table of faults, in the order in which they stand in it."""

from __future__ import annotations

from tests.faults import (
    clocks,
    copying,
    crowd,
    cuts,
    disk_faults,
    guessing,
    kills,
    kills_files,
    kills_more,
    model,
    nights,
    nonsense,
    places,
    rights,
    ssh,
    tampering,
    zones,
)
from tests.faults.row import Row

ROWS: tuple[Row, ...] = (
    *crowd.ROWS,
    *cuts.ROWS,
    *kills.ROWS,
    *kills_files.ROWS,
    *kills_more.ROWS,
    *disk_faults.ROWS,
    *places.ROWS,
    *rights.ROWS,
    *clocks.ROWS,
    *nights.ROWS,
    *zones.ROWS,
    *ssh.ROWS,
    *tampering.ROWS,
    *copying.ROWS,
    *guessing.ROWS,
    *model.ROWS,
    *nonsense.ROWS,
)
