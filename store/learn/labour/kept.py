"""What was learned of labour as bytes, small enough for a row of the shop file, and back.

Covariances go as single-precision triangles: forecasts read from them differ in the seventh digit.
Jobs that are over are left out; what is read back can be asked, and cannot learn.
"""

from __future__ import annotations

import io
import json
from collections import defaultdict
from collections.abc import Collection
from dataclasses import asdict
from typing import Any
from zipfile import BadZipFile

import numpy as np
from scipy import sparse

from store.learn.arrays import Floats
from store.learn.labour.columns import Columns
from store.learn.labour.crew import Crew, Tally
from store.learn.labour.equations import Solved
from store.learn.labour.labour import Labour
from store.learn.labour.learner import Learner
from store.learn.labour.rows import Key, Seen
from store.learn.labour.spreads import Spreads
from store.learn.records import People

FORM = 1
LAST = 40
"""Of a technician's phases of one operation, so many newest ones keep their instant."""


class NotKept(ValueError):
    """The bytes are not what this version keeps: learn anew."""


def pack(labour: Labour, live: Collection[str]) -> bytes:
    """Return what was learned.

    Args:
        live: jobs that go on; only their own condition is kept.
    """
    learner = labour.learner
    jobs = sorted(job for job in live if job in learner.past.jobs)
    take = np.array([learner.past.jobs[job] for job in jobs], np.int64)
    solved, columns, s = learner.solved, learner.columns, learner.spreads
    b = solved.b[take]
    meta = {
        "form": FORM, "at": columns.at, "per": columns.per, "per_first": columns.per_first,
        "keys": [list(key) for key in learner.past.keys], "jobs": jobs,
        "rewritten": [list(key) for key in sorted(learner.past.rewritten, key=repr)],
        "fitted": [list(at) for at in learner.past.row_at if at[0] in live],
        "experience": dict(learner.past.experience),
        "employed": {who: list(spans) for who, spans in labour.people.employed.items()},
        "seen": _seen_out(learner.past.seen), "crew": _crew_out(labour.crew),
        "spreads": {
            name: value for name, value in asdict(s).items() if not isinstance(value, np.ndarray)
        },
    }  # fmt: skip
    file = io.BytesIO()
    np.savez_compressed(
        file, meta=np.frombuffer(json.dumps(meta).encode(), np.uint8),
        of_key=columns.of_key.astype(np.int32), walk=columns.walk.astype(np.int32),
        knots=columns.knots.astype(np.int16), beta=solved.beta,
        cov=solved.cov[np.tril_indices(len(solved.beta))].astype(np.float32),
        u=solved.u[take], d=solved.d[take], b_data=b.data, b_at=b.indices, b_first=b.indptr,
        term=s.term, loading=s.loading, noise=s.noise, noise_worth=s.noise_worth,
        surprise=s.surprise,
    )  # fmt: skip
    return file.getvalue()


def unpack(content: bytes) -> Labour:
    """Return what was learned, ready to be asked.

    Raises:
        NotKept: the bytes are not what this version keeps.
    """
    try:
        with np.load(io.BytesIO(content), allow_pickle=False) as arrays:
            return _read(json.loads(arrays["meta"].tobytes()), dict(arrays))
    except (ValueError, KeyError, TypeError, OSError, IndexError, EOFError, BadZipFile) as error:
        raise NotKept(str(error)) from error


def _read(meta: dict[str, Any], arrays: dict[str, Any]) -> Labour:
    if meta["form"] != FORM:
        raise NotKept(f"form {meta['form']}")
    spans = {
        who: tuple((float(since), until) for since, until in each)
        for who, each in meta["employed"].items()
    }
    labour = Labour(People(spans, meta["experience"]), _crew_in(meta["crew"]))
    learner = labour.learner
    past = learner.past
    past.seen = _seen_in(meta["seen"])
    past.keys = {_key(key): number for number, key in enumerate(meta["keys"])}
    past.rewritten = {_key(key) for key in meta["rewritten"]}
    past.jobs = {job: number for number, job in enumerate(meta["jobs"])}
    past.row_at = dict.fromkeys(((job, seq) for job, seq in meta["fitted"]), 0)
    learner.fitted_rows = 1
    learner.spreads = Spreads(
        **meta["spreads"],
        **{name: arrays[name] for name in ("term", "loading", "noise", "noise_worth", "surprise")},
    )
    _effects(learner, meta, arrays)
    return labour


def _effects(learner: Learner, meta: dict[str, Any], arrays: dict[str, Any]) -> None:
    size = len(arrays["beta"])
    cov: Floats = np.zeros((size, size))
    cov[np.tril_indices(size)] = arrays["cov"]
    cov += np.tril(cov, -1).T
    b = sparse.csr_array(
        (arrays["b_data"], arrays["b_at"], arrays["b_first"]), shape=(len(arrays["u"]), size)
    )
    learner.solved = Solved(arrays["beta"], cov, arrays["u"], arrays["d"], b)
    of_key = arrays["of_key"].astype(np.int64)
    learner.columns = Columns(
        meta["at"], of_key, np.zeros(size, np.int64), meta["per"], meta["per_first"],
        arrays["walk"].astype(np.int64), arrays["knots"].astype(np.int64),
        np.zeros(len(of_key), bool),
    )  # fmt: skip


def _key(parts: list[Any]) -> Key:
    return (int(parts[0]), *parts[1:])


def _seen_out(seen: Seen) -> dict[str, Any]:
    return {
        "alone": {phase: sorted(each) for phase, each in seen.alone.items()},
        "codes": {one: sorted(each) for one, each in seen.codes.items()},
        "first_book": [[*key, *value] for key, value in seen.first_book.items()],
        "revision": [[*key, value] for key, value in seen.revision.items()],
        "done": [
            [*key, seen.earlier.get(key, 0) + max(0, len(closed) - LAST), closed[-LAST:]]
            for key, closed in seen.done.items()
        ],
    }


def _seen_in(kept: dict[str, Any]) -> Seen:
    seen = Seen()
    seen.alone = defaultdict(set, {phase: set(each) for phase, each in kept["alone"].items()})
    seen.codes = defaultdict(set, {one: set(each) for one, each in kept["codes"].items()})
    seen.first_book = {(a, b, c): (h, moved) for a, b, c, h, moved in kept["first_book"]}
    seen.revision = {(a, b): moved for a, b, moved in kept["revision"]}
    for who, operation, earlier, closed in kept["done"]:
        seen.earlier[(who, operation)] = earlier
        seen.done[(who, operation)] = closed
    return seen


def _crew_out(crew: Crew) -> dict[str, Any]:
    return {
        "shop": [crew.shop.at, dict(crew.shop.by)],
        "operations": {name: [one.at, dict(one.by)] for name, one in crew.operations.items()},
        "follow": [crew.followed, crew.chances],
    }


def _crew_in(kept: dict[str, Any]) -> Crew:
    crew = Crew()
    crew.shop = _tally(crew.shop, *kept["shop"])
    for name, each in kept["operations"].items():
        crew.operations[name] = _tally(Crew.of_operation(), *each)
    crew.followed, crew.chances = kept["follow"]
    return crew


def _tally(fresh: Tally, at: float, by: dict[str, float]) -> Tally:
    return Tally(fresh.half_life, at, defaultdict(float, by))
