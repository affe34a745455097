"""What is done about lifts; the actions are imported where they run."""

from __future__ import annotations

from datetime import date
from typing import TYPE_CHECKING

from store.file.shop import By, Shop
from tui.deeds import Deed

if TYPE_CHECKING:
    from store.actions.acting import Done


def look_over(lift: str) -> Deed:
    """Write the daily look-over of a lift down."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import places

        return places.look_over(shop, by, code=lift)

    return do


def inspect(lift: str, day: date, months: int, source: str, inspector: str) -> Deed:
    """Write the inspection of a lift by a competent person down."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import places

        return places.inspect_lift(
            shop, by, code=lift, day=day, months=months, source=source, inspector=inspector
        )

    return do


def clear_lift(lift: str, place: str | None) -> Deed:
    """Move what cannot go on away from a lift."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions.clearing import clear

        return clear(shop, by, lift=lift, place=place)

    return do
