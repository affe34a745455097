"""Where one is in the program."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True)
class Where:
    """A screen, and the job or the kit it is about."""

    screen: Literal[
        "sign in", "bay", "floor", "desk", "job", "intake", "follow-ups", "tools", "month", "back"
    ]
    job: str = ""
    kit: str = ""


SIGN_IN, BAY, FLOOR = Where("sign in"), Where("bay"), Where("floor")
DESK, INTAKE, FOLLOW = Where("desk"), Where("intake"), Where("follow-ups")
TOOLS, MONTH = Where("tools"), Where("month")
BACK = Where("back")
"""To wherever one came from."""


class Elsewhere(Exception):
    """A key that leaves whatever is open for another screen."""

    def __init__(self, where: Where) -> None:
        self.where = where
        super().__init__(where.screen)


def home(role: str) -> Where:
    """Where somebody begins: technicians at their bay, others at the floor."""
    return BAY if role == "technician" else FLOOR
