"""Spreads beside published ones."""

from __future__ import annotations

import numpy as np
import pytest

from store.learn.arrays import Floats
from store.learn.signals import fit
from store.learn.signals.laid import Laid

DYESTUFF = [
    1545, 1440, 1440, 1520, 1580, 1540, 1555, 1490, 1560, 1495, 1595, 1550, 1605, 1510, 1560,
    1445, 1440, 1595, 1465, 1545, 1595, 1630, 1515, 1635, 1625, 1520, 1455, 1450, 1480, 1445,
]  # fmt: skip
"""Davies and Goldsmith, Statistical Methods in Research and Production (4th ed. 1972): six batches
of five; variance between batches 1764.05, within 2451.25 by restricted likelihood, mean 1527.5."""


def batches(values: Floats) -> Laid:
    """Batches as jobs that all phases feel alike, one phase, one level."""
    many = len(values)
    job = np.arange(many) // 5
    return Laid(
        values, np.zeros(many), np.arange(many, dtype=np.float64), job, int(job.max()) + 1,
        np.ones(many), np.zeros(many, np.int64), (("mean",),), np.ones((many, 1)), (),
    )  # fmt: skip


def test_spreads_are_those_of_restricted_likelihood(monkeypatch: pytest.MonkeyPatch) -> None:
    """With nothing drawn in and nothing believed beforehand; in thousands, so that the level's own
    wide belief says nothing."""
    monkeypatch.setattr(fit, "CLIP", 1e9)
    monkeypatch.setattr(fit, "JOB_WORTH", 0.0)
    monkeypatch.setattr(fit, "PASSES", 600)
    found = fit.first(batches(np.array(DYESTUFF) / 1000))
    assert found.levels[0] * 1e3 == pytest.approx(1527.5, abs=0.1)
    assert found.spreads.job * 1e6 == pytest.approx(1764.05, rel=2e-3)
    assert found.spreads.noise[0] * 1e6 == pytest.approx(2451.25, rel=2e-3)
