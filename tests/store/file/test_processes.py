"""Many processes at one file: nothing lost, nothing doubled, also when one is killed."""

from __future__ import annotations

import signal
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest

from store.file.verify import verify
from tests.store.file.test_backup import writer
from tests.store.file.test_layout import ROOT

TURNS = 40

SOME = """
import sys
from datetime import UTC, datetime, timedelta
from pathlib import Path
from store.actions import settings
from store.file.change import By
from store.file.shop import Shop
shop = Shop(Path(sys.argv[1]))
print("ready", flush=True)
sys.stdin.readline()
now = datetime(2026, 10, 20, 6, 0, tzinfo=UTC)
for n in range(int(sys.argv[3])):
    by = By("OWN", sys.argv[2], now + timedelta(seconds=n), pin="2468", key=f"{sys.argv[2]}-{n:06}")
    print(*settings.set_rate(shop, by, per_hour=n).recorded)
shop.close()
"""


def test_two_processes_at_once_lose_and_double_nothing(path: Path) -> None:
    started = [
        subprocess.Popen(
            [sys.executable, "-c", SOME, str(path), name, str(TURNS)], cwd=ROOT, text=True,
            stdin=subprocess.PIPE, stdout=subprocess.PIPE, stderr=subprocess.PIPE,
        )
        for name in ("bay-1", "bay-2")
    ]  # fmt: skip
    for one in started:
        assert one.stdout is not None
        assert one.stdout.readline() == "ready\n"
    said: dict[str, list[int]] = {}
    for one in started:
        assert one.stdin is not None
        one.stdin.write("go\n")
        one.stdin.flush()
    for one, name in zip(started, ("bay-1", "bay-2"), strict=True):
        out, complained = one.communicate()
        assert (one.returncode, complained) == (0, "")
        said[name] = [int(line) for line in out.split()]
    db = sqlite3.connect(path)
    for name, acknowledged in said.items():
        found = db.execute(
            "select seq, key from ledger where terminal = ? order by seq", [name]
        ).fetchall()
        assert [seq for seq, _ in found] == acknowledged
        assert [key for _, key in found] == [f"{name}-{n:06}" for n in range(TURNS)]
    db.close()
    assert verify(path).ok


@pytest.mark.parametrize("acts", [1, 7, 60])
def test_a_killed_writer_leaves_everything_that_it_acknowledged(path: Path, acts: int) -> None:
    other = writer(path, "bay-9")
    assert other.stdout is not None
    for n in range(acts):
        assert other.stdout.readline() == f"{n + 1}\n"
    other.send_signal(signal.SIGKILL)
    rest = other.communicate()[0].split()
    assert other.returncode == -signal.SIGKILL
    acknowledged = int(rest[-1]) if rest else acts
    verdict = verify(path)
    assert verdict.ok, verdict
    db = sqlite3.connect(path)
    found = db.execute(
        "select cast(payload ->> '$.per_hour' as integer) from ledger where terminal = 'bay-9' "
        "order by seq"
    ).fetchall()
    db.close()
    kept = [n for (n,) in found]
    assert kept == list(range(1, len(kept) + 1))
    assert len(kept) in (acknowledged, acknowledged + 1)  # the one under way may hold


FILL = """
import resource, sys
from datetime import UTC, datetime
from pathlib import Path
from store.actions import settings
from store.file.change import By
from store.file.shop import Shop
from store.trouble import Trouble
path = Path(sys.argv[1])
shop = Shop(path)
now = datetime(2026, 10, 20, 6, 0, tzinfo=UTC)
limit = path.stat().st_size + int(sys.argv[2])
resource.setrlimit(resource.RLIMIT_FSIZE, (limit, resource.RLIM_INFINITY))
said = []
for n in range(400):
    by = By("OWN", "full", now, pin="2468", key=f"full-{n:06}")
    try:
        settings.set_rate(shop, by, per_hour=n)
        said.append(f"kept {n}")
    except Trouble as trouble:
        said.append(f"{type(trouble).__name__} {n}")
print("\\n".join(said))
"""


@pytest.mark.parametrize("room", [-1_000_000, 0, 40_000])
def test_a_disk_that_takes_no_more_loses_nothing_acknowledged(path: Path, room: int) -> None:
    done = subprocess.run(
        [sys.executable, "-c", FILL, str(path), str(room)], cwd=ROOT, text=True, check=True,
        capture_output=True,
    )  # fmt: skip
    said = [line.split() for line in done.stdout.splitlines()]
    words = {word for word, _ in said}
    assert words <= {"kept", "NotWritten", "InDoubt"}
    assert "NotWritten" in words
    acknowledged = {f"full-{int(n):06}" for word, n in said if word == "kept"}
    denied = {f"full-{int(n):06}" for word, n in said if word == "NotWritten"}
    db = sqlite3.connect(path)
    found = {key for (key,) in db.execute("select key from ledger where terminal = 'full'")}
    db.close()
    assert acknowledged <= found
    assert not denied & found
    assert verify(path).ok
