"""What the book should say, as the month gives it: hours in a year, what costs most first."""

from __future__ import annotations

from pathlib import Path

from store.actions import adopting, history
from store.views.month.page import month
from store.views.month.told_values import ShouldSay
from store.views.pricing import pricing
from tests.store.actions.made import World
from tests.store.made import busy_shop
from tests.store.made_past import finished
from tests.store.made_told import told_of

ROWS = (
    ("WP", "W1", None, 1.0, 1.5, 12), ("WP", "Z2", None, 1.0, 5.0, 12),
    ("TC", "GB-off", None, 2.4, 3.0, 5), ("TC", "G0", None, 0.5, 0.5, 40),
)  # fmt: skip


def taught(folder: Path) -> World:
    """The busy shop with twelve old jobs of the same kind, which taught what is told."""
    w = busy_shop(folder)
    records = [
        finished(str(job), seq, template="WP", phase=phase)
        for job in range(101, 113)
        for seq, phase in enumerate(("W1", "Z2"), 1)
    ]
    history.import_history(w.shop, w.by("OWN"), records=records, source="old")
    told_of(w, *ROWS)
    return w


def shown(w: World) -> dict[str, ShouldSay]:
    found = month(w.shop, "2026-10", w.now).should_say
    return {f"{one.phase} {one.family or 'all'}": one for one in found}


def done(w: World, code: str) -> int:
    """How often a phase was finished, by plain SQL."""
    found = w.one(
        "select count(*) from phase join job using (job) where code = ? and kind = 'labour' "
        "and phase.state = 'finished' and not cut_off and not small", code,
    )  # fmt: skip
    assert isinstance(found, int)
    return found


def test_a_year_costs_the_difference_times_how_often_it_was_done(tmp_path: Path) -> None:
    w = taught(tmp_path)
    found = shown(w)
    assert "G0 all" not in found, "what the book says already is left out"
    for one in found.values():
        assert one.year_h == (one.should_h - one.book_h) * done(w, one.phase)
        assert len(one.jobs) <= done(w, one.phase)
    assert any(one.jobs for one in found.values())
    assert found["W1 all"].command == ("workbook", "adopt", "WP", "W1")
    few = found["GB-off all"]
    assert (few.operation, few.sure, few.command) == ("GB", False, None)
    assert "too few" in few.says
    order = [(not one.sure, -abs(one.year_h)) for one in found.values()]
    assert order == sorted(order)


def test_what_was_adopted_is_proposed_no_more(tmp_path: Path) -> None:
    w = taught(tmp_path)
    lines = [adopting.Adopted(*one.command[2:]) for one in shown(w).values() if one.command]
    adopting.adopt(w.shop, w.by("OWN"), lines=lines)
    assert [one for one in shown(w).values() if one.command] == []
    w.refused(lambda: adopting.adopt(w.shop, w.by("OWN")), "nothing to adopt")


def test_where_nothing_was_learned_nothing_is_said(tmp_path: Path) -> None:
    w = busy_shop(tmp_path)
    assert shown(w) == {}


def test_quotes_are_asked_again_with_what_is_learned_now(tmp_path: Path) -> None:
    """Twice the hours in every phase ask twice the price of a fixed one, nothing more of others."""
    w = busy_shop(tmp_path)
    codes = w.all("select code, book_h, family from phase join job using (job) "
                  "where kind = 'labour' and not small group by code")  # fmt: skip
    told_of(w, *(("TC", str(code), None, float(str(h)), 2 * float(str(h)), 12)
                 for code, h, _ in codes))  # fmt: skip
    found = {one.hours: one for one in pricing(w.shop, w.now).prices.ways if one.rate is None}
    assert found, "the busy shop has closed deep jobs"
    for was, one in zip(
        sorted(found["as quoted"].ways, key=lambda way: way.job or ""),
        sorted(found["learned"].ways, key=lambda way: way.job or ""), strict=True,
    ):  # fmt: skip
        assert was.job == one.job
        middle, rate = w.all(
            "select content ->> '$.total.quantiles[9]', money / (content ->> "
            "'$.total.quantiles[9]') from estimate join job on agreed_seq = estimate.seq "
            "where job.job = ?", one.job,
        )[0]  # fmt: skip
        most = float(str(middle)) * float(str(rate))
        assert one.value is not None
        if "fixed price" in one.says:
            assert abs(one.value - most) < 0.05
        else:
            assert -0.01 <= one.value <= most + 0.05
