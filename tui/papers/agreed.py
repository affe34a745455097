"""What was agreed, in rows: the same on the estimate sheet and on the record."""

from __future__ import annotations

from collections.abc import Iterator
from datetime import tzinfo

from store.views.record.values import Agreed
from tui.papers.said import BASES, amount, at, given


def agreed_rows(
    one: Agreed, currency: str, zone: tzinfo, *, unsaid: str = "", estimated: bool = False
) -> Iterator[tuple[str, str]]:
    """Who gave the word and on which terms.

    Args:
        unsaid: stands where nobody is named; "" says nothing.
        estimated: with the money that was estimated for labour, where it is known.
    """
    who = given(one.by, one.means) or unsaid
    what = "The check only" if one.check else "Agreed"
    yield what, f"{at(one.at, zone)}{f', {who}' if who else ''}"
    price = BASES[one.basis]
    if one.ceiling is not None:
        price += f", at most {amount(one.ceiling, currency)}"
    if estimated and one.money is not None:
        price += f"; estimated {amount(one.money, currency)} for labour"
    yield "Price", price
    if one.free_hand:
        yield "Without asking", f"extra work up to {amount(one.free_hand, currency)}"
    if one.left_out:
        yield "Not taken", "; ".join(one.left_out)
    for about, answer, money in one.ahead:
        limit = f", up to {amount(money, currency)}" if money is not None else ""
        yield "Answered in advance", f"{about}: {answer}{limit}"
