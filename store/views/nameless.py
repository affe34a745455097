"""A job's card for a reader who may not see the names of people outside the shop."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from store.file.privates import THE_CUSTOMER

if TYPE_CHECKING:
    from store.views.desk.values import JobDesk
    from store.views.outside_values import AdviceLine
    from store.views.values import FindingLine, JobCard, SupplementLine

SOMEBODY = "somebody for the customer"
"""Who gave a word, for a reader who may not see names."""


def hidden(by: str | None) -> str | None:
    """Who gave a word, without a name: the customer is none."""
    return by if by in (None, THE_CUSTOMER) else SOMEBODY


def answered_words(state: str, by: str | None, means: str | None) -> str:
    """`approved by the customer, telephone`"""
    how = ", ".join(filter(None, (by, means)))
    return f"{state}{f' by {how}' if how else ''}"


def nameless(card: JobCard) -> JobCard:
    """The card with every name and number of people outside the shop taken away."""
    asked = tuple(replace(one, answered_by=hidden(one.answered_by)) for one in card.supplements)
    return replace(
        card, supplements=asked, advice=nameless_advice(card.advice), desk=_desk(card.desk),
        findings=tuple(_finding(one, {each.line: each for each in asked}) for one in card.findings),
    )  # fmt: skip


def nameless_advice(lines: tuple[AdviceLine, ...]) -> tuple[AdviceLine, ...]:
    """Advice, without the names of those who answered it."""
    return tuple(replace(one, by=hidden(one.by)) for one in lines)


def _finding(line: FindingLine, asked: dict[int, SupplementLine]) -> FindingLine:
    of = None if line.line is None else asked.get(line.line)
    if of is None or not line.became.startswith(("approved", "refused")):
        return line
    return replace(line, became=answered_words(of.state, of.answered_by, of.means))


def _desk(desk: JobDesk) -> JobDesk:
    word = desk.agreement
    agreed = None if word is None else replace(word, by=hidden(word.by))
    return replace(desk, customer=None, telephone=None, agreement=agreed)
