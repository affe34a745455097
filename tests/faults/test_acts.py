"""The catalogue of random acts does what it says, and the shop stays true under it."""

from __future__ import annotations

from datetime import timedelta
from pathlib import Path
from random import Random

from store.file.verify import verify
from store.trouble import Trouble
from tests.faults.acts import CATALOGUE, START, Intent, Told, random_act, small_shop
from tests.faults.acts import carry_out as do

ACTS = 100


def _some(folder: Path, seed: int) -> tuple[list[Intent], list[Told], list[tuple[int, str]]]:
    shop, dice, now = small_shop(folder), Random(seed), START
    with shop.reading() as db:
        before = db.execute("select max(seq) from ledger").fetchone()[0]
    begun: list[Intent] = []
    told: list[Told] = []
    for _ in range(ACTS):
        now += timedelta(seconds=30)
        told.append(random_act(shop, dice, now, begin=begun.append))
        assert begun[-1].by.key == told[-1].key
    with shop.reading() as db:
        rows = [tuple(row) for row in db.execute("select seq, key from ledger where seq > ?",
                                                 [before])]  # fmt: skip
    for again in begun[-10:]:
        did = do(shop, again)
        assert not did.recorded or told[begun.index(again)].refused
    shop.close()
    assert verify(shop.path).ok
    return begun, told, rows


def test_what_is_told_is_what_the_ledger_holds_and_both_answers_are_given(tmp_path: Path) -> None:
    begun, told, rows = _some(tmp_path, 1)
    said = [
        (seq, one.key if n == 0 else f"{one.key}.{n}")
        for one in told
        for n, seq in enumerate(one.recorded)
    ]
    assert said == rows
    done = [one for one in told if one.refused is None]
    assert ACTS / 5 < len(done) < ACTS
    assert len({one.name for one in done}) > len(CATALOGUE) / 5
    assert all(isinstance(one.refused, Trouble) and one.says.isprintable()
               for one in told if one.refused is not None)  # fmt: skip
    assert len({one.by.key for one in begun}) == ACTS


def test_the_same_dice_do_the_same(tmp_path: Path) -> None:
    first, second = tmp_path / "1", tmp_path / "2"
    first.mkdir()
    second.mkdir()
    one, other = _some(first, 7), _some(second, 7)
    assert [(told.name, told.key, told.recorded) for told in one[1]] == [
        (told.name, told.key, told.recorded) for told in other[1]
    ]
