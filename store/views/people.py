"""Everybody who works or worked here."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date

from store.file.shop import Shop


@dataclass(frozen=True, slots=True)
class PersonLine:
    """One person of the shop. `qualifications` with the last day on which each holds."""

    badge: str
    name: str
    role: str
    experience: str
    from_day: date
    until_day: date | None
    has_pin: bool
    qualifications: tuple[tuple[str, date], ...]


def people(shop: Shop) -> tuple[PersonLine, ...]:
    """Return everybody, in the order of coming.

    Raises:
        Trouble: the file cannot be read.
    """
    with shop.reading() as db:
        held: dict[str, list[tuple[str, date]]] = {}
        for row in db.execute("select person, what, until from qualification order by what"):
            held.setdefault(row["person"], []).append(
                (row["what"], date.fromisoformat(row["until"]))
            )
        return tuple(
            PersonLine(
                row["badge"], row["name"], row["role"], row["experience"],
                date.fromisoformat(row["from_day"]),
                date.fromisoformat(row["until_day"]) if row["until_day"] else None,
                row["pin_check"] is not None, tuple(held.get(row["person"], ())),
            )
            for row in db.execute(
                "select person, badge, name, role, experience, from_day, until_day, pin_check "
                "from person order by from_day, badge"
            )
        )  # fmt: skip
