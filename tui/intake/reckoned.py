"""A question about work, and its answer in parts: what goes through the pipe and comes back."""

from __future__ import annotations

import pickle
import struct
from dataclasses import dataclass
from datetime import datetime
from typing import TYPE_CHECKING

from store.trouble import Trouble

if TYPE_CHECKING:
    from store.actions.agreeing import WorkedOut
    from store.file.shop import Shop
    from store.views.estimate import Depth, Estimate

LENGTH = struct.Struct("<Q")
"""Stands before every value in the pipe: its length in bytes."""


@dataclass(frozen=True, slots=True)
class Question:
    """What is asked: work on a vehicle, at a moment."""

    operations: tuple[str, ...]
    family: str
    options: tuple[tuple[str, str], ...]
    grade: int
    now: datetime

    def same_work(self, other: Question | None) -> bool:
        """Whether only the moment differs."""
        return other is not None and (
            (self.operations, self.family, self.options, self.grade)
            == (other.operations, other.family, other.options, other.grade)
        )


@dataclass(frozen=True, slots=True)
class Reckoned:
    """An answer, or a part of one.

    Attributes:
        question: what it answers.
        found: None where it was refused.
        frozen: the hours as a job would be taken with them, packed.
    """

    question: Question
    depth: Depth
    found: Estimate | None
    wrong: str = ""
    frozen: bytes = b""

    def told(self) -> WorkedOut | None:
        """The hours to be frozen; None where there are none. It loads the work book's rules."""
        return pickle.loads(self.frozen) if self.frozen else None


def reckon(shop: Shop, question: Question, depth: Depth) -> Reckoned:
    """Work one part of an answer out."""
    from store.views.estimate import estimate  # brings models that no first paint may wait for

    try:
        found = estimate(
            shop, question.now, operations=question.operations, family=question.family,
            options=dict(question.options), grade=question.grade, depth=depth,
        )  # fmt: skip
    except Trouble as trouble:
        return Reckoned(question, depth, None, str(trouble))
    return Reckoned(question, depth, found, frozen=_frozen(shop, question, depth))


def _frozen(shop: Shop, question: Question, depth: Depth) -> bytes:
    if depth != "whole":
        return b""
    from store.actions.agreeing import worked_out

    hours = worked_out(
        shop, question.now, operations=question.operations, family=question.family,
        options=dict(question.options), grade=question.grade,
    )  # fmt: skip
    return pickle.dumps(hours)


def packed(value: object) -> bytes:
    """A value with its length before it, as it goes through the pipe."""
    body = pickle.dumps(value)
    return LENGTH.pack(len(body)) + body
