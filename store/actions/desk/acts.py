"""The desk: from the first call to the customer's word. Every act of it by one name.

A job goes from `enquiry` over `booked`, `arrived` and `quoted` to `waiting`, or ends as `declined`
or `turned-away`; steps may be left out. Its first phases are the qualifying check, laid as soon as
the vehicle is here and the work is chosen; the rest of the route follows with the customer's word.
"""

from __future__ import annotations

from store.actions.agreeing import Basis
from store.actions.comebacks import come_back
from store.actions.customers import Caller, customer_id, erase_customer, know_customer
from store.actions.desk.agree import agree_job as agree
from store.actions.desk.arrival import arrive
from store.actions.desk.booking import book
from store.actions.desk.check import judge_check
from store.actions.desk.opening import enquire
from store.actions.desk.quote import quote
from store.actions.desk.vehicle import Identity, identify
from store.actions.desk.word import decline, turn_away
from store.actions.desk.work import choose_work
from store.actions.quote_ways import Way
from store.edges.events.route import AnsweredAhead

__all__ = [
    "AnsweredAhead", "Basis", "Caller", "Identity", "Way", "agree", "arrive", "book", "choose_work",
    "come_back", "customer_id", "decline", "enquire", "erase_customer", "identify", "judge_check",
    "know_customer", "quote", "turn_away",
]  # fmt: skip
