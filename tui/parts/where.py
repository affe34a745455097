"""Where one is in the program."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True)
class Where:
    """A screen, and the job it is about."""

    screen: Literal["sign in", "bay", "floor", "job"]
    job: str = ""


SIGN_IN, BAY, FLOOR = Where("sign in"), Where("bay"), Where("floor")


def home(role: str) -> Where:
    """Where somebody begins: technicians at their bay, others at the floor."""
    return BAY if role == "technician" else FLOOR
