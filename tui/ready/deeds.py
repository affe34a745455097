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


def ask_kit(
    kit: str, supplier: str, job: str, expected: datetime | None, due: datetime | None
) -> Deed:
    """Say that a kit was asked for."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import hires

        return hires.ask(shop, by, kit=kit, supplier=supplier, job=job, expected=expected, due=due)

    return do


def receive_kit(hire: str, note: str | None, due: datetime | None) -> Deed:
    """Say that a kit is here; a note says what lacks."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import hires

        return hires.receive(shop, by, hire=hire, complete=note is None, note=note, due=due)

    return do


def extend_kit(hire: str, due: datetime) -> Deed:
    """Keep a kit until another day."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import hires

        return hires.extend(shop, by, hire=hire, due=due)

    return do


def send_kit_back(hire: str, pieces: int | None, note: str | None) -> Deed:
    """Say that a kit was handed to the carrier; a note says what lacks."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import hires

        return hires.send_back(shop, by, hire=hire, complete=note is None, pieces=pieces, note=note)

    return do


def cancel_kit(hire: str) -> Deed:
    """A kit that was asked for is not wanted any more."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import hires

        return hires.cancel(shop, by, hire=hire)

    return do
