"""What keys mean to do with parts and kits, ready to be done by whoever proves to be there."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import TYPE_CHECKING

from store.file.shop import By, Shop
from store.rules.part_states import PartState
from tui.deeds import Deed

if TYPE_CHECKING:
    from store.actions.acting import Done


def list_part(job: str, text: str, phase: str | None) -> Deed:
    """List a part that a job needs."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import parts

        return parts.list_parts(shop, by, job=job, texts=[text], phase=phase)

    return do


def move_parts(
    job: str,
    lines: Sequence[int],
    state: PartState,
    *,
    expected: datetime | None = None,
    supplier: str | None = None,
    batch: str | None = None,
    note: str | None = None,
) -> Deed:
    """Say what became of parts."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import parts

        return parts.move_parts(
            shop, by, job=job, lines=lines, state=state, expected=expected, supplier=supplier,
            batch=batch, note=note,
        )  # fmt: skip

    return do
