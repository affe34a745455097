"""The lattice of draws: that it is what its source says, and even."""

from __future__ import annotations

import numpy as np
import pytest

from store.learn.arrays import Floats, Ints
from store.learn.labour.draws import DRAWS, LATTICE, VECTOR, Kind, lead, uniforms

SIZES = (512, DRAWS, 2048, LATTICE)
POINTS: Ints = np.arange(LATTICE)
ORDERS = np.array([1.0, 1.0, 0.2])
"""Weights of one, two and three columns together; nothing else about the hours is known."""


def kernel(x: Floats) -> Floats:
    """2 pi^2 B2(x), B2 the second Bernoulli polynomial: of the worst-case error P2."""
    return 2 * np.pi**2 * (x * x - x + 1 / 6)


def found(columns: int) -> tuple[int, ...]:
    """Search column by column, for the least of the worst ratio to the best of each size.

    Dick, Kuo and Sloan (2013), Acta Numerica 22, sections 5.4 to 5.6, with weights by product and
    order; sizes at once: Cools, Kuo and Nuyens (2006), Constructing embedded lattice rules for
    multivariate integration, SIAM J. Sci. Comput. 28.
    """
    table = kernel(POINTS / LATTICE)
    wishes = np.arange(1, LATTICE // 2, 2)
    tables = table[np.outer(wishes, POINTS) % LATTICE]
    together = np.vstack([np.ones(LATTICE), table, np.zeros((len(ORDERS) - 1, LATTICE))])
    vector = [1]
    for column in range(1, columns):
        weight = (column + 1) ** -0.5
        before, product = ORDERS @ together[1:], ORDERS @ together[:-1]
        worst = np.zeros(len(wishes))
        for size in SIZES:
            every = slice(None, None, LATTICE // size)
            error = before[every].sum() + weight * (tables[:, every] @ product[every])
            worst = np.maximum(worst, error / error.min())
        vector.append(int(wishes[int(np.argmin(worst))]))
        new = weight * table[POINTS * vector[-1] % LATTICE]
        together[1:] += new * together[:-1]
    return tuple(vector)


def test_the_generating_vector_is_what_the_search_finds() -> None:
    assert found(len(VECTOR)) == VECTOR


def test_every_column_has_one_draw_in_each_of_as_many_equal_parts() -> None:
    for draws in SIZES:
        for kind in Kind:
            parts = np.sort((uniforms(kind, 20, draws) * draws).astype(int), axis=0)
            assert (parts == np.arange(draws)[:, None]).all()


def test_every_fourth_draw_is_a_draw_of_what_is_only_scored() -> None:
    whole = uniforms(Kind.NOISE, 9, LATTICE)
    assert np.allclose(whole[:: LATTICE // DRAWS], uniforms(Kind.NOISE, 9, DRAWS))


@pytest.mark.parametrize(("phases", "most"), [(7, 4 / np.sqrt(LATTICE)), (16, 0.2)])
def test_two_columns_tell_little_of_each_other(phases: int, most: float) -> None:
    """Of independent uniforms the correlation's standard error is 1 / sqrt(draws)."""
    each = [uniforms(kind, phases, LATTICE) for kind in Kind]
    apart = np.corrcoef(np.column_stack([lead(LATTICE), *each]), rowvar=False)
    assert np.abs(apart - np.eye(1 + phases * len(Kind))).max() < most


def test_draws_above_the_lattice_are_further_shifts_of_it() -> None:
    some = uniforms(Kind.EFFECT, 3, 2 * LATTICE)
    assert (some[:LATTICE] == uniforms(Kind.EFFECT, 3, LATTICE)).all()
    assert not np.isclose(np.sort(some[:LATTICE], axis=0), np.sort(some[LATTICE:], axis=0)).all()


@pytest.mark.parametrize("draws", [0, 3, 1000, LATTICE + 1])
def test_no_other_number_of_draws(draws: int) -> None:
    with pytest.raises(ValueError, match="neither a part nor a multiple"):
        uniforms(Kind.SIZE, 2, draws)
