"""An owner's month looks back some years, however old the file is."""

from __future__ import annotations

from datetime import timedelta

from demo.making import OPENS_AT
from store.file.month.facts import LOOKS_BACK, facts
from store.file.shop import Shop


def test_what_lies_further_back_is_not_read(demo_shop: Shop) -> None:
    with demo_shop.reading() as db:
        all_of_it = facts(db, OPENS_AT, OPENS_AT)
        later = OPENS_AT + timedelta(days=366 * LOOKS_BACK - 300)
        some = facts(db, later, later)
        none = facts(db, later + timedelta(days=366), later + timedelta(days=366))
        again = facts(db, OPENS_AT, OPENS_AT)
    assert len(all_of_it.jobs) > 500
    assert 0 < len(some.jobs) < len(all_of_it.jobs)
    assert 0 < len(some.phases) < len(all_of_it.phases)
    first = min(one.closed_at for one in some.jobs)
    assert {one.job for one in some.jobs} == {
        one.job for one in all_of_it.jobs if one.closed_at >= first
    }
    assert (none.jobs, none.phases) == ((), ())
    assert again == all_of_it
