"""What keys mean to do to lists of work; the actions are imported where they run."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, NamedTuple

from store.file.shop import By, Shop
from tui.deeds import Deed

if TYPE_CHECKING:
    from store.actions.acting import Done


class Which(NamedTuple):
    """Work as somebody sees it who decides about it.

    Attributes:
        phase: its number; None is the whole job.
        seen: badges of who had it when they looked; None where that is of no matter.
    """

    job: str
    phase: str | None
    name: str
    seen: tuple[str, ...] | None

    @property
    def where(self) -> str:
        """`2417.4`, or `2417`."""
        return self.job if self.phase is None else f"{self.job}.{self.phase}"


def assign(
    which: Which, badge: str, *, at_front: bool = False, too: bool = False, heard: bool = False
) -> Deed:
    """Put work on somebody's list.

    Args:
        heard: whoever decides was told what speaks against it.
    """

    def do(shop: Shop, by: By) -> Done:
        from store.actions import assigning

        return assigning.assign(
            shop, by, job=which.job, phase=which.phase, badge=badge, at_front=at_front, too=too,
            all_the_same=heard, seen=which.seen,
        )  # fmt: skip

    return do


def unassign(which: Which, badge: str | None = None) -> Deed:
    """Take work off somebody's list, or off everybody's."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import assigning

        return assigning.unassign(
            shop, by, job=which.job, phase=which.phase, badge=badge, seen=which.seen
        )

    return do


def reorder(badge: str, works: Sequence[tuple[str, str | None]]) -> Deed:
    """Put somebody's list in order."""

    def do(shop: Shop, by: By) -> Done:
        from store.actions import assigning

        return assigning.reorder(shop, by, badge=badge, works=works)

    return do
