"""What one line did and what the glass said of it, held against the ledger."""

from __future__ import annotations

import json
from dataclasses import dataclass, field
from datetime import datetime

from store.views.ledger import Entry
from tests.faults.ssh_acts import Act
from tui.now import machine_now


@dataclass(slots=True)
class Session:
    """What one line did.

    Attributes:
        since: the newest entry when it began.
        done: acts that the glass acknowledged, each with its instant.
        begun: whose keys were typed, and which the glass had not acknowledged.
    """

    since: int
    done: list[tuple[Act, datetime]] = field(default_factory=list[tuple[Act, datetime]])
    begun: Act | None = None

    @property
    def at_stake(self) -> bool:
        """Whether a drop could lose something."""
        return bool(self.done) or self.begun is not None

    def took(self, act: Act) -> None:
        """The glass acknowledged it."""
        self.done.append((act, machine_now()))
        self.begun = None

    def differs(self, found: list[Entry]) -> str:
        """What of the ledger since is not what the glass said; "" where it is.

        Every acknowledged act is there once and whole; the one cut short whole or not at all.
        """
        kinds = [one.kind for one in found]
        wanted = [kind for act, _ in self.done for kind in act.kinds]
        cut_short = list(self.begun.kinds) if self.begun is not None else []
        if kinds not in (wanted, wanted + cut_short):
            return f"the glass said: {', '.join(act.says for act, _ in self.done)}; kept: {kinds}"
        if not all(_holds(found, act, at) for act, at in self.done):
            return "an act was acknowledged and something else was kept"
        return ""


def _holds(found: list[Entry], act: Act, at: datetime) -> bool:
    """Whether what was said is what is kept, and was kept before it was said."""
    kept = [one for one in found if not act.word or act.word in json.dumps(one.payload)]
    return any(one.kind == act.kinds[0] and one.recorded_at <= at for one in kept)
