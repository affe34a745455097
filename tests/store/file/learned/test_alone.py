"""One learner at a time; one that is killed is in nobody's way."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from store.file.learned.alone import alone, is_somebody_there, side_file

HOLD = (
    "import sys\nfrom pathlib import Path\nfrom store.file.learned.alone import alone\n"
    "with alone(Path(sys.argv[1])) as mine:\n"
    "    print(mine, flush=True)\n    sys.stdin.readline()\n"
)


def holder(shop: Path) -> subprocess.Popen[str]:
    """Another process that is the learner until it is told to leave."""
    other = subprocess.Popen(
        [sys.executable, "-c", HOLD, str(shop)], text=True, stdin=subprocess.PIPE,
        stdout=subprocess.PIPE, cwd=Path(__file__).parents[4],
    )  # fmt: skip
    assert other.stdout is not None
    assert other.stdout.readline() == "True\n"
    return other


def test_the_second_one_is_told_at_once_and_nothing_stays_behind(tmp_path: Path) -> None:
    shop = tmp_path / "a.shop"
    assert not is_somebody_there(shop)
    with alone(shop) as first:
        assert first
        assert is_somebody_there(shop)
        with alone(shop) as second:
            assert not second
        assert is_somebody_there(shop)
    assert not is_somebody_there(shop)
    assert list(tmp_path.iterdir()) == []


def test_each_shop_has_its_own(tmp_path: Path) -> None:
    with alone(tmp_path / "a.shop") as one, alone(tmp_path / "b.shop") as other:
        assert one
        assert other


def test_another_process_that_is_killed_lets_go(tmp_path: Path) -> None:
    shop = tmp_path / "a.shop"
    other = holder(shop)
    with alone(shop) as mine:
        assert not mine
    other.kill()
    other.communicate()
    assert side_file(shop).exists()
    with alone(shop) as mine:
        assert mine
    assert not side_file(shop).exists()


def test_whoever_waits_comes_next(tmp_path: Path) -> None:
    shop = tmp_path / "a.shop"
    other = holder(shop)
    with alone(shop, wait_s=0.1) as mine:
        assert not mine
    other.communicate("leave\n")
    with alone(shop, wait_s=60) as mine:
        assert mine


def test_in_a_folder_that_is_not_there_nobody_learns(tmp_path: Path) -> None:
    with alone(tmp_path / "gone" / "a.shop") as mine:
        assert not mine
