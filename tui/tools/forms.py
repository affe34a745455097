"""What each key of the screen does about the line at hand."""

from __future__ import annotations

from collections.abc import Awaitable, Callable, Mapping

from tui.tools.asking import ask
from tui.tools.at_hand import AtHand
from tui.tools.dates_file import write_dates
from tui.tools.going_back import cancel, extend, give, send_back
from tui.tools.letting import let_at_hand
from tui.tools.looking_through import mended, receive
from tui.tools.prices import in_date, rates
from tui.tools.settling import arrived, deposit, invoice
from tui.tools.suppliers import terms

FORMS: Mapping[str, Callable[[AtHand], Awaitable[None]]] = {
    "send-back": send_back, "extend": extend, "ask": ask, "received": receive,
    "dates-file": write_dates, "give-kit": give, "mended": mended, "cancel": cancel,
    "arrived-back": arrived, "deposit": deposit, "invoice": invoice, "terms": terms,
    "rates": rates, "valid": in_date, "let": let_at_hand,
}  # fmt: skip
"""By the id of the key."""
