"""Every job can be found, the closed ones too; a customer's name only by who may see it."""

from __future__ import annotations

import sqlite3
from pathlib import Path

import pytest

from store.rules.roles import sees_customers
from store.views.find import every_job
from tests.tui.shops import Pen, worked_on


def test_all_jobs_those_that_go_on_first_with_where_they_are(tmp_path: Path) -> None:
    shop = worked_on(tmp_path / "made.shop", Pen())
    found = every_job(shop, customers=False)
    assert [job.number for job in found] == ["1003", "1002", "1001"]
    assert [job.place for job in found] == [None, "lift 2", "lift 1"]
    assert not any(job.over for job in found)
    assert found[1].vehicle == "estate, grey"
    shop.close()


def test_a_customer_is_shown_only_where_it_is_asked_for(tmp_path: Path) -> None:
    path = tmp_path / "made.shop"
    worked_on(path, Pen()).close()
    with sqlite3.connect(path) as db:
        db.execute("insert into customer values ('c1', null)")
        db.execute("insert into customer_private values ('c1', 'Marta Vos', '1234')")
        db.execute("update job set customer = 'c1' where job = '1002'")
    db.close()
    from store.file.shop import Shop

    shop = Shop(path)
    assert [job.customer for job in every_job(shop, customers=True)] == [None, "Marta Vos", None]
    assert [job.customer for job in every_job(shop, customers=False)] == [None, None, None]
    shop.close()


@pytest.mark.parametrize("role, sees", [("technician", False), ("foreman", True), ("owner", True)])
def test_who_speaks_with_customers_sees_their_names(role: str, sees: bool) -> None:
    assert sees_customers(role) is sees
