"""When a gate stood signed: the stretches into which the labour behind it belongs."""

from __future__ import annotations

from hypothesis import given
from hypothesis import strategies as st

from store.rules.gate_times import Name, Stretch, in_force, open_way


def _name(at: str, person: str = "p", *, out: bool = False, void: str | None = None) -> Name:
    return Name(person, at, None if out else at, void)


def test_one_signature_opens_the_way_until_it_is_void() -> None:
    assert open_way([_name("09")], 1) == [Stretch("09", None)]
    assert open_way([_name("09", void="12")], 1) == [Stretch("09", "12")]
    twice = [_name("09", void="12"), _name("13")]
    assert open_way(twice, 1) == [Stretch("09", "12"), Stretch("13", None)]


def test_two_signatures_open_it_with_the_second_and_end_with_the_first_that_dies() -> None:
    assert open_way([_name("09")], 2) == []
    assert open_way([_name("09"), _name("10")], 2) == [Stretch("10", None)]
    assert open_way([_name("09"), _name("10", void="11")], 2) == [Stretch("10", "11")]
    taken_back = [_name("09"), _name("10", void="11"), _name("12")]
    assert open_way(taken_back, 2) == [Stretch("10", "11"), Stretch("12", None)]


def test_a_reading_out_of_limits_starts_the_count_anew() -> None:
    names = [_name("09", "a"), _name("10", "b", out=True), _name("11", "b")]
    assert open_way(names, 2) == []
    assert [one.at for one in in_force(names, "12")] == ["11"]
    assert open_way([*names, _name("12", "a")], 2) == [Stretch("12", None)]


def test_a_reading_let_stand_counts_from_the_word_on() -> None:
    stood = Name("b", "09", "11", None)
    assert open_way([stood], 1) == [Stretch("11", None)]
    assert open_way([stood, _name("12")], 2) == [Stretch("12", None)]


def test_labour_lies_inside_one_stretch() -> None:
    way = Stretch("09", "12")
    assert way.covers("09", "12")
    assert not way.covers("08", "10")
    assert not way.covers("11", "13")
    assert not way.covers("11", None)
    assert Stretch("09", None).covers("10", None)


hours = st.integers(0, 23).map("{:02d}".format)


@given(st.lists(st.tuples(hours, st.booleans(), st.one_of(st.none(), hours)), max_size=8))
def test_fewer_names_are_asked_for_the_more_time_is_open(
    given_names: list[tuple[str, bool, str | None]],
) -> None:
    names = [
        _name(at, out=out, void=void if void is None or void > at else None)
        for at, out, void in sorted(given_names, key=lambda one: one[0])
    ]
    one, two = open_way(names, 1), open_way(names, 2)
    for stretch in two:
        assert any(other.since <= stretch.since for other in one)
