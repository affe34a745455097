"""The oracle's laws kept in a folder: they are dear, and the same for every learner."""

from __future__ import annotations

import hashlib
import json
from dataclasses import asdict, dataclass
from pathlib import Path

from tests.bench.floors.oracle import Seen, oracle
from tests.bench.floors.shop import Shop

HERE = Path(__file__).parent
JUDGES_ONLY = {
    "__main__.py", "baselines.py", "cases.py", "files.py", "judge.py", "kept.py", "shares.py",
}  # fmt: skip
"""Modules that change nothing of what an oracle sees."""


@dataclass(frozen=True, slots=True)
class Asked:
    """How much is asked of the oracle: rows of a shop's dates, and futures of each."""

    rows: int
    clones: int
    folder: Path | None

    def oracle(self, shop: Shop, seed: int, jobs: int) -> list[Seen]:
        """Its laws: from the folder if the same simulator left them there."""
        if self.folder is None:
            return oracle(shop, seed, jobs, self.rows, self.clones)
        name = f"{shop.name}-{jobs}-{self.rows}-{self.clones}-{simulator()}.json"
        file = self.folder / name
        if not file.exists():
            self.folder.mkdir(parents=True, exist_ok=True)
            found = oracle(shop, seed, jobs, self.rows, self.clones)
            file.write_text(json.dumps([asdict(one) for one in found]), "utf-8")
        return [
            Seen(one["job"], one["seq"], one["moment"], tuple(one["draws"]))
            for one in json.loads(file.read_text("utf-8"))
        ]


def simulator() -> str:
    """A short mark of the simulator's code: another code makes other floors."""
    digest = hashlib.sha256()
    for file in sorted(HERE.glob("*.py")):
        if file.name not in JUDGES_ONLY:
            digest.update(file.read_bytes())
    return digest.hexdigest()[:10]
