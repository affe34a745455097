"""What must be found on a disk after its power went."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from store.file.backup import restore
from store.file.shop import Shop
from tests.faults.dying_works import BACKUP, NEW, SHOP
from tests.faults.kills_files import aged
from tests.faults.kills_left import entries, prefix_of, unsound
from tests.faults.recorded import Op
from tests.store.file.test_layout import dump


@dataclass(frozen=True, slots=True)
class Lived:
    """One undisturbed life.

    Attributes:
        whole: the folder after it.
        before: what was in it before, by name.
        done: all that was done to the disk, and said.
    """

    whole: Path
    before: dict[str, bytes]
    done: list[Op]

    @property
    def acts(self) -> set[str]:
        """Keys of all acts of it."""
        return {op.name.split()[1] for op in self.done if op.kind == "said"}


def done(said: list[str]) -> bool:
    """Whether it was acknowledged."""
    return any(one.startswith("done") for one in said)


def acts_there(folder: Path, said: list[str], life: Lived) -> list[str]:
    """All acknowledged acts are there; of what follows at most the act under way, whole."""
    source, path = life.whole / SHOP, folder / SHOP
    wrong = unsound(path) + prefix_of(path, source)
    found = [key.split(".")[0] for key, _ in entries(path)]
    wanted = [key.split(".")[0] for key, _ in entries(source)]
    told = [words.split()[1:] for words in said if words.startswith("done")]
    wrong += [f"{key} was acknowledged and is gone" for key, n in told
              if n != "0" and key not in found]  # fmt: skip
    if len(found) < sum(key not in life.acts for key in wanted):
        wrong.append("what was there before is gone")
    elif found.count(found[-1]) != wanted.count(found[-1]):
        wrong.append("an act is there by half")
    return wrong


def new_there(folder: Path, said: list[str], life: Lived) -> list[str]:
    """A shop that was said to be made is whole; one that was not is whole or not there."""
    path = folder / NEW
    if not path.exists():
        return ["the shop that was made is gone"] if done(said) else []
    return unsound(path) + (
        [] if entries(path) == entries(life.whole / NEW) else ["it is not whole"]
    )


def backup_there(folder: Path, said: list[str], life: Lived) -> list[str]:
    path = folder / BACKUP
    wrong = unsound(folder / SHOP)
    if not path.exists():
        return [*wrong, "the backup that was made is gone"] if done(said) else wrong
    return wrong + unsound(path) + prefix_of(path, folder / SHOP)


def restored_there(folder: Path, said: list[str], life: Lived) -> list[str]:
    """The old shop is somewhere, whole; the new one at its place if it was said to be."""
    target, source = folder / SHOP, folder / BACKUP
    shops = [one for one in folder.glob(f"{SHOP}*") if one.name[-4:] not in ("-wal", "-shm")]
    wrong = [text for one in shops for text in unsound(one)]
    if not any(len(entries(one)) == len(entries(source)) + 1 for one in shops):
        wrong.append("the shop of before is nowhere")
    if done(said) and not (target.exists() and entries(target) == entries(source)):
        wrong.append("the backup that was restored is not at its place")
    if not wrong:
        restore(source, target, replace=True)
        wrong = unsound(target)
    return wrong


def upgraded_there(folder: Path, said: list[str], life: Lived) -> list[str]:
    """It is old or new, or after the acknowledgement new; the next opening makes it new."""
    _, old, new = aged()
    now = dump(folder / SHOP)
    wrong = [] if now == new or (now == old and not done(said)) else ["it is neither old nor new"]
    Shop(folder / SHOP).close()
    return wrong + unsound(folder / SHOP) + ([] if dump(folder / SHOP) == new else ["not new"])
