"""PINs: scrypt, kept outside the ledger, which holds only a check of the row.

Parameters: N = 2**14, r = 8, p = 1 (16 MiB, about 50 ms), 16 random bytes of salt, 32 bytes out:
RFC 7914, and the interactive setting that its authors proposed (from memory). A PIN of four
digits cannot withstand somebody who holds the file; it stops a colleague at a terminal, and the
throttle stops guessing there. It is counted in the shop file, in the transaction that found the
PIN wrong, so that all terminals share it and none can guess while another is being counted.
"""

from __future__ import annotations

import hashlib
import hmac
import sqlite3
from dataclasses import dataclass
from datetime import timedelta
from typing import NamedTuple

from store.edges.instants import from_text, to_text

N, R, P = 2**14, 8, 1
MAXMEM = 2**26
FREE_TRIES = 3
"""Wrong tries before one has to wait."""
FIRST_WAIT_S, LONGEST_WAIT_S = 30, 900


class Uptime(NamedTuple):
    """How long the machine has run; `started` tells one start from another, `s` are seconds."""

    started: str
    s: float


@dataclass(frozen=True, slots=True)
class Secret:
    """A stored PIN."""

    n: int
    r: int
    p: int
    salt: str
    hash: str

    def check(self, person: str) -> str:
        """Return what the ledger knows of it: SHA-256 of the row."""
        row = f"{person}\n{self.n}\n{self.r}\n{self.p}\n{self.salt}\n{self.hash}"
        return hashlib.sha256(row.encode()).hexdigest()

    def proof(self, person: str, pin: str) -> str:
        """Return what is kept in memory of a PIN that fits: to compare takes no 50 ms again."""
        return hashlib.sha256(f"{self.check(person)}\n{pin}".encode()).hexdigest()


class Derived(NamedTuple):
    """The key of a typed PIN, made before the file was locked; it proves nothing by itself.

    Attributes:
        proof: of which secret and PIN (`Secret.proof`).
        key: what scrypt made of them.
    """

    proof: str
    key: str


def derived(secret: Secret, person: str, pin: str) -> Derived:
    """Derive the key of a typed PIN: it takes 50 ms, in which nobody need wait for the file."""
    key = scrypt(pin, bytes.fromhex(secret.salt), n=secret.n, r=secret.r, p=secret.p)
    return Derived(secret.proof(person, pin), key)


def scrypt(pin: str, salt: bytes, *, n: int = N, r: int = R, p: int = P) -> str:
    """Return the key derived from a PIN, hexadecimal."""
    return hashlib.scrypt(pin.encode(), salt=salt, n=n, r=r, p=p, maxmem=MAXMEM, dklen=32).hex()


def make_secret(pin: str, salt: bytes) -> Secret:
    """Return the row to be kept for a PIN."""
    return Secret(N, R, P, salt.hex(), scrypt(pin, salt))


def fits(secret: Secret, tried: Derived) -> bool:
    """Tell whether a PIN, by the key derived of it, is the one stored."""
    return hmac.compare_digest(tried.key, secret.hash)


def keep_secret(db: sqlite3.Connection, person: str, secret: Secret) -> None:
    """Write a PIN's row down."""
    db.execute(
        "insert into pin_private values (?, ?, ?, ?, ?, ?) on conflict (person) do update set "
        "n = excluded.n, r = excluded.r, p = excluded.p, salt = excluded.salt, "
        "hash = excluded.hash",
        (person, secret.n, secret.r, secret.p, secret.salt, secret.hash),
    )


def read_secret(db: sqlite3.Connection, person: str) -> Secret | None:
    """Return a person's stored PIN."""
    row = db.execute(
        "select n, r, p, salt, hash from pin_private where person = ?", [person]
    ).fetchone()
    return Secret(*row) if row else None


def secret_of(db: sqlite3.Connection, badge: str) -> tuple[str, Secret] | None:
    """Return who carries a badge, and their stored PIN; None where there is neither."""
    row = db.execute(
        "select person, n, r, p, salt, hash from person join pin_private using (person) "
        "where badge = ?",
        [badge],
    ).fetchone()
    return (row[0], Secret(*row[1:])) if row else None


def wait_s(db: sqlite3.Connection, person: str, now: str, up: Uptime | None) -> int:
    """Return for how many seconds no PIN of this person is looked at."""
    row = _tries(db, person)
    if row is None or row["wrong"] < FREE_TRIES:
        return 0
    doubled: int = FIRST_WAIT_S * 2 ** (row["wrong"] - FREE_TRIES)
    penalty = min(doubled, LONGEST_WAIT_S)
    return max(0, round(penalty - _passed_s(row, now, up)))


def _tries(db: sqlite3.Connection, person: str) -> sqlite3.Row | None:
    found: sqlite3.Row | None = db.execute(
        "select wrong, last_at, started, up_s from pin_tries where person = ?", [person]
    ).fetchone()
    return found


def _passed_s(row: sqlite3.Row, now: str, up: Uptime | None) -> float:
    """Seconds since the last wrong try: by the machine's uptime, which nobody can set.

    Only over a new start of the machine its clock is believed, and never that it ran backwards.
    """
    if up is not None and row["started"] == up.started:
        passed: float = up.s - row["up_s"]
    else:
        passed = (from_text(now) - from_text(row["last_at"])).total_seconds()
    return max(0.0, passed)


def note_wrong(db: sqlite3.Connection, person: str, now: str, up: Uptime | None) -> None:
    """Count a wrong try."""
    db.execute(
        "insert into pin_tries values (?, 1, ?, ?, ?) on conflict (person) do update set "
        "wrong = wrong + 1, last_at = excluded.last_at, started = excluded.started, "
        "up_s = excluded.up_s",
        (person, now, *(up or (None, None))),
    )


def note_waiting(db: sqlite3.Connection, person: str, now: str, up: Uptime | None) -> None:
    """Go on with a wait by this start of the machine, and by a clock that was put back since.

    Otherwise a try that was counted while the clock stood years ahead would lock until then.
    """
    row = _tries(db, person)
    if row is None or (up is not None and row["started"] == up.started):
        return
    passed = _passed_s(row, now, up)
    last_at = to_text(from_text(now) - timedelta(seconds=passed))
    started, up_s = (None, None) if up is None else (up.started, up.s - passed)
    db.execute(
        "update pin_tries set last_at = ?, started = ?, up_s = ? where person = ?",
        (last_at, started, up_s, person),
    )


def note_right(db: sqlite3.Connection, person: str) -> None:
    """Forget wrong tries."""
    db.execute("delete from pin_tries where person = ?", [person])
